//! A host as data: what it accepts, what gets through, what it lets a person set.

use super::super::short;
use super::Job;
use crate::sample::MOST_CONTROLS;
use crate::settings::Shape;
use crate::summary::{Body, Kind, Unreadable};
use serde::{Deserialize, Serialize};
use std::borrow::Cow;

/// The most ports of a host.
pub const MOST_PORTS: usize = 4;

/// Whatever a stick is plugged into: a computer, a console, a tablet, a hub with stick ports.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Host {
    /// Its name, in the person's words; empty for one that comes with the program.
    pub name: String,
    /// What may be plugged in.
    pub accepts: Accepts,
    /// Whether a button or axis has a job only where the device follows the open standard's
    /// layout (W3C Gamepad, "Standard Gamepad").
    pub wants_standard_layout: bool,
    /// Its ports for sticks, at least one once tidied.
    pub ports: Vec<Port>,
    /// Whether what comes through two ports, or from two devices, makes up one controller.
    pub joins_two: bool,
    /// What it lets a person set.
    pub sets: HostSets,
}

/// A host is shared as a file of its own.
impl Body for Host {
    const KIND: Kind = Kind::Host;
    const SCHEMA: u32 = 1;
    // Four ports, each with as many jobs in as many characters of the widest script as there may be.
    const MOST_BYTES: usize = 1 << 16;

    fn check(&self) -> Result<(), Unreadable> {
        if Self::tidied(self) == *self {
            Ok(())
        } else {
            Err(Unreadable::OutOfRange { field: "body" })
        }
    }

    fn tidied(&self) -> Cow<'_, Self> {
        Cow::Owned(Self::tidied(self))
    }
}

/// Which devices a host accepts, by the application usage they speak under (HID Usage Tables,
/// Generic Desktop page).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Accepts {
    /// Joystick, usage 0x04.
    pub joystick: bool,
    /// Game pad, usage 0x05.
    pub game_pad: bool,
    /// Multi-axis controller, usage 0x08.
    pub multi_axis: bool,
    /// Mouse, usage 0x02.
    pub mouse: bool,
    /// Keyboard, usage 0x06.
    pub keyboard: bool,
}

/// One port: what of a stick gets through.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Port {
    /// Its name, in the person's words; may be empty.
    pub name: String,
    /// How many axes get through.
    pub axes: u32,
    /// Which those are.
    pub axes_taken: AxesTaken,
    /// How many buttons get through: always the first of the stick, and the maker decides which
    /// those are.
    pub buttons: u32,
    /// What becomes of a hat switch.
    pub hat: Hat,
    /// The jobs of the buttons that get through, in their order; may be shorter.
    pub jobs: Vec<Job>,
    /// Whether they can be given other jobs; nothing where nobody knows.
    pub can_be_reassigned: Option<bool>,
}

/// Which axes a port takes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum AxesTaken {
    /// The first ones, in the order of the device's report.
    #[default]
    FirstInOrder,
    /// X and Y by their usage (HID Usage Tables, Generic Desktop 0x30 and 0x31), then others.
    XAndYFirst,
}

/// What becomes of a hat switch.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Hat {
    /// It is dropped.
    Dropped,
    /// It gets through as a hat or as four direction buttons.
    Through,
    /// It gets through as two more axes.
    AsAxes,
    /// Nobody knows.
    #[default]
    Unknown,
}

/// What a host lets a person set. `None` where it cannot.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct HostSets {
    /// The dead zone.
    pub dead_zone: Option<Slider>,
    /// The push that counts as all the way.
    pub full_throw: Option<SliderRange>,
    /// The sensitivity curve.
    pub curve: CurveSet,
    /// Whether an axis can be turned round.
    pub inverts: bool,
    /// Whether two axes can change places.
    pub swaps: bool,
    /// Whether directions can be turned by an angle.
    pub turns: bool,
    /// Whether it can smooth.
    pub smooths: bool,
    /// Whether a shortest press, a bounce time or a repeat delay can be set.
    pub times_buttons: bool,
}

/// A dead zone that can be set.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Slider {
    /// One disc, or each axis by itself.
    pub shape: Shape,
    /// From where to where.
    pub range: SliderRange,
}

/// From where to where a setting goes, and in which steps: shares of travel, 0..=1.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SliderRange {
    /// Smallest.
    pub low: f64,
    /// Largest.
    pub high: f64,
    /// One step; 0 where it is fine enough not to matter.
    pub step: f64,
}

/// How a host takes a sensitivity curve.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CurveSet {
    /// Not at all.
    #[default]
    None,
    /// As one number: output = input ^ exponent, or what comes near it.
    OneNumber,
    /// As a table of points.
    Points,
}

impl Default for Port {
    /// A port that passes an ordinary stick.
    fn default() -> Self {
        Self {
            name: String::new(),
            axes: 2,
            axes_taken: AxesTaken::FirstInOrder,
            buttons: 8,
            hat: Hat::Unknown,
            jobs: Vec::new(),
            can_be_reassigned: None,
        }
    }
}

impl SliderRange {
    /// From nothing to all of the travel, in steps of a hundredth.
    pub const WHOLE: Self = Self { low: 0.0, high: 1.0, step: 0.01 };

    fn tidied(self) -> Self {
        let share = |value: f64, otherwise: f64| {
            if value.is_finite() { value.clamp(0.0, 1.0) } else { otherwise }
        };
        let low = share(self.low, 0.0);
        let high = share(self.high, 1.0).max(low);
        Self { low, high, step: share(self.step, 0.0).min(high - low) }
    }
}

impl Host {
    /// The same with its texts made plain and its numbers in range.
    #[must_use]
    pub fn tidied(&self) -> Self {
        let mut ports: Vec<Port> = self.ports.iter().take(MOST_PORTS).map(Port::tidied).collect();
        if ports.is_empty() {
            ports.push(Port::default());
        }
        Self {
            name: short(&self.name),
            ports,
            sets: HostSets {
                dead_zone: self
                    .sets
                    .dead_zone
                    .map(|slider| Slider { range: slider.range.tidied(), ..slider }),
                full_throw: self.sets.full_throw.map(SliderRange::tidied),
                ..self.sets.clone()
            },
            ..self.clone()
        }
    }
}

impl Port {
    fn tidied(&self) -> Self {
        let most = MOST_CONTROLS as u32;
        Self {
            name: short(&self.name),
            axes: self.axes.min(most),
            buttons: self.buttons.min(most),
            jobs: self.jobs.iter().take(MOST_CONTROLS).map(Job::tidied).collect(),
            ..self.clone()
        }
    }
}
