//! Intervals of a median.

use super::distributions::t_quantile;
use super::order::sort_numbers;
use super::plain::{mean, squares_about_mean};
use super::special::beta;

/// The chance of at most `k` of `n` when each has an even chance: the incomplete beta function
/// of a half (`I_(1/2)(n − k, k + 1)`).
fn at_most(k: usize, n: usize) -> f64 {
    if k >= n { 1.0 } else { beta((n - k) as f64, (k + 1) as f64, 0.5) }
}

/// The 95 % interval of the median of any continuous distribution, from the sign test's order
/// statistics, between two of which it is drawn out as Hettmansperger and Sheather do
/// (*Statistics and Probability Letters* 4 (1986) 75, from memory), so that it covers close to
/// 95 % and not more. `None` of fewer than six, where the whole range covers less.
#[must_use]
pub fn sign_interval(values: &[f64]) -> Option<(f64, f64)> {
    let n = values.len();
    let covers = |depth: usize| 1.0 - 2.0 * at_most(depth - 1, n);
    if n < 6 {
        return None;
    }
    let mut sorted = values.to_vec();
    sort_numbers(&mut sorted);
    let mut depth = 1;
    while depth < n / 2 && covers(depth + 1) >= 0.95 {
        depth += 1;
    }
    let (outer, inner) = (covers(depth), covers(depth + 1));
    let part = ((outer - 0.95) / (outer - inner)).clamp(0.0, 1.0);
    let (n_, d) = (n as f64, depth as f64);
    let share = (n_ - d) * part / (d + (n_ - 2.0 * d) * part);
    let between = |from: f64, to: f64| from + share * (to - from);
    let low = between(*sorted.get(depth - 1)?, *sorted.get(depth)?);
    let high = between(*sorted.get(n - depth)?, *sorted.get(n - depth - 1)?);
    Some((low, high))
}

/// The 95 % interval of the median of values whose logarithms are roughly normal (durations),
/// from Student's t of the logarithms. `None` of fewer than two, or when one is not above 0.
#[must_use]
pub fn log_interval(values: &[f64]) -> Option<(f64, f64)> {
    if values.len() < 2 || values.iter().any(|value| value.is_nan() || *value <= 0.0) {
        return None;
    }
    let logs: Vec<f64> = values.iter().map(|value| libm::log(*value)).collect();
    let (n, middle) = (logs.len() as f64, mean(&logs)?);
    let error = libm::sqrt(squares_about_mean(&logs) / (n - 1.0) / n);
    let half = t_quantile(0.975, n - 1.0) * error;
    Some((libm::exp(middle - half), libm::exp(middle + half)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::test_records::Chance;

    /// By hand: of ten, the second and ninth cover 1 − 22/1024 = 97.9 %, the third and eighth
    /// 89.1 %.
    #[test]
    fn the_sign_interval_lies_between_two_order_statistics() {
        let values: Vec<f64> = (1..=10).map(f64::from).collect();
        let (low, high) = sign_interval(&values).unwrap();
        let part = (1.0 - 22.0 / 1024.0 - 0.95) / (90.0 / 1024.0);
        let share = 8.0 * part / (2.0 + 6.0 * part);
        assert!((low - (2.0 + share)).abs() < 1e-9 && (high - (9.0 - share)).abs() < 1e-9);
        assert_eq!(sign_interval(&values[..5]), None);
        assert_eq!(log_interval(&[0.1, 0.0, 0.2]), None);
        assert_eq!(log_interval(&[0.1]), None);
    }

    #[test]
    fn both_hold_the_median_as_often_as_they_say() {
        let mut chance = Chance(5);
        for count in [3, 6, 12, 30] {
            let (mut by_sign, mut by_log) = (0, 0);
            for _ in 0..3000 {
                let values: Vec<f64> =
                    (0..count).map(|_| libm::exp(-2.0 + 0.4 * chance.normal())).collect();
                let truth = libm::exp(-2.0);
                let holds = |(low, high): (f64, f64)| low <= truth && truth <= high;
                by_sign += u32::from(sign_interval(&values).is_none_or(holds));
                by_log += u32::from(log_interval(&values).is_some_and(holds));
            }
            assert!((2800..=2920).contains(&by_log), "{count}: {by_log}");
            if count >= 6 {
                assert!((2800..=2930).contains(&by_sign), "{count}: {by_sign}");
            }
        }
    }
}
