//! How long things take this person: a middling pace at first, then the person's own.

use crate::task::pace::{self, READY_SECONDS};
use crate::task::planner::Amount;
use crate::task::{Outcome, TaskAsk, TaskKind, TaskRecord};

/// The middling pace weighs as much as this many repetitions.
const GUESS_REPETITIONS: f64 = 2.0;
/// While nothing is known of the pace, bursts are kept this much shorter.
const CAUTION: f64 = 1.25;
/// At a known pace one task still takes up to so much longer than was said.
const KNOWN_CAUTION: f64 = 1.1;
/// What was seen one record ago weighs this much of the newest.
const OLDER: f64 = 0.6;
/// No more time than this, as a factor, is kept free for a second of muscle work.
const MOST_SECONDS_FACTOR: f64 = 1.5;
/// A person's pace is held to so many times the middling one.
const SLOWEST: f64 = 4.0;

/// This person's pace as factors on the middling one.
#[derive(Clone, Copy, Debug)]
pub(super) struct PaceNow {
    /// By kind in the order of [`TaskKind::ALL`]: seconds and muscle seconds.
    factors: [Amount; 9],
    /// Of all that is cued.
    work: Amount,
    is_known: bool,
}

/// Sums behind a factor: the middling pace of what was done, and what it took.
#[derive(Clone, Copy, Debug, Default)]
struct Sums {
    middling: Amount,
    took: Amount,
    /// Of one repetition.
    each: Amount,
}

impl Sums {
    /// What is older weighs less: people tire, and what counts as rest is told better and better.
    fn fade(&mut self) {
        for amount in [&mut self.middling, &mut self.took] {
            amount.seconds *= OLDER;
            amount.muscle_seconds *= OLDER;
        }
    }

    fn factor(self, guess: Amount) -> Amount {
        let weight = GUESS_REPETITIONS;
        let one = |middling: f64, took: f64, each: f64, guess: f64| {
            let prior = weight * each;
            if middling + prior <= 0.0 {
                return guess;
            }
            ((took + guess * prior) / (middling + prior)).clamp(1.0 / SLOWEST, SLOWEST)
        };
        Amount {
            seconds: one(
                self.middling.seconds,
                self.took.seconds,
                self.each.seconds,
                guess.seconds,
            ),
            muscle_seconds: one(
                self.middling.muscle_seconds,
                self.took.muscle_seconds,
                self.each.muscle_seconds,
                guess.muscle_seconds,
            ),
        }
    }
}

/// From the first look of a record to its last, seconds, without its pauses.
pub(super) fn elapsed_seconds(record: &TaskRecord) -> f64 {
    let polled = &record.recording.polled;
    let (Some(first), Some(last)) = (polled.first(), polled.last()) else {
        return 0.0;
    };
    let paused: f64 = record.pauses.iter().map(|pause| pause.seconds()).sum();
    (last.to_seconds - first.from_seconds - paused).max(0.0)
}

fn at(kind: TaskKind) -> usize {
    TaskKind::ALL.iter().position(|one| *one == kind).unwrap_or(0)
}

/// What a task takes at a middling pace, without the reading before it.
pub(super) fn middling(ask: &TaskAsk) -> Amount {
    Amount {
        seconds: pace::expected_seconds(ask) - READY_SECONDS,
        muscle_seconds: pace::muscle_seconds(ask),
    }
}

impl PaceNow {
    /// The pace that these records show.
    pub(super) fn of(records: &[TaskRecord]) -> Self {
        let mut by_kind = [Sums::default(); 9];
        let mut all = Sums::default();
        for record in records {
            let cues = pace::repetitions(&record.ask);
            let done = record.repetitions.iter().filter(|one| one.outcome == Outcome::Done).count();
            if cues == 0 || done == 0 {
                continue;
            }
            let whole = middling(&record.ask);
            let share = done as f64 / cues as f64;
            let sums = &mut by_kind[at(record.ask.kind())];
            for sums in [sums, &mut all] {
                sums.fade();
                sums.middling.seconds += share * whole.seconds;
                sums.middling.muscle_seconds += share * whole.muscle_seconds;
                sums.took.seconds += elapsed_seconds(record);
                sums.took.muscle_seconds += record.muscle_seconds;
                sums.each = Amount {
                    seconds: whole.seconds / cues as f64,
                    muscle_seconds: whole.muscle_seconds / cues as f64,
                };
            }
        }
        let middling = Amount { seconds: 1.0, muscle_seconds: 1.0 };
        let guess = all.factor(middling);
        let mut factors = [guess; 9];
        for (kind, sums) in TaskKind::ALL.iter().zip(by_kind) {
            factors[at(*kind)] = match kind {
                // A rest takes the time that it is asked for.
                TaskKind::HandsOff | TaskKind::QuietRest | TaskKind::BusyRest => middling,
                TaskKind::FreeMovement => Amount { seconds: 1.0, ..guess },
                _ => sums.factor(guess),
            };
        }
        Self { factors, work: guess, is_known: all.middling.seconds > 0.0 }
    }

    /// What a task takes this person, without the reading before it.
    pub(super) fn of_ask(&self, ask: &TaskAsk) -> Amount {
        let factor = self.factors[at(ask.kind())];
        let middling = middling(ask);
        Amount {
            seconds: factor.seconds * middling.seconds,
            muscle_seconds: factor.muscle_seconds * middling.muscle_seconds,
        }
    }

    /// How many times the middling time a second of muscle work takes this person, held to 1.5:
    /// where hardly any of the work is seen as such, no time is kept free for it.
    pub(super) fn seconds_factor(&self) -> f64 {
        (self.work.seconds / self.work.muscle_seconds).min(MOST_SECONDS_FACTOR)
    }

    /// By how much bursts are kept shorter than they may be.
    pub(super) const fn caution(&self) -> f64 {
        if self.is_known { KNOWN_CAUTION } else { CAUTION }
    }
}
