//! How a browser turns a device's numbers into axes and buttons.
//!
//! Source: W3C Gamepad, "map and normalize axes" and "map and normalize buttons".

/// An axis value: `2 (logical − min) / (max − min) − 1`.
///
/// In −1..=1 for numbers inside the range; a hat switch at rest lies outside, on purpose.
/// 0 when the range is empty or anything is not finite.
#[must_use]
pub fn normalise(logical: f64, min: f64, max: f64) -> f64 {
    let value = 2.0 * (logical - min) / (max - min) - 1.0;
    if max > min && value.is_finite() { value } else { 0.0 }
}

/// A button value: `(logical − min) / (max − min)`, in 0..=1 for numbers inside the range.
///
/// 0 when the range is empty or anything is not finite.
#[must_use]
pub fn normalise_button(logical: f64, min: f64, max: f64) -> f64 {
    let value = (logical - min) / (max - min);
    if max > min && value.is_finite() { value } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ends_and_middle_by_hand() {
        assert_eq!(normalise(0.0, 0.0, 255.0), -1.0);
        assert_eq!(normalise(255.0, 0.0, 255.0), 1.0);
        assert_eq!(normalise(0.0, -127.0, 127.0), 0.0);
        assert_eq!(normalise_button(255.0, 0.0, 255.0), 1.0);
        assert!((normalise_button(128.0, 0.0, 255.0) - 0.501_960_784_313_725_5).abs() < 1e-15);
    }

    #[test]
    fn a_range_without_length_gives_nothing() {
        for (min, max) in [(3.0, 3.0), (5.0, 2.0), (f64::NAN, 1.0), (0.0, f64::INFINITY)] {
            assert_eq!(normalise(f64::INFINITY, min, max), 0.0);
            assert_eq!(normalise_button(f64::NAN, min, max), 0.0);
            assert!(normalise(4.0, min, max).is_finite());
        }
    }
}
