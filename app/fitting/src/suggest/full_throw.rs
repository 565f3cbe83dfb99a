//! Full throw: the push that counts as all the way.
//!
//! From what can be kept up, not from one best push: the level held for about 15 s (or for as
//! long as was asked) at an effort of up to 3 of 10. Never more than late pushes surely reach:
//! the lower end of the interval of the last third of the rounds, so that the last minutes of
//! play get to full output too. Without such a hold, 80 % of comfortable reach, called rough. Where that
//! leaves little room to steer in beside the dead zone, farther out, up to what pushes surely reach.
//! Holding is asked at half of own reach first; where that was easy it says only that more can be
//! kept up, so a hold nearer than two thirds of reach bounds nothing from above.

use super::dead_zone::reach_of;
use super::{FullThrowAdvice, FullThrowSource, OwnThrow, ThrowLimit};
use crate::Direction;
use crate::estimate::{Basis, Estimate, NotEnough};
use crate::measure::{DirectionReach, Measures};
use crate::statistics::distributions::t_quantile;
use crate::statistics::plain;
use crate::task::{EASY_EFFORT, TaskAsk, TaskRecord};

/// What of comfortable reach is taken, as long as no sustained hold says what can be kept up.
pub(super) const SHARE_OF_REACH: f64 = 0.8;
/// The lower end of an interval is heeded down to this share of the reach: few repetitions with
/// one odd push must not make the throw nothing.
const LEAST_SHARE_OF_REACH: f64 = 0.6;
/// Between dead zone and full throw there must be at least this much to steer in, share of travel, or the
/// stick is a switch. Common practice, no source: some twenty steps of an 8-bit stick.
const LEAST_STEERING_SPAN: f64 = 0.15;
/// And at least so many standard deviations of a held push: held halfway, it is then neither nothing nor
/// all the way in 98 % of the time, as far as it is normal.
const SPAN_DEVIATIONS: f64 = 5.0;
/// So many times that room is wanted: for it the throw goes out as far as pushes surely reach. With only
/// the least, drawn people followed a slow target worse than with plain settings.
const WANTED_SPANS: f64 = 2.0;
/// No setting, by hand or scaled for one axis, goes below this, share of travel.
pub(super) const LEAST_SPAN: f64 = 0.05;
/// An easy hold farther out than this, as a share of reach, measures what can be kept up; a nearer one
/// is only its lower bound. Between the two levels that are asked.
const FAR_SHARE: f64 = 0.65;
/// A hold of this length tells what can be kept up, seconds; a shorter one if no more was asked.
const LONG_SECONDS: f64 = 15.0;
/// Of the length asked this much is enough: the last moment before the cue is not missed.
const NEARLY: f64 = 0.95;
/// A throw that was kept up this many times and whose interval is this narrow is firm: share of
/// the throw.
const FIRM_TIMES: usize = 2;
const FIRM_SHARE: f64 = 0.1;

/// One direction's own throw, shares of travel after the direction map.
#[derive(Clone, Copy)]
pub(super) struct Own {
    asked: Direction,
    throw: f64,
    low: f64,
    high: f64,
    /// How far it may go for more room to steer in: what pushes surely reach, though only so much of it,
    /// or less after a hold that was hard, is asked for otherwise.
    most: f64,
    reach: f64,
    limit: ThrowLimit,
    /// How many times it was kept up.
    times: usize,
    basis: Basis,
}

impl Own {
    /// It beside a dead zone, which it must not come too near to.
    pub(super) fn beside(&self, dead_zone: f64, least_span: f64) -> OwnThrow {
        let throw = self.most.min(1.0);
        OwnThrow {
            asked: self.asked,
            throw: (throw - dead_zone >= least_span).then_some(throw),
            reach: self.reach,
        }
    }
}

/// The throw of each direction that was pushed. `stretched` is by how much a direction's pushes come
/// out longer than they went in.
pub(super) fn own_throws(
    records: &[TaskRecord],
    measures: &Measures,
    stretched: &dyn Fn(&DirectionReach) -> f64,
) -> Vec<Own> {
    let spread = pooled_spread(&measures.reach);
    measures
        .reach
        .iter()
        .filter_map(|direction| {
            let own = own_throw(records, measures, direction, spread)?;
            let by = stretched(direction);
            Some(Own {
                throw: by * own.throw,
                low: by * own.low,
                high: by * own.high,
                most: by * own.most,
                reach: by * own.reach,
                ..own
            })
        })
        .collect()
}

/// The least that there must be between dead zone and full throw to steer in, share of travel, where
/// pushes come out `gain` times as long as they went in.
pub(super) fn least_span(measures: &Measures, gain: f64) -> f64 {
    let held = measures.hold.iter().filter(|level| !level.at_gate);
    let unsteady = held.filter_map(|level| level.deviation.as_ref().ok()).map(|one| one.value);
    LEAST_STEERING_SPAN.max(SPAN_DEVIATIONS * gain * unsteady.fold(0.0, f64::max))
}

/// Whether every direction that was pushed can be steered in beside this dead zone, share of travel.
pub(super) fn leaves_span(own: &[Own], dead_zone: f64, least_span: f64) -> bool {
    own.iter().all(|own| own.most - dead_zone >= least_span)
}

/// The throws with as much more as each may have, where the dead zone leaves too little to steer in.
fn with_room(own: &[Own], dead_zone: f64, least_span: f64) -> Vec<Own> {
    let wanted = dead_zone + WANTED_SPANS * least_span;
    let with_room = |own: &Own| {
        let throw = wanted.min(own.most);
        if throw <= own.throw {
            return *own;
        }
        let (low, high) = (own.low.min(throw), own.high.max(throw));
        Own { throw, low, high, limit: ThrowLimit::RoomToSteer, ..*own }
    };
    own.iter().map(with_room).collect()
}

/// The suggested full throw: one number for all directions.
pub(super) fn full_throw(
    own: &[Own],
    measures: &Measures,
    dead_zone: f64,
    least_span: f64,
) -> Result<FullThrowAdvice, NotEnough> {
    let own = with_room(own, dead_zone, least_span);
    let decides = own
        .iter()
        .min_by(|one, other| one.throw.total_cmp(&other.throw))
        .ok_or(NotEnough::NothingRecorded)?;
    let deciding = measures.reach.iter().find(|direction| direction.asked == decides.asked);
    if let Some(Err(why)) = deciding.map(|direction| direction.reach)
        && decides.limit != ThrowLimit::KeptUp
    {
        return Err(why);
    }
    if !leaves_span(&own, dead_zone, least_span) {
        return Err(NotEnough::NoSteeringSpan);
    }
    let least = (dead_zone + LEAST_SPAN).min(1.0);
    let radius = Estimate::new(decides.throw, decides.low, decides.high, decides.basis)
        .ok_or(NotEnough::DoesNotApply)?
        .held_to(least, 1.0);
    let source = match decides.limit {
        ThrowLimit::KeptUp => FullThrowSource::Sustained,
        _ => FullThrowSource::ShareOfReach,
    };
    // What was possible once may not be again.
    let firm = decides.times >= FIRM_TIMES && radius.width() <= FIRM_SHARE * radius.value;
    let axis = |two: [Direction; 2]| {
        let both = own.iter().filter(|own| two.contains(&own.asked));
        let throw = both.clone().map(|own| own.throw).min_by(f64::total_cmp)?.clamp(least, 1.0);
        let farthest = both.map(|own| own.reach).fold(0.0, f64::max);
        Some((throw, (farthest - throw).max(0.0)))
    };
    Ok(FullThrowAdvice {
        radius,
        sureness: radius.sureness(firm),
        source,
        decided_by: decides.asked,
        decided_reach: decides.reach,
        limit: decides.limit,
        right_axis: axis([Direction::Right, Direction::Left]),
        up_axis: axis([Direction::Up, Direction::Down]),
        by_direction: own
            .iter()
            .map(|own| {
                (own.asked, own.throw.clamp(least, 1.0), (own.reach - radius.value).max(0.0))
            })
            .collect(),
    })
}

/// The standard deviation of single pushes about their direction's mean, pooled, with its degrees
/// of freedom.
fn pooled_spread(reach: &[DirectionReach]) -> Option<(f64, f64)> {
    let (mut squares, mut freedom) = (0.0, 0.0);
    for direction in reach {
        let lengths: Vec<f64> = direction.ends.iter().map(|end| end.radius()).collect();
        squares += plain::squares_about_mean(&lengths);
        freedom += lengths.len().saturating_sub(1) as f64;
    }
    (freedom >= 1.0).then(|| (libm::sqrt(squares / freedom), freedom))
}

/// What the last third of the pushes (which are in order of time) surely reaches.
fn late_bound(direction: &DirectionReach, spread: Option<(f64, f64)>) -> Option<f64> {
    let (deviation, freedom) = spread?;
    let late = direction.ends.len().div_ceil(3);
    let lengths: Vec<f64> =
        direction.ends.iter().rev().take(late).map(|end| end.radius()).collect();
    let mean = plain::mean(&lengths)?;
    Some(mean - t_quantile(0.975, freedom) * deviation / libm::sqrt(lengths.len() as f64))
}

/// A direction's own full throw, before the direction map.
fn own_throw(
    records: &[TaskRecord],
    measures: &Measures,
    direction: &DirectionReach,
    spread: Option<(f64, f64)>,
) -> Option<Own> {
    let reach = reach_of(direction)?;
    let surely = direction.reach.map_or(reach, |reach| reach.low);
    let (bound, bounded_by) = match late_bound(direction, spread) {
        Some(late) if late < surely => (late, ThrowLimit::LatePushes),
        _ => (surely, ThrowLimit::SurelyReached),
    };
    let bound = bound.max(LEAST_SHARE_OF_REACH * reach);
    let by_share = SHARE_OF_REACH * reach;
    let (low, high, basis) = direction
        .reach
        .map_or((reach, reach, Basis::default()), |reach| (reach.low, reach.high, reach.basis));
    let share = Own {
        asked: direction.asked,
        throw: by_share.min(bound),
        low: SHARE_OF_REACH * low,
        high: SHARE_OF_REACH * high,
        most: bound.min(reach),
        reach,
        limit: if bound < by_share { bounded_by } else { ThrowLimit::ShareOfReach },
        times: 0,
        basis,
    };
    let held = measures
        .sustained
        .iter()
        .find(|held| held.asked == direction.asked)
        .and_then(|held| Some((held, held.kept.ok()?, held.effort?)));
    let Some((held, kept, effort)) = held else { return Some(share) };
    let long =
        NEARLY * asked_seconds(records, direction.asked).unwrap_or(LONG_SECONDS).min(LONG_SECONDS);
    if held.seconds < long || effort > EASY_EFFORT {
        // What could not be kept up, or only with effort, is more than full output may ask.
        if kept.value >= share.throw {
            return Some(share);
        }
        let throw = kept.value;
        return Some(Own {
            throw,
            low: share.low.min(throw),
            limit: ThrowLimit::HardHold,
            ..share
        });
    }
    if let Some(level) = held.hard_at_level {
        // It lies between what was easy and what was hard; half-way, until more is known.
        let between = (kept.value + level * reach) / 2.0;
        let limit = if between < share.throw { ThrowLimit::EasyAndHard } else { share.limit };
        let throw = between.min(share.throw);
        let low = kept.low.min(throw);
        return Some(Own { throw, low, high: (level * reach).max(throw), limit, ..share });
    }
    if kept.value < (FAR_SHARE * reach).min(share.throw) {
        return Some(Own { low: share.low.max(kept.low.min(share.throw)), ..share });
    }
    let throw = kept.value.min(bound);
    Some(Own {
        throw,
        low: kept.low.min(throw),
        high: kept.high.min(bound).max(throw),
        most: throw.max(share.most),
        limit: ThrowLimit::KeptUp,
        times: held.times,
        basis: kept.basis,
        ..share
    })
}

/// How long the longest hold in this direction was asked to last.
fn asked_seconds(records: &[TaskRecord], asked: Direction) -> Option<f64> {
    records
        .iter()
        .filter_map(|record| match &record.ask {
            TaskAsk::Sustained { directions, seconds, .. } if directions.contains(&asked) => {
                Some(*seconds)
            }
            _ => None,
        })
        .max_by(f64::total_cmp)
}

#[cfg(test)]
mod tests;
