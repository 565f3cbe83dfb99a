//! The handover sheet: one page for family and carers.

use super::lines;
use crate::words::{layers, number, own_game};
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
            |set_up| place(set_up, facts.place_is_drawn),
        ),
        PaperPart::HandoverType => typed(facts),
        PaperPart::HandoverFirst => first(&facts.first),
        PaperPart::HandoverSkin => skin(facts),
        PaperPart::HandoverStop => stop(facts),
        PaperPart::HandoverAsk => {
            "[Name and telephone: for the stick, for the settings]\nPain, skin \
            and health: the person’s own therapist or physician."
                .to_owned()
        }
        _ => String::new(),
    }
}

/// Where the stick is, line by line; `is_drawn` when a drawing with its steps stands above it,
/// which tells every number, the clamp's mark and the topper.
fn place(place: &SetUp, is_drawn: bool) -> String {
    let named = |name: &str, text: &str| {
        if text.is_empty() { String::new() } else { format!("{name}: {text}") }
    };
    let undrawn = |name: &str, text: &str| {
        if is_drawn { String::new() } else { named(name, text) }
    };
    let support: Vec<String> = [
        ("seat", &place.seat),
        ("trunk", &place.trunk),
        ("head", &place.head),
        ("arm", &place.arm),
        ("splint", &place.splint),
    ]
    .into_iter()
    .filter(|(_, text)| !text.is_empty())
    .map(|(name, text)| format!("{name} – {text}"))
    .chain(place.glasses.map(|on| if on { "glasses on" } else { "glasses off" }.to_owned()))
    .collect();
    let connection = match &place.connection {
        Connection::Unknown => String::new(),
        Connection::Direct => "Plugged in directly".to_owned(),
        Connection::Through(what) => named("Plugged in through", what),
    };
    lines([
        named("Moved by", &place.body_part),
        undrawn("Measured from", &place.reference),
        undrawn("Clamp mark", &place.clamp_mark),
        undrawn("Topper", &place.topper),
        named("Support", &support.join("; ")),
        connection,
        place.else_set_up.clone(),
    ])
}

/// Where the numbers go, with what there is room for of what there is to say about it.
fn typed(facts: &Facts) -> String {
    let path = &facts.path;
    let Some(layer) = facts.typed.layer.and_then(|place| path.layers.get(place)) else {
        return "Into [where its settings are], in one place only: the dead zones of stick, hub, host \
            and game add up. Set the others to nothing where you can."
            .to_owned();
    };
    let mut text =
        format!("{}: {}", layers::numbers(&layers::name(layer)), layers::way(&path.layers));
    let most = PaperPart::HandoverType.room().characters;
    for note in facts.typed.notes.iter().map(|note| layers::note(*note, &path.layers)) {
        if text.chars().count() + note.chars().count() < most {
            text.push('\n');
            text.push_str(&note);
        }
    }
    text
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
            TypedNumber::Exponent => ("sensitivity", exponent(change.from), exponent(change.to)),
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
        Mover::Chin => "Under the chin too. Clean the cup by its maker’s method.",
        Mover::Lip | Mover::Breath => {
            "Lips and mouth too. A mouthpiece is one person’s, never shared; clean it by its maker’s \
             method."
        }
    };
    let numb = if facts.cares.contains(&Condition::PoorSensation) {
        "Sensation is poor: look in between too."
    } else {
        ""
    };
    lines([
        "Under straps, splints and cups, before and after play. Redness that stays: stop, and ask."
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
