//! Figures computed from the records of tasks, each with its interval and what it rests on.
//!
//! Lengths are shares of the stick's travel, times seconds, angles degrees.

pub(crate) mod busy;
mod button_path;
mod calibration;
pub mod device;
pub mod events;
mod figures;
mod for_plan;
mod free;
pub mod hold;
mod known;
pub mod map;
mod noticed;
pub(crate) mod plateau;
pub mod polar;
mod presses;
mod push_list;
pub(crate) mod pushes;
pub mod reach;
pub mod rest;
mod rest_parts;
mod rest_spread;
mod returns;
mod rhythm;
pub mod site;
mod slow;
mod sudden;
mod sustained;
mod switches;
pub(crate) mod watched;
mod weak_side;
pub mod windows;

#[cfg(test)]
mod invariant_long_tests;
#[cfg(test)]
mod invariant_tests;
#[cfg(test)]
mod resolution_tests;
#[cfg(test)]
pub(crate) mod test_records;
#[cfg(test)]
mod truth_tests;

pub use figures::{
    AxisOddity, BusyRest, ButtonPresses, CuedReach, DeviceMeasures, DirectionReach,
    DirectionReturn, FreeDirection, FreeMovement, GateShape, LevelSteadiness, NotStationary,
    OddAxis, PerformedMap, RatePoint, RestEllipse, RestMeasures, RestParts, RhythmicMovement,
    SpectrumPoint, Sudden, SustainedHold, SwitchUse,
};
pub use for_plan::{ForPlan, for_plan};
pub use known::{known, visit_centre};
pub use map::OBSERVED_CUT;
pub use noticed::{Evidence, Noticed, notice};
pub use push_list::{ListedPush, list_pushes};
pub use pushes::FEWEST_FREE_PUSHES;
pub use watched::{Ended, LEAST_WATCHED_SHARE, LittleWatched, little_watched};
pub use weak_side::{SideVerdict, WeakSide, weak_side};

use crate::Position;
use crate::estimate::NotEnough;
use crate::task::{CueKind, TaskKind, TaskRecord};

/// Measures everything that the records of one visit with one stick allow. Any prefix of a
/// plan gives what it can; a measure without enough behind it says so.
#[must_use]
pub fn measure(records: &[TaskRecord]) -> Measures {
    let device = device::device(records);
    let step = device::step::resolution(records, device.step);
    let rest = rest::rest(records, step);
    let centre = visit_centre(records);
    let centre_of = |record: &TaskRecord| centre.unwrap_or(record.known.centre);
    let pushed = pushes::of_reach(records);
    let unsure = rest.as_ref().map_or(0.0, centre_unsure);
    let mut reach = reach::reach(&reach::plateaus(&pushed, centre_of), step, unsure, |asked| {
        reach::seconds_of(&pushed, asked)
    });
    reach::say_free(&mut reach, &pushes::from_free(records));
    if device.still_middle {
        // Bent towards the axes, and how far is unknown.
        reach.iter_mut().for_each(|one| one.degrees_off = Err(NotEnough::Hidden));
    }
    let cued = [CueKind::Central, CueKind::Spoken].into_iter().filter_map(|cue| {
        let pushed = pushes::cued(records, cue);
        let plateaus = reach::plateaus(&pushed, centre_of);
        let seconds_of = |asked| reach::seconds_of(&pushed, asked);
        let reach = reach::reach(&plateaus, step, unsure, seconds_of);
        (!reach.is_empty()).then_some(CuedReach { cue, reach })
    });
    let cued = cued.collect();
    let told = records.first().map_or(Position::ORIGIN, |record| record.known.centre);
    let holds = hold::steady(records, TaskKind::Hold);
    let resting = slow::slow_rest(&windows::settled_path(records, TaskKind::QuietRest));
    let longer = hold::steady(records, TaskKind::Sustained);
    let rhythm = rhythm::rhythm(&[holds.clone(), longer].concat());
    let power = rhythm.as_ref().ok().and_then(|found| found.power_by_hold.as_deref());
    let hold = hold::hold(&holds, centre.unwrap_or(told), resting, power, step);
    let left_out = records
        .iter()
        .filter(|record| record.is_of_person())
        .flat_map(|record| &record.repetitions)
        .filter(|repetition| repetition.mark.is_some() || repetition.is_queried())
        .count();
    let wander = rest.as_ref().ok().and_then(|rest| rest.wander.ok()).map_or(0.0, |w| w.value);
    let hidden = device.still_middle || device.hidden_middle.is_some();
    let returns = returns::returns(records, centre, wander.max(2.0 * step), unsure, step, hidden);
    let still_middle = device.still_middle;
    let mut measures = Measures {
        device,
        rest: rest.map(|rest| seen_rest(rest, still_middle, step)),
        busy_rest: busy::busy_rest(records, centre, step),
        free: free::free(records, centre),
        map: map::map(records, &reach, step, still_middle),
        reach,
        hold,
        spectrum: rhythm.as_ref().map_or_else(|_| Vec::new(), |found| found.spectrum.clone()),
        rhythm: rhythm.map(|found| seen_rhythm(found.movement, hidden)),
        sustained: sustained::sustained(records, centre, unsure, step),
        returns,
        presses: presses::presses(records),
        switches: switches::switches(records, centre),
        cued,
        left_out,
        moved_by_helper: records.iter().map(TaskRecord::moved_by_helper).sum(),
        little_watched: little_watched(records),
    };
    calibration::calibrate(&mut measures);
    measures
}

/// How far the place of a rest may be off, share of travel: half of its 95 % interval, and where the
/// rest is not the same throughout, what its parts differ.
fn centre_unsure(rest: &RestMeasures) -> f64 {
    let half = rest.offset.map_or(0.0, |offset| offset.high - offset.value);
    let differ = rest.parts.not_stationary.map_or(0.0, |_| rest.parts.thirds_differ);
    libm::hypot(half, differ)
}

/// What can be seen of a rest: where nothing came out of a hidden middle, not how far it wandered.
fn seen_rest(rest: RestMeasures, hidden: bool, step: f64) -> RestMeasures {
    if hidden && rest.largest_continual <= step {
        return RestMeasures {
            wander: Err(NotEnough::Hidden),
            offset: Err(NotEnough::Hidden),
            ..rest
        };
    }
    rest
}

/// What can be seen of a rhythm: where the middle of each axis is hidden, its frequency alone. A
/// push along one axis leaves the other in its hidden middle, and the rhythm's part there unseen.
fn seen_rhythm(rhythm: RhythmicMovement, hidden: bool) -> RhythmicMovement {
    if hidden && rhythm.found {
        return RhythmicMovement { amplitude: Err(NotEnough::Hidden), ..rhythm };
    }
    rhythm
}

/// Everything measured in one visit with one stick.
#[derive(Clone, Debug, PartialEq)]
pub struct Measures {
    /// What hands off and rest say of stick, system and browser.
    pub device: DeviceMeasures,
    /// What the quiet rest says.
    pub rest: Result<RestMeasures, NotEnough>,
    /// What each kind of busy rest says, never pooled with the quiet one; empty without any.
    pub busy_rest: Vec<BusyRest>,
    /// What free movement shows.
    pub free: Result<FreeMovement, NotEnough>,
    /// Comfortable reach by asked direction, in the order of [`Direction::EIGHT`].
    pub reach: Vec<DirectionReach>,
    /// From asked directions to performed ones.
    pub map: Result<PerformedMap, NotEnough>,
    /// Steadiness by level, from the lowest level up.
    pub hold: Vec<LevelSteadiness>,
    /// Rhythmic movement while holding.
    pub rhythm: Result<RhythmicMovement, NotEnough>,
    /// The spectrum of the movement while holding, frequency rising; empty where there is not
    /// enough for one.
    pub spectrum: Vec<SpectrumPoint>,
    /// What was kept up in longer holds, by direction in the order of [`Direction::EIGHT`].
    pub sustained: Vec<SustainedHold>,
    /// The way back to the centre, by direction in the order of [`Direction::EIGHT`].
    pub returns: Vec<DirectionReturn>,
    /// Presses by button, in the order of their numbers.
    pub presses: Vec<ButtonPresses>,
    /// Directions used as switches, where the stick is used so.
    pub switches: Result<SwitchUse, NotEnough>,
    /// Reach that was cued in the middle or by the voice, each by itself; empty without any. Never
    /// pooled or compared with reach that was cued at its place.
    pub cued: Vec<CuedReach>,
    /// Repetitions left out because they were marked or queried.
    pub left_out: usize,
    /// Repetitions that a helper's hand made: in none of the person's figures.
    pub moved_by_helper: usize,
    /// Tasks of which less than the larger part was watched.
    pub little_watched: Vec<LittleWatched>,
}
