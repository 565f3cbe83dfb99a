//! Plans by time: what to ask in the minutes and the muscle work a person has.
//!
//! There is one planner. It knows what was recorded so far (nothing, at first), predicts for every
//! piece of a task that could be asked next how much narrower it makes what is still unknown, and
//! takes the piece that is worth most for its time until the minutes or the muscle work are used.
//! After every task it plans the rest anew, at the person's own pace, so that the minutes that
//! were said hold. On another day it goes on from what is kept, in the same way.
//!
//! What "worth" means is one number, [`unknown`]: the mean relative width of what a fitting rests
//! on. Sums and order are fixed, so the same records give the same plan on every machine.

mod choose;
mod gathered;
mod pace_now;
mod piece;
mod unknown;
mod wanted;

pub use gathered::Past;
pub use unknown::{WORST_WIDTH, unknown};
pub use wanted::{Bound, Wanted, Working};

use self::choose::Choosing;
use self::gathered::Gathered;
use self::pace_now::PaceNow;
use super::pace::READY_SECONDS;
use super::{TaskAsk, TaskKind, TaskRecord};
use crate::Direction;
use crate::measure::Ended;

/// Of the minutes, this share is planned; the rest is for talking and for what nobody foresees.
/// Common practice, no source.
const PLANNED_SHARE: f64 = 0.9;
/// Of the muscle work that is allowed, this share is planned, so that a person who is a tenth
/// slower than thought stays within it.
const PLANNED_MUSCLE_SHARE: f64 = 0.9;
/// What a pause between two bursts is counted as, seconds. It ends when somebody says so; there
/// is no time limit.
pub const PAUSE_SECONDS: f64 = 20.0;

/// Time, and how much of it is muscle work, both in seconds.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Amount {
    /// Seconds, reading and pauses included.
    pub seconds: f64,
    /// Seconds of muscle work.
    pub muscle_seconds: f64,
}

/// Why a task is in the plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reason {
    /// What the stick does alone comes first: everything later is told from it.
    StickAlone,
    /// Nothing of this kind is known yet.
    NothingYet(TaskKind),
    /// This direction is needed, and there are too few pushes that way.
    Missing(Direction),
    /// This direction is known least well of the needed ones.
    Rough(Direction),
    /// Rest is known, and only roughly.
    RestRough,
    /// Steadiness is known, and only roughly.
    HoldRough,
    /// It was easy at half of own reach, and only farther out it shows what can be kept up.
    WasEasy,
    /// It was kept up once, and once may be chance.
    Once(TaskKind),
    /// The directions between the four show whether the mount is turned.
    BetweenTheFour,
    /// The time that is left makes this surer.
    Surer(TaskKind),
    /// Somebody asked for more of it.
    Asked,
}

/// One task of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Planned {
    /// What is asked.
    pub ask: TaskAsk,
    /// Why.
    pub reason: Reason,
    /// Whether a pause is offered before it: the burst before is over.
    pub after_pause: bool,
    /// What it is thought to take, reading included, the pause before it not.
    pub amount: Amount,
}

/// What is asked in the minutes and the muscle work a person has: the tasks in the order of
/// greatest worth for their time, so that any beginning of the plan leaves a usable result.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// What it was made for.
    pub wanted: Wanted,
    /// The tasks still to be done, in order.
    pub tasks: Vec<Planned>,
    /// What was said before the first task: what the whole takes, reading and pauses included.
    pub said: Amount,
    /// What the tasks that are over took, with reading and the pauses of the plan.
    pub used: Amount,
    /// The tasks that are over, in order, and how each ended. Of what was not done it is still to be
    /// asked what it asked.
    pub over: Vec<(TaskAsk, Ended)>,
    /// Since the last pause: seconds of tasks, and of muscle work since the last rest.
    burst: Amount,
}

impl Plan {
    /// The plan of greatest worth for what is wanted, from what is known already. It never takes
    /// more than the wanted minutes and muscle work; where nothing fits in them it is empty.
    #[must_use]
    pub fn new(wanted: Wanted, past: &Past<'_>) -> Self {
        let wanted = wanted.sound();
        let budget = Amount {
            seconds: PLANNED_SHARE * 60.0 * f64::from(wanted.minutes),
            muscle_seconds: PLANNED_MUSCLE_SHARE * wanted.muscle_seconds,
        };
        let mut plan = Self {
            wanted,
            tasks: Vec::new(),
            said: budget,
            used: Amount::default(),
            over: Vec::new(),
            burst: Amount::default(),
        };
        plan.choose(past);
        plan.said = plan.left();
        plan
    }

    /// The plan for a way of working in so many minutes, with nothing known.
    #[must_use]
    pub fn first(way: Working, minutes: u32) -> Self {
        Self::new(Wanted::of(way, minutes), &Past::nothing())
    }

    /// The plan after the task `record` was recorded: what is left of what was said, planned anew
    /// from everything that is known now, at the person's own pace. A task that was not of the
    /// plan counts as well.
    #[must_use]
    pub fn after(mut self, record: &TaskRecord, past: &Past<'_>) -> Self {
        let took = Amount {
            seconds: pace_now::elapsed_seconds(record) + READY_SECONDS,
            muscle_seconds: record.muscle_seconds,
        };
        let kind = record.ask.kind();
        let planned = self.tasks.iter().position(|task| task.ask.kind() == kind);
        if planned.is_some_and(|at| self.tasks[at].after_pause) {
            self.used.seconds += PAUSE_SECONDS;
            self.burst = Amount::default();
        }
        self.used.seconds += took.seconds;
        self.used.muscle_seconds += took.muscle_seconds;
        self.burst = piece::burst_after(self.burst, kind, took);
        self.over.push((record.ask.clone(), Ended::of(record)));
        self.choose(past);
        self
    }

    /// The plan without the tasks of this kind: left out by hand, or left before anything of it
    /// was recorded.
    #[must_use]
    pub fn without(mut self, kind: TaskKind, past: &Past<'_>) -> Self {
        if !self.wanted.left_out.contains(&kind) {
            self.wanted.left_out.push(kind);
        }
        self.changed(past)
    }

    /// The plan after what is wanted was changed by hand. What is said is worked out anew.
    #[must_use]
    pub fn changed(mut self, past: &Past<'_>) -> Self {
        let wanted = self.wanted.clone().sound();
        self.said = Amount {
            seconds: PLANNED_SHARE * 60.0 * f64::from(wanted.minutes),
            muscle_seconds: PLANNED_MUSCLE_SHARE * wanted.muscle_seconds,
        };
        self.wanted = wanted;
        self.choose(past);
        let left = self.left();
        self.said = Amount {
            seconds: self.used.seconds + left.seconds,
            muscle_seconds: self.used.muscle_seconds + left.muscle_seconds,
        };
        self
    }

    /// What the tasks still to be done are thought to take, their pauses included.
    #[must_use]
    pub fn left(&self) -> Amount {
        let mut left = Amount::default();
        for task in &self.tasks {
            left.seconds += task.amount.seconds;
            left.muscle_seconds += task.amount.muscle_seconds;
            if task.after_pause {
                left.seconds += PAUSE_SECONDS;
            }
        }
        left
    }

    /// How many pauses the tasks still to be done have between them.
    #[must_use]
    pub fn pauses(&self) -> usize {
        self.tasks.iter().filter(|task| task.after_pause).count()
    }

    /// The tasks to come as they are asked.
    #[must_use]
    pub fn asks(&self) -> Vec<TaskAsk> {
        self.tasks.iter().map(|task| task.ask.clone()).collect()
    }

    /// Rounds of a kind of task, or tens of seconds of a rest, in what is over and to come.
    #[must_use]
    pub fn rounds(&self, kind: TaskKind) -> usize {
        let planned = self.tasks.iter().map(|task| &task.ask);
        let all = self.done().chain(planned);
        all.filter(|ask| ask.kind() == kind).map(piece::rounds).sum()
    }

    /// The tasks that are done.
    fn done(&self) -> impl Iterator<Item = &TaskAsk> {
        self.over.iter().filter(|(_, ended)| *ended == Ended::Done).map(|(ask, _)| ask)
    }

    fn choose(&mut self, past: &Past<'_>) {
        let budget = Amount {
            seconds: self.said.seconds - self.used.seconds,
            muscle_seconds: self.said.muscle_seconds - self.used.muscle_seconds,
        };
        let pace = PaceNow::of(past.records);
        let gathered = Gathered::of(past, &self.wanted);
        let done = self.done().cloned().collect();
        let choosing = Choosing::new(&self.wanted, gathered, pace, budget, self.burst, done);
        self.tasks = choosing.tasks();
    }
}

#[cfg(test)]
mod tests;
