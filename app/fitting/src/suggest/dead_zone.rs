//! The dead zone: the smallest radius whose false movements stay under the wish.

use super::{BusyRate, DeadZoneAdvice, FrequentMovements, Remedy, Weakest, Wish};
use crate::Direction;
use crate::estimate::{Basis, Estimate, Measured, NotEnough, Sureness};
use crate::measure::events::Sustained;
use crate::measure::rest::FARTHEST_RADIUS;
use crate::measure::windows::SETTLING_SECONDS;
use crate::measure::{DeviceMeasures, DirectionReach, RatePoint, RestMeasures, Sudden};
use crate::statistics::counts::poisson_mid_p;
use crate::statistics::plain;
use crate::statistics::tails::Tail;
use crate::task::Meanwhile;

/// A dead zone that eats more than this share of the weakest reach collides with it.
pub const COLLISION_SHARE: f64 = 1.0 / 3.0;
/// An interval of the radius this wide is narrow enough to act on, share of travel...
const NARROW: f64 = 0.02;
/// ... or this share of the radius itself: the suggestion, its upper end, is then less than a fifth
/// above its middle.
const NARROW_SHARE: f64 = 0.33;
/// The rest must have been seen for about the time between two false movements that are wished
/// for; the second in which a rest settles does not matter to that.
const SEEN_SHARE: f64 = 0.95;
/// Asking for less than this more is not worth the asking, seconds.
const LEAST_MORE_SECONDS: f64 = 10.0;
/// A rest at another moment of the visit takes so long, seconds.
const ANOTHER_REST_SECONDS: f64 = 60.0;
/// The smallest wish that is taken: one false movement in ten hours.
const LEAST_WISH_PER_MINUTE: f64 = 1.0 / 600.0;
/// A radius beyond the curve is found to this, share of travel.
const RADIUS_RESOLUTION: f64 = 1e-6;
/// So many times farther below the suggestion than the rest's own interval says lies what may truly be
/// needed; as in `measure::calibration`.
const LOW_TIMES: f64 = 2.0;
/// Covering a movement of a size takes a little more than that size, share of travel.
const COVER_MARGIN: f64 = 0.005;

/// The suggested dead zone, from the rest as the dead zone will see it: after centre, direction
/// map and smoothing, so that a gain raises it and smoothing lowers it.
///
/// The interval is that of the radius truly needed, where the rate is just the wish; the
/// suggestion is its upper end, where even the upper end of the rate's 95 % band has fallen to
/// the wish. So `value` equals `high`.
///
/// It is no smaller than `at_least`. Where the rest is not the same throughout, the interval ends as
/// far beyond as its parts differ, and nothing is firm.
pub(super) fn dead_zone(
    seen: &Seen,
    device: &DeviceMeasures,
    wish: Wish,
    at_least: f64,
) -> Result<DeadZoneAdvice, NotEnough> {
    let rest = seen.rest.as_ref().map_err(|why| *why)?;
    let wished = wished_per_minute(wish);
    let step = device.step.unwrap_or(0.0);
    // Where the middle is hidden and nothing came out of it, there is nothing to go by.
    if device.still_middle && rest.largest_continual <= step {
        return Err(NotEnough::Hidden);
    }
    // Nor where the stick was only ever seen in one place: what it cannot show is not known yet.
    if rest.largest_continual <= 0.0 && device.step.is_err() {
        return Err(NotEnough::NothingRecorded);
    }
    let basis = Basis { seconds: rest.seconds, repetitions: 0 };
    let (value, low) = radius_needed(rest, step, wished)?;
    let not_stationary = rest.parts.not_stationary;
    let differ = not_stationary.map_or(0.0, |_| rest.parts.thirds_differ);
    let value = (value + differ).min(FARTHEST_RADIUS).max(at_least);
    let low = (low - differ).max(0.0);
    let radius =
        Estimate::new(value, low.min(value), value, basis).ok_or(NotEnough::DoesNotApply)?;
    let counted_bound_per_minute = counted_bound(rest, value);
    let narrow = NARROW.max(NARROW_SHARE * value).max(2.0 * step);
    let one_wished_interval = 60.0 / wished;
    let is_seen = counted_bound_per_minute <= wished
        || (rest.tail.is_some()
            && rest.seconds >= SEEN_SHARE * one_wished_interval
            && radius.width() <= narrow);
    let sureness = radius.sureness(is_seen && not_stationary.is_none());
    let more_seconds = match sureness {
        Sureness::Firm => None,
        _ if is_seen => Some(ANOTHER_REST_SECONDS),
        _ => Some(more_seconds(rest, &radius, narrow, one_wished_interval)),
    };
    // Last: what is firm and how much more to rest was settled by the rest's own interval.
    let low = (value - LOW_TIMES * (value - radius.low)).max(0.0);
    let radius = Estimate { low, ..radius };
    let weakest = weakest(&seen.reach, value);
    let collides = weakest.is_some_and(|weakest| weakest.eaten > COLLISION_SHARE);
    Ok(DeadZoneAdvice {
        radius,
        sureness,
        rest_seconds: rest.seconds,
        counted_bound_per_minute,
        from_model: rest.tail.as_ref().is_some_and(|tail| value >= tail.threshold),
        collides,
        weakest,
        covering_sudden: rest
            .sudden
            .sizes
            .iter()
            .copied()
            .max_by(f64::total_cmp)
            .map(|size| (size + COVER_MARGIN.max(step)).max(value)),
        more_seconds,
        not_stationary,
        covers_frequent: covers_frequent(&rest.sudden),
        hidden_middle: device.hidden_middle,
        busy: seen.busy.iter().map(|busy| busy.rate(value, step, wished)).collect(),
        remedies: if collides { remedies(BodyAnswers::default()) } else { Vec::new() },
    })
}

/// The fast movements that could not be told apart from the rest: how many, the smallest and the
/// largest.
fn covers_frequent(sudden: &Sudden) -> Option<FrequentMovements> {
    let smallest = sudden.covered.iter().copied().min_by(f64::total_cmp)?;
    let largest = sudden.covered.iter().copied().max_by(f64::total_cmp)?;
    Some(FrequentMovements { count: sudden.covered.len(), smallest, largest })
}

/// The wish as a rate that can be worked with.
pub(super) fn wished_per_minute(wish: Wish) -> f64 {
    if wish.false_per_minute.is_finite() {
        wish.false_per_minute.max(LEAST_WISH_PER_MINUTE)
    } else {
        Wish::default().false_per_minute
    }
}

/// The radius at which the upper end of the rate's band has fallen to the wish, and the one at
/// which the lower end has.
///
/// # Errors
/// [`NotEnough::OutOfRange`] where no dead zone up to [`FARTHEST_RADIUS`] keeps it.
pub(super) fn radius_needed(
    rest: &RestMeasures,
    step: f64,
    wished: f64,
) -> Result<(f64, f64), NotEnough> {
    let (value, low) = match &rest.tail {
        Some(tail) => {
            let from = |end: BandEnd| radius_for(&rest.curve, tail, wished, end);
            (from(|_, high| high), from(|low, _| low))
        }
        // A rest so still that there is no tail: one step beyond everything that was seen.
        None => (Some(rest.largest_continual + step), Some(rest.largest_continual)),
    };
    let value = value.map(|value| value.max(step)).filter(|value| *value <= FARTHEST_RADIUS);
    value.map(|value| (value, low.unwrap_or(value))).ok_or(NotEnough::OutOfRange)
}

/// The radius that only one in ten of the false movements allowed still passes, or the farthest
/// there is.
pub(super) fn rare_radius(rest: &RestMeasures, step: f64, wish: Wish) -> f64 {
    radius_needed(rest, step, 0.1 * wished_per_minute(wish))
        .map_or(FARTHEST_RADIUS, |needed| needed.0)
}

/// What the dead zone will see: rest, busy rests and reach after what comes before it.
pub(super) struct Seen {
    pub(super) rest: Result<RestMeasures, NotEnough>,
    pub(super) busy: Vec<SeenBusy>,
    /// By asked direction.
    pub(super) reach: Vec<(Direction, f64)>,
}

/// One kind of busy rest as the dead zone will see it.
pub(super) struct SeenBusy {
    pub(super) meanwhile: Meanwhile,
    /// Sustained distances from the centre.
    pub(super) sustained: Sustained,
    pub(super) rest: Result<RestMeasures, NotEnough>,
}

impl SeenBusy {
    /// What this radius would let through.
    fn rate(&self, radius: f64, step: f64, wished: f64) -> BusyRate {
        let count = self.sustained.events_beyond(radius).len();
        BusyRate {
            meanwhile: self.meanwhile,
            per_minute: counted(count, self.sustained.seconds()),
            radius_needed: self
                .rest
                .as_ref()
                .ok()
                .and_then(|rest| radius_needed(rest, step, wished).ok())
                .map(|needed| needed.0),
        }
    }
}

/// A count in so many seconds as a rate a minute, with its mid-P interval.
pub(super) fn counted(count: usize, seconds: f64) -> Measured {
    let minutes = seconds / 60.0;
    if minutes <= 0.0 {
        return Err(NotEnough::NothingRecorded);
    }
    let (low, high) = poisson_mid_p(count as f64);
    let basis = Basis { seconds, repetitions: count };
    Estimate::new(count as f64 / minutes, low / minutes, high / minutes, basis)
        .ok_or(NotEnough::DoesNotApply)
}

/// What was answered about the body; `None` for what was not asked or not answered.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct BodyAnswers {
    /// Muscles are weak.
    pub weakness: Option<bool>,
    /// It hurts.
    pub pain: Option<bool>,
    /// A joint slips or is loose.
    pub joint_instability: Option<bool>,
}

/// What to try when rest and reach collide, in order. A heavier spring is named only where
/// weakness, pain and joint instability were each answered no.
///
/// The order is common practice, no source. That stiffer is not better in general: people with
/// cerebral palsy did better with spring-centred sticks than with force sticks (Rao 2000),
/// people with tremor best with force sticks (Dicianno 2009); both from memory.
#[must_use]
pub fn remedies(answers: BodyAnswers) -> Vec<Remedy> {
    let BodyAnswers { weakness, pain, joint_instability } = answers;
    let mut list = vec![
        Remedy::PostureAndArmSupport,
        Remedy::OtherSiteOrTopper,
        Remedy::LighterOrShorterThrow,
        Remedy::Software,
    ];
    if [weakness, pain, joint_instability].iter().all(|answer| *answer == Some(false)) {
        list.push(Remedy::HeavierSpring);
    }
    list.push(Remedy::BothSpringAndForce);
    list
}

/// One end of a rate's band, of its lower and its upper one.
type BandEnd = fn(f64, f64) -> f64;

/// The smallest radius from which on this end of the band stays at or under `wished`: straight lines
/// between the curve's points, in the logarithm of the rate, and the tail itself beyond its last.
/// Never falls when the wish gets stricter. `None` where it is farther than [`FARTHEST_RADIUS`].
fn radius_for(curve: &[RatePoint], tail: &Tail, wished: f64, end: BandEnd) -> Option<f64> {
    let read = |point: &RatePoint| end(point.low, point.high);
    let Some(over) = curve.iter().rposition(|point| read(point) > wished) else {
        return Some(curve.first().map_or(0.0, |point| point.radius));
    };
    let Some(under) = curve.get(over + 1) else {
        return beyond_curve(curve[over].radius, tail, wished, end);
    };
    let over = &curve[over];
    let (high, low) = (read(over), read(under).max(1e-9));
    let share = libm::log(high / wished) / libm::log(high / low);
    Some(over.radius + share.clamp(0.0, 1.0) * (under.radius - over.radius))
}

/// The same from the last point of the curve on, by halving.
fn beyond_curve(last: f64, tail: &Tail, wished: f64, end: BandEnd) -> Option<f64> {
    let is_over = |radius: f64| {
        let rate = tail.rate(radius);
        end(rate.low, rate.high) > wished
    };
    if is_over(FARTHEST_RADIUS) {
        return None;
    }
    let (mut low, mut high) = (last, FARTHEST_RADIUS);
    while high - low > RADIUS_RESOLUTION {
        let middle = 0.5 * (low + high);
        if is_over(middle) { low = middle } else { high = middle }
    }
    Some(high)
}

/// What counting alone shows at this radius: the upper end of the mid-P interval of the rate,
/// counted at the nearest smaller radius of the curve (so never too low).
fn counted_bound(rest: &RestMeasures, radius: f64) -> f64 {
    let minutes = rest.seconds / 60.0;
    let seen = rest
        .curve
        .iter()
        .rev()
        .find(|point| point.radius <= radius)
        .map_or(0.0, |point| point.counted_per_minute * minutes);
    poisson_mid_p(seen).1 / minutes
}

/// How much more rest would make it firm: the width of the interval falls with the square root
/// of time, and at least one wished interval must be seen. Never more than what lets counting
/// alone decide (three wished intervals without an event).
fn more_seconds(
    rest: &RestMeasures,
    radius: &Estimate,
    narrow: f64,
    one_wished_interval: f64,
) -> f64 {
    let by_count = 3.0 * one_wished_interval;
    let needed = if rest.tail.is_some() {
        let ratio = radius.width() / narrow;
        (rest.seconds * ratio * ratio).max(SEEN_SHARE * one_wished_interval).min(by_count)
    } else {
        by_count
    };
    // More rest has to settle as well.
    (needed - rest.seconds + SETTLING_SECONDS).max(LEAST_MORE_SECONDS)
}

/// Comfortable reach as far as it is known: the estimate, else the mean of what there is.
pub(super) fn reach_of(direction: &DirectionReach) -> Option<f64> {
    direction.reach.ok().map(|reach| reach.value).or_else(|| {
        let lengths: Vec<f64> = direction.ends.iter().map(|end| end.radius()).collect();
        plain::mean(&lengths)
    })
}

/// The direction with the shortest reach, and the share of it that a dead zone eats.
pub(super) fn weakest(reach: &[(Direction, f64)], dead_zone: f64) -> Option<Weakest> {
    reach.iter().copied().min_by(|one, other| one.1.total_cmp(&other.1)).map(|(asked, reach)| {
        let eaten = if reach > 0.0 { (dead_zone / reach).min(1.0) } else { 1.0 };
        Weakest { asked, reach, eaten }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Position;
    use crate::measure::measure;
    use crate::measure::test_records::{quiet_rest, recording};

    /// A minute of restless waves of this size.
    fn rest(size: f64) -> RestMeasures {
        let wave = |hertz: f64, at: f64| libm::sin(std::f64::consts::TAU * hertz * at);
        let path = |at: f64| {
            let right = wave(0.31, at) + wave(0.83, at + 0.2) + 0.7 * wave(2.3, at);
            let up = wave(0.27, at + 1.0) + wave(0.71, at) + 0.7 * wave(2.1, at + 0.1);
            Position::new(size * right, size * up)
        };
        measure(&[quiet_rest(recording(0.0, 61.0, 100.0, false, path))]).rest.unwrap()
    }

    /// From the mildest wish to the strictest that is taken: where the suggestion lies, the upper
    /// end of the rate's band has fallen to the wish, and to a tenth of it where the curve asks.
    #[test]
    fn the_radius_reaches_every_wish_that_is_taken() {
        let rest = rest(0.02);
        let tail = rest.tail.as_ref().unwrap();
        let mut before = 0.0;
        for i in 0..=40 {
            let minutes = 0.5 * libm::pow(1200.0, f64::from(i) / 40.0);
            let wish = Wish { false_per_minute: 1.0 / minutes, ..Wish::default() };
            let needed = radius_needed(&rest, 0.0, wished_per_minute(wish)).unwrap().0;
            let rare = rare_radius(&rest, 0.0, wish);
            for (radius, wished) in [(needed, 1.0 / minutes), (rare, 0.1 / minutes)] {
                // Between points of the curve the logarithm of the rate is no straight line.
                let rate = tail.rate(radius).high;
                assert!(rate <= 1.1 * wished, "{minutes} min: {rate} at {radius}");
            }
            assert!(before < needed && needed < rare, "{minutes} min: {before} {needed} {rare}");
            before = needed;
        }
    }

    #[test]
    fn a_wish_that_no_dead_zone_keeps_says_so() {
        let wished = wished_per_minute(Wish::default());
        for rest in [rest(0.4), RestMeasures { tail: None, largest_continual: 1.2, ..rest(0.02) }] {
            assert_eq!(radius_needed(&rest, 0.0, wished), Err(NotEnough::OutOfRange));
            assert_eq!(rare_radius(&rest, 0.0, Wish::default()), FARTHEST_RADIUS);
            let seen = Seen { rest: Ok(rest), busy: Vec::new(), reach: Vec::new() };
            let device = measure(&[]).device;
            let advice = dead_zone(&seen, &device, Wish::default(), 0.0);
            assert_eq!(advice, Err(NotEnough::OutOfRange));
        }
    }

    /// No dead zone of nothing for a stick of which nothing is known but that it lay still.
    #[test]
    fn a_stick_that_was_seen_in_one_place_only_has_none_yet() {
        use crate::measure::test_records::{quiet_rest, recording};
        for at in [Position::ORIGIN, Position::new(0.004, -0.004)] {
            let still = [quiet_rest(recording(0.0, 30.0, 100.0, true, |_| at))];
            let measures = measure(&still);
            let suggestions = crate::suggest::suggest(&still, &measures, Wish::default());
            assert_eq!(suggestions.dead_zone, Err(NotEnough::NothingRecorded));
        }
    }

    #[test]
    fn a_heavier_spring_needs_three_noes() {
        let plain = remedies(BodyAnswers::default());
        assert_eq!(plain[0], Remedy::PostureAndArmSupport);
        assert!(!plain.contains(&Remedy::HeavierSpring));
        let no = Some(false);
        let all = BodyAnswers { weakness: no, pain: no, joint_instability: no };
        assert_eq!(remedies(all)[4], Remedy::HeavierSpring);
        let pain = BodyAnswers { pain: Some(true), ..all };
        assert_eq!(remedies(pain), plain);
    }
}
