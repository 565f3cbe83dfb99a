//! Five minutes in the person's own game.

use super::{long, of_ten};
use serde::{Deserialize, Serialize};

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
    /// What was changed back, and why.
    pub changed_back: String,
}

impl OwnGame {
    pub(super) fn tidied(&self) -> Self {
        Self {
            minutes: self.minutes.map(|minutes| minutes.min(600)),
            effort: of_ten(self.effort),
            comfort: of_ten(self.comfort),
            changed_back: long(&self.changed_back),
        }
    }
}
