//! What to change first if it goes wrong.

use crate::Settings;
use crate::settings::Curve;
use crate::suggest::layers::for_path;
use crate::suggest::own_game::{Change, after_play};
use crate::visit::{Felt, OwnGame, Path};

/// One number to change, as it stands where it is typed in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FirstChange {
    /// What is not right.
    pub felt: Felt,
    /// Which number.
    pub number: TypedNumber,
    /// As it is.
    pub from: f64,
    /// As it is to be.
    pub to: f64,
}

/// A number that is typed in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TypedNumber {
    /// Dead zone, share as it comes in there.
    DeadZone,
    /// Full throw, share as it comes in there.
    FullThrow,
    /// Sensitivity as one number.
    Exponent,
}

/// One step for each thing that is often not right, in the numbers of the layer in hand. A step
/// that changes nothing there is left out: another layer holds it back. So is one of the dead zone
/// where there is none to type in.
#[must_use]
pub fn first_changes(settings: &Settings, has_dead_zone: bool, path: &Path) -> Vec<FirstChange> {
    // Thresholds of switches take the place of these numbers.
    if settings.switches.is_some() {
        return Vec::new();
    }
    let layer = path.in_hand().and_then(|place| path.layers.get(place));
    let step = layer.and_then(|layer| layer.step);
    let felt = [
        Felt::MovesByItself,
        Felt::StartsLate,
        Felt::TooFar,
        Felt::AllAtOnce,
        Felt::TooQuick,
        Felt::TooSlow,
    ];
    felt.into_iter()
        .filter_map(|felt| {
            let played = OwnGame { felt: [felt].into(), ..OwnGame::default() };
            let advice = after_play(&played, settings, None, step);
            let mut changed = settings.clone();
            let number = match advice.first()?.change {
                Change::DeadZone { to, .. } if has_dead_zone => {
                    changed.dead_zone = to;
                    TypedNumber::DeadZone
                }
                Change::FullThrow { to, .. } => {
                    changed.full_throw = to;
                    TypedNumber::FullThrow
                }
                Change::Exponent { to, .. } => {
                    changed.curve = Curve::Exponent(to);
                    TypedNumber::Exponent
                }
                _ => return None,
            };
            let typed = |settings: &Settings| {
                let advice = for_path(settings, path);
                match number {
                    TypedNumber::DeadZone => advice.dead_zone,
                    TypedNumber::FullThrow => advice.full_throw,
                    TypedNumber::Exponent => advice.exponent,
                }
            };
            let (from, to) = (typed(settings), typed(&changed));
            ((to - from).abs() > 1e-6).then_some(FirstChange { felt, number, from, to })
        })
        .collect()
}
