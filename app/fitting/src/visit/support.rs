//! Who helps, and how.

use super::{long, short};
use serde::{Deserialize, Serialize};

/// From where somebody helps.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Helping {
    /// Nobody: the player is alone.
    Alone,
    /// Somebody beside the player.
    Beside,
    /// Somebody over video or telephone.
    FarAway,
}

/// Who helps, and how.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Support {
    /// From where.
    pub helping: Option<Helping>,
    /// Who, in their own words; no name is needed.
    pub who: String,
    /// How: what is held, steadied, said or pressed for the person.
    pub how: String,
}

impl Support {
    pub(super) fn tidied(&self) -> Self {
        Self { helping: self.helping, who: short(&self.who), how: long(&self.how) }
    }
}
