//! The one piece of code that applies settings to a position.

use crate::Position;
use crate::settings::{Curve, Settings, Shape};

/// Settings made ready to apply: the same code in the live view, the practice scenes and the
/// before-and-after figures.
///
/// Order: centre, dead zone with full throw, curve. The output is 0..=1 in radius for the
/// radial shape, and 0..=1 on each axis for the other.
#[derive(Clone, Debug, PartialEq)]
pub struct Pipeline {
    centre: Position,
    dead_zone: f64,
    full_throw: f64,
    shape: Shape,
    curve: Curve,
}

impl Pipeline {
    /// Makes settings ready. Settings out of range are brought into it: `dead_zone` into
    /// 0..=0.9, `full_throw` to at least 0.01 above it and at most 1.5, the exponent into
    /// 0.2..=5; what is not finite becomes the default.
    #[must_use]
    pub fn new(settings: &Settings) -> Self {
        let finite = |value: f64, otherwise: f64| if value.is_finite() { value } else { otherwise };
        let dead_zone = finite(settings.dead_zone, 0.0).clamp(0.0, 0.9);
        let full_throw = finite(settings.full_throw, 1.0).clamp(dead_zone + 0.01, 1.5);
        let curve = match &settings.curve {
            Curve::Exponent(exponent) => Curve::Exponent(finite(*exponent, 1.0).clamp(0.2, 5.0)),
            other => other.clone(),
        };
        Self {
            centre: Position::new(
                finite(settings.centre.right, 0.0),
                finite(settings.centre.up, 0.0),
            ),
            dead_zone,
            full_throw,
            shape: settings.shape,
            curve,
        }
    }

    /// What the settings make of a position of the stick. A position that is not finite counts
    /// as the centre.
    #[must_use]
    pub fn apply(&self, position: Position) -> Position {
        let push = position - self.centre;
        if !(push.right.is_finite() && push.up.is_finite()) {
            return Position::ORIGIN;
        }
        match self.shape {
            Shape::Radial => {
                let radius = push.radius();
                if radius <= self.dead_zone {
                    return Position::ORIGIN;
                }
                push * (self.answer(radius) / radius)
            }
            Shape::PerAxis => Position {
                right: self.answer(push.right.abs()).copysign(push.right),
                up: self.answer(push.up.abs()).copysign(push.up),
            },
        }
    }

    /// The output for a push of this share of travel, 0..=1: not falling, 0 up to the dead
    /// zone, 1 from full throw on.
    #[must_use]
    pub fn answer(&self, push: f64) -> f64 {
        let share = ((push - self.dead_zone) / (self.full_throw - self.dead_zone)).clamp(0.0, 1.0);
        curve_at(&self.curve, share)
    }
}

/// The output of a curve for an input, both 0..=1.
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
