//! The one piece of code that applies settings to a position.

use crate::Position;
use crate::settings::{Curve, MOST_CURVE_POINTS, Settings, Shape};

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
    /// 0.2..=5; what is not finite becomes the default. Points of a curve that are not finite,
    /// do not rise, or are too many are left out.
    #[must_use]
    pub fn new(settings: &Settings) -> Self {
        let finite = |value: f64, otherwise: f64| if value.is_finite() { value } else { otherwise };
        let dead_zone = finite(settings.dead_zone, 0.0).clamp(0.0, 0.9);
        let full_throw = finite(settings.full_throw, 1.0).clamp(dead_zone + 0.01, 1.5);
        let curve = match &settings.curve {
            Curve::Exponent(exponent) => Curve::Exponent(finite(*exponent, 1.0).clamp(0.2, 5.0)),
            Curve::Points(points) => Curve::Points(rising(points)),
            Curve::Linear => Curve::Linear,
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

    /// The dead zone as it is applied, 0..=0.9.
    #[must_use]
    pub fn dead_zone(&self) -> f64 {
        self.dead_zone
    }

    /// The full throw as it is applied, above the dead zone, at most 1.5.
    #[must_use]
    pub fn full_throw(&self) -> f64 {
        self.full_throw
    }

    /// The centre as it is applied.
    #[must_use]
    pub fn centre(&self) -> Position {
        self.centre
    }

    /// The curve as it is applied.
    #[must_use]
    pub fn curve(&self) -> &Curve {
        &self.curve
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

/// The points that a curve may have: inside 0..=1, input rising, output not falling, after
/// (0, 0), at most [`MOST_CURVE_POINTS`].
fn rising(points: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut kept: Vec<(f64, f64)> = Vec::with_capacity(points.len().min(MOST_CURVE_POINTS));
    for &(x, y) in points {
        let before = kept.last().copied().unwrap_or((0.0, 0.0));
        // What is not a number compares as false and is left out too.
        if x > before.0 && x <= 1.0 && y >= before.1 && y <= 1.0 && kept.len() < MOST_CURVE_POINTS {
            kept.push((x, y));
        }
    }
    kept
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

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::{Just, Strategy, any, prop_assert, prop_oneof, proptest};

    fn curves() -> impl Strategy<Value = Curve> {
        let points = proptest::collection::vec((0.0..1.0_f64, 0.0..1.0_f64), 0..20);
        prop_oneof![
            Just(Curve::Linear),
            (0.1..6.0_f64).prop_map(Curve::Exponent),
            points.prop_map(Curve::Points),
        ]
    }

    fn settings() -> impl Strategy<Value = Settings> {
        let shape = prop_oneof![Just(Shape::Radial), Just(Shape::PerAxis)];
        ((-0.3..0.3_f64), (-0.3..0.3_f64), 0.0..0.9_f64, 0.0..1.5_f64, shape, curves()).prop_map(
            |(right, up, dead_zone, full_throw, shape, curve)| Settings {
                centre: Position::new(right, up),
                dead_zone,
                full_throw,
                shape,
                curve,
                ..Settings::default()
            },
        )
    }

    proptest! {
            #[test]
            fn nothing_at_the_centre_and_inside_the_dead_zone(settings in settings(), angle in 0.0..360.0_f64) {
                let pipeline = Pipeline::new(&settings);
                let inside = settings.centre + Position::polar(0.999 * settings.dead_zone, angle);
                prop_assert!(pipeline.apply(settings.centre).radius() == 0.0);
                prop_assert!(pipeline.apply(inside).radius() == 0.0);
            }

            #[test]
            fn a_larger_push_never_gives_less(settings in settings(), angle in 0.0..360.0_f64, one in 0.0..1.5_f64, two in 0.0..1.5_f64) {
                let pipeline = Pipeline::new(&settings);
                let out = |push: f64| pipeline.apply(settings.centre + Position::polar(push, angle)).radius();
                prop_assert!(out(one.min(two)) <= out(one.max(two)) + 1e-12);
            }

            #[test]
            fn the_radial_shape_keeps_the_direction(settings in settings(), angle in -180.0..180.0_f64, push in 0.0..1.5_f64) {
                let settings = Settings { shape: Shape::Radial, ..settings };
                let out = Pipeline::new(&settings).apply(settings.centre + Position::polar(push, angle));
                if out.radius() > 1e-9 {
                    prop_assert!(crate::position::fold_degrees(out.degrees() - angle).abs() < 1e-6);
                }
            }

            #[test]
            fn the_output_is_bounded(settings in settings(), right in any::<f64>(), up in any::<f64>()) {
                let out = Pipeline::new(&settings).apply(Position::new(right, up));
                match settings.shape {
                    Shape::Radial => prop_assert!(out.radius() <= 1.0 + 1e-12),
                    Shape::PerAxis => prop_assert!(out.right.abs() <= 1.0 && out.up.abs() <= 1.0),
                }
            }

            #[test]
            fn senseless_settings_are_brought_into_range(numbers in proptest::collection::vec(any::<f64>(), 8), right in -2.0..2.0_f64) {
                let settings = Settings {
                    centre: Position::new(numbers[0], numbers[1]),
                    dead_zone: numbers[2],
                    full_throw: numbers[3],
                    shape: Shape::PerAxis,
                    curve: Curve::Points(vec![(numbers[4], numbers[5]), (numbers[6], numbers[7])]),
    ..Settings::default()
                };
                let out = Pipeline::new(&settings).apply(Position::new(right, 0.5));
                prop_assert!(out.right.abs() <= 1.0 && out.up.abs() <= 1.0);
            }
        }
}
