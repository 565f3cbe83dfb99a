//! What must hold of measures whatever was recorded.

use super::test_records::{hands_off, hold, pushes, quiet_rest, record, recording, repetition};
use super::{Measures, known, measure};
use crate::settings::{Curve, Settings, Shape};
use crate::suggest::{HostForm, Prepared, Suggestions, Wish, suggest};
use crate::task::{MarkReason, Meanwhile, PressAsk, TaskAsk, TaskRecord};
use crate::{Direction, Position, Recording, Sample, Span};
use proptest::prelude::{Just, Strategy, any, prop_assert, prop_oneof, proptest};

/// Smooth movement that never repeats: wander and a 5 Hz shake.
fn shake(at: f64) -> Position {
    let wave = |hertz: f64, phase: f64| libm::sin(std::f64::consts::TAU * hertz * at + phase);
    Position::new(
        0.012 * wave(0.31, 0.2) + 0.010 * wave(0.77, 1.0) + 0.008 * wave(5.1, 0.0),
        0.011 * wave(0.23, 2.0) + 0.009 * wave(0.91, 0.5) + 0.006 * wave(5.1, 0.7),
    )
}

const ENDS: [(Direction, Position); 8] = [
    (Direction::Right, Position::new(0.70, 0.05)),
    (Direction::Up, Position::new(0.02, 0.62)),
    (Direction::Left, Position::new(-0.50, 0.03)),
    (Direction::Down, Position::new(-0.03, -0.66)),
    (Direction::Right, Position::new(0.74, 0.02)),
    (Direction::Up, Position::new(0.05, 0.58)),
    (Direction::Left, Position::new(-0.46, -0.02)),
    (Direction::Down, Position::new(0.01, -0.70)),
];

/// A whole visit: rest, reach, holds at three levels.
fn visit(
    start: f64,
    hertz: f64,
    on_change: bool,
    map: impl Fn(Position) -> Position + Copy,
) -> Vec<TaskRecord> {
    let rest = recording(start, 61.0, hertz, on_change, |at| map(shake(at)));
    let mapped: Vec<(Direction, Position)> =
        ENDS.iter().map(|(asked, end)| (*asked, map(*end))).collect();
    let mut records = vec![
        quiet_rest(rest),
        pushes(start + 100.0, &mapped, hertz, on_change, |at| map(shake(at))),
    ];
    for (index, level) in [0.25, 0.5, 0.75].into_iter().enumerate() {
        let from = start + 200.0 + 20.0 * index as f64;
        let place = Position::new(0.0, 0.6 * level);
        records
            .push(hold(from, 6.0, level, hertz, move |at| map(place + shake(at) * (0.5 + level))));
    }
    records
}

fn near(one: f64, other: f64, share: f64, what: &str) {
    assert!((one - other).abs() <= share * other.abs().max(1e-9), "{what}: {one} against {other}");
}

/// The figures of a visit that are lengths, by name.
fn lengths(measures: &Measures) -> Vec<(&'static str, f64)> {
    let rest = measures.rest.as_ref().unwrap();
    let mut found = vec![("wander", rest.wander.unwrap().value)];
    found.extend(measures.reach.iter().map(|reach| ("reach", reach.reach.unwrap().value)));
    found.extend(measures.hold.iter().map(|level| ("hold", level.deviation.unwrap().value)));
    found
}

fn suggested(records: &[TaskRecord]) -> Suggestions {
    suggest(records, &measure(records), Wish::default())
}

fn same_lengths(one: &Measures, other: &Measures, factor: f64, share: f64) {
    let (one, other) = (lengths(one), lengths(other));
    assert_eq!(one.len(), other.len());
    for ((what, one), (_, other)) in one.iter().zip(other) {
        near(*one, factor * other, share, what);
    }
}

#[test]
fn a_shift_in_time_changes_nothing() {
    let now = visit(0.0, 125.0, false, |at| at);
    let later = visit(4096.0, 125.0, false, |at| at);
    same_lengths(&measure(&later), &measure(&now), 1.0, 1e-9);
    let (now, later) = (suggested(&now), suggested(&later));
    near(later.settings.dead_zone, now.settings.dead_zone, 1e-6, "dead zone");
}

#[test]
fn lengths_grow_with_the_movement() {
    let small = visit(0.0, 125.0, false, |at| at * 0.5);
    let full = visit(0.0, 125.0, false, |at| at);
    same_lengths(&measure(&small), &measure(&full), 0.5, 1e-6);
    let (small, full) = (suggested(&small), suggested(&full));
    // The grid of radii has a coarsest step of its own.
    near(small.settings.dead_zone, 0.5 * full.settings.dead_zone, 0.03, "dead zone");
    near(small.settings.full_throw, 0.5 * full.settings.full_throw, 1e-6, "full throw");
}

#[test]
fn a_quarter_turn_changes_no_length_and_any_turn_hardly() {
    let straight = measure(&visit(0.0, 125.0, false, |at| at));
    let quarter = measure(&visit(0.0, 125.0, false, |at| Position::new(-at.up, at.right)));
    same_lengths(&quarter, &straight, 1.0, 1e-9);
    let turned = measure(&visit(0.0, 125.0, false, |at| at.turned(25.0)));
    // The median of each axis is not the median of turned axes: lengths about it move a little.
    same_lengths(&turned, &straight, 1.0, 0.05);
    for (turned, straight) in turned.reach.iter().zip(&straight.reach) {
        let (turned, straight) = (turned.degrees_off.unwrap(), straight.degrees_off.unwrap());
        assert!((turned.value - straight.value - 25.0).abs() < 1.0);
    }
}

/// The same movement read 60, 125 and 1000 times a second, and told only on change. At 60 Hz
/// each position stands for 17 ms, which a 5 Hz shake moves on in: lengths within 3 %, the dead
/// zone, whose tail is fitted to peaks that the slow reading clips, within 10 %.
#[test]
fn how_often_it_is_told_does_not_matter() {
    let fast_visit = visit(0.0, 1000.0, false, |at| at);
    let fast = measure(&fast_visit);
    let rough = |at: Position| {
        let step = |value: f64| (value / 0.004).round() * 0.004;
        Position::new(step(at.right), step(at.up))
    };
    for slower in [60.0, 125.0] {
        let slow = visit(0.0, slower, false, |at| at);
        same_lengths(&measure(&slow), &fast, 1.0, 0.03);
        let (slow, fast) = (suggested(&slow), suggested(&fast_visit));
        near(slow.settings.dead_zone, fast.settings.dead_zone, 0.1, "dead zone");
    }
    let every = measure(&visit(0.0, 1000.0, false, rough));
    let changes = measure(&visit(0.0, 1000.0, true, rough));
    same_lengths(&changes, &every, 1.0, 1e-6);
}

#[test]
fn a_stricter_wish_never_makes_the_dead_zone_smaller() {
    let records = visit(0.0, 125.0, false, |at| at);
    let measures = measure(&records);
    let mut before = f64::INFINITY;
    for i in 0..60 {
        let wish =
            Wish { false_per_minute: 0.02 * libm::pow(1.2, f64::from(i)), ..Wish::default() };
        let radius = suggest(&records, &measures, wish).settings.dead_zone;
        assert!(radius <= before, "{wish:?}: {radius} after {before}");
        before = radius;
    }
}

/// Anything at all as a number.
fn wild() -> impl Strategy<Value = f64> {
    prop_oneof![4 => -2.0..2.0_f64, 2 => 0.0..60.0_f64, 1 => any::<f64>(), 1 => Just(0.0)]
}

fn wild_record() -> impl Strategy<Value = TaskRecord> {
    let samples = proptest::collection::vec((wild(), wild(), wild(), wild()), 0..40);
    let spans = || proptest::collection::vec((wild(), wild()), 0..4);
    (samples, spans(), spans(), spans(), 0..9_u8, any::<bool>()).prop_map(
        |(samples, polled, repetitions, pauses, kind, marked)| {
            let span = |&(from_seconds, to_seconds): &(f64, f64)| Span { from_seconds, to_seconds };
            let ask = match kind {
                0 => TaskAsk::HandsOff { seconds: 10.0 },
                1 => TaskAsk::QuietRest { seconds: 10.0 },
                2 => TaskAsk::Reach { directions: Direction::FOUR.to_vec(), rounds: 1 },
                3 => TaskAsk::BusyRest { seconds: 10.0, meanwhile: Meanwhile::Talking },
                4 => TaskAsk::FreeMovement { seconds: 10.0 },
                5 => TaskAsk::Sustained {
                    directions: vec![Direction::Up],
                    level: 0.5,
                    seconds: 10.0,
                },
                6 => TaskAsk::Return { directions: vec![Direction::Up], level: 0.5, rounds: 1 },
                7 => TaskAsk::Presses { buttons: vec![0], rounds: 1 },
                _ => TaskAsk::Hold {
                    directions: vec![Direction::Up],
                    levels: vec![0.5],
                    rounds: 1,
                    seconds: 3.0,
                },
            };
            let recording = Recording {
                samples: samples
                    .iter()
                    .map(|&(arrival_seconds, right, up, button)| Sample {
                        arrival_seconds,
                        axes: vec![right, up],
                        buttons: vec![button],
                    })
                    .collect(),
                polled: polled.iter().map(span).collect(),
            };
            let mut repetitions: Vec<_> = repetitions
                .iter()
                .map(|both| repetition(span(both), Some(Direction::Up), Some(both.0)))
                .collect();
            for (index, one) in repetitions.iter_mut().enumerate().filter(|_| kind == 7) {
                one.button = Some(0);
                one.press = Some([PressAsk::Once, PressAsk::Long, PressAsk::Twice][index % 3]);
            }
            if let Some(first) = repetitions.first_mut().filter(|_| marked) {
                first.mark = Some(MarkReason::Spasm);
            }
            let mut record = record(ask, recording, repetitions);
            record.pauses = pauses.iter().map(span).collect();
            record
        },
    )
}

fn no_nan(what: &impl std::fmt::Debug) -> bool {
    let told = format!("{what:?}");
    !told.contains("NaN") && !told.contains("inf")
}

proptest! {
    #[test]
    fn no_recording_makes_a_figure_that_is_none(
        records in proptest::collection::vec(wild_record(), 0..5),
        numbers in proptest::collection::vec(any::<f64>(), 6),
        wish in any::<f64>(),
    ) {
        let measures = measure(&records);
        prop_assert!(no_nan(&measures), "{measures:?}");
        prop_assert!(no_nan(&known(&records)));
        let suggestions = suggest(&records, &measures, Wish { false_per_minute: wish, ..Wish::default() });
        prop_assert!(no_nan(&suggestions), "{suggestions:?}");
        prop_assert!(no_nan(&HostForm::of(&suggestions.settings)));
        let odd = Settings {
            centre: Position::new(numbers[0], numbers[1]),
            dead_zone: numbers[2],
            full_throw: numbers[3],
            shape: Shape::PerAxis,
            curve: Curve::Points(vec![(numbers[4], numbers[5])]),
..Settings::default()
        };
        let prepared = Prepared::new(&records, &measures);
        for settings in [&suggestions.settings, &odd] {
            let effect = prepared.effect(settings);
            prop_assert!(no_nan(&effect), "{effect:?}");
        }
        prop_assert!(no_nan(&HostForm::of(&odd)));
    }

    /// A person of any size and speed: rest of a real length, hands off, pushes.
    #[test]
    fn any_person_gets_settings_in_range(
        size in 0.0..1.0_f64, slow in 0.1..5.0_f64, reach in 0.0..1.0_f64, step in 0.0..0.05_f64,
    ) {
        let told = |at: Position| {
            let on_step = |value: f64| if step > 0.0 { (value / step).round() * step } else { value };
            Position::new(on_step(at.right), on_step(at.up))
        };
        let path = |at: f64| told(shake(at * slow) * (20.0 * size * size));
        let ends: Vec<(Direction, Position)> =
            Direction::FOUR.iter().cycle().take(8).map(|asked| (*asked, told(Position::polar(reach, asked.degrees())))).collect();
        let records = [
            hands_off(recording(0.0, 6.0, 60.0, true, |_| told(Position::new(0.013, -0.021)))),
            quiet_rest(recording(10.0, 20.0, 60.0, true, path)),
            pushes(40.0, &ends, 60.0, true, path),
        ];
        let measures = measure(&records);
        prop_assert!(no_nan(&measures), "{measures:?}");
        let suggestions = suggest(&records, &measures, Wish::default());
        let settings = &suggestions.settings;
        prop_assert!((0.0..=0.9).contains(&settings.dead_zone));
        prop_assert!(settings.full_throw <= 1.0 && settings.full_throw >= (settings.dead_zone + 0.05).min(1.0) - 1e-9);
        if let (Ok(advice), Ok(step)) = (&suggestions.dead_zone, measures.device.step) {
            prop_assert!(advice.radius.value >= step.min(0.9), "never under one step");
        }
    }
}
