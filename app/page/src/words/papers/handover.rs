//! The handover sheet: one page for family and carers.

use super::lines;
use crate::words::{host, layers, number, own_game};
use fitting::papers::{Facts, FirstChange, TypedNumber};
use fitting::stick_kind::Mover;
use fitting::visit::{Condition, Connection, PaperPart, SetUp};

/// What stands in a part.
pub(super) fn suggested(part: PaperPart, facts: &Facts) -> String {
    match part {
        PaperPart::HandoverPlace => facts.place.as_ref().map_or_else(
            || {
                "[Where the stick goes: body part, seat and support, and how far forward, to the \
                 side and up from what]"
                    .to_owned()
            },
            place,
        ),
        PaperPart::HandoverType => typed(facts),
        PaperPart::HandoverFirst => first(&facts.first),
        PaperPart::HandoverSkin => skin(facts),
        PaperPart::HandoverStop => stop(facts),
        PaperPart::HandoverAsk => "[Name and telephone: for the stick, for the settings]\nPain, skin \
            and health: the person’s own therapist or physician."
            .to_owned(),
        _ => String::new(),
    }
}

/// Where the stick is, line by line.
pub(super) fn place(place: &SetUp) -> String {
    let named = |name: &str, text: &str| {
        if text.is_empty() { String::new() } else { format!("{name}: {text}") }
    };
    let from = if place.reference.is_empty() { "the reference" } else { &place.reference };
    let lengths: Vec<String> = [
        (place.forward_mm, "forward", "back"),
        (place.right_mm, "to the right", "to the left"),
        (place.up_mm, "up", "down"),
    ]
    .into_iter()
    .filter_map(|(length, more, less)| Some(millimetres(length?, more, less)))
    .collect();
    let lengths = match lengths.is_empty() {
        true => named("Measured from", &place.reference),
        false => format!("From {from}: {}", lengths.join(", ")),
    };
    let angles: Vec<String> = [
        place.tilt_degrees.map(|by| angle("tilted", by, "away from the person", "towards the person")),
        place.turn_degrees.map(|by| angle("turned", by, "clockwise from above", "anticlockwise from above")),
    ]
    .into_iter()
    .flatten()
    .collect();
    let support: Vec<String> = [
        ("seat", &place.seat),
        ("trunk", &place.trunk),
        ("head", &place.head),
        ("arm", &place.arm),
        ("splint", &place.splint),
    ]
    .into_iter()
    .filter(|(_, text)| !text.is_empty())
    .map(|(name, text)| format!("{name} {text}"))
    .chain(place.glasses.map(|on| if on { "glasses on" } else { "glasses off" }.to_owned()))
    .collect();
    let connection = match &place.connection {
        Connection::Unknown => String::new(),
        Connection::Direct => "Plugged in directly".to_owned(),
        Connection::Through(what) => named("Plugged in through", what),
    };
    lines([
        named("Moved by", &place.body_part),
        lengths,
        angles.join(", "),
        named("Clamp mark", &place.clamp_mark),
        named("Topper", &place.topper),
        named("Support", &support.join("; ")),
        connection,
        place.else_set_up.clone(),
    ])
}

fn millimetres(length: i32, more: &str, less: &str) -> String {
    match length {
        0 => format!("0\u{a0}mm {more}"),
        length => {
            let side = if length > 0 { more } else { less };
            format!("{}\u{a0}mm {side}", length.abs())
        }
    }
}

fn angle(what: &str, degrees: i32, more: &str, less: &str) -> String {
    match degrees {
        0 => format!("not {what}"),
        degrees => {
            let side = if degrees > 0 { more } else { less };
            format!("{what} {}° {side}", degrees.abs())
        }
    }
}

/// Where the numbers go.
fn typed(facts: &Facts) -> String {
    let path = &facts.path;
    match facts.typed.layer.and_then(|place| path.layers.get(place)) {
        None => format!("Into [what it is plugged into: where its settings are]. {}", host::HOST_TEXT),
        Some(layer) => {
            let notes = facts.typed.notes.iter().take(2);
            let notes = notes.map(|note| layers::note(*note, &path.layers));
            let into = format!("{}: {}", layers::numbers(&layers::name(layer)), layers::way(&path.layers));
            lines(std::iter::once(into).chain(notes))
        }
    }
}

/// One step for each thing that is often not right.
fn first(changes: &[FirstChange]) -> String {
    if changes.is_empty() {
        return "[What to change first: one thing at a time]".to_owned();
    }
    let change = |change: &FirstChange| {
        let (name, from, to) = match change.number {
            TypedNumber::DeadZone => {
                ("dead zone", number::percent(change.from), number::percent(change.to))
            }
            TypedNumber::FullThrow => {
                ("full throw", number::percent(change.from), number::percent(change.to))
            }
            TypedNumber::Exponent => {
                ("sensitivity", exponent(change.from), exponent(change.to))
            }
        };
        format!("{}: {name} from {from} to {to}", own_game::felt(change.felt))
    };
    lines(changes.iter().map(change).chain([ONE.to_owned()]))
}

/// A sensitivity number with as many decimals as its steps have.
fn exponent(value: f64) -> String {
    format!("{value:.2}").trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// One at a time.
const ONE: &str = "One thing at a time, then some minutes of play.";

fn skin(facts: &Facts) -> String {
    let mouth = match facts.mover {
        Mover::Limb => "",
        Mover::Chin => "Look under the chin too. Clean the cup by its maker’s method.",
        Mover::Lip | Mover::Breath => {
            "Look at lips and mouth too. A mouthpiece is one person’s and is never shared; clean it \
             by its maker’s method."
        }
    };
    let numb = if facts.cares.contains(&Condition::PoorSensation) {
        "Sensation is poor: look in between too, the person may not feel it."
    } else {
        ""
    };
    lines([
        "Under straps, splints and cups: before and after play. Red after half an hour: stop, and \
         ask (common practice, no source)."
            .to_owned(),
        numb.to_owned(),
        mouth.to_owned(),
    ])
}

fn stop(facts: &Facts) -> String {
    let signal = facts.stop_signal.as_ref().map_or_else(
        || "[How the person says stop]".to_owned(),
        |how| format!("The person says stop like this: {how}"),
    );
    // What was skipped is not answered with no.
    let cord = if facts.cares_not.contains(&Condition::CordInjury) {
        ""
    } else {
        "After a spinal cord injury, a pounding headache, flushing or sweating: stop, sit up, loosen \
         anything tight, check the bladder drainage, follow the emergency plan, call for help."
    };
    let seizures = if facts.cares.contains(&Condition::Seizures) {
        "At the person’s own warning signs of a seizure."
    } else {
        ""
    };
    lines([
        signal,
        "At pain, numbness, breathlessness, or a rise in spasm.".to_owned(),
        cord.to_owned(),
        seizures.to_owned(),
    ])
}
