//! What a task leaves behind.

use super::{Asking, CueKind, Known, PressAsk, Query, TaskAsk};
use crate::{Direction, Recording, Span, StickAxes};
use serde::{Deserialize, Serialize};

/// The most repetitions of one task that are kept and read.
pub(crate) const MOST_REPETITIONS: usize = 10_000;

/// Why a repetition was marked. Marked ones are kept, left out of every figure, and counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum MarkReason {
    /// What was asked was not understood.
    NotUnderstood,
    /// Somebody helped the movement.
    Helped,
    /// A spasm.
    Spasm,
    /// The person was talking.
    Talking,
    /// The person was distracted.
    Distracted,
    /// It hurt.
    Pain,
}

impl MarkReason {
    /// All reasons, in the order in which they are offered.
    pub const ALL: [Self; 6] = [
        Self::NotUnderstood,
        Self::Helped,
        Self::Spasm,
        Self::Talking,
        Self::Distracted,
        Self::Pain,
    ];
}

/// How a repetition ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// It was done.
    Done,
    /// It was skipped before it was done.
    Skipped,
    /// It was asked again; this one does not count.
    AskedAgain,
    /// The task was stopped in the middle of it.
    CutShort,
}

/// A push that stands out: it went far less than others the same way.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct ShortPush {
    /// How far it went, share of travel.
    pub reach: f64,
    /// How far the others went, their median, share of travel.
    pub usual: f64,
}

/// One repetition: one push, one hold, one way back, one press, or one stretch of up to ten
/// seconds of rest or free movement.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Repetition {
    /// The direction asked for, if any. Where no way was asked ([`Asking::FreeMovement`]): of the
    /// task's directions the one in which the stick went, to within 45 degrees.
    pub direction: Option<Direction>,
    /// The level asked for in a hold, a longer hold or a return, share of own reach. Where no way
    /// was asked: of the task's levels of a hold the one at which it was held, to within an eighth
    /// of the reach, where that is known.
    pub level: Option<f64>,
    /// From the cue to the end, with these exceptions.
    ///
    /// - In a hold or a longer hold: the longest stay inside the ring, from half a second after it
    ///   began (the settling; up to two for who comes slowly) to when the ring was left. In a longer
    ///   hold a stay goes on when the ring is left for less than 1.5 s.
    /// - On the way back: from the cue to let go until the stick has been at rest, which includes
    ///   the last second (two where it rests outside the quiet radius) of moving little.
    /// - A press ends a quiet moment after the asked presses were made: 0.6 s after the last one
    ///   was let go; 1.5 s where a long press was asked and none of 0.7 s came; 3 s where two were
    ///   asked and one came.
    ///
    /// What was skipped, asked again or cut short before there was a stay, or before the cue to
    /// let go, goes from the first cue to its end.
    pub span: Span,
    /// How it ended.
    pub outcome: Outcome,
    /// Why it was marked, if it was.
    pub mark: Option<MarkReason>,
    /// How far off the asked direction the push went, degrees, when that is more than 60 and
    /// nobody has said yet that it was meant.
    pub queried_degrees: Option<f64>,
    /// Set when the push went less than three fifths as far as others the same way, and nobody has said yet that
    /// it was meant.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub queried_short: Option<ShortPush>,
    /// The button that was asked for, as a number of [`crate::Sample::buttons`]; where any might
    /// be pressed, the one that was.
    #[serde(default)]
    pub button: Option<usize>,
    /// How it was to be pressed.
    #[serde(default)]
    pub press: Option<PressAsk>,
    /// How hard the person found it, 0 (nothing at all) to 10; `None` when nobody said.
    #[serde(default)]
    pub effort: Option<u8>,
}

impl Repetition {
    /// A repetition that was done, of which nothing else is known.
    #[must_use]
    pub const fn done(span: Span) -> Self {
        Self {
            direction: None,
            level: None,
            span,
            outcome: Outcome::Done,
            mark: None,
            queried_degrees: None,
            queried_short: None,
            button: None,
            press: None,
            effort: None,
        }
    }

    /// Whether it counts in the figures.
    #[must_use]
    pub fn counts(&self) -> bool {
        self.outcome == Outcome::Done && self.mark.is_none() && !self.is_queried()
    }

    /// Whether it counts, or would if it were not so short.
    pub(crate) fn counts_but_for_length(&self) -> bool {
        self.outcome == Outcome::Done && self.mark.is_none() && self.queried_degrees.is_none()
    }

    /// What is odd about it, where nobody has said yet that it was meant.
    #[must_use]
    pub fn query(&self) -> Option<Query> {
        self.queried_degrees.map(Query::Off).or(self.queried_short.map(Query::Short))
    }

    /// Takes in whether it was meant although it stands out as `query` says: it counts, or is kept and
    /// left out.
    pub const fn say_meant(&mut self, query: Query, is_meant: bool) {
        (self.queried_degrees, self.queried_short) = match query {
            _ if is_meant => (None, None),
            Query::Off(degrees) => (Some(degrees), self.queried_short),
            Query::Short(short) => (self.queried_degrees, Some(short)),
        };
    }

    /// Whether it waits for somebody to say that it was meant.
    #[must_use]
    pub const fn is_queried(&self) -> bool {
        self.queried_degrees.is_some() || self.queried_short.is_some()
    }
}

/// An effort of up to this, of 10, can be kept up. Common practice, no source.
pub const EASY_EFFORT: u8 = 3;

/// One task's samples with what was asked and when.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct TaskRecord {
    /// What was asked.
    pub ask: TaskAsk,
    /// What was known when the task began.
    pub known: Known,
    /// Which axes were the stick.
    pub axes: StickAxes,
    /// The samples and clock marks, from beginning to end: what lies between the repetitions (rest,
    /// the question how hard a hold was) is in it too, pauses are not.
    pub recording: Recording,
    /// The repetitions, in order of time.
    pub repetitions: Vec<Repetition>,
    /// When the task was paused; nothing in these spans counts.
    pub pauses: Vec<Span>,
    /// Seconds of muscle work: time outside the quiet radius, where a task asks for movement.
    pub muscle_seconds: f64,
    /// In which way it was asked.
    #[serde(default)]
    pub asking: Asking,
    /// How directions were cued.
    #[serde(default)]
    pub cue: CueKind,
}

impl TaskRecord {
    /// Whether anything that counts was recorded: not where it was stopped or skipped before, or all of it
    /// was marked.
    #[must_use]
    pub fn has_result(&self) -> bool {
        self.repetitions.iter().any(Repetition::counts)
    }

    /// A record of the usual axes with nothing known before it and no pause in it.
    #[must_use]
    pub fn new(ask: TaskAsk, recording: Recording, repetitions: Vec<Repetition>) -> Self {
        Self {
            ask,
            known: Known::default(),
            axes: StickAxes::default(),
            recording,
            repetitions,
            pauses: Vec::new(),
            muscle_seconds: 0.0,
            asking: Asking::default(),
            cue: CueKind::default(),
        }
    }
}
