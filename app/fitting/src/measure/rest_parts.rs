//! Whether a rest is the same from its beginning to its end.
//!
//! A rate seen in a rest speaks of the time after it only where the movement is stationary, and where
//! the rest is long against the movement's memory. The rest, its sudden movements left out, is cut
//! into [`BLOCKS`] parts of equal length, and their figures are asked in this order:
//!
//! - **drift**: a straight line through the parts' mean places over time, on each axis; Student's t
//!   of its slope, with `n (1 − r) / (1 + r)` in place of n, r the correlation of neighbouring
//!   residuals (Santer et al., *Journal of Geophysical Research* 105 (2000) 7337, from memory);
//! - **one-sidedness**: the farthest place of each part, as a vector weighed by how far it is beyond
//!   their median. If far movements go to every side and the opposite one alike, the signs of these
//!   vectors are as a coin's, and the squared length of their sum over the sum of their squares is
//!   about chi-square with one degree of freedom where all lie on one line, and less spread where
//!   they do not (the randomisation test of symmetry: Fisher, *The Design of Experiments* (1935),
//!   section 21, from memory);
//! - **size**: the logarithm of each part's root mean square. A straight line as for the drift, and
//!   the standard error of its mean by batch means (Law and Kelton, *Simulation Modeling and
//!   Analysis*, from memory), neighbours' correlation counted in. Where the size of the movement is
//!   not known to about [`MOST_SIZE_ERROR`], no radius is;
//! - **independent stretches**: the variance of the place over that of its mean, again by batch
//!   means, both axes together. Fewer than [`FEWEST_STRETCHES`] say little of what is to come.
//!
//! How often a rest that is stationary is called none, and how often one of several kinds that is
//! not, is counted in `suggest/stationary_tests.rs`.

use super::figures::{NotStationary, RestParts};
use crate::statistics::dependence::{BLOCKS, lag_one};
use crate::statistics::distributions::{chi_square_quantile, t_quantile};
use crate::statistics::{plain, weighted};
use crate::{Position, Span, Trace};

/// The chance with which a stationary rest is said to drift, on each axis, or to grow or shrink.
const TREND_ERROR: f64 = 0.004;
/// The chance with which a symmetric one is called one-sided.
const SIDE_ERROR: f64 = 0.03;
/// The largest standard error of the logarithm of the movement's size.
const MOST_SIZE_ERROR: f64 = 0.125;
/// The fewest independent stretches that stand for the time after them.
const FEWEST_STRETCHES: f64 = 14.0;
/// A rest that stays inside this most of the time is still whatever else it does, share of travel.
const STILL: f64 = 0.004;
/// Neighbouring parts are never taken to follow more closely from each other than this.
const MOST_CORRELATION: f64 = 0.8;

/// Figures of one part of a rest.
struct Part {
    mean: Position,
    /// The logarithm of the root mean square distance from the centre.
    log_size: f64,
    /// Where it was farthest from the centre, from there.
    farthest: Position,
    /// The mean square distance from the centre.
    mean_square: f64,
}

impl Part {
    fn of(held: &[(Position, f64)], step: f64) -> Self {
        let seconds: f64 = held.iter().map(|one| one.1).sum();
        let (mut sum, mut squares, mut farthest) = (Position::ORIGIN, 0.0, Position::ORIGIN);
        for (at, seconds) in held {
            sum = sum + *at * *seconds;
            squares += at.radius() * at.radius() * seconds;
            if at.radius() > farthest.radius() {
                farthest = *at;
            }
        }
        let over = if seconds > 0.0 { 1.0 / seconds } else { 0.0 };
        let mean_square = squares * over;
        // Less than a step, or than nothing to speak of, is one size.
        let least = step.max(0.25 * STILL);
        Self {
            mean: sum * over,
            log_size: 0.5 * libm::log(mean_square.max(least * least)),
            farthest,
            mean_square,
        }
    }
}

/// What the parts of a settled path of rest say, without the `sudden` spans: about its own middle,
/// wherever the centre of a dead zone is.
pub(super) fn rest_parts(path: &Trace, sudden: &[Span], step: f64) -> RestParts {
    let centre = path.median().unwrap_or(Position::ORIGIN);
    let is_sudden = |span: Span| sudden.iter().any(|one| one.shared_with(span).is_some());
    let pieces = path.pieces.iter().filter(|piece| !is_sudden(piece.span));
    let held: Vec<(Position, f64)> =
        pieces.map(|piece| (piece.at - centre, piece.span.seconds())).collect();
    let inside: Vec<f64> = cut(&held, 3).iter().map(|third| stays_inside(third)).collect();
    let largest = inside.iter().copied().fold(0.0, f64::max);
    let smallest = inside.iter().copied().fold(f64::INFINITY, f64::min).min(largest);
    let parts: Vec<Part> = cut(&held, BLOCKS).iter().map(|part| Part::of(part, step)).collect();
    let is_still = largest <= STILL.max(step);
    RestParts {
        not_stationary: if is_still { None } else { not_stationary(&parts) },
        thirds_differ: largest - smallest,
    }
}

fn not_stationary(parts: &[Part]) -> Option<NotStationary> {
    let list = |read: fn(&Part) -> f64| -> Vec<f64> { parts.iter().map(read).collect() };
    let (right, up) = (list(|part| part.mean.right), list(|part| part.mean.up));
    let sizes = list(|part| part.log_size);
    if has_trend(&right) || has_trend(&up) {
        Some(NotStationary::Drift)
    } else if is_one_sided(parts) {
        Some(NotStationary::OneSided)
    } else if has_trend(&sizes) || error_of_mean(&[&sizes]) > MOST_SIZE_ERROR {
        Some(NotStationary::PartsDiffer)
    } else if stretches(parts, &[&right, &up]) < FEWEST_STRETCHES {
        Some(NotStationary::FewStretches)
    } else {
        None
    }
}

/// A path cut into parts of equal time.
fn cut(held: &[(Position, f64)], parts: usize) -> Vec<Vec<(Position, f64)>> {
    let length = held.iter().map(|one| one.1).sum::<f64>() / parts as f64;
    let mut all = vec![Vec::new(); parts];
    let (mut index, mut room) = (0, length);
    for (at, seconds) in held {
        let mut left = *seconds;
        while left > 0.0 {
            let is_last = index + 1 == parts;
            let taken = if is_last { left } else { left.min(room) };
            all[index].push((*at, taken));
            left -= taken;
            room -= taken;
            if room <= 0.0 && !is_last {
                (index, room) = (index + 1, length);
            }
        }
    }
    all
}

/// The distance inside which it stays 95 % of the time.
fn stays_inside(held: &[(Position, f64)]) -> f64 {
    let distances: Vec<(f64, f64)> = held.iter().map(|(at, held)| (at.radius(), *held)).collect();
    weighted::quantile(&distances, 0.95).unwrap_or(0.0)
}

/// Whether values at even times rise or fall.
fn has_trend(values: &[f64]) -> bool {
    let n = values.len() as f64;
    let Some(mean) = plain::mean(values) else { return false };
    let from_middle = |index: usize| index as f64 - 0.5 * (n - 1.0);
    let squares = n * (n * n - 1.0) / 12.0;
    let each = values.iter().enumerate();
    let slope = each.map(|(index, value)| from_middle(index) * value).sum::<f64>() / squares;
    let residuals: Vec<f64> = values
        .iter()
        .enumerate()
        .map(|(index, value)| value - mean - slope * from_middle(index))
        .collect();
    let count = n * shrunk(correlation(&[&residuals], 2.0 / n));
    let freedom = count - 2.0;
    if freedom < 1.0 {
        return false;
    }
    let residual = residuals.iter().map(|one| one * one).sum::<f64>() / freedom;
    let error = libm::sqrt(residual / squares);
    error > 0.0 && slope.abs() > t_quantile(1.0 - 0.5 * TREND_ERROR, freedom) * error
}

/// The correlation of neighbours over all lists, what a mean taken off cost given back; never
/// negative.
fn correlation(lists: &[&[f64]], cost: f64) -> f64 {
    let squares = |list: &&[f64]| plain::squares_about_mean(list);
    let all: f64 = lists.iter().map(squares).sum();
    let weighed: f64 = lists.iter().map(|list| squares(list) * lag_one(list)).sum();
    let seen = if all > 0.0 { weighed / all } else { 0.0 };
    (seen + cost).clamp(0.0, MOST_CORRELATION)
}

/// The share of values that counts where neighbours are correlated as in a first-order series.
fn shrunk(correlation: f64) -> f64 {
    (1.0 - correlation) / (1.0 + correlation)
}

/// The standard error of the mean of lists of the same length, added over them.
fn error_of_mean(lists: &[&[f64]]) -> f64 {
    let n = lists.first().map_or(0, |list| list.len()) as f64;
    if n < 2.0 {
        return 0.0;
    }
    let squares: f64 = lists.iter().map(|list| plain::squares_about_mean(list)).sum();
    libm::sqrt(squares / (n - 1.0) / n / shrunk(correlation(lists, 1.0 / n)))
}

/// How many independent places would have a mean as uncertain as that of the path.
fn stretches(parts: &[Part], means: &[&[f64]; 2]) -> f64 {
    let mean_square = parts.iter().map(|part| part.mean_square).sum::<f64>() / parts.len() as f64;
    let of_mean: f64 =
        means.iter().filter_map(|axis| plain::mean(axis)).map(|mean| mean * mean).sum();
    let error = error_of_mean(means);
    if error > 0.0 { (mean_square - of_mean) / (error * error) } else { f64::INFINITY }
}

/// Whether far movements go more to one side than signs of a coin would have it.
fn is_one_sided(parts: &[Part]) -> bool {
    let distances: Vec<f64> = parts.iter().map(|part| part.farthest.radius()).collect();
    let usual = plain::median(&distances).unwrap_or(0.0);
    let (mut sum, mut squares) = (Position::ORIGIN, 0.0);
    for part in parts {
        let distance = part.farthest.radius();
        let beyond = distance - usual;
        if beyond > 0.0 {
            sum = sum + part.farthest * (beyond / distance);
            squares += beyond * beyond;
        }
    }
    let limit = chi_square_quantile(1.0 - SIDE_ERROR, 1.0);
    sum.radius() * sum.radius() > limit * squares
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_have_equal_time() {
        let held = [(Position::new(0.1, 0.0), 2.5), (Position::new(0.2, 0.0), 0.5)];
        let cut = cut(&held, 4);
        let seconds = |part: &Vec<(Position, f64)>| part.iter().map(|one| one.1).sum::<f64>();
        assert!(cut.iter().all(|part| (seconds(part) - 0.75).abs() < 1e-12));
        assert_eq!(cut[3].len(), 2);
        assert!(super::cut(&[], 4).iter().all(Vec::is_empty));
    }

    #[test]
    fn a_line_is_a_trend_and_alternation_is_none() {
        let rising: Vec<f64> = (0..20).map(|i| 0.2 * f64::from(i) + f64::from(i % 3)).collect();
        let even: Vec<f64> = (0..20).map(|i| f64::from(i * 7 % 5)).collect();
        assert!(has_trend(&rising) && !has_trend(&even));
        assert!(!has_trend(&[1.0; 20]) && !has_trend(&[]));
    }
}
