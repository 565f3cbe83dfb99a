//! One of several devices of a visit, with its role.

use super::super::short;
use super::MOST_PORTS;
use crate::sample::MOST_CONTROLS;
use crate::summary::{DeviceSeen, MOST_LABEL_CHARACTERS, plain_text};
use crate::{StickAxes, StickKind};
use serde::{Deserialize, Serialize};

/// The most devices used together in one fitting.
pub const MOST_DEVICES: usize = 4;

/// The most hex digits of a kept descriptor: 4 KiB.
pub const MOST_DESCRIPTOR_CHARACTERS: usize = 8192;

/// What a device is there for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DeviceRole {
    /// Nobody said.
    #[default]
    NotSaid,
    /// Its stick is what the standard layout's left stick is.
    LeftStick,
    /// Its stick is what the standard layout's right stick is.
    RightStick,
    /// Its buttons are used, and no stick.
    Buttons,
    /// Another person plays along with it: the controls are shared.
    Shared,
}

impl DeviceRole {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Self; 5] =
        [Self::NotSaid, Self::LeftStick, Self::RightStick, Self::Buttons, Self::Shared];
}

/// One of several devices of a visit.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct DeviceUsed {
    /// What is seen of it.
    pub device: DeviceSeen,
    /// The code of the invented person, or of the practice stick; nothing for a real device.
    pub practised: Option<String>,
    /// What it is there for.
    pub role: DeviceRole,
    /// Who plays with it, in the person's words; empty for the person of the fitting.
    pub who: String,
    /// The port of the host it goes into, by its place.
    pub port: u32,
    /// What kind of stick it has.
    pub kind: StickKind,
    /// Which of its axes are the stick.
    pub axes: StickAxes,
}

impl DeviceUsed {
    /// Whether this is a device with this name and shape: what nobody can tell apart is the same.
    #[must_use]
    pub fn is(&self, device: &DeviceSeen, practised: Option<&str>) -> bool {
        is_same_stick((&self.device, self.practised.as_deref()), (device, practised))
    }

    pub(super) fn tidied(&self) -> Self {
        let most = MOST_CONTROLS as u32;
        let axis = |mut pick: crate::AxisPick| {
            pick.index = pick.index.min(MOST_CONTROLS);
            pick
        };
        Self {
            device: DeviceSeen {
                name: plain_text(&self.device.name, MOST_LABEL_CHARACTERS),
                axes: self.device.axes.min(most),
                buttons: self.device.buttons.min(most),
                standard: self.device.standard,
            },
            who: short(&self.who),
            port: self.port.min(MOST_PORTS as u32 - 1),
            practised: self.practised.clone().filter(|code| crate::summary::is_code(code)),
            axes: StickAxes {
                horizontal: axis(self.axes.horizontal),
                vertical: axis(self.axes.vertical),
            },
            ..self.clone()
        }
    }
}

/// Whether two sticks are one, as far as anybody can tell: what is practised with by its code, which
/// says all, and a real one by its name and shape.
#[must_use]
pub fn is_same_stick(one: (&DeviceSeen, Option<&str>), other: (&DeviceSeen, Option<&str>)) -> bool {
    one.1 == other.1 && (one.1.is_some() || one.0 == other.0)
}

/// The hex digits of a descriptor, whole bytes of them, in capitals.
pub(super) fn hex_digits(text: &str) -> String {
    let mut digits: String = text
        .chars()
        .filter(char::is_ascii_hexdigit)
        .take(MOST_DESCRIPTOR_CHARACTERS)
        .collect::<String>()
        .to_ascii_uppercase();
    digits.truncate(digits.len() / 2 * 2);
    digits
}
