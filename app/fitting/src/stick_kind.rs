//! What kind of stick it is and what moves it, as far as tasks and measures depend on it.

use crate::estimate::StickTrait;
use crate::task::{Meanwhile, TaskKind};
use serde::{Deserialize, Serialize};

/// Along which lines a stick moves.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Moves {
    /// On both axes.
    #[default]
    TwoAxes,
    /// On one axis, both ways.
    OneAxis,
    /// One way only, as a lever or a breath sensor.
    OneWay,
}

/// What moves the stick, as far as asking depends on it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Mover {
    /// A hand, an arm, a foot, the head: nothing is asked in another way.
    #[default]
    Limb,
    /// The chin: breathing, swallowing and speaking move it.
    Chin,
    /// Lip or tongue: the same, and the mouth is at the stick.
    Lip,
    /// Breath, in and out of a tube.
    Breath,
}

/// So many breath actions, and then a rest: common practice, no source.
pub const BREATHS_BEFORE_REST: u32 = 5;

/// No breath is kept up for longer than this in a task, seconds: common practice, no source.
pub const LONGEST_BREATH_SECONDS: f64 = 3.0;

impl Mover {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Self; 4] = [Self::Limb, Self::Chin, Self::Lip, Self::Breath];

    /// What can be done beside resting, what comes along most in play first: what moves the face
    /// moves a stick at the chin or the mouth.
    #[must_use]
    pub const fn meanwhile(self) -> [Meanwhile; 3] {
        match self {
            Self::Limb => [Meanwhile::Talking, Meanwhile::Watching, Meanwhile::Pressing],
            Self::Chin | Self::Lip => {
                [Meanwhile::Swallowing, Meanwhile::Talking, Meanwhile::Breathing]
            }
            // Nobody talks with a tube between the lips.
            Self::Breath => [Meanwhile::Breathing, Meanwhile::Swallowing, Meanwhile::Watching],
        }
    }
}

/// What kind of stick it is; the default is the usual one: two axes, centres itself, moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct StickKind {
    /// Along which lines it moves.
    pub moves: Moves,
    /// Whether it comes back to its centre when let go.
    pub centres_itself: bool,
    /// Whether it answers to force and hardly moves.
    pub force: bool,
    /// Whether its directions are used as switches.
    pub switches: bool,
    /// What moves it.
    pub mover: Mover,
}

impl Default for StickKind {
    fn default() -> Self {
        Self {
            moves: Moves::TwoAxes,
            centres_itself: true,
            force: false,
            switches: false,
            mover: Mover::Limb,
        }
    }
}

impl StickKind {
    /// Why a measure that needs two axes does not apply, if it does not.
    #[must_use]
    pub const fn lacks_two_axes(self) -> Option<StickTrait> {
        match self.moves {
            Moves::TwoAxes => None,
            Moves::OneAxis => Some(StickTrait::OneAxis),
            Moves::OneWay => Some(StickTrait::OneWay),
        }
    }

    /// Why a measure of the way back to the centre does not apply, if it does not.
    #[must_use]
    pub const fn lacks_centring(self) -> Option<StickTrait> {
        if self.centres_itself { None } else { Some(StickTrait::NotSelfCentring) }
    }

    /// Why a task has no meaning with this kind of stick, if it has none.
    ///
    /// - Holds of a level, where directions are used as switches: there is no level.
    /// - The longer hold, with breath: no breath is held for long.
    /// - The way back, of a stick that does not centre itself.
    ///
    /// A force stick has all of them: what counts there is how hard it is pushed, and letting go
    /// brings it back to nothing.
    #[must_use]
    pub const fn lacks(self, task: TaskKind) -> Option<StickTrait> {
        match task {
            TaskKind::Hold | TaskKind::Sustained if self.switches => Some(StickTrait::Switches),
            TaskKind::Sustained if matches!(self.mover, Mover::Breath) => Some(StickTrait::Breath),
            TaskKind::Return => self.lacks_centring(),
            _ => None,
        }
    }
}
