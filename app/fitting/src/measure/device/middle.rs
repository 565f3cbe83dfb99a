//! Whether something between stick and page hides movements around the middle.

use super::SAME_VALUE;
use super::step::axis_values;
use crate::measure::windows::settled_path;
use crate::statistics::order::sort_pairs;
use crate::task::{TaskKind, TaskRecord};
use crate::trace::Piece;

/// A jump over the middle must be at least this large to be called a hidden middle.
const LEAST_HIDDEN: f64 = 0.02;
/// How often the middle must have been left or entered before a jump is believed.
const FEWEST_CROSSINGS: usize = 6;
/// A rest that reads exactly the middle for this share of the time may be too still.
const OFTEN_STILL: f64 = 0.3;
/// It is, when no other place is held for even one part in this many of that time.
const FAR_OFTENER: f64 = 12.0;
/// Movement on one axis is told of while the other is this far out, share of travel.
const OUT: f64 = 0.1;
/// The values beside 0 are looked at in so many strips to each side, each as wide as a step, and
/// as one of 8 bits at least, share of travel.
const STRIPS: usize = 8;
const LEAST_STRIP: f64 = 2.0 / 255.0;
/// 0 is wide when so many times as much way is made there as in the strip with the most; the band
/// that was observed is 32 strips wide. A hand that goes very straight makes much of its way on one
/// code, and hardly any some codes off; fewer times will do where the outer strips have at least
/// this share of the inner ones.
const WIDER: f64 = 12.0;
const WIDER_AMONG_EVEN: f64 = 4.0;
const EVEN: f64 = 0.7;
/// Less way than this at 0 says nothing, shares of travel: one or two pushes out and back.
const LEAST_WAY: f64 = 0.5;
/// Between two reports no more than this is known to have been made there, share of travel.
const LONGEST_WAY: f64 = 0.25;

/// A band around the middle that values jump over: exactly 0 is read, and the nearest other
/// value is far from it although the middle was left or entered again and again.
pub(super) fn hidden_middle(records: &[TaskRecord], step: f64) -> Option<f64> {
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
/// and how far is unknown: the rest reads exactly the middle for much of the time and no other
/// place nearly as often, and on one axis more than one code reads 0.
///
/// A system that cuts a band out of the middle and stretches the rest (observed, Chromium 156 on
/// Linux: a sixteenth of the range to each side) leaves no jump, but what crosses the band reads 0
/// all the way. A still hand on a coarse stick that has a code for 0 reads 0 as well, and hides
/// nothing; so stillness alone says nothing, and nothing is said before the stick was moved.
pub(super) fn still_middle(records: &[TaskRecord], step: f64) -> bool {
    let rest = settled_path(records, TaskKind::QuietRest);
    let (in_middle, elsewhere): (Vec<Piece>, Vec<Piece>) =
        rest.pieces.iter().partition(|piece| piece.at.radius() < SAME_VALUE);
    let middle: f64 = in_middle.iter().map(|piece| piece.span.seconds()).sum();
    let next = longest_in_one_place(&elsewhere);
    let is_still =
        middle > 0.0 && middle >= OFTEN_STILL * rest.seconds() && middle >= FAR_OFTENER * next;
    is_still && [[0, 1], [1, 0]].into_iter().any(|axes| reads_wide_zero(records, axes, step))
}

/// Whether 0 on the first of two axes is much wider than the values beside it: while the other
/// one moves, out of its middle, far more of its way is made at 0 than at any value beside it.
///
/// The way is counted and not the time, so that stopping and resting say nothing. Somebody who
/// pushes straight along one axis stays near 0 on the other, but not on one code: a hand is off
/// by some degrees, which the values next to 0 show.
fn reads_wide_zero(records: &[TaskRecord], [own, other]: [usize; 2], step: f64) -> bool {
    let strip = step.max(LEAST_STRIP);
    let (mut at_zero, mut beside, mut seen) = (0.0, [0.0; STRIPS], [false; 2]);
    for record in records {
        let values = axis_values(record, own).zip(axis_values(record, other));
        let mut before: Option<(f64, f64)> = None;
        for now in values {
            let near = (0.5..=STRIPS as f64).contains(&(now.0.abs() / strip));
            if near {
                seen[usize::from(now.0 > 0.0)] = true;
            }
            let from = before.replace(now);
            let Some(from) = from.filter(|from| from.1.abs() >= OUT && now.1.abs() >= OUT) else {
                continue;
            };
            let way = 0.5 * (now.1 - from.1).abs().min(LONGEST_WAY);
            for value in [from.0, now.0] {
                if value.abs() < SAME_VALUE {
                    at_zero += way;
                } else if let Some(strip) =
                    beside.get_mut((value.abs() / strip).round().max(1.0) as usize - 1)
                {
                    *strip += way;
                }
            }
        }
    }
    let (mut within, mut densest) = (0.0, 0.0_f64);
    for (index, way) in beside.iter().enumerate() {
        within += way;
        densest = densest.max(within / (2.0 * (index + 1) as f64));
    }
    let (inner, outer) = beside.split_at(STRIPS / 2);
    let is_even = outer.iter().sum::<f64>() >= EVEN * inner.iter().sum::<f64>();
    let wider = if is_even { WIDER_AMONG_EVEN } else { WIDER };
    seen == [true; 2] && at_zero >= LEAST_WAY && at_zero >= wider * densest
}
