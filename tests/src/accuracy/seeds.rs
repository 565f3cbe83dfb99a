//! Which people what was set on, and which the reported numbers come from.
//!
//! Tests, golden files, priors and constants were set on people of [`Seeds::Tuning`]; what is
//! reported comes from people of [`Seeds::Reporting`], whom nothing was set on. No seed is in both, nor are
//! the seeds from which truths are played.

use serde::{Deserialize, Serialize};
use std::ops::Range;

/// Truths are played from other seeds than the visit: its own and so many more.
pub const TRUTH_SEEDS: u64 = 1_000_000;
/// Truths and further rests are played from fewer than this many times [`TRUTH_SEEDS`] beyond.
const TIMES: u64 = 3;

/// A set of people.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Seeds {
    /// Those whom everything may be set on.
    Tuning,
    /// Those whom the reported numbers come from, and nothing is set on.
    Reporting,
}

impl Seeds {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Tuning, Self::Reporting];

    /// The seeds of its people.
    #[must_use]
    pub const fn people(self) -> Range<u64> {
        match self {
            Self::Tuning => 0..1_000_000,
            Self::Reporting => 4_000_000_000..4_001_000_000,
        }
    }

    /// All seeds that anything of them is played from.
    #[must_use]
    pub const fn played(self) -> Range<u64> {
        let people = self.people();
        people.start..people.end + TIMES * TRUTH_SEEDS
    }

    /// Its name in files.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Tuning => "tuning",
            Self::Reporting => "reporting",
        }
    }

    /// The set of this name.
    #[must_use]
    pub fn of_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|one| one.code() == code)
    }

    /// The set that this person is in.
    #[must_use]
    pub fn of_seed(seed: u64) -> Option<Self> {
        Self::ALL.into_iter().find(|one| one.people().contains(&seed))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nobody_is_in_both_sets() {
        let [one, other] = Seeds::ALL.map(Seeds::played);
        assert!(one.end <= other.start || other.end <= one.start, "{one:?} {other:?}");
        for set in Seeds::ALL {
            assert_eq!(Seeds::of_seed(set.people().start), Some(set));
            assert_eq!(Seeds::of_seed(set.people().end - 1), Some(set));
            assert_eq!(Seeds::of_code(set.code()), Some(set));
        }
    }

    /// The seeds that truths are played from are those that [`Seeds::played`] counts on.
    #[test]
    fn the_golden_figures_are_of_the_tuning_set() {
        let golden: serde_json::Value =
            serde_json::from_str(include_str!("../../golden/accuracy.json")).expect("JSON");
        let first = golden["first_seed"].as_u64().expect("a seed");
        let last = first + golden["people"].as_u64().expect("a number") - 1;
        assert_eq!(golden["seeds"], "tuning");
        for seed in [first, last] {
            assert_eq!(Seeds::of_seed(seed), Some(Seeds::Tuning));
        }
    }
}
