//! The few figures that a plan is worked out from.

use super::windows::settled_path;
use super::{
    DirectionReach, LevelSteadiness, hold, pushes, reach, rest, rhythm, slow, visit_centre,
};
use crate::Position;
use crate::estimate::Measured;
use crate::task::{TaskKind, TaskRecord};

/// What a plan is worked out from: the same figures as in [`super::Measures`], but for the step of
/// the stick, which is left out (it widens an interval by less than it is wide).
#[derive(Clone, Debug, PartialEq)]
pub struct ForPlan {
    /// The distance inside which a quiet rest stays 95 % of the time, share of travel.
    pub wander: Measured,
    /// Comfortable reach by asked direction, in the order of [`crate::Direction::EIGHT`].
    pub reach: Vec<DirectionReach>,
    /// Steadiness by level, from the lowest level up.
    pub hold: Vec<LevelSteadiness>,
}

/// Measures what a plan is worked out from: a fifth of the work of [`super::measure`], so that it
/// can be done between two tasks.
#[must_use]
pub fn for_plan(records: &[TaskRecord]) -> ForPlan {
    let rested = settled_path(records, TaskKind::QuietRest);
    let centre = visit_centre(records);
    let pushed = pushes::of_reach(records);
    let plateaus = reach::plateaus(&pushed, |record| centre.unwrap_or(record.known.centre));
    let told = records.first().map_or(Position::ORIGIN, |record| record.known.centre);
    let holds = hold::steady(records, TaskKind::Hold);
    let longer = hold::steady(records, TaskKind::Sustained);
    let rhythm = rhythm::rhythm(&[holds.clone(), longer].concat());
    let power = rhythm.as_ref().ok().and_then(|found| found.power_by_hold.as_deref());
    ForPlan {
        wander: rest::wander(&rested),
        reach: reach::reach(&plateaus, 0.0, 0.0, |asked| reach::seconds_of(&pushed, asked)),
        hold: hold::hold(&holds, centre.unwrap_or(told), slow::slow_rest(&rested), power, 0.0),
    }
}
