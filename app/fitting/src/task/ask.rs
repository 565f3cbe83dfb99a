//! What is asked for, and what earlier tasks already know.

use crate::sample::MOST_CONTROLS;
use crate::{Direction, Position, StickKind};
use serde::{Deserialize, Serialize};

/// Nobody is asked to keep anything up for longer than this, seconds: a level that can be kept for
/// 15 s is what a full throw rests on, and no more is wanted.
const LONGEST_SUSTAINED_SECONDS: f64 = 20.0;

/// The kinds of task.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TaskKind {
    /// Nobody touches the stick.
    HandsOff,
    /// The body part rests on the stick, ready to play.
    QuietRest,
    /// From the centre out, as far as is comfortable, and back.
    Reach,
    /// Stay inside a ring at a share of one's own reach.
    Hold,
    /// The same as quiet rest, while talking, watching action or pressing something else.
    BusyRest,
    /// Anything moves something.
    FreeMovement,
    /// One longer hold, then how hard it was.
    Sustained,
    /// Out into a ring, and let go.
    Return,
    /// Press, press long, press twice, each button.
    Presses,
}

/// What a person does beside resting on the stick.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Meanwhile {
    /// Talks.
    Talking,
    /// Watches something that moves.
    Watching,
    /// Presses another button or switch.
    Pressing,
    /// Breathes in and out deeply, without haste.
    Breathing,
    /// Swallows now and then.
    Swallowing,
}

/// How a button is to be pressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PressAsk {
    /// Once, as in play.
    Once,
    /// Pressed, held for a moment, and let go.
    Long,
    /// Twice in quick succession.
    Twice,
}

/// One task as it is asked for.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(into = "Written", try_from = "Written")]
pub enum TaskAsk {
    /// Nobody touches the stick for this many seconds.
    HandsOff {
        /// Seconds of recording asked for.
        seconds: f64,
    },
    /// The body part rests on the stick for this many seconds.
    QuietRest {
        /// Seconds of recording asked for.
        seconds: f64,
    },
    /// Pushes as far as is comfortable, and back.
    Reach {
        /// The directions, each once a round.
        directions: Vec<Direction>,
        /// How many rounds.
        rounds: usize,
    },
    /// Holds inside a ring.
    Hold {
        /// The directions, each once a round and level.
        directions: Vec<Direction>,
        /// The levels, shares of the person's own reach in that direction.
        levels: Vec<f64>,
        /// How many rounds.
        rounds: usize,
        /// How long each hold is asked to last, seconds.
        seconds: f64,
    },
    /// The body part rests on the stick for this many seconds while the person does something.
    BusyRest {
        /// Seconds of recording asked for.
        seconds: f64,
        /// What the person does beside it.
        meanwhile: Meanwhile,
    },
    /// Anything moves something, for this many seconds.
    FreeMovement {
        /// Seconds of recording asked for.
        seconds: f64,
    },
    /// One longer hold in each direction; after each the effort is asked, 0 to 10.
    Sustained {
        /// The directions in which the player will need it, each once.
        directions: Vec<Direction>,
        /// The level, share of the person's own reach in that direction.
        level: f64,
        /// How long a hold is asked to last, seconds.
        seconds: f64,
    },
    /// Out into a ring, a moment's stay, and let go or come back.
    Return {
        /// The directions, each once a round.
        directions: Vec<Direction>,
        /// The level, share of the person's own reach in that direction.
        level: f64,
        /// How many rounds.
        rounds: usize,
    },
    /// Every button in every way, on cue.
    Presses {
        /// The buttons, as numbers of [`crate::Sample::buttons`].
        buttons: Vec<usize>,
        /// How many rounds of every button and way.
        rounds: usize,
    },
}

impl Meanwhile {
    /// All that can be done meanwhile, in the order in which it is told.
    pub const ALL: [Self; 5] =
        [Self::Talking, Self::Watching, Self::Pressing, Self::Breathing, Self::Swallowing];
}

impl TaskKind {
    /// All kinds, in the order in which an assessment asks for them.
    pub const ALL: [Self; 9] = [
        Self::HandsOff,
        Self::QuietRest,
        Self::BusyRest,
        Self::FreeMovement,
        Self::Reach,
        Self::Hold,
        Self::Sustained,
        Self::Return,
        Self::Presses,
    ];
}

impl TaskAsk {
    /// The kind of this task.
    #[must_use]
    pub const fn kind(&self) -> TaskKind {
        match self {
            Self::HandsOff { .. } => TaskKind::HandsOff,
            Self::QuietRest { .. } => TaskKind::QuietRest,
            Self::Reach { .. } => TaskKind::Reach,
            Self::Hold { .. } => TaskKind::Hold,
            Self::BusyRest { .. } => TaskKind::BusyRest,
            Self::FreeMovement { .. } => TaskKind::FreeMovement,
            Self::Sustained { .. } => TaskKind::Sustained,
            Self::Return { .. } => TaskKind::Return,
            Self::Presses { .. } => TaskKind::Presses,
        }
    }

    /// The same with every number brought into range: a rest of 0 to 3600 s, a hold of 0.5 to
    /// 60 s (3 s where it is no number), a longer hold of at most 20 s, levels above 0 and at most 1, and only those that are
    /// numbers (0.5 for a single level that is none), buttons that are kept.
    #[must_use]
    pub fn sound(self) -> Self {
        let rest =
            |seconds: f64| if seconds.is_finite() { seconds.clamp(0.0, 3600.0) } else { 0.0 };
        let hold = |seconds: f64| if seconds.is_finite() { seconds.clamp(0.5, 60.0) } else { 3.0 };
        let share = |level: f64| {
            if level.is_finite() && level > 0.0 { level.min(1.0) } else { 0.5 }
        };
        match self {
            Self::HandsOff { seconds } => Self::HandsOff { seconds: rest(seconds) },
            Self::QuietRest { seconds } => Self::QuietRest { seconds: rest(seconds) },
            Self::Reach { .. } => self,
            Self::Hold { directions, levels, rounds, seconds } => Self::Hold {
                directions,
                levels: levels
                    .into_iter()
                    .filter(|level| level.is_finite() && *level > 0.0)
                    .map(|level| level.min(1.0))
                    .collect(),
                rounds,
                seconds: hold(seconds),
            },
            Self::BusyRest { seconds, meanwhile } => {
                Self::BusyRest { seconds: rest(seconds), meanwhile }
            }
            Self::FreeMovement { seconds } => Self::FreeMovement { seconds: rest(seconds) },
            Self::Sustained { directions, level, seconds } => {
                let seconds = hold(seconds).min(LONGEST_SUSTAINED_SECONDS);
                Self::Sustained { directions, level: share(level), seconds }
            }
            Self::Return { directions, level, rounds } => {
                Self::Return { directions, level: share(level), rounds }
            }
            Self::Presses { buttons, rounds } => Self::Presses {
                buttons: buttons.into_iter().filter(|button| *button < MOST_CONTROLS).collect(),
                rounds,
            },
        }
    }
}

/// A [`TaskAsk`] as it is written: with one set of fields for all kinds, reading them comes into
/// the program once.
#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case", rename = "TaskAsk")]
enum Written {
    HandsOff(Asked),
    QuietRest(Asked),
    Reach(Asked),
    Hold(Asked),
    BusyRest(Asked),
    FreeMovement(Asked),
    Sustained(Asked),
    Return(Asked),
    Presses(Asked),
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct Asked {
    #[serde(skip_serializing_if = "Option::is_none")]
    directions: Option<Vec<Direction>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    levels: Option<Vec<f64>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    level: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    buttons: Option<Vec<usize>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    rounds: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    seconds: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    meanwhile: Option<Meanwhile>,
}

impl From<TaskAsk> for Written {
    fn from(ask: TaskAsk) -> Self {
        let rest = |seconds: f64| Asked { seconds: Some(seconds), ..Asked::default() };
        match ask {
            TaskAsk::HandsOff { seconds } => Self::HandsOff(rest(seconds)),
            TaskAsk::QuietRest { seconds } => Self::QuietRest(rest(seconds)),
            TaskAsk::BusyRest { seconds, meanwhile } => {
                Self::BusyRest(Asked { meanwhile: Some(meanwhile), ..rest(seconds) })
            }
            TaskAsk::FreeMovement { seconds } => Self::FreeMovement(rest(seconds)),
            TaskAsk::Reach { directions, rounds } => Self::Reach(Asked {
                directions: Some(directions),
                rounds: Some(rounds),
                ..Asked::default()
            }),
            TaskAsk::Hold { directions, levels, rounds, seconds } => Self::Hold(Asked {
                directions: Some(directions),
                levels: Some(levels),
                rounds: Some(rounds),
                ..rest(seconds)
            }),
            TaskAsk::Sustained { directions, level, seconds } => Self::Sustained(Asked {
                directions: Some(directions),
                level: Some(level),
                ..rest(seconds)
            }),
            TaskAsk::Return { directions, level, rounds } => Self::Return(Asked {
                directions: Some(directions),
                level: Some(level),
                rounds: Some(rounds),
                ..Asked::default()
            }),
            TaskAsk::Presses { buttons, rounds } => Self::Presses(Asked {
                buttons: Some(buttons),
                rounds: Some(rounds),
                ..Asked::default()
            }),
        }
    }
}

impl TryFrom<Written> for TaskAsk {
    type Error = &'static str;

    fn try_from(written: Written) -> Result<Self, Self::Error> {
        let (kind, asked) = match written {
            Written::HandsOff(of) => (TaskKind::HandsOff, of),
            Written::QuietRest(of) => (TaskKind::QuietRest, of),
            Written::Reach(of) => (TaskKind::Reach, of),
            Written::Hold(of) => (TaskKind::Hold, of),
            Written::BusyRest(of) => (TaskKind::BusyRest, of),
            Written::FreeMovement(of) => (TaskKind::FreeMovement, of),
            Written::Sustained(of) => (TaskKind::Sustained, of),
            Written::Return(of) => (TaskKind::Return, of),
            Written::Presses(of) => (TaskKind::Presses, of),
        };
        let Asked { directions, levels, level, buttons, rounds, seconds, meanwhile } = asked;
        let directions = || directions.ok_or("missing field `directions`");
        let level = || level.ok_or("missing field `level`");
        let rounds = || rounds.ok_or("missing field `rounds`");
        let seconds = || seconds.ok_or("missing field `seconds`");
        Ok(match kind {
            TaskKind::HandsOff => Self::HandsOff { seconds: seconds()? },
            TaskKind::QuietRest => Self::QuietRest { seconds: seconds()? },
            TaskKind::Reach => Self::Reach { directions: directions()?, rounds: rounds()? },
            TaskKind::Hold => Self::Hold {
                directions: directions()?,
                levels: levels.ok_or("missing field `levels`")?,
                rounds: rounds()?,
                seconds: seconds()?,
            },
            TaskKind::BusyRest => Self::BusyRest {
                seconds: seconds()?,
                meanwhile: meanwhile.ok_or("missing field `meanwhile`")?,
            },
            TaskKind::FreeMovement => Self::FreeMovement { seconds: seconds()? },
            TaskKind::Sustained => {
                Self::Sustained { directions: directions()?, level: level()?, seconds: seconds()? }
            }
            TaskKind::Return => {
                Self::Return { directions: directions()?, level: level()?, rounds: rounds()? }
            }
            TaskKind::Presses => Self::Presses {
                buttons: buttons.ok_or("missing field `buttons`")?,
                rounds: rounds()?,
            },
        })
    }
}

/// What earlier tasks of this visit already know of person and stick.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Known {
    /// Where the stick comes to rest, shares of travel.
    pub centre: Position,
    /// The stick counts as at rest within this distance of the centre, share of travel.
    pub quiet_radius: f64,
    /// Where the person's own comfortable pushes ended; empty before a reach task.
    pub reach: Vec<KnownReach>,
    /// What kind of stick it is.
    #[serde(default)]
    pub kind: StickKind,
}

/// Where the person's comfortable pushes in one asked direction ended.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct KnownReach {
    /// The direction that was asked.
    pub asked: Direction,
    /// The mean end of the pushes, from the centre, shares of travel: its angle is the one
    /// performed, which a turned mount or the person's own pattern may have moved.
    pub end: Position,
}

impl Default for Known {
    /// Before anything is measured: the middle, and a tenth of the travel counts as rest.
    fn default() -> Self {
        Self {
            centre: Position::ORIGIN,
            quiet_radius: 0.1,
            reach: Vec::new(),
            kind: StickKind::default(),
        }
    }
}
