//! Whether a host takes the settings that are suggested.

use super::reason::Reason;
use fitting::Settings;
use fitting::settings::{Curve, Shape, Smoothing};
use fitting::suggest::HostForm;
use fitting::visit::{CurveSet, HostSets, Slider};

/// A dead zone that a slider misses by more than this share of itself counts as missed.
const MISSED: f64 = 0.25;

/// Turns smaller than this need nothing, degrees: the limit of NUREG-0700 for how far off a
/// follower may track.
const LEAST_TURN_DEGREES: f64 = 10.0;

/// What a host cannot take of these settings; [`Reason::TakesSettings`] where it takes all.
pub(super) fn cannot_take(settings: &Settings, sets: &HostSets) -> Vec<Reason> {
    let form = HostForm::of(settings);
    let mut reasons = Vec::new();
    if settings.dead_zone > 0.0 {
        reasons.extend(match &sets.dead_zone {
            None => Some(Reason::NoDeadZone(settings.dead_zone)),
            Some(slider) => dead_zone(&form, slider),
        });
    }
    let full_throw = form.full_throw_percent / 100.0;
    if full_throw < 0.995 {
        reasons.extend(match sets.full_throw {
            None => Some(Reason::NoFullThrow(full_throw)),
            Some(range) if full_throw < range.low || full_throw > range.high => {
                Some(Reason::FullThrowOutside {
                    wanted: full_throw,
                    least: range.low,
                    most: range.high,
                })
            }
            Some(_) => None,
        });
    }
    let cannot = |needs: bool, can: bool, reason: Reason| (needs && !can).then_some(reason);
    let bent = settings.curve != Curve::Linear;
    let direction = &settings.direction;
    let turn = direction.turn_degrees;
    reasons.extend(cannot(bent, sets.curve != CurveSet::None, Reason::NoCurve));
    let inverted = direction.right_inverted || direction.up_inverted;
    reasons.extend(cannot(inverted, sets.inverts, Reason::CannotInvert));
    reasons.extend(cannot(direction.swapped, sets.swaps, Reason::CannotSwap));
    let turned = turn.abs() >= LEAST_TURN_DEGREES;
    reasons.extend(cannot(turned, sets.turns, Reason::CannotTurn(turn)));
    let smooths = settings.smoothing != Smoothing::Off;
    reasons.extend(cannot(smooths, sets.smooths, Reason::CannotSmooth));
    let timed = form.shortest_press_milliseconds > 0.0
        || form.bounce_milliseconds > 0.0
        || form.repeat_delay_milliseconds.is_some();
    reasons.extend(cannot(timed, sets.times_buttons, Reason::CannotTime));
    if reasons.is_empty() {
        reasons.push(Reason::TakesSettings);
    }
    reasons
}

fn dead_zone(form: &HostForm, slider: &Slider) -> Option<Reason> {
    let percent = match slider.shape {
        Shape::Radial => form.dead_zone_radial_percent,
        Shape::PerAxis => form.dead_zone_per_axis_percent,
    };
    let wanted = percent / 100.0;
    let range = slider.range;
    // A hair beyond the end is no difference anybody feels.
    if wanted > range.high + 0.005 {
        return Some(Reason::DeadZoneBeyond { wanted, most: range.high });
    }
    if wanted < range.low - 0.005 {
        return Some(Reason::DeadZoneBelow { wanted, least: range.low });
    }
    if range.step > 0.0 {
        // Upwards, so that no false movement comes back; the slider counts from its low end.
        let steps = libm::ceil((wanted - range.low) / range.step - 1e-9);
        let set = (range.low + steps * range.step).min(range.high);
        if set - wanted > MISSED * wanted {
            return Some(Reason::StepTooLarge { wanted, step: range.step });
        }
    }
    None
}
