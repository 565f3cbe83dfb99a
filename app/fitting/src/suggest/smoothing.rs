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

/// Cutoffs at standstill that are tried, hertz: each about half as much again as the one before.
const CUTOFFS: [f64; 7] = [0.3, 0.6, 1.0, 1.8, 3.0, 5.0, 9.0];
/// Speed coefficients that are tried, hertz for each share of travel a second.
const COEFFICIENTS: [f64; 5] = [0.0, 0.7, 2.0, 6.0, 20.0];
/// Candidates with more lag than this are not shown, seconds.
const LONGEST_SHOWN_SECONDS: f64 = 0.15;
/// Smoothing is suggested where the whole interval of what it leaves of the jitter lies under
/// this (our own choice: what takes less is not worth the lag).
const WORTH_IT: f64 = 0.85;
/// The fewest holds that say what smoothing does.
const FEWEST_HOLDS: usize = 3;
/// And the least they hold in all, seconds: some ten turns of a slow tremor.
const LEAST_HELD_SECONDS: f64 = 3.0;
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
    let frames: usize = holds.iter().map(|hold| hold.frames.len().saturating_sub(hold.from)).sum();
    let have = frames as f64 * FRAME_SECONDS;
    if have < LEAST_HELD_SECONDS {
        return Err(NotEnough::Seconds { have, need: LEAST_HELD_SECONDS });
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
    // Along the curve jitter falls as lag rises: from its end, the first within the lag that is
    // worth it is the steadiest that is.
    let within = |point: &&SmoothingPoint| point.lag_seconds <= allowed;
    let best = curve.iter().rev().find(within).copied().unwrap_or(off);
    let best_left = left(&holds, best.smoothing);
    let worth_it = curve
        .iter()
        .rev()
        .filter(within)
        .take_while(|point| point.jitter < WORTH_IT * off.jitter)
        .find_map(|point| {
            let left = left(&holds, point.smoothing).ok()?;
            (left.high < WORTH_IT).then_some((*point, left))
        });
    let (chosen, jitter_left) = match (worth_it, best_left) {
        (Some((point, left)), _) => (point, Ok(left)),
        (None, Ok(left)) => {
            (off, Estimate::new(1.0, 1.0, 1.0, left.basis).ok_or(NotEnough::DoesNotApply))
        }
        (None, Err(why)) => (off, Err(why)),
    };
    let told = if worth_it.is_some() { jitter_left } else { best_left };
    // Holds without any jitter are in no ratio: it rests on the others alone.
    let sureness = told.map_or(Sureness::Rough, |left| {
        left.sureness(left.basis.repetitions >= FIRM_HOLDS && left.width() <= FIRM_WIDTH)
    });
    Ok(SmoothingAdvice {
        chosen: chosen.smoothing,
        sureness,
        best_left,
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

/// The mean of places that follow each other at the pace of a host, and the sum of their squared
/// distances from it.
pub(super) fn about_mean(places: &[Position]) -> (Position, f64) {
    let sum = places.iter().fold(Position::ORIGIN, |sum, at| sum + *at);
    let mean = sum * (1.0 / places.len().max(1) as f64);
    let square = |off: Position| off.right * off.right + off.up * off.up;
    (mean, places.iter().map(|at| square(*at - mean)).sum())
}

/// Of each hold: mean squared distance from the held place (both axes pooled), and frames.
fn jitters(holds: &[HeldFrames], smoothing: Smoothing) -> Vec<(f64, f64)> {
    holds
        .iter()
        .map(|hold| {
            let out = smoothed(&hold.frames, smoothing);
            let held = &out[hold.from.min(out.len())..];
            let count = held.len() as f64;
            (0.5 * about_mean(held).1 / count.max(1.0), count)
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
            if step.abs() < 1e-3 {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Settings;
    use proptest::prelude::{prop_assert, proptest};

    fn tremor(count: usize, size: f64, hertz: f64, place: Position) -> HeldFrames {
        let frames = (0..count)
            .map(|i| {
                let at = i as f64 * FRAME_SECONDS;
                let wave = size * libm::sin(std::f64::consts::TAU * hertz * at);
                place + Position::new(wave, 0.3 * wave)
            })
            .collect();
        HeldFrames { level: 0.5, frames, from: 60 }
    }

    /// Out along a minimum-jerk path in 0.6 s (Flash and Hogan 1985), and back.
    fn push(length: f64, degrees: f64) -> PushedFrames {
        let frames = (0..160)
            .map(|i| {
                let at = f64::from(i) * FRAME_SECONDS;
                let share = |t: f64| {
                    let t = (t / 0.6).clamp(0.0, 1.0);
                    t * t * t * (10.0 - 15.0 * t + 6.0 * t * t)
                };
                Position::polar(length * (share(at - 0.5) - share(at - 1.6)), degrees)
            })
            .collect();
        PushedFrames { frames }
    }

    fn pushes() -> Vec<PushedFrames> {
        [0.0, 90.0, 180.0, -90.0].map(|degrees| push(0.7, degrees)).into()
    }

    fn holds(size: f64, hertz: f64) -> Vec<HeldFrames> {
        (0..8).map(|i| tremor(240 + 7 * i, size, hertz, Position::new(0.3, 0.1))).collect()
    }

    fn advised(holds: &[HeldFrames], most_lag_seconds: f64) -> SmoothingAdvice {
        let wish = Wish { most_lag_seconds, ..Wish::default() };
        smoothing(holds, &pushes(), &Pipeline::new(&Settings::default()), wish).unwrap()
    }

    /// A one-pole low-pass delays slow movement by its time constant, 1 / (2 pi fc), less the part
    /// of a frame that a step shows at once: (1 - alpha) / alpha frames (`filters.json`).
    #[test]
    fn the_lag_of_one_pole_is_its_delay() {
        let pipeline = Pipeline::new(&Settings::default());
        let aligned = Aligned::of(&pushes(), &pipeline).unwrap();
        for cutoff_hertz in [3.0, 4.0, 6.0, 10.0] {
            let lag = aligned.lag(Smoothing::OneEuro { cutoff_hertz, speed_coefficient: 0.0 });
            let delay = 1.0 / (std::f64::consts::TAU * cutoff_hertz);
            assert!((lag / delay - 1.0).abs() < 0.1, "{cutoff_hertz}: {lag} {delay}");
        }
    }

    #[test]
    fn a_tremor_is_smoothed_and_slow_wander_is_not() {
        let quick = advised(&holds(0.03, 6.0), 0.03);
        assert!(quick.chosen != Smoothing::Off, "{quick:?}");
        assert_eq!(quick.sureness, Sureness::Firm);
        let left = quick.jitter_left.unwrap();
        assert!(left.high < WORTH_IT && quick.lag_seconds <= 0.03, "{quick:?}");
        let slow = advised(&holds(0.03, 0.4), 0.03);
        assert_eq!((slow.chosen, slow.lag_seconds), (Smoothing::Off, 0.0), "{slow:?}");
        assert!(slow.best_left.unwrap().value > WORTH_IT);
        // No lag is allowed: none.
        assert_eq!(advised(&holds(0.03, 6.0), 0.0).chosen, Smoothing::Off);
    }

    #[test]
    fn too_little_says_so() {
        let few = holds(0.03, 6.0)[..2].to_vec();
        let pipeline = Pipeline::new(&Settings::default());
        let wish = Wish::default();
        assert_eq!(
            smoothing(&few, &pushes(), &pipeline, wish).unwrap_err(),
            NotEnough::Repetitions { have: 2, need: 3 }
        );
        assert_eq!(
            smoothing(&holds(0.03, 6.0), &[], &pipeline, wish).unwrap_err(),
            NotEnough::NothingRecorded
        );
    }

    proptest! {
        #![proptest_config(proptest::prelude::ProptestConfig::with_cases(24))]
        /// More lag allowed never means more jitter, and the allowance is kept.
        #[test]
        fn jitter_falls_with_the_lag_allowed(size in 0.001..0.1_f64, hertz in 0.3..12.0_f64, one in 0.0..0.1_f64, two in 0.0..0.1_f64) {
            let holds = holds(size, hertz);
            let jitter = |allowed: f64| {
                let advice = advised(&holds, allowed);
                let chosen = advice.curve.iter().find(|point| point.smoothing == advice.chosen);
                (chosen.map(|point| point.jitter), advice.lag_seconds)
            };
            let (short, long) = (jitter(one.min(two)), jitter(one.max(two)));
            prop_assert!(long.0 <= short.0);
            prop_assert!(short.1 <= one.min(two) && long.1 <= one.max(two));
        }

        /// The curve rises in lag and falls in jitter.
        #[test]
        fn no_point_of_the_curve_beats_another(size in 0.001..0.1_f64, hertz in 0.3..12.0_f64) {
            let advice = advised(&holds(size, hertz), 0.03);
            for pair in advice.curve.windows(2) {
                prop_assert!(pair[0].lag_seconds <= pair[1].lag_seconds);
                prop_assert!(pair[0].jitter > pair[1].jitter);
            }
            prop_assert!(advice.curve[0].smoothing == Smoothing::Off);
        }
    }
}
