//! What a dead zone rests on, covers, and needs of a host.

use super::number;

/// The dead zone for a host that takes neither the centre nor the smoothing.
pub fn dead_zone_alone(radius: f64) -> String {
    format!("If what you plug it into takes only this one number, use {}.", number::percent(radius))
}
