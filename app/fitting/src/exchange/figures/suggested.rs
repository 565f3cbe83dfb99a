//! Everything suggested: each number that has to be typed in, in the order in which settings are
//! applied, with how sure it is; where there is none, no number but the reason.

use super::lines::{Lines, name};
use super::{Line, Unit};
use crate::estimate::{Estimate, Measured, NotEnough, Sureness};
use crate::measure::Measures;
use crate::position::fold_degrees;
use crate::settings::{Shape, Smoothing};
use crate::suggest::{ButtonAdvice, DirectionAdvice, SmoothingAdvice, Suggestions, least_sure};

/// A centre whose interval is no wider than this to each side is firm, share of travel: one step
/// of a host that takes whole percents (our own choice).
const FIRM_CENTRE: f64 = 0.01;

/// Everything suggested from these measures.
#[must_use]
pub fn suggested(measures: &Measures, suggestions: &Suggestions) -> Vec<Line> {
    let mut lines = Lines { all: Vec::new() };
    centre(&mut lines, measures, suggestions);
    direction(&mut lines, measures, &suggestions.direction);
    smoothing(&mut lines, &suggestions.smoothing);
    dead_zone(&mut lines, suggestions);
    full_throw(&mut lines, suggestions);
    curve(&mut lines, suggestions);
    switches(&mut lines, suggestions);
    timing(&mut lines, suggestions);
    lines.all
}

impl Lines {
    /// A figure that is suggested, as sure as this.
    fn sure(&mut self, name: &str, of: &str, unit: Unit, value: f64, sureness: Sureness) {
        self.plain(name, of, unit, Some(value));
        self.as_sure_as(sureness);
    }

    fn sure_yes(&mut self, name: &str, yes: bool, sureness: Sureness) {
        self.yes(name, "", yes);
        self.as_sure_as(sureness);
    }

    /// What is exact, as what stays the same without smoothing, has no word.
    fn as_sure_as(&mut self, sureness: Sureness) {
        if let Some(last) = self.all.last_mut()
            && (last.low.is_none() || last.low != last.high)
        {
            last.sureness = Some(sureness);
        }
    }

    fn between(&mut self, low: f64, high: f64) {
        if let Some(last) = self.all.last_mut() {
            (last.low, last.high) = (Some(low.min(high)), Some(low.max(high)));
        }
    }

    /// A figure with its interval, or why there is none.
    fn figure(&mut self, name: &str, of: &str, unit: Unit, told: &Measured, sureness: Sureness) {
        match told {
            Ok(_) => {
                self.add(name, of, unit, told);
                self.as_sure_as(sureness);
            }
            Err(why) => self.none(name, of, unit, *why),
        }
    }

    /// What there is not enough for, or what does not apply.
    fn none(&mut self, name: &str, of: &str, unit: Unit, why: NotEnough) {
        self.add(name, of, unit, &Err(why));
        if !matches!(why, NotEnough::DoesNotApply | NotEnough::NotFor(_)) {
            self.as_sure_as(Sureness::NotEnough);
        }
    }
}

/// The centre with the interval of its distance from the middle, which is that of both axes pooled.
/// Of the untouched stick alone it has none.
fn centre(lines: &mut Lines, measures: &Measures, suggestions: &Suggestions) {
    const NAME: &str = "centre";
    let at = suggestions.settings.centre;
    let (half, sureness) = match (&measures.rest, measures.device.centre) {
        (Ok(rest), _) => match &rest.offset {
            Ok(offset) => {
                let half = offset.high - offset.value;
                (Some(half), offset.sureness(half > 0.0 && half <= FIRM_CENTRE))
            }
            Err(why) => return lines.none(NAME, "", Unit::Travel, *why),
        },
        (Err(_), Ok(untouched)) if untouched == at => (None, Sureness::Rough),
        (Err(why), _) => return lines.none(NAME, "", Unit::Travel, *why),
    };
    for (of, value) in [("right", at.right), ("up", at.up)] {
        lines.sure(NAME, of, Unit::Travel, value, sureness);
        if let Some(half) = half {
            lines.between(value - half, value + half);
        }
    }
}

fn direction(lines: &mut Lines, measures: &Measures, advice: &Result<DirectionAdvice, NotEnough>) {
    let advice = match advice {
        Ok(advice) => advice,
        Err(why) => {
            for (field, unit) in [
                ("swapped", Unit::YesNo),
                ("right_inverted", Unit::YesNo),
                ("up_inverted", Unit::YesNo),
                ("turn", Unit::Degrees),
                ("right_gain", Unit::Factor),
                ("up_gain", Unit::Factor),
            ] {
                lines.none(&format!("direction.{field}"), "", unit, *why);
            }
            return;
        }
    };
    let (map, sureness) = (&advice.map, advice.sureness);
    lines.sure_yes("direction.swapped", map.swapped, sureness);
    lines.sure_yes("direction.right_inverted", map.right_inverted, sureness);
    lines.sure_yes("direction.up_inverted", map.up_inverted, sureness);
    lines.sure("direction.turn", "", Unit::Degrees, map.turn_degrees, sureness);
    if let (true, Ok(turn)) = (advice.turns, advice.turn) {
        // As wide as that of the turn it undoes.
        let by = map.turn_degrees;
        let sign = if fold_degrees(by - turn.value).abs() < 1e-6 { 1.0 } else { -1.0 };
        lines.between(by + sign * (turn.low - turn.value), by + sign * (turn.high - turn.value));
    }
    let stretch = measures.map.as_ref().ok().and_then(|map| map.stretch.ok());
    for (name, gain) in
        [("direction.right_gain", map.right_gain), ("direction.up_gain", map.up_gain)]
    {
        lines.sure(name, "", Unit::Factor, gain, sureness);
        if let Some(Estimate { low, high, .. }) = stretch.filter(|one| gain != 1.0 && one.low > 0.0)
        {
            lines.between((1.0 / high).min(gain), (1.0 / low).max(gain));
        }
    }
    lines.yes("direction.repeat_wanted", "", advice.repeat.is_some());
    lines.plain("direction.levelling_gain", "", Unit::Factor, advice.levelling_gain);
}

fn smoothing(lines: &mut Lines, advice: &Result<SmoothingAdvice, NotEnough>) {
    const CUTOFF: (&str, Unit) = ("smoothing.cutoff", Unit::Hertz);
    const COEFFICIENT: (&str, Unit) = ("smoothing.speed_coefficient", Unit::HertzPerSpeed);
    match advice {
        Ok(advice) => {
            lines.sure_yes("smoothing.used", advice.chosen != Smoothing::Off, advice.sureness);
            match advice.chosen {
                Smoothing::Off => {
                    for (name, unit) in [CUTOFF, COEFFICIENT] {
                        lines.none(name, "", unit, NotEnough::DoesNotApply);
                    }
                }
                Smoothing::OneEuro { cutoff_hertz, speed_coefficient } => {
                    for ((name, unit), value) in
                        [(CUTOFF, cutoff_hertz), (COEFFICIENT, speed_coefficient)]
                    {
                        lines.sure(name, "", unit, value, advice.sureness);
                    }
                }
            }
            lines.add("smoothing.jitter_left", "", Unit::Share, &advice.jitter_left);
            lines.as_sure_as(advice.sureness);
            lines.plain("smoothing.lag", "", Unit::Seconds, Some(advice.lag_seconds));
        }
        Err(why) => {
            for (name, unit) in [("smoothing.used", Unit::YesNo), CUTOFF, COEFFICIENT] {
                lines.none(name, "", unit, *why);
            }
        }
    }
}

fn dead_zone(lines: &mut Lines, suggestions: &Suggestions) {
    let advice = match &suggestions.dead_zone {
        Ok(advice) => advice,
        Err(why) => return lines.none("dead_zone", "", Unit::Travel, *why),
    };
    lines.figure("dead_zone", "", Unit::Travel, &Ok(advice.radius), advice.sureness);
    let with_all = suggestions.dead_zone_with_all.as_ref().ok().map(|with| with.radius.value);
    lines.plain("dead_zone.with_all_settings", "", Unit::Travel, with_all);
    let alone = suggestions.dead_zone_alone.unwrap_or(Ok(advice.radius.value));
    lines.plain("dead_zone.alone", "", Unit::Travel, alone.ok());
    lines.yes("dead_zone.radial", "", suggestions.settings.shape == Shape::Radial);
    let bound = Some(advice.counted_bound_per_minute);
    lines.plain("dead_zone.counted_bound", "", Unit::PerMinute, bound);
    lines.plain("dead_zone.covering_sudden", "", Unit::Travel, advice.covering_sudden);
    lines.plain("dead_zone.hidden_middle", "", Unit::Travel, advice.hidden_middle);
    lines.plain("dead_zone.more_rest", "", Unit::Seconds, advice.more_seconds);
    if let Some(weakest) = advice.weakest {
        let of = name(weakest.asked);
        lines.plain("dead_zone.eats", &of, Unit::Share, Some(weakest.eaten));
    }
    lines.yes("dead_zone.collides", "", advice.collides);
}

fn full_throw(lines: &mut Lines, suggestions: &Suggestions) {
    match &suggestions.full_throw {
        Ok(advice) => {
            let of = name(advice.decided_by);
            lines.figure("full_throw", &of, Unit::Travel, &Ok(advice.radius), advice.sureness);
        }
        Err(why) => lines.none("full_throw", "", Unit::Travel, *why),
    }
}

/// The curve in both forms: one number, and points.
fn curve(lines: &mut Lines, suggestions: &Suggestions) {
    match &suggestions.curve {
        Ok(advice) => {
            let sureness = advice.sureness;
            lines.sure("curve.exponent", "", Unit::Exponent, advice.exponent, sureness);
            for (push, output) in &advice.points {
                let of = format!("{push:.3}");
                lines.sure("curve.point", &of, Unit::Output, *output, sureness);
            }
            lines.add("curve.growth", "", Unit::Share, &advice.growth);
            lines.yes("curve.straight", "", advice.straight);
        }
        Err(why) => {
            lines.none("curve.exponent", "", Unit::Exponent, *why);
            lines.none("curve.point", "", Unit::Output, *why);
        }
    }
}

fn switches(lines: &mut Lines, suggestions: &Suggestions) {
    match &suggestions.switches {
        Ok(advice) => {
            let (thresholds, sureness) = (&advice.thresholds, advice.sureness);
            lines.sure("switches.on", "", Unit::Travel, thresholds.on, sureness);
            lines.sure("switches.off", "", Unit::Travel, thresholds.off, sureness);
            let shortest = thresholds.shortest_seconds;
            lines.sure("switches.shortest", "", Unit::Seconds, shortest, sureness);
            lines.add("switches.false", "", Unit::PerMinute, &Ok(advice.false_per_minute));
        }
        Err(why) => {
            for (field, unit) in
                [("on", Unit::Travel), ("off", Unit::Travel), ("shortest", Unit::Seconds)]
            {
                lines.none(&format!("switches.{field}"), "", unit, *why);
            }
        }
    }
}

/// What one of the times of a button is called.
type Time = (&'static str, fn(&ButtonAdvice) -> Measured);

const TIMES: [Time; 3] = [
    ("timing.shortest_press", |advice| advice.shortest_press),
    ("timing.bounce", |advice| advice.bounce),
    ("timing.repeat_delay", |advice| advice.repeat_delay),
];

/// The timing for all buttons together, as hosts take it, then of each by itself.
fn timing(lines: &mut Lines, suggestions: &Suggestions) {
    let all = suggestions.settings.buttons;
    let values =
        [Some(all.shortest_press_seconds), Some(all.bounce_seconds), all.repeat_delay_seconds];
    for ((name, of_button), value) in TIMES.into_iter().zip(values) {
        match for_all(&suggestions.timing, of_button, value) {
            Ok((value, sureness)) => lines.sure(name, "all", Unit::Seconds, value, sureness),
            Err(why) => lines.none(name, "all", Unit::Seconds, why),
        }
    }
    for advice in &suggestions.timing {
        let of = format!("button{}", advice.button);
        for (name, of_button) in TIMES {
            lines.figure(name, &of, Unit::Seconds, &of_button(advice), advice.sureness);
        }
    }
}

/// The time for all buttons, as sure as the least sure of them. A time of 0 stands for "none needed"
/// only where every button says so: elsewhere there is none that suits all.
fn for_all(
    buttons: &[ButtonAdvice],
    of_button: fn(&ButtonAdvice) -> Measured,
    value: Option<f64>,
) -> Result<(f64, Sureness), NotEnough> {
    let sureness = least_sure(buttons).ok_or(NotEnough::NothingRecorded)?;
    if let Some(value) = value.filter(|value| *value > 0.0) {
        return Ok((value, sureness));
    }
    for advice in buttons {
        if of_button(advice)?.value > 0.0 {
            return Err(NotEnough::Unsettled);
        }
    }
    Ok((0.0, sureness))
}
