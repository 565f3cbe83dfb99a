//! What a button is to do.

use super::super::short;
use serde::{Deserialize, Serialize};

/// The buttons of the open standard's layout (W3C Gamepad, "Standard Gamepad").
const POSITIONS: u8 = 17;

/// What a button is to do.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Job {
    /// What the button at this place of the open standard's layout does, 0..=16.
    Position(u8),
    /// In the person's own words.
    Own(String),
}

impl Job {
    /// Whether it has a name; a port's button of which nobody knows the job has an empty one.
    #[must_use]
    pub fn is_known(&self) -> bool {
        !matches!(self, Self::Own(text) if text.is_empty())
    }

    pub(super) fn tidied(&self) -> Self {
        match self {
            Self::Position(place) => Self::Position((*place).min(POSITIONS - 1)),
            Self::Own(text) => Self::Own(short(text)),
        }
    }
}
