//! The stick in use, as it is kept with a fitting.

use crate::input::{Input, Source};
use crate::words::{hand_over as words, people};
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

/// A source that is there; empty of none.
pub(super) fn of_source(input: Input, source: Option<Source>) -> StickInUse {
    let status = input.status_now();
    let own = |name: &str, code: &str| StickInUse {
        device: DeviceSeen {
            name: plain_text(name, MOST_NAME_CHARACTERS),
            axes: 2,
            ..DeviceSeen::default()
        },
        practised: Some(code.to_owned()),
    };
    match source {
        Some(Source::Pad(key)) => {
            let seen = status.devices.iter().find(|device| device.key == key);
            let device = seen.map(|device| DeviceSeen {
                name: plain_text(&device.name, MOST_NAME_CHARACTERS),
                axes: device.axes.try_into().unwrap_or(u32::MAX),
                buttons: device.buttons.try_into().unwrap_or(u32::MAX),
                standard: device.standard,
            });
            StickInUse { device: device.unwrap_or_default(), practised: None }
        }
        Some(Source::Fed) => {
            StickInUse { device: input.fed().unwrap_or_default(), practised: None }
        }
        Some(Source::Practice) => own(words::WITH_PRACTICE, "practice"),
        Some(Source::Invented(person)) => own(people::person(person).0, person.code()),
        None => StickInUse::default(),
    }
}
