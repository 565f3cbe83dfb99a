//! Axes that do something odd.

use super::SAME_VALUE;
use crate::measure::{AxisOddity, OddAxis};
use crate::sample::MOST_CONTROLS;
use crate::stick_kind::Moves;
use crate::task::TaskRecord;

/// The stick has moved when one of its axes covered this much, shares of travel; what did
/// nothing meanwhile is dead.
const STICK_MOVED: f64 = 0.5;
/// An axis has moved when it covered this much, shares of travel.
const MOVED: f64 = 0.2;
/// An axis is near its middle inside this, share of travel.
const NEAR_MIDDLE: f64 = 0.25;
/// An axis that stands beyond this is at one end of its range, share of travel.
const AT_END: f64 = 0.99;
/// Beyond this no axis stands: it is a hat switch at rest, which a browser shows as an axis
/// outside −1..=1 (observed, Chromium 156 on Linux: 3.29).
const HAT_AT_REST: f64 = 1.05;

/// What one axis was seen to do over all records.
#[derive(Clone, Copy)]
struct Seen {
    least: f64,
    most: f64,
    nearest: f64,
}

/// Every axis of the device but the stick's, and those of the stick's own that do nothing.
/// Nothing is said before the stick moved over a quarter of its whole range.
pub(super) fn odd_axes(records: &[TaskRecord]) -> Vec<OddAxis> {
    let mut seen: Vec<Option<Seen>> = Vec::new();
    for sample in records.iter().flat_map(|record| &record.recording.samples) {
        let kept = sample.axes.len().min(MOST_CONTROLS);
        if seen.len() < kept {
            seen.resize(kept, None);
        }
        for (seen, value) in seen.iter_mut().zip(&sample.axes) {
            if !value.is_finite() {
                continue;
            }
            let before = seen.unwrap_or(Seen { least: *value, most: *value, nearest: f64::MAX });
            *seen = Some(Seen {
                least: before.least.min(*value),
                most: before.most.max(*value),
                nearest: before.nearest.min(value.abs()),
            });
        }
    }
    let Some(last) = records.last() else { return Vec::new() };
    let own = |axis: usize| axis == last.axes.horizontal.index || axis == last.axes.vertical.index;
    let covers = |seen: &Seen| seen.most - seen.least;
    let stick_moved = seen
        .iter()
        .enumerate()
        .any(|(axis, seen)| own(axis) && seen.is_some_and(|seen| covers(&seen) >= STICK_MOVED));
    if !stick_moved {
        return Vec::new();
    }
    let two_ways = last.known.kind.moves != Moves::OneWay;
    let centres = last.known.kind.centres_itself;
    let mut odd = Vec::new();
    for (axis, seen) in seen.iter().enumerate() {
        let Some(seen) = seen else { continue };
        let still = covers(seen) < SAME_VALUE;
        let what = if seen.most.abs().max(seen.least.abs()) > HAT_AT_REST {
            continue;
        } else if still && seen.nearest >= AT_END {
            AxisOddity::Stuck
        } else if still {
            AxisOddity::Dead
        } else if covers(seen) >= MOVED
            && seen.nearest > NEAR_MIDDLE
            && (!own(axis) || two_ways && centres)
        {
            AxisOddity::NeverCentres
        } else {
            continue;
        };
        odd.push(OddAxis { axis, what });
    }
    odd
}
