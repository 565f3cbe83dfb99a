//! What to change first after some minutes in the person's own game.
//!
//! Rules with reasons, each tied to the person's own figures where there are any. What is felt
//! decides which setting, the figures how far; the sizes of the steps are common practice, no
//! source. One thing at a time: the first of the list first, then some minutes of play.

use super::HostForm;
use super::advice::Weakest;
use super::full_throw::LEAST_SPAN;
use crate::estimate::{Estimate, Measured};
use crate::measure::{Measures, RatePoint};
use crate::settings::Smoothing;
use crate::visit::{Felt, OwnGame};
use crate::{Direction, Settings};

/// From this effort of 10 on, and up to this comfort, it is a matter of stopping.
const HARD: u8 = 7;
const UNCOMFORTABLE: u8 = 3;
/// From this effort on it is a matter of shorter sessions: up to 3 can be kept up.
const TIRING: u8 = 4;
/// One step of a dead zone where the slider's own is not known, share of travel.
const DEAD_ZONE_STEP: f64 = 0.02;
/// One step of a full throw, share of travel.
const FULL_THROW_STEP: f64 = 0.05;
/// One step of a sensitivity number, and how far it goes by this.
const EXPONENT_STEP: f64 = 0.2;
const EXPONENTS: (f64, f64) = (0.5, 3.0);
/// The largest dead zone that is proposed from play, share of travel.
const MOST_DEAD_ZONE: f64 = 0.6;

/// What to change.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Change {
    /// Stop for today; look for what hurts or costs so much before playing on.
    Stop,
    /// Shorter, with rests.
    Shorter,
    /// Posture, support and place of the stick first: the software would only trade one for the
    /// other.
    PostureFirst,
    /// The dead zone, shares of travel at the stick.
    DeadZone {
        /// As it is.
        from: f64,
        /// As it is to be.
        to: f64,
        /// False movements a minute in the rest recorded, with the one and with the other.
        rates: Option<(RatePoint, RatePoint)>,
        /// The direction that loses the largest share of its reach to the new one.
        weakest: Option<Weakest>,
    },
    /// The full throw, shares of travel at the stick.
    FullThrow {
        /// As it is.
        from: f64,
        /// As it is to be.
        to: f64,
        /// The shortest reach measured.
        shortest: Option<(Direction, Estimate)>,
    },
    /// Sensitivity as one number.
    Exponent {
        /// As it is.
        from: f64,
        /// As it is to be.
        to: f64,
    },
    /// The mount, or the software's turn.
    Turn {
        /// How pushes come out turned, degrees from right towards up, where it was measured.
        measured: Measured,
    },
    /// Less smoothing, or none.
    LessSmoothing,
    /// No setting of the stick: a screen, a connection or the game is slow.
    ElsewhereSlow,
}

/// One thing to change, and what speaks for it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlayAdvice {
    /// What was felt; nothing where it comes of effort or comfort.
    pub felt: Option<Felt>,
    /// What to change.
    pub change: Change,
}

/// What to change after play, the first thing first; empty where nothing was wrong. `step` is
/// that of the dead zone's slider, share, where it is known.
#[must_use]
pub fn after_play(
    played: &OwnGame,
    settings: &Settings,
    measures: Option<&Measures>,
    step: Option<f64>,
) -> Vec<PlayAdvice> {
    let felt = |what: Felt| played.felt.contains(&what);
    let mut advice = Vec::new();
    let hard = played.effort.is_some_and(|effort| effort >= HARD)
        || played.comfort.is_some_and(|comfort| comfort <= UNCOMFORTABLE);
    if felt(Felt::Hurts) || hard {
        let felt = felt(Felt::Hurts).then_some(Felt::Hurts);
        advice.push(PlayAdvice { felt, change: Change::Stop });
    } else if felt(Felt::Tired) || played.effort.is_some_and(|effort| effort >= TIRING) {
        let felt = felt(Felt::Tired).then_some(Felt::Tired);
        advice.push(PlayAdvice { felt, change: Change::Shorter });
    }
    let both = felt(Felt::MovesByItself) && felt(Felt::StartsLate);
    let exponent = HostForm::of(settings).sensitivity_exponent;
    for what in &played.felt {
        let change = match what {
            Felt::Hurts | Felt::Tired => None,
            Felt::MovesByItself if both => Some(Change::PostureFirst),
            Felt::StartsLate if both => None,
            Felt::MovesByItself => dead_zone(settings, measures, step, 1.0),
            Felt::StartsLate => dead_zone(settings, measures, step, -1.0),
            Felt::TooFar => full_throw(settings, measures, -FULL_THROW_STEP),
            // Both cannot be had by one number: what is too far goes first.
            Felt::AllAtOnce if felt(Felt::TooFar) => None,
            Felt::AllAtOnce => full_throw(settings, measures, FULL_THROW_STEP),
            Felt::TooQuick => bent(exponent, EXPONENT_STEP),
            // Both cannot be had by one number: what is too quick goes first.
            Felt::TooSlow if felt(Felt::TooQuick) => None,
            Felt::TooSlow => bent(exponent, -EXPONENT_STEP),
            Felt::Astray => Some(Change::Turn {
                measured: measures.map_or(Err(crate::NotEnough::NothingRecorded), |measures| {
                    measures.map.as_ref().map_err(|why| *why).and_then(|map| map.turn)
                }),
            }),
            Felt::Lags => Some(match settings.smoothing {
                Smoothing::Off => Change::ElsewhereSlow,
                Smoothing::OneEuro { .. } => Change::LessSmoothing,
            }),
        };
        advice.extend(change.map(|change| PlayAdvice { felt: Some(*what), change }));
    }
    advice
}

/// The dead zone one step up or down, on the steps of the slider.
fn dead_zone(
    settings: &Settings,
    measures: Option<&Measures>,
    step: Option<f64>,
    way: f64,
) -> Option<Change> {
    let step = step.unwrap_or(DEAD_ZONE_STEP);
    let from = settings.dead_zone;
    let steps = from / step;
    // To the next step, a whole one away at least half.
    let to = if way > 0.0 { libm::floor(steps + 1.5) } else { libm::ceil(steps - 1.5) } * step;
    let to = to.clamp(0.0, MOST_DEAD_ZONE);
    if (to - from) * way <= 1e-9 {
        return None;
    }
    let curve = measures.and_then(|measures| measures.rest.as_ref().ok()).map(|rest| &rest.curve);
    let rates = curve.and_then(|curve| Some((rate_at(curve, from)?, rate_at(curve, to)?)));
    let weakest = measures.and_then(shortest).map(|(asked, reach)| Weakest {
        asked,
        reach: reach.value,
        eaten: if reach.value > 0.0 { (to / reach.value).min(1.0) } else { 1.0 },
    });
    Some(Change::DeadZone { from, to, rates, weakest })
}

/// The recorded point of the curve that is sure not to promise too much for a radius: the nearest
/// from below.
fn rate_at(curve: &[RatePoint], radius: f64) -> Option<RatePoint> {
    curve.iter().rfind(|point| point.radius <= radius + 1e-9).copied()
}

fn full_throw(settings: &Settings, measures: Option<&Measures>, by: f64) -> Option<Change> {
    let from = settings.full_throw;
    let least = (settings.dead_zone + LEAST_SPAN).min(1.0);
    let to = libm::floor((from + by) * 100.0 + 1e-6) / 100.0;
    let to = to.clamp(least, 1.0);
    ((to - from) * by > 1e-9).then(|| Change::FullThrow {
        from,
        to,
        shortest: measures.and_then(shortest),
    })
}

fn bent(from: f64, by: f64) -> Option<Change> {
    let to = (from + by).clamp(EXPONENTS.0, EXPONENTS.1);
    let to = libm::round(to * 10.0) / 10.0;
    ((to - from) * by > 1e-9).then_some(Change::Exponent { from, to })
}

/// The shortest reach that was measured.
fn shortest(measures: &Measures) -> Option<(Direction, Estimate)> {
    measures
        .reach
        .iter()
        .filter_map(|one| Some((one.asked, one.reach.ok()?)))
        .min_by(|one, other| one.1.value.total_cmp(&other.1.value))
}

#[cfg(test)]
mod tests;
