//! Full throw: the push that counts as all the way.

use super::dead_zone::reach_of;
use super::{FullThrowAdvice, FullThrowSource};
use crate::Direction;
use crate::estimate::{Basis, Estimate, NotEnough, Sureness};
use crate::measure::{DirectionReach, Measures};

/// What of comfortable reach is taken, as long as no sustained hold says what can be kept up.
pub(super) const SHARE_OF_REACH: f64 = 0.8;
/// The lower end of the reach's interval is heeded down to this share of the reach: few
/// repetitions with one odd push must not make the throw nothing.
const LEAST_SHARE_OF_REACH: f64 = 0.6;
/// Between dead zone and full throw there must be at least this much to steer in, share of
/// travel.
pub(super) const LEAST_SPAN: f64 = 0.05;

/// The suggested full throw: 80 % of the comfortable reach in the weakest direction, and not
/// above the lower end of that reach's interval. Rough by definition.
pub(super) fn full_throw(
    measures: &Measures,
    dead_zone: f64,
) -> Result<FullThrowAdvice, NotEnough> {
    if measures.reach.is_empty() {
        return Err(NotEnough::NothingRecorded);
    }
    let own: Vec<(Direction, f64, f64)> = measures
        .reach
        .iter()
        .filter_map(|direction| {
            Some((direction.asked, own_throw(direction)?, reach_of(direction)?))
        })
        .collect();
    let (decided_by, value, reach) = own
        .iter()
        .copied()
        .min_by(|one, other| one.1.total_cmp(&other.1))
        .ok_or(NotEnough::NothingRecorded)?;
    let deciding = measures.reach.iter().find(|direction| direction.asked == decided_by);
    let (low, high, basis) = match deciding.map(|direction| direction.reach) {
        Some(Ok(reach)) => (SHARE_OF_REACH * reach.low, SHARE_OF_REACH * reach.high, reach.basis),
        Some(Err(why)) => return Err(why),
        None => (value, SHARE_OF_REACH * reach, Basis::default()),
    };
    let least = dead_zone + LEAST_SPAN;
    let radius = Estimate::new(value, low, high, basis)
        .ok_or(NotEnough::DoesNotApply)?
        .held_to(least.min(1.0), 1.0);
    Ok(FullThrowAdvice {
        radius,
        sureness: Sureness::Rough,
        source: FullThrowSource::ShareOfReach,
        decided_by,
        by_direction: own
            .iter()
            .map(|(asked, throw, reach)| {
                (*asked, throw.clamp(least.min(1.0), 1.0), (reach - radius.value).max(0.0))
            })
            .collect(),
    })
}

/// A direction's own full throw.
fn own_throw(direction: &DirectionReach) -> Option<f64> {
    let reach = reach_of(direction)?;
    let bound = direction.reach.map_or(reach, |reach| reach.low);
    Some((SHARE_OF_REACH * reach).min(bound.max(LEAST_SHARE_OF_REACH * reach)))
}
