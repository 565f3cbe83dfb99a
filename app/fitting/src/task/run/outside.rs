//! What comes from outside is brought into range.

use crate::Position;
use crate::sample::MOST_CONTROLS;
use crate::task::{Known, KnownReach};

/// An axis value beyond this is no position of any stick; a hat at rest may lie a little outside
/// −1..=1.
pub(super) const LARGEST_AXIS: f64 = 8.0;

/// Fills `kept` with the values of `fresh`: at most as many as are kept of a device, inside the
/// bounds; what is not finite keeps the value before, or 0.
pub(super) fn refill(kept: &mut Vec<f64>, fresh: &[f64], low: f64, high: f64) {
    kept.resize(fresh.len().min(MOST_CONTROLS), 0.0);
    for (kept, fresh) in kept.iter_mut().zip(fresh) {
        if fresh.is_finite() {
            *kept = fresh.clamp(low, high);
        }
    }
}

/// Brings what is known into range.
pub(super) fn sound(known: Known) -> Known {
    let otherwise = Known::default();
    let is_place = |at: Position| at.radius().is_finite() && at.radius() <= 2.0 * LARGEST_AXIS;
    let reach: Vec<KnownReach> =
        known.reach.into_iter().filter(|reach| is_place(reach.end)).collect();
    Known {
        centre: if is_place(known.centre) { known.centre } else { otherwise.centre },
        quiet_radius: if known.quiet_radius.is_finite() {
            known.quiet_radius.clamp(0.02, 0.6)
        } else {
            otherwise.quiet_radius
        },
        reach,
        kind: known.kind,
    }
}
