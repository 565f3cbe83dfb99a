//! Who is speaking: what a device is heard as while somebody moves it and presses its buttons.
//!
//! A device that looks like a joystick may speak as a mouse or a keyboard; neither the Gamepad
//! interface nor WebHID shows it then (WebHID, blocklist: mouse, keyboard and keypad usages). So
//! [`Listening`] takes in events of every kind, in three steps: hands off, move the stick, press
//! each button. What comes of it is [`Heard`], which holds no key that was typed, and
//! [`conclusion`] says in one word who spoke.

mod listening;

pub use listening::{EndedBy, Event, HANDS_OFF_SECONDS, Key, Listening, PATIENCE_SECONDS, Step};

use fitting::visit::{Heard, KeysHeard, PointerHeard};

/// Pointer movements shorter than this in all may be a table that was touched, CSS pixels.
const LEAST_PIXELS: u32 = 20;

/// Fewer movements than this may be one knock.
const LEAST_MOVES: u32 = 3;

/// Who spoke.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Conclusion {
    /// Nobody.
    Nobody,
    /// A game controller or joystick, and nothing else.
    Pad,
    /// A game controller, and a mouse or a keyboard beside it.
    PadAndMore,
    /// A mouse, or another pointing device.
    Pointer,
    /// A keyboard.
    Keys,
    /// Mouse and keyboard together.
    PointerAndKeys,
}

/// Whether a pointing device spoke, and not only a knock against the table.
#[must_use]
pub const fn pointer_spoke(pointer: &PointerHeard) -> bool {
    let moved = pointer.moves >= LEAST_MOVES && pointer.pixels >= LEAST_PIXELS;
    moved || pointer.presses > 0 || pointer.wheel > 0
}

/// Whether a keyboard spoke.
#[must_use]
pub const fn keys_spoke(keys: &KeysHeard) -> bool {
    keys.all() > 0
}

/// Who spoke, in one word.
#[must_use]
pub fn conclusion(heard: &Heard) -> Conclusion {
    let pointer = heard.pointer.as_ref().is_some_and(pointer_spoke);
    let keys = heard.keys.as_ref().is_some_and(keys_spoke);
    match (heard.pad.is_some(), pointer, keys) {
        (false, false, false) => Conclusion::Nobody,
        (true, false, false) => Conclusion::Pad,
        (true, _, _) => Conclusion::PadAndMore,
        (false, true, false) => Conclusion::Pointer,
        (false, false, true) => Conclusion::Keys,
        (false, true, true) => Conclusion::PointerAndKeys,
    }
}
