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
/// and how far is unknown: the rest reads exactly the middle for much of the time, and no other
/// place nearly as often.
///
/// A system that cuts a band out of the middle and stretches the rest (observed, Chromium 156 on
/// Linux: a sixteenth of the range to each side) leaves no jump, so only the stillness shows it.
/// Most plain sticks cannot even read 0: an even number of codes has no middle one (W3C Gamepad,
/// normalised axis values). One that can shares its rest between the middle and the codes beside
/// it.
pub(super) fn still_middle(records: &[TaskRecord]) -> bool {
    let rest = settled_path(records, TaskKind::QuietRest);
    let (in_middle, elsewhere): (Vec<Piece>, Vec<Piece>) =
        rest.pieces.iter().partition(|piece| piece.at.radius() < SAME_VALUE);
    let middle: f64 = in_middle.iter().map(|piece| piece.span.seconds()).sum();
    let next = longest_in_one_place(&elsewhere);
    middle > 0.0 && middle >= OFTEN_STILL * rest.seconds() && middle >= FAR_OFTENER * next
}
