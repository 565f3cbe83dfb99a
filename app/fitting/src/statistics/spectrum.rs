//! Power by frequency of a movement in the plane, and the building blocks it rests on.
//!
//! One window's power is the modified periodogram of P. D. Welch, *IEEE Transactions on Audio and
//! Electroacoustics* 15 (1967) 70 (from memory), in the conventions of `scipy.signal.welch` with
//! `detrend="linear"`:
//!
//! - the values of the window less the straight line through them (least squares);
//! - the periodic Hann window `w(j) = 1/2 − 1/2 cos(2πj/N)`, j = 0..N−1;
//! - one-sided density: `2 |Σ w x e^(−2πifj/rate)|² / (rate Σ w²)`; so its sum over the frequencies
//!   `k rate / N` below half the rate, times their step, is the mean square of what the window left;
//! - of two axes also the real part of their cross-density, which turns with the axes.
//!
//! The frequencies need not be those `k rate / N`: between them it is the same sum.
//!
//! Checked against `scipy.signal` (`welch`, `csd` and, between the bins, `czt`) to 1e-9.
//!
//! # Reports that come when they come
//!
//! A stick reports irregularly and a browser only on change, but the value that holds is known at
//! every moment. [`cells`] therefore averages the path over even cells of time, which weighs time
//! and not reports. Holding a value for a report interval `h` and averaging over a cell `c` both
//! take from an amplitude at frequency `f` the factor `sinc(fh) · sinc(fc)` ([`held_share`]), with
//! `sinc(x) = sin(πx)/(πx)`: at 60 reports and 120 cells a second 0.98 at 6 Hz and 0.93 at 12 Hz.
//! Whoever tells an amplitude divides by it. (Where the reports run in step with the cells the
//! second factor is spared: then up to 1.6 % too much is given back at 12 Hz.) Images of the movement about the report rate stay
//! above `1/h − f`, which the cells must be short enough to tell apart: nothing above four tenths
//! of the report rate is looked at.

use crate::{Position, Span, Trace};
use std::f64::consts::PI;

/// A cell that lacks no more than this is whole: clocks round.
const CLOCK_SLACK_SECONDS: f64 = 1e-6;

/// The periodic Hann window of `length`; all 1 for a length of 1.
#[must_use]
pub fn hann(length: usize) -> Vec<f64> {
    let turn = 2.0 * PI / length as f64;
    if length == 1 {
        return vec![1.0];
    }
    (0..length).map(|j| 0.5 - 0.5 * libm::cos(turn * j as f64)).collect()
}

/// A Hann window with its sums.
#[derive(Clone, Debug, PartialEq)]
pub struct Window {
    weights: Vec<f64>,
    /// The sum of its weights.
    pub sum: f64,
    /// The sum of their squares.
    pub squares: f64,
}

impl Window {
    /// [`hann`] of this length.
    #[must_use]
    pub fn hann(length: usize) -> Self {
        let weights = hann(length);
        let sum = weights.iter().sum();
        let squares = weights.iter().map(|weight| weight * weight).sum();
        Self { weights, sum, squares }
    }

    /// The places (as many as the window is long) less the straight line through them, weighed.
    #[must_use]
    pub fn on(&self, part: &[Position]) -> Vec<Position> {
        less_line(part).iter().zip(&self.weights).map(|(at, weight)| *at * *weight).collect()
    }
}

/// The places less the straight line through all.
fn less_line(values: &[Position]) -> Vec<Position> {
    let n = values.len() as f64;
    let middle = 0.5 * (n - 1.0);
    let (mut mean, mut slope, mut spread) = (Position::ORIGIN, Position::ORIGIN, 0.0);
    for (index, at) in values.iter().enumerate() {
        let since = index as f64 - middle;
        mean = mean + *at * (1.0 / n);
        slope = slope + *at * since;
        spread += since * since;
    }
    let slope = slope * (1.0 / spread.max(1e-12));
    let line = |index: usize| mean + slope * (index as f64 - middle);
    values.iter().enumerate().map(|(index, at)| *at - line(index)).collect()
}

/// The sums of both axes, read every `step_seconds`, against a wave of `hertz`: real and imaginary
/// part of right, and of up.
#[must_use]
pub fn wave(values: &[Position], hertz: f64, step_seconds: f64) -> ((f64, f64), (f64, f64)) {
    let (turn_sin, turn_cos) = libm::sincos(2.0 * PI * hertz * step_seconds);
    let (mut sin, mut cos) = (0.0, 1.0);
    let (mut right, mut up) = ((0.0, 0.0), (0.0, 0.0));
    for at in values {
        right = (right.0 + at.right * cos, right.1 - at.right * sin);
        up = (up.0 + at.up * cos, up.1 - at.up * sin);
        (sin, cos) = (sin * turn_cos + cos * turn_sin, cos * turn_cos - sin * turn_sin);
    }
    (right, up)
}

/// The one-sided density of one window's places, read every `step_seconds`, at each of `hertz`
/// (above 0, below half the rate): right, up, and both together (the real part), squared units of
/// the places by hertz. Conventions in the [module](self).
pub fn density<'a>(
    part: &[Position],
    step_seconds: f64,
    hertz: impl Iterator<Item = f64> + 'a,
) -> impl Iterator<Item = [f64; 3]> + 'a {
    let window = Window::hann(part.len());
    let weighed = window.on(part);
    let scale = 2.0 * step_seconds / window.squares;
    hertz.map(move |hertz| {
        let (right, up) = wave(&weighed, hertz, step_seconds);
        [
            scale * (right.0 * right.0 + right.1 * right.1),
            scale * (up.0 * up.0 + up.1 * up.1),
            scale * (right.0 * up.0 + right.1 * up.1),
        ]
    })
}

/// `sin(πx)/(πx)`, 1 at 0.
#[must_use]
pub fn sinc(x: f64) -> f64 {
    if x.abs() < 1e-9 { 1.0 } else { libm::sin(PI * x) / (PI * x) }
}

/// What is left of an amplitude at `hertz` when each value is held for `report_seconds` and the
/// path is averaged over cells of `cell_seconds`.
#[must_use]
pub fn held_share(hertz: f64, report_seconds: f64, cell_seconds: f64) -> f64 {
    (sinc(hertz * report_seconds) * sinc(hertz * cell_seconds)).abs()
}

/// The mean position in even cells of time, in stretches without a gap of more than
/// [`crate::recording::GAP_SECONDS`]; a cell that falls into a shorter gap is told as the one before
/// it. At most [`crate::trace::MOST_READ_OFF`] cells.
#[must_use]
pub fn cells(path: &Trace, cell_seconds: f64) -> Vec<Vec<Position>> {
    let mut stretches: Vec<Vec<Position>> = Vec::new();
    let mut start = f64::NEG_INFINITY;
    let mut end = f64::NEG_INFINITY;
    let (mut sum, mut held) = (Position::ORIGIN, 0.0);
    let mut read = 0;
    for piece in &path.pieces {
        if stretches.is_empty() || piece.span.from_seconds - end > crate::recording::GAP_SECONDS {
            stretches.push(Vec::new());
            start = piece.span.from_seconds;
            (sum, held) = (Position::ORIGIN, 0.0);
        }
        end = piece.span.to_seconds;
        let Some(stretch) = stretches.last_mut() else { break };
        let mut from = piece.span.from_seconds;
        while from < end && read < crate::trace::MOST_READ_OFF {
            // The cell that `from` lies in may begin after a short gap.
            let cell = Span { from_seconds: start, to_seconds: start + cell_seconds };
            let until = end.min(cell.to_seconds);
            if until > from {
                sum = sum + piece.at * (until - from);
                held += until - from;
            }
            if cell.to_seconds <= end + CLOCK_SLACK_SECONDS {
                let before = stretch.last().copied().unwrap_or(piece.at);
                stretch.push(if held > 0.0 { sum * (1.0 / held) } else { before });
                read += 1;
                start = cell.to_seconds;
                (sum, held) = (Position::ORIGIN, 0.0);
            }
            if until <= from && cell.to_seconds > end {
                break;
            }
            from = until.max(from);
        }
    }
    stretches.retain(|stretch| !stretch.is_empty());
    stretches
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Parseval: over the frequencies of a discrete transform the density sums up to the mean square
    /// of what the window left, on each axis and along any direction.
    #[test]
    fn the_density_sums_to_the_mean_square() {
        let place = |i: u32| {
            let at = f64::from(i);
            Position::new(libm::sin(1.3 * at) + 0.2 * at, libm::cos(0.4 * at * at))
        };
        let (length, step) = (61, 0.02);
        let part: Vec<Position> = (0..length).map(place).collect();
        let window = Window::hann(part.len());
        let weighed = window.on(&part);
        let hertz = (1..=30).map(|k| f64::from(k) / (61.0 * step));
        let sums = density(&part, step, hertz)
            .fold([0.0; 3], |sums, one| [sums[0] + one[0], sums[1] + one[1], sums[2] + one[2]]);
        // Of an odd length all frequencies but 0 come in pairs.
        let at_zero = wave(&weighed, 0.0, step);
        let left = |product: fn(&Position) -> f64, zero: f64| {
            let all = weighed.iter().map(product).sum::<f64>();
            (all - zero / 61.0) / window.squares
        };
        let ((right, _), (up, _)) = at_zero;
        let want = [
            left(|at| at.right * at.right, right * right),
            left(|at| at.up * at.up, up * up),
            left(|at| at.right * at.up, right * up),
        ];
        for (sum, want) in sums.into_iter().zip(want) {
            let got = sum / (61.0 * step);
            assert!((got - want).abs() < 1e-12 * want.abs().max(1.0), "{got} {want}");
        }
    }

    /// A wave of a whole number of turns, even about the middle of its window, is neither bent by its
    /// line nor lost beside its frequency: half its square, by what a Hann window passes (Harris,
    /// *Proceedings of the IEEE* 66 (1978) 51, from memory: coherent gain 1/2, noise bandwidth 1.5).
    #[test]
    fn a_wave_gives_half_its_square() {
        let (length, step, turns) = (240_u32, 1.0 / 120.0, 10.0);
        let middle = 0.5 * f64::from(length - 1);
        let part: Vec<Position> = (0..length)
            .map(|i| {
                let turn = 2.0 * PI * turns / f64::from(length);
                Position::new(0.3, -0.1)
                    + Position::polar(1.0, 30.0)
                        * (0.05 * libm::cos(turn * (f64::from(i) - middle)))
            })
            .collect();
        let [right, up, both] = density(&part, step, std::iter::once(5.0)).next().unwrap();
        let (cos, sin) = (libm::cos(PI / 6.0), libm::sin(PI / 6.0));
        let power = 0.5 * 0.05 * 0.05 * 2.0 / 1.5;
        for (got, share) in [(right, cos * cos), (up, sin * sin), (both, cos * sin)] {
            assert!((got / (power * share) - 1.0).abs() < 1e-9, "{got} {}", power * share);
        }
    }

    #[test]
    fn by_hand() {
        // A place of 1 0 0 1 has the mean 1/2 and no slope; under the window 0, 1/2, 1, 1/2 it is
        // 0, -1/4, -1/2, 1/4. Against a wave of a quarter turn a step, 1, -i, -1, i, that is
        // 1/2 + i/2: 1/2. The squares of the window sum to 3/2; two a second.
        let part = [1.0, 0.0, 0.0, 1.0].map(|right| Position::new(right, 0.0));
        let got = density(&part, 0.5, std::iter::once(0.5)).next().unwrap();
        assert!((got[0] - 2.0 * 0.5 * 0.5 / 1.5).abs() < 1e-15, "{got:?}");
        assert_eq!((got[1], got[2]), (0.0, 0.0));
    }

    #[test]
    fn cells_average_over_time_and_break_at_gaps() {
        let piece = |from_seconds: f64, to_seconds: f64, right: f64| crate::trace::Piece {
            span: Span { from_seconds, to_seconds },
            at: Position::new(right, 0.0),
        };
        let path = Trace {
            pieces: vec![
                piece(0.0, 0.5, 1.0),
                piece(0.5, 2.5, 3.0),
                piece(4.0, 5.0, 7.0),
                piece(5.0, 6.5, 9.0),
            ],
        };
        let rights: Vec<Vec<f64>> = cells(&path, 1.0)
            .iter()
            .map(|stretch| stretch.iter().map(|at| at.right).collect())
            .collect();
        assert_eq!(rights, [vec![2.0, 3.0], vec![7.0, 9.0]]);
    }

    /// Holding each value for a report interval lowers an amplitude by what is said.
    #[test]
    fn held_values_lose_what_is_said() {
        let (hertz, report, cell) = (11.0, 1.0 / 59.3, 1.0 / 120.0);
        let pieces = (0..3000)
            .map(|i| {
                let from_seconds = f64::from(i) * report;
                crate::trace::Piece {
                    span: Span { from_seconds, to_seconds: f64::from(i + 1) * report },
                    at: Position::new(libm::sin(2.0 * PI * hertz * from_seconds), 0.0),
                }
            })
            .collect();
        let read = &cells(&Trace { pieces }, cell)[0];
        let window = Window::hann(read.len());
        let (right, _) = wave(&window.on(read), hertz, cell);
        let amplitude = 2.0 * libm::hypot(right.0, right.1) / window.sum;
        let want = held_share(hertz, report, cell);
        assert!((amplitude / want - 1.0).abs() < 0.005, "{amplitude} {want}");
    }
}
