//! What a fitting came to, as it is shared and printed.

use super::advised::{DirectionFigures, SmoothingFigures, SwitchFigures, ThrowBy};
use super::found::{
    BusyRestFigures, ButtonFigures, GateFigures, MapFigures, OddAxisSeen, ReturnFigures,
    RhythmFigures, SustainedFigures,
};
use super::grid::{Degrees, Exponent, Grid, Moment, PerMinute, Seconds, Share, Spread};
use super::{Answer, ChosenSettings, DeviceSeen, Envelope, Figure, Interval};
use crate::estimate::{NotEnough, Sureness};
use crate::statistics::order::sort_few;
use crate::suggest::FullThrowSource;
use crate::{Direction, Position, StickKind};
use serde::{Deserialize, Serialize};

/// The most directions, and the most hold levels, of a summary.
pub(super) const MOST_LISTED: usize = 8;

/// The most points of a curve in a summary.
pub(super) const MOST_POINTS: usize = 16;

/// The most bytes of a device's name in a summary: a link must hold it in any script.
pub(super) const MOST_NAME_BYTES: usize = 88;

/// What a fitting came to, in the envelope of everything kept.
///
/// Every number lies on a fixed grid, so a summary is the same in the page, in a file and in a
/// link. Two summaries are equal when their [`Summary::canonical`] forms are.
pub type Summary = Envelope<SummaryBody>;

/// A kind of stick as a summary tells it: without what moves it. Links carry fields by their order
/// alone, so it is read in exactly the form in which it is written.
mod without_mover {
    use crate::stick_kind::{Moves, StickKind};
    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    #[derive(Serialize, Deserialize)]
    #[serde(default)]
    struct Told {
        moves: Moves,
        centres_itself: bool,
        force: bool,
        switches: bool,
    }

    impl Default for Told {
        fn default() -> Self {
            Self::of(StickKind::default())
        }
    }

    impl Told {
        const fn of(kind: StickKind) -> Self {
            let StickKind { moves, centres_itself, force, switches, mover: _ } = kind;
            Self { moves, centres_itself, force, switches }
        }
    }

    #[allow(clippy::trivially_copy_pass_by_ref, reason = "the form that is asked for")]
    pub(super) fn serialize<S: Serializer>(kind: &StickKind, into: S) -> Result<S::Ok, S::Error> {
        Told::of(*kind).serialize(into)
    }

    pub(super) fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<StickKind, D::Error> {
        let Told { moves, centres_itself, force, switches } = Told::deserialize(from)?;
        Ok(StickKind { moves, centres_itself, force, switches, ..StickKind::default() })
    }
}

/// What a fitting came to. Notes and recordings are never part of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SummaryBody {
    /// What the person calls it; left out of links unless asked for.
    pub label: Option<String>,
    /// The code of the invented person who played, or `practice`; `None` for a real stick.
    pub practised: Option<String>,
    /// The stick. Its name may be cut shorter than in the fitting.
    pub device: DeviceSeen,
    /// What kind of stick it is; what moves it stays with the fitting.
    #[serde(with = "without_mover")]
    pub stick_kind: StickKind,
    /// How many minutes were planned.
    pub minutes: u32,
    /// The wish: at most this many false movements a minute.
    pub wish_false_per_minute: PerMinute,
    /// The wish: smoothing adds at most this much lag, seconds.
    pub wish_most_lag: Moment,
    /// What stick, system and browser do by themselves.
    pub stick: StickFigures,
    /// Movement that was not intended.
    pub rest: Answer<RestFigures>,
    /// The same while the person did something beside it, by what it was; each at most once.
    pub busy_rest: Vec<BusyRestFigures>,
    /// Comfortable reach by asked direction, in the order of [`Direction::EIGHT`].
    pub reach: Vec<ReachFigures>,
    /// Steadiness by level, from the lowest up.
    pub hold: Vec<Steadiness>,
    /// From asked directions to performed ones.
    pub map: Answer<MapFigures>,
    /// Rhythmic movement while holding.
    pub rhythm: Answer<RhythmFigures>,
    /// Longer holds, in the order of [`Direction::EIGHT`].
    pub sustained: Vec<SustainedFigures>,
    /// The way back to the centre, in the order of [`Direction::EIGHT`].
    pub returns: Vec<ReturnFigures>,
    /// Presses by button with the suggested timing, in the order of their numbers.
    pub buttons: Vec<ButtonFigures>,
    /// Repetitions left out because they were marked or queried.
    pub left_out: u32,
    /// The suggested dead zone.
    pub dead_zone: Answer<DeadZoneFigures>,
    /// The suggested full throw.
    pub full_throw: Answer<FullThrowFigures>,
    /// The suggested sensitivity curve.
    pub curve: Answer<CurveFigures>,
    /// What is suggested about directions.
    pub direction: Answer<DirectionFigures>,
    /// What is suggested about smoothing.
    pub smoothing: Answer<SmoothingFigures>,
    /// Thresholds for directions used as switches.
    pub switches: Answer<SwitchFigures>,
    /// The settings that were chosen.
    pub chosen: ChosenSettings,
    /// What happens with the stick as it is.
    pub before: EffectFigures,
    /// What happens with the chosen settings, on the same recordings.
    pub after: EffectFigures,
    /// How much was left out to fit into a link, 0 (nothing) to [`super::MOST_THINNED`].
    pub thinned: u32,
}

/// A place in the field, or a displacement in it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Place {
    /// To the right, share of travel.
    pub right: Share,
    /// Up (away from the person), share of travel.
    pub up: Share,
}

/// What stick, system and browser do by themselves.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StickFigures {
    /// Spread of the untouched stick about its centre, share of travel.
    pub noise: Figure<Spread>,
    /// The smallest step seen, share of travel.
    pub step: Option<Spread>,
    /// A band around the middle that reads 0, share of travel to each side: laid to stick,
    /// system or browser.
    pub hidden_middle: Option<Share>,
    /// Whether the rest reads exactly the middle although held positions keep moving: small
    /// movements are hidden there, and how far is unknown.
    pub still_middle: bool,
    /// How far the untouched centre moves, share of travel a minute.
    pub drift_per_minute: Figure<Spread>,
    /// How far off its centre the spring leaves the stick after a push, share of travel.
    pub sag: Figure<Spread>,
    /// The shape of the opening, as far as pushes reached it.
    pub gate: Answer<GateFigures>,
    /// Full scale is read well before the stick's end, share of travel: laid to stick, system or
    /// browser.
    pub early_full: Option<Share>,
    /// Axes that do something odd, at most 8, by number.
    pub odd_axes: Vec<OddAxisSeen>,
}

/// Movement that was not intended, while resting ready to play.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RestFigures {
    /// Seconds of rest used.
    pub seconds: Seconds,
    /// Where the stick rests.
    pub centre: Place,
    /// How far that is from the middle of the field, share of travel.
    pub offset: Figure<Share>,
    /// Inside this distance from the centre the stick stays 95 % of the time.
    pub wander: Figure<Share>,
    /// False movements a minute by radius, at most 16 points, radius rising.
    pub curve: Vec<RateStep>,
    /// Sudden movements seen.
    pub sudden: u32,
    /// Their rate.
    pub sudden_per_minute: Figure<PerMinute>,
}

/// False movements a minute that a dead zone of one radius lets through, with its 95 % band.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RateStep {
    /// Radius of the dead zone, share of travel.
    pub radius: Share,
    /// Counted in the recording.
    pub counted: PerMinute,
    /// Estimated.
    pub per_minute: PerMinute,
    /// Lower end of the band.
    pub low: PerMinute,
    /// Upper end of the band.
    pub high: PerMinute,
    /// Whether the estimate comes from the model of the tail.
    pub from_model: bool,
}

/// Comfortable reach in one asked direction.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReachFigures {
    /// What was asked.
    pub asked: Direction,
    /// How far, share of travel.
    pub reach: Figure<Share>,
    /// Mean end of the pushes, from the centre.
    pub end: Option<Place>,
    /// The angle performed less the angle asked, positive from right towards up.
    pub degrees_off: Figure<Degrees>,
}

/// Steadiness while holding at one level.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Steadiness {
    /// Share of own reach that was asked.
    pub level: Share,
    /// Mean distance from the centre, share of travel.
    pub radius: Share,
    /// Spread about the held place, share of travel.
    pub deviation: Figure<Spread>,
    /// Whether it touched the end of the stick's travel.
    pub at_gate: bool,
}

/// The suggested dead zone and what it rests on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DeadZoneFigures {
    /// The radius, share of travel.
    pub radius: Interval<Share>,
    /// How much weight it can bear.
    pub sureness: Sureness,
    /// Seconds of rest used.
    pub rest_seconds: Seconds,
    /// What counting alone shows: fewer than this many a minute (upper 95 % bound).
    pub counted_bound: PerMinute,
    /// Whether the bound that decided comes from the model of the tail.
    pub from_model: bool,
    /// The direction that loses the largest share of its reach.
    pub weakest: Option<WeakestLeft>,
    /// The radius that would also cover the sudden movements seen.
    pub covering_sudden: Option<Share>,
    /// Whether it eats more than a third of the weakest reach.
    pub collides: bool,
    /// More seconds of rest that would make it firm.
    pub more_seconds: Option<Seconds>,
    /// The hidden middle is not part of the radius: add it, share of travel.
    pub hidden_middle: Option<Share>,
}

/// The weakest direction beside a dead zone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WeakestLeft {
    /// Which.
    pub asked: Direction,
    /// Its comfortable reach, share of travel.
    pub reach: Share,
    /// Share of it that the dead zone eats.
    pub eaten: Share,
}

/// The suggested full throw.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FullThrowFigures {
    /// The radius that counts as all the way, share of travel.
    pub radius: Interval<Share>,
    /// How much weight it can bear.
    pub sureness: Sureness,
    /// Where it comes from.
    pub source: FullThrowSource,
    /// The direction that decided.
    pub decided_by: Direction,
    /// By direction, in the order of [`Direction::EIGHT`].
    pub by_direction: Vec<ThrowBy>,
}

/// The suggested sensitivity curve.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CurveFigures {
    /// How much weight it can bear.
    pub sureness: Sureness,
    /// Unsteadiness at the centre, share of travel.
    pub at_centre: Spread,
    /// Its growth with the push.
    pub growth: Figure<Spread>,
    /// Whether a straight line is suggested.
    pub straight: bool,
    /// The nearest curve of one number.
    pub exponent: Exponent,
    /// The largest distance between the curve and that one, share of full output.
    pub exponent_cost: Share,
}

/// What settings do to the person's own recordings.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EffectFigures {
    /// False movements, counted.
    pub false_per_minute: Figure<PerMinute>,
    /// The same with the tail model where the count is too small to say.
    pub expected: Option<PerMinute>,
    /// Share of the rest time in which the output is not zero.
    pub moving_share: Option<Share>,
    /// What is left of each direction's reach, in the order of [`Direction::EIGHT`].
    pub reach: Vec<ReachLeft>,
    /// Spread of the output during holds, by level.
    pub jitter: Vec<JitterLevel>,
    /// The same pooled over all levels, share of full output.
    pub jitter_pooled: Option<Spread>,
    /// Lag that smoothing adds in the person's own pushes, seconds.
    pub lag: Option<Moment>,
    /// Mean angle of the output less the angle asked.
    pub degrees_off: Option<Degrees>,
}

/// What settings leave of one direction's reach.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReachLeft {
    /// Which direction was asked.
    pub asked: Direction,
    /// Travel left outside the dead zone, share of travel.
    pub kept: Share,
    /// Output at comfortable reach, 0..=1.
    pub output: Share,
}

/// Spread of the output while holding at one level.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct JitterLevel {
    /// Share of own reach that was asked.
    pub level: Share,
    /// Spread, share of full output.
    pub deviation: Spread,
}

impl SummaryBody {
    /// The dead zone to type in, share of travel: suggested, or chosen by hand.
    ///
    /// # Errors
    /// Why there is none: the 0 among the chosen settings is then no number to type in.
    pub fn dead_zone_to_type_in(&self) -> Result<f64, NotEnough> {
        let chosen = self.chosen.dead_zone.get();
        if chosen > 0.0 { Ok(chosen) } else { self.dead_zone.result().map(|_| chosen) }
    }

    /// Whether the dead zone holds only where the resting place is set too: about the stick's own zero
    /// it does not even cover where the stick is for 95 % of the rest.
    #[must_use]
    pub fn dead_zone_counts_on_centre(&self) -> bool {
        let dead_zone = self.chosen.dead_zone.get();
        let farthest = self.rest.result().ok().and_then(|rest| {
            let wander = rest.wander.result().ok()?.value.get();
            Some(rest.centre.position().radius() + wander)
        });
        dead_zone > 0.0 && farthest.is_some_and(|farthest| dead_zone < farthest)
    }

    /// The full throw to type in, share of travel: suggested, or chosen by hand.
    ///
    /// # Errors
    /// Why there is none: the 1 among the chosen settings is then no number to type in.
    pub fn full_throw_to_type_in(&self) -> Result<f64, NotEnough> {
        let chosen = self.chosen.full_throw.get();
        if chosen == 1.0 { self.full_throw.result().map(|_| chosen) } else { Ok(chosen) }
    }
}

impl Summary {
    /// The form in which summaries are compared: without id and label, lists in their fixed
    /// order.
    ///
    /// Two summaries are equal when their canonical forms are: a link and the file it was made
    /// from, or the same file opened twice under another id. The time it was made, the core
    /// version and every figure count; id and label do not, as a link leaves them out.
    #[must_use]
    pub fn canonical(&self) -> Self {
        let mut canonical = self.clone();
        canonical.id = String::new();
        canonical.body.label = None;
        sort_few(&mut canonical.body.reach, |one, other| one.asked < other.asked);
        sort_few(&mut canonical.body.hold, |one, other| one.level < other.level);
        sort_few(&mut canonical.body.sustained, |one, other| one.asked < other.asked);
        sort_few(&mut canonical.body.returns, |one, other| one.asked < other.asked);
        sort_few(&mut canonical.body.buttons, |one, other| one.button < other.button);
        sort_few(&mut canonical.body.busy_rest, |one, other| one.meanwhile < other.meanwhile);
        for effect in [&mut canonical.body.before, &mut canonical.body.after] {
            sort_few(&mut effect.reach, |one, other| one.asked < other.asked);
            sort_few(&mut effect.jitter, |one, other| one.level < other.level);
        }
        canonical
    }
}

impl Place {
    /// From a position.
    #[must_use]
    pub fn of(position: Position) -> Self {
        Self { right: Share::of(position.right), up: Share::of(position.up) }
    }

    pub(super) fn within(self) -> bool {
        self.right.within() && self.up.within()
    }

    /// As a position.
    #[must_use]
    pub fn position(self) -> Position {
        Position::new(self.right.get(), self.up.get())
    }
}
