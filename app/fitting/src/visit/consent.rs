//! Who agreed to what, and when.

use super::{long, short};
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// The last moment that is taken for one, milliseconds since 1970 UTC (the year 9999).
const LAST_EPOCH_MS: u64 = 253_402_300_799_999;

/// What somebody can agree to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ConsentTo {
    /// Being measured.
    Measuring,
    /// Keeping recordings and results on this machine.
    Keeping,
    /// Handing a summary to others.
    Sharing,
}

impl ConsentTo {
    /// All of them, in the order in which they are asked.
    pub const ALL: [Self; 3] = [Self::Measuring, Self::Keeping, Self::Sharing];
}

/// Who agreed to what, and when.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Consent {
    /// Who agreed: the person, a parent, a guardian, in their own words.
    pub who: String,
    /// To what.
    pub to: BTreeSet<ConsentTo>,
    /// When it was last changed, milliseconds since 1970 UTC.
    pub given_epoch_ms: Option<u64>,
    /// The person's own yes or no, whoever else agreed.
    pub own_yes: Option<bool>,
    /// How the person said so.
    pub own_words: String,
}

impl Consent {
    pub(super) fn tidied(&self) -> Self {
        Self {
            who: short(&self.who),
            given_epoch_ms: self.given_epoch_ms.map(|at| at.min(LAST_EPOCH_MS)),
            own_words: long(&self.own_words),
            ..self.clone()
        }
    }
}
