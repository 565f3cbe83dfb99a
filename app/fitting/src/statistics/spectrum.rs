//! Power spectral density by Welch's method, and the building blocks it rests on.
//!
//! P. D. Welch, *IEEE Transactions on Audio and Electroacoustics* 15 (1967) 70 (from memory),
//! in the conventions of `scipy.signal.welch` with its default detrending and scaling:
//!
//! - segments of equal length that overlap; what is left at the end is not used; a record shorter
//!   than one segment is one segment of its own length;
//! - each segment less its own mean ("constant" detrending);
//! - the periodic Hann window `w(j) = 1/2 − 1/2 cos(2πj/N)`, j = 0..N−1;
//! - one-sided density: `|Σ w x e^(−2πijk/N)|² / (rate Σ w²)`, doubled at every frequency but 0
//!   and, for an even N, half the rate; so the sum over frequencies times their step is the
//!   variance;
//! - the mean over the segments.
//!
//! Checked against `scipy.signal.welch` to 1e-9 relative.
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

/// A one-sided power spectral density at evenly spaced frequencies from 0 on.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Density {
    /// The distance between two frequencies, hertz.
    pub step_hertz: f64,
    /// The density at `k · step_hertz`, squared units of the values by hertz.
    pub values: Vec<f64>,
    /// Segments averaged.
    pub segments: usize,
}

impl Density {
    /// The integral from `low` to `high` hertz, ends included, by trapezoids between the
    /// frequencies inside: squared units of the values.
    #[must_use]
    pub fn power(&self, low: f64, high: f64) -> f64 {
        let inside = |k: usize| {
            let hertz = k as f64 * self.step_hertz;
            low <= hertz && hertz <= high
        };
        (1..self.values.len())
            .filter(|&k| inside(k - 1) && inside(k))
            .map(|k| 0.5 * (self.values[k - 1] + self.values[k]) * self.step_hertz)
            .sum()
    }
}

/// The periodic Hann window of `length`; all 1 for a length of 1.
#[must_use]
pub fn hann(length: usize) -> Vec<f64> {
    let turn = 2.0 * PI / length as f64;
    if length == 1 {
        return vec![1.0];
    }
    (0..length).map(|j| 0.5 - 0.5 * libm::cos(turn * j as f64)).collect()
}

/// Welch's power spectral density of `values` read `per_second` times a second, in segments of
/// `segment` values that share `overlap` values with the next; conventions in the
/// [module](self). `None` of fewer than two values, and for a rate or segment that makes no sense
/// (`overlap >= segment`).
///
/// Work grows with the number of values times the segment's length.
#[must_use]
pub fn welch(values: &[f64], per_second: f64, segment: usize, overlap: usize) -> Option<Density> {
    let length = segment.min(values.len());
    let stride = if length < segment { length } else { segment.checked_sub(overlap)? };
    if length < 2 || stride == 0 || !(per_second.is_finite() && per_second > 0.0) {
        return None;
    }
    let window = hann(length);
    let squares: f64 = window.iter().map(|weight| weight * weight).sum();
    let turn = 2.0 * PI / length as f64;
    let table: Vec<(f64, f64)> = (0..length).map(|j| libm::sincos(turn * j as f64)).collect();
    let mut sums = vec![0.0; length / 2 + 1];
    let mut segments = 0;
    for part in values.windows(length).step_by(stride) {
        segments += 1;
        let mean = part.iter().sum::<f64>() / length as f64;
        let weighed: Vec<f64> =
            part.iter().zip(&window).map(|(value, weight)| (value - mean) * weight).collect();
        for (k, sum) in sums.iter_mut().enumerate() {
            let (mut real, mut imaginary, mut place) = (0.0, 0.0, 0);
            for value in &weighed {
                let (sin, cos) = table[place];
                real += value * cos;
                imaginary -= value * sin;
                place += k;
                if place >= length {
                    place -= length;
                }
            }
            *sum += real * real + imaginary * imaginary;
        }
    }
    let scale = 1.0 / (per_second * squares * f64::from(segments));
    let last = sums.len() - 1;
    let values = sums
        .iter()
        .enumerate()
        .map(|(k, sum)| {
            let both_sides = k > 0 && !(k == last && length.is_multiple_of(2));
            sum * scale * if both_sides { 2.0 } else { 1.0 }
        })
        .collect();
    Some(Density { step_hertz: per_second / length as f64, values, segments: segments as usize })
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

    #[test]
    fn the_density_sums_to_the_variance_and_a_sine_to_half_its_square() {
        let values: Vec<f64> = (0..1024)
            .map(|i| 0.02 + 0.05 * libm::sin(2.0 * PI * 5.0 * f64::from(i) / 60.0))
            .collect();
        let density = welch(&values, 60.0, 256, 128).unwrap();
        assert_eq!((density.values.len(), density.segments), (129, 7));
        assert!((density.power(4.0, 6.0) / 0.00125 - 1.0).abs() < 0.01);
        let peak = (0..129).max_by(|a, b| density.values[*a].total_cmp(&density.values[*b]));
        assert_eq!(peak.map(|k| k as f64 * density.step_hertz), Some(4.921875));
    }

    #[test]
    fn by_hand() {
        // Four values 1, 0, 0, 0 less 1/4, window 0, 1/2, 1, 1/2: weighed 0, -1/8, -1/4, -1/8;
        // transform -1/2, 1/4, 0; squares of the window sum to 3/2; rate 2.
        let density = welch(&[1.0, 0.0, 0.0, 0.0], 2.0, 8, 4).unwrap();
        let expected = [0.25 / 3.0, 2.0 * 0.0625 / 3.0, 0.0];
        for (got, want) in density.values.iter().zip(expected) {
            assert!((got - want).abs() < 1e-15, "{density:?}");
        }
        assert_eq!(density.step_hertz, 0.5);
    }

    #[test]
    fn senseless_input_gives_nothing() {
        assert_eq!(welch(&[], 60.0, 8, 4), None);
        assert_eq!(welch(&[1.0], 60.0, 8, 4), None);
        assert_eq!(welch(&[1.0; 20], 60.0, 8, 8), None);
        assert_eq!(welch(&[1.0; 20], 60.0, 8, 9), None);
        assert_eq!(welch(&[1.0; 20], f64::NAN, 8, 4), None);
        assert_eq!(welch(&[1.0; 20], 0.0, 8, 4), None);
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
        let read: Vec<f64> = cells(&Trace { pieces }, cell)[0].iter().map(|at| at.right).collect();
        let density = welch(&read, 1.0 / cell, 360, 180).unwrap();
        let amplitude = libm::sqrt(2.0 * density.power(hertz - 1.0, hertz + 1.0));
        let want = held_share(hertz, report, cell);
        assert!((amplitude / want - 1.0).abs() < 0.005, "{amplitude} {want}");
    }
}
