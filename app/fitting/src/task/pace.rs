//! How long what is asked takes: first guesses at a middling pace, then the person's own.

use super::TaskAsk;
use super::cue::{What, cues};

/// Seconds that reading what a task asks takes, before it begins.
pub(crate) const READY_SECONDS: f64 = 5.0;

/// The moment of rest between two repetitions, seconds: after pushes, holds, longer holds (after
/// which the effort is asked as well) and ways back.
const BETWEEN_PUSHES_SECONDS: f64 = 0.8;
const BETWEEN_HOLDS_SECONDS: f64 = 2.0;
const BETWEEN_SUSTAINED_SECONDS: f64 = 5.0;
const BETWEEN_RETURNS_SECONDS: f64 = 1.0;
/// Between two presses, from and to: of a length nobody can foresee, so that nobody presses ahead
/// of the cue and the reaction is one.
const BETWEEN_PRESSES_SECONDS: (f64, f64) = (1.0, 2.0);

/// Seconds of one push from cue to cue, and how many of them are muscle work.
const PUSH_SECONDS: f64 = 3.4;
const PUSH_MUSCLE_SECONDS: f64 = 1.8;
/// Seconds of one hold from cue to cue beyond the hold itself, and how many are muscle work.
const HOLD_EXTRA_SECONDS: f64 = 4.0;
const HOLD_EXTRA_MUSCLE_SECONDS: f64 = 1.6;
/// The same of a longer hold: the question and the longer rest come to it.
const SUSTAINED_EXTRA_SECONDS: f64 = 11.0;
/// About how long it takes to say how hard a hold was, seconds.
pub(super) const ANSWER_SECONDS: f64 = 4.0;
/// Seconds of one way out and back from cue to cue, and how many are muscle work.
const RETURN_SECONDS: f64 = 5.5;
const RETURN_MUSCLE_SECONDS: f64 = 2.4;
/// Seconds of one press, or two, from cue to cue.
const PRESS_SECONDS: f64 = 3.5;

impl What {
    /// About how long this takes from cue to cue, seconds.
    fn seconds(&self) -> f64 {
        match self {
            Self::Push(_) => PUSH_SECONDS,
            Self::Hold { seconds, .. } => seconds + HOLD_EXTRA_SECONDS,
            Self::Sustain { seconds, .. } => seconds + SUSTAINED_EXTRA_SECONDS,
            Self::Return { .. } => RETURN_SECONDS,
            Self::Press { .. } => PRESS_SECONDS,
        }
    }

    /// About how many seconds of this are muscle work.
    fn muscle_seconds(&self) -> f64 {
        match self {
            Self::Push(_) => PUSH_MUSCLE_SECONDS,
            Self::Hold { seconds, .. } | Self::Sustain { seconds, .. } => {
                seconds + HOLD_EXTRA_MUSCLE_SECONDS
            }
            Self::Return { .. } => RETURN_MUSCLE_SECONDS,
            Self::Press { .. } => 0.0,
        }
    }

    /// The moment of rest after this, seconds; `chance`, 0..1, sets it where it is not to be
    /// foreseen.
    pub(super) fn rest_after_seconds(&self, chance: f64) -> f64 {
        match self {
            Self::Push(_) => BETWEEN_PUSHES_SECONDS,
            Self::Hold { .. } => BETWEEN_HOLDS_SECONDS,
            Self::Sustain { .. } => BETWEEN_SUSTAINED_SECONDS,
            Self::Return { .. } => BETWEEN_RETURNS_SECONDS,
            Self::Press { .. } => {
                let (least, most) = BETWEEN_PRESSES_SECONDS;
                least + (most - least) * chance
            }
        }
    }
}

/// About how long a task takes, reading what it asks included, seconds.
pub(super) fn expected_seconds(ask: &TaskAsk) -> f64 {
    READY_SECONDS
        + match ask {
            TaskAsk::HandsOff { seconds }
            | TaskAsk::QuietRest { seconds }
            | TaskAsk::BusyRest { seconds, .. }
            | TaskAsk::FreeMovement { seconds } => *seconds,
            TaskAsk::Reach { .. }
            | TaskAsk::Hold { .. }
            | TaskAsk::Sustained { .. }
            | TaskAsk::Return { .. }
            | TaskAsk::Presses { .. } => cues(ask).iter().map(|cue| cue.what.seconds()).sum(),
        }
}

/// About how many seconds of a task are muscle work: in free movement, half of it.
pub(super) fn muscle_seconds(ask: &TaskAsk) -> f64 {
    match ask {
        TaskAsk::HandsOff { .. } | TaskAsk::QuietRest { .. } | TaskAsk::BusyRest { .. } => 0.0,
        TaskAsk::FreeMovement { seconds } => 0.5 * seconds,
        TaskAsk::Reach { .. }
        | TaskAsk::Hold { .. }
        | TaskAsk::Sustained { .. }
        | TaskAsk::Return { .. }
        | TaskAsk::Presses { .. } => cues(ask).iter().map(|cue| cue.what.muscle_seconds()).sum(),
    }
}

/// How many repetitions a task that is cued asks for; 0 for rests and free movement.
pub(super) fn repetitions(ask: &TaskAsk) -> usize {
    cues(ask).len()
}

/// The length of one repetition at this person's pace: first the guess, then the mean.
#[derive(Clone, Debug)]
pub(super) struct Pace {
    guess_seconds: f64,
    between_seconds: f64,
    seconds: f64,
    count: usize,
}

impl Pace {
    /// Of a task that asks `what`; nothing takes no time.
    pub(super) fn new(what: Option<What>) -> Self {
        let answer = match what {
            Some(What::Sustain { .. }) => ANSWER_SECONDS,
            _ => 0.0,
        };
        Self {
            guess_seconds: what.map_or(0.0, |what| what.seconds()),
            between_seconds: what.map_or(0.0, |what| what.rest_after_seconds(0.5)) + answer,
            seconds: 0.0,
            count: 0,
        }
    }

    /// A repetition took this long from its cue to its end.
    pub(super) fn add(&mut self, seconds: f64) {
        self.count += 1;
        self.seconds += seconds;
    }

    /// That one does not count after all.
    pub(super) fn take_back(&mut self, seconds: f64) {
        self.count = self.count.saturating_sub(1);
        self.seconds = (self.seconds - seconds).max(0.0);
    }

    /// Seconds from cue to cue. The first guess weighs as much as two repetitions.
    pub(super) fn each_seconds(&self) -> f64 {
        let count = self.count as f64;
        let paced = self.seconds + self.between_seconds * count;
        (2.0 * self.guess_seconds + paced) / (2.0 + count)
    }
}
