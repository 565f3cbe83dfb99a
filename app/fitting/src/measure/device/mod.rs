//! What stick, system and browser do by themselves.

mod axes;
mod drift;
pub mod gate;
mod middle;
mod pace;
pub(super) mod step;

#[cfg(test)]
mod middle_tests;
#[cfg(test)]
mod tests;

use super::DeviceMeasures;
use super::rest::independent_of;
use super::windows::settled_path;
use crate::estimate::{Basis, Estimate, Measured, NotEnough, StickTrait};
use crate::statistics::distributions::deviation_factors;
use crate::statistics::weighted;
use crate::task::{TaskKind, TaskRecord};
use crate::{Position, Span, StickKind, Trace};

/// The least hands off from which anything is said, seconds.
const LEAST_HANDS_OFF_SECONDS: f64 = 3.0;
/// Values this close are the same: single precision on the way leaves such differences.
pub(super) const SAME_VALUE: f64 = 1e-6;

/// The standard deviation of an evenly spread rounding error of one step: step / sqrt(12)
/// (Bennett, *Bell System Technical Journal* 27 (1948) 446, from memory).
#[must_use]
pub fn quantisation_deviation(step: f64) -> f64 {
    step / libm::sqrt(12.0)
}

/// Measures stick, system and browser from all records.
pub(super) fn device(records: &[TaskRecord]) -> DeviceMeasures {
    let hands_off = settled_path(records, TaskKind::HandsOff);
    let step = step::step(records);
    let one_step = step.unwrap_or(0.0);
    let resolution = step::resolution(records, step);
    let gaps: Vec<Span> = records.iter().flat_map(pace::gaps_that_count).collect();
    let noise = noise(&hands_off, resolution);
    let hidden_middle = middle::hidden_middle(records, one_step);
    let still_middle = middle::still_middle(records, one_step);
    let touched = gate::touched(records, one_step, noise.map_or(0.0, |noise| noise.value));
    DeviceMeasures {
        centre: centre(&hands_off),
        noise,
        step,
        bits: step.map(|step| libm::log2(2.0 / step + 1.0)),
        hidden_middle,
        still_middle,
        fastest_change_seconds: pace::fastest_change_seconds(records),
        gaps: gaps.len(),
        gap_seconds: gaps.iter().map(|gap| gap.seconds()).sum(),
        drift_per_minute: drift::drift_per_minute(records, resolution),
        sag: drift::sag(records, resolution),
        gate: of_kind(gate::shape(&touched), records),
        early_full: gate::early_full(&touched, hidden_middle.is_some() || still_middle),
        odd_axes: axes::odd_axes(records),
    }
}

/// The shape of an opening, where the stick has one: a force stick hardly moves, and on one line
/// there is no shape.
fn of_kind<T>(shape: Result<T, NotEnough>, records: &[TaskRecord]) -> Result<T, NotEnough> {
    let kind = records.last().map_or_else(StickKind::default, |record| record.known.kind);
    let lacks = if kind.force { Some(StickTrait::Force) } else { kind.lacks_two_axes() };
    lacks.map_or(shape, |lacks| Err(NotEnough::NotFor(lacks)))
}

fn long_enough(path: &Trace) -> Result<f64, NotEnough> {
    let have = path.seconds();
    if path.is_empty() {
        Err(NotEnough::NothingRecorded)
    } else if have < LEAST_HANDS_OFF_SECONDS {
        Err(NotEnough::Seconds { have, need: LEAST_HANDS_OFF_SECONDS })
    } else {
        Ok(have)
    }
}

fn centre(path: &Trace) -> Result<Position, NotEnough> {
    long_enough(path)?;
    path.median().ok_or(NotEnough::NothingRecorded)
}

/// Spread of the untouched stick, both axes pooled, with a chi-square interval on as many
/// degrees of freedom as the path holds independent values. Below the spread of the rounding
/// error nothing can be told: value and upper end are at least that.
fn noise(path: &Trace, step: f64) -> Measured {
    let seconds = long_enough(path)?;
    // As often as it changes, so that a fast stick's many values count.
    let often = (path.seconds() / path.pieces.len().max(1) as f64).clamp(0.002, 1.0 / 60.0);
    let stretches = path.read_off(often);
    let axis = |read: fn(&Position) -> f64| {
        let held: Vec<(f64, f64)> =
            path.pieces.iter().map(|piece| (read(&piece.at), piece.span.seconds())).collect();
        let series: Vec<Vec<f64>> =
            stretches.iter().map(|stretch| stretch.iter().map(read).collect()).collect();
        (weighted::variance(&held).unwrap_or(0.0), independent_of(&series).1)
    };
    let (right, up) = (axis(|at| at.right), axis(|at| at.up));
    let spread = libm::sqrt(0.5 * (right.0 + up.0));
    let (low, high) = deviation_factors((right.1 + up.1 - 2.0).max(1.0));
    let floor = quantisation_deviation(step);
    let basis = Basis { seconds, repetitions: 0 };
    Estimate::new(spread.max(floor), spread * low, (spread * high).max(floor), basis)
        .ok_or(NotEnough::DoesNotApply)
}
