//! Raw reports as states of a pad, so that they become samples like those of the Gamepad
//! interface: hand each state to a [`crate::gamepad::Watcher`].

use super::decode::{bits, number};
use super::usage::{GAME_PAD, JOYSTICK, MULTI_AXIS};
use super::{Axis, Button, ButtonPlace, Hat, HidDevice, MOST_LISTED, MOST_VALUE_BITS, Usage};
use crate::gamepad::{PadState, normalise, normalise_button};

/// From this value on a button counts as pressed. Ours: the standard leaves it to the browser.
const PRESSED: f64 = 0.5;

/// A device whose reports are taken in one by one.
///
/// Axes are those that tell a place (no relative ones), in the order of the descriptor, and
/// normalised as the Gamepad interface does; then two for each hat, each −1, 0 or 1, up being −1.
/// Buttons are in the order of the descriptor. Where the device says of some of them that they
/// belong to a joystick, game pad or multi-axis controller, only those count: so the keys of a
/// keyboard and the motion of a mouse in the same device stay out.
///
/// A report changes only what it carries. What no report carried yet is 0. An axis that reports
/// nothing (null state) keeps its place, as the standard asks (HID 1.11, 5.10, from memory). Of an
/// array that names pressed buttons the first [`MOST_LISTED`] numbers are looked at.
#[derive(Clone, Debug, PartialEq)]
pub struct RawPad {
    axes: Vec<Axis>,
    hats: Vec<Hat>,
    buttons: Vec<Button>,
    state: PadState,
}

impl RawPad {
    /// A pad with this name string and place in the list; nothing was reported yet. `None` where
    /// the device has neither axis nor hat nor button to show.
    #[must_use]
    pub fn new(device: &HidDevice, id: &str, index: usize) -> Option<Self> {
        let ours = |application: &Option<Usage>| {
            application.is_some_and(|usage| [JOYSTICK, GAME_PAD, MULTI_AXIS].contains(&usage))
        };
        let every = device.axes.iter().map(|axis| &axis.application);
        let every = every.chain(device.hats.iter().map(|hat| &hat.application));
        let some = every.chain(device.buttons.iter().map(|b| &b.application)).any(ours);
        let counts = |application: &Option<Usage>| !some || ours(application);
        let axes = device.axes.iter().filter(|axis| counts(&axis.application) && !axis.relative);
        let axes: Vec<Axis> = axes.copied().collect();
        let hats = device.hats.iter().filter(|hat| counts(&hat.application)).copied();
        let hats: Vec<Hat> = hats.collect();
        let buttons = device.buttons.iter().filter(|button| counts(&button.application)).copied();
        let buttons: Vec<Button> = buttons.collect();
        let state = PadState {
            id: id.to_owned(),
            index,
            connected: true,
            axes: vec![0.0; axes.len() + 2 * hats.len()],
            buttons: vec![0.0; buttons.len()],
            pressed: vec![false; buttons.len()],
            ..PadState::default()
        };
        let shows = !(state.axes.is_empty() && state.buttons.is_empty());
        shows.then_some(Self { axes, hats, buttons, state })
    }

    /// What the first axes of the state are; behind them come two for each of [`RawPad::hats`].
    #[must_use]
    pub fn axes(&self) -> &[Axis] {
        &self.axes
    }

    /// The hats.
    #[must_use]
    pub fn hats(&self) -> &[Hat] {
        &self.hats
    }

    /// What the buttons of the state are.
    #[must_use]
    pub fn buttons(&self) -> &[Button] {
        &self.buttons
    }

    /// The state as it is.
    #[must_use]
    pub fn state(&self) -> &PadState {
        &self.state
    }

    /// Takes in an input report: its number (0 where there are none), its bytes without the number,
    /// and when it arrived, milliseconds on the page's monotonic clock. The new state; `None`
    /// where the report carries nothing of this pad.
    pub fn take(&mut self, id: u8, data: &[u8], arrival_ms: f64) -> Option<&PadState> {
        let mut carried = false;
        for (axis, value) in self.axes.iter().zip(&mut self.state.axes) {
            let here = (axis.report_id == id).then(|| bits(data, axis.bit_offset, axis.bits));
            let Some(bits) = here.flatten() else { continue };
            carried = true;
            let number = number(bits, axis.bits, axis.logical);
            if axis.logical.holds(number) || !axis.null_state {
                let range = axis.logical;
                *value = normalise(number as f64, range.min as f64, range.max as f64);
            }
        }
        let pairs = self.state.axes.get_mut(self.axes.len()..).unwrap_or_default();
        for (hat, pair) in self.hats.iter().zip(pairs.chunks_exact_mut(2)) {
            let here = (hat.report_id == id).then(|| bits(data, hat.bit_offset, hat.bits));
            let Some(bits) = here.flatten() else { continue };
            carried = true;
            let (across, along) = hat.pushes(number(bits, hat.bits, hat.logical));
            pair.copy_from_slice(&[across, along]);
        }
        let values = self.state.buttons.iter_mut().zip(&mut self.state.pressed);
        for (button, (value, pressed)) in self.buttons.iter().zip(values) {
            if button.report_id != id {
                continue;
            }
            if let Some(now) = button_value(button.place, data) {
                carried = true;
                (*value, *pressed) = (now, now >= PRESSED);
            }
        }
        if !carried {
            return None;
        }
        self.state.timestamp_ms = arrival_ms;
        Some(&self.state)
    }
}

/// `None` where the report ends before it, or nothing is reported.
fn button_value(place: ButtonPlace, data: &[u8]) -> Option<f64> {
    match place {
        ButtonPlace::Bits { bit_offset, bits: count, logical } => {
            let value = number(bits(data, bit_offset, count)?, count, logical) as f64;
            Some(normalise_button(value, logical.min as f64, logical.max as f64).clamp(0.0, 1.0))
        }
        ButtonPlace::Array { bit_offset, element_bits, count, logical, number: named } => {
            if element_bits > MOST_VALUE_BITS {
                return None;
            }
            let mut any = None;
            for place in 0..count.min(MOST_LISTED as u32) {
                let from = bit_offset.checked_add(element_bits.checked_mul(place)?)?;
                let Some(found) = bits(data, from, element_bits) else { break };
                let hit = number(found, element_bits, logical) == named;
                any = Some(any.unwrap_or(0.0_f64).max(f64::from(u8::from(hit))));
            }
            any
        }
    }
}

#[cfg(test)]
#[path = "pad_tests.rs"]
mod tests;
