//! Rare sudden movements, told apart from continual ones.
//!
//! A resting stick is moved by wander and tremor all the time, and by jerks or spasms now and
//! then. A dead zone that covered both would be set by the jerks alone. An event counts as
//! sudden when it is far beyond what the continual movement does **and** comes fast:
//!
//! - its size passes `q50 + 5 (q90 - q50)` of the distance over time. For movement that is
//!   Gaussian on both axes that is six standard deviations, which an hour does not see; the
//!   quantiles are not moved by events that fill less than a tenth of the time;
//! - from inside `q90` to half of its size it takes at most 300 ms. A slow change of posture
//!   takes longer and stays with the continual movement.
//!
//! More than six a minute are not rare: then nothing is told apart. (All three limits are our
//! own; no published ones were found.)

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
/// More than this many a minute are not rare.
const RARE_PER_MINUTE: f64 = 6.0;
/// What follows a sudden movement within this time is part of it, seconds.
const AFTERMATH_SECONDS: f64 = 0.25;

/// Rest parted into continual and sudden movement.
pub(super) struct Parted {
    /// What is left without the sudden movements.
    pub(super) continual: Sustained,
    /// The sudden movements.
    pub(super) sudden: Sudden,
}

/// Parts the sustained levels of a rest; `held` are the plain distances over time.
pub(super) fn part(all: &Sustained, held: &[(f64, f64)], step: f64) -> Parted {
    let minutes = all.seconds() / 60.0;
    let quantile = |share| weighted::quantile(held, share).unwrap_or(0.0);
    let (half, inside) = (quantile(0.5), quantile(0.9));
    let far = (half + FAR * (inside - half)).max(inside + LEAST_STANDOUT.max(3.0 * step));
    let mut found: Vec<(Span, f64)> = Vec::new();
    for event in all.events_beyond(far) {
        if found.last().is_some_and(|last| event.span.from_seconds < last.0.to_seconds) {
            // The one before has not come back yet: this is still the same.
            if let Some(last) = found.last_mut() {
                last.1 = last.1.max(event.size);
            }
            continue;
        }
        let (extent, rise) = extent(all, event.span, event.size, inside);
        if rise <= FAST_SECONDS {
            found.push((extent, event.size));
        }
    }
    if found.len() as f64 > RARE_PER_MINUTE * minutes {
        found.clear();
    }
    let spans: Vec<Span> = found.iter().map(|one| one.0).collect();
    let (low, high) = poisson_mid_p(found.len() as f64);
    let basis = Basis { seconds: all.seconds(), repetitions: found.len() };
    let per_minute =
        Estimate::new(found.len() as f64 / minutes, low / minutes, high / minutes, basis)
            .ok_or(NotEnough::NothingRecorded);
    Parted {
        continual: if spans.is_empty() { all.clone() } else { all.without(&spans) },
        sudden: Sudden {
            count: found.len(),
            per_minute,
            sizes: found.iter().map(|one| one.1).collect(),
        },
    }
}

/// From where the path was last inside before the event to where it is inside again after it
/// (and a little more), and how long the rise to half of the event's size took.
fn extent(all: &Sustained, event: Span, size: f64, inside: f64) -> (Span, f64) {
    let pieces = &all.pieces;
    let start = pieces.partition_point(|piece| piece.0.from_seconds < event.from_seconds);
    let before = pieces[..start].iter().rposition(|piece| piece.1 <= inside);
    let left = before.map_or(event.from_seconds, |index| pieces[index].0.to_seconds);
    let half = pieces[before.map_or(0, |index| index + 1)..]
        .iter()
        .find(|piece| piece.1 >= 0.5 * size)
        .map_or(event.from_seconds, |piece| piece.0.from_seconds);
    let end = pieces.partition_point(|piece| piece.0.to_seconds <= event.to_seconds);
    let back = pieces[end.min(pieces.len())..]
        .iter()
        .find(|piece| piece.1 <= inside)
        .map_or(event.to_seconds, |piece| piece.0.from_seconds);
    let extent =
        Span { from_seconds: left, to_seconds: back.max(event.to_seconds) + AFTERMATH_SECONDS };
    (extent, (half - left).max(0.0))
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
    fn slow_and_frequent_movements_stay() {
        assert_eq!(parted(&rest(&[20.0, 50.0], 0.4, 2.0)).sudden.count, 0);
        let often: Vec<f64> = (1..20).map(|i| f64::from(i) * 6.0).collect();
        assert_eq!(parted(&rest(&often, 0.4, 0.1)).sudden.count, 0);
        assert_eq!(parted(&rest(&[], 0.0, 1.0)).sudden.count, 0);
    }
}
