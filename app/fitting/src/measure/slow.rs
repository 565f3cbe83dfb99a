//! What short holds miss: movement that is slower than they are long.
//!
//! The spread about the mean of `T` seconds leaves out how that mean itself would wander. For a
//! process of autocovariance `C(t)` it misses `M(T) = 2/T ∫ (1 − t/T) C(t) dt` (Yule; Bayley and
//! Hammersley, *Supplement to the Journal of the Royal Statistical Society* 8 (1946) 184, from
//! memory). `C` is told from half the mean square of differences over a lag (the variogram), which
//! no mean enters, as a sum of unrelated, fast and slow parts; the shape of the slow one is that of
//! the person's rest, where it is known over minutes, or a middling one.

use crate::statistics::dependence::autocorrelation;
use crate::{Position, Trace};

/// How fast a movement forgets where it was.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Memory {
    /// Its time constant, seconds.
    pub(super) seconds: f64,
    /// Whether it is smooth, `(1 + t/τ) exp(−t/τ)`, or rough, `exp(−t/τ)`.
    pub(super) smooth: bool,
}

impl Memory {
    /// The correlation over `lag` seconds.
    pub(super) fn correlation(self, lag: f64) -> f64 {
        let x = lag / self.seconds;
        libm::exp(-x) * if self.smooth { 1.0 + x } else { 1.0 }
    }

    /// The variance of a mean over `seconds`, as a share of the whole.
    pub(super) fn share_of_mean(self, seconds: f64) -> f64 {
        const STEPS: i32 = 64;
        let step = seconds / f64::from(STEPS);
        let inside = |i: i32| {
            let lag = (f64::from(i) + 0.5) * step;
            (1.0 - lag / seconds) * self.correlation(lag)
        };
        2.0 / seconds * step * (0..STEPS).map(inside).sum::<f64>()
    }
}

/// The slow movement of a rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct SlowRest {
    /// Its memory.
    pub(super) memory: Memory,
    /// Its variance on each axis, share of travel squared; `None` where there was no rest to tell.
    pub(super) variance: Option<f64>,
}

/// Where there is no rest: a middling memory (a choice, no source).
const MIDDLING: SlowRest =
    SlowRest { memory: Memory { seconds: 0.5, smooth: true }, variance: None };
/// Cells in which a rest is read: rhythmic movement from 3 Hz up hardly shows in their means.
const CELL_SECONDS: f64 = 0.25;
/// Lags over which the memory is told, and the least rest that tells it, seconds.
const LAGS_SECONDS: f64 = 3.0;
const LEAST_SECONDS: f64 = 15.0;

/// The slow movement of a settled rest.
pub(super) fn slow_rest(rest: &Trace) -> SlowRest {
    if rest.seconds() < LEAST_SECONDS {
        return MIDDLING;
    }
    let stretches = crate::statistics::spectrum::cells(rest, CELL_SECONDS);
    let mut axes: Vec<Vec<f64>> = Vec::new();
    for read in [|at: &Position| at.right, |at: &Position| at.up] {
        axes.extend(stretches.iter().map(|stretch| {
            let values: Vec<f64> = stretch.iter().map(read).collect();
            within_reason(values)
        }));
    }
    let slices: Vec<&[f64]> = axes.iter().map(Vec::as_slice).collect();
    let seen = autocorrelation(&slices, (LAGS_SECONDS / CELL_SECONDS) as usize);
    let count: usize = slices.iter().map(|slice| slice.len()).sum();
    let squares: f64 =
        slices.iter().map(|slice| crate::statistics::plain::squares_about_mean(slice)).sum();
    let variance = squares / count.max(1) as f64;
    let mut best: Option<(f64, Memory)> = None;
    for smooth in [true, false] {
        let mut seconds = 0.1;
        while seconds < 3.0 {
            let memory = Memory { seconds, smooth };
            // Cells average: the correlation of their means is a little that of the middle ones.
            let own = memory.share_of_mean(CELL_SECONDS);
            let off: f64 = seen
                .iter()
                .enumerate()
                .skip(1)
                .map(|(lag, seen)| {
                    let means = (memory.correlation(lag as f64 * CELL_SECONDS) / own).min(1.0);
                    (seen - means) * (seen - means)
                })
                .sum();
            if best.is_none_or(|best| off < best.0) {
                best = Some((off, memory));
            }
            seconds *= 1.12;
        }
    }
    let memory = best.map_or(MIDDLING.memory, |best| best.1);
    let variance = variance / memory.share_of_mean(CELL_SECONDS).max(0.2);
    SlowRest { memory, variance: Some(variance) }
}

/// The same with what lies far out brought in: a sudden movement is no wander.
fn within_reason(mut values: Vec<f64>) -> Vec<f64> {
    use crate::statistics::plain::{NORMAL_MEDIAN_DEVIATION, median, median_deviation};
    let middle = median(&values).unwrap_or(0.0);
    let reach = 3.5 * NORMAL_MEDIAN_DEVIATION * median_deviation(&values).unwrap_or(0.0);
    if reach > 0.0 {
        for value in &mut values {
            *value = value.clamp(middle - reach, middle + reach);
        }
    }
    values
}

/// The parts of a movement while holding, variances on each axis, share of travel squared.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Parts {
    /// Forgotten at once (and rhythmic movement, which no mean misses).
    pub(super) unrelated: f64,
    /// Forgotten in some tenths of a second.
    pub(super) fast: f64,
    /// As slow as the rest.
    pub(super) slow: f64,
}

/// How fast the fast part forgets (a choice: between a wave of rhythm and slow wander).
pub(super) const FAST: Memory = Memory { seconds: 0.12, smooth: true };

/// How far the rest's slow movement is believed to be that of holding too, as a share of it, and
/// how far the holds' own lags are, as a share of their variance.
const REST_IS_HOLD: f64 = 1.0;
const LAG_IS_SURE: f64 = 1.0;

/// Tells the parts from the variogram: `(lag in seconds, half the mean squared difference on each
/// axis, weight)`. Least squares with no part negative, the slow one drawn towards that of the
/// rest.
pub(super) fn parts(variogram: &[(f64, f64, f64)], variance: f64, rest: SlowRest) -> Parts {
    let mut matrix = [[0.0; 3]; 3];
    let mut vector = [0.0; 3];
    let mut add = |row: [f64; 3], value: f64, weight: f64| {
        for i in 0..3 {
            vector[i] += weight * row[i] * value;
            for j in 0..3 {
                matrix[i][j] += weight * row[i] * row[j];
            }
        }
    };
    let all: f64 = variogram.iter().map(|point| point.2).sum();
    // All lags together say about as much as three independent ones.
    let sure = 3.0 / (all.max(1e-12) * LAG_IS_SURE * LAG_IS_SURE * variance * variance);
    for (lag, half_square, weight) in variogram {
        let row = [1.0, 1.0 - FAST.correlation(*lag), 1.0 - rest.memory.correlation(*lag)];
        add(row, *half_square, weight * sure);
    }
    if let Some(slow) = rest.variance {
        let spread = REST_IS_HOLD * slow.max(1e-9);
        add([0.0, 0.0, 1.0], slow, 1.0 / (spread * spread));
    }
    let found = not_negative(&matrix, &vector);
    Parts { unrelated: found[0], fast: found[1], slow: found[2] }
}

/// The least-squares solution of three unknowns with none negative: the best of those in which some
/// are 0 and the others free.
fn not_negative(matrix: &[[f64; 3]; 3], vector: &[f64; 3]) -> [f64; 3] {
    let mut best = ([0.0; 3], 0.0);
    for kept in 1_u32..8 {
        let free: Vec<usize> = (0..3).filter(|i| kept & (1 << i) != 0).collect();
        let Some(found) = solve(matrix, vector, &free) else { continue };
        if found.iter().any(|part| *part < 0.0 || !part.is_finite()) {
            continue;
        }
        // The sum of squares less a constant.
        let mut off = 0.0;
        for i in 0..3 {
            off -= 2.0 * vector[i] * found[i];
            for j in 0..3 {
                off += found[i] * matrix[i][j] * found[j];
            }
        }
        if off < best.1 {
            best = (found, off);
        }
    }
    best.0
}

/// Gauss's elimination with the largest pivot, of the `free` unknowns only; the others are 0.
fn solve(matrix: &[[f64; 3]; 3], vector: &[f64; 3], free: &[usize]) -> Option<[f64; 3]> {
    let n = free.len();
    let mut rows: Vec<Vec<f64>> = free
        .iter()
        .map(|i| free.iter().map(|j| matrix[*i][*j]).chain([vector[*i]]).collect())
        .collect();
    for column in 0..n {
        let pivot = (column..n)
            .max_by(|one, other| rows[*one][column].abs().total_cmp(&rows[*other][column].abs()))?;
        rows.swap(column, pivot);
        let top = rows[column].clone();
        if top[column].abs() < 1e-12 * matrix[free[column]][free[column]].abs().max(1e-300) {
            return None;
        }
        for (index, row) in rows.iter_mut().enumerate() {
            if index != column {
                let factor = row[column] / top[column];
                row.iter_mut().zip(&top).for_each(|(one, of_top)| *one -= factor * of_top);
            }
        }
    }
    let mut found = [0.0; 3];
    for (index, i) in free.iter().enumerate() {
        found[*i] = rows[index][n] / rows[index][index];
    }
    Some(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_share_of_a_mean_is_as_worked_out_by_hand() {
        // 2/T ∫ (1 − t/T) exp(−t/τ) dt = 2 (x − 1 + exp(−x)) / x², x = T/τ.
        let rough = Memory { seconds: 0.5, smooth: false };
        let want = |x: f64| 2.0 * (x - 1.0 + libm::exp(-x)) / (x * x);
        for seconds in [0.5, 3.0, 20.0] {
            let got = rough.share_of_mean(seconds);
            assert!((got / want(seconds / 0.5) - 1.0).abs() < 0.02, "{seconds}: {got}");
        }
    }

    #[test]
    fn parts_are_told_from_their_variogram() {
        let rest = SlowRest { memory: Memory { seconds: 0.5, smooth: true }, variance: None };
        let truth = Parts { unrelated: 1.0, fast: 4.0, slow: 9.0 };
        let variogram: Vec<(f64, f64, f64)> = (1..60)
            .map(|i| {
                let lag = f64::from(i) / 30.0;
                let value = truth.unrelated
                    + truth.fast * (1.0 - FAST.correlation(lag))
                    + truth.slow * (1.0 - rest.memory.correlation(lag));
                (lag, value, 1.0)
            })
            .collect();
        let found = parts(&variogram, 14.0, rest);
        for (got, want) in
            [(found.unrelated, truth.unrelated), (found.fast, truth.fast), (found.slow, truth.slow)]
        {
            assert!((got / want - 1.0).abs() < 1e-6, "{found:?}");
        }
        // The rest draws the slow part towards its own.
        let drawn = parts(&variogram, 14.0, SlowRest { variance: Some(1.0), ..rest });
        assert!(drawn.slow < 9.0 && drawn.slow > 1.0, "{drawn:?}");
        // Nothing moves, or nothing is known.
        let nothing = Parts { unrelated: 0.0, fast: 0.0, slow: 0.0 };
        assert_eq!(parts(&[], 1.0, rest), nothing);
        assert_eq!(parts(&[(0.1, 0.0, 1.0), (0.2, 0.0, 1.0)], 1.0, rest), nothing);
    }

    #[test]
    fn a_rest_tells_how_long_it_remembers() {
        use crate::measure::test_records::recording;
        use crate::measure::truth_tests::normals;
        let noise = normals(5, 2 * 14_000);
        let keep = libm::exp(-0.01 / 0.6);
        let (mut rough, mut smooth) = (Position::ORIGIN, Position::ORIGIN);
        let path: Vec<Position> = (0..14_000)
            .map(|i| {
                let fresh = Position::new(noise[2 * i], noise[2 * i + 1]);
                rough = rough * keep + fresh * libm::sqrt(1.0 - keep * keep);
                smooth = smooth * keep + rough * (1.0 - keep);
                smooth * (0.02 * std::f64::consts::SQRT_2)
            })
            .skip(2000)
            .collect();
        let rest = recording(0.0, 120.0, 100.0, false, |since| {
            path[((since * 100.0).round() as usize).min(11_999)]
        });
        let slow = slow_rest(&Trace::of(&rest, crate::StickAxes::default()));
        let deviation = libm::sqrt(slow.variance.unwrap());
        assert!((deviation / 0.02 - 1.0).abs() < 0.2, "{slow:?}");
        // Time for a mean: twice the smooth one's constant, once the rough one's.
        let total = slow.memory.seconds * if slow.memory.smooth { 2.0 } else { 1.0 };
        assert!((0.75..1.8).contains(&total), "{slow:?}");
        assert_eq!(slow_rest(&Trace::default()), MIDDLING);
    }
}
