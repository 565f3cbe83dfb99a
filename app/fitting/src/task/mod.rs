//! What a person is asked to do, as state machines driven by samples and time.
//!
//! A task is asked for by a [`TaskAsk`], played through a [`TaskRun`] and leaves a
//! [`TaskRecord`], also when it is stopped half-way. The page draws [`TaskView`] and passes
//! [`Command`]s; it decides nothing. A [`Plan`] says which tasks are worth most in the minutes
//! a person has, and why.

mod ask;
mod cue;
mod cued;
mod for_stick;
mod free;
mod let_go;
#[cfg(test)]
mod odd_tests;
mod pace;
mod planner;
pub(crate) mod press;
mod push;
mod record;
mod rest;
mod ring;
mod run;
#[cfg(test)]
mod slow_tests;
pub(crate) mod stands_out;
mod stop;
mod view;
mod watch;
mod way;

pub use ask::{Known, KnownReach, Meanwhile, PressAsk, TaskAsk, TaskKind};
pub use for_stick::directions_for;
pub(crate) use pace::READY_SECONDS;
pub use planner::{
    Amount, Bound, PAUSE_SECONDS, Past, Plan, Planned, Reason, WORST_WIDTH, Wanted, Working,
    unknown,
};
pub(crate) use push::QUERY_DEGREES;
pub(crate) use record::MOST_REPETITIONS;
pub use record::{EASY_EFFORT, MarkReason, Outcome, Repetition, ShortPush, TaskRecord};
pub use run::TaskRun;
pub use stop::{HELD_SECONDS, PRESSED, StopButton};
pub use view::{Command, PauseCause, Phase, Prompt, Push, Query, Target, TaskView};
pub use way::{Asking, CueKind, NotInThisWay, Way};
