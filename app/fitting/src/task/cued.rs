//! The tasks that ask one thing after another: pushes, holds, ways back, presses.

mod show;
mod told;

use super::cue::{Cue, What, cues};
use super::free::{Sorted, Sorting};
use super::pace::Pace;
use super::stands_out::falls_short;
use super::watch::{Held, Watch};
use super::{Asking, Known, MarkReason, Outcome, PressAsk, Push, Repetition, TaskAsk};
use crate::Span;
use crate::stick_kind::Mover;
use rand_core::Rng;
use rand_pcg::Pcg32;
use std::collections::VecDeque;

/// The moment of rest while a queried push waits for an answer, seconds. The question stays open
/// when the next cue comes; nobody has to answer in time.
const BETWEEN_QUERIED_SECONDS: f64 = 4.0;

/// The repetition that runs.
#[derive(Clone, Debug)]
struct Present {
    cue: Cue,
    since: f64,
    mark: Option<MarkReason>,
    watch: Watch,
    /// When the stick was last outside the quiet radius, or a button down.
    moved: f64,
}

/// A task of repetitions while it runs.
#[derive(Clone, Debug)]
pub(super) struct Cued {
    pub(super) repetitions: Vec<Repetition>,
    /// The cue of each repetition, and how long it ran, seconds; beside `repetitions`.
    asked: Vec<(Cue, f64)>,
    /// How far each went, if it was a push one way, share of travel; beside `repetitions`.
    lengths: Vec<Option<f64>>,
    /// The last one went somewhere, and how far by the measure is not known yet.
    is_unmeasured: bool,
    queue: VecDeque<Cue>,
    present: Option<Present>,
    known: Known,
    /// What is done is sorted into these, where no way is asked.
    free: Option<Sorting>,
    /// The moment of rest: since when, and how long, seconds.
    between_since: f64,
    between_seconds: f64,
    /// Draws the moments of rest that are not to be foreseen.
    random: Pcg32,
    /// Those that wait for an answer, and those that were called meant.
    open_queries: VecDeque<usize>,
    meant: Vec<usize>,
    /// Whether how hard the last repetition was is asked.
    asks_effort: bool,
    last_push: Option<Push>,
    pace: Pace,
}

impl Cued {
    /// The machine for a task whose numbers are in range; one that asks for nothing one after
    /// another has nothing to cue.
    pub(super) fn new(ask: &TaskAsk, known: Known, asking: Asking) -> Self {
        Self::asking_for(cues(ask), ask, known, asking)
    }

    /// A machine that asks in another way for what this one still had to ask.
    pub(super) fn rest_in(&self, ask: &TaskAsk, asking: Asking) -> Self {
        let left = self.queue.iter().map(|cue| Cue { instead_of: None, ..*cue }).collect();
        Self::asking_for(left, ask, self.known.clone(), asking)
    }

    fn asking_for(mut queue: VecDeque<Cue>, ask: &TaskAsk, known: Known, asking: Asking) -> Self {
        let free = (asking == Asking::FreeMovement).then(|| Sorting::of(ask));
        if free.is_some() {
            // Whichever button, and however it is pressed.
            queue.retain(
                |cue| !matches!(cue.what, What::Press { press, .. } if press != PressAsk::Once),
            );
        }
        if known.kind.mover == Mover::Breath {
            // No breath is kept up for a press.
            queue.retain(|cue| !matches!(cue.what, What::Press { press: PressAsk::Long, .. }));
        }
        Self {
            repetitions: Vec::new(),
            asked: Vec::new(),
            lengths: Vec::new(),
            is_unmeasured: false,
            present: None,
            known,
            free,
            between_since: 0.0,
            between_seconds: 0.0,
            // Any fixed numbers do, as for the order of the cues.
            random: Pcg32::new(0x0072_6573_7473, 11),
            open_queries: VecDeque::new(),
            meant: Vec::new(),
            asks_effort: false,
            last_push: None,
            pace: Pace::new(queue.front().map(|cue| cue.what)),
            queue,
        }
    }

    /// Begins: with a cue, or, where the moment of the cue is not to be foreseen, with a moment
    /// of rest.
    pub(super) fn begin(&mut self, now: f64) {
        match self.queue.front() {
            Some(Cue { what: What::Press { .. }, .. }) => self.rest_from(now),
            _ => {
                self.ask_next(now);
            }
        }
    }

    /// Asks the next thing, if there is one. True when something is asked now.
    pub(super) fn ask_next(&mut self, now: f64) -> bool {
        let Some(cue) = self.queue.pop_front() else {
            return false;
        };
        let watch = Watch::new(cue.what, &self.known, self.free.as_ref());
        self.present = Some(Present { cue, since: now, mark: None, watch, moved: now });
        true
    }

    /// The button that is asked for at the moment.
    pub(super) fn asked_button(&self) -> Option<usize> {
        if self.free.is_some() {
            return None;
        }
        let press = self.present.as_ref().and_then(|present| present.cue.what.press());
        press.map(|(button, _)| button)
    }

    /// Takes in what held from `from` to `to`. True when the present repetition is over by that.
    pub(super) fn pass(&mut self, from: f64, to: f64, held: Held) -> bool {
        let centre = self.known.centre;
        let Some(present) = &mut self.present else {
            return false;
        };
        if held.any_down || (held.at - centre).radius() > self.known.quiet_radius {
            present.moved = to;
        }
        let over = present.watch.hold_for(from, to, held, centre);
        self.last_push = present.watch.push().or(self.last_push);
        if over {
            self.end_done(to);
        }
        over
    }

    /// Whether the moment of rest between two repetitions is over.
    pub(super) fn is_rested(&self, now: f64) -> bool {
        let queried = self.open_queries.iter().any(|index| index + 1 == self.repetitions.len());
        let rest = if queried { BETWEEN_QUERIED_SECONDS } else { self.between_seconds };
        now - self.between_since >= rest
    }

    /// Begins the moment of rest (anew): after a repetition, a question or a pause.
    pub(super) fn rest_from(&mut self, now: f64) {
        self.between_since = now;
        let last = self.asked.last().map(|(cue, _)| cue.what);
        let what = last.or_else(|| self.queue.front().map(|cue| cue.what));
        self.between_seconds = what.map_or(0.0, |what| {
            let chance = match what {
                What::Press { .. } => f64::from(self.random.next_u32()) / f64::from(u32::MAX),
                _ => 0.0,
            };
            what.rest_after_seconds(chance)
        });
    }

    /// Ends the present repetition, which was done. One that was not watched is no repetition: it is
    /// asked again right away, but only once, for a machine that is too slow stays so.
    pub(super) fn end_done(&mut self, now: f64) {
        let Some(present) = &self.present else {
            return;
        };
        let cue = present.cue;
        if !present.watch.is_unwatched() {
            self.end_present(now, Outcome::Done);
        } else if cue.was_unwatched {
            self.end_present(now, Outcome::Skipped);
        } else {
            self.end_present(now, Outcome::AskedAgain);
            self.queue.push_front(Cue { was_unwatched: true, ..cue });
        }
    }

    /// Ends the present repetition and puts it among the others.
    fn end_present(&mut self, now: f64, outcome: Outcome) {
        let Some(mut present) = self.present.take() else {
            return;
        };
        let index = self.repetitions.len();
        let whole = Span { from_seconds: present.since, to_seconds: now.max(present.since) };
        let done = outcome == Outcome::Done;
        let queried_degrees = present.watch.queried_degrees().filter(|_| done);
        let what = present.cue.what;
        let span = present.watch.ended(now).unwrap_or(whole);
        let Sorted { direction, level, button } = match &self.free {
            Some(sorting) => present.watch.sorted(sorting, &self.known),
            None => Sorted {
                direction: what.direction(),
                level: what.level(),
                button: what.press().map(|(button, _)| button),
            },
        };
        self.repetitions.push(Repetition {
            direction,
            level,
            span,
            outcome,
            mark: present.mark,
            queried_degrees,
            queried_short: None,
            button,
            press: what.press().map(|(_, press)| press),
            effort: None,
        });
        self.asked.push((present.cue, whole.seconds()));
        let is_push = matches!(what, What::Push(_)) && self.free.is_none();
        let length = present.watch.push().map(|push| push.reach);
        let length = length.filter(|_| is_push && done);
        self.lengths.push(length);
        self.is_unmeasured = length.is_some();
        self.rest_from(now);
        self.asks_effort = done && matches!(what, What::Sustain { .. });
        if done {
            self.pace.add(whole.seconds());
            if queried_degrees.is_some() {
                self.open_queries.push_back(index);
            }
            if queried_degrees.is_some() || present.mark.is_some() {
                self.ask_once_more(index);
            }
        }
    }

    /// The span of the push that just ended, where it is not measured yet.
    pub(super) fn unmeasured_push(&self) -> Option<Span> {
        self.repetitions.last().filter(|_| self.is_unmeasured).map(|last| last.span)
    }

    /// Takes in how far the push that just ended went as the figures will say, share of travel, and
    /// queries what stands out by now of the pushes that way; what no longer does counts again.
    pub(super) fn push_measured(&mut self, reach: Option<f64>) {
        self.is_unmeasured = false;
        let Some((last, length)) = self.repetitions.last().zip(self.lengths.last_mut()) else {
            return;
        };
        *length = reach.or(*length);
        let direction = last.direction;
        let same = self.repetitions.iter().zip(&self.lengths).enumerate();
        let same: Vec<(usize, f64)> = same
            .filter(|(_, (one, _))| one.direction == direction && one.counts_but_for_length())
            .filter_map(|(index, (_, length))| Some((index, (*length)?)))
            .collect();
        for &(index, reach) in &same {
            let others = same.iter().filter(|one| one.0 != index).map(|one| one.1).collect();
            let odd = falls_short(reach, others).filter(|_| !self.meant.contains(&index));
            let Some(repetition) = self.repetitions.get_mut(index) else { continue };
            let before = std::mem::replace(&mut repetition.queried_short, odd);
            if before.is_none() && odd.is_some() {
                self.open_queries.push_back(index);
                self.ask_once_more(index);
            } else if before.is_some() && odd.is_none() {
                self.open_queries.retain(|open| *open != index);
                self.not_once_more(index);
            }
        }
    }

    /// The left-out repetition is asked once more at the end, unless it was that already; a
    /// longer hold that hurt is not.
    fn ask_once_more(&mut self, index: usize) {
        let Some((cue, _)) = self.asked.get(index).copied() else {
            return;
        };
        let waits = |queued: &Cue| queued.instead_of == Some(index);
        let hurt = self.repetitions.get(index).and_then(|one| one.mark) == Some(MarkReason::Pain);
        if hurt && matches!(cue.what, What::Sustain { .. }) {
            self.queue.retain(|queued| !waits(queued));
        } else if cue.instead_of.is_none() && !self.queue.iter().any(waits) {
            self.queue.push_back(Cue { instead_of: Some(index), ..cue });
        }
    }

    /// What was left out counts again: it need not be asked once more.
    fn not_once_more(&mut self, index: usize) {
        if self.repetitions.get(index).is_some_and(Repetition::counts) {
            self.queue.retain(|queued| queued.instead_of != Some(index));
        }
    }

    /// Whether something runs.
    pub(super) const fn is_running(&self) -> bool {
        self.present.is_some()
    }

    /// Whether something is still to be asked after what runs.
    pub(super) fn has_more(&self) -> bool {
        !self.queue.is_empty()
    }

    /// Whether it is asked how hard the last repetition was.
    pub(super) const fn asks_effort(&self) -> bool {
        self.asks_effort
    }
}
