//! What spoke while somebody moved a device and pressed its buttons.

use super::super::short;
use crate::sample::MOST_CONTROLS;
use serde::{Deserialize, Serialize};

/// Counts stop here.
pub const MOST_HEARD: u32 = 100_000;

/// What spoke, by kind. Nothing that was typed is kept: of keys only how many of which sort.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Heard {
    /// A game controller or joystick, through the W3C Gamepad interface.
    pub pad: Option<PadHeard>,
    /// A pointing device.
    pub pointer: Option<PointerHeard>,
    /// A keyboard.
    pub keys: Option<KeysHeard>,
    /// Whether something spoke while nobody was to touch anything: then it may not be the device
    /// that was meant.
    pub unasked: bool,
}

/// What a game controller said.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct PadHeard {
    /// Its name, made plain.
    pub name: String,
    /// The axes that moved, by number from 0, rising.
    pub axes: Vec<u32>,
    /// The buttons that were pressed, by number from 0, in the order of their first press.
    pub buttons: Vec<u32>,
}

/// What a pointing device said.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct PointerHeard {
    /// Movements of the pointer.
    pub moves: u32,
    /// How far they went in all, CSS pixels.
    pub pixels: u32,
    /// Presses of pointer buttons.
    pub presses: u32,
    /// Turns of the wheel.
    pub wheel: u32,
}

/// What a keyboard said, counted by sort of key.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct KeysHeard {
    /// Arrow keys.
    pub arrows: u32,
    /// Letters, digits and signs.
    pub letters: u32,
    /// Space and Enter.
    pub space_and_enter: u32,
    /// Escape.
    pub escape: u32,
    /// Tab.
    pub tab: u32,
    /// Every other key.
    pub others: u32,
}

impl Heard {
    /// The same, capped and cleaned.
    #[must_use]
    pub fn tidied(&self) -> Self {
        let most = |count: u32| count.min(MOST_HEARD);
        Self {
            pad: self.pad.as_ref().map(|pad| PadHeard {
                name: short(&pad.name),
                axes: distinct(&pad.axes, true),
                buttons: distinct(&pad.buttons, false),
            }),
            pointer: self.pointer.as_ref().map(|pointer| PointerHeard {
                moves: most(pointer.moves),
                pixels: most(pointer.pixels),
                presses: most(pointer.presses),
                wheel: most(pointer.wheel),
            }),
            keys: self.keys.as_ref().map(|keys| KeysHeard {
                arrows: most(keys.arrows),
                letters: most(keys.letters),
                space_and_enter: most(keys.space_and_enter),
                escape: most(keys.escape),
                tab: most(keys.tab),
                others: most(keys.others),
            }),
            unasked: self.unasked,
        }
    }
}

impl KeysHeard {
    /// All of them.
    #[must_use]
    pub const fn all(&self) -> u32 {
        self.arrows
            .saturating_add(self.letters)
            .saturating_add(self.space_and_enter)
            .saturating_add(self.escape)
            .saturating_add(self.tab)
            .saturating_add(self.others)
    }
}

/// Numbers of controls, each once.
fn distinct(numbers: &[u32], rising: bool) -> Vec<u32> {
    let mut kept: Vec<u32> = Vec::new();
    for number in numbers.iter().filter(|number| (**number as usize) < MOST_CONTROLS) {
        if !kept.contains(number) {
            kept.push(*number);
        }
    }
    if rising {
        kept.sort_unstable();
    }
    kept
}
