//! Smoothing: the filter is chosen by what it does on the person's own recordings.
//!
//! Each candidate runs over the person's holds and pushes. Its *jitter* is the spread of what it
//! puts out while the person holds still; its *lag* is by how much it moves the person's own
//! pushes back in time. Of all candidates within the lag allowed the one with the least jitter is
//! taken, and only if the jitter is clearly less than without. Slow wander stays: no filter that
//! is quick enough takes it. Nothing promises that smoothing helps play.
//!
//! **Lag** is the shift in time that aligns the filtered push best with the unfiltered one, by
//! least squares over the whole push out and back (the maximum of their cross-correlation where
//! both have the same size). Both are averaged over a fifth of a second about each moment first,
//! which moves neither, so that a tremor riding on a push does not pass for the push. The frames
//! of a host are there with and without smoothing and count in neither.

use super::recorded::{HeldFrames, PushedFrames};
use super::{SmoothingAdvice, SmoothingPoint, Wish};
use crate::estimate::{Basis, Estimate, Measured, NotEnough, Sureness};
use crate::pipeline::FRAME_SECONDS;
use crate::pipeline::one_euro::OneEuroPlane;
use crate::settings::Smoothing;
use crate::statistics::order::sort_few;
use crate::statistics::plain;
use crate::{Pipeline, Position};

/// Cutoffs at standstill that are tried, hertz: a third to a half apart.
const CUTOFFS: [f64; 9] = [0.3, 0.5, 0.8, 1.2, 2.0, 3.0, 4.5, 7.0, 10.0];
/// Speed coefficients that are tried, hertz for each share of travel a second.
const COEFFICIENTS: [f64; 6] = [0.0, 0.5, 2.0, 6.0, 15.0, 40.0];
/// Candidates with more lag than this are not shown, seconds.
const LONGEST_SHOWN_SECONDS: f64 = 0.15;
/// Smoothing is suggested where the whole interval of what it leaves of the jitter lies under
/// this (our own choice: what takes less is not worth the lag).
const WORTH_IT: f64 = 0.85;
/// The fewest holds that say what smoothing does.
const FEWEST_HOLDS: usize = 3;
/// Firm from this many holds on, with an interval no wider than [`FIRM_WIDTH`].
const FIRM_HOLDS: usize = 6;
const FIRM_WIDTH: f64 = 0.15;
/// The longest lag that is told apart, seconds.
const LONGEST_LAG_SECONDS: f64 = 0.5;
/// Frames to each side of the average that takes tremor off a push: a fifth of a second in all.
const ABOUT: usize = 6;

/// The suggested smoothing, on pushes as `pipeline` (without smoothing) makes them.
pub(super) fn smoothing(
    holds: &[HeldFrames],
    pushes: &[PushedFrames],
    pipeline: &Pipeline,
    wish: Wish,
) -> Result<SmoothingAdvice, NotEnough> {
    if holds.is_empty() {
        return Err(NotEnough::NothingRecorded);
    }
    if holds.len() < FEWEST_HOLDS {
        return Err(NotEnough::Repetitions { have: holds.len(), need: FEWEST_HOLDS });
    }
    let holds: Vec<HeldFrames> = holds
        .iter()
        .map(|hold| HeldFrames {
            frames: hold.frames.iter().map(|at| pipeline.push(*at)).collect(),
            ..hold.clone()
        })
        .collect();
    let aligned = Aligned::of(pushes, pipeline).ok_or(NotEnough::NothingRecorded)?;
    let allowed = if wish.most_lag_seconds.is_finite() {
        wish.most_lag_seconds
    } else {
        Wish::default().most_lag_seconds
    };
    let off = SmoothingPoint {
        smoothing: Smoothing::Off,
        jitter: pooled(&jitters(&holds, Smoothing::Off)),
        lag_seconds: 0.0,
    };
    let mut points = vec![off];
    for cutoff_hertz in CUTOFFS {
        for speed_coefficient in COEFFICIENTS {
            let smoothing = Smoothing::OneEuro { cutoff_hertz, speed_coefficient };
            let lag_seconds = aligned.lag(smoothing);
            if lag_seconds <= LONGEST_SHOWN_SECONDS.max(allowed) {
                let jitter = pooled(&jitters(&holds, smoothing));
                points.push(SmoothingPoint { smoothing, jitter, lag_seconds });
            }
        }
    }
    let curve = unbeaten(points);
    // Along the curve jitter falls as lag rises: the last one within the lag is the steadiest.
    let best = curve.iter().rev().find(|point| point.lag_seconds <= allowed).unwrap_or(&off);
    let left = left(&holds, best.smoothing);
    let is_worth_it = left.is_ok_and(|left| left.high < WORTH_IT);
    let chosen = if is_worth_it { *best } else { off };
    let jitter_left = match left {
        Ok(left) if !is_worth_it => {
            Estimate::new(1.0, 1.0, 1.0, left.basis).ok_or(NotEnough::DoesNotApply)
        }
        left => left,
    };
    let is_firm = holds.len() >= FIRM_HOLDS && left.is_ok_and(|left| left.width() <= FIRM_WIDTH);
    Ok(SmoothingAdvice {
        chosen: chosen.smoothing,
        sureness: if is_firm { Sureness::Firm } else { Sureness::Rough },
        best_left: left,
        best_smoothing: best.smoothing,
        curve,
        jitter_left,
        lag_seconds: chosen.lag_seconds,
        dead_zone_without_and_with: None,
    })
}

/// The points that no other beats in both, lag rising.
fn unbeaten(mut points: Vec<SmoothingPoint>) -> Vec<SmoothingPoint> {
    sort_few(&mut points, |one, other| {
        one.lag_seconds < other.lag_seconds
            || (one.lag_seconds == other.lag_seconds && one.jitter < other.jitter)
    });
    let mut kept: Vec<SmoothingPoint> = Vec::new();
    for point in points {
        if kept.last().is_none_or(|last| point.jitter < last.jitter) {
            kept.push(point);
        }
    }
    kept
}

/// What `smoothing` makes of frames that follow each other.
pub(super) fn smoothed(frames: &[Position], smoothing: Smoothing) -> Vec<Position> {
    let Smoothing::OneEuro { cutoff_hertz, speed_coefficient } = smoothing else {
        return frames.to_vec();
    };
    let mut filter = OneEuroPlane::new(cutoff_hertz, speed_coefficient);
    frames.iter().map(|at| filter.step(FRAME_SECONDS, *at)).collect()
}

/// Of each hold: mean squared distance from the held place (both axes pooled), and frames.
fn jitters(holds: &[HeldFrames], smoothing: Smoothing) -> Vec<(f64, f64)> {
    holds
        .iter()
        .map(|hold| {
            let out = smoothed(&hold.frames, smoothing);
            let held = &out[hold.from.min(out.len())..];
            let count = held.len() as f64;
            let mean =
                held.iter().fold(Position::ORIGIN, |sum, at| sum + *at) * (1.0 / count.max(1.0));
            let squares: f64 = held
                .iter()
                .map(|at| {
                    let off = *at - mean;
                    off.right * off.right + off.up * off.up
                })
                .sum();
            (0.5 * squares / count.max(1.0), count)
        })
        .collect()
}

/// The spread over all holds, share of travel.
fn pooled(jitters: &[(f64, f64)]) -> f64 {
    let count: f64 = jitters.iter().map(|hold| hold.1).sum();
    libm::sqrt(jitters.iter().map(|hold| hold.0 * hold.1).sum::<f64>() / count.max(1.0))
}

/// What smoothing leaves of the jitter, as a share: each hold with itself, the mean of the
/// logarithms of the ratios with its t interval.
fn left(holds: &[HeldFrames], smoothing: Smoothing) -> Measured {
    let before = jitters(holds, Smoothing::Off);
    let after = jitters(holds, smoothing);
    let ratios: Vec<f64> = before
        .iter()
        .zip(&after)
        .filter(|(before, _)| before.0 > 1e-12)
        .map(|(before, after)| 0.5 * libm::log((after.0 / before.0).max(1e-6)))
        .collect();
    if ratios.len() < FEWEST_HOLDS {
        return Err(NotEnough::Repetitions { have: ratios.len(), need: FEWEST_HOLDS });
    }
    let few = NotEnough::Repetitions { have: ratios.len(), need: FEWEST_HOLDS };
    let mean = plain::mean(&ratios).ok_or(few)?;
    let (low, high) = plain::mean_interval(&ratios).ok_or(few)?;
    let frames: f64 = before.iter().map(|hold| hold.1).sum();
    let basis = Basis { seconds: frames * FRAME_SECONDS, repetitions: ratios.len() };
    Estimate::new(libm::exp(mean), libm::exp(low), libm::exp(high), basis)
        .ok_or(NotEnough::DoesNotApply)
}

/// Pushes made ready for telling the lag of many candidates.
#[derive(Clone, Debug)]
pub(super) struct Aligned {
    pushes: Vec<OnePush>,
}

#[derive(Clone, Debug)]
struct OnePush {
    frames: Vec<Position>,
    /// The same averaged about each moment, and how it changes from frame to frame.
    steady: Vec<Position>,
    change: Vec<Position>,
}

impl Aligned {
    /// Of pushes as `pipeline` makes them before smoothing; `None` without a push that moves.
    pub(super) fn of(pushes: &[PushedFrames], pipeline: &Pipeline) -> Option<Self> {
        let pushes: Vec<OnePush> = pushes
            .iter()
            .map(|push| {
                let frames: Vec<Position> =
                    push.frames.iter().map(|at| pipeline.push(*at)).collect();
                let steady = averaged(&frames);
                let change = (0..steady.len())
                    .map(|i| {
                        let (before, after) = (i.saturating_sub(1), (i + 1).min(steady.len() - 1));
                        (steady[after] - steady[before]) * (1.0 / (after - before).max(1) as f64)
                    })
                    .collect();
                OnePush { frames, steady, change }
            })
            .collect();
        let moves =
            pushes.iter().flat_map(|push| &push.change).any(|change| change.radius() > 1e-6);
        moves.then_some(Self { pushes })
    }

    /// The lag of a smoothing, 0..=0.5 s: Gauss and Newton's steps to the least sum of squares.
    pub(super) fn lag(&self, smoothing: Smoothing) -> f64 {
        if smoothing == Smoothing::Off {
            return 0.0;
        }
        let filtered: Vec<Vec<Position>> =
            self.pushes.iter().map(|push| averaged(&smoothed(&push.frames, smoothing))).collect();
        let longest = LONGEST_LAG_SECONDS / FRAME_SECONDS;
        let mut shift = 0.0;
        for _ in 0..6 {
            let (mut together, mut squares) = (0.0, 0.0);
            for (push, filtered) in self.pushes.iter().zip(&filtered) {
                for (index, filtered) in filtered.iter().enumerate() {
                    let place = (index as f64 - shift).max(0.0);
                    let off = between(&push.steady, place) - *filtered;
                    let change = between(&push.change, place);
                    together += off.right * change.right + off.up * change.up;
                    squares += change.right * change.right + change.up * change.up;
                }
            }
            let step = if squares > 0.0 { together / squares } else { 0.0 };
            shift = (shift + step).clamp(0.0, longest);
            if step.abs() < 1e-4 {
                break;
            }
        }
        shift * FRAME_SECONDS
    }
}

/// A list read at a place between two entries, on the straight line; `at` must not be negative.
fn between(list: &[Position], at: f64) -> Position {
    let below = (at as usize).min(list.len() - 1);
    let above = (below + 1).min(list.len() - 1);
    list[below] + (list[above] - list[below]) * (at - below as f64)
}

/// Each entry averaged with as many neighbours before as after, [`ABOUT`] where there are.
fn averaged(frames: &[Position]) -> Vec<Position> {
    let mut sums = Vec::with_capacity(frames.len() + 1);
    let mut sum = Position::ORIGIN;
    sums.push(sum);
    for at in frames {
        sum = sum + *at;
        sums.push(sum);
    }
    (0..frames.len())
        .map(|i| {
            let about = ABOUT.min(i).min(frames.len() - 1 - i);
            (sums[i + about + 1] - sums[i - about]) * (1.0 / (2 * about + 1) as f64)
        })
        .collect()
}
