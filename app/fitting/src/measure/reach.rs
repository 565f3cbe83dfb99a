//! Comfortable reach by asked direction.

pub use super::plateau::plateau;

use super::DirectionReach;
use super::device::quantisation_deviation;
use super::pushes::Pushes;
use crate::estimate::{Basis, Estimate, Measured, NotEnough};
use crate::position::fold_degrees;
use crate::recording::GAP_SECONDS;
use crate::statistics::{circular, distributions::t_quantile, plain};
use crate::task::TaskRecord;
use crate::{Direction, Position, Span, Trace};

/// With this many pushes in one direction its own variance is used, else the pooled one.
const OWN_VARIANCE_FROM: usize = 10;
/// The fewest pushes in all.
pub(super) const FEWEST_PUSHES: usize = 3;

/// The largest level that a path, told as spans in order of time with their levels, stays at or
/// above for `seconds` without a break in the watching; `None` where it is never watched for so
/// long.
pub(super) fn sustained_level(path: &[(Span, f64)], seconds: f64) -> Option<f64> {
    // A falling front of candidates for the smallest level in a window that slides along.
    let mut front: std::collections::VecDeque<(f64, f64)> = std::collections::VecDeque::new();
    let mut best: Option<f64> = None;
    let mut start = f64::NEG_INFINITY;
    let mut watched_to = f64::NEG_INFINITY;
    for (span, level) in path {
        if span.from_seconds - watched_to > GAP_SECONDS {
            front.clear();
            start = span.from_seconds;
        }
        watched_to = span.to_seconds;
        while front.back().is_some_and(|last| last.1 >= *level) {
            front.pop_back();
        }
        front.push_back((watched_to, *level));
        while front.front().is_some_and(|first| first.0 <= watched_to - seconds) {
            front.pop_front();
        }
        if watched_to - start >= seconds
            && let Some(first) = front.front()
        {
            best = Some(best.map_or(first.1, |best: f64| best.max(first.1)));
        }
    }
    best
}

/// The plateaus of all pushes that count, by asked direction in the order of
/// [`Direction::EIGHT`]; directions without any are left out.
pub(super) fn plateaus(
    pushed: &[Pushes],
    centre_of: impl Fn(&TaskRecord) -> Position,
) -> Vec<(Direction, Vec<Position>)> {
    let mut found: Vec<(Direction, Vec<Position>)> =
        Direction::EIGHT.iter().map(|direction| (*direction, Vec::new())).collect();
    for Pushes { record, pushes } in pushed {
        let path = Trace::of(&record.recording, record.axes);
        for repetition in pushes {
            let Some(direction) = repetition.direction else { continue };
            let end = plateau(&path, centre_of(record), repetition.span);
            let group = found.iter_mut().find(|group| group.0 == direction);
            if let (Some(end), Some(group)) = (end, group) {
                group.1.push(end);
            }
        }
    }
    found.retain(|group| !group.1.is_empty());
    found
}

/// Seconds of the pushes in one direction.
pub(super) fn seconds_of(pushed: &[Pushes], asked: Direction) -> f64 {
    let all = pushed.iter().flat_map(|record| &record.pushes);
    all.filter(|push| push.direction == Some(asked)).map(|push| push.span.seconds()).sum()
}

/// Notes which directions nobody asked for: how far off they went does not apply.
pub(super) fn say_free(reach: &mut [DirectionReach], free: &[Direction]) {
    for one in reach.iter_mut().filter(|one| free.contains(&one.asked)) {
        one.free = true;
        one.degrees_off = Err(NotEnough::DoesNotApply);
    }
}

/// Squares about their own means and the degrees of freedom these leave, pooled.
#[derive(Clone, Copy, Default)]
pub(super) struct Pool {
    squares: f64,
    degrees_of_freedom: f64,
}

impl Pool {
    pub(super) fn add(self, values: &[f64]) -> Self {
        Self {
            squares: self.squares + plain::squares_about_mean(values),
            degrees_of_freedom: self.degrees_of_freedom + values.len().saturating_sub(1) as f64,
        }
    }

    /// Half of the 95 % t interval of a mean of `n`, with this or, from ten on, its own
    /// variance.
    pub(super) fn half(self, own: &[f64]) -> Option<f64> {
        let pool = if own.len() >= OWN_VARIANCE_FROM { Self::default().add(own) } else { self };
        (pool.degrees_of_freedom >= 1.0).then(|| {
            t_quantile(0.975, pool.degrees_of_freedom)
                * libm::sqrt(pool.squares / pool.degrees_of_freedom / own.len() as f64)
        })
    }
}

/// Measures reach from the plateaus of the pushes.
///
/// The interval is a t interval on the variance pooled over the directions with its degrees of
/// freedom (a direction with ten or more pushes uses its own): three to five pushes alone say
/// next to nothing of their spread. What every push has in common is added to it, for no number of
/// pushes averages it away: what the stick's `step` (0 if unknown) leaves untold of a place and of its
/// direction, with an even spread of `step / √12`, and how `unsure` the centre is that they are told
/// from (half of its 95 % interval, share of travel). Fewer than three pushes in all, or not one
/// repeated, are not enough.
pub(super) fn reach(
    plateaus: &[(Direction, Vec<Position>)],
    step: f64,
    unsure: f64,
    seconds_of: impl Fn(Direction) -> f64,
) -> Vec<DirectionReach> {
    let total: usize = plateaus.iter().map(|group| group.1.len()).sum();
    let lengths = |ends: &[Position]| ends.iter().map(|end| end.radius()).collect::<Vec<_>>();
    let turns = |asked: Direction, ends: &[Position]| {
        ends.iter().map(|end| fold_degrees(end.degrees() - asked.degrees())).collect::<Vec<_>>()
    };
    let (mut length_pool, mut turn_pool) = (Pool::default(), Pool::default());
    for (asked, ends) in plateaus {
        length_pool = length_pool.add(&lengths(ends));
        turn_pool = turn_pool.add(&circular::about_mean(&turns(*asked, ends)));
    }
    plateaus
        .iter()
        .map(|(asked, ends)| {
            let (lengths, turns) = (lengths(ends), turns(*asked, ends));
            let basis = Basis { seconds: seconds_of(*asked), repetitions: ends.len() };
            let few = NotEnough::Repetitions { have: total, need: FEWEST_PUSHES };
            let enough = total >= FEWEST_PUSHES;
            let once = NotEnough::Repetitions { have: ends.len(), need: 2 };
            let place = libm::hypot(1.96 * quantisation_deviation(step), unsure);
            let angle = libm::atan2(place, mean_place(ends).radius()).to_degrees();
            let estimate = |middle: Option<f64>, half: Option<f64>| -> Measured {
                if !enough {
                    return Err(few);
                }
                let (middle, half) = (middle.ok_or(few)?, half.ok_or(once)?);
                Estimate::new(middle, middle - half, middle + half, basis)
                    .ok_or(NotEnough::DoesNotApply)
            };
            DirectionReach {
                asked: *asked,
                reach: estimate(
                    plain::mean(&lengths),
                    length_pool.half(&lengths).map(|half| libm::hypot(half, place)),
                )
                .map(|reach| reach.held_to(0.0, f64::MAX)),
                end: Some(mean_place(ends)),
                degrees_off: estimate(
                    circular::mean(&turns).map(|mean| mean.0),
                    turn_pool
                        .half(&circular::about_mean(&turns))
                        .map(|half| libm::hypot(half, angle).min(180.0)),
                ),
                ends: ends.clone(),
                free: false,
            }
        })
        .collect()
}

/// The mean of places; the middle for none.
pub(super) fn mean_place(places: &[Position]) -> Position {
    let sum = places.iter().fold(Position::ORIGIN, |sum, place| sum + *place);
    sum * (1.0 / places.len().max(1) as f64)
}
