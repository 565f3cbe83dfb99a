//! The helper at a played task: goes on where a repetition does not end, and ends a task in vain.

use crate::task::{TaskKind, TaskView};

/// A helper who sees that nothing comes of a repetition goes on to the next one after this long,
/// seconds: of a movement, and of a press.
const MOVEMENT_SECONDS: f64 = 60.0;
const PRESS_SECONDS: f64 = 6.0;
/// A helper who had to go on so many movements in a row ends the task there.
const MOST_IN_VAIN: usize = 4;

/// What the helper does at the moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Help {
    /// Waits.
    Waits,
    /// Goes on: [`crate::task::Command::Next`].
    GoesOn,
    /// Goes on for the last time, and ends the task.
    EndsTask,
}

/// A helper who watches one task.
#[derive(Clone, Copy, Debug)]
pub struct Helper {
    /// The repetition that is watched, as counted by [`TaskView::step`].
    step: usize,
    since_seconds: f64,
    /// Whether the helper went on in it.
    went_on: bool,
    in_vain: usize,
}

impl Helper {
    /// A helper who watches from now on.
    #[must_use]
    pub const fn new(now_seconds: f64) -> Self {
        Self { step: 0, since_seconds: now_seconds, went_on: false, in_vain: 0 }
    }

    /// What the helper does who sees this of the task.
    pub fn watches(&mut self, view: &TaskView, now_seconds: f64) -> Help {
        if view.step != self.step {
            // Only where nobody went on it ended of itself.
            if !self.went_on {
                self.in_vain = 0;
            }
            *self = Self { in_vain: self.in_vain, ..Self::new(now_seconds) };
            self.step = view.step;
        }
        let is_press = view.kind == TaskKind::Presses;
        let patience = if is_press { PRESS_SECONDS } else { MOVEMENT_SECONDS };
        if now_seconds - self.since_seconds <= patience {
            return Help::Waits;
        }
        self.since_seconds = now_seconds;
        self.went_on = true;
        self.in_vain += 1;
        let ends = self.in_vain >= MOST_IN_VAIN && !is_press;
        if ends { Help::EndsTask } else { Help::GoesOn }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::invented::{Model, play};
    use crate::task::{Known, Outcome, TaskAsk, TaskRecord, TaskRun};
    use crate::{Direction, Sample, StickAxes};

    /// Repetitions that are over, and how long it took, seconds.
    fn over(records: &[TaskRecord]) -> (usize, f64) {
        let record = &records[records.len() - 1];
        let is_over = |outcome| matches!(outcome, Outcome::Done | Outcome::Skipped);
        let count = record.repetitions.iter().filter(|one| is_over(one.outcome)).count();
        let polled = &record.recording.polled;
        (count, polled[polled.len() - 1].to_seconds - polled[0].from_seconds)
    }

    #[test]
    fn a_task_in_vain_is_ended() {
        let directions = Direction::EIGHT.to_vec();
        let hold = TaskAsk::Hold {
            directions: directions.clone(),
            levels: vec![0.5],
            rounds: 2,
            seconds: 3.0,
        };
        let sustained =
            TaskAsk::Sustained { directions: directions.clone(), level: 0.5, seconds: 20.0 };
        // Nobody so slow arrives anywhere within a minute.
        let mut slow = Model::default();
        slow.body.movement_seconds = 1000.0;
        for ask in [hold, sustained] {
            let (count, seconds) = over(&play(slow.clone(), 5, std::slice::from_ref(&ask), 0.004));
            assert_eq!(count, MOST_IN_VAIN, "{ask:?}");
            let patience = MOST_IN_VAIN as f64 * MOVEMENT_SECONDS;
            assert!((seconds - patience).abs() < 10.0, "{seconds} {ask:?}");
        }
        // Who can do it does all of it.
        let ask = TaskAsk::Reach { directions, rounds: 1 };
        assert_eq!(over(&play(Model::default(), 5, &[ask], 0.004)).0, 8);
    }

    #[test]
    fn what_ends_of_itself_begins_the_count_anew() {
        let ask = TaskAsk::Reach { directions: Direction::FOUR.to_vec(), rounds: 2 };
        let first = Sample::default();
        let run = TaskRun::start(ask, StickAxes::default(), Known::default(), 0.0, &first);
        let mut view = run.view();
        let mut helper = Helper::new(0.0);
        let mut now = 0.0;
        let mut step = |step: usize, seconds: f64| {
            view.step = step;
            assert_eq!(helper.watches(&view, now), Help::Waits);
            now += seconds;
            let help = helper.watches(&view, now);
            // How hard it was is asked for some seconds, and that is still the same step.
            now += 3.0;
            assert_eq!(helper.watches(&view, now), Help::Waits);
            help
        };
        for one in 1..4 {
            assert_eq!(step(one, 61.0), Help::GoesOn);
        }
        // The fourth came of itself.
        assert_eq!(step(4, 20.0), Help::Waits);
        for one in 5..8 {
            assert_eq!(step(one, 61.0), Help::GoesOn);
        }
        assert_eq!(step(8, 61.0), Help::EndsTask);
    }
}
