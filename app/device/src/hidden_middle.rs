//! How a system may reshape a stick before a page sees it.
//!
//! Observed, Chromium 156 on Linux, with a kernel HID device; other systems differ, so each
//! number is possible, never certain. What a page sees of the middle and of the ends is
//! therefore laid to "stick, system or browser", never to the stick alone.

use fitting::measure::OBSERVED_CUT;

/// What a system that behaves as observed shows of a true push, share of travel: 0 inside
/// [`OBSERVED_CUT`], full scale from as much before the end, straight
/// between.
pub(crate) fn observed_reshaping(push: f64) -> f64 {
    let width = 1.0 - 2.0 * OBSERVED_CUT;
    let shown = ((push.abs() - OBSERVED_CUT) / width).clamp(0.0, 1.0);
    if push.is_finite() { shown.copysign(push) } else { 0.0 }
}

mod tests {
    use super::*;
    use crate::gamepad::normalise;

    /// Observed, Chromium 156 on Linux, 8-bit stick: raw 112..=142 reads 0, 0..=15 reads −1,
    /// 239..=255 reads 1, and a step is 0.0103.
    #[test]
    fn an_eight_bit_stick_as_observed() {
        let shown = |raw: i32| observed_reshaping(normalise(f64::from(raw), 0.0, 255.0));
        for raw in 112..=142 {
            assert!(shown(raw).abs() < 1e-9, "raw {raw} shows {}", shown(raw));
        }
        assert!(shown(111) < 0.0 && shown(144) > 0.0);
        assert!((0..=15).all(|raw| shown(raw) == -1.0));
        assert!((240..=255).all(|raw| shown(raw) == 1.0));
        assert!((shown(200) - shown(199) - 0.0103).abs() < 2e-4);
        assert_eq!(observed_reshaping(f64::NAN), 0.0);
    }
}
