//! Limits that a stated share of all future values keeps, with a stated confidence.
//!
//! A quantile of ten presses is no promise: half of all persons would break it. A tolerance
//! limit is the promise: with `confidence`, at least `share` of all that will ever come lies
//! beyond it. Two ways to one:
//!
//! - by order statistics (Wilks, *Annals of Mathematical Statistics* 12 (1941) 91, from memory):
//!   true of any distribution, but it takes many values (59 for 95 % with 95 %);
//! - by a normal distribution of the values, or of their logarithms (Owen, *Handbook of
//!   Statistical Tables*, 1962, from memory): a few values do, if that is their distribution.
//!
//! Values must be independent.

use super::distributions::{normal_quantile, normal_share};
use super::order::sort_numbers;
use super::plain::{deviation, mean};
use super::special::{beta, rising_root};

/// The fewest values a normal limit is drawn from.
pub const FEWEST_VALUES: usize = 3;

/// Which of `n` values in rising order, counted from 1, is the highest that `share` of all
/// values lies above with `confidence` (both inside 0..1); `None` when not even the smallest
/// does: [`super::counts::wilks_samples`] says how many values would.
///
/// The share above the r-th smallest of n follows a beta distribution with n − r + 1 and r.
#[must_use]
pub fn order_rank(n: usize, share: f64, confidence: f64) -> Option<usize> {
    let keeps = |rank: usize| {
        // A rounding error must not cost a rank that is exactly enough.
        1.0 - beta((n - rank + 1) as f64, rank as f64, share) >= confidence - 1e-12
    };
    (1..=n).take_while(|rank| keeps(*rank)).last()
}

/// The order statistic that `share` of all values lies above with `confidence`; `None` with too
/// few values.
#[must_use]
pub fn wilks_lower(values: &[f64], share: f64, confidence: f64) -> Option<f64> {
    let mut sorted = values.to_vec();
    sort_numbers(&mut sorted);
    let rank = order_rank(sorted.len(), share, confidence)?;
    sorted.get(rank - 1).copied()
}

/// The order statistic that `share` of all values lies below with `confidence`; `None` with too
/// few values.
#[must_use]
pub fn wilks_upper(values: &[f64], share: f64, confidence: f64) -> Option<f64> {
    let turned: Vec<f64> = values.iter().map(|value| -value).collect();
    wilks_lower(&turned, share, confidence).map(|limit| -limit)
}

/// How many standard deviations from the mean of `n` normal values the limit lies that `share`
/// of all values keeps with `confidence` (all to one side): the exact factor, a quantile of
/// the noncentral t distribution over √n. `n >= 2`; `share` and `confidence` inside 0.5..1.
#[must_use]
pub fn normal_factor(n: usize, share: f64, confidence: f64) -> f64 {
    let root = libm::sqrt(n as f64);
    let beside = normal_quantile(share) * root;
    let freedom = (n - 1) as f64;
    let below = |t: f64| noncentral_t_share(t, freedom, beside);
    let mut high = 2.0 * beside + 2.0;
    while below(high) < confidence && high < 1e5 {
        high *= 2.0;
    }
    rising_root(0.0, high, confidence, below) / root
}

/// The limit that `share` of all values lies above with `confidence`, for positive values whose
/// logarithms are normal (durations). `None` with fewer than [`FEWEST_VALUES`], or when one is
/// not positive.
#[must_use]
pub fn log_normal_lower(values: &[f64], share: f64, confidence: f64) -> Option<f64> {
    log_normal_limit(values, -1.0, share, confidence)
}

/// The limit that `share` of all values lies below with `confidence`, otherwise as
/// [`log_normal_lower`].
#[must_use]
pub fn log_normal_upper(values: &[f64], share: f64, confidence: f64) -> Option<f64> {
    log_normal_limit(values, 1.0, share, confidence)
}

fn log_normal_limit(values: &[f64], side: f64, share: f64, confidence: f64) -> Option<f64> {
    let fit = |value: &f64| value.is_finite() && *value > 0.0;
    if values.len() < FEWEST_VALUES || !values.iter().all(fit) {
        return None;
    }
    let logarithms: Vec<f64> = values.iter().map(|value| libm::log(*value)).collect();
    let (middle, deviation) = (mean(&logarithms)?, deviation(&logarithms)?);
    let limit = middle + side * normal_factor(values.len(), share, confidence) * deviation;
    Some(libm::exp(limit)).filter(|limit| limit.is_finite())
}

/// The share of the noncentral t distribution below `t >= 0`: the mean of Φ(t s − beside) over
/// the estimated standard deviation s of normal values whose true one is 1.
///
/// With s = e^u the sum of equal steps over u converges faster than any power of the step (both
/// factors are smooth and fall off at both ends), so it is exact to rounding.
fn noncentral_t_share(t: f64, freedom: f64, beside: f64) -> f64 {
    let half = 0.5 * freedom;
    // Density of u at its peak, u = 0: everything else is relative to it.
    let peak = std::f64::consts::LN_2 + half * libm::log(half) - libm::lgamma(half) - half;
    let below_peak = |u: f64| freedom * u - half * libm::expm1(2.0 * u);
    let width = 1.0 / libm::sqrt(2.0 * freedom);
    // Φ turns within 1/t of s.
    let step = 0.25 * width.min(1.0 / (1.0 + t * libm::exp(-width)));
    let mut sum = 0.0;
    for side in [-1.0, 1.0] {
        let mut steps = if side > 0.0 { 0.0 } else { 1.0 };
        loop {
            let u = side * steps * step;
            let fall = below_peak(u);
            if fall < -45.0 {
                break;
            }
            sum += libm::exp(peak + fall) * normal_share(t * libm::exp(u) - beside);
            steps += 1.0;
        }
    }
    sum * step
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statistics::distributions::t_quantile;

    /// Wilks, *Annals of Mathematical Statistics* 12 (1941) 91: the smallest n with
    /// `1 - share^n >= confidence`.
    #[test]
    fn ranks_begin_where_wilks_says() {
        for (share, confidence, n) in [(0.9, 0.95, 29), (0.95, 0.95, 59), (0.8, 0.9, 11)] {
            assert_eq!(order_rank(n, share, confidence), Some(1));
            assert_eq!(order_rank(n - 1, share, confidence), None);
        }
        assert_eq!(order_rank(0, 0.9, 0.9), None);
        // 93 values for 95/95 by the second smallest, as in any table of Wilks' numbers.
        assert_eq!(order_rank(93, 0.95, 0.95), Some(2));
    }

    #[test]
    fn limits_are_values_and_mirror_each_other() {
        let values: Vec<f64> = (1..=60).rev().map(f64::from).collect();
        assert_eq!(wilks_lower(&values, 0.95, 0.95), Some(1.0));
        assert_eq!(wilks_upper(&values, 0.95, 0.95), Some(60.0));
        assert_eq!(wilks_lower(&values[..20], 0.95, 0.95), None);
    }

    #[test]
    fn without_a_shift_it_is_student() {
        for (share, freedom) in [(0.65, 1.0), (0.94, 4.0), (0.9, 30.0)] {
            let got = noncentral_t_share(t_quantile(share, freedom), freedom, 0.0);
            assert!((got - share).abs() < 1e-12, "{share} {freedom} {got}");
        }
    }

    #[test]
    fn durations_get_positive_limits() {
        let lengths = [0.12, 0.15, 0.11, 0.2, 0.13, 0.16];
        let low = log_normal_lower(&lengths, 0.9, 0.9).unwrap();
        let high = log_normal_upper(&lengths, 0.9, 0.9).unwrap();
        assert!(0.0 < low && low < 0.11 && high > 0.2, "{low} {high}");
        assert_eq!(log_normal_lower(&[0.1, 0.2], 0.9, 0.9), None);
        assert_eq!(log_normal_lower(&[0.1, 0.2, 0.0], 0.9, 0.9), None);
        // Values all alike leave no doubt.
        let alike = log_normal_lower(&[0.1; 4], 0.9, 0.9).unwrap();
        assert!((alike - 0.1).abs() < 1e-12);
    }
}
