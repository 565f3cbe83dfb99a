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
    /// What was answered; nothing where it was skipped.
    #[must_use]
    pub fn answer(&self, condition: Condition) -> Option<bool> {
        if self.holds.contains(&condition) {
            Some(true)
        } else {
            self.holds_not.contains(&condition).then_some(false)
        }
    }

    /// Answers with yes or no, or takes the answer back.
    pub fn set_answer(&mut self, condition: Condition, answer: Option<bool>) {
        self.holds.remove(&condition);
        self.holds_not.remove(&condition);
        match answer {
            Some(true) => self.holds.insert(condition),
            Some(false) => self.holds_not.insert(condition),
            None => false,
        };
    }

    /// What was neither answered with yes nor with no, in the order in which it is asked.
    #[must_use]
    pub fn skipped(&self) -> Vec<Condition> {
        let skipped = |condition: &Condition| self.answer(*condition).is_none();
        Condition::ALL.into_iter().filter(skipped).collect()
    }

    /// Whether the three things that come before any movement are so.
    #[must_use]
    pub const fn is_ready(&self) -> bool {
        self.drive_off && self.lines_clear && self.stop.tried
    }

    pub(super) fn tidied(&self) -> Self {
        let stop = StopSignal { how: short(&self.stop.how), tried: self.stop.tried };
        let holds_not = self.holds_not.difference(&self.holds).copied().collect();
        Self { stop, holds_not, ..self.clone() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_answer_is_yes_or_no_or_none() {
        let mut safety = Safety::default();
        assert_eq!(safety.skipped(), Condition::ALL);
        for condition in Condition::ALL {
            for answer in [Some(true), Some(false), Some(true), None, Some(false)] {
                safety.set_answer(condition, answer);
                assert_eq!(safety.answer(condition), answer);
                assert_eq!(safety.tidied(), safety);
            }
        }
        assert!(safety.skipped().is_empty() && safety.holds.is_empty());
    }

    #[test]
    fn ready_needs_all_three() {
        for checks in 0..8_u8 {
            let on = |bit: u8| checks & (1 << bit) != 0;
            let safety = Safety {
                drive_off: on(0),
                lines_clear: on(1),
                stop: StopSignal { tried: on(2), ..StopSignal::default() },
                ..Safety::default()
            };
            assert_eq!(safety.is_ready(), checks == 7);
        }
    }
}
