//! What kind of stick it seems to be, from what was recorded. It is proposed, never set: a person
//! who cannot push one way moves a stick like one that does not go there.
//!
//! A force stick and a breath device cannot be told from positions alone: what a sensor makes of
//! force looks as what another makes of travel. They are chosen by hand.

use super::device::SAME_VALUE;
use super::windows::settled_path;
use crate::estimate::{StickTrait, Sureness};
use crate::position::Direction;
use crate::statistics::order::sort_numbers;
use crate::stick_kind::{Moves, StickKind};
use crate::task::{Outcome, TaskKind, TaskRecord};
use crate::{Position, Span, Trace};

/// An axis was moved when it covered at least this, share of travel; presumed, no source.
const MOVED: f64 = 0.3;
/// It was not when it covered at most this much, or this share of what the other covered.
const STILL: f64 = 0.04;
const STILL_SHARE: f64 = 0.1;
/// A hand that pushes along one axis of two moves the other by more than this, share of travel;
/// presumed, no source.
const NEVER: f64 = 0.01;
/// So much free movement goes everywhere the stick goes, seconds; presumed, no source.
const FREE_SECONDS: f64 = 20.0;
/// So many pushes one way were asked before it is said that none came.
const FEWEST_ASKED: usize = 2;
/// A stick that rests this far out rests at the end of its travel.
const AT_END: f64 = 0.9;
/// A way back ends where it was while more than this share of it is left.
const STAYED_SHARE: f64 = 0.5;
/// A way back begins at least this far out, share of travel.
const LEAST_WAY: f64 = 0.15;
/// Where a way back ended is read from its last moment, seconds.
const LAST_SECONDS: f64 = 0.3;
/// As many ways back, and this share of all, must have stayed.
const FEWEST_STAYED: usize = 2;
const MOST_OF_THEM: f64 = 0.75;
const SURELY_STAYED: usize = 4;
/// A direction switch has off and, each way, on.
const SWITCH_VALUES: usize = 3;
/// So many changes between few values are no chance: rough, and firm.
const FEWEST_CHANGES: usize = 10;
const MANY_CHANGES: usize = 20;

/// What was seen of the stick that speaks for a kind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Evidence {
    /// One axis covered `moved` of the travel, and the other `other`, though it was asked for.
    Covered {
        /// What the axis that moves covered, share of travel.
        moved: f64,
        /// What the other covered, share of travel.
        other: f64,
    },
    /// From rest it went `there` one way and `back` the other, though both were asked for.
    WentOneWay {
        /// The farthest one way, share of travel.
        there: f64,
        /// The farthest the other way, share of travel.
        back: f64,
    },
    /// Let go, it stayed out this many times.
    StayedOut {
        /// How many times.
        times: usize,
        /// Of how many.
        of: usize,
    },
    /// It changed this often between this few values.
    FewValues {
        /// Different values.
        values: usize,
        /// Changes.
        changes: usize,
    },
}

/// A kind of stick that is proposed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Noticed {
    /// What it is about the stick.
    pub what: StickTrait,
    /// What speaks for it.
    pub evidence: Evidence,
    /// How much weight that bears.
    pub sureness: Sureness,
}

impl Noticed {
    /// The kind with this taken over.
    #[must_use]
    pub fn taken_into(&self, kind: StickKind) -> StickKind {
        match self.what {
            StickTrait::OneAxis => StickKind { moves: Moves::OneAxis, ..kind },
            StickTrait::OneWay => StickKind { moves: Moves::OneWay, ..kind },
            StickTrait::NotSelfCentring => StickKind { centres_itself: false, ..kind },
            StickTrait::Switches => StickKind { switches: true, ..kind },
            // Never noticed.
            StickTrait::Force | StickTrait::Breath => kind,
        }
    }
}

/// What the records say of the kind of stick beyond what `kind` says already; empty where they
/// say nothing.
#[must_use]
pub fn notice(records: &[TaskRecord], kind: StickKind) -> Vec<Noticed> {
    let seen = Seen::of(records);
    let found = [seen.along(records), seen.stays(records), seen.few_values(records)];
    found.into_iter().flatten().filter(|noticed| noticed.taken_into(kind) != kind).collect()
}

/// What a task asks to be moved.
fn is_movement(record: &TaskRecord) -> bool {
    matches!(
        record.ask.kind(),
        TaskKind::FreeMovement
            | TaskKind::Reach
            | TaskKind::Hold
            | TaskKind::Sustained
            | TaskKind::Return
    )
}

/// The range of the stick over all movement.
struct Seen {
    centre: Position,
    low: Position,
    high: Position,
    free_seconds: f64,
}

impl Seen {
    fn of(records: &[TaskRecord]) -> Self {
        let rest = settled_path(records, TaskKind::QuietRest).median();
        let told = records.last().map_or(Position::ORIGIN, |record| record.known.centre);
        let centre =
            rest.or_else(|| settled_path(records, TaskKind::HandsOff).median()).unwrap_or(told);
        let mut seen = Self { centre, low: centre, high: centre, free_seconds: 0.0 };
        let mut first = true;
        for record in records.iter().filter(|record| is_movement(record)) {
            let path = Trace::of(&record.recording, record.axes);
            if record.ask.kind() == TaskKind::FreeMovement {
                seen.free_seconds += path.seconds();
            }
            for piece in &path.pieces {
                if std::mem::take(&mut first) {
                    (seen.low, seen.high) = (piece.at, piece.at);
                }
                let (low, high, at) = (&mut seen.low, &mut seen.high, piece.at);
                *low = Position::new(low.right.min(at.right), low.up.min(at.up));
                *high = Position::new(high.right.max(at.right), high.up.max(at.up));
            }
        }
        seen
    }

    /// Whether pushes with a part that way were asked often enough, or everything was.
    fn was_asked(&self, records: &[TaskRecord], has_part: impl Fn(Position) -> bool) -> bool {
        let way = |direction: &Direction| has_part(Position::polar(1.0, direction.degrees()));
        let pushes = records
            .iter()
            .filter(|record| record.ask.kind() == TaskKind::Reach)
            .flat_map(|record| &record.repetitions)
            .filter(|one| matches!(one.outcome, Outcome::Done | Outcome::Skipped))
            .filter(|one| one.mark.is_none() && one.direction.as_ref().is_some_and(way))
            .count();
        pushes >= FEWEST_ASKED || self.free_seconds >= FREE_SECONDS
    }

    /// One axis, or one way along it.
    fn along(&self, records: &[TaskRecord]) -> Option<Noticed> {
        let covered = self.high - self.low;
        let is_across = covered.right >= covered.up;
        let (moved, other) =
            if is_across { (covered.right, covered.up) } else { (covered.up, covered.right) };
        let part = move |at: Position| if is_across { at.right } else { at.up };
        let rest = move |at: Position| if is_across { at.up } else { at.right };
        let is_still = other <= STILL.max(STILL_SHARE * moved);
        if moved < MOVED || !is_still || !self.was_asked(records, |at| rest(at).abs() > 0.5) {
            return None;
        }
        let centre = part(self.centre);
        let (up, down) = (part(self.high) - centre, centre - part(self.low));
        let (there, back) = (up.max(down), up.min(down));
        let way_back = if up >= down { -1.0 } else { 1.0 };
        let asked_back = self.was_asked(records, |at| way_back * part(at) > 0.5);
        if there >= MOVED && back <= STILL.max(STILL_SHARE * there) && asked_back {
            let at_end = centre.abs() >= AT_END;
            return Some(Noticed {
                what: StickTrait::OneWay,
                evidence: Evidence::WentOneWay { there, back },
                sureness: if at_end { Sureness::Firm } else { Sureness::Rough },
            });
        }
        Some(Noticed {
            what: StickTrait::OneAxis,
            evidence: Evidence::Covered { moved, other },
            // An axis that never changes is not there; one that hardly does may be the person's.
            sureness: if other <= NEVER { Sureness::Firm } else { Sureness::Rough },
        })
    }

    /// A stick that stays where it is left.
    fn stays(&self, records: &[TaskRecord]) -> Option<Noticed> {
        let (mut times, mut of) = (0, 0);
        for record in records.iter().filter(|record| record.ask.kind() == TaskKind::Return) {
            let path = Trace::of(&record.recording, record.axes);
            let ended = |one: &&crate::task::Repetition| {
                one.mark.is_none() && matches!(one.outcome, Outcome::Done | Outcome::Skipped)
            };
            for one in record.repetitions.iter().filter(ended) {
                let way = path.within(one.span);
                let farthest =
                    way.distances(self.centre).into_iter().map(|far| far.0).fold(0.0, f64::max);
                let from_seconds = one.span.to_seconds - LAST_SECONDS;
                let last = way.within(Span { from_seconds, ..one.span }).median();
                let Some(last) = last.filter(|_| farthest >= LEAST_WAY) else { continue };
                of += 1;
                times += usize::from((last - self.centre).radius() > STAYED_SHARE * farthest);
            }
        }
        let most = times >= FEWEST_STAYED && times as f64 >= MOST_OF_THEM * of as f64;
        most.then_some(Noticed {
            what: StickTrait::NotSelfCentring,
            evidence: Evidence::StayedOut { times, of },
            sureness: if times >= SURELY_STAYED { Sureness::Firm } else { Sureness::Rough },
        })
    }

    /// Directions that are on or off.
    fn few_values(&self, records: &[TaskRecord]) -> Option<Noticed> {
        let covered = self.high - self.low;
        let moving = [(0, covered.right), (1, covered.up)];
        let (mut most_values, mut changes) = (0, 0);
        for (axis, _) in moving.into_iter().filter(|(_, covered)| *covered >= MOVED) {
            let mut values = Vec::new();
            for record in records.iter().filter(|record| is_movement(record)) {
                let own: Vec<f64> = super::device::step::axis_values(record, axis).collect();
                let differs = |pair: &&[f64]| (pair[1] - pair[0]).abs() >= SAME_VALUE;
                changes += own.windows(2).filter(differs).count();
                values.extend(own);
            }
            sort_numbers(&mut values);
            values.dedup_by(|next, before| (*next - *before).abs() < SAME_VALUE);
            most_values = most_values.max(values.len());
        }
        let few = (2..=SWITCH_VALUES).contains(&most_values) && changes >= FEWEST_CHANGES;
        few.then_some(Noticed {
            what: StickTrait::Switches,
            evidence: Evidence::FewValues { values: most_values, changes },
            sureness: if changes >= MANY_CHANGES { Sureness::Firm } else { Sureness::Rough },
        })
    }
}

#[cfg(test)]
mod tests;
