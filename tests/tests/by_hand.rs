//! Small cases worked out by hand, to the last digit: what a definition says where it is easiest
//! to get wrong by one.

use fitting::estimate::NotEnough;
use fitting::measure::events::events;
use fitting::measure::{Measures, measure};
use fitting::recording::{Recording, Span};
use fitting::suggest::{Wish, suggest};
use fitting::task::{MarkReason, Repetition, TaskAsk, TaskRecord};
use fitting::{Direction, Pipeline, Position, Sample, Settings};

/// A recording of positions `(from when, right, up)`, watched over `watched`.
fn recording(told: &[(f64, f64, f64)], watched: &[(f64, f64)]) -> Recording {
    let samples = told
        .iter()
        .map(|&(arrival_seconds, right, up)| Sample {
            arrival_seconds,
            // A browser counts down as positive.
            axes: vec![right, -up],
            buttons: Vec::new(),
        })
        .collect();
    let polled =
        watched.iter().map(|&(from_seconds, to_seconds)| Span { from_seconds, to_seconds });
    Recording { samples, polled: polled.collect() }
}

/// A task's record with repetitions `(from, to, direction)` that all count.
fn record(
    ask: TaskAsk,
    recording: Recording,
    spans: &[(f64, f64, Option<Direction>)],
) -> TaskRecord {
    let repetitions = spans
        .iter()
        .map(|&(from_seconds, to_seconds, direction)| Repetition {
            direction,
            ..Repetition::done(Span { from_seconds, to_seconds })
        })
        .collect();
    TaskRecord::new(ask, recording, repetitions)
}

/// A quiet rest of these positions until `until`.
fn rest(told: &[(f64, f64, f64)], until: f64) -> TaskRecord {
    let ask = TaskAsk::QuietRest { seconds: until };
    record(ask, recording(told, &[(0.0, until)]), &[(0.0, until, None)])
}

fn close(got: f64, want: f64) {
    assert!((got - want).abs() < 1e-12, "{got} is not {want}");
}

/// Two samples: at 0.1 until second 6, at 0.3 until second 12. The first second is settling, so
/// 5 s and 6 s count: the median over time is 0.3 (of the samples it would be 0.2), and 95 % of
/// the time lies within 0.2 of it.
#[test]
fn a_rest_of_two_samples() {
    let measured = measure(&[rest(&[(0.0, 0.1, 0.0), (6.0, 0.3, 0.0)], 12.0)]).rest.unwrap();
    close(measured.seconds, 11.0);
    close(measured.centre.right, 0.3);
    close(measured.centre.up, 0.0);
    close(measured.offset.unwrap().value, 0.3);
    close(measured.wander.unwrap().value, 0.2);
    // 5 s at −0.2 and 6 s at 0 from there: variance 5·6/11² · 0.04, none across.
    let ellipse = measured.ellipse.unwrap();
    close(ellipse.along_deviation, (30.0_f64 / 121.0 * 0.04).sqrt());
    close(ellipse.across_deviation, 0.0);
    close(ellipse.area, 0.0);
    // One event beyond any radius under 0.2 (five seconds outside), none beyond 0.2.
    let at = |radius: f64| {
        measured.curve.iter().rfind(|point| point.radius <= radius).unwrap().counted_per_minute
    };
    close(at(0.19), 60.0 / 11.0);
    close(measured.curve.last().unwrap().counted_per_minute, 0.0);
}

/// Sixty seconds of a stick that does not move at all: no event, and "fewer than three a minute"
/// is all that this shows (the rule of three; mid-P says ln 20 = 2.9957).
#[test]
fn none_seen_in_a_minute() {
    let measured = measure(&[rest(&[(0.0, 0.05, 0.0)], 61.0)]).rest.unwrap();
    close(measured.seconds, 60.0);
    for point in &measured.curve {
        assert_eq!((point.counted_per_minute, point.low), (0.0, 0.0));
        assert!((point.high - libm::log(20.0)).abs() < 1e-9, "{point:?}");
        assert!(point.high < 3.0);
    }
    assert_eq!(measured.sudden.count, 0);
    assert!((measured.sudden.per_minute.unwrap().high - libm::log(20.0)).abs() < 1e-9);
}

/// Rest counts from ten seconds after settling, and says how much there is.
#[test]
fn ten_seconds_are_the_least() {
    let of = |until: f64| measure(&[rest(&[(0.0, 0.0, 0.0)], until)]).rest;
    assert_eq!(of(10.5).unwrap_err(), NotEnough::Seconds { have: 9.5, need: 10.0 });
    assert!(of(11.0).is_ok());
    assert_eq!(measure(&[]).rest.unwrap_err(), NotEnough::NothingRecorded);
}

/// Spans from their lengths and whether they lie beyond.
fn path(pieces: &[(f64, bool)]) -> Vec<(Span, bool)> {
    let mut at = 0.0;
    pieces
        .iter()
        .map(|&(seconds, beyond)| {
            let from_seconds = at;
            at += seconds;
            (Span { from_seconds, to_seconds: at }, beyond)
        })
        .collect()
}

/// A run of exactly one frame of 1/60 s counts; one that is a whole millisecond shorter does
/// not. Half a millisecond is left to coarse clocks.
#[test]
fn exactly_one_frame() {
    let count = |seconds: f64| {
        events(path(&[(1.0, false), (seconds, true), (1.0, false)]).into_iter()).len()
    };
    assert_eq!(count(1.0 / 60.0), 1);
    assert_eq!(count(1.0 / 60.0 - 0.001), 0);
    // Sixteen milliseconds and a half: the frame of a clock that counts whole milliseconds.
    assert_eq!((count(0.0166), count(0.016)), (1, 0));
}

/// Runs exactly 250 ms apart are two events, any less is one.
#[test]
fn exactly_a_quarter_second_apart() {
    // Powers of two: no rounding between the ends of the runs.
    let count = |apart: f64| {
        let pieces = [(1.0, false), (0.125, true), (apart, false), (0.125, true), (1.0, false)];
        events(path(&pieces).into_iter()).len()
    };
    assert_eq!((count(0.25), count(0.25 - 0.015_625)), (2, 1));
}

/// A minute of rest with a jerk of 0.4 s to 0.5 that begins at `from`.
fn jerked(from: f64) -> Measures {
    let mut told: Vec<(f64, f64, f64)> = (0..6100)
        .map(|i| {
            let at = f64::from(i) * 0.01;
            (at, 0.004 * libm::sin(7.0 * at), 0.004 * libm::cos(5.0 * at))
        })
        .collect();
    for place in &mut told {
        if (from..from + 0.4).contains(&(place.0 + 1e-9)) {
            place.1 = 0.5;
        }
    }
    measure(&[rest(&told, 61.0)])
}

/// A jerk counts wherever it lies: in the middle, from the first settled moment on, and cut off
/// by the end. One that is over when settling ends does not.
#[test]
fn a_jerk_at_a_boundary() {
    for (from, count) in [(30.0, 1), (1.0, 1), (60.6, 1), (60.9, 1), (0.5, 0)] {
        let rest = jerked(from).rest.unwrap();
        assert_eq!(rest.sudden.count, count, "a jerk at {from} s");
        assert!(rest.largest_continual < 0.02, "{from}: {}", rest.largest_continual);
        for size in &rest.sudden.sizes {
            assert!((size - 0.5).abs() < 0.01, "{size}");
        }
        // 60 s: the rate is the count.
        close(rest.sudden.per_minute.unwrap().value, f64::from(count as u32));
    }
}

/// A push out to 0.6 in a step, and back, as often as said.
fn pushed(times: usize) -> Measures {
    let mut told = Vec::new();
    let mut spans = Vec::new();
    for i in 0..times {
        let start = 4.0 * i as f64;
        told.extend([(start, 0.0, 0.0), (start + 1.0, 0.0, 0.6), (start + 2.0, 0.0, 0.0)]);
        spans.push((start, start + 4.0, Some(Direction::Up)));
    }
    let ask = TaskAsk::Reach { directions: vec![Direction::Up], rounds: times };
    measure(&[record(ask, recording(&told, &[(0.0, 4.0 * times as f64)]), &spans)])
}

/// One push has an end and says nothing of how far the next will go; three alike say it to within
/// what a stick of unknown step, taken for one of 8 bits, rounds: 1.96 deviations of an even spread
/// over one step to each side.
#[test]
fn one_push_and_three() {
    let one = pushed(1);
    let up = &one.reach[0];
    assert_eq!(up.reach, Err(NotEnough::Repetitions { have: 1, need: 3 }));
    close(up.ends[0].up, 0.6);
    close(up.end.unwrap().right, 0.0);
    assert!(one.map.is_err());
    let up = pushed(3).reach[0].reach.unwrap();
    close(up.value, 0.6);
    // The lower side is 1.3 times as long since intervals are calibrated.
    close(up.width(), (1.3 + 1.0) * 1.96 * (2.0 / 255.0) / 12.0_f64.sqrt());
    assert_eq!(up.basis.repetitions, 3);
    close(up.basis.seconds, 12.0);
}

/// A marked push is left out and counted.
#[test]
fn a_marked_push() {
    let ask = TaskAsk::Reach { directions: vec![Direction::Up], rounds: 1 };
    let told = [(0.0, 0.0, 0.0), (1.0, 0.0, 0.6), (2.0, 0.0, 0.0)];
    let mut marked =
        record(ask, recording(&told, &[(0.0, 4.0)]), &[(0.0, 4.0, Some(Direction::Up))]);
    marked.repetitions[0].mark = Some(MarkReason::Spasm);
    let measured = measure(&[marked]);
    assert!(measured.reach.is_empty());
    assert_eq!(measured.left_out, 1);
}

/// At the edge of the dead zone there is nothing, at full throw everything, half-way half.
#[test]
fn the_edges_of_the_dead_zone() {
    let pipeline =
        Pipeline::new(&Settings { dead_zone: 0.25, full_throw: 0.75, ..Settings::default() });
    assert_eq!(pipeline.apply(Position::new(0.25, 0.0)), Position::ORIGIN);
    assert_eq!(pipeline.apply(Position::new(0.0, -0.75)), Position::new(0.0, -1.0));
    assert_eq!(pipeline.apply(Position::new(-0.5, 0.0)), Position::new(-0.5, 0.0));
    assert_eq!(pipeline.apply(Position::new(0.0, 0.5)), Position::new(0.0, 0.5));
}

/// Of nothing nothing is suggested.
#[test]
fn nothing_recorded() {
    let measured = measure(&[]);
    let suggested = suggest(&[], &measured, Wish::default());
    assert_eq!(suggested.dead_zone.unwrap_err(), NotEnough::NothingRecorded);
    assert_eq!(suggested.settings, Settings::default());
}
