//! The smallest step between two values of a stick axis.

use super::SAME_VALUE;
use crate::estimate::NotEnough;
use crate::statistics::order::sort_numbers;
use crate::task::TaskRecord;
use crate::trace::FARTHEST;

/// The fewest different values of an axis from which its step is read.
const FEWEST_VALUES: usize = 8;
/// At least this share of the distances between neighbouring values must be one step: where
/// values lie thinly among those the axis can take, their smallest distances are several.
const ONE_STEP_SHARE: f64 = 0.1;
/// A distance within this share of the step is one step: whole counts of a system's own scale
/// round it up and down.
const STEP_SLACK: f64 = 0.1;

/// What a stick's step is taken for at most while it is not known, share of travel: that of 8 bits,
/// the coarsest in common use (common practice, no source).
const COARSE_STEP: f64 = 2.0 / 255.0;

/// Every value of one of the stick's axes, in order of time.
pub(in crate::measure) fn axis_values(
    record: &TaskRecord,
    which: usize,
) -> impl Iterator<Item = f64> + '_ {
    let pick = if which == 0 { record.axes.horizontal } else { record.axes.vertical };
    record
        .recording
        .samples
        .iter()
        .filter_map(move |sample| sample.axes.get(pick.index).copied())
        .filter(|value| value.is_finite() && value.abs() <= FARTHEST)
}

/// The different values of both axes, in rising order, each axis by itself.
fn different_values(records: &[TaskRecord]) -> [Vec<f64>; 2] {
    [0, 1].map(|which| {
        let mut values: Vec<f64> =
            records.iter().flat_map(|record| axis_values(record, which)).collect();
        sort_numbers(&mut values);
        values.dedup_by(|next, before| (*next - *before).abs() < SAME_VALUE);
        values
    })
}

/// The finest difference that intervals may claim, share of travel: the stick's step, or, while
/// that is not known, the smallest distance between two values so far, no more than a step of 8
/// bits.
pub(in crate::measure) fn resolution(records: &[TaskRecord], step: Result<f64, NotEnough>) -> f64 {
    step.unwrap_or_else(|_| {
        let values = different_values(records);
        let distances =
            values.iter().flat_map(|axis| axis.windows(2).map(|pair| pair[1] - pair[0]));
        distances.fold(COARSE_STEP, f64::min)
    })
}

/// The smallest step between two values of a stick axis, as the page is shown it: what a system
/// stretches, it stretches too. Of all distances between neighbouring values the one at 5 %, so
/// that a single odd value does not decide; among fewer than 20 the smallest.
///
/// Not enough while fewer than a tenth of the distances are one step: of an axis with many bits
/// a short recording visits few values, and the smallest distance among these is several steps.
pub(super) fn step(records: &[TaskRecord]) -> Result<f64, NotEnough> {
    let values = different_values(records);
    let have = values.iter().map(Vec::len).max().unwrap_or(0);
    if have == 0 {
        return Err(NotEnough::NothingRecorded);
    }
    if have < FEWEST_VALUES {
        return Err(NotEnough::Repetitions { have, need: FEWEST_VALUES });
    }
    let mut steps: Vec<f64> =
        values.iter().flat_map(|axis| axis.windows(2).map(|pair| pair[1] - pair[0])).collect();
    sort_numbers(&mut steps);
    let step = steps.get(steps.len() / 20).copied().ok_or(NotEnough::NothingRecorded)?;
    let single = steps.iter().filter(|other| (**other - step).abs() <= STEP_SLACK * step).count();
    if (single as f64) < ONE_STEP_SHARE * steps.len() as f64 {
        return Err(NotEnough::Repetitions { have, need: 2 * have });
    }
    Ok(step)
}
