//! The sensitivity curve: equal steadiness of the output.
//!
//! A push that shakes by sd(r) at radius r shakes the output by slope(r) sd(r). With a slope
//! that goes as 1 / sd(r) the output is equally steady everywhere: the variance-stabilising
//! transform (Bartlett, *Biometrics* 3 (1947) 39, from memory). For `sd(r) = a + b r` the curve
//! is a logarithm.

use super::CurveAdvice;
use crate::estimate::{Basis, Estimate, NotEnough};
use crate::pipeline::curve_at;
use crate::settings::Curve;
use crate::statistics::lines::{RisingLine, Weighed, rising_line};

/// The steepest part of the curve is at most this many times as steep as the flattest.
pub const MOST_SLOPE_RATIO: f64 = 3.0;
/// Straight pieces of the suggested curve.
const PIECES: usize = 8;
/// Bounds of the one-number exponent, as in [`Curve::Exponent`].
const EXPONENTS: (f64, f64) = (0.2, 5.0);
/// A growth whose interval is this narrow for the curve to be firm: in its own size.
const FIRM_SHARE: f64 = 0.5;
/// No step of steadiness is believed below this, share of travel: it keeps weights finite.
const LEAST_DEVIATION: f64 = 1e-5;

/// A false movement that comes once where ten are allowed may give this much of full output, not
/// more (our own choice: less than what games take for a step, more than the steps of a screen).
const FALSE_OUTPUT: f64 = 0.1;

/// One level of steadiness as the curve will see it: after direction map and smoothing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Level {
    /// Distance from the centre, share of travel; 0 at rest.
    pub(super) radius: f64,
    /// Spread about the held place, share of travel.
    pub(super) deviation: f64,
    /// Independent values behind it.
    pub(super) degrees_of_freedom: f64,
    /// Seconds behind it.
    pub(super) seconds: f64,
}

/// The suggested curve over the span from dead zone to full throw.
///
/// `rare_radius` is the radius that one false movement in ten allowed ones still passes: there
/// the output must be small, which bounds the slope at the edge of the dead zone. A straight line
/// is always allowed.
pub(super) fn curve(
    levels: &[Level],
    dead_zone: f64,
    full_throw: f64,
    rare_radius: Option<f64>,
) -> Result<CurveAdvice, NotEnough> {
    let fit = usable(levels);
    let line = rising_line(&fit).ok_or(NotEnough::Repetitions { have: fit.len(), need: 2 })?;
    let (low, high) =
        (line.free_growth - 1.96 * line.growth_error, line.free_growth + 1.96 * line.growth_error);
    let seconds = levels.iter().map(|level| level.seconds).sum();
    let basis = Basis { seconds, repetitions: fit.len() };
    let growth = Estimate::new(line.growth, low.max(0.0), high.max(0.0), basis)
        .ok_or(NotEnough::DoesNotApply)?;
    let span = full_throw - dead_zone;
    let edge_slope_limit = rare_radius.map(|rare| {
        let beyond = rare - dead_zone;
        if beyond > 0.0 { (FALSE_OUTPUT * span / beyond).clamp(1.0, 99.0) } else { 99.0 }
    });
    let straight = low <= 0.0;
    let points = if straight {
        vec![(0.0, 0.0), (1.0, 1.0)]
    } else {
        equal_steadiness(&line, dead_zone, full_throw, edge_slope_limit)
    };
    let (exponent, exponent_cost) = nearest_exponent(&Curve::Points(points.clone()));
    // A straight line is a choice for want of evidence unless the growth is known to be small.
    let small = high * span <= 0.5 * (line.at_zero + line.growth * dead_zone);
    let narrow = high - low <= 2.0 * FIRM_SHARE * line.growth;
    let firm = if straight { small } else { narrow };
    Ok(CurveAdvice {
        sureness: growth.sureness(firm),
        at_centre: line.at_zero,
        growth: Ok(growth),
        straight,
        points,
        exponent,
        exponent_cost,
        edge_slope_limit,
        levels: fit.len(),
    })
}

/// The levels with weights. The variance of a standard deviation s on d degrees of freedom is
/// about s² / 2d; the s of the weights is that of a neighbourly mean, so that a level that
/// happens to look steady does not decide alone.
fn usable(levels: &[Level]) -> Vec<Weighed> {
    let spread = |level: &Level| level.deviation.max(LEAST_DEVIATION);
    let weight: f64 = levels.iter().map(|level| level.degrees_of_freedom).sum();
    let pooled = levels.iter().map(|level| spread(level) * level.degrees_of_freedom).sum::<f64>()
        / weight.max(1e-9);
    levels
        .iter()
        .filter(|level| level.degrees_of_freedom > 0.0)
        .map(|level| {
            let y = spread(level);
            let near = 0.5 * (y + pooled);
            let variance = near * near / (2.0 * level.degrees_of_freedom);
            Weighed { x: level.radius, y, variance }
        })
        .collect()
}

/// The points of the equal-steadiness curve. Its slope ratio is held to [`MOST_SLOPE_RATIO`], and
/// its slope at the edge of the dead zone to `edge_slope_limit`, by believing in a little more
/// unsteadiness at the centre.
fn equal_steadiness(
    line: &RisingLine,
    dead_zone: f64,
    full_throw: f64,
    edge_slope_limit: Option<f64>,
) -> Vec<(f64, f64)> {
    let near = line.at_zero + line.growth * dead_zone;
    let far = line.at_zero + line.growth * full_throw;
    let near = near.max((far - near) / (MOST_SLOPE_RATIO - 1.0));
    let mut growth = line.growth * (full_throw - dead_zone) / near;
    // The first straight piece is what a host plays: its slope rises with the growth.
    let first = |growth: f64| bent(growth, 1.0 / PIECES as f64) * PIECES as f64;
    if let Some(limit) = edge_slope_limit
        && first(growth) > limit
    {
        let (mut low, mut high) = (0.0, growth);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if first(middle) > limit { high = middle } else { low = middle }
        }
        growth = low;
    }
    (0..=PIECES)
        .map(|i| {
            let input = i as f64 / PIECES as f64;
            (input, bent(growth, input).clamp(0.0, 1.0))
        })
        .collect()
}

/// `ln(1 + growth input) / ln(1 + growth)`, the straight line for no growth.
fn bent(growth: f64, input: f64) -> f64 {
    if growth < 1e-9 { input } else { libm::log1p(growth * input) / libm::log1p(growth) }
}

/// The exponent whose curve lies nearest: smallest largest distance over the whole input, and
/// that distance, share of full output.
///
/// The distance at each input grows away from one best exponent, so the largest has one
/// minimum; it is found by golden section to 1e-9.
#[must_use]
pub fn nearest_exponent(curve: &Curve) -> (f64, f64) {
    if let Curve::Exponent(exponent) = curve
        && exponent.is_finite()
    {
        return (exponent.clamp(EXPONENTS.0, EXPONENTS.1), 0.0);
    }
    if matches!(curve, Curve::Linear | Curve::Exponent(_)) {
        return (1.0, 0.0);
    }
    let cost = |exponent: f64| {
        (0..=200)
            .map(|i| {
                let input = f64::from(i) / 200.0;
                (curve_at(curve, input) - libm::pow(input, exponent)).abs()
            })
            .fold(0.0, f64::max)
    };
    let golden = 0.5 * (libm::sqrt(5.0) - 1.0);
    let (mut low, mut high) = EXPONENTS;
    while high - low > 1e-9 {
        let (one, two) = (high - golden * (high - low), low + golden * (high - low));
        if cost(one) <= cost(two) {
            high = two;
        } else {
            low = one;
        }
    }
    let exponent = 0.5 * (low + high);
    // A straight line is exactly one.
    if cost(1.0) < 1e-12 { (1.0, 0.0) } else { (exponent, cost(exponent)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_curve_makes_the_output_equally_steady() {
        let line = RisingLine { at_zero: 0.02, growth: 0.05, growth_error: 0.0, free_growth: 0.05 };
        let points = equal_steadiness(&line, 0.1, 0.7, None);
        let slope_times_spread: Vec<f64> = points
            .windows(2)
            .map(|pair| {
                let slope = (pair[1].1 - pair[0].1) / (pair[1].0 - pair[0].0);
                let middle = 0.1 + 0.6 * 0.5 * (pair[0].0 + pair[1].0);
                slope * (0.02 + 0.05 * middle)
            })
            .collect();
        let first = slope_times_spread[0];
        assert!(slope_times_spread.iter().all(|one| (one / first - 1.0).abs() < 0.01));
    }

    #[test]
    fn the_slope_ratio_is_held() {
        let line = RisingLine { at_zero: 0.0, growth: 0.2, growth_error: 0.0, free_growth: 0.2 };
        let points = equal_steadiness(&line, 0.02, 1.0, None);
        let slopes: Vec<f64> =
            points.windows(2).map(|pair| (pair[1].1 - pair[0].1) * PIECES as f64).collect();
        assert!(slopes[0] / slopes[PIECES - 1] <= MOST_SLOPE_RATIO);
        assert!(slopes[0] / slopes[PIECES - 1] > 2.0);
        assert_eq!(points[PIECES], (1.0, 1.0));
    }

    #[test]
    fn the_edge_of_the_dead_zone_is_not_too_steep() {
        let line = RisingLine { at_zero: 0.01, growth: 0.1, growth_error: 0.0, free_growth: 0.1 };
        let slope =
            |limit: Option<f64>| equal_steadiness(&line, 0.1, 0.7, limit)[1].1 * PIECES as f64;
        assert!(slope(None) > 1.5);
        assert!((slope(Some(1.3)) - 1.3).abs() < 1e-6);
        assert!((slope(Some(1.0)) - 1.0).abs() < 1e-6);
        assert_eq!(slope(Some(9.0)), slope(None));
        // Steadiness at rest and at two levels; a tenth of the false movements allowed pass 0.16.
        let level = |radius: f64, deviation: f64| Level {
            radius,
            deviation,
            degrees_of_freedom: 80.0,
            seconds: 20.0,
        };
        let levels = [level(0.0, 0.01), level(0.3, 0.03), level(0.6, 0.05)];
        let bound = curve(&levels, 0.1, 0.7, Some(0.16)).unwrap();
        assert_eq!(bound.edge_slope_limit, Some(1.0));
        assert!(!bound.straight && (bound.points[1].1 - bound.points[1].0).abs() < 1e-6);
        let free = curve(&levels, 0.1, 0.7, Some(0.12)).unwrap();
        assert!((free.edge_slope_limit.unwrap() - 3.0).abs() < 1e-9);
        assert!(free.points[1].1 > 1.3 * free.points[1].0, "{free:?}");
    }

    #[test]
    fn the_nearest_exponent_of_a_power_is_itself() {
        let points =
            (0..=15).map(|i| (f64::from(i) / 15.0, libm::pow(f64::from(i) / 15.0, 1.7))).collect();
        let (exponent, cost) = nearest_exponent(&Curve::Points(points));
        assert!((exponent - 1.7).abs() < 0.02 && cost < 0.005, "{exponent} {cost}");
        assert_eq!(nearest_exponent(&Curve::Points(vec![(0.5, 0.5), (1.0, 1.0)])), (1.0, 0.0));
        assert_eq!(nearest_exponent(&Curve::Exponent(9.0)), (5.0, 0.0));
    }
}
