//! What was found and suggested beside rest, reach and holds, brought onto the summary's grid.

use super::answer::count;
use super::body::MOST_LISTED;
use super::chosen::ChosenSmoothing;
use super::grid::{Degrees, Gain, Grid, Hertz, Moment, PerMinute, Seconds, Share, Spread};
use super::{
    Answer, BusyFigures, BusyRestFigures, ButtonFigures, DirectionFigures, Figure, GateFigures,
    Interval, MapFigures, OddAxisSeen, RateBand, ReturnFigures, RhythmFigures, SmoothingFigures,
    StickFigures, SustainedFigures, SwitchFigures,
};
use crate::estimate::{NotEnough, Sureness};
use crate::measure::{
    BusyRest, ButtonPresses, DeviceMeasures, DirectionReturn, PerformedMap, RestMeasures,
    RhythmicMovement, SustainedHold,
};
use crate::statistics::order::sort_few;
use crate::suggest::{ButtonAdvice, DirectionAdvice, SmoothingAdvice, SwitchAdvice};

pub(super) fn stick(device: &DeviceMeasures) -> StickFigures {
    let mut odd_axes: Vec<OddAxisSeen> = device
        .odd_axes
        .iter()
        .map(|odd| OddAxisSeen { axis: count(odd.axis), what: odd.what })
        .collect();
    sort_few(&mut odd_axes, |one, other| one.axis < other.axis);
    odd_axes.dedup_by_key(|odd| odd.axis);
    odd_axes.truncate(MOST_LISTED);
    StickFigures {
        noise: Figure::of(&device.noise),
        step: device.step.ok().map(Spread::of),
        hidden_middle: device.hidden_middle.map(Share::of),
        still_middle: device.still_middle,
        drift_per_minute: Figure::of(&device.drift_per_minute),
        sag: Figure::of(&device.sag),
        gate: Answer::from_result(&device.gate, |gate| GateFigures {
            radius: Share::of(gate.radius),
            out_of_round: Share::of(gate.out_of_round),
            directions: count(gate.directions).min(8),
        }),
        early_full: device.early_full.map(Share::of),
        odd_axes,
    }
}

pub(super) fn busy_rest(busy: &[BusyRest], dead_zone: f64) -> Vec<BusyRestFigures> {
    let mut told: Vec<BusyRestFigures> = busy
        .iter()
        .map(|busy| BusyRestFigures {
            meanwhile: busy.meanwhile,
            rest: Answer::from_result(&busy.rest, |rest| busy_figures(rest, dead_zone)),
        })
        .collect();
    sort_few(&mut told, |one, other| one.meanwhile < other.meanwhile);
    told.dedup_by_key(|busy| busy.meanwhile);
    told
}

fn busy_figures(rest: &RestMeasures, dead_zone: f64) -> BusyFigures {
    // The rate falls with the radius: that of a smaller one is never too low.
    let within = rest.curve.iter().filter(|point| point.radius <= dead_zone);
    let at_chosen = within.max_by(|one, other| one.radius.total_cmp(&other.radius));
    BusyFigures {
        seconds: Seconds::of(rest.seconds),
        wander: Figure::of(&rest.wander),
        sudden_per_minute: Figure::of(&rest.sudden.per_minute),
        at_chosen: at_chosen.map(|point| RateBand {
            per_minute: PerMinute::of(point.per_minute),
            low: PerMinute::of(point.low.min(point.per_minute)),
            high: PerMinute::of(point.high.max(point.per_minute)),
        }),
    }
}

pub(super) fn map(map: &PerformedMap) -> MapFigures {
    MapFigures {
        swapped: map.swapped,
        right_inverted: map.right_inverted,
        up_inverted: map.up_inverted,
        turn: Figure::of(&map.turn),
        repeat_agrees: map.repeat_agrees,
        stretch: Figure::of(&map.stretch),
        stretch_along: Degrees::of(map.stretch_degrees),
        cross_talk: Figure::of(&map.cross_talk),
        directions: count(map.directions).min(8),
        pushes: count(map.pushes),
    }
}

pub(super) fn rhythm(rhythm: &RhythmicMovement) -> RhythmFigures {
    RhythmFigures {
        found: rhythm.found,
        frequency: Figure::of(&rhythm.hertz),
        resolution: Hertz::of(rhythm.resolution_hertz),
        amplitude: Figure::of(&rhythm.amplitude),
        along: Degrees::of(rhythm.along_degrees),
        seconds: Seconds::of(rhythm.seconds),
    }
}

pub(super) fn sustained(hold: &SustainedHold) -> SustainedFigures {
    SustainedFigures {
        asked: hold.asked,
        level: Share::of(hold.level),
        seconds: Seconds::of(hold.seconds),
        effort: hold.effort.map(|effort| effort.min(10)),
        kept: Figure::of(&hold.kept),
        drift_per_minute: Figure::of(&hold.drift_per_minute),
    }
}

pub(super) fn back(back: &DirectionReturn) -> ReturnFigures {
    ReturnFigures {
        asked: back.asked,
        time: Figure::of(&back.seconds),
        overshoot: Figure::of(&back.overshoot),
        rests_short: Figure::of(&back.rests_short),
    }
}

/// The first [`MOST_LISTED`] buttons, by number.
pub(super) fn buttons(presses: &[ButtonPresses], timing: &[ButtonAdvice]) -> Vec<ButtonFigures> {
    let nothing = NotEnough::NothingRecorded;
    let mut told: Vec<ButtonFigures> = presses
        .iter()
        .map(|pressed| {
            let advice = timing.iter().find(|advice| advice.button == pressed.button);
            let timed = |read: fn(&ButtonAdvice) -> crate::estimate::Measured| {
                Figure::of(&advice.map_or(Err(nothing), read))
            };
            ButtonFigures {
                button: count(pressed.button),
                made: count(pressed.made),
                missed: count(pressed.missed),
                length: Figure::of(&pressed.length_seconds),
                gap: Figure::of(&pressed.gap_seconds),
                unwanted_per_minute: Figure::of(&pressed.unwanted_per_minute),
                shortest_press: timed(|advice| advice.shortest_press),
                bounce: timed(|advice| advice.bounce),
                repeat_delay: timed(|advice| advice.repeat_delay),
                sureness: advice.map_or(Sureness::NotEnough, |advice| advice.sureness),
            }
        })
        .collect();
    sort_few(&mut told, |one, other| one.button < other.button);
    told.dedup_by_key(|button| button.button);
    told.truncate(MOST_LISTED);
    told
}

pub(super) fn direction(advice: &DirectionAdvice) -> DirectionFigures {
    DirectionFigures {
        sureness: advice.sureness,
        turn: Degrees::of(advice.map.turn_degrees),
        turns: advice.turns,
        repeat_wanted: advice.repeat.is_some(),
        levelling_gain: advice.levelling_gain.map(Gain::of),
        dead_zone_with_gain: advice.dead_zone_with_gain.map(Share::of),
    }
}

pub(super) fn smoothing(advice: &SmoothingAdvice) -> SmoothingFigures {
    let (without, with) = advice.dead_zone_without_and_with.unzip();
    SmoothingFigures {
        chosen: ChosenSmoothing::of(advice.chosen),
        sureness: advice.sureness,
        jitter_left: Figure::of(&advice.jitter_left),
        lag: Moment::of(advice.lag_seconds),
        dead_zone_without: without.map(Share::of),
        dead_zone_with: with.map(Share::of),
    }
}

pub(super) fn switches(advice: &SwitchAdvice) -> SwitchFigures {
    let on = Share::of(advice.thresholds.on.max(0.0));
    let off = Share::of(advice.thresholds.off.max(0.0));
    SwitchFigures {
        on,
        off: if off > on { on } else { off },
        shortest: Moment::of(advice.thresholds.shortest_seconds),
        sureness: advice.sureness,
        weakest: advice.weakest.0,
        weakest_reach: Share::of(advice.weakest.1),
        false_per_minute: Interval::of(&advice.false_per_minute),
    }
}
