//! The settings a person types into whatever they use.

use crate::Position;
use serde::{Deserialize, Serialize};

/// The most points a sensitivity curve may have.
pub const MOST_CURVE_POINTS: usize = 16;

/// How a dead zone is laid over the two axes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Shape {
    /// One disc around the centre; the direction of a push is kept.
    Radial,
    /// Each axis by itself.
    PerAxis,
}

/// How far the output answers to a given push, both from 0 to 1.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Curve {
    /// The output is the input.
    Linear,
    /// The output is the input raised to this exponent: above 1 gentler near the centre.
    /// Bounded to 0.2..=5.
    Exponent(f64),
    /// Straight lines between points `(input, output)`, from (0, 0) to (1, 1), both rising.
    /// At most [`MOST_CURVE_POINTS`].
    Points(Vec<(f64, f64)>),
}

/// Settings for one layer (stick, hub, host or game), in the order in which they are applied:
/// centre, dead zone with full throw, curve.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Settings {
    /// Where the stick comes to rest: taken off before anything else. Shares of travel.
    pub centre: Position,
    /// Movement inside this share of travel is ignored, 0..=0.9.
    pub dead_zone: f64,
    /// A push of this share of travel counts as all the way, above `dead_zone`, at most 1.5.
    pub full_throw: f64,
    /// How dead zone and full throw are laid over the axes.
    pub shape: Shape,
    /// The sensitivity curve between them.
    pub curve: Curve,
}

impl Default for Settings {
    /// The stick as it is: nothing ignored, nothing stretched.
    fn default() -> Self {
        Self {
            centre: Position::ORIGIN,
            dead_zone: 0.0,
            full_throw: 1.0,
            shape: Shape::Radial,
            curve: Curve::Linear,
        }
    }
}
