//! What is suggested beside dead zone, full throw and curve, as a summary tells it.

use super::chosen::ChosenSmoothing;
use super::grid::{Degrees, Gain, Moment, PerMinute, Share};
use super::{Figure, Interval};
use crate::Direction;
use crate::estimate::Sureness;
use serde::{Deserialize, Serialize};

/// Full throw in one direction, shares of travel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ThrowBy {
    /// Which direction was asked.
    pub asked: Direction,
    /// Full throw of its own.
    pub own: Share,
    /// Reach beyond the one radius for all.
    pub left: Share,
}

/// What is suggested about directions; the map itself is among the settings.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DirectionFigures {
    /// How much weight it can bear.
    pub sureness: Sureness,
    /// The turn suggested, from right towards up; 0 for none.
    pub turn: Degrees,
    /// A turn is suggested.
    pub turns: bool,
    /// A repeat is wanted first.
    pub repeat_wanted: bool,
    /// The gain of the weaker axis that would level the reach.
    pub levelling_gain: Option<Gain>,
    /// The dead zone needed with it, share of travel.
    pub dead_zone_with_gain: Option<Share>,
}

/// What is suggested about smoothing.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SmoothingFigures {
    /// The suggestion.
    pub chosen: ChosenSmoothing,
    /// How much weight it can bear.
    pub sureness: Sureness,
    /// Jitter with it as a share of that without.
    pub jitter_left: Figure<Share>,
    /// Lag it adds, seconds.
    pub lag: Moment,
    /// The dead zone needed without it, share of travel.
    pub dead_zone_without: Option<Share>,
    /// The dead zone needed with it, share of travel.
    pub dead_zone_with: Option<Share>,
}

/// Suggested thresholds for directions used as switches.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SwitchFigures {
    /// A push beyond this share of travel is on.
    pub on: Share,
    /// It is off again below this.
    pub off: Share,
    /// A push shorter than this does not count, seconds.
    pub shortest: Moment,
    /// How much weight they can bear.
    pub sureness: Sureness,
    /// The direction with the weakest push.
    pub weakest: Direction,
    /// Its smallest plateau, share of travel.
    pub weakest_reach: Share,
    /// False presses that the rest would give.
    pub false_per_minute: Interval<PerMinute>,
}
