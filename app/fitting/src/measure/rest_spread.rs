//! How a rest is spread: where its centre is, how far it strays, and in which direction.
//!
//! # How sure a quantile over time is
//!
//! A quantile is as sure as the share of time that is spent below it (Woodruff, *JASA* 47 (1952)
//! 635, from memory): its interval ends at the quantiles of that share plus and minus its error.
//! The error of a share is read off the means of twenty stretches of the rest
//! ([`independent_by_blocks`]), which sees slow wander under a tremor.
//!
//! In a short rest the farthest places that wander would reach were not visited yet, and no
//! quantile of the visited ones tells of them. The spread of the whole rest does: the interval
//! also holds what a chi-square interval of a standard deviation allows, on four fifths of the
//! independent values (movement whose size changes has a heavier tail than a normal one).
//!
//! Counted on five kinds of Gaussian movement (time constants of 0.15 to 2.5 s, a tremor of
//! changing size over wander): in rests of 30, 60 and 180 s the interval of the wander holds the
//! truth in 95 to 99 %, with wander as slow as 2.5 s and under two minutes in 90 to 92 %. A
//! moving-block bootstrap was tried in its place and held it in 90 to 93 % for the quickest kind
//! and in far fewer for slow ones.

use super::RestEllipse;
use super::rest::{READ_OFF_SECONDS, independent_of};
use crate::estimate::{Basis, Estimate, Measured, NotEnough};
use crate::statistics::dependence::{BLOCKS, independent_by_blocks};
use crate::statistics::distributions::{chi_square_quantile, t_quantile};
use crate::statistics::ellipse::Ellipse;
use crate::statistics::weighted;
use crate::{Position, Trace};

/// Of the independent values so much counts for the spread of movement whose size changes.
const COUNTED_SHARE: f64 = 0.8;
/// Fewer independent values than this say nothing of a spread.
const LEAST_DEGREES_OF_FREEDOM: f64 = 3.0;

type Read = fn(&Position) -> f64;
const AXES: [Read; 2] = [|at| at.right, |at| at.up];

/// What of a path counts where independence is judged: read off evenly.
pub(super) struct Spread<'a> {
    path: &'a Trace,
    read_off: Vec<Vec<Position>>,
    /// Independent values for the variance of both axes, less one for each.
    degrees_of_freedom: f64,
    basis: Basis,
}

impl<'a> Spread<'a> {
    pub(super) fn of(path: &'a Trace) -> Self {
        let basis = Basis { seconds: path.seconds(), repetitions: 0 };
        let read_off = path.read_off(READ_OFF_SECONDS);
        let degrees_of_freedom = AXES
            .iter()
            .map(|read| {
                let series: Vec<Vec<f64>> =
                    read_off.iter().map(|stretch| stretch.iter().map(read).collect()).collect();
                independent_of(&series).1 - 1.0
            })
            .sum();
        Self { path, read_off, degrees_of_freedom, basis }
    }

    /// Half the 95 % interval of the share of time for which `below` holds.
    fn error_of_share(&self, share: f64, below: impl Fn(&Position) -> bool) -> f64 {
        let series: Vec<Vec<f64>> = self
            .read_off
            .iter()
            .map(|stretch| stretch.iter().map(|at| f64::from(u8::from(below(at)))).collect())
            .collect();
        let error = libm::sqrt(share * (1.0 - share) / independent_by_blocks(&series));
        t_quantile(0.975, BLOCKS as f64 - 1.0) * error
    }

    /// Distance of the rest's middle from the middle of the field. The error of the median of
    /// each axis is that of Woodruff; the interval ends at 0 where the middle is not told from
    /// the field's (Hotelling's test: its squared distance is within twice F). The median over time
    /// is always one of the stick's values, so the place is anywhere in the square of a `step` about
    /// it, however long the rest is.
    pub(super) fn offset(&self, step: f64) -> Measured {
        let middle = self.path.median().ok_or(NotEnough::NothingRecorded)?;
        let freedom = BLOCKS as f64 - 1.0;
        let mut squares = 0.0;
        for read in AXES {
            let held: Vec<(f64, f64)> = self
                .path
                .pieces
                .iter()
                .map(|piece| (read(&piece.at), piece.span.seconds()))
                .collect();
            let half = self.error_of_share(0.5, |at| read(at) < read(&middle)).min(0.5);
            let at = |share: f64| weighted::quantile(&held, share).unwrap_or(0.0);
            let wide = 0.5 * (at(0.5 + half) - at(0.5 - half));
            squares += 0.5 * wide * wide;
        }
        let (value, half) = (middle.radius(), libm::sqrt(squares + 0.5 * step * step));
        let error = half / t_quantile(0.975, freedom);
        // Twice F of 2 and twice the freedom, in closed form.
        let twice_f = 2.0 * freedom * (libm::pow(0.05, -1.0 / freedom) - 1.0);
        let told = value * value > twice_f * error * error;
        let low = if told { (value - half).max(0.0) } else { 0.0 };
        Estimate::new(value, low, value + half, self.basis).ok_or(NotEnough::DoesNotApply)
    }

    /// The distance from `centre` inside which the stick stays 95 % of the time; `held` are the
    /// distances over time.
    pub(super) fn wander(&self, centre: Position, held: &[(f64, f64)]) -> Measured {
        let at = |share: f64| weighted::quantile(held, share).unwrap_or(0.0);
        let value = at(0.95);
        let half = self.error_of_share(0.95, |place| (*place - centre).radius() <= value);
        let freedom = COUNTED_SHARE * self.degrees_of_freedom.max(1.0);
        let factor = |share: f64| libm::sqrt(freedom / chi_square_quantile(share, freedom));
        let low = at(0.95 - half).min(value * factor(0.975));
        let high = at(0.95 + half).max(value * factor(0.025));
        Estimate::new(value, low, high, self.basis).ok_or(NotEnough::DoesNotApply)
    }

    /// The ellipse of the rest.
    pub(super) fn ellipse(&self) -> Result<RestEllipse, NotEnough> {
        let held: Vec<(Position, f64)> =
            self.path.pieces.iter().map(|piece| (piece.at, piece.span.seconds())).collect();
        let ellipse = Ellipse::of(&held).ok_or(NotEnough::NothingRecorded)?;
        let freedom = COUNTED_SHARE * self.degrees_of_freedom;
        if freedom < LEAST_DEGREES_OF_FREEDOM {
            let have = self.basis.seconds;
            let need = have * LEAST_DEGREES_OF_FREEDOM / freedom.max(0.5);
            return Err(NotEnough::Seconds { have, need });
        }
        // Each axis has about half of the independent values.
        let independent = 0.5 * freedom + 1.0;
        let half = ellipse.half_interval_degrees(independent);
        let value = ellipse.along_degrees;
        let along_degrees = if ellipse.is_round(independent) {
            Err(NotEnough::DoesNotApply)
        } else {
            Estimate::new(value, value - half, value + half, self.basis)
                .ok_or(NotEnough::DoesNotApply)
        };
        Ok(RestEllipse {
            along_deviation: libm::sqrt(ellipse.along_variance),
            across_deviation: libm::sqrt(ellipse.across_variance),
            along_degrees,
            area: ellipse.area(0.95),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Span;
    use crate::trace::Piece;

    /// A repeatable source of even numbers inside 0..1.
    fn source(seed: u32) -> impl FnMut() -> f64 {
        let mut state = u64::from(seed);
        move || {
            state = (1_664_525 * state + 1_013_904_223) % (1 << 32);
            (state as f64 + 0.5) / 4_294_967_296.0
        }
    }

    const HERTZ: f64 = 60.0;
    const WAVES: usize = 60;

    /// A stationary Gaussian path: sums of sine waves with random phases and frequencies (Rice's
    /// construction), most of it below 0.5 Hz; with `tremor`, a narrow band about 6 Hz too.
    /// Deviation 0.02 along `degrees` and half of that across; about `centre`.
    fn path(seed: u32, seconds: f64, tremor: f64, degrees: f64, centre: Position) -> Trace {
        let mut next = source(seed);
        let turn = std::f64::consts::TAU;
        // The same size for each wave: one path has over time what all paths have together.
        let size = libm::sqrt(2.0 / WAVES as f64);
        let mut axis = || -> Vec<(f64, f64)> {
            (0..WAVES)
                .map(|wave| {
                    let share = (wave as f64 + next()) / WAVES as f64;
                    // Exponential: half of the slow waves lie below 0.24 Hz.
                    let hertz = if share < tremor {
                        5.5 + share / tremor
                    } else {
                        -0.35 * libm::log((share - tremor) / (1.0 - tremor))
                    };
                    (turn * hertz / HERTZ, turn * next())
                })
                .collect()
        };
        let (along, across) = (axis(), axis());
        let sum = |waves: &[(f64, f64)], i: f64| -> f64 {
            waves.iter().map(|(step, phase)| size * libm::cos(step * i + phase)).sum()
        };
        let pieces = (0..(seconds * HERTZ) as usize)
            .map(|i| {
                let at = Position::new(0.02 * sum(&along, i as f64), 0.01 * sum(&across, i as f64));
                let span =
                    Span { from_seconds: i as f64 / HERTZ, to_seconds: (i + 1) as f64 / HERTZ };
                Piece { span, at: centre + at.turned(degrees) }
            })
            .collect();
        Trace { pieces }
    }

    /// The truth of such a path: the distance that holds 95 % of a normal ellipse of deviations
    /// 0.02 and 0.01, by quadrature over its angle.
    const HOLDS_95: f64 = 0.040_717;

    /// Over rests of a minute with a tremor and without one the intervals hold the truth at
    /// least about as often as they claim: of 150 with 95 % each, fewer than 135 come in one of
    /// a thousand runs.
    #[test]
    fn intervals_hold_the_truth() {
        for tremor in [0.0, 0.5] {
            let (mut wander, mut offset, mut degrees, mut told) = (0, 0, 0, 0);
            let centre = Position::new(0.03, 0.0);
            for seed in 0..150 {
                let path = path(7 + 31 * seed, 60.0, tremor, 30.0, centre);
                let spread = Spread::of(&path);
                let middle = path.median().unwrap();
                let figure = spread.wander(middle, &path.distances(middle)).unwrap();
                wander += i32::from(figure.low <= HOLDS_95 && HOLDS_95 <= figure.high);
                let figure = spread.offset(0.0).unwrap();
                offset += i32::from(figure.low <= 0.03 && 0.03 <= figure.high);
                if let Ok(figure) = spread.ellipse().unwrap().along_degrees {
                    told += 1;
                    let half = figure.high - figure.value;
                    let off = 2.0 * crate::position::fold_degrees(figure.value - 30.0);
                    degrees += i32::from(crate::position::fold_degrees(off).abs() <= 2.0 * half);
                }
            }
            assert!((135..=150).contains(&wander), "{tremor}: wander in {wander}");
            assert!((135..=150).contains(&offset), "{tremor}: offset in {offset}");
            assert!(
                told > 120 && f64::from(degrees) > 0.9 * f64::from(told),
                "{degrees} of {told}"
            );
        }
    }
}
