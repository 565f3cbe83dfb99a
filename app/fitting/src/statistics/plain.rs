//! Statistics of samples that each count the same: repetitions, ends of pushes, sizes.

use super::distributions::t_quantile;
use super::order::sort_numbers;

/// The arithmetic mean; `None` of nothing.
#[must_use]
pub fn mean(values: &[f64]) -> Option<f64> {
    (!values.is_empty()).then(|| values.iter().sum::<f64>() / values.len() as f64)
}

/// The sum of squared distances from the mean; 0 of nothing.
#[must_use]
pub fn squares_about_mean(values: &[f64]) -> f64 {
    let Some(mean) = mean(values) else { return 0.0 };
    values.iter().map(|value| (value - mean) * (value - mean)).sum()
}

/// The standard deviation with n - 1; `None` of fewer than two.
#[must_use]
pub fn deviation(values: &[f64]) -> Option<f64> {
    (values.len() >= 2).then(|| libm::sqrt(squares_about_mean(values) / (values.len() - 1) as f64))
}

/// The quantile of `share` (0..=1), type 7 of Hyndman and Fan, *The American Statistician* 50
/// (1996) 361: straight lines between the order statistics. `None` of nothing.
#[must_use]
pub fn quantile(values: &[f64], share: f64) -> Option<f64> {
    let mut sorted = values.to_vec();
    sort_numbers(&mut sorted);
    quantile_of_sorted(&sorted, share)
}

/// [`quantile`] of values already in rising order.
#[must_use]
pub fn quantile_of_sorted(sorted: &[f64], share: f64) -> Option<f64> {
    let last = sorted.len().checked_sub(1)?;
    let place = share.clamp(0.0, 1.0) * last as f64;
    let below = (place.floor() as usize).min(last);
    let above = (below + 1).min(last);
    let part = place - below as f64;
    Some(sorted[below] + part * (sorted[above] - sorted[below]))
}

/// The median (type 7 quantile of a half); `None` of nothing.
#[must_use]
pub fn median(values: &[f64]) -> Option<f64> {
    quantile(values, 0.5)
}

/// Makes the median absolute deviation of normal samples their standard deviation:
/// `1 / normal_quantile(0.75)`.
pub const NORMAL_MEDIAN_DEVIATION: f64 = 1.482_602_218_505_602;

/// The median distance from the median, unscaled; `None` of nothing. Breaks down only when
/// half of the samples are wild (Hampel, *JASA* 69 (1974) 383, from memory). Multiply with
/// [`NORMAL_MEDIAN_DEVIATION`] for the scale of a normal distribution.
#[must_use]
pub fn median_deviation(values: &[f64]) -> Option<f64> {
    let middle = median(values)?;
    let distances: Vec<f64> = values.iter().map(|value| (value - middle).abs()).collect();
    median(&distances)
}

/// The 95 % t interval of the mean; `None` of fewer than two. Independent samples, roughly
/// normal.
#[must_use]
pub fn mean_interval(values: &[f64]) -> Option<(f64, f64)> {
    let (mean, deviation) = (mean(values)?, deviation(values)?);
    let n = values.len() as f64;
    let half = t_quantile(0.975, n - 1.0) * deviation / libm::sqrt(n);
    Some((mean - half, mean + half))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_gives_nothing() {
        assert_eq!(mean(&[]), None);
        assert_eq!(median(&[]), None);
        assert_eq!(deviation(&[1.0]), None);
        assert_eq!(mean_interval(&[1.0]), None);
        assert_eq!(median_deviation(&[]), None);
    }

    #[test]
    fn small_cases_by_hand() {
        assert_eq!(mean(&[1.0, 2.0, 6.0]), Some(3.0));
        assert_eq!(median(&[5.0, 1.0, 2.0]), Some(2.0));
        assert_eq!(quantile(&[1.0, 2.0, 3.0, 4.0], 0.25), Some(1.75));
        assert_eq!(deviation(&[1.0, 3.0]), Some(2.0_f64.sqrt()));
        assert_eq!(median_deviation(&[1.0, 2.0, 3.0, 100.0, 4.0]), Some(1.0));
    }
}
