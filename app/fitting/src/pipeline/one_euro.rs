//! A low-pass whose cutoff rises with speed: smooth when slow, quick when fast.
//!
//! Casiez, Roussel and Vogel, "1 € filter: a simple speed-based low-pass filter for noisy input
//! in interactive systems", *CHI* 2012, 2527 (paper from memory; the authors' own code, of
//! which the formulas below are a restatement, was read):
//!
//! ```text
//! alpha(fc) = 1 / (1 + 1 / (2 pi fc dt))      x^ = x^' + alpha(fc) (x - x^')
//! speed = one pole at 1 Hz of (x - x^') / dt  fc = cutoff + coefficient |speed|
//! ```
//!
//! The first value passes unchanged and its speed is 0.
//!
//! On the two axes of a stick the paper's filter would run twice, each axis with a cutoff of its
//! own; a diagonal stroke would then be bent, and a turned mount would be smoothed differently.
//! [`OneEuroPlane`] uses one cutoff for both, from the speed of the movement in the plane: what
//! it does is the same in every direction. Along one axis it is the paper's filter to the bit.

use crate::Position;

/// The cutoff of the low-pass on the speed, hertz, as in the paper.
pub const SPEED_CUTOFF_HERTZ: f64 = 1.0;

/// No value is larger: speeds stay finite.
const FAR: f64 = 1e9;

/// The share of a new value that passes a one-pole low-pass of `cutoff_hertz` after
/// `dt_seconds`, 0..=1: `1 / (1 + tau / dt)` with `tau = 1 / (2 pi cutoff)`. Both above 0.
#[must_use]
pub fn alpha(cutoff_hertz: f64, dt_seconds: f64) -> f64 {
    1.0 / (1.0 + 1.0 / (std::f64::consts::TAU * cutoff_hertz * dt_seconds))
}

/// `before` moved towards `to` by `share` (0..=1), never past either.
fn towards(before: f64, to: f64, share: f64) -> f64 {
    let moved = before + share * (to - before);
    // Rounding must not carry the value outside the two.
    if before <= to { moved.clamp(before, to) } else { moved.clamp(to, before) }
}

/// The filter on one value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OneEuro(OneEuroPlane);

impl OneEuro {
    /// See [`OneEuroPlane::new`].
    #[must_use]
    pub fn new(cutoff_hertz: f64, speed_coefficient: f64) -> Self {
        Self(OneEuroPlane::new(cutoff_hertz, speed_coefficient))
    }

    /// The filtered value, `dt_seconds` after the one before. See [`OneEuroPlane::step`].
    pub fn step(&mut self, dt_seconds: f64, value: f64) -> f64 {
        self.0.step(dt_seconds, Position::new(value, 0.0)).right
    }
}

/// The filter on both axes, with one cutoff from the speed in the plane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OneEuroPlane {
    cutoff_hertz: f64,
    speed_coefficient: f64,
    /// Filtered place and velocity; `None` before the first value.
    state: Option<(Position, Position)>,
}

impl OneEuroPlane {
    /// A filter with this cutoff at standstill (hertz, above 0) whose cutoff rises by
    /// `speed_coefficient` hertz (not negative) for each unit a second. What is out of range or
    /// not finite is brought to 1e-6 Hz and 0.
    #[must_use]
    pub fn new(cutoff_hertz: f64, speed_coefficient: f64) -> Self {
        let least =
            |value: f64, least: f64| if value.is_finite() { value.max(least) } else { least };
        Self {
            cutoff_hertz: least(cutoff_hertz, 1e-6),
            speed_coefficient: least(speed_coefficient, 0.0),
            state: None,
        }
    }

    /// The filtered place, `dt_seconds` after the one before; the first passes unchanged,
    /// whatever its `dt_seconds`. When no time has passed (less than a nanosecond), or anything
    /// is not finite, nothing changes (the origin before the first value). Values are held to
    /// ±1e9.
    pub fn step(&mut self, dt_seconds: f64, at: Position) -> Position {
        let finite = at.right.is_finite() && at.up.is_finite();
        let at = Position::new(at.right.clamp(-FAR, FAR), at.up.clamp(-FAR, FAR));
        let Some((before, velocity)) = self.state else {
            if finite {
                self.state = Some((at, Position::ORIGIN));
            }
            return if finite { at } else { Position::ORIGIN };
        };
        if !(finite && dt_seconds.is_finite() && dt_seconds >= 1e-9) {
            return before;
        }
        let share = alpha(SPEED_CUTOFF_HERTZ, dt_seconds);
        let velocity = Position::new(
            towards(velocity.right, (at.right - before.right) / dt_seconds, share),
            towards(velocity.up, (at.up - before.up) / dt_seconds, share),
        );
        let speed = velocity.radius();
        let share = alpha(self.cutoff_hertz + self.speed_coefficient * speed, dt_seconds);
        let filtered =
            Position::new(towards(before.right, at.right, share), towards(before.up, at.up, share));
        self.state = Some((filtered, velocity));
        filtered
    }

    /// Where it stands; `None` before the first value.
    #[must_use]
    pub fn at(&self) -> Option<Position> {
        self.state.map(|state| state.0)
    }

    /// Forgets everything: the next value passes unchanged.
    pub fn restart(&mut self) {
        self.state = None;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::{any, prop_assert, prop_assert_eq, proptest};

    const FRAME: f64 = 1.0 / 60.0;

    /// Published in `one_euro.json`: shares that pass at 60 Hz, and a step after ten zeros.
    #[test]
    fn a_step_at_sixty_hertz() {
        assert!((alpha(1.0, FRAME) - 0.094_793_050_123_664_03).abs() < 1e-15);
        for (coefficient, want) in [
            (0.0, [0.094_793_050, 0.180_600_378, 0.258_273_767]),
            (0.5, [0.286_998_150, 0.550_617_058, 0.731_674_793]),
        ] {
            let mut filter = OneEuro::new(1.0, coefficient);
            let out: Vec<f64> =
                (0..13).map(|i| filter.step(FRAME, if i < 10 { 0.0 } else { 1.0 })).collect();
            for (got, want) in out[10..].iter().zip(want) {
                assert!((got - want).abs() < 1e-9, "{got} is not {want}");
            }
        }
    }

    proptest! {
        #[test]
        fn a_constant_stays(cutoff in 0.01..100.0_f64, coefficient in 0.0..100.0_f64, value in -4.0..4.0_f64, steps in proptest::collection::vec(1e-4..1.0_f64, 1..50)) {
            let mut filter = OneEuro::new(cutoff, coefficient);
            for dt in steps {
                prop_assert_eq!(filter.step(dt, value), value);
            }
        }

        #[test]
        fn the_output_stays_inside_what_was_seen(cutoff in 0.01..100.0_f64, coefficient in 0.0..100.0_f64, steps in proptest::collection::vec((1e-4..1.0_f64, -4.0..4.0_f64), 1..60)) {
            let mut filter = OneEuro::new(cutoff, coefficient);
            let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
            for (dt, value) in steps {
                (low, high) = (low.min(value), high.max(value));
                let out = filter.step(dt, value);
                prop_assert!(low <= out && out <= high);
            }
        }

        #[test]
        fn without_a_coefficient_it_is_one_pole(cutoff in 0.1..60.0_f64, steps in proptest::collection::vec((1e-3..0.1_f64, -1.0..1.0_f64), 2..60)) {
            let mut filter = OneEuro::new(cutoff, 0.0);
            let mut pole = steps[0].1;
            filter.step(steps[0].0, pole);
            for (dt, value) in &steps[1..] {
                let share = dt / (dt + 1.0 / (std::f64::consts::TAU * cutoff));
                pole = share * value + (1.0 - share) * pole;
                prop_assert!((filter.step(*dt, *value) - pole).abs() < 1e-12);
            }
        }

        /// What it does is the same in every direction.
        #[test]
        fn turning_before_or_after_is_the_same(degrees in -180.0..180.0_f64, steps in proptest::collection::vec((-1.0..1.0_f64, -1.0..1.0_f64), 2..40)) {
            let (mut plain, mut turned) = (OneEuroPlane::new(1.0, 3.0), OneEuroPlane::new(1.0, 3.0));
            for (right, up) in steps {
                let at = Position::new(right, up);
                let off = plain.step(FRAME, at).turned(degrees) - turned.step(FRAME, at.turned(degrees));
                prop_assert!(off.radius() < 1e-9);
            }
        }

        #[test]
        fn nothing_breaks_it(numbers in proptest::collection::vec((any::<f64>(), any::<f64>()), 1..20), cutoff in any::<f64>(), coefficient in any::<f64>()) {
            let mut filter = OneEuro::new(cutoff, coefficient);
            for (dt, value) in numbers {
                prop_assert!(filter.step(dt, value).is_finite());
            }
        }
    }
}
