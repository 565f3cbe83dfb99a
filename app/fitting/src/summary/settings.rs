//! Whether kept settings hold what settings may hold, and bringing them there.

use super::Unreadable;
use super::unreadable::hold;
use crate::Position;
use crate::pipeline::curve::{in_range, keeps_ends};
use crate::settings::{
    ButtonTiming, Curve, DirectionMap, MOST_CURVE_POINTS, Settings, Smoothing, SwitchThresholds,
};
use std::ops::RangeInclusive;

const CENTRE: RangeInclusive<f64> = -8.0..=8.0;
const DEAD_ZONE: RangeInclusive<f64> = 0.0..=0.9;
const EXPONENT: RangeInclusive<f64> = 0.2..=5.0;
const TURN_DEGREES: RangeInclusive<f64> = -180.0..=180.0;
const GAIN: RangeInclusive<f64> = 0.2..=5.0;
const CUTOFF_HERTZ: RangeInclusive<f64> = 0.1..=60.0;
const SPEED_COEFFICIENT: RangeInclusive<f64> = 0.0..=1000.0;
const THRESHOLD: RangeInclusive<f64> = 0.0..=1.5;
/// The longest time of a switch or a button, seconds: half a minute is beyond any use.
const SECONDS: RangeInclusive<f64> = 0.0..=30.0;

/// A number brought into its range; `otherwise` for what is none.
pub(super) fn brought(value: f64, otherwise: f64, range: RangeInclusive<f64>) -> f64 {
    if value.is_finite() { value.clamp(*range.start(), *range.end()) } else { otherwise }
}

/// Settings within the ranges their docs name: what the pipeline would make of them anyway.
pub(super) fn tidied_settings(settings: &Settings) -> Settings {
    let dead_zone = brought(settings.dead_zone, 0.0, DEAD_ZONE);
    let curve = match &settings.curve {
        Curve::Points(points) if is_curve(points) => settings.curve.clone(),
        Curve::Points(_) => match in_range(&settings.curve) {
            Curve::Points(points) if points.is_empty() => Curve::Linear,
            curve => curve,
        },
        other => in_range(other),
    };
    let direction = settings.direction;
    let smoothing = match settings.smoothing {
        Smoothing::Off => Smoothing::Off,
        Smoothing::OneEuro { cutoff_hertz, speed_coefficient } => Smoothing::OneEuro {
            cutoff_hertz: brought(cutoff_hertz, 1.0, CUTOFF_HERTZ),
            speed_coefficient: brought(speed_coefficient, 0.0, SPEED_COEFFICIENT),
        },
    };
    let switches = settings.switches.map(|switches| {
        let on = brought(switches.on, 0.5, THRESHOLD);
        SwitchThresholds {
            on,
            off: brought(switches.off, on, 0.0..=on),
            shortest_seconds: brought(switches.shortest_seconds, 0.0, SECONDS),
        }
    });
    let buttons = settings.buttons;
    Settings {
        centre: Position::new(
            brought(settings.centre.right, 0.0, CENTRE),
            brought(settings.centre.up, 0.0, CENTRE),
        ),
        direction: DirectionMap {
            turn_degrees: brought(direction.turn_degrees, 0.0, TURN_DEGREES),
            right_gain: brought(direction.right_gain, 1.0, GAIN),
            up_gain: brought(direction.up_gain, 1.0, GAIN),
            ..direction
        },
        smoothing,
        dead_zone,
        full_throw: brought(settings.full_throw, 1.0, dead_zone + 0.01..=1.5),
        shape: settings.shape,
        curve,
        switches,
        buttons: ButtonTiming {
            shortest_press_seconds: brought(buttons.shortest_press_seconds, 0.0, SECONDS),
            bounce_seconds: brought(buttons.bounce_seconds, 0.0, SECONDS),
            repeat_delay_seconds: buttons
                .repeat_delay_seconds
                .filter(|seconds| seconds.is_finite())
                .map(|seconds| brought(seconds, 0.0, SECONDS)),
        },
    }
}

/// Whether settings hold what they may hold.
pub(super) fn check_settings(settings: &Settings) -> Result<(), Unreadable> {
    let centre = settings.centre;
    hold(CENTRE.contains(&centre.right) && CENTRE.contains(&centre.up), "chosen.centre")?;
    let direction = settings.direction;
    hold(TURN_DEGREES.contains(&direction.turn_degrees), "chosen.direction.turn_degrees")?;
    let gains = GAIN.contains(&direction.right_gain) && GAIN.contains(&direction.up_gain);
    hold(gains, "chosen.direction.gain")?;
    if let Smoothing::OneEuro { cutoff_hertz, speed_coefficient } = settings.smoothing {
        hold(CUTOFF_HERTZ.contains(&cutoff_hertz), "chosen.smoothing.cutoff_hertz")?;
        let speed = SPEED_COEFFICIENT.contains(&speed_coefficient);
        hold(speed, "chosen.smoothing.speed_coefficient")?;
    }
    hold(DEAD_ZONE.contains(&settings.dead_zone), "chosen.dead_zone")?;
    let full_throw = settings.full_throw;
    hold(full_throw > settings.dead_zone && full_throw <= 1.5, "chosen.full_throw")?;
    match &settings.curve {
        Curve::Linear => {}
        Curve::Exponent(exponent) => hold(EXPONENT.contains(exponent), "chosen.curve.exponent")?,
        Curve::Points(points) => hold(is_curve(points), "chosen.curve.points")?,
    }
    if let Some(switches) = settings.switches {
        hold(THRESHOLD.contains(&switches.on), "chosen.switches.on")?;
        hold((0.0..=switches.on).contains(&switches.off), "chosen.switches.off")?;
        let shortest = SECONDS.contains(&switches.shortest_seconds);
        hold(shortest, "chosen.switches.shortest_seconds")?;
    }
    let buttons = settings.buttons;
    let shortest = SECONDS.contains(&buttons.shortest_press_seconds);
    hold(shortest, "chosen.buttons.shortest_press_seconds")?;
    hold(SECONDS.contains(&buttons.bounce_seconds), "chosen.buttons.bounce_seconds")?;
    let repeat = buttons.repeat_delay_seconds.is_none_or(|seconds| SECONDS.contains(&seconds));
    hold(repeat, "chosen.buttons.repeat_delay_seconds")
}

/// Whether points make a curve: at most [`MOST_CURVE_POINTS`], in 0..=1, not falling, from
/// nothing to all the way.
pub(super) fn is_curve(points: &[(f64, f64)]) -> bool {
    let unit = 0.0..=1.0;
    (1..=MOST_CURVE_POINTS).contains(&points.len())
        && points.iter().all(|(x, y)| unit.contains(x) && unit.contains(y))
        && points.iter().copied().all(keeps_ends)
        && points.windows(2).all(|pair| pair[0].0 <= pair[1].0 && pair[0].1 <= pair[1].1)
}
