//! What kind of stick it is, as far as measures depend on it.

use crate::estimate::StickTrait;
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
}

impl Default for StickKind {
    fn default() -> Self {
        Self { moves: Moves::TwoAxes, centres_itself: true, force: false, switches: false }
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
}
