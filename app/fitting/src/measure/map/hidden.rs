//! Pushes behind a hidden middle: a system that cuts a band out of the middle of each axis and
//! stretches the rest bends every slanted push towards the axes.

use crate::Position;
use crate::estimate::Estimate;
use crate::position::fold_degrees;

/// Share of travel to each side of the middle that reads 0, and before each end that reads all the
/// way (observed, Chromium 156 on Linux: a sixteenth of the whole range each). Other systems differ, and
/// nothing that is seen here says by how much.
pub const OBSERVED_CUT: f64 = 0.125;

/// Where a push that ends at `shown` may have ended truly, if the system behaves as observed. An axis
/// that reads 0 may have been anywhere in its band; it is taken at 0.
pub(super) fn unbent(shown: Position) -> Position {
    let axis = |value: f64| {
        if value == 0.0 {
            0.0
        } else {
            (OBSERVED_CUT + value.abs() * (1.0 - 2.0 * OBSERVED_CUT)).copysign(value)
        }
    };
    Position::new(axis(shown.right), axis(shown.up))
}

/// How far a push that ends at `unbent` may be turned and still read 0 on one axis, degrees.
pub(super) fn unseen_degrees(unbent: Position) -> f64 {
    let reads_zero = unbent.right == 0.0 || unbent.up == 0.0;
    if reads_zero {
        libm::atan2(OBSERVED_CUT, unbent.radius().max(OBSERVED_CUT)).to_degrees()
    } else {
        0.0
    }
}

/// What can be said of a turn behind a hidden middle: somewhere between what is shown and what is so if
/// the system behaves as observed, with the intervals of both, and `unseen_degrees` more each way: the
/// mean of [`unseen_degrees`] over all pushes.
pub(super) fn turn(shown: &Estimate, unbent: &Estimate, unseen_degrees: f64) -> Option<Estimate> {
    let off = fold_degrees(unbent.value - shown.value);
    let low = f64::min(shown.low, shown.value + off - (unbent.value - unbent.low)) - unseen_degrees;
    let high =
        f64::max(shown.high, shown.value + off + (unbent.high - unbent.value)) + unseen_degrees;
    Estimate::new(shown.value + off, low.max(-180.0), high.min(180.0), unbent.basis)
}
