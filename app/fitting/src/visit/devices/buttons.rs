//! What a person knows of the buttons, and which jobs are needed.

use super::super::short;
use crate::sample::MOST_CONTROLS;
use serde::{Deserialize, Serialize};

/// The most jobs that are planned.
pub const MOST_JOBS: usize = 24;
/// The most switches beside the stick.
pub const MOST_SWITCHES: usize = 8;

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

/// How easily something is reached and pressed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Ease {
    /// Without letting the stick go, and without effort.
    Easy,
    /// Nobody said.
    #[default]
    NotSaid,
    /// With effort, or only after letting the stick go.
    WithEffort,
    /// Not at all.
    OutOfReach,
}

/// What a person knows of one button of the stick.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct ButtonNote {
    /// Which, by number from 0.
    pub button: u32,
    /// Where it is, in the person's words.
    pub name: String,
    /// How easily it is pressed.
    pub ease: Ease,
}

/// A switch beside the stick.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct AddedSwitch {
    /// Which it is, in the person's words.
    pub name: String,
    /// How easily it is pressed.
    pub ease: Ease,
}

impl Job {
    pub(super) fn tidied(&self) -> Self {
        match self {
            Self::Position(place) => Self::Position((*place).min(POSITIONS - 1)),
            Self::Own(text) => Self::Own(short(text)),
        }
    }
}

impl AddedSwitch {
    pub(super) fn tidied(&self) -> Self {
        Self { name: short(&self.name), ease: self.ease }
    }
}

/// Notes by the number of the button, each once.
pub(super) fn tidied_notes(notes: &[ButtonNote]) -> Vec<ButtonNote> {
    let mut tidied: Vec<ButtonNote> = Vec::new();
    for note in notes.iter().filter(|note| (note.button as usize) < MOST_CONTROLS) {
        if !tidied.iter().any(|one| one.button == note.button) {
            tidied.push(ButtonNote { name: short(&note.name), ..note.clone() });
        }
    }
    tidied.sort_by_key(|note| note.button);
    tidied
}
