//! What pushes and the way back show.

use crate::estimate::{Measured, NotEnough};
use crate::task::CueKind;
use crate::{Direction, Position};

/// Reach with one kind of cue.
#[derive(Clone, Debug, PartialEq)]
pub struct CuedReach {
    /// How it was cued.
    pub cue: CueKind,
    /// Comfortable reach by asked direction, in the order of [`Direction::EIGHT`].
    pub reach: Vec<DirectionReach>,
}

/// What free movement shows, the task and whatever else was asked by cause and effect: the range
/// seen. Never comfortable reach.
#[derive(Clone, Debug, PartialEq)]
pub struct FreeMovement {
    /// Seconds used.
    pub seconds: f64,
    /// Share of the time outside the quiet radius, 0..=1.
    pub moving_share: f64,
    /// By the eight directions (each 45 degrees wide), in the order of [`Direction::EIGHT`].
    pub directions: Vec<FreeDirection>,
}

/// One direction of free movement.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FreeDirection {
    /// The direction its sector is about.
    pub about: Direction,
    /// The farthest distance from the centre that was held for 150 ms; 0 where never.
    pub farthest: f64,
    /// Seconds spent there outside the quiet radius.
    pub seconds: f64,
    /// How many times it was gone to from rest.
    pub visits: usize,
}

/// The least-squares map from asked to performed pushes, taken apart by polar decomposition:
/// performed = turn × stretch × (swap and inversions) × asked.
#[derive(Clone, Debug, PartialEq)]
pub struct PerformedMap {
    /// Rows: performed right and up; columns: asked right and up; shares of own mean reach.
    pub matrix: [[f64; 2]; 2],
    /// The axes come out swapped.
    pub swapped: bool,
    /// Right comes out as left.
    pub right_inverted: bool,
    /// Up comes out as down.
    pub up_inverted: bool,
    /// Degrees that pushes come out turned by, from right towards up.
    pub turn: Measured,
    /// The turn from the first and from the last half of the rounds agree: their difference
    /// lies within its own interval.
    pub repeat_agrees: bool,
    /// Of the turns that are left when any one direction is left out, the one nearest to none,
    /// degrees (0 when they go both ways): a turn of the mount stays, one side pushed askew does
    /// not. `None` with three directions, of which none can be spared.
    pub turn_without_one: Option<f64>,
    /// Reach on the weaker axis as a share of that on the stronger, 0..=1.
    pub stretch: Measured,
    /// The direction of the stronger axis, degrees from right towards up, −90..=90.
    pub stretch_degrees: f64,
    /// What share of a push along one asked axis comes out on the other, the turn and the
    /// stretch along the axes taken out, −1..=1: positive when pushes lean towards the line from
    /// down left to up right.
    pub cross_talk: Measured,
    /// Directions behind it.
    pub directions: usize,
    /// Pushes behind it.
    pub pushes: usize,
    /// The middle of the axes is hidden, how far is unknown: the turn's interval says how far it may be
    /// either way, and it is never firm.
    pub behind_hidden_middle: bool,
}

/// One direction's way back.
#[derive(Clone, Debug, PartialEq)]
pub struct DirectionReturn {
    /// From where it came back.
    pub asked: Direction,
    /// Seconds from the cue until it stays at rest.
    pub seconds: Measured,
    /// Of these, seconds from the first move back until it stays at rest.
    pub moving_seconds: Measured,
    /// How far it shot past its resting place, as a share of the way back.
    pub overshoot: Measured,
    /// Where it comes to rest less the visit's centre, along the push, share of travel:
    /// positive when it stops short of the centre.
    pub rests_short: Measured,
    /// Where it comes to rest, from the visit's centre, mean; `None` without any.
    pub rests_at: Option<Position>,
}

/// Reach whose interval is wider than this is uncertain, share of travel.
const WIDE_INTERVAL: f64 = 0.2;

/// Comfortable reach in one asked direction.
#[derive(Clone, Debug, PartialEq)]
pub struct DirectionReach {
    /// What was asked.
    pub asked: Direction,
    /// How far the plateau of a push is from the centre, share of travel: mean and t interval.
    pub reach: Measured,
    /// Mean end of the pushes from the centre; `None` without any push.
    pub end: Option<Position>,
    /// The angle performed less the angle asked, degrees.
    pub degrees_off: Measured,
    /// The plateau of each push that counts, from the centre.
    pub ends: Vec<Position>,
    /// Nobody asked for this way: it came back often enough in free movement. How far off it went
    /// does not apply then.
    pub free: bool,
}

impl DirectionReach {
    /// Whether it should be measured again: it was pushed, and its reach is not known, or lies within more
    /// than a fifth of travel.
    #[must_use]
    pub fn is_uncertain(&self) -> bool {
        match &self.reach {
            Ok(reach) => reach.width() > WIDE_INTERVAL,
            Err(why) => *why != NotEnough::NothingRecorded,
        }
    }
}
