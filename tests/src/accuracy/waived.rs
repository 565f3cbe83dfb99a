//! Bars that are known to be missed, how far, why, and what was tried. Each keeps a floor at the
//! figure it had, so that it cannot get worse unseen; one that is cleared is told too: it has to go.

use super::bars::Wanted;
use super::seeds::Seeds;
use serde::Deserialize;
use std::sync::LazyLock;

/// The list of `tests/accuracy/waived.json`.
static WAIVED: LazyLock<Vec<Waived>> = LazyLock::new(|| {
    // A list that cannot be read waives nothing, and a test says so.
    serde_json::from_str(include_str!("../../accuracy/waived.json")).unwrap_or_default()
});

/// A bar that is waived.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Waived {
    /// The bar's name in files.
    pub bar: String,
    /// The figure over the people of the everyday run; nothing where it is cleared there.
    pub tuning: Option<f64>,
    /// The figure over the people of the long run; nothing where it is cleared there.
    pub reporting: Option<f64>,
    /// Why, and what was tried.
    pub reason: String,
}

impl Waived {
    /// The floor for these people.
    #[must_use]
    pub const fn floor(&self, seeds: Seeds) -> Option<f64> {
        match seeds {
            Seeds::Tuning => self.tuning,
            Seeds::Reporting => self.reporting,
        }
    }
}

/// How this bar is waived for these people, if it is.
#[must_use]
pub fn waived(code: &str, seeds: Seeds) -> Option<&'static Waived> {
    WAIVED.iter().find(|one| one.bar == code && one.floor(seeds).is_some())
}

/// The codes of all bars that are waived for these people.
pub fn waived_codes(seeds: Seeds) -> impl Iterator<Item = &'static str> {
    let has_floor = move |one: &&Waived| one.floor(seeds).is_some();
    WAIVED.iter().filter(has_floor).map(|one| one.bar.as_str())
}

/// Whether a value that misses its bar is no worse than its floor was.
#[must_use]
pub fn is_no_worse(measured: f64, floor: f64, wanted: Wanted) -> bool {
    match wanted {
        Wanted::AtMost(_) => measured <= floor,
        Wanted::AtLeast(_) | Wanted::Above(_) => measured >= floor,
        Wanted::Within(low, _) if floor < low => (floor..low).contains(&measured),
        Wanted::Within(_, high) => high < measured && measured <= floor,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_list_can_be_read_and_every_entry_waives_something() {
        let text = include_str!("../../accuracy/waived.json");
        let list: Vec<Waived> = serde_json::from_str(text).expect("a list");
        for one in &list {
            assert!(one.tuning.is_some() || one.reporting.is_some(), "{}", one.bar);
            assert!(one.reason.len() > 20, "{}", one.bar);
            assert_eq!(list.iter().filter(|other| other.bar == one.bar).count(), 1, "{}", one.bar);
        }
    }

    #[test]
    fn what_gets_worse_is_not_waived() {
        assert!(is_no_worse(88.0, 87.0, Wanted::AtLeast(90.0)));
        assert!(!is_no_worse(86.9, 87.0, Wanted::AtLeast(90.0)));
        assert!(
            is_no_worse(1.3, 1.4, Wanted::AtMost(1.2))
                && !is_no_worse(1.5, 1.4, Wanted::AtMost(1.2))
        );
        let within = Wanted::Within(92.0, 98.0);
        assert!(is_no_worse(91.0, 90.5, within) && !is_no_worse(90.4, 90.5, within));
        // Too high instead of too low is another miss.
        assert!(!is_no_worse(99.0, 90.5, within));
        assert!(is_no_worse(98.5, 99.0, within) && !is_no_worse(99.5, 99.0, within));
    }
}
