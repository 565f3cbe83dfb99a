//! How much independent evidence a series holds whose values follow slowly from each other.

/// The correlation of neighbours (lag 1) about the mean; 0 when nothing varies.
#[must_use]
pub fn lag_one(values: &[f64]) -> f64 {
    autocorrelation(&[values], 1).get(1).copied().unwrap_or(0.0)
}

/// Autocorrelation at lags 0..=`most`, pooled over stretches, each about its own mean; all
/// zero but the first when nothing varies. Lags longer than a stretch take nothing from it.
#[must_use]
pub fn autocorrelation(stretches: &[&[f64]], most: usize) -> Vec<f64> {
    let mut sums = vec![0.0; most + 1];
    for values in stretches {
        let Some(mean) = super::plain::mean(values) else { continue };
        let centred: Vec<f64> = values.iter().map(|value| value - mean).collect();
        for (lag, sum) in sums.iter_mut().enumerate().take(centred.len()) {
            *sum += centred.iter().zip(&centred[lag..]).map(|(a, b)| a * b).sum::<f64>();
        }
    }
    let all = sums[0];
    let mut correlation: Vec<f64> =
        sums.iter().map(|sum| if all > 0.0 { sum / all } else { 0.0 }).collect();
    correlation[0] = 1.0;
    correlation
}

/// Effective numbers of independent values for the mean and for the variance, from an
/// autocorrelation and the number of values `n`.
///
/// `n / (1 + 2 sum rho)` and `n / (1 + 2 sum rho^2)` (Bayley and Hammersley, *Supplement to the
/// Journal of the Royal Statistical Society* 8 (1946) 184, from memory). The first sum ends
/// where pairs of neighbouring lags turn negative (the initial positive sequence of Geyer,
/// *Statistical Science* 7 (1992) 473), since what follows is noise. Both are at least 1 and at
/// most n.
#[must_use]
pub fn effective_counts(correlation: &[f64], n: usize) -> (f64, f64) {
    let count = n as f64;
    let mut sum = 0.0;
    for pair in correlation.get(1..).unwrap_or_default().chunks(2) {
        let both: f64 = pair.iter().sum();
        if both <= 0.0 {
            break;
        }
        sum += both;
    }
    // A lag's own estimate scatters by about 1/sqrt(n): that much is taken off its square.
    let squares: f64 =
        correlation.iter().skip(1).map(|rho| (rho * rho - 1.0 / count).max(0.0)).sum();
    let bound = |value: f64| value.clamp(1.0, count.max(1.0));
    (bound(count / (1.0 + 2.0 * sum)), bound(count / (1.0 + 2.0 * squares)))
}

/// Stretches of equal length that [`independent_by_blocks`] takes means of.
pub const BLOCKS: usize = 20;

/// How many independent values would have a mean as uncertain as that of these stretches: their
/// variance over that of the mean, which is read off the means of [`BLOCKS`] blocks of equal
/// length (laid end to end over the stretches).
///
/// Unlike a sum of correlations that ends at the first negative one, this sees a slow movement
/// under a quick rhythm. Blocks as short as the movement's memory still follow from each other;
/// the correlation r of neighbours (its own bias of 1/20 given back, at most 0.6) makes the
/// variance (1 + r)/(1 − r) times as large, as of a first-order series. At least 1, at most n; 1
/// with fewer than [`BLOCKS`] values. Use t with [`BLOCKS`] − 1 degrees of freedom.
#[must_use]
pub fn independent_by_blocks(stretches: &[Vec<f64>]) -> f64 {
    let values: Vec<f64> = stretches.iter().flatten().copied().collect();
    let length = values.len() / BLOCKS;
    if length == 0 {
        return 1.0;
    }
    let n = values.len() as f64;
    let variance = super::plain::squares_about_mean(&values) / n;
    let means: Vec<f64> =
        values.chunks_exact(length).take(BLOCKS).filter_map(super::plain::mean).collect();
    let blocks = means.len() as f64;
    let of_mean = super::plain::squares_about_mean(&means) / (blocks - 1.0) / blocks;
    let r = (lag_one(&means) + 1.0 / blocks).clamp(0.0, 0.6);
    let of_mean = of_mean * (1.0 + r) / (1.0 - r);
    if of_mean > 0.0 { (variance / of_mean).clamp(1.0, n) } else { n }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn constant_and_empty_series_are_quiet() {
        assert_eq!(lag_one(&[]), 0.0);
        assert_eq!(lag_one(&[2.0, 2.0, 2.0]), 0.0);
        assert_eq!(effective_counts(&autocorrelation(&[&[1.0; 9]], 4), 9), (9.0, 9.0));
    }

    /// Slow steps under a quick rhythm: the blocks see the steps.
    #[test]
    fn blocks_see_what_a_rhythm_hides() {
        let slow = |i: u32| f64::from((i / 100).wrapping_mul(2_654_435_761) >> 31);
        let rhythm = |i: u32| libm::sin(std::f64::consts::TAU * f64::from(i) / 10.0);
        let values: Vec<f64> = (0..2000).map(|i| 3.0 * slow(i) + 3.5 * rhythm(i)).collect();
        let hidden = effective_counts(&autocorrelation(&[&values], 300), 2000).0;
        let seen = independent_by_blocks(&[values]);
        // 20 steps of variance 9/4 under a rhythm of 49/8: (9/4 + 49/8) / (9/4 / 20) = 74.
        assert!((20.0..150.0).contains(&seen) && hidden > 300.0, "{seen} {hidden}");
        assert_eq!(independent_by_blocks(&[vec![1.0; 19]]), 1.0);
        assert_eq!(independent_by_blocks(&[vec![1.0; 200]]), 200.0);
    }

    #[test]
    fn alternation_counts_more_and_drift_less() {
        let drift: Vec<f64> = (0..100).map(f64::from).collect();
        let (mean, variance) = effective_counts(&autocorrelation(&[&drift], 30), 100);
        assert!(mean < 3.5 && variance < 6.0, "{mean} {variance}");
    }
}
