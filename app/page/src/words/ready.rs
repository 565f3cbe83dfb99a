//! Before anything moves.

/// Title.
pub const TITLE: &str = "Before anything moves";
/// What this page does, for somebody new.
pub const WELCOME: &str = "This page fits one joystick to one person: it measures how stick and \
    person really move, suggests a dead zone, full throw and sensitivity with reasons, and shows \
    on the person’s own recordings what each would do.";
/// Position comes first.
pub const ORDER: &str = "Sit well first, then place the stick, then measure little and often. \
    Anything can be skipped, and any part is of use by itself.";

/// The label of a fitting.
pub const LABEL: &str = "A name for this fitting";
/// What to type there.
pub const LABEL_HELP: &str = "Whatever you will know it by. No real name is needed; it stays in \
    this browser.";

/// The checks.
pub const CHECKS: &str = "Look at these three";
/// Wheelchair drive.
pub const CHECK_DRIVE: &str = "Wheelchair drive is off and locked";
/// Call bell.
pub const CHECK_CLEAR: &str = "Call bell, communication aid and breathing tubes are clear and in \
    reach";
/// Stop signal.
pub const CHECK_STOP: &str = "We agreed how the person says stop, and tried it";
/// Where the page's own stop is.
pub const STOP_HELP: &str = "On the page, Rest at the top right or the Escape key stops \
    everything at once and keeps it; so does any button of the stick held for two seconds.";

/// Conditions that need care.
pub const ASK: &str = "Does any of this hold?";
/// What happens then.
pub const ASK_HELP: &str = "The caution that goes with it shows under it. Nothing is kept.";

/// The conditions and the caution that goes with each.
pub const CONDITIONS: [(&str, &str); 8] = [
    (
        "Seizures",
        "Leave moving pictures out, keep the room bright, stop at the person’s own warning signs.",
    ),
    (
        "Recent surgery or fracture",
        "Measure only what the treating team has allowed, and never against resistance or pain.",
    ),
    (
        "Joints that slip out",
        "Support the joint, keep pushes small, and leave out long reaches that way.",
    ),
    (
        "Spinal cord injury at T6 or above",
        "A pounding headache, flushing or sweating means: stop, sit up, loosen anything tight, \
         check the bladder drainage, follow the person’s own emergency plan, call for help.",
    ),
    (
        "Breathing support",
        "Somebody watches the breathing throughout. Nothing may press on chest, tube or mask.",
    ),
    (
        "Bite reflex",
        "No mouthpiece that can break; a mouthpiece is one person’s and is never shared.",
    ),
    ("Poor sensation", "Look at the skin under straps and cups before, between and after tasks."),
    (
        "Pain or fatigue today",
        "Take the shortest plan. If either rises by two points of ten, stop for today.",
    ),
];

/// Mounting cautions.
pub const MOUNT: &str = "A stick on a wheelchair’s frame must not foul its own controls. A mouth \
    or chin mount must swing clear and never block breathing or speaking. Clean what touches skin \
    by its maker’s method.";

/// Go on.
pub const NEXT: &str = "Go on to the stick";
/// The list of kept fittings.
pub const KEPT: &str = "Kept fittings";
/// Start a fresh one.
pub const FRESH: &str = "Start a new fitting";
/// One of them is open.
pub fn open_now(label: &str) -> String {
    format!("Open now: {label}")
}
/// A fitting nobody named.
pub const UNNAMED: &str = "unnamed fitting";
