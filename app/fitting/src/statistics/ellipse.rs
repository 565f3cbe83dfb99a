//! The ellipse of scattered places: how far along its main direction, how far across, and which
//! direction that is.
//!
//! Names differ between authors: what is computed here is the *prediction* ellipse, which holds
//! a share of all future places, and not the confidence ellipse of their mean (Schubert and
//! Kirchner, *Gait & Posture* 39 (2014) 518, from memory).

use crate::Position;

/// Second moments of places about their mean: variance right, covariance, variance up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ellipse {
    /// Variance along the main direction.
    pub along_variance: f64,
    /// Variance across it, at most that.
    pub across_variance: f64,
    /// The main direction, degrees from right towards up, −90 < d ≤ 90; without meaning when
    /// both variances are the same ([`Self::is_round`]).
    pub along_degrees: f64,
}

impl Ellipse {
    /// Of places that each held for some seconds, by their moments over time, without correction
    /// for a small sample; `None` when no time passed or a place is not finite.
    #[must_use]
    pub fn of(held: &[(Position, f64)]) -> Option<Self> {
        let seconds: f64 = held.iter().map(|one| one.1).sum();
        if seconds <= 0.0 {
            return None;
        }
        let sum = held.iter().fold(Position::ORIGIN, |sum, (at, held)| sum + *at * *held);
        let mean = sum * (1.0 / seconds);
        let mut moments = [0.0; 3];
        for (at, held) in held {
            let off = *at - mean;
            moments[0] += held * off.right * off.right;
            moments[1] += held * off.right * off.up;
            moments[2] += held * off.up * off.up;
        }
        Self::of_moments(moments.map(|moment| moment / seconds))
    }

    /// Of variance right, covariance and variance up; `None` when one is not finite. The axes
    /// are the eigenvectors, in the closed form of two dimensions.
    #[must_use]
    pub fn of_moments([right, both, up]: [f64; 3]) -> Option<Self> {
        if !(right.is_finite() && both.is_finite() && up.is_finite()) {
            return None;
        }
        let half = 0.5 * libm::hypot(right - up, 2.0 * both);
        let middle = 0.5 * (right + up);
        let along = middle + half;
        // From the determinant: the difference would lose the digits of a thin ellipse.
        let across = if along > 0.0 { (right * up - both * both).max(0.0) / along } else { 0.0 };
        Some(Self {
            along_variance: along,
            across_variance: across,
            along_degrees: 0.5 * libm::atan2(2.0 * both, right - up).to_degrees(),
        })
    }

    /// The area that holds `share` (inside 0..1) of all places of a normal distribution with
    /// these variances: π χ² √(along across), χ² with two degrees of freedom being −2 ln(1 −
    /// share).
    #[must_use]
    pub fn area(&self, share: f64) -> f64 {
        let squared = -2.0 * libm::log1p(-share);
        std::f64::consts::PI * squared * libm::sqrt(self.along_variance * self.across_variance)
    }

    /// Whether as round an ellipse as this is to be expected of `n` independent places that have
    /// no main direction: the likelihood ratio of equal variances is within its 95 % (Mauchly,
    /// *Annals of Mathematical Statistics* 11 (1940) 204, from memory; χ² with two degrees of
    /// freedom, in Bartlett's form). Its direction then says nothing.
    #[must_use]
    pub fn is_round(&self, n: f64) -> bool {
        let sum = self.along_variance + self.across_variance;
        if sum <= 0.0 || n <= 2.0 {
            return true;
        }
        let ratio = 4.0 * self.along_variance * self.across_variance / (sum * sum);
        // Two dimensions: n − 1 less (2·4 + 2 + 2)/12.
        -(n - 2.0) * libm::log(ratio.max(1e-300)) <= -2.0 * libm::log(0.05)
    }

    /// Half the 95 % interval of the main direction, degrees, for `n` independent places of a
    /// normal distribution; at most 90. Anderson, *Annals of Mathematical Statistics* 34 (1963)
    /// 122 (from memory): the variance of the angle is λ₁λ₂ / ((n − 1)(λ₁ − λ₂)²).
    #[must_use]
    pub fn half_interval_degrees(&self, n: f64) -> f64 {
        let apart = self.along_variance - self.across_variance;
        if apart <= 0.0 || n <= 2.0 {
            return 90.0;
        }
        let product = self.along_variance * self.across_variance;
        let deviation = libm::sqrt(product / (n - 1.0)) / apart;
        (super::distributions::t_quantile(0.975, n - 1.0) * deviation).to_degrees().min(90.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::{any, prop_assert, proptest};

    #[test]
    fn four_places_by_hand() {
        // ±2 along the diagonal, ±1 across: variances (2·4)/4 = 2 and (2·1)/4 = 1/2.
        let places = [
            Position::polar(2.0, 45.0),
            Position::polar(-2.0, 45.0),
            Position::polar(1.0, -45.0),
            Position::polar(-1.0, -45.0),
        ];
        let held = places.map(|place| (place + Position::new(0.3, -0.2), 0.5));
        let ellipse = Ellipse::of(&held).unwrap();
        assert!((ellipse.along_variance - 2.0).abs() < 1e-12);
        assert!((ellipse.across_variance - 0.5).abs() < 1e-12);
        assert!((ellipse.along_degrees - 45.0).abs() < 1e-12);
        assert_eq!(Ellipse::of(&[]), None);
        assert!(Ellipse::of(&[(Position::ORIGIN, 1.0)]).unwrap().is_round(50.0));
    }

    #[test]
    fn a_long_ellipse_has_a_direction_and_a_round_one_none() {
        let long = Ellipse::of_moments([4.0, 0.0, 1.0]).unwrap();
        assert!(!long.is_round(60.0) && long.is_round(4.0));
        // tan-free by hand: √(4/59)/3 = 0.0868 radians, times t(59) 2.001: 9.95 degrees.
        assert!((long.half_interval_degrees(60.0) - 9.95).abs() < 0.01);
        let round = Ellipse::of_moments([1.0, 0.0, 1.05]).unwrap();
        assert!(round.is_round(60.0));
        assert_eq!(round.along_degrees.abs(), 90.0);
    }

    proptest! {
        #[test]
        fn nothing_senseless_comes_out(a: f64, b: f64, c: f64, n in any::<f64>()) {
            if let Some(ellipse) = Ellipse::of_moments([a, b, c]) {
                prop_assert!(!ellipse.half_interval_degrees(n.abs().min(1e9)).is_nan());
                prop_assert!(!ellipse.along_degrees.is_nan());
            }
        }
    }
}
