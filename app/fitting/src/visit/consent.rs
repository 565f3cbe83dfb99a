//! Who agreed to what, and when.

use super::{long, short};
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// The last moment that is taken for one, milliseconds since 1970 UTC (the year 9999).
const LAST_EPOCH_MS: u64 = 253_402_300_799_999;

/// What somebody can agree to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ConsentTo {
    /// Being measured.
    Measuring,
    /// Keeping recordings and results on this machine.
    Keeping,
    /// Handing a summary to others.
    Sharing,
}

impl ConsentTo {
    /// All of them, in the order in which they are asked.
    pub const ALL: [Self; 3] = [Self::Measuring, Self::Keeping, Self::Sharing];
}

/// Who agreed to what, and when.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Consent {
    /// Who agreed: the person, a parent, a guardian, in their own words.
    pub who: String,
    /// To what.
    pub to: BTreeSet<ConsentTo>,
    /// What was answered with no; in neither set where it was skipped.
    pub not_to: BTreeSet<ConsentTo>,
    /// When it was last changed, milliseconds since 1970 UTC.
    pub given_epoch_ms: Option<u64>,
    /// The person's own yes or no, whoever else agreed.
    pub own_yes: Option<bool>,
    /// How the person said so.
    pub own_words: String,
}

impl Consent {
    /// What was answered; nothing where it was skipped.
    #[must_use]
    pub fn answer(&self, to: ConsentTo) -> Option<bool> {
        if self.not_to.contains(&to) { Some(false) } else { self.to.contains(&to).then_some(true) }
    }

    /// Answers with yes or no, or takes the answer back.
    pub fn set_answer(&mut self, to: ConsentTo, answer: Option<bool>) {
        self.to.remove(&to);
        self.not_to.remove(&to);
        match answer {
            Some(true) => self.to.insert(to),
            Some(false) => self.not_to.insert(to),
            None => false,
        };
    }

    /// Whether somebody said no to it. The person's own no is one to everything, whoever else
    /// agreed.
    #[must_use]
    pub fn refuses(&self, to: ConsentTo) -> bool {
        self.own_yes == Some(false) || self.not_to.contains(&to)
    }

    pub(super) fn tidied(&self) -> Self {
        Self {
            who: short(&self.who),
            to: self.to.difference(&self.not_to).copied().collect(),
            given_epoch_ms: self.given_epoch_ms.map(|at| at.min(LAST_EPOCH_MS)),
            own_words: long(&self.own_words),
            ..self.clone()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_no_refuses() {
        let mut consent = Consent::default();
        for to in ConsentTo::ALL {
            assert!(!consent.refuses(to), "nothing was asked");
            consent.set_answer(to, Some(true));
            assert!(!consent.refuses(to));
            consent.set_answer(to, Some(false));
            assert!(consent.refuses(to));
            assert_eq!((consent.answer(to), consent.to.contains(&to)), (Some(false), false));
            consent.set_answer(to, None);
            assert!(!consent.refuses(to));
        }
        let others_agreed =
            Consent { to: ConsentTo::ALL.into(), own_yes: Some(false), ..Consent::default() };
        assert!(ConsentTo::ALL.into_iter().all(|to| others_agreed.refuses(to)));
    }

    #[test]
    fn a_no_wins_over_a_yes_from_a_file() {
        let both = Consent {
            to: [ConsentTo::Keeping].into(),
            not_to: [ConsentTo::Keeping].into(),
            ..Consent::default()
        };
        assert_eq!(both.tidied().answer(ConsentTo::Keeping), Some(false));
        assert!(both.tidied().to.is_empty());
    }
}
