//! The sensitivity curve: equal steadiness of the output.
//!
//! A push that shakes by sd(r) at radius r shakes the output by slope(r) sd(r). With a slope
//! that goes as 1 / sd(r) the output is equally steady everywhere: the variance-stabilising
//! transform (Bartlett, *Biometrics* 3 (1947) 39, from memory). For `sd(r) = a + b r` the curve
//! is a logarithm.

use super::CurveAdvice;
use crate::estimate::{Basis, Estimate, NotEnough, Sureness};
use crate::measure::{LevelSteadiness, Measures};
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

/// The suggested curve over the span from dead zone to full throw.
pub(super) fn curve(
    measures: &Measures,
    dead_zone: f64,
    full_throw: f64,
) -> Result<CurveAdvice, NotEnough> {
    let levels = usable(&measures.hold);
    let line =
        rising_line(&levels).ok_or(NotEnough::Repetitions { have: levels.len(), need: 2 })?;
    let (low, high) =
        (line.free_growth - 1.96 * line.growth_error, line.free_growth + 1.96 * line.growth_error);
    let seconds = measures
        .hold
        .iter()
        .filter_map(|level| level.deviation.ok())
        .map(|deviation| deviation.basis.seconds)
        .sum();
    let basis = Basis { seconds, repetitions: levels.len() };
    let growth = Estimate::new(line.growth, low.max(0.0), high.max(0.0), basis)
        .ok_or(NotEnough::DoesNotApply);
    let straight = low <= 0.0;
    let points = if straight {
        vec![(0.0, 0.0), (1.0, 1.0)]
    } else {
        equal_steadiness(&line, dead_zone, full_throw)
    };
    let (exponent, exponent_cost) = nearest_exponent(&Curve::Points(points.clone()));
    // A straight line is a choice for want of evidence unless the growth is known to be small.
    let span = full_throw - dead_zone;
    let small = high * span <= 0.5 * (line.at_zero + line.growth * dead_zone);
    let narrow = high - low <= 2.0 * FIRM_SHARE * line.growth;
    let firm = if straight { small } else { narrow };
    Ok(CurveAdvice {
        sureness: if firm { Sureness::Firm } else { Sureness::Rough },
        at_centre: line.at_zero,
        growth,
        straight,
        points,
        exponent,
        exponent_cost,
    })
}

/// The levels that can be fitted: not at the gate, with an interval. The variance of a
/// standard deviation s on d degrees of freedom is about s² / 2d; the s of the weights is that
/// of a neighbourly mean, so that a level that happens to look steady does not decide alone.
fn usable(hold: &[LevelSteadiness]) -> Vec<Weighed> {
    let fit: Vec<(f64, f64, f64)> = hold
        .iter()
        .filter(|level| !level.at_gate)
        .filter_map(|level| {
            let deviation = level.deviation.ok()?.value.max(LEAST_DEVIATION);
            Some((level.radius, deviation, level.degrees_of_freedom))
        })
        .collect();
    let weight: f64 = fit.iter().map(|level| level.2).sum();
    let pooled = fit.iter().map(|level| level.1 * level.2).sum::<f64>() / weight.max(1e-9);
    fit.iter()
        .map(|&(x, y, degrees_of_freedom)| {
            let spread = 0.5 * (y + pooled);
            Weighed { x, y, variance: spread * spread / (2.0 * degrees_of_freedom) }
        })
        .collect()
}

/// The points of the equal-steadiness curve, its slope ratio held to [`MOST_SLOPE_RATIO`] by
/// believing in a little unsteadiness at the centre.
fn equal_steadiness(line: &RisingLine, dead_zone: f64, full_throw: f64) -> Vec<(f64, f64)> {
    let near = line.at_zero + line.growth * dead_zone;
    let far = line.at_zero + line.growth * full_throw;
    let near = near.max((far - near) / (MOST_SLOPE_RATIO - 1.0));
    let growth = line.growth * (full_throw - dead_zone) / near;
    (0..=PIECES)
        .map(|i| {
            let input = i as f64 / PIECES as f64;
            let output = if growth < 1e-9 {
                input
            } else {
                libm::log1p(growth * input) / libm::log1p(growth)
            };
            (input, output.clamp(0.0, 1.0))
        })
        .collect()
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
        let points = equal_steadiness(&line, 0.1, 0.7);
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
        let points = equal_steadiness(&line, 0.02, 1.0);
        let slopes: Vec<f64> =
            points.windows(2).map(|pair| (pair[1].1 - pair[0].1) * PIECES as f64).collect();
        assert!(slopes[0] / slopes[PIECES - 1] <= MOST_SLOPE_RATIO);
        assert!(slopes[0] / slopes[PIECES - 1] > 2.0);
        assert_eq!(points[PIECES], (1.0, 1.0));
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
