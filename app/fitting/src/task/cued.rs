//! The tasks that ask one thing after another: reach and hold.

use super::cue::{Cue, in_order};
use super::plan::cue_seconds;
use super::push::PushWatch;
use super::ring::RingWatch;
use super::run::LONGEST_STEP_SECONDS;
use super::{Known, MarkReason, Outcome, Prompt, Push, Repetition, Target, TaskAsk};
use crate::{Direction, Position, Span};
use std::collections::VecDeque;

/// The moment of rest between two pushes and between two holds, seconds.
const BETWEEN_PUSHES_SECONDS: f64 = 0.8;
const BETWEEN_HOLDS_SECONDS: f64 = 2.0;
/// The moment of rest while a queried push waits for an answer, seconds. The question stays open
/// when the next cue comes; nobody has to answer in time.
const BETWEEN_QUERIED_SECONDS: f64 = 4.0;
/// A pause is offered when nothing has moved for this long while a push is asked, seconds.
const SILENT_SECONDS: f64 = 20.0;

/// What is watched in the present repetition.
#[derive(Clone, Debug)]
enum Watch {
    Push(PushWatch),
    Ring(RingWatch),
}

/// The repetition that runs.
#[derive(Clone, Debug)]
struct Present {
    cue: Cue,
    since: f64,
    mark: Option<MarkReason>,
    watch: Watch,
    /// When the stick was last outside the quiet radius.
    moved: f64,
}

/// A reach or hold task while it runs.
#[derive(Clone, Debug)]
pub(super) struct Cued {
    pub(super) repetitions: Vec<Repetition>,
    /// The cue of each repetition, beside `repetitions`.
    cues: Vec<Cue>,
    queue: VecDeque<Cue>,
    present: Option<Present>,
    known: Known,
    /// How long each hold is asked to last, seconds; `None` in a reach task.
    hold_seconds: Option<f64>,
    between_since: f64,
    open_query: Option<usize>,
    last_push: Option<Push>,
    /// Length of one cue at this person's pace: first guess, then the mean, seconds.
    guess_seconds: f64,
    paced_seconds: f64,
    paced: usize,
}

impl Cued {
    /// The machine for a reach or hold whose numbers are in range; rest tasks have nothing to cue and give an empty one.
    pub(super) fn new(ask: &TaskAsk, known: Known) -> Self {
        let (queue, hold_seconds) = match ask {
            TaskAsk::Reach { directions, rounds } => (in_order(directions, None, *rounds), None),
            TaskAsk::Hold { directions, levels, rounds, seconds } => {
                (in_order(directions, Some(levels), *rounds), Some(*seconds))
            }
            _ => (VecDeque::new(), None),
        };
        Self {
            repetitions: Vec::new(),
            cues: Vec::new(),
            queue,
            present: None,
            known,
            hold_seconds,
            between_since: 0.0,
            open_query: None,
            last_push: None,
            guess_seconds: cue_seconds(ask),
            paced_seconds: 0.0,
            paced: 0,
        }
    }

    /// Asks the next thing, if there is one. True when something is asked now.
    pub(super) fn ask_next(&mut self, now: f64) -> bool {
        let Some(cue) = self.queue.pop_front() else {
            return false;
        };
        let watch = match (self.hold_seconds, cue.level) {
            (Some(seconds), Some(level)) => {
                Watch::Ring(RingWatch::new(&self.known, cue.direction, level, seconds))
            }
            _ => Watch::Push(PushWatch::new(cue.direction, self.known.quiet_radius)),
        };
        self.present = Some(Present { cue, since: now, mark: None, watch, moved: now });
        true
    }

    /// Takes in that the stick was at `at` (absolute) from `from` to `to`. True when the present
    /// repetition is over by that.
    pub(super) fn pass(&mut self, from: f64, to: f64, at: Position) -> bool {
        let centre = self.known.centre;
        let quiet_radius = self.known.quiet_radius;
        let Some(present) = &mut self.present else {
            return false;
        };
        if (at - centre).radius() > quiet_radius {
            present.moved = to;
        }
        let over = match &mut present.watch {
            Watch::Push(watch) => {
                let seconds = (to - from).min(LONGEST_STEP_SECONDS);
                let over = watch.hold_for(seconds, at - centre);
                self.last_push = watch.push().or(self.last_push);
                over
            }
            Watch::Ring(watch) => watch.hold_for(from, to, at),
        };
        if over {
            self.end_present(to, Outcome::Done);
        }
        over
    }

    /// Whether the moment of rest between two repetitions is over.
    pub(super) fn is_rested(&self, now: f64) -> bool {
        let rest = if self.open_query.is_some_and(|index| index + 1 == self.repetitions.len()) {
            BETWEEN_QUERIED_SECONDS
        } else if self.hold_seconds.is_some() {
            BETWEEN_HOLDS_SECONDS
        } else {
            BETWEEN_PUSHES_SECONDS
        };
        now - self.between_since >= rest
    }

    /// Ends the present repetition and puts it among the others.
    fn end_present(&mut self, now: f64, outcome: Outcome) {
        let Some(present) = self.present.take() else {
            return;
        };
        self.between_since = now;
        let index = self.repetitions.len();
        let whole = Span { from_seconds: present.since, to_seconds: now.max(present.since) };
        let (span, queried_degrees) = match present.watch {
            Watch::Push(watch) => (whole, watch.queried_degrees()),
            Watch::Ring(mut watch) => (watch.ended(now).unwrap_or(whole), None),
        };
        let done = outcome == Outcome::Done;
        let queried_degrees = queried_degrees.filter(|_| done);
        self.repetitions.push(Repetition {
            direction: Some(present.cue.direction),
            level: present.cue.level,
            span,
            outcome,
            mark: present.mark,
            queried_degrees,
            button: None,
            press: None,
            effort: None,
        });
        self.cues.push(present.cue);
        if done {
            self.paced += 1;
            self.paced_seconds += whole.seconds();
            if queried_degrees.is_some() {
                self.open_query = Some(index);
            }
            if queried_degrees.is_some() || present.mark.is_some() {
                self.ask_once_more(index);
            }
        }
    }

    /// The left-out repetition is asked once more at the end, unless it was that already.
    fn ask_once_more(&mut self, index: usize) {
        let Some(cue) = self.cues.get(index).copied() else {
            return;
        };
        let waits = self.queue.iter().any(|queued| queued.instead_of == Some(index));
        if cue.instead_of.is_none() && !waits {
            self.queue.push_back(Cue { instead_of: Some(index), ..cue });
        }
    }

    /// What was left out counts again: it need not be asked once more.
    fn not_once_more(&mut self, index: usize) {
        if self.repetitions.get(index).is_some_and(Repetition::counts) {
            self.queue.retain(|queued| queued.instead_of != Some(index));
        }
    }

    /// The person says that this repetition is done. A push that never left the quiet radius, and
    /// a hold that was kept for less than half of what was asked, count as skipped.
    pub(super) fn next(&mut self, now: f64) {
        self.open_query = self.open_query.filter(|_| self.present.is_some());
        let outcome = match &mut self.present {
            None => return,
            Some(Present { watch: Watch::Push(watch), .. }) => {
                if watch.is_push() {
                    Outcome::Done
                } else {
                    Outcome::Skipped
                }
            }
            Some(Present { watch: Watch::Ring(watch), .. }) => {
                let longest = watch.ended(now).map_or(0.0, Span::seconds);
                let half = self.hold_seconds.unwrap_or(0.0) / 2.0;
                if longest >= half { Outcome::Done } else { Outcome::Skipped }
            }
        };
        self.end_present(now, outcome);
    }

    /// Leaves the present repetition out.
    pub(super) fn skip(&mut self, now: f64) {
        self.end_present(now, Outcome::Skipped);
    }

    /// Asks the present or last repetition again, right away.
    pub(super) fn again(&mut self, now: f64) {
        if let Some(present) = &self.present {
            let cue = present.cue;
            self.end_present(now, Outcome::AskedAgain);
            self.queue.push_front(cue);
            return;
        }
        let Some(index) = self.repetitions.len().checked_sub(1) else {
            return;
        };
        let Some(last) = self.repetitions.get_mut(index) else {
            return;
        };
        if !matches!(last.outcome, Outcome::Done | Outcome::Skipped) {
            return;
        }
        if last.outcome == Outcome::Done {
            self.paced = self.paced.saturating_sub(1);
            self.paced_seconds = (self.paced_seconds - last.span.seconds()).max(0.0);
        }
        last.outcome = Outcome::AskedAgain;
        self.queue.retain(|queued| queued.instead_of != Some(index));
        if self.open_query == Some(index) {
            self.open_query = None;
        }
        if let Some(cue) = self.cues.get(index) {
            self.queue.push_front(*cue);
        }
        self.between_since = now;
    }

    /// Breaks the present repetition off for a pause: it is asked afresh afterwards.
    pub(super) fn break_off(&mut self, now: f64) {
        if let Some(present) = &self.present {
            let cue = present.cue;
            self.end_present(now, Outcome::CutShort);
            self.queue.push_front(cue);
        }
    }

    /// Begins the moment of rest anew: after a pause.
    pub(super) fn rest_from(&mut self, now: f64) {
        self.between_since = now;
    }

    /// The task is stopped in the middle of what runs.
    pub(super) fn cut_short(&mut self, now: f64) {
        self.end_present(now, Outcome::CutShort);
    }

    /// Marks the present or last repetition.
    pub(super) fn set_mark(&mut self, mark: MarkReason) {
        if let Some(present) = &mut self.present {
            present.mark = Some(mark);
        } else if let Some(last) = self.repetitions.last_mut() {
            last.mark = Some(mark);
            if last.outcome == Outcome::Done {
                self.ask_once_more(self.repetitions.len() - 1);
            }
        }
    }

    /// Takes the last mark back.
    pub(super) fn unmark(&mut self) {
        if let Some(present) = &mut self.present
            && present.mark.take().is_some()
        {
            return;
        }
        if let Some(index) = self.repetitions.iter().rposition(|one| one.mark.is_some()) {
            if let Some(repetition) = self.repetitions.get_mut(index) {
                repetition.mark = None;
            }
            self.not_once_more(index);
        }
    }

    /// The queried push was meant.
    pub(super) fn keep_queried(&mut self) {
        if let Some(index) = self.open_query.take() {
            if let Some(repetition) = self.repetitions.get_mut(index) {
                repetition.queried_degrees = None;
            }
            self.not_once_more(index);
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

    /// Which repetition, from 1, and of how many. What is asked again is not counted twice.
    pub(super) fn step(&self) -> (usize, usize) {
        let finished = self.finished();
        let of = finished + usize::from(self.present.is_some()) + self.queue.len();
        ((finished + 1).min(of.max(1)), of.max(1))
    }

    fn finished(&self) -> usize {
        let is_over = |one: &&Repetition| matches!(one.outcome, Outcome::Done | Outcome::Skipped);
        self.repetitions.iter().filter(is_over).count()
    }

    /// How much is there, 0..=1.
    pub(super) fn progress(&self) -> f64 {
        let left = self.queue.len() + usize::from(self.present.is_some());
        let finished = self.finished();
        if left + finished == 0 { 1.0 } else { finished as f64 / (left + finished) as f64 }
    }

    /// About how long the rest takes at this person's pace, seconds.
    pub(super) fn left_seconds(&self, now: f64) -> f64 {
        // The first guess weighs as much as two repetitions.
        let between = if self.hold_seconds.is_some() {
            BETWEEN_HOLDS_SECONDS
        } else {
            BETWEEN_PUSHES_SECONDS
        };
        let paced = self.paced_seconds + between * self.paced as f64;
        let each = (2.0 * self.guess_seconds + paced) / (2.0 + self.paced as f64);
        let present = self
            .present
            .as_ref()
            .map_or(0.0, |present| (each - (now - present.since)).clamp(0.0, each));
        present + each * self.queue.len() as f64
    }

    /// What is asked: by the present repetition, or to come back between two, or, before the
    /// first, what it will be.
    pub(super) fn prompt(&self) -> Prompt {
        match &self.present {
            Some(Present { cue, watch, .. }) => match watch {
                Watch::Push(watch) if watch.is_coming_back() => Prompt::ComeBack,
                Watch::Push(_) => Prompt::Push(cue.direction),
                Watch::Ring(watch) if watch.is_staying() => Prompt::StayInRing(cue.direction),
                Watch::Ring(_) => Prompt::ToRing(cue.direction),
            },
            None => Prompt::ComeBack,
        }
    }

    /// What will be asked first.
    pub(super) fn first_prompt(&self) -> Prompt {
        let direction = self.queue.front().map_or(Direction::Up, |cue| cue.direction);
        if self.hold_seconds.is_some() {
            Prompt::ToRing(direction)
        } else {
            Prompt::Push(direction)
        }
    }

    /// The ring of the present hold.
    pub(super) fn target(&self) -> Option<Target> {
        match &self.present {
            Some(Present { watch: Watch::Ring(watch), .. }) => Some(watch.target()),
            _ => None,
        }
    }

    /// How far the present hold has come, 0..=1.
    pub(super) fn hold_progress(&self, now: f64) -> f64 {
        match &self.present {
            Some(Present { watch: Watch::Ring(watch), .. }) => watch.progress(now),
            _ => 0.0,
        }
    }

    /// The running or last push.
    pub(super) const fn push(&self) -> Option<Push> {
        self.last_push
    }

    /// The open question: how far off a push went, degrees.
    pub(super) fn query(&self) -> Option<f64> {
        self.open_query
            .and_then(|index| self.repetitions.get(index))
            .and_then(|repetition| repetition.queried_degrees)
    }

    /// The mark on the present or last repetition.
    pub(super) fn mark(&self) -> Option<MarkReason> {
        match &self.present {
            Some(present) => present.mark,
            None => self.repetitions.last().and_then(|repetition| repetition.mark),
        }
    }

    /// Marked repetitions, the present one included.
    pub(super) fn marked(&self) -> usize {
        let present = self.present.as_ref().is_some_and(|present| present.mark.is_some());
        self.repetitions.iter().filter(|one| one.mark.is_some()).count() + usize::from(present)
    }

    /// Whether nothing has moved for so long that a pause is offered.
    pub(super) fn is_silent(&self, now: f64) -> bool {
        let asked = matches!(self.prompt(), Prompt::Push(_) | Prompt::ToRing(_));
        asked && self.present.as_ref().is_some_and(|present| now - present.moved >= SILENT_SECONDS)
    }
}
