//! What is drawn of a task of repetitions.

use super::{Cued, What};
use crate::Direction;
use crate::task::pace::ANSWER_SECONDS;
use crate::task::watch::first_prompt;
use crate::task::{MarkReason, Outcome, Prompt, Push, Query, Repetition, Target};

/// A pause is offered when nothing has moved for this long while something is asked, seconds.
const SILENT_SECONDS: f64 = 20.0;

impl Cued {
    /// Which repetition, from 1, and of how many. What is asked again is not counted twice; while
    /// the effort is asked, it is still the one that was.
    pub(in crate::task) fn step(&self) -> (usize, usize) {
        let finished = self.finished();
        let of = (finished + self.left()).max(1);
        let step = if self.asks_effort { finished } else { finished + 1 };
        (step.clamp(1, of), of)
    }

    fn finished(&self) -> usize {
        let is_over = |one: &&Repetition| matches!(one.outcome, Outcome::Done | Outcome::Skipped);
        self.repetitions.iter().filter(is_over).count()
    }

    /// Repetitions not over yet.
    fn left(&self) -> usize {
        self.queue.len() + usize::from(self.present.is_some())
    }

    /// How much is there, 0..=1.
    pub(in crate::task) fn progress(&self) -> f64 {
        let (left, finished) = (self.left(), self.finished());
        if left + finished == 0 { 1.0 } else { finished as f64 / (left + finished) as f64 }
    }

    /// About how long the rest takes at this person's pace, seconds.
    pub(in crate::task) fn left_seconds(&self, now: f64) -> f64 {
        let each = self.pace.each_seconds();
        let present = self
            .present
            .as_ref()
            .map_or(0.0, |present| (each - (now - present.since)).clamp(0.0, each));
        let answer = if self.asks_effort { ANSWER_SECONDS } else { 0.0 };
        present + answer + each * self.queue.len() as f64
    }

    /// What is asked: by the present repetition, or how hard the last one was, or to come back
    /// between two, or between two presses to rest.
    pub(in crate::task) fn prompt(&self) -> Prompt {
        let near = self.asked.last().map(|(cue, _)| cue).or_else(|| self.queue.front());
        match (&self.present, near.map(|cue| cue.what)) {
            (Some(present), _) => present.watch.prompt(present.cue.what, self.free.is_some()),
            (None, _) if self.asks_effort => Prompt::HowHard,
            (None, Some(What::Press { .. })) => Prompt::Rest,
            (None, _) => Prompt::ComeBack,
        }
    }

    /// What will be asked first.
    pub(in crate::task) fn first_prompt(&self) -> Prompt {
        let free = self.free.is_some();
        self.queue.front().map_or(Prompt::Push(Direction::Up), |cue| first_prompt(cue.what, free))
    }

    /// The ring of the present repetition, where there is one.
    pub(in crate::task) fn target(&self) -> Option<Target> {
        self.present.as_ref().and_then(|present| present.watch.target())
    }

    /// How far the present stay in a ring has come, 0..=1.
    pub(in crate::task) fn hold_progress(&self, now: f64) -> f64 {
        self.present.as_ref().map_or(0.0, |present| present.watch.progress(now))
    }

    /// The running or last push.
    pub(in crate::task) const fn push(&self) -> Option<Push> {
        self.last_push
    }

    /// The repetition that is asked about: the first of those that wait.
    pub(super) fn open_query(&self) -> Option<usize> {
        let waits =
            |index: &usize| self.repetitions.get(*index).is_some_and(Repetition::is_queried);
        self.open_queries.iter().copied().find(waits)
    }

    /// The open question.
    pub(in crate::task) fn query(&self) -> Option<Query> {
        self.open_query().and_then(|index| self.repetitions.get(index))?.query()
    }

    /// The mark on the present or last repetition.
    pub(in crate::task) fn mark(&self) -> Option<MarkReason> {
        match &self.present {
            Some(present) => present.mark,
            None => self.repetitions.last().and_then(|repetition| repetition.mark),
        }
    }

    /// Marked repetitions, the present one included.
    pub(in crate::task) fn marked(&self) -> usize {
        let present = self.present.as_ref().is_some_and(|present| present.mark.is_some());
        self.repetitions.iter().filter(|one| one.mark.is_some()).count() + usize::from(present)
    }

    /// Whether nothing has moved for so long that a pause is offered. The question how hard it
    /// was waits for ever.
    pub(in crate::task) fn is_silent(&self, now: f64) -> bool {
        self.present.as_ref().is_some_and(|present| {
            let since = present.watch.silent_since(present.moved);
            since.is_some_and(|since| now - since >= SILENT_SECONDS)
        })
    }
}
