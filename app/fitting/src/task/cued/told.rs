//! What a task of repetitions does when it is told something.

use super::{Cue, Cued, What};
use crate::task::{MarkReason, Outcome};

/// The highest effort there is.
const MOST_EFFORT: u8 = 10;

impl Cued {
    /// The person says that this repetition is done. A push that never left the quiet radius, a
    /// hold that was kept for less than half of what was asked, a longer hold without a stay of a
    /// second, a way back that was not begun and a button that was not pressed count as skipped.
    /// Where the effort is asked, nobody said.
    pub(in crate::task) fn next(&mut self, now: f64) {
        if self.present.is_none() {
            self.open_queries.clear();
        }
        if self.leave_effort(now) {
            return;
        }
        let Some(present) = &mut self.present else {
            return;
        };
        if present.watch.counts_when_ended(now) {
            self.end_done(now);
        } else {
            self.end_present(now, Outcome::Skipped);
        }
    }

    /// Leaves the present repetition, or the question how hard it was, out.
    pub(in crate::task) fn skip(&mut self, now: f64) {
        if !self.leave_effort(now) {
            self.end_present(now, Outcome::Skipped);
        }
    }

    /// How hard the last longer hold was; it may also be told anew while that is the last one.
    /// True when the question was open until now.
    pub(in crate::task) fn effort(&mut self, now: f64, effort: u8) -> bool {
        let last = self.repetitions.last_mut().filter(|last| last.outcome == Outcome::Done);
        let sustained = matches!(self.asked.last(), Some((cue, _)) if is_sustained(*cue));
        let (None, true, Some(last)) = (&self.present, sustained, last) else {
            return false;
        };
        last.effort = Some(effort.min(MOST_EFFORT));
        self.leave_effort(now)
    }

    /// The question how hard it was is over, if it is asked. The moment of rest begins with that.
    fn leave_effort(&mut self, now: f64) -> bool {
        let asked = std::mem::take(&mut self.asks_effort);
        if asked {
            self.rest_from(now);
        }
        asked
    }

    /// Asks the present repetition, or the one that is queried, or the last again, right away.
    pub(in crate::task) fn again(&mut self, now: f64) {
        if let Some(present) = &self.present {
            let cue = present.cue;
            self.end_present(now, Outcome::AskedAgain);
            self.queue.push_front(cue);
            return;
        }
        let last = self.repetitions.len().checked_sub(1);
        let Some(index) = self.open_query().or(last) else {
            return;
        };
        let (Some(last), Some((cue, ran))) =
            (self.repetitions.get_mut(index), self.asked.get(index).copied())
        else {
            return;
        };
        if !matches!(last.outcome, Outcome::Done | Outcome::Skipped) {
            return;
        }
        if last.outcome == Outcome::Done {
            self.pace.take_back(ran);
        }
        last.outcome = Outcome::AskedAgain;
        self.asks_effort = false;
        self.queue.retain(|queued| queued.instead_of != Some(index));
        self.open_queries.retain(|open| *open != index);
        self.queue.push_front(cue);
        self.rest_from(now);
    }

    /// Breaks the present repetition off for a pause: it is asked afresh afterwards.
    pub(in crate::task) fn break_off(&mut self, now: f64) {
        if let Some(present) = &self.present {
            let cue = present.cue;
            self.end_present(now, Outcome::CutShort);
            self.queue.push_front(cue);
        }
    }

    /// The task is stopped in the middle of what runs.
    pub(in crate::task) fn cut_short(&mut self, now: f64) {
        self.end_present(now, Outcome::CutShort);
    }

    /// Marks the present or last repetition.
    pub(in crate::task) fn set_mark(&mut self, mark: MarkReason) {
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
    pub(in crate::task) fn unmark(&mut self) {
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
    pub(in crate::task) fn keep_queried(&mut self) {
        if let Some(index) = self.open_query() {
            self.open_queries.retain(|open| *open != index);
            self.meant.push(index);
            if let Some(repetition) = self.repetitions.get_mut(index) {
                repetition.queried_degrees = None;
                repetition.queried_short = None;
            }
            self.not_once_more(index);
        }
    }
}

const fn is_sustained(cue: Cue) -> bool {
    matches!(cue.what, What::Sustain { .. })
}
