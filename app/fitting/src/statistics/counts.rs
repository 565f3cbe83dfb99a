//! Intervals for rates and shares.

use super::distributions::normal_quantile;
use super::special::{beta, gamma_upper, rising_root};

/// The 95 % mid-P interval of the mean of a Poisson count: half of the probability of the count
/// itself is laid to each side (Lancaster, *JASA* 56 (1961) 223; Cohen and Yang, *Statistics in
/// Medicine* 13 (1994) 2189, from memory). Covers close to 95 % on average. For none seen the
/// upper end is ln 20 = 2.9957, the rule of three.
///
/// `count` need not be whole: an effective count of dependent events lies between.
#[must_use]
pub fn poisson_mid_p(count: f64) -> (f64, f64) {
    let count = count.max(0.0);
    // Share of counts up to and half of the count itself: falls as the mean grows.
    let below = |mean: f64| {
        let upto = gamma_upper(count + 1.0, mean);
        let under = if count > 0.0 { gamma_upper(count, mean) } else { 0.0 };
        0.5 * (upto + under)
    };
    let far = count + 15.0 * libm::sqrt(count + 1.0) + 20.0;
    let low = if count <= 0.0 { 0.0 } else { rising_root(0.0, count, -0.975, |mean| -below(mean)) };
    let high = rising_root(count, far, -0.025, |mean| -below(mean));
    (low, high)
}

/// The 95 % interval of a share by Wilson, *JASA* 22 (1927) 209. `n >= 1`, `count <= n`.
#[must_use]
pub fn wilson(count: usize, n: usize) -> (f64, f64) {
    let (k, n) = (count as f64, n as f64);
    let z = normal_quantile(0.975);
    let share = k / n;
    let scale = 1.0 + z * z / n;
    let middle = (share + z * z / (2.0 * n)) / scale;
    let half = z * libm::sqrt(share * (1.0 - share) / n + z * z / (4.0 * n * n)) / scale;
    let low = if count == 0 { 0.0 } else { middle - half };
    let high = if k >= n { 1.0 } else { middle + half };
    (low, high)
}

/// The exact 95 % interval of a share (Clopper and Pearson, *Biometrika* 26 (1934) 404).
/// `n >= 1`, `count <= n`. Covers at least 95 %.
#[must_use]
pub fn clopper_pearson(count: usize, n: usize) -> (f64, f64) {
    let (k, n) = (count as f64, n as f64);
    let low = if count == 0 {
        0.0
    } else {
        rising_root(0.0, 1.0, 0.025, |share| beta(k, n - k + 1.0, share))
    };
    let high = if k >= n {
        1.0
    } else {
        // From above, where the chance of so few keeps its digits.
        1.0 - rising_root(0.0, 1.0, 0.025, |other| beta(n - k, k + 1.0, other))
    };
    (low, high)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn none_seen_is_the_rule_of_three() {
        let (low, high) = poisson_mid_p(0.0);
        assert_eq!(low, 0.0);
        assert!((high - libm::log(20.0)).abs() < 1e-9, "{high}");
    }
}
