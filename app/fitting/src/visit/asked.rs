//! How this person is asked.

use crate::task::Way;
use serde::{Deserialize, Serialize};

/// How a running task looks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Look {
    /// The field of movement on graph paper.
    #[default]
    Paper,
    /// One large object on black: for low vision and attention.
    OneObject,
}

/// How this person is asked: remembered for the visit, and changed at any time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Asked {
    /// In which way, as far as a task allows it.
    pub way: Way,
    /// How a running task looks.
    pub look: Look,
    /// Whether tones tell the direction, the ring and the end.
    pub sound: bool,
    /// How loud they are, percent of the machine's own volume, 0..=100.
    pub volume: u8,
    /// Whether what is asked is spoken, by a voice of this machine.
    pub speech: bool,
}

impl Default for Asked {
    /// Told, on paper, in silence; once there is sound it is soft.
    fn default() -> Self {
        Self { way: Way::default(), look: Look::default(), sound: false, volume: 30, speech: false }
    }
}

impl Asked {
    pub(super) fn tidied(&self) -> Self {
        Self { volume: self.volume.min(100), ..*self }
    }
}
