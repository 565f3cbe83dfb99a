//! What each suggestion says of itself, in the catalogue's words.

use crate::parts::setting::Said;
use crate::state::{Analysis, Decided};
use crate::words::{
    asking as asking_words, device as device_words, found as found_words, host as host_words,
    more_settings as more_words, number, settings as words,
};
use fitting::measure::Measures;
use fitting::settings::Shape;
use fitting::suggest::{Effect, FullThrowSource, HostForm, least_sure};
use fitting::visit::{CurveSet, HostSets};
use fitting::{NotEnough, Position, Settings, Sureness};
use leptos::prelude::*;

fn without(why: NotEnough) -> Said {
    Said {
        sureness: Sureness::NotEnough,
        basis: String::new(),
        sentence: words::not_enough(why),
        notes: Vec::new(),
        details: Vec::new(),
    }
}

/// A setting of which nothing is known.
pub fn nothing() -> Said {
    without(NotEnough::NothingRecorded)
}

/// The dead zone.
pub fn dead_zone(analysis: &Analysis, wish_per_minute: f64, settings: &Settings) -> Said {
    let advice = match &analysis.suggestions.dead_zone {
        Ok(advice) => advice,
        Err(why) => return without(*why),
    };
    let mut notes = Vec::new();
    if let Ok(rest) = &analysis.measures.rest
        && rest.sudden.count > 0
    {
        notes.push(words::sudden(&rest.sudden, advice.covering_sudden));
    }
    if let Some(covered) = &advice.covers_frequent {
        notes.push(words::covers_frequent(covered));
    }
    let is_set = settings.dead_zone == advice.radius.value;
    if advice.collides {
        notes.push(words::collides(&advice.remedies, is_set));
    }
    for busy in &advice.busy {
        let rate = busy.per_minute.as_ref().ok().filter(|rate| rate.value > wish_per_minute);
        let needed = busy.radius_needed.filter(|needed| *needed > settings.dead_zone);
        match (rate, needed) {
            // Its rate is that of the suggestion alone.
            (Some(rate), _) if is_set => {
                notes.push(words::busy(busy.meanwhile, rate, busy.radius_needed));
            }
            (Some(_), Some(needed)) => notes.push(words::busy_needed(busy.meanwhile, needed)),
            _ => {}
        }
    }
    let suggestions = &analysis.suggestions;
    // With another smoothing by hand the dead zone is at least the one needed without any.
    let is_without = !is_set && settings.smoothing != suggestions.settings.smoothing;
    if let (true, Some(alone)) = (is_set, suggestions.dead_zone_alone) {
        notes.push(words::counts_on_rest(alone.ok(), settings));
    } else if let (true, Ok(with_all)) = (is_set, &suggestions.dead_zone_with_all) {
        notes.extend(words::dead_zone_with_all(with_all.radius.value, settings));
    }
    if let Some(hidden) = advice.hidden_middle {
        notes.push(words::hidden(hidden));
    } else if analysis.measures.device.still_middle {
        notes.push(words::HIDDEN_UNKNOWN.to_owned());
    }
    if let Some(why) = advice.not_stationary {
        notes.push(words::not_stationary(why).to_owned());
    } else if let Some(seconds) = advice.more_seconds {
        notes.push(words::more_rest(seconds));
    }
    let mut details = vec![
        (words::INTERVAL, number::percent_interval(&advice.radius)),
        (words::METHOD, words::dead_zone_method(advice.from_model).to_owned()),
        (
            words::COUNTED,
            words::counted_bound(advice.counted_bound_per_minute, advice.rest_seconds),
        ),
        (words::BASIS, words::dead_zone_basis(advice)),
    ];
    if let Some(weakest) = &advice.weakest {
        details.push((words::COST, words::eats(weakest)));
    }
    Said {
        sureness: advice.sureness,
        basis: words::dead_zone_basis(advice),
        sentence: if is_without {
            words::dead_zone_without(settings.dead_zone, wish_per_minute)
        } else {
            words::dead_zone(advice, wish_per_minute)
        },
        notes,
        details,
    }
}

/// The full throw.
pub fn full_throw(analysis: &Analysis) -> Said {
    let advice = match &analysis.suggestions.full_throw {
        Ok(advice) => advice,
        Err(why) => {
            let mut said = without(*why);
            if *why == NotEnough::NoSteeringSpan {
                said.notes.push(words::own_throws(&analysis.suggestions.own_throws));
            }
            return said;
        }
    };
    let left: Vec<String> = advice
        .by_direction
        .iter()
        .filter(|(_, _, left)| *left > 0.005)
        .map(|(direction, _, left)| words::leaves(*direction, *left))
        .collect();
    let mut details = vec![
        (words::INTERVAL, number::percent_interval(&advice.radius)),
        (words::METHOD, words::full_throw_method(advice.source).to_owned()),
        (words::BASIS, words::full_throw_basis(advice)),
    ];
    if !left.is_empty() {
        details.push((words::COST, left.join("; ")));
    }
    let is_once = advice.source == FullThrowSource::Sustained && advice.sureness != Sureness::Firm;
    Said {
        sureness: advice.sureness,
        basis: words::full_throw_basis(advice),
        sentence: words::full_throw(advice),
        notes: is_once.then(|| words::KEPT_UP_ONCE.to_owned()).into_iter().collect(),
        details,
    }
}

/// The sensitivity curve.
pub fn curve(analysis: &Analysis) -> Said {
    let advice = match &analysis.suggestions.curve {
        Ok(advice) => advice,
        Err(why) => return without(*why),
    };
    let mut details = vec![(words::METHOD, words::CURVE_METHOD.to_owned())];
    if let Ok(growth) = &advice.growth {
        details
            .push((device_words::STEADINESS, words::unsteadiness(advice.at_centre, growth.value)));
        details.push((words::INTERVAL, number::fine_percent_interval(growth)));
    }
    Said {
        sureness: advice.sureness,
        basis: words::curve_basis(advice),
        sentence: words::curve(advice),
        notes: Vec::new(),
        details,
    }
}

/// False movements a minute: counted, or expected by the model where the count says too little.
pub fn rate(effect: &Effect) -> Option<f64> {
    effect
        .expected_false_per_minute
        .or_else(|| effect.false_per_minute.as_ref().ok().map(|estimate| estimate.value))
}

/// What should be looked at again: uncertain sides, what was left out. A turn of everything is
/// said by the direction setting.
pub fn remarks(measures: &Measures) -> impl IntoView + use<> {
    let mut remarks: Vec<(String, String)> = Vec::new();
    for reach in measures.reach.iter().filter(|reach| reach.is_uncertain()) {
        remarks.push((words::uncertain(reach.asked), words::UNCERTAIN_TO_DO.to_owned()));
    }
    if measures.left_out > 0 {
        remarks.push((words::left_out(measures.left_out), String::new()));
    }
    if measures.moved_by_helper > 0 {
        let count = asking_words::moved_by_helper(measures.moved_by_helper);
        remarks.push((count, asking_words::MOVED_BY_HELPER.to_owned()));
    }
    remarks
        .into_iter()
        .map(|(what, to_do)| view! { <p class="caution"><strong>{what}</strong> " " {to_do}</p> })
        .collect_view()
}

/// A table of two columns.
pub fn two_columns(rows: Vec<(String, String)>) -> impl IntoView {
    let rows = rows
        .into_iter()
        .map(|(term, text)| view! { <tr><th scope="row">{term}</th><td>{text}</td></tr> })
        .collect_view();
    view! { <table class="sheet-numbers"><tbody>{rows}</tbody></table> }
}

/// The settings the way hosts take them; `whole` with the numbers that stand above the table on a
/// sheet already. Where nothing is decided the row says why. Of a host that is known, only the
/// numbers that it takes; and the resting place where the dead zone counts on it.
pub fn host_table(
    form: &HostForm,
    decided: &Decided,
    whole: bool,
    sets: Option<&HostSets>,
    counts_on: Option<Position>,
) -> impl IntoView + use<> {
    let percent = |percent: f64| number::percent(percent / 100.0);
    let radial = || percent(form.dead_zone_radial_percent);
    let full = || percent(form.full_throw_percent);
    let per_axis = || {
        let number = percent(form.dead_zone_per_axis_percent);
        format!("{number} ({})", host_words::HOST_PER_AXIS_HELP)
    };
    let exponent = || {
        let number = number::exponent(form.sensitivity_exponent);
        format!(
            "{number} ({})",
            host_words::host_exponent_help(form.exponent_error_percent / 100.0)
        )
    };
    let points = || {
        let one =
            |(input, output): &(f64, f64)| format!("{} → {}", percent(*input), percent(*output));
        form.points.iter().map(one).collect::<Vec<_>>().join(", ")
    };
    let has_shape = |shape: Shape| {
        sets.is_none_or(|sets| sets.dead_zone.is_some_and(|slider| slider.shape == shape))
    };
    let has_curve = |curve: CurveSet| sets.is_none_or(|sets| sets.curve == curve);
    let has_full = sets.is_none_or(|sets| sets.full_throw.is_some());
    let (dead_zone, curve) = (decided.dead_zone, decided.curve);
    let mut rows = Vec::new();
    let mut add = |is_taken: bool, name: &'static str, text: &dyn Fn() -> String| {
        if is_taken {
            rows.push((name.to_owned(), text()));
        }
    };
    add(whole && has_shape(Shape::Radial), host_words::HOST_RADIAL, &|| {
        words::or_why(dead_zone, radial)
    });
    add(whole && has_full, host_words::HOST_FULL, &|| words::or_why(decided.full_throw, full));
    add(has_shape(Shape::PerAxis), host_words::HOST_PER_AXIS, &|| {
        words::or_why(dead_zone, per_axis)
    });
    add(has_curve(CurveSet::OneNumber), host_words::HOST_EXPONENT, &|| {
        words::or_why(curve, exponent)
    });
    add(has_curve(CurveSet::Points), host_words::HOST_POINTS, &|| words::or_why(curve, points));
    rows.extend(counts_on.map(|at| (host_words::HOST_CENTRE.to_owned(), host_words::centre(at))));
    (!rows.is_empty()).then(|| two_columns(rows))
}

/// Whether a host takes any of the numbers of [`host_table`].
pub fn takes_numbers(sets: &HostSets) -> bool {
    sets.dead_zone.is_some() || sets.full_throw.is_some() || sets.curve != CurveSet::None
}

/// What stick, system and browser do alone.
pub fn device_table(measures: &Measures) -> impl IntoView + use<> {
    let device = &measures.device;
    let mut rows = vec![(
        device_words::NOISE.to_owned(),
        device.noise.as_ref().map_or_else(
            |why| words::not_enough(*why),
            |noise| {
                format!(
                    "{} ({})",
                    number::fine_percent(noise.value),
                    number::fine_percent_interval(noise)
                )
            },
        ),
    )];
    let step = device.step.as_ref().map_or_else(
        |why| words::not_enough(*why),
        |step| device_words::step(*step, device.bits.ok()),
    );
    rows.push((device_words::STEP.to_owned(), step));
    if let Ok(rest) = &measures.rest {
        if let Ok(offset) = &rest.offset {
            rows.push((device_words::OFFSET.to_owned(), number::fine_percent(offset.value)));
        }
        if let Ok(wander) = &rest.wander {
            rows.push((
                device_words::WANDER.to_owned(),
                format!(
                    "{} ({})",
                    number::fine_percent(wander.value),
                    number::fine_percent_interval(wander)
                ),
            ));
        }
    }
    if let Some(seconds) = device.fastest_change_seconds {
        rows.push((device_words::FASTEST.to_owned(), number::milliseconds(seconds)));
    }
    if device.drift_per_minute.is_ok() {
        rows.push((found_words::DRIFT.to_owned(), found_words::drift(&device.drift_per_minute)));
    }
    if device.sag.is_ok() {
        rows.push((found_words::SAG.to_owned(), found_words::fine(&device.sag)));
    }
    if device.gate != Err(NotEnough::NothingRecorded) {
        rows.push((found_words::GATE.to_owned(), found_words::gate(&device.gate)));
    }
    rows.push((found_words::EARLY.to_owned(), found_words::early(device.early_full)));
    for odd in &device.odd_axes {
        rows.push((found_words::odd_axis_name(odd), found_words::odd_axis(odd).to_owned()));
    }
    two_columns(rows)
}

/// Directions: turned, swapped, levelled, or as they come.
pub fn direction(analysis: &Analysis) -> Said {
    let advice = match &analysis.suggestions.direction {
        Ok(advice) => advice,
        Err(why) => return without(*why),
    };
    let mut notes = Vec::new();
    if analysis.measures.map.as_ref().is_ok_and(|map| map.behind_hidden_middle) {
        notes.push(words::HIDDEN_BENDS.to_owned());
    }
    if let Some(gain) = advice.levelling_gain {
        let used = advice.map.right_gain != 1.0 || advice.map.up_gain != 1.0;
        notes.push(more_words::levelling(gain, advice.dead_zone_with_gain, used));
    }
    let mut details = Vec::new();
    if let Ok(map) = &analysis.measures.map {
        details.push((found_words::STRETCH, found_words::fine(&map.stretch)));
        details.push((found_words::CROSS_TALK, found_words::fine(&map.cross_talk)));
        details.push((
            found_words::SWAPPED,
            found_words::swapped(map.swapped, map.right_inverted, map.up_inverted),
        ));
    }
    Said {
        sureness: advice.sureness,
        basis: found_words::turn_basis(&analysis.measures.map),
        sentence: more_words::direction(advice),
        notes,
        details,
    }
}

/// Smoothing, or none.
pub fn smoothing(analysis: &Analysis) -> Said {
    let advice = match &analysis.suggestions.smoothing {
        Ok(advice) => advice,
        Err(why) => return without(*why),
    };
    let notes =
        advice.is_late().then(|| more_words::late(advice.lag_seconds)).into_iter().collect();
    let mut details = vec![(words::METHOD, more_words::SMOOTHING_METHOD.to_owned())];
    if let Some((without, with)) = advice.dead_zone_without_and_with {
        details.push((words::DEAD_ZONE, more_words::smaller_dead_zone(without, with)));
    }
    Said {
        sureness: advice.sureness,
        basis: String::new(),
        sentence: more_words::smoothing(advice),
        notes,
        details,
    }
}

/// Button timing.
pub fn buttons(analysis: &Analysis) -> Said {
    let timing = &analysis.suggestions.timing;
    let sureness = least_sure(timing).unwrap_or(Sureness::NotEnough);
    Said {
        sureness,
        basis: String::new(),
        sentence: more_words::TIMING.to_owned(),
        notes: timing
            .iter()
            .filter(|one| one.shortest_press == Err(NotEnough::Unsettled))
            .map(|one| more_words::no_safe_time(one.button))
            .collect(),
        details: timing.iter().map(more_words::timing_rows).collect(),
    }
}

/// Directions as switches.
pub fn switches(analysis: &Analysis) -> Said {
    let advice = match &analysis.suggestions.switches {
        Ok(advice) => advice,
        Err(why) => return without(*why),
    };
    let rate = Ok(advice.false_per_minute);
    Said {
        sureness: advice.sureness,
        basis: String::new(),
        sentence: more_words::switches(advice),
        notes: Vec::new(),
        details: vec![(
            more_words::FALSE_PRESSES,
            found_words::with_interval(&rate, number::per_minute),
        )],
    }
}
