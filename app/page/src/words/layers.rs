//! What lies between the stick and the game.

use super::number;
use fitting::suggest::layers::{LayerNote, Reached, USUAL_DEAD_ZONE};
use fitting::visit::{Layer, LayerKind};

/// Title.
pub const TITLE: &str = "What lies between stick and game";
/// Why.
pub const TEXT: &str = "Skip this where the stick is plugged straight into what you play on. A hub, \
    the host and the game may each ignore a part of the push; name them, and the numbers for one of \
    them are worked out so that the whole way does what was suggested.";
/// What is in the recording already.
pub const MEASURED_THROUGH: &str = "Leave out what the stick was measured through: it is in the \
    numbers already.";
/// Nothing in between.
pub const DIRECT: &str = "Direct: one layer. The numbers above go into it as they are.";
/// Add one.
pub const ADD: &str = "Add, from the stick on";
/// What each layer is.
pub const fn kind(kind: LayerKind) -> &'static str {
    match kind {
        LayerKind::Stick => "stick’s own settings",
        LayerKind::Hub => "hub or adapter",
        LayerKind::Host => "host (computer, console)",
        LayerKind::Game => "game",
    }
}
/// Its short name.
const fn short(kind: LayerKind) -> &'static str {
    match kind {
        LayerKind::Stick => "the stick’s own settings",
        LayerKind::Hub => "the hub",
        LayerKind::Host => "the host",
        LayerKind::Game => "the game",
    }
}
/// All kinds, in the order in which they lie.
pub const KINDS: [LayerKind; 4] =
    [LayerKind::Stick, LayerKind::Hub, LayerKind::Host, LayerKind::Game];
/// A layer's name as it reads in a sentence.
pub fn name(layer: &Layer) -> String {
    if layer.name.trim().is_empty() { short(layer.kind).to_owned() } else { layer.name.clone() }
}
/// The name of a layer's field.
pub fn of(what: &str, place: usize) -> String {
    format!("{what}, layer {}", place + 1)
}
/// A layer's own heading.
pub fn layer(place: usize, layer: &Layer) -> String {
    format!("{}. {}", place + 1, name(layer))
}
/// Its name.
pub const NAME: &str = "Its name, if you like";
/// Its dead zone.
pub const DEAD_ZONE: &str = "It already ignores (%)";
/// Help.
pub const DEAD_ZONE_HELP: &str = "of what comes into it; 0 where it ignores nothing";
/// Nobody knows.
pub const UNKNOWN: &str = "Nobody knows what it ignores";
/// Of the layer the numbers are for.
pub const REPLACED: &str = "What it is set to now is replaced by the numbers below.";
/// More.
pub const MORE: &str = "More of what it does";
/// Rescaled or not.
pub const STARTS: &str = "Outside of that it starts again at nothing (it jumps where this is not \
    ticked)";
/// Shape.
pub const SHAPE: &str = "It ignores";
/// Full throw.
pub const FULL: &str = "It passes on as all the way from (%)";
/// Exponent.
pub const EXPONENT: &str = "Its sensitivity as one number (1 is straight)";
/// Step.
pub const STEP: &str = "One step of its slider (%); empty where it is not known";
/// Settable.
pub const CAN_BE_SET: &str = "It can be set";
/// Where to type.
pub const NAMED: &str = "Numbers for this one";
/// Away with it.
pub const REMOVE: &str = "Remove";

/// How to find out.
pub const FIND_OUT: &str = "To find out: open the game on the same machine, push the stick slowly \
    one way until the game just moves, hold it there, and press this. Or read the share in the live \
    view and type it in.";
/// Take what the stick shows.
pub const FIND_NOW: &str = "The game moves now: take it over";
/// No stick at hand.
pub const FIND_NO_STICK: &str = "No stick is chosen: nothing could be read.";
/// What was read.
pub fn found(push: f64, ignores: f64) -> String {
    format!(
        "Read at {} of travel: this layer ignores {} of what comes into it.",
        number::percent(push),
        number::percent(ignores)
    )
}

/// The numbers.
pub fn numbers(name: &str) -> String {
    format!("To type into {name}")
}
/// A dead zone, round.
pub const ROUND: &str = "Dead zone, round";
/// A dead zone, by axis.
pub const BY_AXIS: &str = "Dead zone, each axis by itself";
/// The dead zone with its range.
pub fn dead_zone(value: f64, range: Option<(f64, f64)>) -> String {
    match range {
        Some((low, high)) if high > low => format!(
            "{} (between {:.0} and {}, by what the unknown layer ignores)",
            number::percent(value),
            100.0 * low + 0.0,
            number::percent(high)
        ),
        _ => number::percent(value),
    }
}
/// Full throw.
pub const FULL_THROW: &str = "Full throw";
/// Sensitivity.
pub const ONE_NUMBER: &str = "Sensitivity as one number";

/// What the whole way does with it.
pub fn reached(reached: &Reached, dead_zone: f64, full_throw: f64) -> String {
    let full = reached.full_throw.map_or_else(
        || "never all the way".to_owned(),
        |full| format!("all the way at {}", number::fine_percent(full)),
    );
    format!(
        "The whole way then ignores {} of travel ({} suggested) and is {full} ({} suggested). In \
         between it differs by at most {} of full output.",
        number::fine_percent(reached.dead_zone),
        number::fine_percent(dead_zone),
        number::fine_percent(full_throw),
        number::fine_percent(reached.error)
    )
}

/// What there is to say about the path.
pub fn note(note: LayerNote, layers: &[Layer]) -> String {
    let name = |place: usize| layers.get(place).map(name).unwrap_or_default();
    match note {
        LayerNote::NothingCanBeSet => {
            "None of these can be set. The numbers above are what the whole way should do."
                .to_owned()
        }
        LayerNote::CannotBeSet(place) => {
            format!(
                "{} cannot be set: it is taken as it is. Choose another.",
                number::capital(&name(place))
            )
        }
        LayerNote::EarlierIgnoresIt(place) => format!(
            "{} already ignores as much as is wanted: a dead zone here is not needed.",
            number::capital(&name(place))
        ),
        LayerNote::EarlierTakesPart { layer, dead_zone } => format!(
            "{} already ignores {} of what comes into it; only the rest is typed in here.",
            number::capital(&name(layer)),
            number::percent(dead_zone)
        ),
        LayerNote::LaterTakesPart { layer, dead_zone } => format!(
            "{} ignores {} on top of it. That is made up for here; better lower it to nothing there, \
             if it can be.",
            number::capital(&name(layer)),
            number::percent(dead_zone)
        ),
        LayerNote::LowerThere { layer, to } => format!(
            "More is ignored than wanted, whatever is typed here: lower the dead zone of {} to {}.",
            name(layer),
            number::percent(to)
        ),
        LayerNote::StaysThere(place) => format!(
            "More is ignored than wanted, and {} cannot be set: that much remains.",
            name(place)
        ),
        LayerNote::NotStill => {
            "Less is kept still than wanted: the layers before make nearly all of \
            a small push. Type the numbers into an earlier layer."
                .to_owned()
        }
        LayerNote::Unknown(place) => {
            let (least, most) = USUAL_DEAD_ZONE;
            format!(
                "Nobody knows what {} ignores. Usual is nothing, or {:.0} to {} (common practice, no \
                 source). The number counts on nothing, so that it keeps still for sure; try it, and \
                 go down within the range if too much is ignored.",
                name(place),
                100.0 * least,
                number::percent(most)
            )
        }
        LayerNote::Jumps(to) => format!(
            "Outside the dead zone the output begins at {} of full: a small push is a jump.",
            number::percent(to)
        ),
        LayerNote::FullEarly => {
            "It is all the way before the suggested full throw: a layer before \
            passes everything beyond on as all the way."
                .to_owned()
        }
        LayerNote::FullLate => {
            "It is all the way only later than suggested, or never: another layer \
            holds it back."
                .to_owned()
        }
        LayerNote::RoundForSquare(radius) => format!(
            "The dead zone is laid by axis above, and here it is round: it must reach {} at the stick \
             to keep as still.",
            number::fine_percent(radius)
        ),
        LayerNote::MixedShapes => {
            "Round and per-axis dead zones are mixed: along the diagonals more \
            or less is ignored."
                .to_owned()
        }
    }
}

/// On the sheet.
pub fn way(layers: &[Layer]) -> String {
    let names: Vec<String> = layers.iter().map(name).collect();
    format!("stick → {}", names.join(" → "))
}
