//! What the page draws of a running task, and what it may tell it.

use super::{MarkReason, Meanwhile, PressAsk, ShortPush, TaskKind, Way};
use crate::{Direction, Position};

/// Why a task is paused.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PauseCause {
    /// The person or the helper asked for it.
    Asked,
    /// The device went away.
    DeviceGone,
    /// The page was hidden.
    PageHidden,
    /// So many breath actions were made that a rest is due: any moment after it goes on.
    Breaths,
}

/// What the page may tell a running task.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Command {
    /// Start recording: the person is ready.
    Begin,
    /// Pause; what there is is kept.
    Pause(PauseCause),
    /// Go on after a pause.
    GoOn,
    /// This repetition is done, go to the next one.
    Next,
    /// Ask the present (or, between two, the last) repetition again; it does not count.
    Again,
    /// Leave this repetition out and go to the next one.
    Skip,
    /// Mark the present (or, between two, the last) repetition.
    Mark(MarkReason),
    /// Take the last mark back.
    Unmark,
    /// The queried push was meant: it counts.
    KeepQueried,
    /// How hard the last sustained hold was, 0 (nothing at all) to 10; above 10 is taken as 10.
    Effort(u8),
    /// Rest tasks only: record more than was asked.
    More,
    /// End the task; what there is is kept.
    Stop,
}

/// What is odd about a push.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Query {
    /// It went more than 60 degrees off: degrees.
    Off(f64),
    /// It went less than three fifths as far as others the same way.
    Short(ShortPush),
}

/// Where a task stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Phase {
    /// It says what will be asked and waits for [`Command::Begin`], without a time limit.
    Ready,
    /// A repetition runs.
    Doing,
    /// Between two repetitions: a moment of rest.
    Between,
    /// Everything that was asked is there. [`Command::More`] may still extend a rest.
    Done,
}

/// What the person is asked at this moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Prompt {
    /// Nobody touches the stick.
    HandsOff,
    /// Rest on the stick, ready to play, and do nothing.
    Rest,
    /// Push this way, as far as is comfortable.
    Push(Direction),
    /// Let it come back to the centre.
    ComeBack,
    /// Push this way until the dot is in the ring.
    ToRing(Direction),
    /// Keep the dot in the ring.
    StayInRing(Direction),
    /// Rest on the stick, and do this beside it.
    RestWhile(Meanwhile),
    /// Anything moves something.
    MoveFreely,
    /// Let go, or come back to the centre.
    LetGo(Direction),
    /// Press this button this way.
    Press {
        /// The button, as a number of [`crate::Sample::buttons`].
        button: usize,
        /// How.
        press: PressAsk,
    },
    /// Push any way, and let it come back.
    PushAnywhere,
    /// Push any way, and stay there.
    HoldAnywhere,
    /// Press any button.
    PressAny,
    /// Say how hard that was, 0 to 10 (answered with [`Command::Effort`]).
    HowHard,
}

/// The ring of a hold, from the stick's rest position.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Target {
    /// Its middle in the field, shares of travel (absolute, not from the centre).
    pub at: Position,
    /// Its radius, share of travel.
    pub radius: f64,
}

/// The last finished push or the running one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Push {
    /// How far out, share of travel.
    pub reach: f64,
    /// Degrees from what was asked, positive from right towards up; only past the quiet radius.
    pub degrees_off: Option<f64>,
}

/// Everything the page draws of a running task.
#[derive(Clone, Debug, PartialEq)]
pub struct TaskView {
    /// The kind of task.
    pub kind: TaskKind,
    /// In which way it is asked.
    pub way: Way,
    /// Where it stands.
    pub phase: Phase,
    /// What is asked now; in [`Phase::Ready`] what will be asked first.
    pub prompt: Prompt,
    /// Why it is paused, if it is.
    pub paused: Option<PauseCause>,
    /// Which repetition, from 1.
    pub step: usize,
    /// Of how many.
    pub of: usize,
    /// How much of the task is done, 0..=1.
    pub progress: f64,
    /// About how many seconds are left at this person's pace.
    pub left_seconds: f64,
    /// Seconds of muscle work so far.
    pub muscle_seconds: f64,
    /// How far the present hold has come, 0..=1; 0 outside holds.
    pub hold_progress: f64,
    /// The ring, in a hold.
    pub target: Option<Target>,
    /// The running or last push.
    pub push: Option<Push>,
    /// A push that waits for somebody to say that it was meant.
    pub query: Option<Query>,
    /// The mark on the present or last repetition.
    pub mark: Option<MarkReason>,
    /// Repetitions marked so far.
    pub marked: usize,
    /// Whether a rest is offered now: muscle work since the last pause passed half a minute.
    pub offer_rest: bool,
    /// Whether nothing has moved for so long that a pause is offered.
    pub silent: bool,
}
