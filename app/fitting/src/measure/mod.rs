//! Figures computed from the records of tasks, each with its interval and what it rests on.
//!
//! Lengths are shares of the stick's travel, times seconds, angles degrees.

pub mod device;
pub mod events;
pub mod hold;
mod known;
pub mod reach;
pub mod rest;
mod sudden;
mod turn;
pub mod windows;

#[cfg(test)]
mod invariant_tests;
#[cfg(test)]
pub(crate) mod test_records;
#[cfg(test)]
mod truth_tests;

pub use known::{known, visit_centre};
pub use turn::turn;

use crate::estimate::{Measured, NotEnough};
use crate::statistics::tails::Tail;
use crate::task::{TaskKind, TaskRecord};
use crate::{Direction, Position};

/// Measures everything that the records of one visit with one stick allow. Any prefix of a
/// plan gives what it can; a measure without enough behind it says so.
#[must_use]
pub fn measure(records: &[TaskRecord]) -> Measures {
    let device = device::device(records);
    let rest = rest::rest(records, device.step.unwrap_or(0.0));
    let centre = visit_centre(records);
    let plateaus = reach::plateaus(records, |record| centre.unwrap_or(record.known.centre));
    let reach = reach::reach(&plateaus, |asked| seconds_asked(records, asked));
    let told = records.first().map_or(Position::ORIGIN, |record| record.known.centre);
    let hold = hold::hold(&hold::holds(records), centre.unwrap_or(told));
    let left_out = records
        .iter()
        .flat_map(|record| &record.repetitions)
        .filter(|repetition| repetition.mark.is_some() || repetition.queried_degrees.is_some())
        .count();
    Measures { device, rest, reach, hold, left_out }
}

/// Seconds of the pushes that count in one direction.
fn seconds_asked(records: &[TaskRecord], asked: Direction) -> f64 {
    records
        .iter()
        .filter(|record| record.ask.kind() == TaskKind::Reach)
        .flat_map(|record| &record.repetitions)
        .filter(|repetition| repetition.counts() && repetition.direction == Some(asked))
        .map(|repetition| repetition.span.seconds())
        .sum()
}

/// Everything measured in one visit with one stick.
#[derive(Clone, Debug, PartialEq)]
pub struct Measures {
    /// What hands off and rest say of stick, system and browser.
    pub device: DeviceMeasures,
    /// What the quiet rest says.
    pub rest: Result<RestMeasures, NotEnough>,
    /// Comfortable reach by asked direction, in the order of [`Direction::EIGHT`].
    pub reach: Vec<DirectionReach>,
    /// Steadiness by level, from the lowest level up.
    pub hold: Vec<LevelSteadiness>,
    /// Repetitions left out because they were marked or queried.
    pub left_out: usize,
}

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
}

/// Movement that the person did not intend, while resting ready to play.
#[derive(Clone, Debug, PartialEq)]
pub struct RestMeasures {
    /// Seconds of rest used: settled, unmarked, watched.
    pub seconds: f64,
    /// The visit's one centre: the time-weighted median of the rest.
    pub centre: Position,
    /// How far the centre is off the middle of the field, share of travel.
    pub offset: Measured,
    /// The distance from the centre inside which the stick stays 95 % of the time.
    pub wander: Measured,
    /// False movements a minute by radius of the dead zone, continual part.
    pub curve: Vec<RatePoint>,
    /// Rare sudden movements.
    pub sudden: Sudden,
    /// The largest distance that the continual part sustained for one frame, share of travel.
    pub largest_continual: f64,
    /// The model of the continual part's tail; `None` when there were too few peaks for one.
    pub tail: Option<Tail>,
}

/// False movements a minute that a dead zone of one radius lets through.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RatePoint {
    /// Radius of the dead zone, share of travel.
    pub radius: f64,
    /// Counted in the recording, a minute.
    pub counted_per_minute: f64,
    /// Estimated rate a minute: counted where there are enough, else from the fitted tail.
    pub per_minute: f64,
    /// Lower end of its 95 % band.
    pub low: f64,
    /// Upper end of its 95 % band.
    pub high: f64,
    /// Whether the estimate comes from the model of the tail.
    pub from_model: bool,
    /// Share of the rest time that is spent outside this radius, however shortly and however
    /// suddenly, 0..=1. Where it nears 1 the stick is never still, and few movements a minute
    /// only mean long ones.
    pub outside_share: f64,
}

/// Rare sudden movements (jerks, spasm), told apart from continual movement.
#[derive(Clone, Debug, PartialEq)]
pub struct Sudden {
    /// How many were seen.
    pub count: usize,
    /// Their rate a minute, mid-P Poisson interval.
    pub per_minute: Measured,
    /// The largest distance from the centre of each, share of travel, in order of time.
    pub sizes: Vec<f64>,
}

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
}

/// Steadiness while holding at one level of the person's own reach.
#[derive(Clone, Debug, PartialEq)]
pub struct LevelSteadiness {
    /// Share of own reach that was asked.
    pub level: f64,
    /// Mean distance from the centre at which it was held, share of travel.
    pub radius: f64,
    /// Standard deviation about the held place, both axes pooled, share of travel.
    pub deviation: Measured,
    /// Independent values behind it, less one for each held place.
    pub degrees_of_freedom: f64,
    /// Whether a hold of this level touched the end of the stick's travel.
    pub at_gate: bool,
}
