//! Figures computed from the records of tasks, each with its interval and what it rests on.
//!
//! Lengths are shares of the stick's travel, times seconds, angles degrees.

pub(crate) mod busy;
mod button_path;
pub mod device;
pub mod events;
mod free;
pub mod hold;
mod known;
pub mod map;
mod noticed;
mod plateau;
pub mod polar;
mod presses;
pub(crate) mod pushes;
pub mod reach;
pub mod rest;
mod rest_spread;
mod returns;
mod rhythm;
mod slow;
mod sudden;
mod sustained;
mod switches;
mod weak_side;
pub mod windows;

#[cfg(test)]
mod invariant_long_tests;
#[cfg(test)]
mod invariant_tests;
#[cfg(test)]
pub(crate) mod test_records;
#[cfg(test)]
mod truth_tests;

pub use known::{known, visit_centre};
pub use noticed::{Evidence, Noticed, notice};
pub use pushes::FEWEST_FREE_PUSHES;
pub use weak_side::{SideVerdict, WeakSide, weak_side};

use crate::estimate::{Measured, NotEnough};
use crate::statistics::tails::Tail;
use crate::task::{CueKind, Meanwhile, TaskKind, TaskRecord};
use crate::{Direction, Position};
use serde::{Deserialize, Serialize};

/// Measures everything that the records of one visit with one stick allow. Any prefix of a
/// plan gives what it can; a measure without enough behind it says so.
#[must_use]
pub fn measure(records: &[TaskRecord]) -> Measures {
    let device = device::device(records);
    let step = device.step.unwrap_or(0.0);
    let rest = rest::rest(records, step);
    let centre = visit_centre(records);
    let centre_of = |record: &TaskRecord| centre.unwrap_or(record.known.centre);
    let pushed = pushes::of_reach(records);
    let mut reach = reach::reach(&reach::plateaus(&pushed, centre_of), step, |asked| {
        reach::seconds_of(&pushed, asked)
    });
    reach::say_free(&mut reach, &pushes::from_free(records));
    let cued = [CueKind::Central, CueKind::Spoken].into_iter().filter_map(|cue| {
        let pushed = pushes::cued(records, cue);
        let plateaus = reach::plateaus(&pushed, centre_of);
        let reach = reach::reach(&plateaus, step, |asked| reach::seconds_of(&pushed, asked));
        (!reach.is_empty()).then_some(CuedReach { cue, reach })
    });
    let cued = cued.collect();
    let told = records.first().map_or(Position::ORIGIN, |record| record.known.centre);
    let holds = hold::steady(records, TaskKind::Hold);
    let resting = slow::slow_rest(&windows::settled_path(records, TaskKind::QuietRest));
    let longer = hold::steady(records, TaskKind::Sustained);
    let rhythm = rhythm::rhythm(&[holds.clone(), longer].concat());
    let power = rhythm.as_ref().ok().and_then(|found| found.power_by_hold.as_deref());
    let hold = hold::hold(&holds, centre.unwrap_or(told), resting, power);
    let left_out = records
        .iter()
        .filter(|record| record.is_of_person())
        .flat_map(|record| &record.repetitions)
        .filter(|repetition| repetition.mark.is_some() || repetition.queried_degrees.is_some())
        .count();
    let wander = rest.as_ref().ok().and_then(|rest| rest.wander.ok()).map_or(0.0, |w| w.value);
    let hidden = device.still_middle || device.hidden_middle.is_some();
    let returns = returns::returns(records, centre, wander.max(2.0 * step), step, hidden);
    Measures {
        device,
        rest,
        busy_rest: busy::busy_rest(records, centre, step),
        free: free::free(records, centre),
        map: map::map(records, &reach),
        reach,
        hold,
        spectrum: rhythm.as_ref().map_or_else(|_| Vec::new(), |found| found.spectrum.clone()),
        rhythm: rhythm.map(|found| seen_rhythm(found.movement, hidden)),
        sustained: sustained::sustained(records, centre),
        returns,
        presses: presses::presses(records),
        switches: switches::switches(records, centre),
        cued,
        left_out,
        moved_by_helper: records.iter().map(TaskRecord::moved_by_helper).sum(),
    }
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
}

/// Reach with one kind of cue.
#[derive(Clone, Debug, PartialEq)]
pub struct CuedReach {
    /// How it was cued.
    pub cue: CueKind,
    /// Comfortable reach by asked direction, in the order of [`Direction::EIGHT`].
    pub reach: Vec<DirectionReach>,
}

/// Unintended movement while the person does something beside resting.
#[derive(Clone, Debug, PartialEq)]
pub struct BusyRest {
    /// What the person did.
    pub meanwhile: Meanwhile,
    /// The same measures as of the quiet rest, about the visit's one centre.
    pub rest: Result<RestMeasures, NotEnough>,
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
}

/// A rhythmic part of the movement: a narrow peak above the wander, wherever it lies.
#[derive(Clone, Debug, PartialEq)]
pub struct RhythmicMovement {
    /// Whether a peak stands out; without one frequency and amplitude are not known.
    pub found: bool,
    /// Its frequency, hertz.
    pub hertz: Measured,
    /// The finest difference of frequencies that the recordings can tell apart, hertz.
    pub resolution_hertz: f64,
    /// Its peak amplitude along its main direction, share of travel; `Hidden` behind a system that
    /// hides the middle of the axes.
    pub amplitude: Measured,
    /// Its main direction, degrees from right towards up, −90..=90.
    pub along_degrees: f64,
    /// Seconds of holding behind it.
    pub seconds: f64,
}

/// One point of the spectrum of the movement while holding.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpectrumPoint {
    /// The frequency, hertz.
    pub hertz: f64,
    /// The density, both axes together, shares of travel squared per hertz: as read, not corrected
    /// for what a value that holds until the next report takes of it.
    pub density: f64,
}

/// One direction's longer hold.
#[derive(Clone, Debug, PartialEq)]
pub struct SustainedHold {
    /// What was asked.
    pub asked: Direction,
    /// The level asked, share of own reach.
    pub level: f64,
    /// The longest stay, seconds.
    pub seconds: f64,
    /// Stays of this direction and level that lasted about as long and were no harder, this one
    /// included: one alone says that it was possible once.
    pub times: usize,
    /// How hard it was, 0 to 10; `None` when nobody said.
    pub effort: Option<u8>,
    /// Distance from the centre that was kept, share of travel: its mean with an interval.
    pub kept: Measured,
    /// How it drifted from beginning to end, share of travel a minute, towards the centre
    /// negative.
    pub drift_per_minute: Measured,
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

/// Presses of one button.
#[derive(Clone, Debug, PartialEq)]
pub struct ButtonPresses {
    /// The button, as a number of [`crate::Sample::buttons`].
    pub button: usize,
    /// Presses that were asked and made.
    pub made: usize,
    /// Presses that were asked and not made.
    pub missed: usize,
    /// Seconds from the cue to the press.
    pub reaction_seconds: Measured,
    /// Length of a plain press, seconds: median.
    pub length_seconds: Measured,
    /// The lengths of all plain presses, seconds, in rising order.
    pub lengths: Vec<f64>,
    /// Length of a long press, seconds: median.
    pub long_seconds: Measured,
    /// From the first press's end to the second's start when pressing twice, seconds: median.
    pub gap_seconds: Measured,
    /// The gaps of all double presses, seconds, in rising order.
    pub gaps: Vec<f64>,
    /// Lengths of presses nobody asked for, seconds, in rising order.
    pub unwanted: Vec<f64>,
    /// Unwanted presses a minute, over all watched time.
    pub unwanted_per_minute: Measured,
    /// Contact bounce: gaps too short for a person, as far as this rate of reports shows them,
    /// seconds, in rising order.
    pub bounces: Vec<f64>,
    /// Bounce shorter than this cannot be seen here, seconds.
    pub shortest_seen_seconds: f64,
}

/// How directions used as switches are pushed.
#[derive(Clone, Debug, PartialEq)]
pub struct SwitchUse {
    /// The smallest plateau of the pushes that count, by asked direction.
    pub weakest: Vec<(Direction, f64)>,
    /// The largest distance that a rest sustains for one frame, share of travel.
    pub rest_reaches: f64,
    /// The deepest dip within a push, as a share of its plateau: 1 for none.
    pub dips_to: f64,
    /// The time from leaving rest to coming back, of the shortest push, seconds.
    pub shortest_push_seconds: f64,
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
    /// How the movement lies in the plane.
    pub ellipse: Result<RestEllipse, NotEnough>,
    /// False movements a minute by radius of the dead zone, continual part.
    pub curve: Vec<RatePoint>,
    /// Rare sudden movements.
    pub sudden: Sudden,
    /// The largest distance that the continual part sustained for one frame, share of travel.
    pub largest_continual: f64,
    /// The model of the continual part's tail; `None` when there were too few peaks for one.
    pub tail: Option<Tail>,
}

/// How the movement of a rest lies in the plane, about its own mean.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RestEllipse {
    /// Standard deviation along the main direction, share of travel.
    pub along_deviation: f64,
    /// Standard deviation across it, share of travel.
    pub across_deviation: f64,
    /// The main direction, degrees from right towards up, −90..=90 (the ends of its interval
    /// may lie beyond); does not apply when the movement is as good as round.
    pub along_degrees: Measured,
    /// The area that holds 95 % of the places, shares of travel squared, as if normal.
    pub area: f64,
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
    /// Nobody asked for this way: it came back often enough in free movement. How far off it went
    /// does not apply then.
    pub free: bool,
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
    /// Of this, the slow part (below the rhythm), share of travel.
    pub wander: Measured,
    /// Of this, the rhythmic part, share of travel; not known without a rhythm.
    pub rhythmic: Measured,
    /// Whether a hold of this level touched the end of the stick's travel.
    pub at_gate: bool,
}
