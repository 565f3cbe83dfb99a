//! No interval is narrower than the stick can tell, however still the hand and however alike the
//! repetitions.

use super::measure;
use super::test_records::{hands_off, hold, pushes, quiet_rest, record, recording, repetition};
use crate::estimate::{Measured, NotEnough};
use crate::task::{TaskAsk, TaskRecord};
use crate::{Direction, Position, Span};
use proptest::prelude::*;

/// A hand that does everything in the same way each time, on a stick without noise.
struct Robot {
    /// A step of the stick, share of travel.
    step: f64,
    rests_at: Position,
    reach: f64,
    degrees: f64,
}

impl Robot {
    fn reads(&self, at: Position) -> Position {
        let axis = |value: f64| (value / self.step).round() * self.step;
        Position::new(axis(at.right), axis(at.up))
    }

    fn through(&self, mut record: TaskRecord) -> TaskRecord {
        for sample in &mut record.recording.samples {
            let at = self.reads(Position::new(sample.axes[0], -sample.axes[1]) + self.rests_at);
            sample.axes = vec![at.right, -at.up];
        }
        record
    }

    fn visit(&self) -> Vec<TaskRecord> {
        let end = |asked: Direction| Position::polar(self.reach, asked.degrees() + self.degrees);
        let ends: Vec<(Direction, Position)> =
            (0..16).map(|i| Direction::EIGHT[i % 8]).map(|asked| (asked, end(asked))).collect();
        let half = end(Direction::Up) * 0.5;
        // Four seconds of staying out, and let go at the fifth.
        let back = |since: f64| half * (1.0 - (since % 5.0 - 4.0) / 0.3).clamp(0.0, 1.0);
        let cued = |i: u32, from: f64, to: f64| {
            let start = 900.0 + 5.0 * f64::from(i);
            let span = Span { from_seconds: start + from, to_seconds: start + to };
            repetition(span, Some(Direction::Up), Some(0.5))
        };
        let sustained =
            TaskAsk::Sustained { directions: vec![Direction::Up], level: 0.5, seconds: 10.0 };
        let stay = Span { from_seconds: 700.0, to_seconds: 710.0 };
        let mut records = vec![
            hands_off(recording(0.0, 10.0, 100.0, false, |_| Position::ORIGIN)),
            quiet_rest(recording(100.0, 30.0, 100.0, false, |_| Position::ORIGIN)),
            pushes(200.0, &ends, 100.0, false, |_| Position::ORIGIN),
            record(
                sustained,
                recording(700.0, 10.0, 100.0, false, |_| half),
                vec![repetition(stay, Some(Direction::Up), Some(0.5))],
            ),
            record(
                TaskAsk::Return { directions: vec![Direction::Up], level: 0.5, rounds: 4 },
                recording(900.0, 20.0, 100.0, false, back),
                (0..4).map(|i| cued(i, 4.0, 4.99)).collect(),
            ),
        ];
        records
            .extend((0..4).map(|i| hold(300.0 + 20.0 * f64::from(i), 4.0, 0.5, 100.0, |_| half)));
        records.into_iter().map(|record| self.through(record)).collect()
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn no_interval_is_narrower_than_the_stick_can_tell(
        codes in 20.0..400.0_f64,
        right in -0.05..0.05_f64,
        up in -0.05..0.05_f64,
        reach in 0.3..0.9_f64,
        degrees in -20.0..20.0_f64,
        is_known in any::<bool>(),
    ) {
        let step = 1.0 / codes.round();
        let robot = Robot { step, rests_at: Position::new(right, up), reach, degrees };
        let mut records = robot.visit();
        if !is_known {
            // Rest alone tells no step.
            records.truncate(2);
        }
        let told = measure(&records);
        // A standard deviation of rounding is 0.29 of a step; both ends together.
        let least = if is_known { 0.28 * step } else { 0.28 * step.min(2.0 / 255.0) };
        let rest = told.rest.as_ref().unwrap();
        let mut figures: Vec<(&str, Measured, f64)> = vec![
            ("noise", told.device.noise, least),
            ("drift", told.device.drift_per_minute, 60.0 / 10.0 * least),
            ("sag", told.device.sag, least),
            ("offset", rest.offset, least),
            ("wander", rest.wander, least),
        ];
        if let Ok(map) = &told.map {
            figures.push(("turn", map.turn, (0.1 * least).to_degrees()));
            figures.push(("stretch", map.stretch, 0.1 * least));
            figures.push(("cross-talk", map.cross_talk, 0.1 * least));
        }
        for one in &told.reach {
            figures.push(("reach", one.reach, least));
            figures.push(("degrees off", one.degrees_off, least.to_degrees()));
        }
        for one in &told.hold {
            figures.push(("steadiness", one.deviation, least));
            figures.push(("wander while holding", one.wander, least));
        }
        for one in &told.sustained {
            figures.push(("kept", one.kept, least));
            figures.push(("drift while holding", one.drift_per_minute, 60.0 / 10.0 * least));
        }
        for one in &told.returns {
            figures.push(("overshoot", one.overshoot, least));
            figures.push(("rests short", one.rests_short, least));
        }
        prop_assert!(!is_known || told.reach.len() == 8 && told.hold.len() == 1);
        prop_assert!(!is_known || told.sustained.len() == 1 && told.returns.len() == 1);
        for (name, figure, least) in figures {
            if let Ok(figure) = figure {
                prop_assert!(figure.width() >= least, "{}: {:?}, step {}", name, figure, step);
            }
        }
        // Where it rests is in the interval, not only near it; of a stick coarser than any in use
        // somebody has to know the step.
        let Ok(offset) = rest.offset else {
            // A stick that only ever showed its very middle may hide what is around it.
            prop_assert_eq!(rest.offset.unwrap_err(), NotEnough::Hidden);
            prop_assert!(told.device.still_middle);
            return Ok(());
        };
        let truth = robot.rests_at.radius();
        let holds = offset.low <= truth && truth <= offset.high;
        prop_assert!(holds || !is_known && step > 2.0 / 255.0, "{:?} {}", offset, truth);
    }
}
