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

    /// True with this chance, 0..=1.
    pub(super) fn chance(&mut self, share: f64) -> bool {
        self.even() < share
    }

    /// Even over the logarithm between two bounds above 0.
    pub(super) fn between_logs(&mut self, low: f64, high: f64) -> f64 {
        low * libm::exp(self.even() * libm::log(high / low))
    }

    /// How long a Poisson process waits whose events are `mean` apart.
    pub(super) fn waits(&mut self, mean: f64) -> f64 {
        -mean * libm::log(self.even())
    }

    /// Log-normal about this median, with this standard deviation of its logarithm.
    pub(super) fn about(&mut self, median: f64, spread: f64) -> f64 {
        median * libm::exp(spread * self.normal())
    }

    /// Normal with mean 0 and variance 1.
    pub(super) fn normal(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        let pair = self.normal_pair();
        self.spare = Some(pair.up);
        pair.right
    }

    /// Two independent normals (the polar method, Marsaglia and Bray 1964).
    pub(super) fn normal_pair(&mut self) -> Position {
        loop {
            let at = Position::new(2.0 * self.even() - 1.0, 2.0 * self.even() - 1.0);
            let square = at.right * at.right + at.up * at.up;
            if square < 1.0 && square > 0.0 {
                return at * libm::sqrt(-2.0 * libm::log(square) / square);
            }
        }
    }
}

/// A smooth random movement in the plane: an Ornstein–Uhlenbeck process through one more low
/// pass of the same time constant, scaled to variance 1 on each axis.
///
/// It is drawn anew only every twenty-fifth of the time constant and goes straight in between,
/// which costs 0.03 % of its variance and saves most of the time on a fast stick.
#[derive(Clone, Debug)]
pub(super) struct Smooth {
    keep: f64,
    fresh: f64,
    scale: f64,
    rough: Position,
    smooth: Position,
    random: Random,
    /// Steps from one drawn place to the next, and how many of them have been taken.
    steps: u32,
    taken: u32,
    from: Position,
    by_step: Position,
}

/// The time constant in drawn places.
const DRAWN: f64 = 25.0;
/// The most steps from one drawn place to the next.
const MOST_STEPS: f64 = 1e6;

impl Smooth {
    /// With this time constant, in steps of `step_seconds`, from random numbers of its own.
    pub(super) fn new(time_constant_seconds: f64, step_seconds: f64, mut random: Random) -> Self {
        let steps = (time_constant_seconds / DRAWN / step_seconds).clamp(1.0, MOST_STEPS) as u32;
        let keep = libm::exp(-step_seconds * f64::from(steps) / time_constant_seconds);
        // Variance of y' = k y + (1 - k) x' over a first-order x of variance 1 that keeps k, and
        // what x and y share: it begins in the middle of things.
        let variance = (1.0 - keep) * (1.0 + keep * keep) / ((1.0 + keep) * (1.0 - keep * keep));
        let shared = 1.0 / (1.0 + keep);
        let rough = random.normal_pair();
        let own = libm::sqrt((variance - shared * shared).max(0.0));
        let scale = 1.0 / libm::sqrt(variance);
        let smooth = rough * shared + random.normal_pair() * own;
        let taken = (random.even() * f64::from(steps)) as u32;
        let fresh = libm::sqrt(1.0 - keep * keep);
        let mut begins = Self {
            keep,
            fresh,
            scale,
            rough,
            smooth,
            random,
            steps,
            taken,
            from: Position::ORIGIN,
            by_step: Position::ORIGIN,
        };
        begins.draw();
        begins
    }

    /// The next place to go to.
    fn draw(&mut self) {
        self.from = self.smooth * self.scale;
        self.rough = self.rough * self.keep + self.random.normal_pair() * self.fresh;
        self.smooth = self.smooth * self.keep + self.rough * (1.0 - self.keep);
        self.by_step = (self.smooth * self.scale - self.from) * (1.0 / f64::from(self.steps));
    }

    /// One step on; the new place.
    pub(super) fn step(&mut self) -> Position {
        self.taken += 1;
        if self.taken > self.steps {
            self.taken = 1;
            self.draw();
        }
        self.from + self.by_step * f64::from(self.taken)
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
            let mut smooth = Smooth::new(constant, 0.004, Random::new(3, 4));
            let steps = 400_000;
            let sum: f64 = (0..steps)
                .map(|_| smooth.step())
                .map(|at| at.right * at.right + at.up * at.up)
                .sum();
            let variance = sum / f64::from(steps) / 2.0;
            assert!((variance - 1.0).abs() < 0.12, "{constant}: {variance}");
        }
    }

    #[test]
    fn smooth_movement_begins_in_the_middle_of_things() {
        let squares = (0..20_000).map(|seed| {
            let at = Smooth::new(300.0, 0.004, Random::new(seed, 4)).step();
            (at.right * at.right + at.up * at.up) / 2.0
        });
        let variance = squares.sum::<f64>() / 20_000.0;
        // Four standard errors: sqrt(2 / 40000).
        assert!((variance - 1.0).abs() < 0.03, "{variance}");
    }

    #[test]
    fn waits_and_medians_are_what_they_say() {
        let mut random = Random::new(8, 1);
        let waits: f64 = (0..40_000).map(|_| random.waits(3.0)).sum();
        assert!((waits / 40_000.0 - 3.0).abs() < 0.06, "four standard errors: {waits}");
        let under = (0..40_000).filter(|_| random.about(0.2, 0.3) < 0.2).count();
        assert!((under as f64 / 40_000.0 - 0.5).abs() < 0.01, "{under}");
        let low = (0..40_000).filter(|_| random.between_logs(0.01, 1.0) < 0.1).count();
        assert!((low as f64 / 40_000.0 - 0.5).abs() < 0.01, "{low}");
    }

    #[test]
    fn streams_and_seeds_differ() {
        let first = |seed, stream| Random::new(seed, stream).even();
        assert!(first(1, 1) != first(2, 1) && first(1, 1) != first(1, 2));
    }
}
