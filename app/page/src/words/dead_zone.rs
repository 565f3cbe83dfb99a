//! What a dead zone rests on, covers, and needs of a host.

use super::number;
use fitting::suggest::FrequentMovements;

/// Fast movements that the dead zone covers because they cannot be told apart.
pub fn covers_frequent(covered: &FrequentMovements) -> String {
    format!(
        "This number is large because it also covers {} fast movements of {} to {}: they come too \
         often to be counted apart.",
        covered.count,
        number::bare_percent(covered.smallest),
        number::percent(covered.largest)
    )
}

/// The dead zone for a host that takes neither the centre nor the smoothing.
pub fn dead_zone_alone(radius: f64) -> String {
    format!("If what you plug it into takes only this one number, use {}.", number::percent(radius))
}
