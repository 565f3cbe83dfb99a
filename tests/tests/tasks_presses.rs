//! The presses task, played by hand.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "tests")]

mod driver;

use driver::{Driver, check_view, pressing};
use fitting::Position;
use fitting::task::{
    Command, MarkReason, Outcome, PauseCause, Phase, PressAsk, Prompt, StopButton, TaskAsk,
    TaskKind,
};

fn begun(buttons: &[usize]) -> Driver {
    Driver::begun(TaskAsk::Presses { buttons: buttons.to_vec(), rounds: 2 })
}

/// Waits for the next cue and tells it.
fn cue(driver: &mut Driver) -> (usize, PressAsk) {
    driver.rest_between();
    check_view(&driver.view());
    match driver.view().prompt {
        Prompt::Press { button, press } if driver.phase() == Phase::Doing => (button, press),
        other => panic!("no press is asked but {other:?}"),
    }
}

/// Presses as asked after a reaction time, and rests until it counts.
fn press_as_asked(driver: &mut Driver, (button, press): (usize, PressAsk)) {
    driver.rest(0.3);
    match press {
        PressAsk::Once => driver.press(button, 0.15),
        PressAsk::Long => driver.press(button, 1.0),
        PressAsk::Twice => {
            driver.press(button, 0.12);
            driver.rest(0.2);
            driver.press(button, 0.12);
        }
    }
    driver.rest(0.61);
}

#[test]
fn every_button_in_every_way_each_round() {
    let mut driver = begun(&[0, 2]);
    assert_eq!((driver.phase(), driver.view().prompt), (Phase::Between, Prompt::Rest));
    let mut asked = Vec::new();
    let mut rests = Vec::new();
    for step in 1..=12 {
        let since = driver.now;
        let what = cue(&mut driver);
        rests.push(driver.now - since);
        assert_eq!((driver.view().step, driver.view().of), (step, 12));
        assert!(driver.view().target.is_none() && driver.view().hold_progress == 0.0);
        press_as_asked(&mut driver, what);
        asked.push(what);
    }
    assert_eq!(driver.phase(), Phase::Done);
    // The cue comes after one to two seconds, and nobody can foresee when.
    assert!(rests.iter().all(|rest| (0.99..2.01).contains(rest)), "{rests:?}");
    let spread = |pick: fn(f64, f64) -> f64| rests.iter().copied().reduce(pick).unwrap();
    assert!(spread(f64::max) - spread(f64::min) > 0.4, "{rests:?}");
    for round in asked.chunks(6) {
        for button in [0, 2] {
            for press in [PressAsk::Once, PressAsk::Long, PressAsk::Twice] {
                assert_eq!(round.iter().filter(|what| **what == (button, press)).count(), 1);
            }
        }
    }
    let record = driver.finish();
    assert_eq!(record.muscle_seconds, 0.0);
    assert_eq!(record.repetitions.len(), 12);
    for (one, (button, press)) in record.repetitions.iter().zip(asked) {
        assert!(one.counts());
        assert_eq!((one.button, one.press), (Some(button), Some(press)));
        let pressing = match press {
            PressAsk::Once => 0.15,
            PressAsk::Long => 1.0,
            PressAsk::Twice => 0.44,
        };
        assert!((one.span.seconds() - (0.3 + pressing + 0.6)).abs() < 0.02, "{one:?}");
    }
    // Every press is in the recording, and nothing of it was asked of the stick.
    let pressed = record.recording.samples.windows(2).filter(|pair| {
        (0..4).any(|button| pair[0].buttons[button] < 0.5 && pair[1].buttons[button] >= 0.5)
    });
    assert_eq!(pressed.count(), 4 + 4 + 8);
}

#[test]
fn other_buttons_and_the_stick_do_not_end_it_and_nothing_fails_for_being_slow() {
    let mut driver = begun(&[1]);
    let (button, _) = cue(&mut driver);
    assert_eq!(button, 1);
    driver.rest(19.0);
    assert!(!driver.view().silent);
    driver.rest(1.5);
    assert!(driver.view().silent, "a pause is offered");
    driver.press(3, 0.2);
    driver.stay(2.0, Position::new(0.5, 0.0));
    driver.rest(3.0);
    assert_eq!((driver.phase(), driver.view().silent), (Phase::Doing, false));
    driver.rest(300.0);
    assert_eq!((driver.phase(), driver.view().step), (Phase::Doing, 1));
    driver.press(1, 0.2);
    driver.rest(3.1);
    assert_eq!(driver.phase(), Phase::Between);
    assert!(driver.finish().repetitions[0].counts());
}

#[test]
fn next_counts_a_press_that_was_made_and_skips_one_that_was_not() {
    let mut driver = begun(&[0, 1]);
    cue(&mut driver);
    driver.command(Command::Next);
    let (button, _) = cue(&mut driver);
    driver.down[button] = true;
    driver.rest(3.0);
    driver.command(Command::Next);
    driver.down[button] = false;
    cue(&mut driver);
    driver.command(Command::Skip);
    let outcomes: Vec<Outcome> =
        driver.finish().repetitions.iter().map(|one| one.outcome).collect();
    assert_eq!(outcomes, [Outcome::Skipped, Outcome::Done, Outcome::Skipped]);
}

#[test]
fn again_mark_pause_and_stop() {
    let mut driver = begun(&[0]);
    let what = cue(&mut driver);
    driver.command(Command::Again);
    assert_eq!(cue(&mut driver), what);
    driver.press(0, 0.1);
    driver.command(Command::Pause(PauseCause::DeviceGone));
    driver.now += 20.0;
    driver.command(Command::GoOn);
    let since = driver.now;
    assert_eq!(cue(&mut driver), what);
    assert!(driver.now - since > 0.99, "after a pause there is a moment of rest");
    driver.command(Command::Mark(MarkReason::Distracted));
    press_as_asked(&mut driver, what);
    assert_eq!((driver.view().of, driver.view().marked), (7, 1));
    cue(&mut driver);
    driver.rest(0.5);
    driver.command(Command::Stop);
    let record = driver.finish();
    let outcomes: Vec<Outcome> = record.repetitions.iter().map(|one| one.outcome).collect();
    use Outcome::{AskedAgain, CutShort, Done};
    assert_eq!(outcomes, [AskedAgain, CutShort, Done, CutShort]);
    assert!(record.repetitions.iter().all(|one| one.button == Some(0) && !one.counts()));
}

#[test]
fn a_button_held_from_before_the_cue_is_not_the_press() {
    let mut driver = begun(&[0]);
    driver.down[0] = true;
    cue(&mut driver);
    driver.rest(5.0);
    driver.down[0] = false;
    driver.rest(5.0);
    assert_eq!(driver.phase(), Phase::Doing);
}

#[test]
fn a_button_the_stick_does_not_have_and_none_at_all() {
    let mut driver = begun(&[31]);
    assert_eq!(cue(&mut driver).0, 31);
    driver.press(3, 1.0);
    driver.rest(10.0);
    assert_eq!(driver.phase(), Phase::Doing);
    driver.command(Command::Next);
    assert_eq!(driver.finish().repetitions[0].outcome, Outcome::Skipped);
    for buttons in [&[][..], &[32, 1000]] {
        let driver = begun(buttons);
        assert_eq!(driver.phase(), Phase::Done);
    }
}

#[test]
fn holding_a_button_stops_every_task_but_this() {
    for kind in [TaskKind::HandsOff, TaskKind::BusyRest, TaskKind::Sustained, TaskKind::Return] {
        assert!(kind.stops_by_held_button());
    }
    assert!(!TaskKind::Presses.stops_by_held_button());
    // A long press is easily one that would stop.
    let mut stop = StopButton::held();
    assert!(!stop.stops(0.0, &pressing(0.0, Position::ORIGIN, [false; 4])));
    assert!(!stop.stops(0.1, &pressing(0.1, Position::ORIGIN, [true, false, false, false])));
    assert!(stop.stops(2.2, &pressing(0.1, Position::ORIGIN, [true, false, false, false])));
}
