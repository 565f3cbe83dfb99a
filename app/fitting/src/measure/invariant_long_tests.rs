//! What must hold of the measures of a long visit: busy rest, free movement, longer holds, ways
//! back and the map, whatever the size, the way round, the hour and the pace of reports.

use super::test_records::{pushes, quiet_rest, record, recording, repetition, stretches};
use super::{Measures, measure};
use crate::suggest::{Wish, suggest};
use crate::task::{Meanwhile, TaskAsk, TaskRecord};
use crate::{Direction, Position, Span};
use proptest::prelude::{ProptestConfig, any, prop_assert, proptest};

/// Smooth movement that never repeats, twice as far along the diagonal as across.
fn shake(at: f64) -> Position {
    let wave = |hertz: f64, phase: f64| libm::sin(std::f64::consts::TAU * hertz * at + phase);
    let along = 0.012 * wave(0.43, 0.2) + 0.010 * wave(1.37, 1.0) + 0.009 * wave(2.71, 0.0);
    let across = 0.006 * wave(0.37, 2.0) + 0.005 * wave(1.71, 0.5) + 0.004 * wave(2.33, 0.7);
    Position::new(along, across).turned(45.0)
}

/// What is left of the way, `since` seconds after it began.
fn released(since: f64) -> f64 {
    if since <= 0.0 {
        return 1.0;
    }
    let (sin, cos) = libm::sincos(14.0 * since);
    libm::exp(-8.0 * since) * (cos + 8.0 / 14.0 * sin)
}

const ENDS: [Position; 4] = [
    Position::new(0.62, 0.06),
    Position::new(0.03, 0.55),
    Position::new(-0.48, 0.02),
    Position::new(-0.05, -0.6),
];

/// A visit that begins at `start`, read `hertz` times a second (and told only on change), seen
/// through `map`.
fn visit(
    start: f64,
    hertz: f64,
    on_change: bool,
    map: impl Fn(Position) -> Position + Copy,
) -> Vec<TaskRecord> {
    let asked =
        |i: usize| (Direction::FOUR[i % 4], map(ENDS[i % 4] * (1.0 + 0.02 * (i / 4) as f64)));
    let ends: Vec<(Direction, Position)> = (0..12).map(asked).collect();
    let busy = recording(start + 100.0, 41.0, hertz, on_change, |at| map(shake(at) * 2.5));
    // Out to each end and back, four seconds each.
    let free = recording(start + 200.0, 48.0, hertz, on_change, |at| {
        let share = 0.5 - 0.5 * libm::cos(std::f64::consts::TAU * at / 4.0);
        map(ENDS[(at / 4.0) as usize % 4] * share + shake(at) * 0.2)
    });
    // Long holds that sag by 0.06 a minute.
    let long = recording(start + 300.0, 32.0, hertz, on_change, |at| {
        let end = ENDS[(at / 16.0) as usize % 4];
        let since = at % 16.0;
        map(end * ((0.3 - 0.001 * since) / end.radius()) + shake(at) * 0.3)
    });
    let held = |i: usize| {
        let from_seconds = start + 300.5 + 16.0 * i as f64;
        let span = Span { from_seconds, to_seconds: from_seconds + 15.0 };
        let mut held = repetition(span, Some(Direction::FOUR[i]), Some(0.5));
        held.effort = Some(2);
        held
    };
    let back = recording(start + 400.0, 48.0, hertz, on_change, |at| {
        map(ENDS[(at / 4.0) as usize % 4] * released(at % 4.0 - 1.25))
    });
    let returned = |i: usize| {
        let from_seconds = start + 401.0 + 4.0 * i as f64;
        let span = Span { from_seconds, to_seconds: from_seconds + 2.75 };
        repetition(span, Some(Direction::FOUR[i % 4]), Some(0.5))
    };
    let busy_spans = stretches(&busy);
    let free_spans = stretches(&free);
    let four = Direction::FOUR.to_vec();
    let meanwhile = Meanwhile::Talking;
    vec![
        quiet_rest(recording(start, 61.0, hertz, on_change, |at| map(shake(at)))),
        record(TaskAsk::BusyRest { seconds: 41.0, meanwhile }, busy, busy_spans),
        record(TaskAsk::FreeMovement { seconds: 48.0 }, free, free_spans),
        record(
            TaskAsk::Sustained { directions: four[..2].to_vec(), level: 0.5, seconds: 15.0 },
            long,
            (0..2).map(held).collect(),
        ),
        record(
            TaskAsk::Return { directions: four, level: 0.5, rounds: 3 },
            back,
            (0..12).map(returned).collect(),
        ),
        pushes(start + 500.0, &ends, hertz, on_change, |at| map(shake(at) * 0.3)),
    ]
}

/// Everything that is a length, a time or a share, by name.
#[derive(Default)]
struct Figures {
    lengths: Vec<(&'static str, f64)>,
    seconds: Vec<(&'static str, f64)>,
    shares: Vec<(&'static str, f64)>,
}

fn figures(measures: &Measures) -> Figures {
    let mut all = Figures::default();
    let rest = measures.rest.as_ref().unwrap();
    let ellipse = rest.ellipse.unwrap();
    all.lengths.push(("along", ellipse.along_deviation));
    all.lengths.push(("across", ellipse.across_deviation));
    let busy = measures.busy_rest[0].rest.as_ref().unwrap();
    all.lengths.push(("busy along", busy.ellipse.unwrap().along_deviation));
    all.lengths.push(("busy wander", busy.wander.unwrap().value));
    let free = measures.free.as_ref().unwrap();
    all.seconds.push(("free", free.seconds));
    for held in &measures.sustained {
        all.seconds.push(("held", held.seconds));
        all.lengths.push(("kept", held.kept.unwrap().value));
        all.lengths.push(("drift", held.drift_per_minute.unwrap().value));
    }
    for back in &measures.returns {
        all.seconds.push(("back", back.seconds.unwrap().value));
        all.shares.push(("overshoot", back.overshoot.unwrap().value));
    }
    all.shares.push(("stretch", measures.map.as_ref().unwrap().stretch.unwrap().value));
    all
}

/// The same figures, lengths `factor` times as large, within `share` of each (`slack` seconds).
fn same(one: &Measures, other: &Measures, factor: f64, share: f64, slack: f64) {
    let (one, other) = (figures(one), figures(other));
    let near = |(what, one): &(&str, f64), want: f64, bound: f64| {
        assert!((one - want).abs() <= bound, "{what}: {one} against {want}");
    };
    assert_eq!(one.lengths.len(), other.lengths.len());
    for (one, (_, other)) in one.lengths.iter().zip(&other.lengths) {
        let want = factor * other;
        // A drift is a small difference of large lengths.
        let bound = if one.0 == "drift" { 2.0 * share } else { share };
        near(one, want, bound * want.abs());
    }
    for (one, (_, other)) in one.seconds.iter().zip(&other.seconds) {
        near(one, *other, slack);
    }
    for (one, (_, other)) in one.shares.iter().zip(&other.shares) {
        // The top of an overshoot is read between reports, which steps of 0.004 blur.
        near(one, *other, (10.0 * share).clamp(0.002, 0.02));
    }
}

/// The directions of a free movement, farthest first seen by name.
fn farthest(measures: &Measures) -> Vec<(Direction, f64)> {
    let free = measures.free.as_ref().unwrap();
    free.directions.iter().map(|one| (one.about, one.farthest)).collect()
}

/// Everything is here: a check of figures that are not there would hold.
#[test]
fn the_visit_is_measured_as_it_was_made() {
    let measures = measure(&visit(0.0, 250.0, false, |at| at));
    let all = figures(&measures);
    assert_eq!((all.lengths.len(), all.seconds.len(), all.shares.len()), (8, 7, 5));
    let ellipse = measures.rest.as_ref().unwrap().ellipse.unwrap();
    let told = ellipse.along_degrees.unwrap();
    assert!((told.value - 45.0).abs() < 3.0 && told.low < 45.0 && 45.0 < told.high, "{told:?}");
    for held in &measures.sustained {
        assert!((held.kept.unwrap().value - 0.292).abs() < 0.01);
        assert!((held.drift_per_minute.unwrap().value + 0.06).abs() < 0.03);
    }
    // exp(−8π/14) of the way.
    let overshoot = libm::exp(-8.0 * std::f64::consts::PI / 14.0);
    for back in &measures.returns {
        assert!((back.overshoot.unwrap().value - overshoot).abs() < 0.01);
    }
    let right = farthest(&measures)[0];
    assert!((right.1 - 0.62).abs() < 0.03, "{right:?}");
}

/// Read 60, 125 and 1000 times a second: 17 ms of standing at each position take 3 % of a
/// length and a frame of a time.
#[test]
fn the_pace_of_reports_does_not_matter() {
    let fast = measure(&visit(0.0, 1000.0, false, |at| at));
    for hertz in [60.0, 125.0] {
        same(&measure(&visit(0.0, hertz, false, |at| at)), &fast, 1.0, 0.03, 0.04);
    }
    let rough = |at: Position| {
        let step = |value: f64| (value * 250.0).round() / 250.0;
        Position::new(step(at.right), step(at.up))
    };
    let every = measure(&visit(0.0, 1000.0, false, rough));
    let changes = measure(&visit(0.0, 1000.0, true, rough));
    same(&changes, &every, 1.0, 1e-6, 1e-6);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(6))]

    /// Half the movement is half of every length and the same in time; another hour changes
    /// nothing; a quarter turn turns directions and nothing else.
    #[test]
    fn size_hour_and_quarter_turns(
        factor in 0.5..1.4_f64, hour in 0..4096_u16, quarters in 0..4_u8, mirrored in any::<bool>(),
    ) {
        let plain = measure(&visit(0.0, 125.0, false, |at| at));
        let turn = |at: Position| {
            let mut at = if mirrored { Position::new(at.right, -at.up) } else { at };
            for _ in 0..quarters {
                at = Position::new(-at.up, at.right);
            }
            at
        };
        let other = measure(&visit(f64::from(hour), 125.0, false, move |at| turn(at) * factor));
        // What counts as settled, or as a way at all, is a share of travel: times may differ by
        // a report.
        same(&other, &plain, factor, 1e-3, 0.02);
        let along = |measures: &Measures| {
            measures.rest.as_ref().unwrap().ellipse.unwrap().along_degrees.unwrap().value
        };
        let turned = turn(Position::polar(1.0, along(&plain))).degrees();
        let off = 2.0 * (along(&other) - turned);
        prop_assert!(crate::position::fold_degrees(off).abs() < 1e-6, "{off}");
    }

    /// The dead zone never grows with the rate that is put up with.
    #[test]
    fn the_dead_zone_falls_with_the_wish(
        size in 0.3..2.5_f64, one in 0.02..6.0_f64, other in 0.02..6.0_f64,
    ) {
        let records = [quiet_rest(recording(0.0, 61.0, 125.0, false, |at| shake(at) * size))];
        let measures = measure(&records);
        let radius = |false_per_minute: f64| {
            suggest(&records, &measures, Wish { false_per_minute, ..Wish::default() })
                .settings
                .dead_zone
        };
        prop_assert!(radius(one.max(other)) <= radius(one.min(other)));
    }
}
