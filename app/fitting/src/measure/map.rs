//! From the directions that were asked to those that were performed.

use super::device::quantisation_deviation;
use super::polar::{Matrix, Polar};
use super::reach::mean_place;
use super::{DirectionReach, PerformedMap};
use crate::estimate::{Basis, Estimate, NotEnough};
use crate::statistics::distributions::t_quantile;
use crate::task::{Outcome, TaskKind, TaskRecord};
use crate::{Direction, Position};

mod hidden;

pub use hidden::OBSERVED_CUT;

/// The fewest directions that tell a turn from one side pushed askew.
const LEAST_DIRECTIONS: usize = 3;
/// Directions span both axes when the weaker eigenvalue of their mean outer product is at least
/// this: two opposite ones and a third 45 degrees off give 0.13, on one line they give 0.
const LEAST_SPAN: f64 = 0.1;
/// Steps of the slopes by which errors of the map become errors of what is told of it, as a share
/// of the map's size: central differences, good to some 1e-10.
const SLOPE_STEP: f64 = 1e-5;

/// The pushes that count in one direction, from the centre, in order of time.
struct Asked<'a> {
    direction: Direction,
    ends: &'a [Position],
}

/// The map from asked to performed pushes, from the plateaus of the pushes that count.
///
/// The map is the least-squares one from the unit vectors of the asked directions to the mean
/// ends, each direction weighing the same, taken apart by polar decomposition ([`Polar`]).
/// Intervals carry the scatter of the single pushes through it (the delta method): residuals
/// along and across each direction's mean end, relative to its length, pooled over directions
/// with one degree of freedom less a direction, and Student's t; the rounding to the
/// stick's `step` is added. What the pushes of one person share from visit to visit is not in them.
///
/// Needs three directions that span both axes, and one that was pushed twice. `Unsettled` when
/// the map cannot be told from one that squeezes everything onto a line. Where a direction was asked
/// for in vain, the sizes of the axes are those of the other directions alone: stretch and cross-talk
/// are not told then.
///
/// With a `hidden` middle of unknown width the pushes are bent ([`hidden`]): the map is the one that
/// is so if the system behaves as observed, and the interval of its turn holds the shown one, too.
pub(super) fn map(
    records: &[TaskRecord],
    reach: &[DirectionReach],
    step: f64,
    hidden: bool,
) -> Result<PerformedMap, NotEnough> {
    let kind = records.iter().find(|record| record.ask.kind() == TaskKind::Reach);
    if let Some(lacks) = kind.and_then(|record| record.known.kind.lacks_two_axes()) {
        return Err(NotEnough::NotFor(lacks));
    }
    let asked: Vec<Asked> = reach
        .iter()
        .filter(|direction| !direction.ends.is_empty() && !direction.free)
        .map(|direction| Asked { direction: direction.asked, ends: &direction.ends })
        .collect();
    let seconds = reach
        .iter()
        .filter_map(|one| one.reach.ok())
        .fold(0.0, |sum, reach| sum + reach.basis.seconds);
    let shown = of(&asked, seconds, step)?;
    let is_known = |direction| asked.iter().any(|one| one.direction == direction);
    let in_vain = records
        .iter()
        .filter(|record| record.ask.kind() == TaskKind::Reach && record.is_of_person())
        .flat_map(|record| &record.repetitions)
        .filter(|one| one.outcome == Outcome::Skipped)
        .any(|one| one.direction.is_some_and(|direction| !is_known(direction)));
    let told = |map: PerformedMap| {
        if !in_vain {
            return map;
        }
        PerformedMap {
            stretch: Err(NotEnough::NotDone),
            cross_talk: Err(NotEnough::NotDone),
            ..map
        }
    };
    if !hidden {
        return Ok(told(shown));
    }
    let ends: Vec<Vec<Position>> =
        asked.iter().map(|one| one.ends.iter().map(|end| hidden::unbent(*end)).collect()).collect();
    let straight: Vec<Asked> = asked
        .iter()
        .zip(&ends)
        .map(|(one, ends)| Asked { direction: one.direction, ends })
        .collect();
    let mut map = of(&straight, seconds, step)?;
    let unseen: f64 = ends.iter().flatten().map(|end| hidden::unseen_degrees(*end)).sum();
    let unseen = unseen / ends.iter().flatten().count().max(1) as f64;
    map.turn = match (shown.turn, map.turn) {
        (Ok(shown), Ok(unbent)) => {
            hidden::turn(&shown, &unbent, unseen).ok_or(NotEnough::Unsettled)
        }
        (Err(why), _) | (_, Err(why)) => Err(why),
    };
    map.behind_hidden_middle = true;
    Ok(told(map))
}

fn of(asked: &[Asked], seconds: f64, step: f64) -> Result<PerformedMap, NotEnough> {
    if asked.is_empty() {
        return Err(NotEnough::NothingRecorded);
    }
    let directions: Vec<Direction> = asked.iter().map(|one| one.direction).collect();
    let need = NotEnough::Repetitions { have: asked.len(), need: LEAST_DIRECTIONS };
    let weights = weights(&directions).ok_or(need)?;
    let pushes: usize = asked.iter().map(|one| one.ends.len()).sum();
    let freedom = (pushes - asked.len()) as f64;
    if freedom < 1.0 {
        return Err(NotEnough::Repetitions { have: pushes, need: pushes + 1 });
    }
    let ends: Vec<Position> = asked.iter().map(|one| mean_place(one.ends)).collect();
    let matrix = fit(&weights, &ends);
    let polar = Polar::of(matrix).ok_or(NotEnough::Unsettled)?;
    let scatter = Scatter::of(asked, freedom, step).ok_or(NotEnough::Unsettled)?;
    let counts: Vec<usize> = asked.iter().map(|one| one.ends.len()).collect();
    let errors = scatter.of_matrix(&weights, &ends, &counts);
    let t = t_quantile(0.975, freedom);
    let slopes = slopes(matrix, polar).ok_or(NotEnough::Unsettled)?;
    let deviation = |slope: &[f64; 4]| libm::sqrt(carried(&errors, slope, slope).max(0.0));

    let basis = Basis { seconds, repetitions: pushes };
    let about = |value: f64, half: f64| {
        Estimate::new(value, value - half, value + half, basis).ok_or(NotEnough::Unsettled)
    };
    let half_turn = (t * deviation(&slopes.degrees)).min(180.0);
    let (f, g) = polar.uneven();
    let spread = [
        carried(&errors, &slopes.f, &slopes.f),
        carried(&errors, &slopes.f, &slopes.g),
        carried(&errors, &slopes.g, &slopes.g),
    ];
    let (uneven, low, high) = length_of_pair((f, g), spread, freedom);
    if high >= 1.0 {
        return Err(NotEnough::Unsettled);
    }
    let ratio = |uneven: f64| (1.0 - uneven) / (1.0 + uneven);
    let stretch = Estimate::new(ratio(uneven), ratio(high), ratio(low), basis);
    let size = ends.iter().map(|end| end.radius()).sum::<f64>() / ends.len() as f64;
    Ok(PerformedMap {
        matrix: matrix.map(|row| row.map(|entry| entry / size)),
        swapped: polar.swapped,
        right_inverted: polar.right_inverted,
        up_inverted: polar.up_inverted,
        turn: about(polar.degrees, half_turn),
        repeat_agrees: repeat_agrees(asked, polar, &scatter, t),
        turn_without_one: turn_without_one(&directions, &ends, polar),
        stretch: stretch.ok_or(NotEnough::Unsettled),
        stretch_degrees: polar.stronger_degrees(),
        cross_talk: about(polar.cross_talk(), t * deviation(&slopes.cross_talk))
            .map(|estimate| estimate.held_to(-1.0, 1.0)),
        directions: asked.len(),
        pushes,
        behind_hidden_middle: false,
    })
}

/// What each direction's mean end is multiplied with, so that the sum of the outer products is
/// the least-squares map: the asked unit vector times the inverse of the sum of their own outer
/// products. `None` for fewer than three directions, or when they do not span both axes.
fn weights(directions: &[Direction]) -> Option<Vec<Position>> {
    if directions.len() < LEAST_DIRECTIONS {
        return None;
    }
    let units: Vec<Position> =
        directions.iter().map(|direction| Position::polar(1.0, direction.degrees())).collect();
    let sum = |of: fn(&Position) -> f64| units.iter().map(of).sum::<f64>();
    let rr = sum(|unit| unit.right * unit.right);
    let ru = sum(|unit| unit.right * unit.up);
    let uu = sum(|unit| unit.up * unit.up);
    let weaker = 0.5 * (rr + uu) - libm::hypot(0.5 * (rr - uu), ru);
    if weaker < LEAST_SPAN * units.len() as f64 {
        return None;
    }
    let area = rr * uu - ru * ru;
    let weight = |unit: &Position| {
        Position::new(
            (uu * unit.right - ru * unit.up) / area,
            (rr * unit.up - ru * unit.right) / area,
        )
    };
    Some(units.iter().map(weight).collect())
}

fn fit(weights: &[Position], ends: &[Position]) -> Matrix {
    let mut matrix = [[0.0; 2]; 2];
    for (weight, end) in weights.iter().zip(ends) {
        for (row, performed) in matrix.iter_mut().zip([end.right, end.up]) {
            row[0] += performed * weight.right;
            row[1] += performed * weight.up;
        }
    }
    matrix
}

/// The least-squares map of asked directions to ends, each direction weighing the same, taken
/// apart; `None` where [`PerformedMap`] has none for lack of directions.
#[must_use]
pub fn polar_of_ends(ends: &[(Direction, Position)]) -> Option<(Matrix, Polar)> {
    let directions: Vec<Direction> = ends.iter().map(|end| end.0).collect();
    let places: Vec<Position> = ends.iter().map(|end| end.1).collect();
    let matrix = fit(&weights(&directions)?, &places);
    Some((matrix, Polar::of(matrix)?))
}

/// The scatter of single pushes about their direction's mean, relative to its length: variance
/// along the mean end, covariance, variance across it; and the variance of the rounding error of a
/// mean end on each axis, share of travel squared, which no number of pushes averages away.
struct Scatter([f64; 3], f64);

impl Scatter {
    fn of(asked: &[Asked], freedom: f64, step: f64) -> Option<Self> {
        let mut sums = [0.0; 3];
        for one in asked {
            let mean = mean_place(one.ends);
            let size = mean.radius() * mean.radius();
            if !size.is_finite() || size < 1e-12 {
                return None;
            }
            for end in one.ends {
                let off = *end - mean;
                let along = (off.right * mean.right + off.up * mean.up) / size;
                let across = (off.up * mean.right - off.right * mean.up) / size;
                sums[0] += along * along;
                sums[1] += along * across;
                sums[2] += across * across;
            }
        }
        let rounding = quantisation_deviation(step);
        Some(Self(sums.map(|sum| sum / freedom), rounding * rounding))
    }

    /// The covariance of the map's four entries (row by row), when each direction's mean end is
    /// of so many pushes.
    fn of_matrix(
        &self,
        weights: &[Position],
        ends: &[Position],
        counts: &[usize],
    ) -> [[f64; 4]; 4] {
        let Self([along, both, across], rounding) = *self;
        let mut errors = [[0.0; 4]; 4];
        for ((weight, end), count) in weights.iter().zip(ends).zip(counts) {
            // Two columns: what a relative error along and across moves the end by.
            let (r, u) = (end.right, end.up);
            let share = 1.0 / (*count).max(1) as f64;
            let place = [
                [along * r * r - 2.0 * both * r * u + across * u * u, 0.0],
                [
                    along * r * u + both * (r * r - u * u) - across * r * u,
                    along * u * u + 2.0 * both * r * u + across * r * r,
                ],
            ];
            let weight = [weight.right, weight.up];
            for (row, line) in errors.iter_mut().enumerate() {
                for (column, error) in line.iter_mut().enumerate() {
                    let (i, k) = (row / 2, column / 2);
                    let of_place = place[i.max(k)][i.min(k)];
                    let of_place = share * of_place + if i == k { rounding } else { 0.0 };
                    *error += of_place * weight[row % 2] * weight[column % 2];
                }
            }
        }
        errors
    }
}

/// The covariance of two figures whose slopes over the map's entries are given.
fn carried(errors: &[[f64; 4]; 4], one: &[f64; 4], other: &[f64; 4]) -> f64 {
    let mut sum = 0.0;
    for (line, a) in errors.iter().zip(one) {
        for (error, b) in line.iter().zip(other) {
            sum += a * error * b;
        }
    }
    sum
}

/// How what is told of a map grows with each of its entries.
#[derive(Default)]
struct Slopes {
    degrees: [f64; 4],
    f: [f64; 4],
    g: [f64; 4],
    cross_talk: [f64; 4],
}

fn slopes(matrix: Matrix, polar: Polar) -> Option<Slopes> {
    let size = matrix.iter().flatten().map(|entry| entry * entry).sum::<f64>();
    let step = SLOPE_STEP * libm::sqrt(size);
    let mut slopes = Slopes::default();
    for entry in 0..4 {
        let moved = |by: f64| {
            let mut other = matrix;
            other[entry / 2][entry % 2] += by;
            Polar::with(other, polar.swapped, polar.right_inverted, polar.up_inverted)
        };
        let (more, less) = (moved(step)?, moved(-step)?);
        let slope = |read: fn(&Polar) -> f64| (read(&more) - read(&less)) / (2.0 * step);
        slopes.degrees[entry] = slope(|polar| polar.degrees);
        slopes.f[entry] = slope(|polar| polar.uneven().0);
        slopes.g[entry] = slope(|polar| polar.uneven().1);
        slopes.cross_talk[entry] = slope(Polar::cross_talk);
    }
    Some(slopes)
}

/// The length of a pair that scatters with this covariance (first, both, second), with a 95 %
/// interval. Where the pair is not told from nothing (Hotelling's test: its squared distance is
/// within twice F of 2 and the degrees of freedom, *Annals of Mathematical Statistics* 2 (1931)
/// 360, from memory), the interval goes down to 0: a length cannot fall under it.
pub(super) fn length_of_pair(pair: (f64, f64), spread: [f64; 3], freedom: f64) -> (f64, f64, f64) {
    let (f, g) = pair;
    let [ff, fg, gg] = spread;
    let length = libm::hypot(f, g);
    let (cos, sin) = if length > 0.0 { (f / length, g / length) } else { (1.0, 0.0) };
    let variance = cos * cos * ff + 2.0 * cos * sin * fg + sin * sin * gg;
    let half = t_quantile(0.975, freedom) * libm::sqrt(variance.max(0.0));
    let area = ff * gg - fg * fg;
    let distance = f * f * gg - 2.0 * f * g * fg + g * g * ff;
    // F of 2 and n degrees of freedom has a closed upper end: n/2 (0.05^(-2/n) - 1).
    let twice_f = freedom * (libm::pow(0.05, -2.0 / freedom) - 1.0);
    let told = area > 0.0 && distance > twice_f * area || area <= 0.0 && half < length;
    (length, if told { (length - half).max(0.0) } else { 0.0 }, length + half)
}

/// Whether the turn of the first and of the last half of the rounds agree: their difference lies
/// within its own 95 % interval. Never when too few directions were pushed twice.
fn repeat_agrees(asked: &[Asked], polar: Polar, scatter: &Scatter, t: f64) -> bool {
    let half = |first: bool| -> Option<(f64, f64)> {
        let (mut directions, mut ends, mut counts) = (Vec::new(), Vec::new(), Vec::new());
        for one in asked.iter().filter(|one| one.ends.len() >= 2) {
            let (early, late) = one.ends.split_at(one.ends.len() / 2);
            let part = if first { early } else { late };
            directions.push(one.direction);
            ends.push(mean_place(part));
            counts.push(part.len());
        }
        let weights = weights(&directions)?;
        let matrix = fit(&weights, &ends);
        let part = Polar::with(matrix, polar.swapped, polar.right_inverted, polar.up_inverted)?;
        let slopes = slopes(matrix, part)?;
        let errors = scatter.of_matrix(&weights, &ends, &counts);
        Some((part.degrees, carried(&errors, &slopes.degrees, &slopes.degrees)))
    };
    match (half(true), half(false)) {
        (Some(early), Some(late)) => {
            let error = libm::sqrt((early.1 + late.1).max(0.0));
            crate::position::fold_degrees(early.0 - late.0).abs() <= t * error
        }
        _ => false,
    }
}

/// Of the turns that are left when any one direction is left out, the one nearest to no turn (0
/// when they go both ways); `None` with three directions, of which none can be spared.
fn turn_without_one(directions: &[Direction], ends: &[Position], polar: Polar) -> Option<f64> {
    let mut nearest: Option<f64> = None;
    for out in 0..directions.len() {
        let (mut rest, mut places) = (directions.to_vec(), ends.to_vec());
        rest.remove(out);
        places.remove(out);
        let matrix = fit(&weights(&rest)?, &places);
        let part = Polar::with(matrix, polar.swapped, polar.right_inverted, polar.up_inverted)?;
        nearest = Some(match nearest {
            Some(before) if before * part.degrees < 0.0 => 0.0,
            Some(before) if before.abs() <= part.degrees.abs() => before,
            _ => part.degrees,
        });
    }
    nearest
}

#[cfg(test)]
#[path = "map_tests.rs"]
mod tests;
