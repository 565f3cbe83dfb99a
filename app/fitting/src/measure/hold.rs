//! Steadiness while holding, by level of the person's own reach.

use super::LevelSteadiness;
use super::device::quantisation_deviation;
use super::reach::mean_place;
use super::slow::{FAST, SlowRest, parts};
use crate::estimate::{Basis, Estimate, Measured, NotEnough};
use crate::statistics::distributions::deviation_factors;
use crate::statistics::spectrum::cells;
use crate::statistics::weighted;
use crate::task::{TaskKind, TaskRecord};
use crate::{Direction, Position, Span, Trace};

/// From this radius on a position is at the end of the stick's travel.
pub const GATE: f64 = 0.99;
/// The beginning of a hold is left out: the dot has just come to its place. Seconds.
const ARRIVING_SECONDS: f64 = 0.5;
/// Shorter holds say nothing of steadiness, seconds.
const LEAST_HOLD_SECONDS: f64 = 0.5;
/// Fewer independent values than this give no interval worth showing.
const LEAST_DEGREES_OF_FREEDOM: f64 = 3.0;

/// One hold that counts.
#[derive(Clone, Debug, PartialEq)]
pub struct OneHold {
    /// What was asked; `None` where no way was.
    pub direction: Option<Direction>,
    /// Share of own reach that was asked.
    pub level: f64,
    /// The path, absolute, without its beginning.
    pub path: Trace,
}

/// All holds that count and are long enough, in order of time.
#[must_use]
pub fn holds(records: &[TaskRecord]) -> Vec<OneHold> {
    holds_of(records, TaskKind::Hold)
}

/// The same of one kind of task: plain holds, or the longer ones.
fn holds_of(records: &[TaskRecord], kind: TaskKind) -> Vec<OneHold> {
    records
        .iter()
        .filter(|record| record.ask.kind() == kind)
        .flat_map(|record| holds_in(record, &Trace::of(&record.recording, record.axes)))
        .collect()
}

/// The holds of one record that count and are long enough, cut out of its whole path.
pub(crate) fn holds_in(record: &TaskRecord, whole: &Trace) -> Vec<OneHold> {
    let mut found = Vec::new();
    for repetition in record.counting() {
        let Some(level) = repetition.level.filter(|level| level.is_finite()) else { continue };
        let from_seconds = repetition.span.from_seconds + ARRIVING_SECONDS;
        let path = whole.within(Span { from_seconds, ..repetition.span });
        if path.seconds() >= LEAST_HOLD_SECONDS {
            found.push(OneHold { direction: repetition.direction, level, path });
        }
    }
    found
}

/// A place is far out of a hold from five times the median distance from the held place on (six
/// standard deviations of Gaussian movement) and this much more, share of travel.
const FAR_MEDIANS: f64 = 5.0;
const FAR_MORE: f64 = 0.03;
/// A sudden movement rises from inside half of that within so many seconds.
const FAST_SECONDS: f64 = 0.3;
/// What is left out with it: so long before and after, seconds. A person sees it and corrects.
const BEFORE_SECONDS: f64 = 0.3;
const AFTER_SECONDS: f64 = 1.2;

/// The hold without sudden movements (jerks, spasms) and what follows on them: they are told of the
/// rest, with their rate, and one of them would pass for the unsteadiness of a whole hold.
#[must_use]
pub fn without_sudden(hold: &OneHold) -> OneHold {
    let Some(place) = hold.path.median() else { return hold.clone() };
    let far = FAR_MEDIANS * weighted::median(&hold.path.distances(place)).unwrap_or(0.0) + FAR_MORE;
    let mut left_out: Vec<Span> = Vec::new();
    let mut inside = f64::NEG_INFINITY;
    for piece in &hold.path.pieces {
        let off = (piece.at - place).radius();
        if off < 0.5 * far {
            inside = piece.span.to_seconds;
        }
        if off >= far && piece.span.from_seconds - inside <= FAST_SECONDS {
            let from_seconds = piece.span.from_seconds - BEFORE_SECONDS;
            let to_seconds = piece.span.to_seconds + AFTER_SECONDS;
            match left_out.last_mut() {
                Some(last) if from_seconds < last.to_seconds => last.to_seconds = to_seconds,
                _ => left_out.push(Span { from_seconds, to_seconds }),
            }
        }
    }
    let mut kept = hold.path.clone();
    kept.pieces.retain(|piece| left_out.iter().all(|span| span.shared_with(piece.span).is_none()));
    OneHold { path: kept, ..hold.clone() }
}

/// All holds as steadiness is told from them: without sudden movements, and what is left of each
/// long enough.
#[must_use]
pub fn steady(records: &[TaskRecord], kind: TaskKind) -> Vec<OneHold> {
    holds_of(records, kind)
        .iter()
        .map(without_sudden)
        .filter(|hold| hold.path.seconds() >= LEAST_HOLD_SECONDS)
        .collect()
}

/// Mean squared distance from the held place, both axes pooled (half of the sum of both
/// variances over time), share of travel squared; 0 of an empty path.
#[must_use]
pub fn variance_about_place(path: &Trace) -> f64 {
    let axis = |read: fn(&Position) -> f64| {
        let held: Vec<(f64, f64)> =
            path.pieces.iter().map(|piece| (read(&piece.at), piece.span.seconds())).collect();
        weighted::variance(&held).unwrap_or(0.0)
    };
    0.5 * (axis(|at| at.right) + axis(|at| at.up))
}

/// Cells in which the holds' own memory is told, seconds.
const CELL_SECONDS: f64 = 1.0 / 30.0;
/// Differences are taken over lags up to this share of a hold.
const LAG_SHARE: f64 = 0.6;
/// And up to so many cells, a minute, the longest hold that is asked for: the work grows with
/// the square of it.
const MOST_LAGS: usize = 1_800;
/// How unsure what short holds miss is, as a share of it.
const MISSED_IS_UNSURE: f64 = 0.5;
/// What the holds' own memory says of the spread of their variances weighs as much as so many
/// holds beyond one a level.
const MEMORY_IS_WORTH: f64 = 8.0;
/// The variances of holds differ by so many times what memory and spread say, for both are told from
/// few holds (set on invented people: with 1 intervals held the truth in 89 %).
const DIFFER_MORE: f64 = 1.6;

/// One hold reduced to what steadiness needs.
struct Reduced {
    level: f64,
    seconds: f64,
    /// Its mean place.
    place: Position,
    /// Mean squared distance from there, both axes pooled.
    variance: f64,
    /// Covariances of the axes about the mean place.
    covariance: [f64; 3],
    /// By lag in cells: sum of squared differences on both axes, and how many.
    differences: Vec<(f64, f64)>,
}

fn reduce(hold: &OneHold) -> Reduced {
    let stretches = cells(&hold.path, CELL_SECONDS);
    let longest = stretches.iter().map(Vec::len).max().unwrap_or(0);
    let most = ((LAG_SHARE * longest as f64) as usize).min(MOST_LAGS);
    let mut differences = vec![(0.0, 0.0); most];
    for stretch in &stretches {
        for (index, (sum, count)) in differences.iter_mut().enumerate() {
            for (one, other) in stretch.iter().zip(stretch.iter().skip(index + 1)) {
                let off = *other - *one;
                *sum += off.right * off.right + off.up * off.up;
                *count += 1.0;
            }
        }
    }
    let variance = variance_about_place(&hold.path);
    let (place, covariance) = place_and_covariance(&hold.path);
    Reduced {
        level: hold.level,
        seconds: hold.path.seconds(),
        place,
        variance,
        covariance,
        differences,
    }
}

/// The mean place, and the variances of right and up and their covariance, over time.
fn place_and_covariance(path: &Trace) -> (Position, [f64; 3]) {
    let seconds = path.seconds().max(1e-12);
    let over = |of: &dyn Fn(Position) -> f64| {
        path.pieces.iter().map(|piece| of(piece.at) * piece.span.seconds()).sum::<f64>() / seconds
    };
    let (right, up) = (over(&|at| at.right), over(&|at| at.up));
    let covariance = [
        over(&|at| (at.right - right) * (at.right - right)),
        over(&|at| (at.up - up) * (at.up - up)),
        over(&|at| (at.right - right) * (at.up - up)),
    ];
    (Position::new(right, up), covariance)
}

/// The variance on each axis of the places of holds that were asked alike, share of travel squared:
/// their squares about the mean of their direction and level, pooled (the between-groups mean square of
/// a one-way analysis of variance with random effects, from memory). `None` where nothing was
/// asked twice.
fn places_differ(holds: &[OneHold], reduced: &[Reduced]) -> Option<f64> {
    let (mut squares, mut degrees) = (0.0, 0.0);
    for (index, first) in holds.iter().enumerate() {
        let alike = |other: &&OneHold| {
            other.direction == first.direction && (other.level - first.level).abs() < 1e-6
        };
        if first.direction.is_none() || holds[..index].iter().any(|one| alike(&one)) {
            continue;
        }
        let places: Vec<Position> = holds
            .iter()
            .zip(reduced)
            .filter(|(one, _)| alike(one))
            .map(|(_, reduced)| reduced.place)
            .collect();
        let mean = mean_place(&places);
        for place in &places {
            let off = *place - mean;
            squares += off.right * off.right + off.up * off.up;
        }
        degrees += 2.0 * (places.len() as f64 - 1.0);
    }
    (degrees > 0.0).then(|| squares / degrees)
}

/// Steadiness by level, from the lowest up.
///
/// Variances are pooled over the holds of a level by their time, and what short holds miss of slow
/// movement is added ([`super::slow`]), no more than the places of holds that were asked alike differ:
/// whoever sees the ring takes back slow wander that the rest shows. The interval is a chi-square one. Its degrees of freedom
/// come from two sides: how long the movement remembers (`2 T / 2∫ρ²`, Bayley and Hammersley), and
/// how much the variances of the holds differ among themselves, over all levels, which knows of
/// rhythm that comes and goes as well. Below the spread of the rounding error to the stick's `step`
/// nothing can be told: the upper ends are at least that.
pub(super) fn hold(
    holds: &[OneHold],
    centre_of_rest: Position,
    rest: SlowRest,
    rhythm: Option<&[f64]>,
    step: f64,
) -> Vec<LevelSteadiness> {
    let reduced: Vec<Reduced> = holds.iter().map(reduce).collect();
    let mut levels: Vec<f64> = holds.iter().map(|hold| hold.level).collect();
    crate::statistics::order::sort_numbers(&mut levels);
    levels.dedup_by(|next, before| (*next - *before).abs() < 1e-6);
    let spread = spread_between(&reduced, &levels);
    let differ = places_differ(holds, &reduced);
    levels
        .into_iter()
        .map(|level| {
            let same: Vec<usize> =
                (0..holds.len()).filter(|i| (holds[*i].level - level).abs() < 1e-6).collect();
            steadiness(
                level,
                &Level {
                    holds,
                    reduced: &reduced,
                    same,
                    centre: centre_of_rest,
                    rest,
                    spread,
                    differ,
                    rhythm,
                    step,
                },
            )
        })
        .collect()
}

/// The variance of the holds' own variances about their level's mean, as a share of its square and
/// for one second of holding; and on how many degrees of freedom.
fn spread_between(reduced: &[Reduced], levels: &[f64]) -> (f64, f64) {
    let (mut squares, mut degrees) = (0.0, 0.0);
    for level in levels {
        let same: Vec<&Reduced> =
            reduced.iter().filter(|hold| (hold.level - level).abs() < 1e-6).collect();
        let seconds: f64 = same.iter().map(|hold| hold.seconds).sum();
        let mean =
            same.iter().map(|hold| hold.seconds * hold.variance).sum::<f64>() / seconds.max(1e-12);
        if same.len() < 2 || mean <= 0.0 {
            continue;
        }
        for hold in &same {
            let off = hold.variance / mean - 1.0;
            squares += off * off * hold.seconds;
        }
        degrees += same.len() as f64 - 1.0;
    }
    (if degrees > 0.0 { squares / degrees } else { 0.0 }, degrees)
}

/// What the steadiness of one level is told from.
struct Level<'a> {
    holds: &'a [OneHold],
    reduced: &'a [Reduced],
    /// Which of them are of this level.
    same: Vec<usize>,
    centre: Position,
    rest: SlowRest,
    /// See [`spread_between`].
    spread: (f64, f64),
    /// See [`places_differ`].
    differ: Option<f64>,
    /// The power of the rhythm in each hold.
    rhythm: Option<&'a [f64]>,
    step: f64,
}

fn steadiness(level: f64, from: &Level) -> LevelSteadiness {
    let Level { holds, reduced, same, centre, rest, spread, differ, rhythm, step } = from;
    let of = |read: &dyn Fn(&Reduced) -> f64| same.iter().map(|i| read(&reduced[*i])).sum::<f64>();
    let seconds = of(&|hold| hold.seconds);
    let pooled = of(&|hold| hold.seconds * hold.variance) / seconds;
    let most = same.iter().map(|i| reduced[*i].differences.len()).max().unwrap_or(0);
    let mut variogram: Vec<(f64, f64, f64)> = Vec::with_capacity(most);
    for lag in 0..most {
        let (mut sum, mut count) = (0.0, 0.0);
        for i in same {
            if let Some(one) = reduced[*i].differences.get(lag) {
                sum += one.0;
                count += one.1;
            }
        }
        if count > 0.0 {
            variogram.push(((lag + 1) as f64 * CELL_SECONDS, 0.25 * sum / count, count));
        }
    }
    let parts = parts(&variogram, pooled.max(1e-12), *rest);
    let missed = of(&|hold| {
        hold.seconds
            * (parts.fast * FAST.share_of_mean(hold.seconds)
                + parts.slow * rest.memory.share_of_mean(hold.seconds))
    }) / seconds;
    let kept = differ.map_or(1.0, |differ| (differ / missed.max(1e-12)).min(1.0));
    let (missed, slow) = (kept * missed, kept * parts.slow);
    let whole = pooled + missed;
    // How long it remembers: seen over short lags, by its slow part beyond.
    let mut remembers = 0.0;
    let mut lag = CELL_SECONDS;
    for point in &variogram {
        let rho = (1.0 - point.1 / whole.max(1e-12)).clamp(-1.0, 1.0);
        remembers += rho * rho * CELL_SECONDS;
        lag = point.0;
    }
    while lag < 8.0 {
        lag += CELL_SECONDS;
        let rho = slow / whole.max(1e-12) * rest.memory.correlation(lag);
        remembers += rho * rho * CELL_SECONDS;
    }
    let remembers = CELL_SECONDS + 2.0 * remembers;
    let axes = axes_behind(
        of(&|hold| hold.seconds * hold.covariance[0]),
        of(&|hold| hold.seconds * hold.covariance[1]),
        of(&|hold| hold.seconds * hold.covariance[2]),
    );
    let by_memory = 2.0 * remembers / axes;
    let by_spread =
        (MEMORY_IS_WORTH * by_memory + spread.1 * spread.0) / (MEMORY_IS_WORTH + spread.1);
    let unsure = MISSED_IS_UNSURE * missed / whole.max(1e-12);
    let degrees_of_freedom = 2.0 / (DIFFER_MORE * by_spread / seconds + unsure * unsure);
    let basis = Basis { seconds, repetitions: same.len() };
    let factors = (degrees_of_freedom >= LEAST_DEGREES_OF_FREEDOM)
        .then(|| deviation_factors(degrees_of_freedom));
    let estimate = |variance: f64| -> Measured {
        let Some((low, high)) = factors else {
            let need = seconds * LEAST_DEGREES_OF_FREEDOM / degrees_of_freedom.max(0.5);
            return Err(NotEnough::Seconds { have: seconds, need });
        };
        let deviation = libm::sqrt(variance.max(0.0));
        let high = (deviation * high).max(quantisation_deviation(*step));
        Estimate::new(deviation, deviation * low, high, basis).ok_or(NotEnough::DoesNotApply)
    };
    let rhythmic = rhythm.map(|power| {
        let power = same
            .iter()
            .map(|i| reduced[*i].seconds * power.get(*i).copied().unwrap_or(0.0))
            .sum::<f64>()
            / seconds;
        power.min(pooled)
    });
    let distances: Vec<(f64, f64)> =
        same.iter().flat_map(|i| holds[*i].path.distances(*centre)).collect();
    let at_gate =
        same.iter().any(|i| holds[*i].path.pieces.iter().any(|piece| piece.at.radius() >= GATE));
    LevelSteadiness {
        level,
        radius: weighted::mean(&distances).unwrap_or(0.0),
        deviation: estimate(whole),
        degrees_of_freedom,
        wander: estimate(whole - rhythmic.unwrap_or(0.0)),
        rhythmic: rhythmic.map_or(Err(NotEnough::DoesNotApply), estimate),
        at_gate,
    }
}

/// How many axes' worth of independent values there are: 2 where both move alike, 1 where all goes
/// along one line; `(λ₁ + λ₂)² / (λ₁² + λ₂²)` of the covariance matrix.
fn axes_behind(right: f64, up: f64, both: f64) -> f64 {
    let squares = right * right + up * up + 2.0 * both * both;
    if squares > 0.0 { (right + up) * (right + up) / squares } else { 2.0 }
}

#[cfg(test)]
mod tests;
