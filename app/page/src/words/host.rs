//! Settings in the numbers that hosts take.

use super::number;
use fitting::Position;

/// Numbers for a host.
pub const HOST_TITLE: &str = "To type into what you use";
/// Layers add up.
pub const HOST_TEXT: &str = "Stick, hub, host and game may each have a dead zone of their own, and \
    they add up. Set these in one place, and the others to nothing where you can.";
/// What of these a chosen host takes: some, or none at all.
pub const fn taken(any: bool) -> &'static str {
    if any {
        "Only what the chosen host takes is listed here. You have to do without the rest."
    } else {
        "The chosen host takes none of these numbers. Set them in the stick, a hub or the game."
    }
}
/// Radial.
pub const HOST_RADIAL: &str = "Dead zone, round (one radius)";
/// Per axis.
pub const HOST_PER_AXIS: &str = "Dead zone, each axis by itself";
/// Why it differs.
pub const HOST_PER_AXIS_HELP: &str = "the same number on each axis ignores a square, which \
    is larger in the corners";
/// Full throw.
pub const HOST_FULL: &str = "Full throw (outer limit)";
/// One number.
pub const HOST_EXPONENT: &str = "Sensitivity as one number";
/// What it means.
pub fn host_exponent_help(error: f64) -> String {
    format!(
        "output is the push raised to this; above 1 gentler near the centre; differs from the \
         curve by at most {}",
        number::percent(error)
    )
}
/// A table of points.
pub const HOST_POINTS: &str = "Sensitivity as points";
/// Push.
pub const HOST_INPUT: &str = "Push";
/// Centre.
pub const HOST_CENTRE: &str = "Resting place (centre)";
/// Where it is, beside a dead zone that counts on it.
pub fn centre(at: Position) -> String {
    let place = super::stick::position(at.right, at.up);
    format!("{place}. The dead zone holds only where this can be set too.")
}
/// Shape.
pub const SHAPE: &str = "How the host lays the dead zone";
/// Shape.
pub const SHAPE_RADIAL: &str = "round, one radius";
/// Shape.
pub const SHAPE_PER_AXIS: &str = "each axis by itself";
