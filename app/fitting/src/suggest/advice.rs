//! What is suggested, with the reason and the cost of each.

use super::full_throw::LEAST_SPAN;
use crate::estimate::{Estimate, Measured, NotEnough, Sureness};
use crate::measure::NotStationary;
use crate::settings::{DirectionMap, Smoothing, SwitchThresholds};
use crate::task::Meanwhile;
use crate::{Direction, Settings};
use serde::{Deserialize, Serialize};

/// Everything suggested from one set of measures.
#[derive(Clone, Debug, PartialEq)]
pub struct Suggestions {
    /// The settings, with the default wherever there was not enough to suggest one.
    pub settings: Settings,
    /// Why this dead zone: the one of the settings. It holds by itself, at the frames of a host that
    /// takes neither centre nor smoothing, unless none does, or that one leaves no room to steer in and
    /// `dead_zone_with_all` does: then it is that one.
    pub dead_zone: Result<DeadZoneAdvice, NotEnough>,
    /// The dead zone that is enough where centre, direction and smoothing of the settings are applied
    /// before it. Never larger than `dead_zone`.
    pub dead_zone_with_all: Result<DeadZoneAdvice, NotEnough>,
    /// Where `dead_zone` does not hold by itself: the radius that would, share of travel, or
    /// [`NotEnough::OutOfRange`] where none does.
    pub dead_zone_alone: Option<Result<f64, NotEnough>>,
    /// Why this full throw.
    pub full_throw: Result<FullThrowAdvice, NotEnough>,
    /// What each direction pushed could have for itself, where what is used takes a number for each.
    pub own_throws: Vec<OwnThrow>,
    /// Why this sensitivity curve.
    pub curve: Result<CurveAdvice, NotEnough>,
    /// Why directions are turned, swapped or stretched, or not.
    pub direction: Result<DirectionAdvice, NotEnough>,
    /// Why this smoothing, or none.
    pub smoothing: Result<SmoothingAdvice, NotEnough>,
    /// Why these times, by button.
    pub timing: Vec<ButtonAdvice>,
    /// Thresholds for directions used as switches.
    pub switches: Result<SwitchAdvice, NotEnough>,
}

impl Suggestions {
    /// The settings with another smoothing than the suggested one. What that leaves of the rest
    /// was not measured, so the dead zone is the one needed without any; the full throw gives way
    /// where it has to.
    #[must_use]
    pub fn with_smoothing(&self, smoothing: Smoothing) -> Settings {
        let mut settings = self.settings.clone();
        if smoothing == settings.smoothing {
            return settings;
        }
        settings.smoothing = smoothing;
        let needed =
            self.smoothing.as_ref().ok().and_then(|advice| advice.dead_zone_without_and_with);
        if let Some((without, _)) = needed.filter(|_| settings.switches.is_none()) {
            settings.dead_zone = settings.dead_zone.max(without);
            settings.full_throw = settings.full_throw.max(settings.dead_zone + LEAST_SPAN).min(1.5);
        }
        settings
    }

    /// The dead zone of `chosen` as a number to type in, share of travel: suggested, or chosen by
    /// hand.
    ///
    /// # Errors
    /// Why there is none: the 0 of the settings is then no number to type in.
    pub fn dead_zone_to_type_in(&self, chosen: &Settings) -> Result<f64, NotEnough> {
        if chosen.dead_zone > 0.0 {
            return Ok(chosen.dead_zone);
        }
        self.dead_zone.as_ref().map(|_| chosen.dead_zone).map_err(|why| *why)
    }
}

/// From this lag on a warning is due, seconds: half of what MIL-STD-1472E 5.4.3.2.2.1.2 grants the
/// whole way from control to display.
const LONG_LAG_SECONDS: f64 = 0.05;

impl SmoothingAdvice {
    /// Whether the lag of the suggestion is long beside what the whole way may take.
    #[must_use]
    pub fn is_late(&self) -> bool {
        self.lag_seconds > LONG_LAG_SECONDS
    }
}

/// What is suggested about directions.
#[derive(Clone, Debug, PartialEq)]
pub struct DirectionAdvice {
    /// The map that would put directions right: as it comes where nothing is sure enough. Its turn is
    /// an offer and no part of the suggested settings: see `turns`.
    pub map: DirectionMap,
    /// How much weight it can bear.
    pub sureness: Sureness,
    /// How pushes come out turned, degrees from right towards up.
    pub turn: Measured,
    /// A turn is there: its interval clears 10 degrees and a repeat agrees. The first remedy is to turn
    /// the mount by as much the other way; turning in software instead is a person's choice, as both
    /// together would turn it past.
    pub turns: bool,
    /// Why pushes must be repeated before anything is believed; `None` where they need not be.
    pub repeat: Option<RepeatReason>,
    /// The gain of the weaker axis that would level the reach, when the difference is sure.
    /// It is in the map only where it keeps more of the weakest reach than it costs.
    pub levelling_gain: Option<f64>,
    /// The dead zone that is needed with the levelling gain, share of travel.
    pub dead_zone_with_gain: Option<f64>,
}

/// Why directions must be measured once more.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RepeatReason {
    /// About 45 degrees, halfway to a quarter turn: the pushes may as well be turned one way as
    /// come out on the other axis and turned the other way.
    TurnedOrSwapped,
    /// The first and the later rounds disagree, or nothing was pushed twice.
    RoundsDisagree,
    /// Without one of the directions hardly a turn is left: that side alone may be pushed askew.
    OneSideOnly,
    /// The interval holds turns of less than 10 degrees too.
    TooWide,
}

/// One candidate of smoothing and its measured effect.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SmoothingPoint {
    /// The smoothing.
    pub smoothing: Smoothing,
    /// Spread of the output during holds, share of travel.
    pub jitter: f64,
    /// Added lag in the person's own pushes, seconds.
    pub lag_seconds: f64,
}

/// The suggested smoothing and what it does.
#[derive(Clone, Debug, PartialEq)]
pub struct SmoothingAdvice {
    /// The suggestion; [`Smoothing::Off`] is a valid answer.
    pub chosen: Smoothing,
    /// How much weight it can bear.
    pub sureness: Sureness,
    /// Jitter against lag, from no smoothing on, lag rising: every candidate that no other
    /// beats in both.
    pub curve: Vec<SmoothingPoint>,
    /// Jitter with the suggestion as a share of that without, with a 95 % interval over holds.
    pub jitter_left: Measured,
    /// The steadiest candidate within the lag allowed, and what it leaves of the jitter: told also
    /// where it is not worth it and none is suggested.
    pub best_smoothing: Smoothing,
    /// See `best_smoothing`.
    pub best_left: Measured,
    /// Added lag of the suggestion, seconds.
    pub lag_seconds: f64,
    /// The dead zone needed without smoothing and with it, shares of travel, when rest is known.
    pub dead_zone_without_and_with: Option<(f64, f64)>,
}

/// The suggested timing of one button.
#[derive(Clone, Debug, PartialEq)]
pub struct ButtonAdvice {
    /// The button, as a number of [`crate::Sample::buttons`].
    pub button: usize,
    /// The shortest press to accept, seconds; `Err(Unsettled)` where wanted and unwanted presses
    /// overlap: no safe setting was found.
    pub shortest_press: Measured,
    /// The bounce window, seconds.
    pub bounce: Measured,
    /// The delay until a held press repeats, seconds.
    pub repeat_delay: Measured,
    /// How much weight it can bear.
    pub sureness: Sureness,
    /// Presses behind it.
    pub presses: usize,
}

/// Suggested thresholds for directions used as switches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SwitchAdvice {
    /// The thresholds.
    pub thresholds: SwitchThresholds,
    /// How much weight it can bear.
    pub sureness: Sureness,
    /// The direction with the weakest push, and its smallest plateau, share of travel.
    pub weakest: (Direction, f64),
    /// False presses a minute that the rest would give.
    pub false_per_minute: Estimate,
}

/// The suggested dead zone and what it rests on.
#[derive(Clone, Debug, PartialEq)]
pub struct DeadZoneAdvice {
    /// The radius, share of travel: the smallest whose rate has its upper bound under the wish.
    /// Its interval is that of the radius truly needed; the suggestion is the upper end.
    pub radius: Estimate,
    /// How much weight it can bear.
    pub sureness: Sureness,
    /// Seconds of rest used.
    pub rest_seconds: f64,
    /// What the counting alone shows: with this radius the rate is under this many a minute
    /// (upper 95 % bound; rule of three where none was seen).
    pub counted_bound_per_minute: f64,
    /// Whether the bound that decided comes from the model of the tail.
    pub from_model: bool,
    /// The direction that loses the largest share of its reach, when reach is known.
    pub weakest: Option<Weakest>,
    /// The radius that would also cover the sudden movements seen, when there were any.
    pub covering_sudden: Option<f64>,
    /// The fast movements that this radius covers because they come too often, and too mixed with
    /// the rest, to be told apart; `None` where it covers slow wander and rhythmic movement alone.
    pub covers_frequent: Option<FrequentMovements>,
    /// Why the rest may not stand for the time after it: never firm then, and the interval is wider
    /// by what the parts of the rest differ. Rest at another moment of the visit tells more.
    pub not_stationary: Option<NotStationary>,
    /// Set when rest and reach collide: the dead zone would eat more than a third of the
    /// weakest reach.
    pub collides: bool,
    /// More seconds of rest that would make it firm; `None` when it is.
    pub more_seconds: Option<f64>,
    /// The hidden middle is not part of the radius: add it, share of travel.
    pub hidden_middle: Option<f64>,
    /// What this radius would let through while the person does something: counted in each busy
    /// rest, sudden movements included, never pooled with the quiet one.
    pub busy: Vec<BusyRate>,
    /// What a therapist would try when rest and reach collide, in order; empty where they do
    /// not. What depends on answers about the body is left out: see [`super::remedies`].
    pub remedies: Vec<Remedy>,
}

/// Fast movements that could not be told apart from the continual ones.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FrequentMovements {
    /// How many were seen.
    pub count: usize,
    /// The smallest, distance from the centre, share of travel.
    pub smallest: f64,
    /// The largest, distance from the centre, share of travel.
    pub largest: f64,
}

/// False movements that a dead zone lets through in one kind of busy rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BusyRate {
    /// What the person did.
    pub meanwhile: Meanwhile,
    /// False movements a minute, with the mid-P interval of the count.
    pub per_minute: Measured,
    /// The radius that would keep the wish here too, share of travel, where that is known.
    pub radius_needed: Option<f64>,
}

/// What may help where the dead zone would eat too much of the reach.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Remedy {
    /// Posture and arm support.
    PostureAndArmSupport,
    /// Another body part, another place for the stick, or another topper.
    OtherSiteOrTopper,
    /// A stick that moves more lightly or less far.
    LighterOrShorterThrow,
    /// Settings: smoothing, gain, thresholds.
    Software,
    /// A heavier spring: only where weakness, pain and joint instability were each answered no.
    HeavierSpring,
    /// Stiffer is not better in general: try a spring-centred and a force stick.
    BothSpringAndForce,
}

/// The weakest direction beside a dead zone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weakest {
    /// Which.
    pub asked: Direction,
    /// Its comfortable reach, share of travel.
    pub reach: f64,
    /// Share of it that the dead zone eats, 0..=1.
    pub eaten: f64,
}

/// Where the suggested full throw comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum FullThrowSource {
    /// A share of comfortable reach: no sustained hold was measured. Rough by definition.
    ShareOfReach,
    /// What was kept up in longer holds at an effort of up to 3 of 10.
    Sustained,
}

/// The full throw of one direction by itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OwnThrow {
    /// Which.
    pub asked: Direction,
    /// The push that would count as all the way, share of travel; `None` where that leaves too little
    /// beside the dead zone even by itself.
    pub throw: Option<f64>,
    /// Its comfortable reach, share of travel.
    pub reach: f64,
}

/// What held the deciding direction's throw.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ThrowLimit {
    /// The usual share of comfortable reach.
    ShareOfReach,
    /// What its pushes surely reach: the lower end of the interval.
    SurelyReached,
    /// What the last third of its pushes surely reach.
    LatePushes,
    /// A hold that was hard, or not kept up.
    HardHold,
    /// The room that is wanted between the dead zone and it, though a hold nearer was hard.
    RoomToSteer,
    /// Half-way between a hold that was easy and one farther out that was hard.
    EasyAndHard,
    /// A hold that was kept up easily.
    KeptUp,
}

/// The suggested full throw and what it rests on.
#[derive(Clone, Debug, PartialEq)]
pub struct FullThrowAdvice {
    /// The radius that counts as all the way, share of travel.
    pub radius: Estimate,
    /// How much weight it can bear.
    pub sureness: Sureness,
    /// Where it comes from.
    pub source: FullThrowSource,
    /// The direction that decided.
    pub decided_by: Direction,
    /// Its comfortable reach, share of travel.
    pub decided_reach: f64,
    /// What held it there.
    pub limit: ThrowLimit,
    /// The shortest of the own throws of right and left, and what it leaves on the table there;
    /// `None` without a push that way.
    pub right_axis: Option<(f64, f64)>,
    /// The same of up and down.
    pub up_axis: Option<(f64, f64)>,
    /// By direction: full throw of its own, and what one radius for all leaves on the table
    /// there (reach beyond the radius), shares of travel.
    pub by_direction: Vec<(Direction, f64, f64)>,
}

/// The suggested sensitivity curve and what it rests on.
#[derive(Clone, Debug, PartialEq)]
pub struct CurveAdvice {
    /// How much weight it can bear.
    pub sureness: Sureness,
    /// Steadiness at the centre (a in `sd(r) = a + b r`), share of travel.
    pub at_centre: f64,
    /// Growth of unsteadiness with the push (b in `sd(r) = a + b r`).
    pub growth: Measured,
    /// Whether a straight line is suggested because the growth may be nothing.
    pub straight: bool,
    /// The equal-steadiness curve as points.
    pub points: Vec<(f64, f64)>,
    /// The nearest curve of one number: output = input ^ exponent.
    pub exponent: f64,
    /// The largest distance between the two curves, share of full output.
    pub exponent_cost: f64,
    /// How many times as steep as a straight line the curve may be at the edge of the dead zone,
    /// so that the movements that still pass stay small; `None` where rest does not tell.
    pub edge_slope_limit: Option<f64>,
    /// Levels behind it, the rest (as the level of no push) included.
    pub levels: usize,
}

/// What given settings do to the person's own recordings.
#[derive(Clone, Debug, PartialEq)]
pub struct Effect {
    /// False movements a minute, counted in the rest recordings after the settings.
    pub false_per_minute: Measured,
    /// The same with the tail model where the count is too small to say.
    pub expected_false_per_minute: Option<f64>,
    /// Share of the watched rest time in which the output is not zero, 0..=1; `None` without
    /// rest. It tells what a count cannot: an output that never comes to rest is one single
    /// false movement.
    pub moving_share: Option<f64>,
    /// Of each direction's comfortable reach: what is left outside the dead zone, and how far
    /// the output goes at that reach.
    pub reach: Vec<ReachKept>,
    /// How unsteady the output is during holds, by level. Levels whose output lies at an end (0, or all the
    /// way) for more than a tenth of the time are left out: there it looks steady because it is cut off.
    pub jitter: Vec<JitterAtLevel>,
    /// Lag that smoothing adds in the person's own pushes, seconds; `None` without pushes.
    pub lag_seconds: Option<f64>,
    /// Mean angle of the output less the angle asked, over the directions pushed, degrees;
    /// `None` without pushes.
    pub degrees_off: Option<f64>,
}

/// How unsteady the output is at one level of own reach.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JitterAtLevel {
    /// The level that was held, share of own reach.
    pub level: f64,
    /// Standard deviation of the output about each held place, both axes pooled, share of full output.
    pub deviation: f64,
    /// The time behind it, seconds.
    pub seconds: f64,
}

impl Effect {
    /// The unsteadiness of the output with these settings and with the `other`, share of full output,
    /// pooled over the levels that both show, so that the two can be compared. `None` where there are
    /// none: no holds, or with one of the two they all lie at an end.
    #[must_use]
    pub fn jitter_beside(&self, other: &Self) -> Option<(f64, f64)> {
        let (mut own, mut others, mut seconds) = (0.0, 0.0, 0.0);
        for one in &self.jitter {
            let same = |two: &&JitterAtLevel| (two.level - one.level).abs() < 1e-6;
            if let Some(two) = other.jitter.iter().find(same) {
                own += one.seconds * one.deviation * one.deviation;
                others += one.seconds * two.deviation * two.deviation;
                seconds += one.seconds;
            }
        }
        (seconds > 0.0).then(|| (libm::sqrt(own / seconds), libm::sqrt(others / seconds)))
    }
}

/// What settings leave of one direction's reach.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReachKept {
    /// Which direction was asked.
    pub asked: Direction,
    /// Comfortable reach, share of travel.
    pub reach: f64,
    /// Travel left outside the dead zone, share of travel.
    pub kept: f64,
    /// Output at comfortable reach, 0..=1.
    pub output: f64,
}
