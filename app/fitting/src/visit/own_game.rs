//! Five minutes in the person's own game.

use super::{long, of_ten};
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// What was not right while playing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Felt {
    /// It hurt, or went numb.
    Hurts,
    /// It was tiring.
    Tired,
    /// The game moves by itself.
    MovesByItself,
    /// Nothing happens until the stick is far out.
    StartsLate,
    /// The stick must be pushed too far to get all the way.
    TooFar,
    /// It goes all the way at once, with little between nothing and all.
    AllAtOnce,
    /// It is too quick near the middle.
    TooQuick,
    /// It is too slow near the middle.
    TooSlow,
    /// It goes another way than meant.
    Astray,
    /// It answers late.
    Lags,
}

impl Felt {
    /// All of them, in the order in which they are asked.
    pub const ALL: [Self; 10] = [
        Self::Hurts,
        Self::Tired,
        Self::MovesByItself,
        Self::StartsLate,
        Self::TooFar,
        Self::AllAtOnce,
        Self::TooQuick,
        Self::TooSlow,
        Self::Astray,
        Self::Lags,
    ];
}

/// How it went in the person's own game.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct OwnGame {
    /// How long, minutes.
    pub minutes: Option<u32>,
    /// How hard it was, 0 (nothing at all) to 10.
    pub effort: Option<u8>,
    /// How comfortable it was, 0 (not at all) to 10.
    pub comfort: Option<u8>,
    /// What was not right.
    pub felt: BTreeSet<Felt>,
    /// What was changed back, and why.
    pub changed_back: String,
}

impl OwnGame {
    pub(super) fn tidied(&self) -> Self {
        Self {
            minutes: self.minutes.map(|minutes| minutes.min(600)),
            effort: of_ten(self.effort),
            comfort: of_ten(self.comfort),
            felt: self.felt.clone(),
            changed_back: long(&self.changed_back),
        }
    }
}
