//! What is known so far, and how much better it would be known after one more piece.

use super::unknown::{self, LEVELS, WORST_WIDTH, relative, unknown};
use super::wanted::Wanted;
use crate::measure::watched::watched_within;
use crate::measure::{ForPlan, for_plan};
use crate::task::for_stick::directions_for;
use crate::task::{EASY_EFFORT, TaskAsk, TaskKind, TaskRecord};
use crate::{Direction, StickKind};

/// What was recorded before: the records, and what they say.
#[derive(Clone, Debug)]
pub struct Past<'a> {
    pub(super) records: &'a [TaskRecord],
    figures: ForPlan,
}

impl<'a> Past<'a> {
    /// Everything that was recorded so far, in order.
    #[must_use]
    pub fn of(records: &'a [TaskRecord]) -> Self {
        Self { records, figures: for_plan(records) }
    }

    /// Before anything was recorded.
    #[must_use]
    pub fn nothing() -> Self {
        Self::of(&[])
    }

    /// How much these records leave unknown of the `needed` directions; see [`unknown()`].
    #[must_use]
    pub fn unknown(&self, needed: &[Direction], kind: StickKind) -> f64 {
        unknown(&self.figures, needed, kind)
    }
}

/// First guesses, from what 300 invented people show in the middle: a rest's relative width times
/// the root of its seconds; the spread of pushes as a share of travel, and their reach;
/// independent values in a second of holding. They only order the first plan; what was
/// measured takes their place.
const REST_WIDTH_ROOT_SECONDS: f64 = 4.0;
/// An interval that a short rest leaves very wide gets narrower faster than by the root.
const WIDEST_REST_ROOT_SECONDS: f64 = 8.0;
const PUSH_SPREAD: f64 = 0.05;
const PUSH_REACH: f64 = 0.6;
const VALUES_A_SECOND: f64 = 2.5;
/// The least rest that says anything, seconds.
const LEAST_REST_SECONDS: f64 = 10.0;

/// Hands off: the least from which noise and centre are told, seconds.
pub(super) const HANDS_OFF_SECONDS: f64 = 5.0;
/// The first rest is at least so long, seconds: from it the quiet radius is told.
pub(super) const FIRST_REST_SECONDS: f64 = 20.0;
/// A longer hold at this level of own reach or beyond is the one farther out.
const FARTHER_FROM: f64 = 0.65;
/// A task ends with the look that is next to its time, a little before or behind it: what reaches
/// this share of what was asked is as asked.
const AS_ASKED: f64 = 0.95;

/// The amounts there are, and what each more brings.
#[derive(Clone, Debug)]
pub(super) struct Gathered {
    /// The needed directions that the stick can go in.
    pub(super) needed: Vec<Direction>,
    pub(super) hands_off: f64,
    pub(super) rest: f64,
    rest_width_root: f64,
    pub(super) busy: f64,
    pub(super) free: f64,
    pub(super) pushes: [usize; 8],
    reach: [f64; 8],
    spread: f64,
    /// Seconds of holding by level.
    pub(super) held: [f64; 2],
    values_a_second: [f64; 2],
    pub(super) holds: [usize; 8],
    pub(super) high_holds: usize,
    /// Longer holds at half of own reach, and of these whether one was easy to its end.
    pub(super) sustained: [usize; 8],
    pub(super) easily_kept: [bool; 8],
    /// Longer holds farther out.
    pub(super) sustained_farther: [usize; 8],
    pub(super) returns: [usize; 8],
    pub(super) presses: usize,
    has_levels: bool,
}

/// Which place of an array by direction this one has.
pub(super) fn place(direction: Direction) -> usize {
    Direction::EIGHT.iter().position(|one| *one == direction).unwrap_or(0)
}

impl Gathered {
    /// What the past holds that counts.
    pub(super) fn of(past: &Past<'_>, wanted: &Wanted) -> Self {
        let mut gathered = Self {
            needed: directions_for(wanted.kind, wanted.axes, &wanted.needed),
            hands_off: 0.0,
            rest: 0.0,
            rest_width_root: REST_WIDTH_ROOT_SECONDS,
            busy: 0.0,
            free: 0.0,
            pushes: [0; 8],
            reach: [PUSH_REACH; 8],
            spread: PUSH_SPREAD,
            held: [0.0; 2],
            values_a_second: [VALUES_A_SECOND; 2],
            holds: [0; 8],
            high_holds: 0,
            sustained: [0; 8],
            easily_kept: [false; 8],
            sustained_farther: [0; 8],
            returns: [0; 8],
            presses: 0,
            has_levels: wanted.kind.lacks(TaskKind::Hold).is_none(),
        };
        for record in past.records {
            gathered.count(record);
        }
        gathered.measured(&past.figures);
        gathered
    }

    fn count(&mut self, record: &TaskRecord) {
        let kind = record.ask.kind();
        for one in record.repetitions.iter().filter(|one| one.counts()) {
            // What nobody saw is still to be seen.
            let seconds = watched_within(record, one.span);
            let at = one.direction.map(place);
            match (kind, at) {
                (TaskKind::HandsOff, _) => self.hands_off += seconds,
                (TaskKind::QuietRest, _) => self.rest += seconds,
                (TaskKind::BusyRest, _) => self.busy += seconds,
                (TaskKind::FreeMovement, _) => self.free += seconds,
                (TaskKind::Reach, Some(at)) => self.pushes[at] += 1,
                (TaskKind::Hold, Some(at)) => self.hold(at, one.level.unwrap_or(0.0), seconds),
                (TaskKind::Sustained, Some(at)) => {
                    self.keep_up(at, one.level.unwrap_or(0.0));
                    let asked = if let TaskAsk::Sustained { seconds, .. } = record.ask {
                        seconds
                    } else {
                        0.0
                    };
                    let easy = one.effort.is_some_and(|effort| effort <= EASY_EFFORT);
                    self.easily_kept[at] |= easy && seconds >= AS_ASKED * asked;
                }
                (TaskKind::Return, Some(at)) => self.returns[at] += 1,
                (TaskKind::Presses, _) => self.presses += 1,
                _ => {}
            }
        }
    }

    fn keep_up(&mut self, at: usize, level: f64) {
        if level < FARTHER_FROM { self.sustained[at] += 1 } else { self.sustained_farther[at] += 1 }
    }

    fn hold(&mut self, at: usize, level: f64, seconds: f64) {
        self.holds[at] += 1;
        match LEVELS.iter().position(|one| (one - level).abs() < 0.01) {
            Some(level) => self.held[level] += seconds,
            None => self.high_holds += 1,
        }
    }

    /// Puts what was measured in the place of the first guesses.
    fn measured(&mut self, figures: &ForPlan) {
        if let Some(width) = relative(&figures.wander) {
            let root = width * libm::sqrt(self.rest.max(1.0));
            self.rest_width_root = root.min(WIDEST_REST_ROOT_SECONDS);
        }
        let (mut squares, mut freedom) = (0.0, 0.0);
        for found in &figures.reach {
            let lengths: Vec<f64> = found.ends.iter().map(|end| end.radius()).collect();
            if lengths.is_empty() {
                continue;
            }
            let mean = lengths.iter().sum::<f64>() / lengths.len() as f64;
            self.reach[place(found.asked)] = mean.max(0.05);
            squares += lengths.iter().map(|one| (one - mean) * (one - mean)).sum::<f64>();
            freedom += (lengths.len() - 1) as f64;
        }
        // The first guess weighs as much as two pushes.
        let guess = 2.0 * PUSH_SPREAD * PUSH_SPREAD;
        self.spread = libm::sqrt((squares + guess) / (freedom + 2.0));
        for (at, level) in LEVELS.iter().enumerate() {
            let found = figures.hold.iter().find(|one| (one.level - level).abs() < 0.01);
            if let Some(found) = found.filter(|found| found.degrees_of_freedom > 0.0)
                && self.held[at] > 0.0
            {
                self.values_a_second[at] =
                    (found.degrees_of_freedom / self.held[at]).clamp(0.2, 20.0);
            }
        }
    }

    /// Adds what a task is going to bring, as if all of it counted.
    pub(super) fn add(&mut self, ask: &TaskAsk) {
        match ask {
            TaskAsk::HandsOff { seconds } => self.hands_off += seconds,
            TaskAsk::QuietRest { seconds } => self.rest += seconds,
            TaskAsk::BusyRest { seconds, .. } => self.busy += seconds,
            TaskAsk::FreeMovement { seconds } => self.free += seconds,
            TaskAsk::Reach { directions, rounds } => {
                directions.iter().for_each(|one| self.pushes[place(*one)] += rounds);
            }
            TaskAsk::Hold { directions, levels, rounds, seconds } => {
                for direction in directions {
                    for level in levels {
                        for _ in 0..*rounds {
                            self.hold(place(*direction), *level, *seconds);
                        }
                    }
                }
            }
            TaskAsk::Sustained { directions, level, .. } => {
                directions.iter().for_each(|one| self.keep_up(place(*one), *level));
            }
            TaskAsk::Return { directions, rounds, .. } => {
                directions.iter().for_each(|one| self.returns[place(*one)] += rounds);
            }
            TaskAsk::Presses { buttons, rounds } => self.presses += 3 * buttons.len() * rounds,
        }
    }

    /// Whether the stick alone is not known well enough yet.
    pub(super) fn lacks_hands_off(&self) -> bool {
        self.hands_off < AS_ASKED * HANDS_OFF_SECONDS
    }

    /// Whether there is not enough rest yet to tell anything else from.
    pub(super) fn lacks_first_rest(&self) -> bool {
        self.rest < AS_ASKED * FIRST_REST_SECONDS
    }

    /// The relative width that the rest will have.
    pub(super) fn rest_width(&self) -> f64 {
        if self.rest < LEAST_REST_SECONDS {
            return WORST_WIDTH;
        }
        (self.rest_width_root / libm::sqrt(self.rest)).min(WORST_WIDTH)
    }

    /// The relative width that the reach in one direction will have.
    pub(super) fn reach_width(&self, direction: Direction) -> f64 {
        let at = place(direction);
        let pushes = self.pushes[at];
        let freedom: usize = self.pushes.iter().map(|count| count.saturating_sub(1)).sum();
        let all: usize = self.pushes.iter().sum();
        if pushes == 0 || freedom == 0 || all < 3 {
            return WORST_WIDTH;
        }
        let half = unknown::t_95(freedom) * self.spread / libm::sqrt(pushes as f64);
        (2.0 * half / self.reach[at]).min(WORST_WIDTH)
    }

    /// The relative width that the steadiness at one of the levels will have.
    pub(super) fn hold_width(&self, level: usize) -> f64 {
        unknown::deviation_width(self.values_a_second[level] * self.held[level])
    }

    /// How much will be unknown: the figure of merit, as far as it can be foreseen.
    pub(super) fn unknown(&self) -> f64 {
        let reach: Vec<f64> = self.needed.iter().map(|one| self.reach_width(*one)).collect();
        let hold = [self.hold_width(0), self.hold_width(1)];
        let hold = if self.has_levels { hold.as_slice() } else { &[] };
        unknown::mean_of_families(&[&reach, &[self.rest_width()], hold])
    }

    /// The needed direction that is known least well.
    pub(super) fn widest(&self) -> Option<Direction> {
        let mut widest: Option<(f64, Direction)> = None;
        for direction in &self.needed {
            let width = self.reach_width(*direction);
            if widest.is_none_or(|(most, _)| width > most) {
                widest = Some((width, *direction));
            }
        }
        widest.map(|(_, direction)| direction)
    }

    /// The needed directions with fewer than three pushes.
    pub(super) fn missing(&self) -> Vec<Direction> {
        self.needed.iter().copied().filter(|one| self.pushes[place(*one)] < 3).collect()
    }

    /// Whether every needed direction was pushed in, so that levels of its reach can be asked.
    pub(super) fn knows_reach(&self, directions: &[Direction]) -> bool {
        directions.iter().all(|one| self.pushes[place(*one)] > 0)
    }
}
