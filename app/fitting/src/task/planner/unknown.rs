//! One number for how much is unknown.
//!
//! The figure of merit of plans, fixed before any plan was judged by it: the mean over three
//! families of the mean relative width of their 95 % intervals (the width over the value):
//!
//! 1. comfortable reach in each direction that is needed;
//! 2. unintended movement at rest: the distance inside which the stick stays 95 % of the time;
//! 3. steadiness while holding at a quarter and at half of own reach (left out where the kind of
//!    stick has no levels).
//!
//! A width counts as at most [`WORST_WIDTH`], and what there is not enough recorded for counts as
//! that. It lies in 0..=2, and less is better.

use crate::estimate::{Estimate, Measured};
use crate::measure::ForPlan;
use crate::{Direction, StickKind};

/// The relative width of what is not known: a figure that may be double or nothing.
pub const WORST_WIDTH: f64 = 2.0;

/// The levels of own reach at which steadiness is wanted.
pub(super) const LEVELS: [f64; 2] = [0.25, 0.5];

/// How much these figures leave unknown of the `needed` directions of this kind of stick,
/// 0..=2; see the module's own words.
#[must_use]
pub fn unknown(figures: &ForPlan, needed: &[Direction], kind: StickKind) -> f64 {
    let known = |measured: Option<&Measured>| {
        measured.and_then(relative).map_or(WORST_WIDTH, |width| width.min(WORST_WIDTH))
    };
    let reach: Vec<f64> = needed
        .iter()
        .map(|direction| {
            known(figures.reach.iter().find(|one| one.asked == *direction).map(|one| &one.reach))
        })
        .collect();
    let rest = [known(Some(&figures.wander))];
    let hold: Vec<f64> = LEVELS
        .iter()
        .filter(|_| kind.lacks(crate::task::TaskKind::Hold).is_none())
        .map(|level| {
            let found = figures.hold.iter().find(|one| (one.level - level).abs() < 0.01);
            known(found.map(|one| &one.deviation))
        })
        .collect();
    mean_of_families(&[&reach, &rest, &hold])
}

/// The mean of the means of these families; those without a member are left out.
pub(super) fn mean_of_families(families: &[&[f64]]) -> f64 {
    let means: Vec<f64> = families
        .iter()
        .filter(|family| !family.is_empty())
        .map(|family| family.iter().sum::<f64>() / family.len() as f64)
        .collect();
    if means.is_empty() { WORST_WIDTH } else { means.iter().sum::<f64>() / means.len() as f64 }
}

/// The width of an interval as a share of its value; nothing for a value of 0 or none.
pub(super) fn relative(measured: &Measured) -> Option<f64> {
    let width = |estimate: &Estimate| estimate.width() / estimate.value;
    measured.as_ref().ok().map(width).filter(|width| width.is_finite())
}

/// About the factor of a two-sided 95 % t interval: from the table of the NIST/SEMATECH
/// e-Handbook of Statistical Methods, 1.3.6.7.2, up to ten degrees of freedom, beyond it within
/// 1 %. For foreseeing only; what is measured uses the distribution itself.
pub(super) fn t_95(freedom: usize) -> f64 {
    const TABLE: [f64; 10] =
        [12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228];
    match freedom {
        0 => f64::INFINITY,
        1..=10 => TABLE[freedom - 1],
        more => 1.96 + 2.7 / more as f64,
    }
}

/// About the relative width of a standard deviation's 95 % interval: from the large-sample error
/// of a standard deviation, 1/√(2·n).
pub(super) fn deviation_width(freedom: f64) -> f64 {
    if freedom < 3.0 {
        return WORST_WIDTH;
    }
    (2.0 * 1.96 / libm::sqrt(2.0 * freedom)).min(WORST_WIDTH)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::for_plan;
    use crate::statistics::distributions::t_quantile;

    #[test]
    fn nothing_recorded_is_the_worst() {
        let nothing = for_plan(&[]);
        let usual = StickKind::default();
        assert_eq!(unknown(&nothing, &Direction::FOUR, usual), WORST_WIDTH);
        let switches = StickKind { switches: true, ..usual };
        assert_eq!(unknown(&nothing, &[], switches), WORST_WIDTH);
    }

    #[test]
    fn the_factors_are_near_those_of_the_distribution() {
        for freedom in 1..200 {
            let exact = t_quantile(0.975, freedom as f64);
            assert!((t_95(freedom) / exact - 1.0).abs() < 0.01, "{freedom}");
        }
    }
}
