//! Normal, Student t and chi-square distributions: share below a value, and its inverse.
//!
//! Definitions as in the NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.6 (from
//! memory); values tested against `scipy.stats` to 1e-9 relative.

use super::special::{beta, gamma_lower, gamma_upper, rising_root};

/// The share of the standard normal distribution below `z`.
#[must_use]
pub fn normal_share(z: f64) -> f64 {
    0.5 * libm::erfc(-z * std::f64::consts::FRAC_1_SQRT_2)
}

/// The value below which `share` of the standard normal distribution lies; `share` is held to
/// 1e-300..=1 - 1e-16, so the answer is finite.
#[must_use]
pub fn normal_quantile(share: f64) -> f64 {
    if share > 0.5 {
        return -normal_quantile(1.0 - share);
    }
    // In the lower half the share keeps its digits.
    rising_root(-40.0, 0.0, share.max(1e-300), normal_share)
}

/// The share of Student's t distribution above a value that is not negative, without loss of digits where it is small.
fn t_above(t: f64, degrees_of_freedom: f64) -> f64 {
    let x = degrees_of_freedom / (degrees_of_freedom + t * t);
    0.5 * beta(0.5 * degrees_of_freedom, 0.5, x)
}

/// The value below which `share` (inside 0..1) of Student's t distribution lies;
/// `degrees_of_freedom > 0`. Held to ±1e10.
#[must_use]
pub fn t_quantile(share: f64, degrees_of_freedom: f64) -> f64 {
    if share < 0.5 {
        return -t_quantile(1.0 - share, degrees_of_freedom);
    }
    let above = 1.0 - share;
    rising_root(0.0, 1e10, -above, |t| -t_above(t, degrees_of_freedom))
}

/// The share of the chi-square distribution below `x`; `degrees_of_freedom > 0`.
#[must_use]
pub fn chi_square_share(x: f64, degrees_of_freedom: f64) -> f64 {
    gamma_lower(0.5 * degrees_of_freedom, 0.5 * x)
}

/// The value below which `share` (inside 0..1) of the chi-square distribution lies;
/// `degrees_of_freedom > 0`.
#[must_use]
pub fn chi_square_quantile(share: f64, degrees_of_freedom: f64) -> f64 {
    // Ten standard deviations and a good start above the mean hold every share below 1 - 1e-15.
    let high = degrees_of_freedom + 15.0 * libm::sqrt(2.0 * degrees_of_freedom) + 80.0;
    if share <= 0.5 {
        rising_root(0.0, high, share, |x| chi_square_share(x, degrees_of_freedom))
    } else {
        let above = 1.0 - share;
        rising_root(0.0, high, -above, |x| -gamma_upper(0.5 * degrees_of_freedom, 0.5 * x))
    }
}

/// The 95 % interval of a standard deviation that was estimated as 1: factors to multiply the
/// estimate with. `degrees_of_freedom > 0`; normal noise assumed.
///
/// `sqrt(df / chi2(0.975, df)) ..= sqrt(df / chi2(0.025, df))`.
#[must_use]
pub fn deviation_factors(degrees_of_freedom: f64) -> (f64, f64) {
    let factor =
        |share| libm::sqrt(degrees_of_freedom / chi_square_quantile(share, degrees_of_freedom));
    (factor(0.975), factor(0.025))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(got: f64, want: f64) {
        assert!((got - want).abs() <= 1e-9 * want.abs(), "{got} is not {want}");
    }

    #[test]
    fn handbook_values_are_met() {
        // scipy.stats 1.17.1.
        near(normal_quantile(0.975), 1.959963984540054);
        near(t_quantile(0.975, 1.0), 12.706204736174694);
        near(t_quantile(0.975, 9.0), 2.262157162798205);
        near(chi_square_quantile(0.95, 2.0), 5.991464547107979);
    }

    #[test]
    fn quantiles_undo_shares() {
        for df in [0.7, 1.0, 3.3, 12.0, 250.0] {
            for share in [0.005, 0.1, 0.5, 0.8, 0.999] {
                let t = t_quantile(share, df);
                let above = t_above(t.abs(), df);
                near(if t < 0.0 { above } else { 1.0 - above }, share);
                near(chi_square_share(chi_square_quantile(share, df), df), share);
            }
        }
    }
}
