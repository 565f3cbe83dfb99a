//! The stick in use, as it is kept with a fitting.

use crate::input::{Input, Source};
use crate::words::{hand_over as words, people};
use fitting::invented::Invented;
use fitting::summary::{DeviceSeen, plain_text};

/// The longest name of a device that is kept, characters.
const MOST_NAME_CHARACTERS: usize = 80;

/// A stick, and who plays it where that is no real person.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct StickInUse {
    /// What is seen of it.
    pub(super) device: DeviceSeen,
    /// The code of the invented person, or of the practice stick; nothing for a real stick.
    pub(super) practised: Option<String>,
}

/// The source that is chosen now; empty where none is.
pub(super) fn of_input(input: Input) -> StickInUse {
    of_source(input, input.chosen())
}

/// A source; empty of none.
pub(super) fn of_source(input: Input, source: Option<Source>) -> StickInUse {
    let mut device = source.and_then(|source| input.device_of(source)).unwrap_or_default();
    let (name, code) = match source {
        Some(Source::Practice) => (Some(words::WITH_PRACTICE), Some("practice")),
        Some(Source::Invented(person)) => (Some(people::person(person).0), Some(person.code())),
        Some(Source::Pad(_) | Source::Fed) | None => (None, None),
    };
    device.name = plain_text(name.unwrap_or(&device.name), MOST_NAME_CHARACTERS);
    StickInUse { device, practised: code.map(str::to_owned) }
}

/// The source of this code: an invented person, or the practice stick.
pub(super) fn practised_source(code: &str) -> Source {
    let person = Invented::ALL.into_iter().find(|person| person.code() == code);
    person.map_or(Source::Practice, Source::Invented)
}
