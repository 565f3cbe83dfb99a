//! What stick, system and browser do by themselves.

use crate::Position;
use crate::estimate::{Measured, NotEnough};
use serde::{Deserialize, Serialize};

/// What stick, system and browser do by themselves.
#[derive(Clone, Debug, PartialEq)]
pub struct DeviceMeasures {
    /// Where the untouched stick rests (hands off), right and up, shares of travel.
    pub centre: Result<Position, NotEnough>,
    /// Standard deviation of the untouched stick about its centre, both axes pooled.
    pub noise: Measured,
    /// The smallest step seen between two values of a stick axis, share of travel.
    pub step: Result<f64, NotEnough>,
    /// Bits of one axis that this step amounts to: log2(2 / step + 1).
    pub bits: Result<f64, NotEnough>,
    /// A band around the middle in which every movement reads 0, share of travel to each side:
    /// laid to stick, system or browser.
    pub hidden_middle: Option<f64>,
    /// The rest reads exactly the middle although held positions keep moving: small movements
    /// are hidden there, and how far is unknown.
    pub still_middle: bool,
    /// The fastest change seen, seconds between two changes.
    pub fastest_change_seconds: Option<f64>,
    /// Gaps in the polling.
    pub gaps: usize,
    /// Seconds lost in them.
    pub gap_seconds: f64,
    /// How far the untouched centre moves, share of travel a minute.
    pub drift_per_minute: Measured,
    /// How far off its centre the stick rests after a push, towards the push, share of travel:
    /// spring and hand together.
    pub sag: Measured,
    /// The shape of the opening, as far as pushes reached it.
    pub gate: Result<GateShape, NotEnough>,
    /// How far before the stick's end its axes read full scale, share of travel, if pushes show
    /// that they do; laid to stick, system or browser.
    pub early_full: Option<f64>,
    /// Every axis of the device that is not the stick's and what it does, and each of the
    /// stick's own that does nothing.
    pub odd_axes: Vec<OddAxis>,
}

/// The shape of a stick's opening.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GateShape {
    /// Mean distance of the opening from the centre where pushes touched it, share of travel.
    pub radius: f64,
    /// Mean of |R(θ) / R(axis) − 1| over the outline that passes the ends touched: 0 for a
    /// circle, 0.122 for a square.
    pub out_of_round: f64,
    /// Directions in which the end was touched, of 8.
    pub directions: usize,
}

/// An axis that does something odd.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OddAxis {
    /// Which, as a number of [`crate::Sample::axes`].
    pub axis: usize,
    /// What.
    pub what: AxisOddity,
}

/// What is odd about an axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum AxisOddity {
    /// It never moved while the stick did.
    Dead,
    /// It stands at one end of its range whatever is done.
    Stuck,
    /// It moved and never came near its middle.
    NeverCentres,
}
