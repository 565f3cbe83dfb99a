//! How often a level is passed that was hardly ever seen to be passed.
//!
//! Peaks over a threshold: clusters of exceedances come at a rate, and the sizes of their peaks
//! above the threshold follow a generalised Pareto distribution (Pickands, *Annals of
//! Statistics* 3 (1975) 119; Davison and Smith, *JRSS B* 52 (1990) 393; both from memory). The
//! rate of peaks above a level is the rate above the threshold times the share of peaks that
//! are at least that large.
//!
//! A minute of rest holds a few dozen peaks, too few to learn the shape of the tail from them
//! alone: a free fit is either absurdly wide or absurdly sure. So the shape has a prior, a
//! normal one about the exponential tail, wide enough for Gaussian movement at the thresholds used
//! here (its hazard grows with the level: about -0.15) and for tremor whose size comes and goes (0.15
//! to 0.25, over two hours of invented people). Both numbers are our own; that they keep
//! their promise is counted in `suggest/dead_zone_truth.rs`, and by group in `tests/accuracy`. What is
//! said about a rate is its distribution under the posterior, computed on a fixed grid: no randomness.
//!
//! Peaks that come in flurries say less than as many independent ones. Ferro and Segers, *JRSS
//! B* 65 (2003) 545 (from memory) estimate the share that is independent from the times between
//! them; the likelihood is raised to that power.

use super::distributions::normal_quantile;
use super::special::{gamma_lower, rising_root};

/// Middle of the prior of the shape.
pub const PRIOR_SHAPE: f64 = 0.0;
/// Standard deviation of the prior of the shape.
pub const PRIOR_SHAPE_DEVIATION: f64 = 0.18;
/// The fewest peaks a tail is fitted to.
pub const FEWEST_PEAKS: usize = 5;

/// Shapes on the grid, in steps of half the prior's standard deviation.
const SHAPES: i32 = 11;
/// Scales on the grid.
const SCALES: i32 = 25;
/// Rates on the grid, of equal probability.
const RATES: i32 = 11;

/// One possible tail and how far it is believed.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Belief {
    weight: f64,
    shape: f64,
    scale: f64,
}

/// A fitted tail. Levels have the unit of the peaks, rates are per minute.
#[derive(Clone, Debug, PartialEq)]
pub struct Tail {
    /// The level from which on the tail speaks.
    pub threshold: f64,
    /// Peaks above the threshold.
    pub peaks: usize,
    /// The share of them that counts as independent, 0..=1.
    pub independent: f64,
    beliefs: Vec<Belief>,
    rates: Vec<f64>,
}

/// A rate a minute with its 95 % band.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rate {
    /// Median of what is believed.
    pub middle: f64,
    /// Lower end (2.5 %).
    pub low: f64,
    /// Upper end (97.5 %).
    pub high: f64,
}

impl Tail {
    /// Fits the peaks of events, given as `(seconds, size)` in order of time, that rose above
    /// `threshold` while `minutes` were watched. Sizes are known to `resolution`. `None` with
    /// fewer than [`FEWEST_PEAKS`] peaks or no time.
    #[must_use]
    pub fn fit(
        peaks: &[(f64, f64)],
        threshold: f64,
        minutes: f64,
        resolution: f64,
    ) -> Option<Self> {
        let above: Vec<(f64, f64)> =
            peaks.iter().copied().filter(|peak| peak.1 > threshold).collect();
        if above.len() < FEWEST_PEAKS || minutes <= 0.0 {
            return None;
        }
        let times: Vec<f64> = above.iter().map(|peak| peak.0).collect();
        let sizes: Vec<f64> = above.iter().map(|peak| peak.1 - threshold).collect();
        let independent = independent_share(&times);
        let count = above.len() as f64;
        Some(Self {
            threshold,
            peaks: above.len(),
            independent,
            beliefs: beliefs(&sizes, independent, resolution),
            rates: rates(count * independent + 0.5, minutes * independent),
        })
    }

    /// The rate a minute of peaks above `level`; below the threshold that of the threshold.
    #[must_use]
    pub fn rate(&self, level: f64) -> Rate {
        let above = (level - self.threshold).max(0.0);
        let mut spread: Vec<(f64, f64)> = Vec::with_capacity(self.beliefs.len() * self.rates.len());
        for belief in &self.beliefs {
            let share = share_above(above, belief.shape, belief.scale);
            spread.extend(self.rates.iter().map(|rate| (rate * share, belief.weight)));
        }
        super::order::sort_pairs(&mut spread);
        let total: f64 = spread.iter().map(|one| one.1).sum();
        let mut ends = [0.0; 3];
        let mut passed = 0.0;
        let mut next = 0;
        for (rate, weight) in &spread {
            passed += weight;
            while next < 3 && passed >= [0.025, 0.5, 0.975][next] * total {
                ends[next] = *rate;
                next += 1;
            }
        }
        Rate { low: ends[0], middle: ends[1], high: ends[2] }
    }
}

/// The share of a generalised Pareto distribution above `above` (not negative): `(1 + shape above
/// / scale)^(-1 / shape)`, exponential for shape 0, none beyond the end that a negative shape
/// has. `scale > 0`.
#[must_use]
pub fn share_above(above: f64, shape: f64, scale: f64) -> f64 {
    let x = above / scale;
    if shape.abs() < 1e-9 {
        return libm::exp(-x);
    }
    let inside = 1.0 + shape * x;
    if inside <= 0.0 { 0.0 } else { libm::exp(-libm::log(inside) / shape) }
}

/// The posterior of shape and scale on a fixed grid, with the scale's prior flat in its
/// logarithm. Points that carry nothing are left out.
fn beliefs(sizes: &[f64], independent: f64, resolution: f64) -> Vec<Belief> {
    let count = sizes.len() as f64;
    let mean = (sizes.iter().sum::<f64>() / count).max(0.5 * resolution).max(1e-9);
    let mut all = Vec::with_capacity((SHAPES * SCALES) as usize);
    for i in 0..SHAPES {
        let from_middle = f64::from(i - SHAPES / 2) / 2.0;
        let shape = PRIOR_SHAPE + PRIOR_SHAPE_DEVIATION * from_middle;
        for j in 0..SCALES {
            let scale = mean * libm::exp(3.2 * (f64::from(j) / f64::from(SCALES - 1) - 0.42));
            let mut log_likelihood = -count * libm::log(scale);
            for size in sizes {
                let inside = 1.0 + shape * size / scale;
                if inside <= 1e-9 {
                    log_likelihood = f64::NEG_INFINITY;
                    break;
                }
                log_likelihood -= if shape.abs() < 1e-9 {
                    size / scale
                } else {
                    (1.0 + 1.0 / shape) * libm::log(inside)
                };
            }
            let weight = independent * log_likelihood - 0.5 * from_middle * from_middle;
            all.push(Belief { weight, shape, scale });
        }
    }
    let best = all.iter().map(|belief| belief.weight).fold(f64::NEG_INFINITY, f64::max);
    for belief in &mut all {
        belief.weight = libm::exp(belief.weight - best);
    }
    all.retain(|belief| belief.weight > 1e-4);
    all
}

/// Values of equal probability of a gamma distribution: the posterior of a Poisson rate under
/// the prior of Jeffreys.
fn rates(shape: f64, minutes: f64) -> Vec<f64> {
    let far = shape + 15.0 * libm::sqrt(shape) + 20.0;
    (0..RATES)
        .map(|i| {
            let share = (f64::from(i) + 0.5) / f64::from(RATES);
            // A good start narrows the search: Wilson and Hilferty's cube root.
            let ninth = 1.0 / (9.0 * shape);
            let root = 1.0 - ninth + normal_quantile(share) * libm::sqrt(ninth);
            let guess = (shape * root * root * root).max(0.0);
            let (low, high) = (0.5 * guess, (1.5 * guess + 1.0).min(far));
            rising_root(low, high, share, |x| gamma_lower(shape, x)) / minutes
        })
        .collect()
}

/// The share of events that counts as independent, from the times between them: for events at
/// random the mean square of the times is twice the square of their mean; flurries raise it.
/// 0.1..=1; 1 for fewer than three events.
fn independent_share(times: &[f64]) -> f64 {
    if times.len() < 3 {
        return 1.0;
    }
    let between: Vec<f64> = times.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let sum: f64 = between.iter().sum();
    let squares: f64 = between.iter().map(|time| time * time).sum();
    if squares <= 0.0 {
        return 1.0;
    }
    (2.0 * sum * sum / (between.len() as f64 * squares)).clamp(0.1, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Peaks at even times whose sizes are the quantiles of an exponential distribution.
    fn exponential(count: usize, scale: f64) -> Vec<(f64, f64)> {
        (0..count)
            .map(|i| {
                let share = (i as f64 + 0.5) / count as f64;
                // A step of 7 through 30 mixes the sizes over time.
                let at = ((i * 7) % count) as f64;
                (at, 1.0 - scale * libm::log(1.0 - share))
            })
            .collect()
    }

    #[test]
    fn an_exponential_tail_is_met_inside_its_band() {
        let mut peaks = exponential(60, 0.3);
        peaks.sort_by(|one, other| one.0.total_cmp(&other.0));
        let tail = Tail::fit(&peaks, 1.0, 2.0, 0.0).unwrap();
        for level in [1.0, 1.3, 1.9, 2.5] {
            let truth = 30.0 * libm::exp(-(level - 1.0) / 0.3);
            let rate = tail.rate(level);
            assert!(rate.low < truth && truth < rate.high, "{level}: {rate:?} {truth}");
            assert!(rate.low <= rate.middle && rate.middle <= rate.high);
        }
    }

    #[test]
    fn the_rate_falls_with_the_level() {
        let mut peaks = exponential(30, 0.1);
        peaks.sort_by(|one, other| one.0.total_cmp(&other.0));
        let tail = Tail::fit(&peaks, 1.0, 1.0, 0.01).unwrap();
        let mut before = f64::INFINITY;
        for i in 0..50 {
            let rate = tail.rate(1.0 + 0.05 * f64::from(i));
            assert!(rate.high <= before && rate.high.is_finite());
            before = rate.high;
        }
        assert!(before < 0.1);
    }

    #[test]
    fn too_few_peaks_fit_nothing() {
        assert_eq!(Tail::fit(&exponential(4, 0.1), 1.0, 1.0, 0.0), None);
        assert_eq!(Tail::fit(&exponential(9, 0.1), 1.0, 0.0, 0.0), None);
    }

    #[test]
    fn equal_peaks_do_not_break_the_fit() {
        let peaks: Vec<(f64, f64)> = (0..20).map(|i| (f64::from(i), 0.5)).collect();
        let rate = Tail::fit(&peaks, 0.5 - 1e-12, 1.0, 0.01).unwrap().rate(0.6);
        assert!(rate.high.is_finite() && rate.high < 1.0);
    }

    #[test]
    fn flurries_count_less() {
        let random: Vec<f64> = vec![0.0, 1.0, 3.0, 3.5, 6.0, 7.2];
        let flurries: Vec<f64> = vec![0.0, 0.3, 0.6, 20.0, 20.3, 20.6, 60.0, 60.3];
        assert!(independent_share(&flurries) < 0.7 * independent_share(&random));
    }
}
