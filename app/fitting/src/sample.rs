//! One state of a device, and which of its axes are the stick.

use crate::Position;
use serde::{Deserialize, Serialize};

/// The most axes or buttons kept of one device; what a device claims beyond is dropped.
pub const MOST_CONTROLS: usize = 32;

/// One state of a whole device, as the page saw it.
///
/// A browser hands out a new state only when something changed, and what it stamps is the
/// arrival at the browser, not the device's own time (W3C Gamepad, "receives new input").
/// The values hold until the next sample.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Sample {
    /// When the state arrived, seconds on the page's monotonic clock.
    pub arrival_seconds: f64,
    /// Every axis, raw, finite; nominally −1..=1, but a hat at rest may lie outside.
    pub axes: Vec<f64>,
    /// Every button's analogue value, finite, 0..=1.
    pub buttons: Vec<f64>,
}

/// One axis of a device and whether its sign is turned round.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct AxisPick {
    /// Index into [`Sample::axes`].
    pub index: usize,
    /// Whether the sign is turned round before use.
    pub inverted: bool,
}

impl AxisPick {
    /// No axis: it always reads 0. For sticks that move one way only.
    pub const NONE: Self = Self { index: MOST_CONTROLS, inverted: false };
}

/// Which two axes of a device are the stick.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct StickAxes {
    /// The axis that moves the stick to the right when positive.
    pub horizontal: AxisPick,
    /// The axis that moves the stick down (towards the person) when positive, as in the W3C
    /// Gamepad interface.
    pub vertical: AxisPick,
}

impl Default for StickAxes {
    /// Axes 0 and 1: the left stick of the W3C standard layout.
    fn default() -> Self {
        Self {
            horizontal: AxisPick { index: 0, inverted: false },
            vertical: AxisPick { index: 1, inverted: false },
        }
    }
}

impl StickAxes {
    /// Where the stick is in this sample; a missing axis counts as 0.
    #[must_use]
    pub fn position(&self, sample: &Sample) -> Position {
        let read = |pick: AxisPick| {
            let value = sample.axes.get(pick.index).copied().unwrap_or(0.0);
            if pick.inverted { -value } else { value }
        };
        Position { right: read(self.horizontal), up: -read(self.vertical) }
    }
}
