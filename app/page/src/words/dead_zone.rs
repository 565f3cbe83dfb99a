//! What a dead zone rests on, covers, and needs of a host.

use super::number;
use fitting::measure::NotStationary;
use fitting::suggest::FrequentMovements;

/// Why a rest may not stand for the time after it, and what to do.
pub const fn not_stationary(why: NotStationary) -> &'static str {
    match why {
        NotStationary::Drift => {
            "Your resting place moved while you rested. Rest again at another moment of this visit."
        }
        NotStationary::PartsDiffer => {
            "You moved more at some times than at others. Rest again at another moment of this visit."
        }
        NotStationary::OneSided => {
            "Most large movements went to one side. Rest again at another moment of this visit."
        }
        NotStationary::FewStretches => {
            "You move so slowly that this rest shows too little. Rest again at another moment of this \
             visit."
        }
    }
}

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
