//! The suggestion against what is done without measuring.
//!
//! Each convention is multiplied by one constant for all people, until it costs the population
//! as much as the suggestion does; then the other side is compared. So no convention loses for
//! being too large or too small, only for fitting the person badly.

use super::dead_zone::DeadZoneCase;
use serde::{Deserialize, Serialize};

/// What is done without measuring a rate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Convention {
    /// A tenth of the travel for everybody.
    Tenth,
    /// Fifteen hundredths of the travel for everybody.
    Fifteen,
    /// The distance inside which the recorded rest stays for 99 % of the time.
    RestQuantile,
}

/// One convention beside the suggestion.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Against {
    /// Which convention.
    pub convention: String,
    /// By what it was multiplied to keep as much reach as the suggestion.
    pub factor_at_equal_reach: f64,
    /// Share of people over their target with it then.
    pub over_target: f64,
    /// By what it was multiplied to leave as many people over their target.
    pub factor_at_equal_target: f64,
    /// Mean share of reach kept with it then.
    pub reach_kept: f64,
}

/// The suggestion and each convention over all people to whom a dead zone was suggested.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Comparison {
    /// People.
    pub people: usize,
    /// Mean share of reach kept with the suggestion.
    pub reach_kept: f64,
    /// Share of people over their target with the suggestion.
    pub over_target: f64,
    /// The conventions.
    pub conventions: Vec<Against>,
}

/// The comparison over these people.
#[must_use]
pub fn compare(cases: &[&DeadZoneCase]) -> Comparison {
    let told: Vec<(&DeadZoneCase, f64)> = cases
        .iter()
        .filter(|case| !case.reach.is_empty())
        .filter_map(|case| case.radius.map(|radius| (*case, radius)))
        .collect();
    let people = told.len();
    if people == 0 {
        return Comparison::default();
    }
    let mean = |of: &dyn Fn(&(&DeadZoneCase, f64)) -> f64| {
        told.iter().map(of).sum::<f64>() / people as f64
    };
    let reach_kept = mean(&|(case, radius)| case.reach_kept(*radius));
    let over_target = mean(&|(case, radius)| f64::from(u8::from(!case.keeps(*radius))));
    let conventions = [
        ("fixed 10 %", Convention::Tenth),
        ("fixed 15 %", Convention::Fifteen),
        ("99th percentile of rest", Convention::RestQuantile),
    ]
    .into_iter()
    .map(|(name, convention)| {
        let radius = |case: &DeadZoneCase, factor: f64| {
            factor
                * match convention {
                    Convention::Tenth => 0.1,
                    Convention::Fifteen => 0.15,
                    Convention::RestQuantile => case.rest_quantile,
                }
        };
        let kept = |factor: f64| mean(&|(case, _)| case.reach_kept(radius(case, factor)));
        let over =
            |factor: f64| mean(&|(case, _)| f64::from(u8::from(!case.keeps(radius(case, factor)))));
        // Both fall as the factor grows.
        let equal_reach = last_at_least(&kept, reach_kept);
        let equal_target = last_above(&over, over_target);
        Against {
            convention: name.to_owned(),
            factor_at_equal_reach: equal_reach,
            over_target: over(equal_reach),
            factor_at_equal_target: equal_target,
            reach_kept: kept(equal_target),
        }
    })
    .collect();
    Comparison { people, reach_kept, over_target, conventions }
}

/// The largest factor at which a falling quantity is still `wanted` or more.
fn last_at_least(of: &dyn Fn(f64) -> f64, wanted: f64) -> f64 {
    bisect(|factor| of(factor) >= wanted).0
}

/// The smallest factor at which a falling quantity is no longer above `most`.
fn last_above(of: &dyn Fn(f64) -> f64, most: f64) -> f64 {
    bisect(|factor| of(factor) > most).1
}

/// Where something that holds at 0 ceases to hold: just before and just after.
fn bisect(holds: impl Fn(f64) -> bool) -> (f64, f64) {
    let (mut before, mut after) = (0.0, 64.0);
    for _ in 0..60 {
        let middle = 0.5 * (before + after);
        if holds(middle) {
            before = middle;
        } else {
            after = middle;
        }
    }
    (before, after)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn case(needed: f64, radius: f64, quantile: f64) -> DeadZoneCase {
        DeadZoneCase {
            target: 0.5,
            jerky: false,
            radius: Some(radius),
            first_radius: Some(radius),
            firm: true,
            asked_seconds: 120.0,
            needed,
            realised: 0.0,
            rest_quantile: quantile,
            observer_keeps: None,
            reach: vec![0.5, 1.0],
        }
    }

    #[test]
    fn a_fixed_radius_fits_few_at_the_same_cost() {
        let people = [case(0.05, 0.06, 0.03), case(0.1, 0.12, 0.06), case(0.2, 0.24, 0.12)];
        let people: Vec<&DeadZoneCase> = people.iter().collect();
        let comparison = compare(&people);
        assert_eq!(comparison.over_target, 0.0);
        // The mean radius is 0.14, and one person in three needs more than that.
        assert!((comparison.reach_kept - (1.0 - 0.14 * 1.5)).abs() < 1e-9);
        let fixed = &comparison.conventions[0];
        assert!((fixed.factor_at_equal_reach - 1.4).abs() < 1e-6);
        assert!((fixed.over_target - 1.0 / 3.0).abs() < 1e-9);
        assert!((fixed.factor_at_equal_target - 2.0).abs() < 1e-6);
        assert!((fixed.reach_kept - 0.7).abs() < 1e-6);
        // The quantile fits these people as well as the suggestion, at less cost.
        let quantile = &comparison.conventions[2];
        assert_eq!(quantile.over_target, 0.0);
        assert!(quantile.reach_kept > comparison.reach_kept);
    }
}
