//! Steadiness while holding, by level of the person's own reach.

use super::LevelSteadiness;
use super::rest::independent_of;
use crate::estimate::{Basis, Estimate, NotEnough};
use crate::statistics::distributions::deviation_factors;
use crate::statistics::weighted;
use crate::task::{TaskKind, TaskRecord};
use crate::{Position, Span, Trace};

/// From this radius on a position is at the end of the stick's travel.
pub const GATE: f64 = 0.99;
/// The beginning of a hold is left out: the dot has just come to its place. Seconds.
const ARRIVING_SECONDS: f64 = 0.3;
/// Shorter holds say nothing of steadiness, seconds.
const LEAST_HOLD_SECONDS: f64 = 0.5;
/// Fewer independent values than this give no interval worth showing.
const LEAST_DEGREES_OF_FREEDOM: f64 = 3.0;

/// One hold that counts.
#[derive(Clone, Debug, PartialEq)]
pub struct OneHold {
    /// Share of own reach that was asked.
    pub level: f64,
    /// The path, absolute, without its beginning.
    pub path: Trace,
}

/// All holds that count and are long enough, in order of time.
#[must_use]
pub fn holds(records: &[TaskRecord]) -> Vec<OneHold> {
    let mut found = Vec::new();
    for record in records.iter().filter(|record| record.ask.kind() == TaskKind::Hold) {
        let path = Trace::of(&record.recording, record.axes);
        for repetition in record.repetitions.iter().filter(|repetition| repetition.counts()) {
            let Some(level) = repetition.level.filter(|level| level.is_finite()) else { continue };
            let from_seconds = repetition.span.from_seconds + ARRIVING_SECONDS;
            let path = path.within(Span { from_seconds, ..repetition.span });
            if path.seconds() >= LEAST_HOLD_SECONDS {
                found.push(OneHold { level, path });
            }
        }
    }
    found
}

/// Mean squared distance from the held place, both axes pooled (half of the sum of both
/// variances over time), share of travel squared; 0 of an empty path.
#[must_use]
pub fn variance_about_place(path: &Trace) -> f64 {
    let axis = |read: fn(&Position) -> f64| {
        let held: Vec<(f64, f64)> =
            path.pieces.iter().map(|piece| (read(&piece.at), piece.span.seconds())).collect();
        weighted::variance(&held).unwrap_or(0.0)
    };
    0.5 * (axis(|at| at.right) + axis(|at| at.up))
}

/// Steadiness by level, from the lowest up. Variances are pooled over the holds of a level by
/// their time; the interval is a chi-square one on as many degrees of freedom as the holds have
/// independent values, less one for each held place and axis.
pub(super) fn hold(holds: &[OneHold], centre_of_rest: Position) -> Vec<LevelSteadiness> {
    let mut levels: Vec<f64> = holds.iter().map(|hold| hold.level).collect();
    crate::statistics::order::sort_numbers(&mut levels);
    levels.dedup_by(|next, before| (*next - *before).abs() < 1e-6);
    levels
        .into_iter()
        .map(|level| {
            let same: Vec<&OneHold> =
                holds.iter().filter(|hold| (hold.level - level).abs() < 1e-6).collect();
            steadiness(level, &same, centre_of_rest)
        })
        .collect()
}

fn steadiness(level: f64, holds: &[&OneHold], centre: Position) -> LevelSteadiness {
    let seconds: f64 = holds.iter().map(|hold| hold.path.seconds()).sum();
    let pooled = holds
        .iter()
        .map(|hold| hold.path.seconds() * variance_about_place(&hold.path))
        .sum::<f64>()
        / seconds;
    let distances: Vec<(f64, f64)> =
        holds.iter().flat_map(|hold| hold.path.distances(centre)).collect();
    let degrees_of_freedom = degrees_of_freedom(holds);
    let basis = Basis { seconds, repetitions: holds.len() };
    let deviation = if degrees_of_freedom < LEAST_DEGREES_OF_FREEDOM {
        let need = seconds * LEAST_DEGREES_OF_FREEDOM / degrees_of_freedom.max(0.5);
        Err(NotEnough::Seconds { have: seconds, need })
    } else {
        let deviation = libm::sqrt(pooled);
        let (low, high) = deviation_factors(degrees_of_freedom);
        Estimate::new(deviation, deviation * low, deviation * high, basis)
            .ok_or(NotEnough::DoesNotApply)
    };
    let at_gate =
        holds.iter().any(|hold| hold.path.pieces.iter().any(|piece| piece.at.radius() >= GATE));
    LevelSteadiness {
        level,
        radius: weighted::mean(&distances).unwrap_or(0.0),
        deviation,
        degrees_of_freedom,
        wander: Err(NotEnough::NothingRecorded),
        rhythmic: Err(NotEnough::NothingRecorded),
        at_gate,
    }
}

/// Independent values for the variance, both axes, less one for each held place.
fn degrees_of_freedom(holds: &[&OneHold]) -> f64 {
    let axis = |read: fn(&Position) -> f64| {
        let series: Vec<Vec<f64>> = holds
            .iter()
            .flat_map(|hold| hold.path.read_off(1.0 / 60.0))
            .map(|stretch| stretch.iter().map(read).collect())
            .collect();
        independent_of(&series).1 - holds.len() as f64
    };
    axis(|at| at.right).max(0.0) + axis(|at| at.up).max(0.0)
}
