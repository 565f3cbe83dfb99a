//! What is looked at before anything moves.

use super::short;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// What needs care, with a caution of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Condition {
    /// Seizures.
    Seizures,
    /// Recent surgery or a fracture.
    RecentSurgery,
    /// Joints that slip out.
    LooseJoints,
    /// Spinal cord injury at T6 or above.
    CordInjury,
    /// Breathing support.
    BreathingSupport,
    /// A bite reflex.
    BiteReflex,
    /// Poor sensation.
    PoorSensation,
    /// Pain or fatigue today.
    PainOrFatigue,
}

impl Condition {
    /// All of them, in the order in which they are asked.
    pub const ALL: [Self; 8] = [
        Self::Seizures,
        Self::RecentSurgery,
        Self::LooseJoints,
        Self::CordInjury,
        Self::BreathingSupport,
        Self::BiteReflex,
        Self::PoorSensation,
        Self::PainOrFatigue,
    ];
}

/// How the person says stop.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct StopSignal {
    /// What it is, in the person's or the helper's words.
    pub how: String,
    /// Whether it was tried today.
    pub tried: bool,
}

/// What was looked at before anything moved.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Safety {
    /// The wheelchair's drive is off and locked, or there is none.
    pub drive_off: bool,
    /// Call bell, communication aid and breathing tubes are clear and in reach.
    pub lines_clear: bool,
    /// How the person says stop.
    pub stop: StopSignal,
    /// What was answered with yes.
    pub holds: BTreeSet<Condition>,
    /// What was answered with no; in neither set where it was skipped.
    pub holds_not: BTreeSet<Condition>,
}

impl Safety {
    pub(super) fn tidied(&self) -> Self {
        let stop = StopSignal { how: short(&self.stop.how), tried: self.stop.tried };
        let holds_not = self.holds_not.difference(&self.holds).copied().collect();
        Self { stop, holds_not, ..self.clone() }
    }
}
