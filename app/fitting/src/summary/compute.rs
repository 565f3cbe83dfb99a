//! A summary out of a fitting and what was found in it.

use super::answer::count;
use super::body::{MOST_LISTED, MOST_NAME_BYTES, MOST_POINTS};
use super::figures;
use super::grid::{Degrees, Exponent, Grid, Moment, PerMinute, Seconds, Share, Spread};
use super::thin::thinned;
use super::{
    Answer, Body, ChosenSettings, CurveFigures, DeadZoneFigures, DeviceSeen, EffectFigures,
    Envelope, Figure, FittingBody, FullThrowFigures, Interval, JitterLevel, Place, RateStep,
    ReachFigures, ReachLeft, RestFigures, Steadiness, Summary, SummaryBody, ThrowBy, WeakestLeft,
    at_most_bytes,
};
use crate::measure::{Measures, RestMeasures};
use crate::statistics::order::sort_few;
use crate::stick_kind::{Mover, StickKind};
use crate::suggest::{CurveAdvice, DeadZoneAdvice, Effect, FullThrowAdvice, Suggestions};
use crate::{Direction, Settings};

/// What was found in a fitting and what was chosen.
#[derive(Clone, Copy, Debug)]
pub struct Findings<'a> {
    /// Everything measured.
    pub measures: &'a Measures,
    /// Everything suggested.
    pub suggestions: &'a Suggestions,
    /// The settings that were chosen.
    pub chosen: &'a Settings,
    /// What happens with the stick as it is.
    pub before: &'a Effect,
    /// What happens with the chosen settings.
    pub after: &'a Effect,
}

impl Summary {
    /// The summary of a fitting, under an id of its own.
    ///
    /// Longer lists than a summary holds are thinned: of the rate curve, points spread evenly
    /// over its length are kept, with both ends and the one nearest the suggested dead zone.
    #[must_use]
    pub fn of(
        fitting: &Envelope<FittingBody>,
        findings: &Findings<'_>,
        id: impl Into<String>,
        made_epoch_ms: u64,
    ) -> Self {
        let tidied = fitting.body.tidied();
        let (measures, suggestions) = (findings.measures, findings.suggestions);
        let advised = suggestions.dead_zone.as_ref().ok().map(|advice| advice.radius.value);
        let body = SummaryBody {
            label: (!tidied.label.is_empty()).then(|| tidied.label.clone()),
            practised: tidied.practised.clone(),
            device: DeviceSeen {
                name: at_most_bytes(&tidied.device.name, MOST_NAME_BYTES).trim_end().to_owned(),
                ..tidied.device.clone()
            },
            stick_kind: StickKind { mover: Mover::default(), ..tidied.stick_kind },
            minutes: tidied.minutes,
            wish_false_per_minute: PerMinute::of(tidied.wish.false_per_minute),
            wish_most_lag: Moment::of(tidied.wish.most_lag_seconds),
            stick: figures::stick(&measures.device),
            rest: Answer::from_result(&measures.rest, |rest| rest_figures(rest, advised)),
            busy_rest: figures::busy_rest(&measures.busy_rest, findings.chosen.dead_zone),
            reach: reach_figures(measures),
            hold: hold_figures(measures),
            map: Answer::from_result(&measures.map, figures::map),
            rhythm: Answer::from_result(&measures.rhythm, figures::rhythm),
            sustained: by_direction(&measures.sustained, |hold| hold.asked)
                .map(figures::sustained)
                .collect(),
            returns: by_direction(&measures.returns, |back| back.asked)
                .map(figures::back)
                .collect(),
            buttons: figures::buttons(&measures.presses, &suggestions.timing),
            left_out: count(measures.left_out),
            dead_zone: Answer::from_result(&suggestions.dead_zone, dead_zone_figures),
            full_throw: Answer::from_result(&suggestions.full_throw, full_throw_figures),
            curve: Answer::from_result(&suggestions.curve, curve_figures),
            direction: Answer::from_result(&suggestions.direction, figures::direction),
            smoothing: Answer::from_result(&suggestions.smoothing, figures::smoothing),
            switches: Answer::from_result(&suggestions.switches, figures::switches),
            chosen: ChosenSettings::of(findings.chosen),
            before: effect_figures(findings.before, findings.after),
            after: effect_figures(findings.after, findings.before),
            thinned: 0,
        };
        Self::new(id, made_epoch_ms, body)
    }
}

fn rest_figures(rest: &RestMeasures, advised: Option<f64>) -> RestFigures {
    let mut curve: Vec<RateStep> = thinned(&rest.curve, MOST_POINTS, |point| point.radius, advised)
        .into_iter()
        .map(|point| RateStep {
            radius: Share::of(point.radius),
            counted: PerMinute::of(point.counted_per_minute),
            per_minute: PerMinute::of(point.per_minute),
            low: PerMinute::of(point.low.min(point.per_minute)),
            high: PerMinute::of(point.high.max(point.per_minute)),
            from_model: point.from_model,
        })
        .collect();
    sort_few(&mut curve, |one, other| one.radius < other.radius);
    curve.dedup_by_key(|step| step.radius);
    RestFigures {
        seconds: Seconds::of(rest.seconds),
        centre: Place::of(rest.centre),
        offset: Figure::of(&rest.offset),
        wander: Figure::of(&rest.wander),
        curve,
        sudden: count(rest.sudden.count),
        sudden_per_minute: Figure::of(&rest.sudden.per_minute),
    }
}

fn reach_figures(measures: &Measures) -> Vec<ReachFigures> {
    // The summary says what was asked: a way nobody asked for is not compared with one that was.
    by_direction(&measures.reach, |reach| reach.asked)
        .filter(|reach| !reach.free)
        .map(|reach| ReachFigures {
            asked: reach.asked,
            reach: Figure::of(&reach.reach),
            end: reach.end.map(Place::of),
            degrees_off: Figure::of(&reach.degrees_off),
        })
        .collect()
}

fn hold_figures(measures: &Measures) -> Vec<Steadiness> {
    let mut hold: Vec<Steadiness> = measures
        .hold
        .iter()
        .map(|level| Steadiness {
            level: Share::of(level.level),
            radius: Share::of(level.radius),
            deviation: Figure::of(&level.deviation),
            at_gate: level.at_gate,
        })
        .collect();
    sort_few(&mut hold, |one, other| one.level < other.level);
    hold.dedup_by_key(|hold| hold.level);
    hold.truncate(MOST_LISTED);
    hold
}

fn dead_zone_figures(advice: &DeadZoneAdvice) -> DeadZoneFigures {
    DeadZoneFigures {
        radius: Interval::of(&advice.radius),
        sureness: advice.sureness,
        rest_seconds: Seconds::of(advice.rest_seconds),
        counted_bound: PerMinute::of(advice.counted_bound_per_minute),
        from_model: advice.from_model,
        weakest: advice.weakest.map(|weakest| WeakestLeft {
            asked: weakest.asked,
            reach: Share::of(weakest.reach),
            eaten: Share::of(weakest.eaten.clamp(0.0, 1.0)),
        }),
        covering_sudden: advice.covering_sudden.map(Share::of),
        collides: advice.collides,
        more_seconds: advice.more_seconds.map(Seconds::of),
        hidden_middle: advice.hidden_middle.map(Share::of),
    }
}

fn full_throw_figures(advice: &FullThrowAdvice) -> FullThrowFigures {
    FullThrowFigures {
        radius: Interval::of(&advice.radius),
        sureness: advice.sureness,
        source: advice.source,
        decided_by: advice.decided_by,
        by_direction: by_direction(&advice.by_direction, |by| by.0)
            .map(|(asked, own, left)| ThrowBy {
                asked: *asked,
                own: Share::of(*own),
                left: Share::of(*left),
            })
            .collect(),
    }
}

fn curve_figures(advice: &CurveAdvice) -> CurveFigures {
    CurveFigures {
        sureness: advice.sureness,
        at_centre: Spread::of(advice.at_centre),
        growth: Figure::of(&advice.growth),
        straight: advice.straight,
        exponent: Exponent::of(advice.exponent),
        exponent_cost: Share::of(advice.exponent_cost.clamp(0.0, 1.0)),
    }
}

/// What settings do, with an unsteadiness that can be compared with what the settings `beside` it do.
fn effect_figures(effect: &Effect, beside: &Effect) -> EffectFigures {
    let mut jitter: Vec<JitterLevel> = effect
        .jitter
        .iter()
        .map(|one| JitterLevel {
            level: Share::of(one.level),
            deviation: Spread::of(one.deviation),
        })
        .collect();
    sort_few(&mut jitter, |one, other| one.level < other.level);
    jitter.dedup_by_key(|jitter| jitter.level);
    jitter.truncate(MOST_LISTED);
    EffectFigures {
        false_per_minute: Figure::of(&effect.false_per_minute),
        expected: effect.expected_false_per_minute.map(PerMinute::of),
        moving_share: effect.moving_share.map(Share::of),
        reach: by_direction(&effect.reach, |reach| reach.asked)
            .map(|reach| ReachLeft {
                asked: reach.asked,
                kept: Share::of(reach.kept),
                output: Share::of(reach.output.clamp(0.0, 1.0)),
            })
            .collect(),
        jitter,
        jitter_pooled: effect.jitter_beside(beside).map(|both| Spread::of(both.0)),
        lag: effect.lag_seconds.map(Moment::of),
        degrees_off: effect.degrees_off.map(Degrees::of),
    }
}

/// The first entry of each direction, in the order of [`Direction::EIGHT`].
fn by_direction<T>(list: &[T], asked: impl Fn(&T) -> Direction + Copy) -> impl Iterator<Item = &T> {
    Direction::EIGHT
        .into_iter()
        .filter_map(move |direction| list.iter().find(move |entry| asked(entry) == direction))
}
