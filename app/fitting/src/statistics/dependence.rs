//! How much independent evidence a series holds whose values follow slowly from each other.

/// The correlation of neighbours (lag 1) about the mean; 0 when nothing varies.
#[must_use]
pub fn lag_one(values: &[f64]) -> f64 {
    autocorrelation(&[values], 1).get(1).copied().unwrap_or(0.0)
}

/// The effective number of independent values of a first-order autoregressive series for its
/// mean: `n (1 - r) / (1 + r)`, at least 1, at most n for r of 0 or more.
#[must_use]
pub fn effective_count_first_order(n: f64, lag_one: f64) -> f64 {
    let r = lag_one.clamp(-0.999_999, 0.999_999);
    (n * (1.0 - r) / (1.0 + r)).max(1.0)
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn constant_and_empty_series_are_quiet() {
        assert_eq!(lag_one(&[]), 0.0);
        assert_eq!(lag_one(&[2.0, 2.0, 2.0]), 0.0);
        assert_eq!(effective_counts(&autocorrelation(&[&[1.0; 9]], 4), 9), (9.0, 9.0));
    }

    #[test]
    fn alternation_counts_more_and_drift_less() {
        let drift: Vec<f64> = (0..100).map(f64::from).collect();
        let (mean, variance) = effective_counts(&autocorrelation(&[&drift], 30), 100);
        assert!(mean < 3.5 && variance < 6.0, "{mean} {variance}");
        assert!(effective_count_first_order(100.0, 0.5) < 34.0);
    }
}
