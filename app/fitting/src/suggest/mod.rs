//! Settings computed from measures, each with its interval, its reason and its cost.

mod advice;
pub mod curve;
mod dead_zone;
pub mod direction;
mod effect;
mod full_throw;
mod host;
pub mod layers;
pub mod own_game;
mod recorded;
mod seen;
mod smoothing;
mod switches;
mod timing;

#[cfg(test)]
mod alone_tests;
#[cfg(test)]
mod dead_zone_truth;
#[cfg(test)]
mod people_tests;
#[cfg(test)]
mod stationary_tests;
#[cfg(test)]
mod whole_tests;

pub use advice::{
    BusyRate, ButtonAdvice, CurveAdvice, DeadZoneAdvice, DirectionAdvice, Effect,
    FrequentMovements, FullThrowAdvice, FullThrowSource, JitterAtLevel, OwnThrow, ReachKept,
    Remedy, RepeatReason, SmoothingAdvice, SmoothingPoint, Suggestions, SwitchAdvice, ThrowLimit,
    Weakest,
};
pub use dead_zone::{BodyAnswers, COLLISION_SHARE, remedies};
pub use effect::Prepared;
pub use host::HostForm;
pub use timing::least_sure;

use crate::estimate::{NotEnough, StickTrait};
use crate::measure::Measures;
use crate::settings::{Curve, DirectionMap, Settings, Smoothing};
use crate::task::TaskRecord;
use crate::{Pipeline, Position, StickKind};
use dead_zone::Seen;
use seen::{Recorded, gains_more_than_it_costs};
use serde::{Deserialize, Serialize};

/// What the person wants of the settings.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Wish {
    /// At most this many false movements a minute.
    pub false_per_minute: f64,
    /// Smoothing may add at most this much lag, seconds.
    #[serde(default = "most_lag_seconds")]
    pub most_lag_seconds: f64,
}

/// The lag that smoothing may add when nothing was said, seconds. Well inside the 0.1 s that
/// MIL-STD-1472E 5.4.3.2.2.1.2 grants the whole way from control to display.
const fn most_lag_seconds() -> f64 {
    0.03
}

impl Default for Wish {
    /// One false movement in two minutes; smoothing adds at most 30 ms.
    fn default() -> Self {
        Self { false_per_minute: 0.5, most_lag_seconds: most_lag_seconds() }
    }
}

/// Suggests settings from the records and what was measured of them. What there is not enough for
/// keeps its default: the stick as it is.
///
/// In the order in which settings are applied, so that each is judged on what those before it
/// make of the recordings: full throw and curve on pushes after the direction map. A gain is taken
/// into the settings only where the weakest direction gains more of its reach than any other loses.
///
/// Most hosts take a dead zone and neither centre nor smoothing (common practice, no source): the
/// dead zone of the settings is the one that holds by itself, as long as that leaves room to steer in.
/// The smaller one that is enough where all of the settings are applied stands beside it.
#[must_use]
pub fn suggest(records: &[TaskRecord], measures: &Measures, wish: Wish) -> Suggestions {
    let kind = records.last().map_or_else(StickKind::default, |record| record.known.kind);
    let recorded = Recorded::of(records);
    let mut settings = Settings { centre: centre(measures, kind), ..Settings::default() };

    let (mut direction, levelling) =
        match direction::direction(measures.map.as_ref().map_err(|why| *why)) {
            Ok((advice, levelling)) => (Ok(advice), levelling),
            Err(why) => (Err(why), None),
        };
    if let Ok(advice) = &direction {
        settings.direction = DirectionMap { turn_degrees: 0.0, ..advice.map };
    }

    let mut smoothing =
        smoothing::smoothing(&recorded.holds, &recorded.pushes, &Pipeline::new(&settings), wish);
    if let Ok(advice) = &smoothing {
        settings.smoothing = advice.chosen;
    }

    let advise_at_least = |seen: &Seen, at_least: f64| match kind.lacks_centring() {
        Some(lacks) => Err(NotEnough::NotFor(lacks)),
        None => dead_zone::dead_zone(seen, &measures.device, wish, at_least),
    };
    let advise = |seen: &Seen| advise_at_least(seen, 0.0);
    let mut seen = recorded.seen(measures, &settings);
    let mut with_all = advise(&seen);
    let without_gain = with_all.as_ref().map(|advice| advice.radius.value).map_err(|why| *why);
    if let (Some(levelling), Ok(advice), Ok(without)) = (levelling, &mut direction, &with_all) {
        let stretched = Settings { direction: levelling.on(&advice.map), ..settings.clone() };
        let with_gain = recorded.seen(measures, &stretched);
        if let Ok(with) = advise(&with_gain) {
            advice.dead_zone_with_gain = Some(with.radius.value);
            let without = (seen.reach.as_slice(), without.radius.value);
            let is_worth_it =
                gains_more_than_it_costs(without, (&with_gain.reach, with.radius.value));
            if is_worth_it && !kind.switches {
                advice.map = stretched.direction;
                (settings, seen, with_all) = (stretched, with_gain, Ok(with));
            }
        }
    }
    if let (Ok(advice), Ok(with)) = (&mut smoothing, &with_all) {
        let with = with.radius.value;
        let without = if advice.chosen == Smoothing::Off {
            Some(with)
        } else {
            let plain = Settings { smoothing: Smoothing::Off, ..settings.clone() };
            advise(&recorded.seen(measures, &plain)).ok().map(|without| without.radius.value)
        };
        // Smoothing never asks for a larger one: where it seems to, the rest leaves that open.
        advice.dead_zone_without_and_with = without.map(|without| (without.max(with), with));
    }

    // The less a host takes of what comes before, the larger: where it seems otherwise, the rest
    // leaves that open.
    let at_frames = |centre: Position, at_least: f64| {
        advise_at_least(&recorded.seen_at_frames(measures, centre, seen.reach.clone()), at_least)
    };
    let has_gain = settings.direction.right_gain != 1.0 || settings.direction.up_gain != 1.0;
    let unsmoothed = smoothing.as_ref().ok().and_then(|advice| advice.dead_zone_without_and_with);
    let unsmoothed = unsmoothed.map_or(0.0, |(without, _)| without);
    let least = without_gain.map(|smooth| if has_gain { smooth } else { smooth.max(unsmoothed) });
    let with_centre = least.and_then(|least| at_frames(settings.centre, least));
    let alone = with_centre.and_then(|with| at_frames(Position::ORIGIN, with.radius.value));
    // A gain enlarges what comes after it, with smoothing and without.
    let mut dead_zone = match alone {
        Ok(alone) if has_gain => advise_at_least(&seen, alone.radius.value.max(unsmoothed)),
        alone => alone,
    };

    let timing = timing::timing(&measures.presses);
    settings.buttons = timing::for_all(&measures.presses, &timing);
    if kind.switches {
        // Thresholds of their own take the place of dead zone, full throw and curve.
        let why = NotEnough::NotFor(StickTrait::Switches);
        let needed = with_all.as_ref().ok().map(|advice| advice.radius.value);
        let switches = switches::switches(measures, &seen.rest, needed, &recorded.rest, &settings);
        settings.switches = switches.as_ref().ok().map(|advice| advice.thresholds);
        let (dead_zone, full_throw, curve) = (Err(why), Err(why), Err(why));
        return Suggestions {
            settings,
            dead_zone,
            dead_zone_with_all: Err(why),
            dead_zone_alone: None,
            full_throw,
            own_throws: Vec::new(),
            curve,
            direction,
            smoothing,
            timing,
            switches,
        };
    }
    let stretched = seen::stretched(&settings);
    let own = full_throw::own_throws(records, measures, &stretched);
    let gain = settings.direction.right_gain.max(settings.direction.up_gain);
    let least_span = full_throw::least_span(measures, gain);
    let steers =
        |with: &DeadZoneAdvice| full_throw::leaves_span(&own, with.radius.value, least_span);
    let mut dead_zone_alone = None;
    if let Ok(with) = &with_all {
        let holds_alone = match &dead_zone {
            Ok(alone) => steers(alone) || !steers(with),
            // Far beside the middle no radius about the middle keeps the wish.
            Err(why) => *why != NotEnough::OutOfRange,
        };
        if !holds_alone {
            let alone = std::mem::replace(&mut dead_zone, Ok(with.clone()));
            dead_zone_alone = Some(alone.map(|advice| advice.radius.value));
        }
    }
    let needed = dead_zone.as_ref().ok().map(|advice| advice.radius.value);
    settings.dead_zone = needed.unwrap_or(0.0);
    let full_throw = full_throw::full_throw(&own, measures, settings.dead_zone, least_span);
    let own_throws = own.iter().map(|own| own.beside(settings.dead_zone, least_span)).collect();
    if let Ok(advice) = &full_throw {
        settings.full_throw = advice.radius.value;
    }
    let rare = needed.and(seen.rest.as_ref().ok());
    let step = measures.device.step.unwrap_or(0.0);
    let curve = curve::curve(
        &recorded.levels(measures, &settings),
        settings.dead_zone,
        settings.full_throw,
        rare.map(|rest| dead_zone::rare_radius(rest, step, wish)),
    );
    if let Ok(advice) = &curve
        && !advice.straight
    {
        settings.curve = Curve::Points(advice.points.clone());
    }
    let switches = Err(NotEnough::DoesNotApply);
    Suggestions {
        settings,
        dead_zone,
        dead_zone_with_all: with_all,
        dead_zone_alone,
        full_throw,
        own_throws,
        curve,
        direction,
        smoothing,
        timing,
        switches,
    }
}

/// Where the stick comes to rest: with the person's own body part on it, else untouched. A stick
/// that does not centre itself has the middle of its field.
fn centre(measures: &Measures, kind: StickKind) -> Position {
    if kind.lacks_centring().is_some() {
        return Position::ORIGIN;
    }
    match (&measures.rest, measures.device.centre) {
        (Ok(rest), _) => rest.centre,
        (Err(_), Ok(centre)) => centre,
        (Err(_), Err(_)) => Position::ORIGIN,
    }
}
