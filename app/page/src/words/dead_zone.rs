//! What a dead zone rests on, covers, and needs of a host.

use super::number;
use fitting::Settings;
use fitting::measure::NotStationary;
use fitting::settings::Smoothing;
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

/// The smaller dead zone that is enough where the host applies the rest of the settings too; none
/// where it prints as no smaller.
pub fn dead_zone_with_all(radius: f64, settings: &Settings) -> Option<String> {
    let smooths = settings.smoothing != Smoothing::Off;
    let and = if smooths { " and the smoothing below" } else { "" };
    (number::bare_percent(radius) != number::bare_percent(settings.dead_zone)).then(|| {
        format!(
            "If what you plug it into also takes the resting place{and}, {} is enough.",
            number::percent(radius)
        )
    })
}

/// The dead zone counts on the rest of the settings; `alone` would be needed without, if any is enough.
pub fn counts_on_rest(alone: Option<f64>, settings: &Settings) -> String {
    let smooths = settings.smoothing != Smoothing::Off;
    let and = if smooths { " and the smoothing below" } else { "" };
    let otherwise = alone.map_or_else(
        || "Without that, no dead zone is large enough.".to_owned(),
        |alone| {
            let alone = number::percent(alone);
            format!("By itself it has to be {alone}, and that leaves too little to steer with.")
        },
    );
    format!("It holds only where the resting place{and} can be set too. {otherwise}")
}
