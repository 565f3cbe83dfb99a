//! What is known of a device.

use crate::hid::usage::{X, Y};
use crate::hid::{HidDevice, Usage};
use crate::speaking::{keys_spoke, pointer_spoke};
use fitting::Sample;
use fitting::measure::{DeviceMeasures, OddAxis};
use fitting::summary::DeviceSeen;
use fitting::visit::Heard;

/// As what a device speaks to its host: the application usage of a top-level collection (HID Usage
/// Tables, Generic Desktop page), as far as it is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Speech {
    /// Joystick, usage 0x04.
    Joystick,
    /// Game pad, usage 0x05.
    GamePad,
    /// Multi-axis controller, usage 0x08.
    MultiAxis,
    /// One of these three: a browser does not say which.
    Controller,
    /// Mouse or pointer, usages 0x02 and 0x01.
    Mouse,
    /// Keyboard or keypad, usages 0x06 and 0x07.
    Keyboard,
    /// Another usage: its page in the upper 16 bits, its number in the lower.
    Other(u32),
}

impl Speech {
    /// From the usage of a top-level collection: page in the upper 16 bits, number in the lower.
    #[must_use]
    pub const fn of_usage(usage: u32) -> Self {
        match usage {
            0x1_0004 => Self::Joystick,
            0x1_0005 => Self::GamePad,
            0x1_0008 => Self::MultiAxis,
            0x1_0001 | 0x1_0002 => Self::Mouse,
            0x1_0006 | 0x1_0007 => Self::Keyboard,
            other => Self::Other(other),
        }
    }

    /// Whether a host takes it for a game controller of any sort.
    #[must_use]
    pub const fn is_controller(self) -> bool {
        matches!(self, Self::Joystick | Self::GamePad | Self::MultiAxis | Self::Controller)
    }
}

/// One axis of a device, in the order of its report.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct AxisFacts {
    /// Its usage, page in the upper 16 bits, where it is known.
    pub usage: Option<u32>,
    /// How many bits its values take: the logarithm to base 2 of their count, so not always whole;
    /// where that is known.
    pub bits: Option<f64>,
    /// It is half of a hat switch, shown as an axis.
    pub is_hat: bool,
    /// What it reads at rest, where that lies outside −1..=1: a hat in its null state.
    pub rests_at: Option<f64>,
    /// It gives movements, not places: a mouse's.
    pub is_relative: bool,
}

/// What is known of a device.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct DeviceFacts {
    /// As what it speaks; empty where nobody knows.
    pub speaks: Vec<Speech>,
    /// Its axes in the order of its report, hats as two each at the end; nothing where unknown.
    pub axes: Option<Vec<AxisFacts>>,
    /// How many buttons it has; nothing where unknown.
    pub buttons: Option<u32>,
    /// Whether the browser lays it out as the open standard says; nothing where unknown.
    pub standard: Option<bool>,
    /// Which of its axes are the stick, across and along; nothing where nobody said.
    pub stick: Option<[usize; 2]>,
    /// The smallest step between two values of the stick, share of travel, where measured.
    pub step: Option<f64>,
    /// Axes that do something odd, where measured.
    pub odd_axes: Vec<OddAxis>,
    /// The shortest time between two changes that was seen, seconds.
    pub fastest_change_seconds: Option<f64>,
    /// A band around the middle that reads 0, share of travel to each side; stick, system or
    /// browser.
    pub hidden_middle: Option<f64>,
    /// Whether the untouched stick was recorded: without it, nothing is said of its middle.
    pub measured: bool,
}

impl DeviceFacts {
    /// From what a browser's Gamepad interface shows, with its last state where there is one.
    ///
    /// A value outside −1..=1 is a hat at rest (W3C Gamepad's own formula gives 1.29 for a hat of
    /// 0..7 whose null state is 8).
    #[must_use]
    pub fn of_shown(seen: &DeviceSeen, latest: Option<&Sample>) -> Self {
        let rests_at = |index: usize| {
            let value = latest.and_then(|sample| sample.axes.get(index).copied());
            value.filter(|value| value.abs() > 1.0 + 1e-9)
        };
        let axis = |index: u32| {
            let rests_at = rests_at(index as usize);
            AxisFacts { is_hat: rests_at.is_some(), rests_at, ..AxisFacts::default() }
        };
        Self {
            speaks: vec![Speech::Controller],
            axes: Some((0..seen.axes).map(axis).collect()),
            buttons: Some(seen.buttons),
            standard: Some(seen.standard),
            ..Self::default()
        }
    }

    /// From what was heard: only that a device speaks, and as what.
    #[must_use]
    pub fn of_heard(heard: &Heard) -> Self {
        let mut speaks = Vec::new();
        if heard.pad.is_some() {
            speaks.push(Speech::Controller);
        }
        if heard.pointer.as_ref().is_some_and(pointer_spoke) {
            speaks.push(Speech::Mouse);
        }
        if heard.keys.as_ref().is_some_and(keys_spoke) {
            speaks.push(Speech::Keyboard);
        }
        Self { speaks, ..Self::default() }
    }

    /// From what a device says of its reports.
    ///
    /// Where part of it is a game controller, only the axes, hats and buttons of that part count:
    /// those of a mouse or a keyboard beside it go elsewhere. The stick is X and Y (HID Usage
    /// Tables, Generic Desktop 0x30 and 0x31), each the first of its kind. Whether a browser lays
    /// it out as the open standard says cannot be read off a descriptor.
    #[must_use]
    pub fn of_hid(device: &HidDevice) -> Self {
        let mut speaks: Vec<Speech> = Vec::new();
        for usage in device.applications() {
            let speech = Speech::of_usage(usage.0);
            if !speaks.contains(&speech) {
                speaks.push(speech);
            }
        }
        let part_is_controller = speaks.iter().any(|speech| speech.is_controller());
        let counts = |application: Option<Usage>| {
            !part_is_controller
                || application.is_some_and(|usage| Speech::of_usage(usage.0).is_controller())
        };
        let mut axes: Vec<AxisFacts> = device
            .axes
            .iter()
            .filter(|axis| counts(axis.application))
            .map(|axis| {
                let values = (axis.logical.max - axis.logical.min) as f64 + 1.0;
                AxisFacts {
                    usage: Some(axis.usage.0),
                    bits: (values > 1.0).then(|| libm::log2(values)),
                    is_relative: axis.relative,
                    ..AxisFacts::default()
                }
            })
            .collect();
        let place = |wanted: Usage| axes.iter().position(|axis| axis.usage == Some(wanted.0));
        let stick = place(X).zip(place(Y)).map(|(across, along)| [across, along]);
        let hats = device.hats.iter().filter(|hat| counts(hat.application)).count();
        let half_of_hat = AxisFacts { is_hat: true, ..AxisFacts::default() };
        axes.extend(std::iter::repeat_n(half_of_hat, 2 * hats));
        let buttons = device.buttons.iter().filter(|button| counts(button.application)).count();
        Self {
            speaks,
            axes: Some(axes),
            buttons: u32::try_from(buttons).ok(),
            stick,
            ..Self::default()
        }
    }

    /// The same with what was measured of the stick.
    #[must_use]
    pub fn with_measures(mut self, measures: &DeviceMeasures) -> Self {
        self.step = measures.step.as_ref().ok().copied();
        self.odd_axes.clone_from(&measures.odd_axes);
        self.fastest_change_seconds = measures.fastest_change_seconds;
        self.hidden_middle = measures.hidden_middle;
        self.measured = measures.centre.is_ok();
        self
    }

    /// Whether it speaks as a game controller of any sort.
    #[must_use]
    pub fn is_controller(&self) -> bool {
        self.speaks.iter().any(|speech| speech.is_controller())
    }

    /// The smallest step of the stick, share of travel: measured, else from the bits of its axes
    /// (2 / (2^bits − 1) of the range −1..=1).
    #[must_use]
    pub fn step_of_stick(&self) -> Option<f64> {
        let from_bits = || {
            let axes = self.axes.as_ref()?;
            let of = |index: usize| axes.get(index).and_then(|axis| axis.bits);
            let [across, along] = self.stick.unwrap_or([0, 1]);
            let bits = of(across)?.min(of(along).unwrap_or(f64::INFINITY));
            Some(2.0 / (libm::exp2(bits) - 1.0).max(1.0))
        };
        self.step.or_else(from_bits)
    }
}
