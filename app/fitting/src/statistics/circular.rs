//! Statistics of angles, in degrees.
//!
//! Mardia and Jupp, *Directional Statistics* (2000), chapter 2 (from memory).

use crate::position::fold_degrees;

/// The direction of the mean of unit vectors, degrees in −180 < d ≤ 180, and the length of
/// that mean, 0..=1. `None` of nothing, or when the vectors cancel.
#[must_use]
pub fn mean(degrees: &[f64]) -> Option<(f64, f64)> {
    let (mut right, mut up) = (0.0, 0.0);
    for angle in degrees {
        let (sin, cos) = libm::sincos(angle.to_radians());
        right += cos;
        up += sin;
    }
    let length = libm::hypot(right, up) / degrees.len() as f64;
    (!degrees.is_empty() && length > 1e-9)
        .then(|| (libm::atan2(up, right).to_degrees(), length.min(1.0)))
}

/// The circular standard deviation in degrees, `sqrt(-2 ln R)` of the mean length R.
#[must_use]
pub fn deviation(mean_length: f64) -> f64 {
    libm::sqrt((-2.0 * libm::log(mean_length.clamp(1e-12, 1.0))).max(0.0)).to_degrees()
}

/// Angles as distances from their circular mean, degrees: small ones may be treated as plain
/// numbers. Empty when there is no mean.
#[must_use]
pub fn about_mean(degrees: &[f64]) -> Vec<f64> {
    let Some((middle, _)) = mean(degrees) else { return Vec::new() };
    degrees.iter().map(|angle| fold_degrees(angle - middle)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn north_is_no_cut() {
        let (middle, length) = mean(&[350.0, 10.0]).unwrap();
        assert!(middle.abs() < 1e-12);
        assert!((length - libm::cos(10.0_f64.to_radians())).abs() < 1e-12);
        assert_eq!(mean(&[0.0, 180.0]), None);
        assert_eq!(mean(&[]), None);
    }
}
