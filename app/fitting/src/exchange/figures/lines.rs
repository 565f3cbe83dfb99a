//! Everything measured and suggested, one number a line.

use super::{Line, Unit};
use crate::estimate::{Measured, NotEnough};
use crate::measure::{DeviceMeasures, Measures, RestMeasures};
use crate::suggest::Effect;
use serde::Serialize;

/// Lines under one name.
pub(super) struct Lines {
    pub(super) all: Vec<Line>,
}

/// The name of one of a few, as in everything kept.
#[must_use]
pub fn name(of: impl Serialize) -> String {
    let value = serde_json::to_value(of).ok();
    value.and_then(|value| value.as_str().map(str::to_owned)).unwrap_or_default()
}

impl Lines {
    pub(super) fn add(&mut self, name: &str, of: &str, unit: Unit, told: &Measured) {
        self.all.push(Line::measured(name, of, unit, told));
    }

    /// A number without an interval.
    pub(super) fn plain(&mut self, name: &str, of: &str, unit: Unit, value: Option<f64>) {
        self.all.push(Line::plain(name, of, unit, value));
    }

    pub(super) fn yes(&mut self, name: &str, of: &str, yes: bool) {
        self.plain(name, of, Unit::YesNo, Some(f64::from(u8::from(yes))));
    }

    fn lacking(&mut self, name: &str, of: &str, unit: Unit, why: NotEnough) {
        self.add(name, of, unit, &Err(why));
    }
}

/// Everything measured.
#[must_use]
pub fn measured(measures: &Measures) -> Vec<Line> {
    let mut lines = Lines { all: Vec::new() };
    device(&mut lines, &measures.device);
    rest(&mut lines, "rest", "", &measures.rest);
    for busy in &measures.busy_rest {
        rest(&mut lines, "busy_rest", &name(busy.meanwhile), &busy.rest);
    }
    match &measures.free {
        Ok(free) => {
            lines.plain("free.seconds", "", Unit::Seconds, Some(free.seconds));
            lines.plain("free.moving", "", Unit::Share, Some(free.moving_share));
            for direction in &free.directions {
                let about = name(direction.about);
                lines.plain("free.farthest", &about, Unit::Travel, Some(direction.farthest));
            }
        }
        Err(why) => lines.lacking("free.seconds", "", Unit::Seconds, *why),
    }
    for reach in &measures.reach {
        lines.add("reach", &name(reach.asked), Unit::Travel, &reach.reach);
        lines.add("reach.off", &name(reach.asked), Unit::Degrees, &reach.degrees_off);
    }
    for cued in &measures.cued {
        for reach in &cued.reach {
            let of = format!("{} {}", name(cued.cue), name(reach.asked));
            lines.add("reach.cued", &of, Unit::Travel, &reach.reach);
        }
    }
    match &measures.map {
        Ok(map) => {
            lines.add("map.turn", "", Unit::Degrees, &map.turn);
            lines.add("map.stretch", "", Unit::Share, &map.stretch);
            lines.add("map.cross_talk", "", Unit::Share, &map.cross_talk);
            lines.yes("map.swapped", "", map.swapped);
            lines.yes("map.right_inverted", "", map.right_inverted);
            lines.yes("map.up_inverted", "", map.up_inverted);
            lines.yes("map.repeat_agrees", "", map.repeat_agrees);
        }
        Err(why) => lines.lacking("map.turn", "", Unit::Degrees, *why),
    }
    for hold in &measures.hold {
        let of = format!("{}", hold.level);
        lines.add("hold.deviation", &of, Unit::Travel, &hold.deviation);
        lines.add("hold.wander", &of, Unit::Travel, &hold.wander);
        lines.add("hold.rhythmic", &of, Unit::Travel, &hold.rhythmic);
        lines.yes("hold.at_gate", &of, hold.at_gate);
    }
    match &measures.rhythm {
        Ok(rhythm) => {
            lines.yes("rhythm.found", "", rhythm.found);
            lines.add("rhythm.frequency", "", Unit::Hertz, &rhythm.hertz);
            let resolution = Some(rhythm.resolution_hertz);
            lines.plain("rhythm.resolution", "", Unit::Hertz, resolution);
            lines.add("rhythm.amplitude", "", Unit::Travel, &rhythm.amplitude);
        }
        Err(why) => lines.lacking("rhythm.frequency", "", Unit::Hertz, *why),
    }
    moves(&mut lines, measures);
    lines.all
}

fn device(lines: &mut Lines, device: &DeviceMeasures) {
    let centre = device.centre.map(|centre| (centre.right, centre.up));
    match centre {
        Ok((right, up)) => {
            lines.plain("device.centre", "right", Unit::Travel, Some(right));
            lines.plain("device.centre", "up", Unit::Travel, Some(up));
        }
        Err(why) => lines.lacking("device.centre", "", Unit::Travel, why),
    }
    lines.add("device.noise", "", Unit::Travel, &device.noise);
    match device.step {
        Ok(step) => lines.plain("device.step", "", Unit::Travel, Some(step)),
        Err(why) => lines.lacking("device.step", "", Unit::Travel, why),
    }
    match device.bits {
        Ok(bits) => lines.plain("device.resolution", "", Unit::Bits, Some(bits)),
        Err(why) => lines.lacking("device.resolution", "", Unit::Bits, why),
    }
    lines.plain("device.hidden_middle", "", Unit::Travel, device.hidden_middle);
    lines.yes("device.still_middle", "", device.still_middle);
    lines.plain("device.fastest_change", "", Unit::Seconds, device.fastest_change_seconds);
    lines.plain("device.gaps", "", Unit::Count, Some(device.gaps as f64));
    lines.plain("device.gaps_length", "", Unit::Seconds, Some(device.gap_seconds));
    lines.add("device.drift", "", Unit::TravelPerMinute, &device.drift_per_minute);
    lines.add("device.sag", "", Unit::Travel, &device.sag);
    match device.gate {
        Ok(gate) => {
            lines.plain("device.gate_radius", "", Unit::Travel, Some(gate.radius));
            lines.plain("device.gate_out_of_round", "", Unit::Share, Some(gate.out_of_round));
        }
        Err(why) => lines.lacking("device.gate_radius", "", Unit::Travel, why),
    }
    lines.plain("device.early_full", "", Unit::Travel, device.early_full);
    for odd in &device.odd_axes {
        let of = format!("axis{}", odd.axis);
        lines.yes(&format!("device.axis_{}", name(odd.what)), &of, true);
    }
}

fn rest(lines: &mut Lines, prefix: &str, of: &str, rest: &Result<RestMeasures, NotEnough>) {
    let named = |field: &str| format!("{prefix}.{field}");
    match rest {
        Ok(rest) => {
            lines.plain(&named("seconds"), of, Unit::Seconds, Some(rest.seconds));
            lines.add(&named("offset"), of, Unit::Travel, &rest.offset);
            lines.add(&named("wander"), of, Unit::Travel, &rest.wander);
            lines.add(&named("sudden"), of, Unit::PerMinute, &rest.sudden.per_minute);
            let beyond = Some(rest.sudden.beyond);
            lines.plain(&named("sudden_beyond"), of, Unit::Travel, beyond);
            let largest = Some(rest.largest_continual);
            lines.plain(&named("largest_continual"), of, Unit::Travel, largest);
        }
        Err(why) => lines.lacking(&named("wander"), of, Unit::Travel, *why),
    }
}

fn moves(lines: &mut Lines, measures: &Measures) {
    for hold in &measures.sustained {
        let of = name(hold.asked);
        lines.plain("sustained.seconds", &of, Unit::Seconds, Some(hold.seconds));
        lines.plain("sustained.effort", &of, Unit::OfTen, hold.effort.map(f64::from));
        lines.add("sustained.kept", &of, Unit::Travel, &hold.kept);
        lines.add("sustained.drift", &of, Unit::TravelPerMinute, &hold.drift_per_minute);
    }
    for back in &measures.returns {
        let of = name(back.asked);
        lines.add("return.time", &of, Unit::Seconds, &back.seconds);
        lines.add("return.moving", &of, Unit::Seconds, &back.moving_seconds);
        lines.add("return.overshoot", &of, Unit::Share, &back.overshoot);
        lines.add("return.rests_short", &of, Unit::Travel, &back.rests_short);
    }
    for presses in &measures.presses {
        let of = format!("button{}", presses.button);
        lines.plain("presses.made", &of, Unit::Count, Some(presses.made as f64));
        lines.plain("presses.missed", &of, Unit::Count, Some(presses.missed as f64));
        lines.add("presses.reaction", &of, Unit::Seconds, &presses.reaction_seconds);
        lines.add("presses.length", &of, Unit::Seconds, &presses.length_seconds);
        lines.add("presses.long", &of, Unit::Seconds, &presses.long_seconds);
        lines.add("presses.gap", &of, Unit::Seconds, &presses.gap_seconds);
        lines.add("presses.unwanted", &of, Unit::PerMinute, &presses.unwanted_per_minute);
    }
    if let Ok(switches) = &measures.switches {
        for (asked, weakest) in &switches.weakest {
            lines.plain("switches.weakest", &name(asked), Unit::Travel, Some(*weakest));
        }
        lines.plain("switches.rest_reaches", "", Unit::Travel, Some(switches.rest_reaches));
        lines.plain("switches.dips_to", "", Unit::Share, Some(switches.dips_to));
    }
    lines.plain("left_out", "", Unit::Count, Some(measures.left_out as f64));
    let helped = measures.moved_by_helper as f64;
    lines.plain("moved_by_helper", "", Unit::Count, Some(helped));
}

/// What settings do, beside what others do; `of` says which.
#[must_use]
pub fn effect(of: &str, effect: &Effect, beside: &Effect) -> Vec<Line> {
    let mut lines = Lines { all: Vec::new() };
    lines.add("effect.false", of, Unit::PerMinute, &effect.false_per_minute);
    let expected = effect.expected_false_per_minute;
    lines.plain("effect.false_expected", of, Unit::PerMinute, expected);
    lines.plain("effect.moving", of, Unit::Share, effect.moving_share);
    lines.plain("effect.jitter", of, Unit::Output, effect.jitter_beside(beside).map(|both| both.0));
    lines.plain("effect.lag", of, Unit::Seconds, effect.lag_seconds);
    lines.plain("effect.off", of, Unit::Degrees, effect.degrees_off);
    for reach in &effect.reach {
        let of = format!("{of} {}", name(reach.asked));
        lines.plain("effect.kept", &of, Unit::Travel, Some(reach.kept));
        lines.plain("effect.output", &of, Unit::Output, Some(reach.output));
    }
    lines.all
}
