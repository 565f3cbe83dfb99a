//! Where the person and the stick are.

use super::place;
use super::ready::joined;
use fitting::visit::{Connection, MOST_SET_UPS, SetUp};

/// Title.
pub const TITLE: &str = "Where the person and the stick are";
/// What it is for.
pub const TEXT: &str = "Sit as you will play, place the stick, then write it down: only what can be \
    set up again the same way can be measured again. Each answer can be left out.";

/// A card.
pub const PERSON: &str = "The person";
/// A card.
pub const STICK: &str = "Where the stick is";
/// A card.
pub const CONNECTED: &str = "How it is connected";
/// A card.
pub const MORE: &str = "Anything else";

/// A field.
pub const BODY_PART: &str = "Body part that moves the stick";
/// A field.
pub const BODY_PART_HELP: &str = "Such as left hand, chin, right foot.";
/// A field.
pub const SEAT: &str = "Seat";
/// A field.
pub const TRUNK: &str = "What supports the trunk";
/// A field.
pub const HEAD: &str = "What supports the head";
/// A field.
pub const ARM: &str = "What supports the arm, or the limb that moves";
/// A field.
pub const SPLINT: &str = "Splint";
/// A field.
pub const GLASSES: &str = "Glasses on";
/// A field.
pub const REFERENCE: &str = "Measured from";
/// A field.
pub const REFERENCE_HELP: &str = "A fixed edge that is there every time, such as the front edge of \
    the left arm rest.";
/// A field.
pub const FORWARD: &str = "Forward or back (mm)";
/// Its sides.
pub const FORWARD_SIDES: [&str; 2] = ["forward", "back"];
/// A field.
pub const RIGHT: &str = "To the side (mm)";
/// Its sides.
pub const RIGHT_SIDES: [&str; 2] = ["to the person’s right", "to the person’s left"];
/// A field.
pub const UP: &str = "Up or down (mm)";
/// Its sides.
pub const UP_SIDES: [&str; 2] = ["up", "down"];
/// A field.
pub const TILT: &str = "Tilt (degrees)";
/// Its sides.
pub const TILT_SIDES: [&str; 2] = ["away from the person", "towards the person"];
/// A field.
pub const TURN: &str = "Turn, seen from above (degrees)";
/// Its sides.
pub const TURN_SIDES: [&str; 2] = ["clockwise", "against the clock"];
/// A field.
pub const CLAMP: &str = "Mark on the clamp";
/// A field.
pub const TOPPER: &str = "What is on top of the stick";
/// A field.
pub const CONNECTION: &str = "The stick is connected";
/// Its answers.
pub const CONNECTION_IS: [&str; 3] = ["directly", "through something", "not said"];
/// A field.
pub const THROUGH: &str = "Through what";
/// A field.
pub const ELSE: &str = "Anything else about the set-up";
/// A field.
pub const ELSE_HELP: &str = "Such as how far the screen is.";
/// The cautions of mounting.
pub const CAUTION: &str = "A stick on a wheelchair’s frame must not foul its own controls. A mouth or \
    chin mount must swing clear and never block breathing or speaking.";

/// Go on.
pub const NEXT: &str = "Go on to the stick";
/// The body parts.
pub const TO_SITES: &str = "Look for a body part";

/// Which series is in use.
pub fn in_use(series: u32, of: usize, tasks: usize) -> String {
    if of < 2 {
        return match tasks {
            0 => String::new(),
            1 => "1 task was recorded with this set-up. A change of it starts a new series."
                .to_owned(),
            _ => format!(
                "{tasks} tasks were recorded with this set-up. A change of it starts a new series."
            ),
        };
    }
    let tasks = match tasks {
        0 => "nothing recorded with it yet".to_owned(),
        _ => self::tasks(tasks),
    };
    format!("In use: series {} of {of}, {tasks}.", series + 1)
}

/// How many tasks.
pub fn tasks(count: usize) -> String {
    match count {
        0 => "no task".to_owned(),
        1 => "1 task".to_owned(),
        _ => format!("{count} tasks"),
    }
}

/// A new series began.
pub fn new_series(before: u32) -> String {
    format!(
        "The set-up changed, so a new series began. What was recorded before stays as series {}, by \
         itself.",
        before + 1
    )
}
/// It was so all along.
pub fn correct(before: u32) -> String {
    format!("It was so all along: correct series {}", before + 1)
}
/// It is an earlier one.
pub const BACK: &str = "This is the set-up of an earlier series: it goes on with that one.";
/// No room.
pub fn full() -> String {
    format!(
        "A fitting holds {MOST_SET_UPS} set-ups at most; nothing was changed. Start a next visit of \
         this person instead, under Kept fittings."
    )
}

/// The other series.
pub const SERIES: &str = "Other series of this fitting";
/// The other series.
pub const SERIES_TEXT: &str = "Each stands by itself: nothing of it is in the figures of the one in \
    use.";
/// Its name.
pub fn series(number: u32) -> String {
    format!("Series {}", number + 1)
}

/// The name of a series, with that of its device where there are several.
pub fn series_with(number: u32, device: Option<&str>) -> String {
    match device {
        Some(device) => format!("{}: {device}", series(number)),
        None => series(number),
    }
}
/// Go on with it.
pub const GO_BACK: &str = "Go on with this set-up";
/// Go on with it.
pub const GO_BACK_HELP: &str = "Only when person and stick are back where they were.";
/// Show its figures.
pub const SHOW_FIGURES: &str = "What it came to";
/// No figures.
pub const NO_FIGURES: &str = "Nothing was recorded with it.";

/// Every answer of a set-up with its name.
pub fn rows(set_up: &SetUp) -> Vec<(&'static str, String)> {
    let sided = |found: Option<(String, &'static str)>| {
        found.map(|found| place::labelled(&found)).unwrap_or_default()
    };
    let connection = match &set_up.connection {
        Connection::Unknown => String::new(),
        Connection::Direct => CONNECTION_IS[0].to_owned(),
        Connection::Through(what) if what.is_empty() => CONNECTION_IS[1].to_owned(),
        Connection::Through(what) => format!("through: {what}"),
    };
    let glasses = match set_up.glasses {
        Some(yes) => super::answer::YES_NO[usize::from(!yes)].to_owned(),
        None => String::new(),
    };
    let all = [
        (BODY_PART, set_up.body_part.clone()),
        (SEAT, set_up.seat.clone()),
        (TRUNK, set_up.trunk.clone()),
        (HEAD, set_up.head.clone()),
        (ARM, set_up.arm.clone()),
        (SPLINT, set_up.splint.clone()),
        (GLASSES, glasses),
        (REFERENCE, set_up.reference.clone()),
        ("Forward or back", sided(set_up.forward_mm.map(place::forward))),
        ("To the side", sided(set_up.right_mm.map(place::right))),
        ("Up or down", sided(set_up.up_mm.map(place::up))),
        ("Tilt", set_up.tilt_degrees.map(place::tilted).unwrap_or_default()),
        ("Turn", set_up.turn_degrees.map(place::turned).unwrap_or_default()),
        (CLAMP, set_up.clamp_mark.clone()),
        (TOPPER, set_up.topper.clone()),
        (CONNECTION, connection),
        (ELSE, set_up.else_set_up.clone()),
    ];
    all.into_iter().filter(|(_, said)| !said.is_empty()).collect()
}

/// The person in one line.
pub fn person_line(set_up: &SetUp) -> String {
    let splint = &set_up.splint;
    joined(&[
        &set_up.body_part,
        &set_up.seat,
        &set_up.trunk,
        &set_up.head,
        &set_up.arm,
        splint,
        if set_up.glasses == Some(true) { "glasses" } else { "" },
    ])
}

/// The place of the stick in one line.
pub fn stick_line(set_up: &SetUp) -> String {
    let sided = |found: Option<(String, &'static str)>| {
        found.map(|found| place::labelled(&found)).unwrap_or_default()
    };
    let parts = [
        set_up.reference.clone(),
        sided(set_up.forward_mm.map(place::forward)),
        sided(set_up.right_mm.map(place::right)),
        sided(set_up.up_mm.map(place::up)),
        set_up.tilt_degrees.map(place::tilted).unwrap_or_default(),
        set_up.turn_degrees.map(place::turned).unwrap_or_default(),
        set_up.clamp_mark.clone(),
        set_up.topper.clone(),
    ];
    let parts: Vec<&str> = parts.iter().map(String::as_str).collect();
    joined(&parts)
}

/// The connection in one line.
pub fn connection_line(set_up: &SetUp) -> String {
    match &set_up.connection {
        Connection::Unknown => super::answer::NOTHING.to_owned(),
        Connection::Direct => CONNECTION_IS[0].to_owned(),
        Connection::Through(what) => joined(&[CONNECTION_IS[1], what]),
    }
}

/// What else, in one line.
pub fn else_line(set_up: &SetUp) -> String {
    joined(&[set_up.else_set_up.lines().next().unwrap_or_default()])
}

/// The set-up in one line.
pub fn line(set_up: Option<&SetUp>) -> String {
    let Some(set_up) = set_up else { return joined(&[]) };
    let place = if set_up.has_place() { stick_line(set_up) } else { set_up.reference.clone() };
    joined(&[&set_up.body_part, &set_up.seat, &place])
}

/// A share that another series came to, with its interval.
pub fn share(value: f64, low: f64, high: f64) -> String {
    super::hand_over::reach_with_interval(value, low, high)
}
