//! What a person is asked to do, as state machines driven by samples and time.
//!
//! A task is asked for by a [`TaskAsk`], played through a [`TaskRun`] and leaves a
//! [`TaskRecord`], also when it is stopped half-way. The page draws [`TaskView`] and passes
//! [`Command`]s; it decides nothing.

mod ask;
mod record;
mod view;

pub use ask::{Known, KnownReach, TaskAsk, TaskKind};
pub use record::{MarkReason, Outcome, Repetition, TaskRecord};
pub use view::{Command, PauseCause, Phase, Prompt, Push, Target, TaskView};
