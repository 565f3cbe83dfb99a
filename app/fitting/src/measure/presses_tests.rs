use super::*;
use crate::measure::measure;
use crate::measure::test_records::{Chance, quiet_rest, record, repetition, stretches};
use crate::task::MarkReason;
use crate::{Recording, Sample};
use proptest::prelude::{any, prop_assert, proptest};

/// What a button's value is at a moment: 1 inside these spans.
fn recorded(seconds: f64, hertz: f64, down: &[&[(f64, f64)]]) -> Recording {
    let mut samples: Vec<Sample> = Vec::new();
    for i in 0..(seconds * hertz) as usize {
        let at = i as f64 / hertz;
        let value = |spans: &&[(f64, f64)]| {
            f64::from(u8::from(spans.iter().any(|(from, to)| *from <= at && at < *to)))
        };
        let buttons: Vec<f64> = down.iter().map(value).collect();
        if samples.last().is_none_or(|last| last.buttons != buttons) {
            samples.push(Sample { arrival_seconds: at, axes: vec![0.0, 0.0], buttons });
        }
    }
    let polled = vec![Span { from_seconds: 0.0, to_seconds: seconds }];
    Recording { samples, polled }
}

fn asked(from_seconds: f64, to_seconds: f64, button: usize, press: PressAsk) -> Repetition {
    let span = Span { from_seconds, to_seconds };
    Repetition { button: Some(button), press: Some(press), ..repetition(span, None, None) }
}

fn pressed(recording: Recording, repetitions: Vec<Repetition>) -> TaskRecord {
    record(TaskAsk::Presses { buttons: vec![0, 1], rounds: 3 }, recording, repetitions)
}

fn near(measured: Measured, want: f64) {
    let got = measured.unwrap();
    assert!((got.value - want).abs() < 0.002, "{got:?} is not {want}");
    assert!(got.low <= want && want <= got.high, "{got:?} does not hold {want}");
}

#[test]
fn presses_by_hand() {
    // Once at 1, 3, 5 (0.3 s after each cue, 100, 120 and 150 ms long), long at 7, twice at 11.
    let first: &[(f64, f64)] = &[
        (1.3, 1.4),
        (3.3, 3.42),
        (5.3, 5.45),
        (5.8, 5.85),
        (7.4, 7.6),
        (7.9, 9.1),
        (11.3, 11.4),
        (11.65, 11.75),
        (11.9, 11.95),
        (14.5, 14.6),
    ];
    let second: &[(f64, f64)] = &[(3.35, 3.38), (18.0, 18.05)];
    let once = |from: f64| asked(from, from + 1.9, 0, PressAsk::Once);
    let repetitions = vec![
        once(1.0),
        once(3.0),
        once(5.0),
        asked(7.0, 10.0, 0, PressAsk::Long),
        asked(11.0, 13.0, 0, PressAsk::Twice),
        asked(16.0, 17.0, 1, PressAsk::Once),
    ];
    let told = measure(&[pressed(recorded(20.0, 500.0, &[first, second]), repetitions)]).presses;
    assert_eq!(told.len(), 2);
    let one = &told[0];
    assert_eq!((one.button, one.made, one.missed), (0, 5, 0));
    near(one.reaction_seconds, 0.3);
    near(one.length_seconds, 0.12);
    assert_eq!(one.lengths.len(), 3);
    assert_eq!(one.long_seconds, Err(NotEnough::Repetitions { have: 1, need: 3 }));
    assert_eq!(one.gap_seconds, Err(NotEnough::Repetitions { have: 1, need: 3 }));
    assert!((one.gaps[0] - 0.25).abs() < 0.003);
    // After the once, after the twice, and outside of anything asked.
    assert_eq!(one.unwanted.len(), 3);
    assert!((one.unwanted_per_minute.unwrap().value - 9.0).abs() < 1e-9);
    let other = &told[1];
    assert_eq!((other.made, other.missed, other.unwanted.len()), (0, 1, 2));
    assert_eq!(other.length_seconds, Err(NotEnough::NothingRecorded));
}

#[test]
fn bounce_is_one_press_and_its_gaps_are_told() {
    let bouncing: &[(f64, f64)] = &[(1.3, 1.304), (1.312, 1.4), (3.3, 3.4), (5.3, 5.4)];
    let once = |from: f64| asked(from, from + 1.9, 0, PressAsk::Once);
    let record = pressed(recorded(8.0, 500.0, &[bouncing]), vec![once(1.0), once(3.0), once(5.0)]);
    let told = &measure(&[record]).presses[0];
    assert_eq!((told.made, told.lengths.len(), told.unwanted.len()), (3, 3, 0));
    assert_eq!(told.bounces.len(), 1);
    assert!((told.bounces[0] - 0.008).abs() < 0.003);
    near(told.length_seconds, 0.1);
    // Nothing else changed: that shorter bounce would have been seen is not known.
    assert_eq!(told.shortest_seen_seconds, crate::recording::GAP_SECONDS);
}

/// Values and outcome of two thresholds, on at 0.5 and off at 0.35: here as one button's values.
#[test]
fn an_analogue_button_that_hovers_is_one_press() {
    let values = [0.0, 0.2, 0.45, 0.52, 0.48, 0.51, 0.47, 0.4, 0.36, 0.34, 0.1];
    let samples = values
        .iter()
        .enumerate()
        .map(|(i, value)| Sample {
            arrival_seconds: 1.0 + 0.1 * i as f64,
            axes: Vec::new(),
            buttons: vec![*value],
        })
        .collect();
    let polled = vec![Span { from_seconds: 0.0, to_seconds: 12.0 }];
    let told = measure(&[pressed(
        Recording { samples, polled },
        vec![asked(0.5, 3.0, 0, PressAsk::Once)],
    )]);
    let told = &told.presses[0];
    assert_eq!((told.made, told.unwanted.len()), (1, 0));
    assert!((told.lengths[0] - 0.6).abs() < 1e-9);
}

#[test]
fn a_rest_shows_unwanted_presses_and_not_the_stop() {
    let button: &[(f64, f64)] = &[(5.0, 5.1), (12.0, 12.2), (28.0, 31.0)];
    let mut recording = recorded(30.0, 250.0, &[button]);
    let told = measure(&[quiet_rest(recording.clone())]).presses;
    assert_eq!((told.len(), told[0].unwanted.len(), told[0].made), (1, 2, 0));
    let rate = told[0].unwanted_per_minute.unwrap();
    assert!((rate.value - 4.0).abs() < 1e-9 && rate.low > 0.0 && rate.high < 15.0);
    // Marked rest is left out, and so is its time.
    let mut marked = quiet_rest(recording.clone());
    marked.repetitions[1].mark = Some(MarkReason::Spasm);
    let told = measure(&[marked]).presses;
    assert!((told[0].unwanted_per_minute.unwrap().value - 3.0).abs() < 1e-9);
    // Pressing was asked for.
    let ask = TaskAsk::BusyRest { seconds: 30.0, meanwhile: Meanwhile::Pressing };
    let repetitions = stretches(&recording);
    assert!(measure(&[record(ask, recording.clone(), repetitions)]).presses.is_empty());
    // A button that is down from beginning to end was never pressed.
    recording.samples.iter_mut().for_each(|sample| sample.buttons = vec![1.0]);
    assert!(measure(&[quiet_rest(recording)]).presses.is_empty());
}

#[test]
fn intervals_hold_the_truth_as_often_as_they_say() {
    let mut chance = Chance(41);
    for count in [4, 14] {
        let (mut held, people) = ([0, 0], 400);
        for _ in 0..people {
            let (reaction, length) = (chance.between(0.25, 0.9), chance.between(0.06, 0.3));
            let mut down = Vec::new();
            let mut repetitions = Vec::new();
            for i in 0..count {
                let cue = 1.0 + 4.0 * f64::from(i);
                let from = cue + reaction * libm::exp(0.2 * chance.normal());
                down.push((from, from + length * libm::exp(0.25 * chance.normal())));
                repetitions.push(asked(cue, cue + 3.9, 0, PressAsk::Once));
            }
            let seconds = 4.0 * f64::from(count) + 2.0;
            let record = pressed(recorded(seconds, 1000.0, &[&down]), repetitions);
            let told = &presses(&[record])[0];
            for ((held, truth), measured) in held
                .iter_mut()
                .zip([reaction, length])
                .zip([told.reaction_seconds, told.length_seconds])
            {
                let told = measured.unwrap();
                *held += u32::from(told.low <= truth && truth <= told.high);
            }
        }
        println!("{count} presses: {held:?} of {people}");
        for held in held {
            assert!((364..=395).contains(&held), "{count}: {held} of {people}");
        }
    }
}

proptest! {
    /// Presses told later are the same presses. Times are whole parts of a second that shift
    /// without a rounding error, so that no edge falls to the other side of a bound.
    #[test]
    fn a_shift_in_time_changes_nothing(seed: u64, quarters in -400..4000_i32) {
        let shift = 0.25 * f64::from(quarters);
        let mut chance = Chance(seed);
        let mut from = 0.5;
        let mut down = Vec::new();
        while from < 20.0 {
            let to = from + chance.between(0.004, 0.5);
            down.push((from, to));
            from = to + chance.between(0.004, 2.0);
        }
        let make = || {
            let repetitions = (0..5)
                .map(|i| asked(4.0 * f64::from(i), 4.0 * f64::from(i) + 3.0, 0, PressAsk::Twice))
                .collect();
            pressed(recorded(22.0, 256.0, &[&down]), repetitions)
        };
        let now = presses(&[make()]);
        let mut later = make();
        let move_by = |span: &mut Span| {
            span.from_seconds += shift;
            span.to_seconds += shift;
        };
        later.recording.samples.iter_mut().for_each(|sample| sample.arrival_seconds += shift);
        later.recording.polled.iter_mut().for_each(move_by);
        later.repetitions.iter_mut().for_each(|repetition| move_by(&mut repetition.span));
        let later = presses(&[later]);
        prop_assert!(now.len() == later.len());
        for (now, later) in now.iter().zip(&later) {
            prop_assert!((now.made, now.missed) == (later.made, later.missed));
            prop_assert!(now.bounces.len() == later.bounces.len());
            prop_assert!(now.unwanted.len() == later.unwanted.len());
            for (one, other) in now.gaps.iter().zip(&later.gaps) {
                prop_assert!((one - other).abs() < 1e-9);
            }
        }
    }
}

proptest! {
    /// Whatever the buttons and times are, no figure is NaN.
    #[test]
    fn no_buttons_make_a_figure_that_is_none(
        told in proptest::collection::vec((-2.0..60.0_f64, any::<f64>(), -1.0..2.0_f64), 0..40),
        spans in proptest::collection::vec((-2.0..60.0_f64, any::<f64>()), 1..6),
    ) {
        let sample = |&(arrival_seconds, wild, value): &(f64, f64, f64)| Sample {
            arrival_seconds,
            axes: vec![value],
            buttons: vec![value, wild],
        };
        let span = |&(from_seconds, to_seconds): &(f64, f64)| Span { from_seconds, to_seconds };
        let recording = Recording {
            samples: told.iter().map(sample).collect(),
            polled: spans.iter().map(span).chain([Span { from_seconds: 0.0, to_seconds: 50.0 }]).collect(),
        };
        let ways = [PressAsk::Once, PressAsk::Long, PressAsk::Twice];
        let repetitions = spans
            .iter()
            .enumerate()
            .map(|(i, ends)| Repetition { span: span(ends), ..asked(0.0, 1.0, i % 2, ways[i % 3]) })
            .collect();
        let told = format!("{:?}", measure(&[pressed(recording, repetitions)]));
        prop_assert!(!told.contains("NaN") && !told.contains("inf"), "{told}");
    }
}
