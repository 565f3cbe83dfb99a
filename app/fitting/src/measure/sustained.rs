//! What was kept up in longer holds.

use super::SustainedHold;
use super::device::quantisation_deviation;
use crate::estimate::{Basis, Estimate, Measured, NotEnough};
use crate::statistics::dependence::lag_one;
use crate::statistics::distributions::t_quantile;
use crate::statistics::plain;
use crate::task::{EASY_EFFORT, Repetition, TaskAsk, TaskKind, TaskRecord};
use crate::{Direction, Position, Trace};

/// The least stay from which a level and a drift are told, seconds.
const LEAST_SECONDS: f64 = 4.0;
/// A stay is cut into batches of about this length, seconds, so that slow wander is told as the
/// spread between them; into at least so many and at most so many.
const BATCH_SECONDS: f64 = 1.5;
const BATCHES: (f64, f64) = (5.0, 24.0);
/// A drift that is known no better than this each way, shares of travel a minute, is not known.
const WIDEST_DRIFT: f64 = 0.35;

/// Of the length asked this much is enough: the last moment before the cue is not missed.
const NEARLY: f64 = 0.95;
/// A stay of at least this share of the longest lasted about as long.
const ABOUT_AS_LONG: f64 = 0.9;

/// The farthest stay in each direction that was easy and lasted as long as was asked, or else the longest
/// that counts; in the order of [`Direction::EIGHT`]; distances
/// from the visit's `centre` or, without one, from what was known when the task began. How `unsure`
/// the centre is (half of its 95 % interval, share of travel) and what the stick's `step` leaves
/// untold are added to the level kept.
pub(super) fn sustained(
    records: &[TaskRecord],
    centre: Option<Position>,
    unsure: f64,
    step: f64,
) -> Vec<SustainedHold> {
    let holds: Vec<(&TaskRecord, &Repetition)> = records
        .iter()
        .filter(|record| record.ask.kind() == TaskKind::Sustained)
        .flat_map(|record| record.counting().map(move |repetition| (record, repetition)))
        .filter(|(_, repetition)| repetition.span.seconds().is_finite())
        .collect();
    Direction::EIGHT
        .iter()
        .filter_map(|asked| {
            let of_direction =
                || holds.iter().filter(|(_, repetition)| repetition.direction == Some(*asked));
            let level = |held: &(&TaskRecord, &Repetition)| held.1.level.unwrap_or(0.0);
            let farthest = of_direction()
                .filter(|(record, repetition)| was_easy(record, repetition))
                .max_by(|one, other| level(one).total_cmp(&level(other)));
            let longest = || {
                of_direction()
                    .max_by(|one, other| one.1.span.seconds().total_cmp(&other.1.span.seconds()))
            };
            let (record, repetition) = farthest.or_else(longest)?;
            let hard_at_level = of_direction()
                .filter(|held| farthest.is_some_and(|easy| level(held) > level(easy)))
                .map(level)
                .min_by(f64::total_cmp);
            let centre = centre.unwrap_or(record.known.centre);
            let path = Trace::of(&record.recording, record.axes).within(repetition.span);
            let (kept, drift_per_minute) = kept(&path.about(centre), unsure, step);
            let asked_level = match record.ask {
                TaskAsk::Sustained { level, .. } => level,
                _ => 0.0,
            };
            let times = of_direction()
                .filter(|(_, other)| {
                    other.level == repetition.level
                        && other.effort.unwrap_or(10) <= repetition.effort.unwrap_or(10)
                        && other.span.seconds() >= ABOUT_AS_LONG * repetition.span.seconds()
                })
                .count();
            Some(SustainedHold {
                asked: *asked,
                hard_at_level,
                times,
                level: repetition.level.filter(|level| level.is_finite()).unwrap_or(asked_level),
                seconds: repetition.span.seconds().max(0.0),
                effort: repetition.effort.map(|effort| effort.min(10)),
                kept,
                drift_per_minute,
            })
        })
        .collect()
}

/// Whether a stay lasted as long as was asked, at an effort that can be kept up.
fn was_easy(record: &TaskRecord, repetition: &Repetition) -> bool {
    let TaskAsk::Sustained { seconds, .. } = record.ask else { return false };
    repetition.effort.is_some_and(|effort| effort <= EASY_EFFORT)
        && repetition.span.seconds() >= NEARLY * seconds
}

/// Mean distance and its change a minute, of a stay told from the centre.
///
/// The stay is cut into batches of equal length (batch means: Law and Kelton, *Simulation Modeling
/// and Analysis*, chapter 9, from memory). A straight line through their means gives the drift, and
/// what is left about it the error of both, on two degrees of freedom less than batches; where
/// neighbouring batches still agree, the error grows by `sqrt((1 + r) / (1 − r))`, `r` being their
/// correlation, which a line through few batches makes look smaller than it is (for which room is
/// made: `(n seen + 2) / (n − 3)`).
fn kept(path: &Trace, unsure: f64, step: f64) -> (Measured, Measured) {
    let seconds = path.seconds();
    let neither = |why| (Err(why), Err(why));
    let Some((first, last)) = path.pieces.first().zip(path.pieces.last()) else {
        return neither(NotEnough::NothingRecorded);
    };
    if seconds < LEAST_SECONDS {
        return neither(NotEnough::Seconds { have: seconds, need: LEAST_SECONDS });
    }
    let (start, end) = (first.span.from_seconds, last.span.to_seconds);
    let count = (seconds / BATCH_SECONDS).floor().clamp(BATCHES.0, BATCHES.1);
    let length = (end - start) / count;
    let mut points: Vec<(f64, f64)> = Vec::new();
    let mut watched = 0.0;
    for index in 0..count as usize {
        let from_seconds = start + index as f64 * length;
        let batch = path.within(crate::Span { from_seconds, to_seconds: from_seconds + length });
        // A batch that nobody watched for half of its length says nothing.
        if batch.seconds() >= 0.5 * length {
            let distances = batch.distances(Position::ORIGIN);
            let mean = crate::statistics::weighted::mean(&distances).unwrap_or(0.0);
            points.push(((index as f64 + 0.5) * length, mean));
            watched += batch.seconds();
        }
    }
    let n = points.len() as f64;
    if n < BATCHES.0 {
        return neither(NotEnough::Seconds { have: watched, need: BATCHES.0 * length });
    }
    let column = |read: fn(&(f64, f64)) -> f64| points.iter().map(read).collect::<Vec<f64>>();
    let (times, levels) = (column(|point| point.0), column(|point| point.1));
    let (mean_time, mean_level) = (times.iter().sum::<f64>() / n, levels.iter().sum::<f64>() / n);
    let spread_time = plain::squares_about_mean(&times);
    let together: f64 = points.iter().map(|(t, y)| (t - mean_time) * (y - mean_level)).sum();
    let slope = together / spread_time;
    let residuals: Vec<f64> =
        points.iter().map(|(t, y)| y - mean_level - slope * (t - mean_time)).collect();
    let variance = residuals.iter().map(|left| left * left).sum::<f64>() / (n - 2.0);
    // Residuals of a line through unrelated values are correlated by about −2/n.
    let seen = lag_one(&residuals);
    let r = ((seen * n + 2.0) / (n - 3.0).max(1.0)).clamp(0.0, 0.6);
    let error = libm::sqrt(variance * (1.0 + r) / (1.0 - r)) * t_quantile(0.975, n - 2.0);
    let unseen = libm::hypot(1.96 * quantisation_deviation(step), unsure);
    let basis = Basis { seconds, repetitions: 1 };
    let estimate = |value: f64, half: f64| {
        Estimate::new(value, value - half, value + half, basis).ok_or(NotEnough::DoesNotApply)
    };
    // Of a short hold a minute's drift is far from known; the error of a slope falls with the root of the
    // third power of its length.
    let drift = |value: f64, half: f64| {
        if half > WIDEST_DRIFT {
            let need = seconds * libm::pow(half / WIDEST_DRIFT, 2.0 / 3.0);
            return Err(NotEnough::Seconds { have: seconds, need });
        }
        estimate(value, half)
    };
    (
        estimate(mean_level, libm::hypot(error / libm::sqrt(n), unseen))
            .map(|kept| kept.held_to(0.0, f64::MAX)),
        drift(60.0 * slope, 60.0 * libm::hypot(error / libm::sqrt(spread_time), step / seconds)),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Span;
    use crate::measure::measure;
    use crate::measure::test_records::{record, recording, repetition};
    use crate::measure::truth_tests::normals;

    fn hold(seconds: f64, path: impl Fn(f64) -> Position) -> TaskRecord {
        let ask = TaskAsk::Sustained { directions: vec![Direction::Left], level: 0.5, seconds };
        let span = Span { from_seconds: 0.0, to_seconds: seconds };
        let mut stay = repetition(span, Some(Direction::Left), Some(0.5));
        stay.effort = Some(3);
        record(ask, recording(0.0, seconds, 100.0, false, path), vec![stay])
    }

    #[test]
    fn a_short_stay_says_how_long_it_would_have_to_be() {
        let short = measure(&[hold(3.0, |_| Position::new(-0.4, 0.0))]).sustained.remove(0);
        assert_eq!(short.kept.unwrap_err(), NotEnough::Seconds { have: 3.0, need: 4.0 });
        assert_eq!((short.asked, short.level, short.effort), (Direction::Left, 0.5, Some(3)));
        assert!((short.seconds - 3.0).abs() < 1e-12);
    }

    /// Slow wander of time constant 0.5 s (as invented people have) about a level that sinks: both
    /// intervals hold the truth about as often as they claim.
    #[test]
    fn level_and_drift_hold_the_truth() {
        let keep = libm::exp(-0.01 / 0.5);
        let (mut kept, mut drift, mut drifts) = (0, 0, 0);
        let runs = 300;
        for seed in 0..runs {
            let noise = normals(9000 + seed, 3500);
            let (mut rough, mut at) = (0.0, 0.0);
            let walk: Vec<f64> = noise
                .iter()
                .map(|fresh| {
                    rough = keep * rough + libm::sqrt(1.0 - keep * keep) * fresh;
                    at = keep * at + (1.0 - keep) * rough;
                    0.02 * at
                })
                .skip(2000)
                .collect();
            let hold = hold(15.0, move |since| {
                let level = 0.4 - 0.05 * (since - 7.5) / 60.0;
                Position::new(-level - walk[((since * 100.0).round() as usize).min(1499)], 0.0)
            });
            let measured = measure(&[hold]).sustained.remove(0);
            let holds = |estimate: Estimate, truth: f64| {
                i32::from(estimate.low <= truth && truth <= estimate.high)
            };
            kept += holds(measured.kept.unwrap(), 0.4);
            // Some are too wide to be told.
            if let Ok(told) = measured.drift_per_minute {
                drift += holds(told, -0.05);
                drifts += 1;
            }
        }
        // Four standard errors of 95 % of 300 are 5 %.
        assert!(drifts > 200, "{drifts}");
        for (held, of) in [(kept, runs as i32), (drift, drifts)] {
            let share = f64::from(held) / f64::from(of);
            assert!((0.90..=1.0).contains(&share), "{kept} {drift} of {drifts}");
        }
    }
}
