use super::*;
use crate::gamepad::{PadState, WatchEvent, Watcher};
use crate::speaking::{Conclusion, conclusion};
use proptest::prelude::*;

fn keys() -> Vec<DeviceKey> {
    let pad = |index| {
        Some(PadState { index, connected: true, axes: vec![0.0; 2], ..PadState::default() })
    };
    let events = Watcher::default().observe(0.0, &[pad(0), pad(1)]);
    events
        .into_iter()
        .filter_map(|event| match event {
            WatchEvent::Connected { key, .. } => Some(key),
            _ => None,
        })
        .collect()
}

fn state(axes: &[f64], buttons: &[f64]) -> Sample {
    Sample { arrival_seconds: 0.0, axes: axes.to_vec(), buttons: buttons.to_vec() }
}

fn moving() -> Listening {
    let mut listening = Listening::start(0.0);
    assert_eq!(listening.step(2.9), Step::HandsOff);
    assert_eq!(listening.step(3.0), Step::Move);
    listening
}

#[test]
fn a_controller_is_heard_by_its_axes_and_buttons() {
    let key = keys()[0];
    let mut listening = Listening::start(0.0);
    let pad = |listening: &mut Listening, at: f64, axes: &[f64], buttons: &[f64]| {
        listening.take(at, Event::Pad { key, name: "Bench", sample: &state(axes, buttons) });
    };
    // A trigger that rests at one end, and a hat that rests outside the range.
    pad(&mut listening, 1.0, &[0.0, 0.0, -1.0, 1.2857], &[0.0, 0.0, 0.0]);
    pad(&mut listening, 4.0, &[0.05, 0.0, -1.0, 1.2857], &[0.0, 0.0, 0.0]);
    assert_eq!(listening.heard(), Heard::default(), "noise is no movement");
    pad(&mut listening, 5.0, &[0.4, 0.0, -1.0, 1.2857], &[0.0, 0.0, 0.0]);
    pad(&mut listening, 6.0, &[0.4, -0.3, -1.0, 1.2857], &[0.0, 0.0, 0.0]);
    listening.go_on(7.0);
    assert_eq!(listening.step(7.0), Step::Press);
    pad(&mut listening, 8.0, &[0.0, 0.0, -1.0, 1.2857], &[0.0, 0.0, 1.0]);
    pad(&mut listening, 8.5, &[0.0, 0.0, -1.0, 1.2857], &[0.6, 0.0, 1.0]);
    listening.go_on(9.0);
    assert_eq!(listening.step(9.0), Step::Over(EndedBy::Control));
    let heard = listening.heard();
    assert_eq!(conclusion(&heard), Conclusion::Pad);
    let pad = heard.pad.clone().unwrap();
    assert_eq!((pad.name.as_str(), pad.axes, pad.buttons), ("Bench", vec![0, 1], vec![2, 0]));
    assert_eq!(heard.tidied(), heard);
    assert!(!heard.unasked);
}

#[test]
fn a_stick_that_speaks_as_a_mouse() {
    let mut listening = moving();
    for step in 0..40 {
        let at = 4.0 + 0.1 * f64::from(step);
        listening.take(at, Event::PointerMoved { right: 3.0, down: 4.0 });
    }
    // Then a person takes the mouse, goes to the control, and presses it.
    for step in 0..10 {
        let at = 11.0 + 0.1 * f64::from(step);
        listening.take(at, Event::PointerMoved { right: 30.0, down: 0.0 });
    }
    listening.take(12.0, Event::PointerPressed);
    listening.go_on(12.0);
    let heard = listening.heard();
    let pointer = heard.pointer.clone().unwrap();
    assert_eq!((pointer.moves, pointer.pixels, pointer.presses), (40, 200, 0));
    assert_eq!(conclusion(&heard), Conclusion::Pointer);
    // One knock is nobody.
    let mut knocked = moving();
    knocked.take(4.0, Event::PointerMoved { right: 300.0, down: 0.0 });
    assert_eq!(conclusion(&knocked.heard()), Conclusion::Nobody);
}

#[test]
fn escape_and_tab_are_evidence_and_the_end() {
    for (code, key, ended) in
        [("Escape", Key::Escape, EndedBy::Escape), ("Tab", Key::Tab, EndedBy::Tab)]
    {
        assert_eq!(Key::of(code, ""), key);
        let mut listening = moving();
        listening.take(4.0, Event::KeyPressed(Key::Arrow));
        listening.take(4.1, Event::KeyPressed(key));
        assert_eq!(listening.step(4.1), Step::Over(ended));
        listening.take(4.2, Event::KeyPressed(Key::Letter));
        let keys = listening.heard().keys.unwrap();
        assert_eq!((keys.arrows, keys.escape + keys.tab, keys.letters), (1, 1, 0));
        assert_eq!(conclusion(&listening.heard()), Conclusion::Keys);
    }
}

#[test]
fn silence_leads_on() {
    let mut listening = moving();
    listening.take(20.0, Event::KeyPressed(Key::Letter));
    assert_eq!(listening.step(49.9), Step::Move);
    assert_eq!(listening.step(50.0), Step::Press);
    assert_eq!(listening.seconds_left(60.0), 20.0);
    assert_eq!(listening.step(80.0), Step::Over(EndedBy::Silence));
    assert_eq!(listening.seconds_left(90.0), 0.0);
}

#[test]
fn what_speaks_before_anybody_was_asked_is_noted() {
    let mut listening = Listening::start(0.0);
    // The mouse that pressed the control goes away from it.
    listening.take(1.0, Event::PointerMoved { right: 100.0, down: 0.0 });
    assert!(!listening.heard().unasked);
    listening.take(2.5, Event::PointerMoved { right: 100.0, down: 0.0 });
    let heard = listening.heard();
    assert_eq!(heard, Heard { unasked: true, ..Heard::default() });
    let key = keys()[0];
    let mut listening = Listening::start(0.0);
    let at_rest = state(&[0.0, 0.0], &[0.0]);
    listening.take(0.5, Event::Pad { key, name: "", sample: &at_rest });
    assert!(!listening.heard().unasked);
    listening.take(1.0, Event::Pad { key, name: "", sample: &state(&[0.9, 0.0], &[0.0]) });
    assert!(listening.heard().unasked && listening.heard().pad.is_none());
}

#[test]
fn of_two_controllers_the_one_that_says_more_is_told() {
    let [one, other] = keys()[..] else { panic!("two keys") };
    let mut listening = moving();
    let still = state(&[0.0, 0.0], &[0.0, 0.0]);
    listening.take(3.5, Event::Pad { key: one, name: "one", sample: &still });
    listening.take(3.5, Event::Pad { key: other, name: "other", sample: &still });
    listening.take(4.0, Event::Pad { key: one, name: "one", sample: &state(&[0.5, 0.0], &[0.0]) });
    let loud = state(&[0.5, 0.5], &[0.0, 1.0]);
    listening.take(4.0, Event::Pad { key: other, name: "other", sample: &loud });
    assert_eq!(listening.heard().pad.unwrap().name, "other");
}

/// W3C, UI Events `KeyboardEvent` code Values: the writing system keys, the arrow pad, the rest.
#[test]
fn keys_are_sorted_and_never_kept() {
    for code in ["KeyQ", "Digit7", "Semicolon", "Numpad4", "IntlBackslash"] {
        assert_eq!(Key::of(code, "x"), Key::Letter, "{code}");
    }
    for code in ["ShiftLeft", "F5", "ContextMenu", "PageDown", "MediaPlayPause", "MetaLeft"] {
        assert_eq!(Key::of(code, "x"), Key::Other, "{code}");
    }
    assert_eq!(Key::of("", "ä"), Key::Letter);
    assert_eq!(Key::of("Unidentified", "ArrowLeft"), Key::Arrow);
    assert_eq!((Key::of("Space", " "), Key::of("", " ")), (Key::SpaceOrEnter, Key::SpaceOrEnter));
}

proptest! {
    /// Whatever speaks in whatever order: counts stay within bounds, and it ends.
    #[test]
    fn any_noise_is_borne(
        events in proptest::collection::vec((0.0..5.0f64, 0..6u8, any::<f64>(), any::<f64>()), 0..200),
    ) {
        let keys = keys();
        let mut listening = Listening::start(0.0);
        let mut now = 0.0;
        for (pause, what, one, other) in events {
            now += pause;
            let sample = state(&[one, other], &[one.clamp(0.0, 1.0)]);
            let event = match what {
                0 => Event::Pad { key: keys[0], name: "a", sample: &sample },
                1 => Event::Pad { key: keys[1], name: "b", sample: &sample },
                2 => Event::PointerMoved { right: one, down: other },
                3 => Event::PointerPressed,
                4 => Event::WheelTurned,
                _ => Event::KeyPressed(Key::Other),
            };
            listening.take(now, event);
            if what == 3 {
                listening.go_on(now);
            }
            let heard = listening.heard();
            prop_assert_eq!(heard.tidied(), heard);
            prop_assert!(listening.seconds_left(now) >= 0.0);
        }
        // The step, a last one that it may lead to, and the end of that.
        for _ in 0..3 {
            // A little more, so that rounding never makes it less.
            now += PATIENCE_SECONDS + 1e-6;
            listening.step(now);
        }
        prop_assert!(matches!(listening.step(now), Step::Over(_)));
    }
}
