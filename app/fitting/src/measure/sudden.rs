//! Rare sudden movements, told apart from continual ones.
//!
//! A resting stick is moved by wander and tremor all the time, and by jerks or spasms now and
//! then. A dead zone that covered both would be set by the jerks alone. An event counts as
//! sudden when it is far beyond what the continual movement does **and** comes fast:
//!
//! - its size passes `q50 + 5 (q90 - q50)` of the distance over time. For movement that is
//!   Gaussian on both axes that is six standard deviations, which an hour does not see; the
//!   quantiles are not moved by events that fill less than a tenth of the time;
//! - from half-way between `q90` and that limit to half of its own size it takes at most 300 ms. A
//!   slow change of posture takes longer and stays with the continual movement.
//!
//! More than six a minute are told apart too as long as they are separate events: over soon, and
//! clear of everything else, so that hardly more events pass a level half-way out to them. What
//! fills much of the time moves the quantiles as well, so such events are first looked for with the
//! quartiles, which they leave alone up to a quarter of the time, and the limits above are then read
//! off what is left. Where frequent ones are neither short nor clear, they stay with the continual
//! movement, and [`Sudden::covered`] says so.
//!
//! (All limits are our own; no published ones were found.)

use super::Sudden;
use super::events::Sustained;
use crate::Span;
use crate::estimate::{Basis, Estimate, NotEnough};
use crate::statistics::counts::poisson_mid_p;
use crate::statistics::weighted;

/// How many times the upper half of the spread beyond the median is far.
const FAR: f64 = 5.0;
/// Nothing within this much above `q90` is sudden, share of travel.
const LEAST_STANDOUT: f64 = 0.03;
/// The longest rise of a sudden movement, seconds.
const FAST_SECONDS: f64 = 0.3;
/// The same for the upper half of the half beyond the median: as far out in Gaussian movement.
const FAR_BY_QUARTILE: f64 = 10.0;
/// More than this many a minute are told apart only where they are separate...
const RARE_PER_MINUTE: f64 = 6.0;
/// ... which they are where they last no longer than this from leaving the rest to coming back, on the
/// average, seconds, ...
const SHORT_SECONDS: f64 = 1.5;
/// ... and where half-way out to them no more than so many times as many events pass.
const CLEAR: f64 = 1.25;
/// What follows a sudden movement within this time is part of it, seconds.
const AFTERMATH_SECONDS: f64 = 0.25;

/// Rest parted into continual and sudden movement.
pub(super) struct Parted {
    /// What is left without the sudden movements.
    pub(super) continual: Sustained,
    /// The sudden movements.
    pub(super) sudden: Sudden,
    /// When they were, in order.
    pub(super) spans: Vec<Span>,
}

/// Parts the sustained levels of a rest; `held` are the plain distances over time, one for each of
/// them.
pub(super) fn part(all: &Sustained, held: &[(f64, f64)], step: f64) -> Parted {
    let minutes = all.seconds() / 60.0;
    let limits = |held: &[(f64, f64)], inside: f64, times: f64| {
        let quantile = |share| weighted::quantile(held, share).unwrap_or(0.0);
        let (half, inside) = (quantile(0.5), quantile(inside));
        Limits { inside, far: (half + times * (inside - half)).max(inside + least(step)) }
    };
    let by_quartile = limits(held, 0.75, FAR_BY_QUARTILE);
    let frequent = by_quartile.beyond(all);
    let limits = if by_quartile.are_separate(all, &frequent) {
        limits(&outside(all, held, &frequent), 0.9, FAR)
    } else {
        limits(held, 0.9, FAR)
    };
    let is_frequent = |found: &[(Span, f64)]| found.len() as f64 > RARE_PER_MINUTE * minutes;
    let mut found = limits.beyond(all);
    let (mut covered, mut beyond) = (Vec::new(), limits.far);
    if is_frequent(&found) && !limits.are_separate(all, &found) {
        covered = sizes(&found);
        found.clear();
    } else if found.is_empty() && is_frequent(&frequent) {
        covered = sizes(&frequent);
    }
    beyond = covered.iter().copied().fold(beyond, f64::max);
    let spans: Vec<Span> = found.iter().map(|one| one.0).collect();
    let (low, high) = poisson_mid_p(found.len() as f64);
    let basis = Basis { seconds: all.seconds(), repetitions: found.len() };
    let per_minute =
        Estimate::new(found.len() as f64 / minutes, low / minutes, high / minutes, basis)
            .ok_or(NotEnough::NothingRecorded);
    Parted {
        continual: if spans.is_empty() { all.clone() } else { all.without(&spans) },
        sudden: Sudden { beyond, count: found.len(), per_minute, sizes: sizes(&found), covered },
        spans,
    }
}

/// How far beyond the rest a sudden movement is at least, share of travel.
fn least(step: f64) -> f64 {
    LEAST_STANDOUT.max(3.0 * step)
}

fn sizes(found: &[(Span, f64)]) -> Vec<f64> {
    found.iter().map(|one| one.1).collect()
}

/// The distances over time outside these events.
fn outside(all: &Sustained, held: &[(f64, f64)], events: &[(Span, f64)]) -> Vec<(f64, f64)> {
    let is_outside = |span: Span| events.iter().all(|one| one.0.shared_with(span).is_none());
    let both = all.pieces.iter().zip(held);
    both.filter(|(piece, _)| is_outside(piece.0)).map(|(_, held)| *held).collect()
}

/// Distances inside which the rest mostly is, and beyond which a fast event is sudden.
#[derive(Clone, Copy)]
struct Limits {
    inside: f64,
    far: f64,
}

impl Limits {
    /// The sudden events: their extent and size.
    fn beyond(self, all: &Sustained) -> Vec<(Span, f64)> {
        let mut found: Vec<(Span, f64)> = Vec::new();
        for event in all.events_beyond(self.far) {
            if let Some(last) =
                found.last_mut().filter(|last| event.span.from_seconds < last.0.to_seconds)
            {
                // The one before has not come back yet: this is still the same.
                last.1 = last.1.max(event.size);
                continue;
            }
            let (extent, rise) = self.extent(all, event.span, event.size);
            if rise <= FAST_SECONDS {
                found.push((extent, event.size));
            }
        }
        found
    }

    /// Whether these are events of their own: short, and clear of everything else.
    fn are_separate(self, all: &Sustained, found: &[(Span, f64)]) -> bool {
        let count = found.len() as f64;
        let seconds: f64 = found.iter().map(|one| one.0.seconds() - AFTERMATH_SECONDS).sum();
        let half_way = all.events_beyond(self.half_way()).len() as f64;
        seconds <= SHORT_SECONDS * count && half_way <= CLEAR * count
    }

    /// Half-way out from the rest to what is far.
    fn half_way(self) -> f64 {
        0.5 * (self.inside + self.far)
    }

    /// From where the path was last inside before the event to where it is inside again after it
    /// (and a little more), and how long the rise to half of the event's size took.
    fn extent(self, all: &Sustained, event: Span, size: f64) -> (Span, f64) {
        let pieces = &all.pieces;
        let start = pieces.partition_point(|piece| piece.0.from_seconds < event.from_seconds);
        let last_within = |level: f64| pieces[..start].iter().rposition(|piece| piece.1 <= level);
        let ends = |before: Option<usize>| {
            before.map_or(event.from_seconds, |index| pieces[index].0.to_seconds)
        };
        let before = last_within(self.inside);
        // Wander that happens to be outside when it begins is not part of the rise.
        let rises = last_within(self.half_way());
        let half = pieces[rises.map_or(0, |index| index + 1)..]
            .iter()
            .find(|piece| piece.1 >= 0.5 * size)
            .map_or(event.from_seconds, |piece| piece.0.from_seconds);
        let end = pieces.partition_point(|piece| piece.0.to_seconds <= event.to_seconds);
        let back = pieces[end.min(pieces.len())..]
            .iter()
            .find(|piece| piece.1 <= self.inside)
            .map_or(event.to_seconds, |piece| piece.0.from_seconds);
        let to_seconds = back.max(event.to_seconds) + AFTERMATH_SECONDS;
        (Span { from_seconds: ends(before), to_seconds }, (half - ends(rises)).max(0.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two minutes of small movement read 100 times a second, with jumps to `size` that take
    /// `rise` seconds, stay for 0.3 s and fall at once.
    fn rest(jumps: &[f64], size: f64, rise: f64) -> Vec<(Span, f64)> {
        (0..12_000)
            .map(|i| {
                let at = f64::from(i) * 0.01;
                let quiet = 0.02 * (1.0 + 0.5 * libm::sin(at * 3.1) + 0.3 * libm::sin(at * 17.0));
                let level = jumps.iter().map(|jump| at - jump).fold(quiet, |level, since| {
                    if (0.0..rise + 0.3).contains(&since) {
                        level.max(size * (since / rise).min(1.0))
                    } else {
                        level
                    }
                });
                (Span { from_seconds: at, to_seconds: f64::from(i + 1) * 0.01 }, level)
            })
            .collect()
    }

    fn parted(path: &[(Span, f64)]) -> Parted {
        let held: Vec<(f64, f64)> =
            path.iter().map(|(span, level)| (*level, span.seconds())).collect();
        part(&Sustained::of(path), &held, 0.001)
    }

    #[test]
    fn jerks_are_told_apart_with_their_sizes() {
        let parts = parted(&rest(&[20.0, 50.0, 90.0], 0.4, 0.1));
        assert_eq!(parts.sudden.count, 3);
        assert!(parts.sudden.sizes.iter().all(|size| (size - 0.4).abs() < 0.01));
        assert!(parts.continual.largest() < 0.05);
        let rate = parts.sudden.per_minute.unwrap();
        assert!((rate.value - 1.5).abs() < 1e-9 && rate.low > 0.3 && rate.high < 4.5);
    }

    #[test]
    fn slow_movements_stay() {
        assert_eq!(parted(&rest(&[20.0, 50.0], 0.4, 2.0)).sudden.count, 0);
        assert_eq!(parted(&rest(&[], 0.0, 1.0)).sudden.count, 0);
    }

    /// Twenty a minute are told apart as one is: 16 s of the two minutes are then no rest.
    #[test]
    fn frequent_movements_are_told_apart_while_they_are_separate() {
        for count in [1, 7, 13, 20, 40] {
            let jumps: Vec<f64> =
                (0..count).map(|i| 1.3 + 118.0 / f64::from(count) * f64::from(i)).collect();
            let parts = parted(&rest(&jumps, 0.4, 0.1));
            assert_eq!(parts.sudden.count, jumps.len());
            assert!(parts.continual.largest() < 0.05, "{count}: {}", parts.continual.largest());
            assert!(parts.sudden.covered.is_empty());
        }
    }

    /// Fast movements of all sizes, two a second, are no exceptions from a rest. They stay, and it
    /// is said that they do.
    #[test]
    fn frequent_movements_that_are_not_clear_of_the_rest_stay() {
        let path: Vec<(Span, f64)> = (0..12_000)
            .map(|i| {
                let at = f64::from(i) * 0.01;
                let since = at % 0.6;
                // Sizes from 0.004 to 0.3, each in turn, the smaller ones the more frequent.
                let number = (at / 0.6) as u32;
                let size = 0.004 * libm::pow(75.0, f64::from(number * 7 % 20) / 19.0);
                let level = if since < 0.12 { size } else { 0.003 };
                (Span { from_seconds: at, to_seconds: f64::from(i + 1) * 0.01 }, level)
            })
            .collect();
        let parts = parted(&path);
        assert_eq!(parts.sudden.count, 0);
        assert!(parts.sudden.covered.len() > 12, "{:?}", parts.sudden.covered.len());
        assert!(parts.continual.largest() > 0.29);
    }
}
