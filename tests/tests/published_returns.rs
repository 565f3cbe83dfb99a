//! The way back to the centre, against the closed form of a second-order system let go.

use checks::{number, numbers, same, vector};
use fitting::measure::measure;
use fitting::recording::{Recording, Span};
use fitting::task::{Repetition, TaskAsk, TaskRecord};
use fitting::{Direction, Sample};

/// Overshoot exp(−πζ/√(1−ζ²)) and the time until it stays within 5 % (any book on control, from
/// memory), reported 250 times a second.
///
/// 0.2 % of the overshoot: its top lies between two reports. The time within one report: a
/// position holds until the next.
#[test]
fn a_second_order_release() {
    let want = vector("return_to_centre");
    let (times, left) = (numbers(&want["t"]), numbers(&want["r"]));
    let mut samples = Vec::new();
    let mut repetitions = Vec::new();
    for round in 0..4 {
        let start = 4.0 * f64::from(round);
        let push = |at: f64, up: f64| Sample {
            arrival_seconds: at,
            axes: vec![0.0, -up],
            buttons: Vec::new(),
        };
        samples.push(push(start, 0.5));
        samples
            .extend(times.iter().zip(&left).map(|(at, left)| push(start + 1.0 + at, 0.5 * left)));
        repetitions.push(Repetition {
            direction: Some(Direction::Up),
            level: Some(0.5),
            ..Repetition::done(Span { from_seconds: start + 1.0, to_seconds: start + 3.0 })
        });
    }
    let ask = TaskAsk::Return { directions: vec![Direction::Up], level: 0.5, rounds: 4 };
    let polled = vec![Span { from_seconds: 0.0, to_seconds: 16.0 }];
    let record = TaskRecord::new(ask, Recording { samples, polled }, repetitions);
    let up = measure(&[record]).returns.remove(0);
    same(up.overshoot.unwrap().value, number(&want["overshoot"]), 2e-3, "overshoot");
    let late = up.seconds.unwrap().value - number(&want["settled_seconds"]["0.05"]);
    assert!((-1e-4..=0.004 + 1e-4).contains(&late), "{late} s late");
    assert!(up.rests_short.unwrap().value.abs() < 1e-3);
}
