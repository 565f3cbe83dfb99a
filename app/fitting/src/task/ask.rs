//! What is asked for, and what earlier tasks already know.

use crate::{Direction, Position};
use serde::{Deserialize, Serialize};

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
        }
    }

    /// The same with every number brought into range: a rest of 0 to 3600 s, a hold of 0.5 to
    /// 60 s (3 s where it is no number), levels above 0 and at most 1, and only those that are
    /// numbers.
    #[must_use]
    pub fn sound(self) -> Self {
        let rest =
            |seconds: f64| if seconds.is_finite() { seconds.clamp(0.0, 3600.0) } else { 0.0 };
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
                seconds: if seconds.is_finite() { seconds.clamp(0.5, 60.0) } else { 3.0 },
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
}

#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct Asked {
    #[serde(skip_serializing_if = "Option::is_none")]
    directions: Option<Vec<Direction>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    levels: Option<Vec<f64>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    rounds: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    seconds: Option<f64>,
}

impl From<TaskAsk> for Written {
    fn from(ask: TaskAsk) -> Self {
        let rest = |seconds: f64| Asked { seconds: Some(seconds), ..Asked::default() };
        match ask {
            TaskAsk::HandsOff { seconds } => Self::HandsOff(rest(seconds)),
            TaskAsk::QuietRest { seconds } => Self::QuietRest(rest(seconds)),
            TaskAsk::Reach { directions, rounds } => Self::Reach(Asked {
                directions: Some(directions),
                rounds: Some(rounds),
                ..Asked::default()
            }),
            TaskAsk::Hold { directions, levels, rounds, seconds } => Self::Hold(Asked {
                directions: Some(directions),
                levels: Some(levels),
                rounds: Some(rounds),
                seconds: Some(seconds),
            }),
        }
    }
}

impl TryFrom<Written> for TaskAsk {
    type Error = &'static str;

    fn try_from(written: Written) -> Result<Self, Self::Error> {
        let asked = |asked: Asked| (asked.directions, asked.levels, asked.rounds, asked.seconds);
        let (kind, (directions, levels, rounds, seconds)) = match written {
            Written::HandsOff(of) => (TaskKind::HandsOff, asked(of)),
            Written::QuietRest(of) => (TaskKind::QuietRest, asked(of)),
            Written::Reach(of) => (TaskKind::Reach, asked(of)),
            Written::Hold(of) => (TaskKind::Hold, asked(of)),
        };
        let directions = || directions.ok_or("missing field `directions`");
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
        Self { centre: Position::ORIGIN, quiet_radius: 0.1, reach: Vec::new() }
    }
}
