//! What a plan is wanted for.

use crate::sample::MOST_CONTROLS;
use crate::task::cue::each;
use crate::task::{Asking, TaskKind};
use crate::{Direction, StickAxes, StickKind};

/// Of the minutes, this share is quiet rest where sudden movements come. Ours: in the longest plan it
/// rules out more than one a minute (rule of three).
const SUDDEN_REST_SHARE: f64 = 0.25;
/// No plan is longer than this, minutes.
const MOST_MINUTES: u32 = 60;

/// A way of working: three of them ship, each tested with invented people.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Working {
    /// Somebody who reads or hears what is asked, and has the strength for a quarter of an hour.
    #[default]
    Usual,
    /// Somebody who does not read: asked by showing, in bursts of at most two minutes.
    Shown,
    /// Somebody who tires soon: at most two minutes of muscle work, in short bursts.
    Tires,
}

impl Working {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Self; 3] = [Self::Usual, Self::Shown, Self::Tires];

    /// The minutes of the plan that ships.
    #[must_use]
    pub const fn minutes(self) -> u32 {
        match self {
            Self::Usual => 15,
            Self::Shown => 10,
            Self::Tires => 6,
        }
    }

    /// In which way everything is asked.
    #[must_use]
    pub const fn asking(self) -> Asking {
        match self {
            Self::Usual | Self::Tires => Asking::Told,
            Self::Shown => Asking::Shown,
        }
    }

    /// The muscle work that is allowed in so many minutes unless somebody says otherwise,
    /// seconds. Shares are common practice, no source; for somebody who tires soon it is never
    /// more than two minutes, however long the plan.
    #[must_use]
    pub fn muscle_seconds(self, minutes: u32) -> f64 {
        let seconds = 60.0 * f64::from(minutes);
        match self {
            Self::Usual => 0.3 * seconds,
            Self::Shown => 0.25 * seconds,
            Self::Tires => (0.25 * seconds).min(Self::Tires.most_muscle_seconds(minutes)),
        }
    }

    /// The most muscle work that can be allowed by hand, seconds.
    #[must_use]
    pub fn most_muscle_seconds(self, minutes: u32) -> f64 {
        let half = 30.0 * f64::from(minutes);
        match self {
            Self::Usual | Self::Shown => half,
            Self::Tires => half.min(120.0),
        }
    }

    /// The longest stretch of tasks without a pause, seconds, and the most muscle work without a
    /// rest in it, seconds.
    const fn burst(self) -> (f64, f64) {
        match self {
            Self::Usual => (240.0, 60.0),
            Self::Shown => (120.0, 45.0),
            Self::Tires => (120.0, 25.0),
        }
    }
}

/// How much of one kind of task was asked for by hand: rounds, or tens of seconds of a rest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bound {
    /// Of which kind of task.
    pub kind: TaskKind,
    /// At least so many, as far as they fit.
    pub least: usize,
    /// At most so many.
    pub most: usize,
}

/// What a plan is wanted for.
#[derive(Clone, Debug, PartialEq)]
pub struct Wanted {
    /// The minutes there are, talking and pauses included.
    pub minutes: u32,
    /// The most seconds of muscle work.
    pub muscle_seconds: f64,
    /// The longest stretch of tasks without a pause, seconds.
    pub burst_seconds: f64,
    /// The most muscle work with neither a pause nor a rest in it, seconds.
    pub burst_muscle_seconds: f64,
    /// In which way everything is asked.
    pub asking: Asking,
    /// The kind of stick.
    pub kind: StickKind,
    /// Which axes are the stick.
    pub axes: StickAxes,
    /// Buttons that may be asked for, as numbers of [`crate::Sample::buttons`].
    pub buttons: Vec<usize>,
    /// The directions that are needed; where none is said, all four.
    pub needed: Vec<Direction>,
    /// Kinds of task that are left out.
    pub left_out: Vec<TaskKind>,
    /// More or fewer of some kinds of task.
    pub bounds: Vec<Bound>,
}

impl Wanted {
    /// What a way of working wants in so many minutes, with a usual stick and without buttons.
    #[must_use]
    pub fn of(way: Working, minutes: u32) -> Self {
        let (burst_seconds, burst_muscle_seconds) = way.burst();
        Self {
            minutes,
            muscle_seconds: way.muscle_seconds(minutes),
            burst_seconds,
            burst_muscle_seconds,
            asking: way.asking(),
            kind: StickKind::default(),
            axes: StickAxes::default(),
            buttons: Vec::new(),
            needed: Direction::FOUR.to_vec(),
            left_out: Vec::new(),
            bounds: Vec::new(),
        }
    }

    /// The same with every number in range: at most an hour, muscle work of at most half of it,
    /// each button and direction once. Numbers that are none count as none.
    #[must_use]
    pub fn sound(self) -> Self {
        let minutes = self.minutes.min(MOST_MINUTES);
        let seconds = 60.0 * f64::from(minutes);
        let within = |value: f64, most: f64| {
            if value.is_finite() { value.clamp(0.0, most) } else { 0.0 }
        };
        let mut buttons = each(&self.buttons);
        buttons.retain(|button| *button < MOST_CONTROLS);
        buttons.truncate(3);
        let needed = each(&self.needed);
        Self {
            minutes,
            muscle_seconds: within(self.muscle_seconds, 0.5 * seconds),
            burst_seconds: within(self.burst_seconds, seconds),
            burst_muscle_seconds: within(self.burst_muscle_seconds, seconds),
            buttons,
            needed: if needed.is_empty() { Direction::FOUR.to_vec() } else { needed },
            left_out: each(&self.left_out),
            ..self
        }
    }

    /// The same for somebody who has sudden movements or spasms: a rest that saw none rules out only
    /// those that come more often than it lasts, so that more time is kept for it.
    #[must_use]
    pub fn with_sudden_movements(mut self) -> Self {
        let tens_of_seconds = SUDDEN_REST_SHARE * 6.0 * f64::from(self.minutes.min(MOST_MINUTES));
        let least = libm::ceil(tens_of_seconds) as usize;
        self.set_bound(Bound { kind: TaskKind::QuietRest, least, most: usize::MAX });
        self
    }

    /// The bounds of a kind of task: at least, at most.
    pub(super) fn bound(&self, kind: TaskKind) -> (usize, usize) {
        let bound = self.bounds.iter().rev().find(|bound| bound.kind == kind);
        bound.map_or((0, usize::MAX), |bound| (bound.least, bound.most))
    }

    /// Asks for at least, or at most, so many of a kind; what was asked for it before is
    /// forgotten.
    pub fn set_bound(&mut self, bound: Bound) {
        self.bounds.retain(|other| other.kind != bound.kind);
        self.bounds.push(bound);
    }
}
