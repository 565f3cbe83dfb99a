//! What stick, system and browser do by themselves.

use super::DeviceMeasures;
use super::rest::independent_of;
use super::windows::settled_path;
use crate::estimate::{Basis, Estimate, Measured, NotEnough};
use crate::statistics::distributions::deviation_factors;
use crate::statistics::order::{sort_numbers, sort_pairs};
use crate::statistics::weighted;
use crate::task::{TaskKind, TaskRecord};
use crate::trace::{FARTHEST, Piece};
use crate::{Position, Span, Trace};

/// The least hands off from which anything is said, seconds.
const LEAST_HANDS_OFF_SECONDS: f64 = 3.0;
/// Values this close are the same: single precision on the way leaves such differences.
const SAME_VALUE: f64 = 1e-6;
/// The fewest different values of an axis from which its step is read.
const FEWEST_VALUES: usize = 8;
/// A jump over the middle must be at least this large to be called a hidden middle.
const LEAST_HIDDEN: f64 = 0.02;
/// How often the middle must have been left or entered before a jump is believed.
const FEWEST_CROSSINGS: usize = 6;
/// A rest that reads exactly the middle for this share of the time may be too still.
const OFTEN_STILL: f64 = 0.3;
/// It is, when no other place is held for even one part in this many of that time.
const FAR_OFTENER: f64 = 12.0;

/// The standard deviation of an evenly spread rounding error of one step: step / sqrt(12)
/// (Bennett, *Bell System Technical Journal* 27 (1948) 446, from memory).
#[must_use]
pub fn quantisation_deviation(step: f64) -> f64 {
    step / libm::sqrt(12.0)
}

/// Measures stick, system and browser from all records.
pub(super) fn device(records: &[TaskRecord]) -> DeviceMeasures {
    let hands_off = settled_path(records, TaskKind::HandsOff);
    let step = step(records);
    let gaps: Vec<Span> = records.iter().flat_map(gaps_that_count).collect();
    DeviceMeasures {
        centre: centre(&hands_off),
        noise: noise(&hands_off, step.unwrap_or(0.0)),
        step,
        bits: step.map(|step| libm::log2(2.0 / step + 1.0)),
        hidden_middle: hidden_middle(records, step.unwrap_or(0.0)),
        still_middle: still_middle(records),
        fastest_change_seconds: records
            .iter()
            .filter_map(|record| record.recording.fastest_change_seconds())
            .filter(|seconds| seconds.is_finite())
            .min_by(f64::total_cmp),
        gaps: gaps.len(),
        gap_seconds: gaps.iter().map(|gap| gap.seconds()).sum(),
        drift_per_minute: Err(NotEnough::NothingRecorded),
        sag: Err(NotEnough::NothingRecorded),
        gate: Err(NotEnough::NothingRecorded),
        early_full: None,
        odd_axes: Vec::new(),
    }
}

/// Gaps in the polling outside the pauses.
fn gaps_that_count(record: &TaskRecord) -> Vec<Span> {
    record
        .recording
        .gaps()
        .into_iter()
        .filter(|gap| gap.seconds().is_finite())
        .flat_map(|gap| super::windows::without_pauses(gap, &record.pauses))
        .filter(|gap| gap.seconds() > crate::recording::GAP_SECONDS)
        .collect()
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
    let stretches = path.read_off(1.0 / 60.0);
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

/// Every value of one of the stick's axes, in order of time.
fn axis_values(record: &TaskRecord, which: usize) -> impl Iterator<Item = f64> + '_ {
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

/// The smallest step seen between two values of a stick axis. Of all distances between
/// neighbouring values the one at 5 %, so that a single odd value does not decide; among fewer
/// than 20 the smallest.
fn step(records: &[TaskRecord]) -> Result<f64, NotEnough> {
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
    steps.get(steps.len() / 20).copied().ok_or(NotEnough::NothingRecorded)
}

/// A band around the middle that values jump over: exactly 0 is read, and the nearest other
/// value is far from it although the middle was left or entered again and again.
fn hidden_middle(records: &[TaskRecord], step: f64) -> Option<f64> {
    [0, 1].iter().filter_map(|&which| jump_over_middle(records, which, step)).max_by(f64::total_cmp)
}

fn jump_over_middle(records: &[TaskRecord], which: usize, step: f64) -> Option<f64> {
    let mut crossings = 0;
    let mut nearest = f64::INFINITY;
    for record in records {
        let mut before: Option<bool> = None;
        for value in axis_values(record, which) {
            let middle = value.abs() < SAME_VALUE;
            if !middle {
                nearest = nearest.min(value.abs());
            }
            crossings += usize::from(before.is_some_and(|before| before != middle));
            before = Some(middle);
        }
    }
    let far = LEAST_HIDDEN.max(4.0 * step);
    (crossings >= FEWEST_CROSSINGS && nearest.is_finite() && nearest > far).then_some(nearest)
}

/// The most seconds that any one place is held in all.
fn longest_in_one_place(pieces: &[Piece]) -> f64 {
    let same = |one: &(f64, f64), other: &(f64, f64)| one.0.to_bits() == other.0.to_bits();
    let mut longest = 0.0_f64;
    let mut by_right: Vec<(f64, f64)> =
        pieces.iter().enumerate().map(|(index, piece)| (piece.at.right, index as f64)).collect();
    sort_pairs(&mut by_right);
    for column in by_right.chunk_by(same) {
        let mut by_up: Vec<(f64, f64)> =
            column.iter().map(|(_, index)| (pieces[*index as usize].at.up, *index)).collect();
        sort_pairs(&mut by_up);
        for place in by_up.chunk_by(same) {
            let held = place.iter().map(|(_, index)| pieces[*index as usize].span.seconds()).sum();
            longest = longest.max(held);
        }
    }
    longest
}

/// Whether something between stick and page seems to hide small movements around the middle,
/// and how far is unknown: the rest reads exactly the middle for much of the time, and no other
/// place nearly as often.
///
/// A system that cuts a band out of the middle and stretches the rest (observed, Chromium 156 on
/// Linux: a sixteenth of the range to each side) leaves no jump, so only the stillness shows it.
/// Most plain sticks cannot even read 0: an even number of codes has no middle one (W3C Gamepad,
/// normalised axis values). One that can shares its rest between the middle and the codes beside
/// it.
fn still_middle(records: &[TaskRecord]) -> bool {
    let rest = settled_path(records, TaskKind::QuietRest);
    let (in_middle, elsewhere): (Vec<Piece>, Vec<Piece>) =
        rest.pieces.iter().partition(|piece| piece.at.radius() < SAME_VALUE);
    let middle: f64 = in_middle.iter().map(|piece| piece.span.seconds()).sum();
    let next = longest_in_one_place(&elsewhere);
    middle > 0.0 && middle >= OFTEN_STILL * rest.seconds() && middle >= FAR_OFTENER * next
}
