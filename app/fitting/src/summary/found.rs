//! What was found beside rest, reach and holds, as a summary tells it.

use super::grid::{Degrees, Hertz, Moment, PerMinute, Seconds, Share, Spread};
use super::{Answer, Figure};
use crate::Direction;
use crate::estimate::Sureness;
use crate::measure::AxisOddity;
use crate::task::Meanwhile;
use serde::{Deserialize, Serialize};

/// The shape of a stick's opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GateFigures {
    /// Mean distance of the opening from the centre, share of travel.
    pub radius: Share,
    /// How far from round: 0 for a circle, 0.122 for a square.
    pub out_of_round: Share,
    /// Directions in which the end was touched, of 8.
    pub directions: u32,
}

/// An axis that does something odd.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OddAxisSeen {
    /// Which, from 0.
    pub axis: u32,
    /// What.
    pub what: AxisOddity,
}

/// Rest while the person did something beside it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BusyRestFigures {
    /// What the person did.
    pub meanwhile: Meanwhile,
    /// What was found.
    pub rest: Answer<BusyFigures>,
}

/// Movement that was not intended, while doing something beside resting.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BusyFigures {
    /// Seconds of rest used.
    pub seconds: Seconds,
    /// Inside this distance from the centre the stick stays 95 % of the time.
    pub wander: Figure<Share>,
    /// Rate of sudden movements.
    pub sudden_per_minute: Figure<PerMinute>,
    /// False movements that a dead zone of the chosen size would let through: of the radii in
    /// the curve, the largest within it. `None` where the chosen one is smaller than all.
    pub at_chosen: Option<RateBand>,
}

/// A rate with its 95 % band.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RateBand {
    /// Estimated.
    pub per_minute: PerMinute,
    /// Lower end of the band.
    pub low: PerMinute,
    /// Upper end of the band.
    pub high: PerMinute,
}

/// From asked directions to performed ones.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MapFigures {
    /// The axes come out swapped.
    pub swapped: bool,
    /// Right comes out as left.
    pub right_inverted: bool,
    /// Up comes out as down.
    pub up_inverted: bool,
    /// What pushes come out turned by, from right towards up.
    pub turn: Figure<Degrees>,
    /// Whether a repeat agrees.
    pub repeat_agrees: bool,
    /// Reach on the weaker axis as a share of that on the stronger.
    pub stretch: Figure<Share>,
    /// The direction of the stronger axis.
    pub stretch_along: Degrees,
    /// What share of a push along one asked axis comes out on the other.
    pub cross_talk: Figure<Share>,
    /// Directions behind it.
    pub directions: u32,
    /// Pushes behind it.
    pub pushes: u32,
}

/// A rhythmic part of the movement while holding.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RhythmFigures {
    /// Whether a peak stands out.
    pub found: bool,
    /// Its frequency.
    pub frequency: Figure<Hertz>,
    /// The finest difference of frequencies that can be told apart.
    pub resolution: Hertz,
    /// Its peak amplitude, share of travel.
    pub amplitude: Figure<Spread>,
    /// Its main direction.
    pub along: Degrees,
    /// Seconds of holding behind it.
    pub seconds: Seconds,
}

/// One direction's longer hold.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SustainedFigures {
    /// What was asked.
    pub asked: Direction,
    /// The level asked, share of own reach.
    pub level: Share,
    /// The longest stay.
    pub seconds: Seconds,
    /// How hard it was, 0 to 10.
    pub effort: Option<u8>,
    /// Distance from the centre that was kept, share of travel.
    pub kept: Figure<Share>,
    /// Its drift, share of travel a minute, towards the centre negative.
    pub drift_per_minute: Figure<Share>,
}

/// One direction's way back.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReturnFigures {
    /// From where it came back.
    pub asked: Direction,
    /// Seconds from the cue until it stays at rest.
    pub time: Figure<Moment>,
    /// How far it shot past its resting place, as a share of the way back.
    pub overshoot: Figure<Share>,
    /// How far short of the centre it comes to rest, share of travel.
    pub rests_short: Figure<Spread>,
}

/// Presses of one button, and the timing suggested for it; times in seconds.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ButtonFigures {
    /// Which, from 0.
    pub button: u32,
    /// Presses asked and made.
    pub made: u32,
    /// Presses asked and not made.
    pub missed: u32,
    /// Length of a plain press.
    pub length: Figure<Moment>,
    /// From the first press's end to the second's start when pressing twice.
    pub gap: Figure<Moment>,
    /// Presses nobody asked for.
    pub unwanted_per_minute: Figure<PerMinute>,
    /// The shortest press to accept; `Unsettled` where no safe one was found.
    pub shortest_press: Figure<Moment>,
    /// The bounce window.
    pub bounce: Figure<Moment>,
    /// The delay until a held press repeats.
    pub repeat_delay: Figure<Moment>,
    /// How much weight the suggestions can bear.
    pub sureness: Sureness,
}
