//! Random numbers from a seed, the same on every machine.

use crate::Position;
use rand_core::Rng;
use rand_pcg::Pcg32;

/// A stream of random numbers.
#[derive(Clone, Debug)]
pub(super) struct Random {
    source: Pcg32,
    spare: Option<f64>,
}

impl Random {
    /// The stream `stream` of `seed`: streams of one seed are used for different things, so that
    /// a change in one does not shift the others.
    pub(super) fn new(seed: u64, stream: u64) -> Self {
        // Seeds are small and close to one another; spread them over all bits (the finaliser of
        // SplitMix64, Steele, Lea and Flood 2014), the stream included: PCG's own streams of one
        // state may be correlated.
        let mut mixed = seed ^ stream.wrapping_mul(0x9e37_79b9_7f4a_7c15);
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^= mixed >> 31;
        Self { source: Pcg32::new(mixed, stream), spare: None }
    }

    /// Even over 0..1, both ends left out.
    pub(super) fn even(&mut self) -> f64 {
        (f64::from(self.source.next_u32()) + 0.5) / 4_294_967_296.0
    }

    /// Even between two bounds.
    pub(super) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.even()
    }

    /// Normal with mean 0 and variance 1 (Box and Muller 1958).
    pub(super) fn normal(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        let radius = libm::sqrt(-2.0 * libm::log(self.even()));
        let (sin, cos) = libm::sincos(2.0 * std::f64::consts::PI * self.even());
        self.spare = Some(radius * sin);
        radius * cos
    }

    /// Two independent normals.
    pub(super) fn normal_pair(&mut self) -> Position {
        Position::new(self.normal(), self.normal())
    }
}

/// A smooth random movement in the plane: an Ornstein–Uhlenbeck process through one more low
/// pass of the same time constant, scaled to variance 1 on each axis.
#[derive(Clone, Debug)]
pub(super) struct Smooth {
    keep: f64,
    fresh: f64,
    scale: f64,
    rough: Position,
    smooth: Position,
}

impl Smooth {
    /// With this time constant, in steps of `step_seconds`.
    pub(super) fn new(time_constant_seconds: f64, step_seconds: f64, random: &mut Random) -> Self {
        let keep = libm::exp(-step_seconds / time_constant_seconds);
        // Variance of y' = k y + (1 - k) x' over a first-order x of variance 1 that keeps k.
        let variance = (1.0 - keep) * (1.0 + keep * keep) / ((1.0 + keep) * (1.0 - keep * keep));
        let mut smooth = Self {
            keep,
            fresh: libm::sqrt(1.0 - keep * keep),
            scale: 1.0 / libm::sqrt(variance),
            rough: random.normal_pair(),
            smooth: Position::ORIGIN,
        };
        // From the middle of things: some five time constants, at most a few thousand steps.
        let steps = (5.0 * time_constant_seconds / step_seconds).clamp(1.0, 5000.0) as usize;
        for _ in 0..steps {
            smooth.step(random);
        }
        smooth
    }

    /// One step on; the new place.
    pub(super) fn step(&mut self, random: &mut Random) -> Position {
        self.rough = self.rough * self.keep + random.normal_pair() * self.fresh;
        self.smooth = self.smooth * self.keep + self.rough * (1.0 - self.keep);
        self.smooth * self.scale
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn normals_have_mean_0_and_variance_1() {
        let mut random = Random::new(1, 2);
        let values: Vec<f64> = (0..100_000).map(|_| random.normal()).collect();
        let mean = values.iter().sum::<f64>() / 1e5;
        let variance = values.iter().map(|value| value * value).sum::<f64>() / 1e5;
        // Four standard errors: 1/sqrt(n) and sqrt(2/n).
        assert!(mean.abs() < 0.0127 && (variance - 1.0).abs() < 0.018, "{mean} {variance}");
        let beyond = values.iter().filter(|value| value.abs() > 1.959_964).count();
        assert!((beyond as f64 / 1e5 - 0.05).abs() < 0.003, "5 % beyond 1.96: {beyond}");
    }

    #[test]
    fn smooth_movement_has_variance_1() {
        for constant in [0.1, 0.5] {
            let mut random = Random::new(3, 4);
            let mut smooth = Smooth::new(constant, 0.004, &mut random);
            let steps = 400_000;
            let sum: f64 = (0..steps)
                .map(|_| smooth.step(&mut random))
                .map(|at| at.right * at.right + at.up * at.up)
                .sum();
            let variance = sum / f64::from(steps) / 2.0;
            assert!((variance - 1.0).abs() < 0.12, "{constant}: {variance}");
        }
    }

    #[test]
    fn streams_and_seeds_differ() {
        let first = |seed, stream| Random::new(seed, stream).even();
        assert!(first(1, 1) != first(2, 1) && first(1, 1) != first(1, 2));
    }
}
