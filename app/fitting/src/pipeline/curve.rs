//! The sensitivity curve.

use crate::settings::{Curve, MOST_CURVE_POINTS};

/// A curve brought into range: the exponent into 0.2..=5 (1 where not finite); points that are
/// not finite, do not rise, are less than all the way at the end, or are too many are left out.
pub(crate) fn in_range(curve: &Curve) -> Curve {
    match curve {
        Curve::Exponent(exponent) => {
            Curve::Exponent(if exponent.is_finite() { exponent.clamp(0.2, 5.0) } else { 1.0 })
        }
        Curve::Points(points) => Curve::Points(rising(points)),
        Curve::Linear => Curve::Linear,
    }
}

/// The points that a curve may have: inside 0..=1, input rising, output not falling, after
/// (0, 0), at most [`MOST_CURVE_POINTS`]; the one of all the way in is all the way out.
fn rising(points: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut kept: Vec<(f64, f64)> = Vec::with_capacity(points.len().min(MOST_CURVE_POINTS));
    for &(x, y) in points {
        let before = kept.last().copied().unwrap_or((0.0, 0.0));
        // What is not a number compares as false and is left out too.
        let follows = x > before.0 && x <= 1.0 && y >= before.1 && y <= 1.0;
        if follows && keeps_ends((x, y)) && kept.len() < MOST_CURVE_POINTS {
            kept.push((x, y));
        }
    }
    kept
}

/// Whether a point leaves a curve its ends: no push gives nothing, a full one is all the way.
pub(crate) fn keeps_ends((input, output): (f64, f64)) -> bool {
    (input > 0.0 || output <= 0.0) && (input < 1.0 || output >= 1.0)
}

/// The output of a curve for an input, both 0..=1. The points of a curve must be in order.
#[must_use]
pub fn curve_at(curve: &Curve, input: f64) -> f64 {
    match curve {
        Curve::Linear => input,
        Curve::Exponent(exponent) => libm::pow(input, *exponent),
        Curve::Points(points) => {
            let mut before = (0.0, 0.0);
            for &(x, y) in points {
                if input <= x {
                    let width = x - before.0;
                    let share = if width > 0.0 { (input - before.0) / width } else { 1.0 };
                    return (before.1 + share * (y - before.1)).clamp(0.0, 1.0);
                }
                before = (x, y);
            }
            // Past the last point: straight on to (1, 1).
            let width = 1.0 - before.0;
            let share = if width > 0.0 { (input - before.0) / width } else { 1.0 };
            (before.1 + share * (1.0 - before.1)).clamp(0.0, 1.0)
        }
    }
}
