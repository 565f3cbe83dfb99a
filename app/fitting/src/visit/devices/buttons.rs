//! What a person knows of the buttons, and which switches stand beside the stick.

use super::super::short;
use super::MOST_DEVICES;
use crate::sample::MOST_CONTROLS;
use crate::statistics::order::sort_few;
use serde::{Deserialize, Serialize};

/// The most jobs that are planned.
pub const MOST_JOBS: usize = 24;
/// The most switches beside the stick.
pub const MOST_SWITCHES: usize = 8;

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
    /// Of which device, as its place among those used together; 0 for the only one.
    pub device: u32,
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

impl ButtonNote {
    const fn place(&self) -> (u32, u32) {
        (self.device, self.button)
    }
}

impl AddedSwitch {
    pub(super) fn tidied(&self) -> Self {
        Self { name: short(&self.name), ease: self.ease }
    }
}

/// Notes by device and the number of the button, each once; what says nothing goes.
pub(super) fn tidied_notes(notes: &[ButtonNote]) -> Vec<ButtonNote> {
    let mut tidied: Vec<ButtonNote> = Vec::new();
    let within = |note: &&ButtonNote| {
        (note.button as usize) < MOST_CONTROLS && (note.device as usize) < MOST_DEVICES
    };
    for note in notes.iter().filter(within) {
        if !tidied.iter().any(|one| one.place() == note.place()) {
            tidied.push(ButtonNote { name: short(&note.name), ..note.clone() });
        }
    }
    tidied.retain(|note| !note.name.is_empty() || note.ease != Ease::NotSaid);
    sort_few(&mut tidied, |one, other| one.place() < other.place());
    tidied
}
