//! Hosts: those that come with the program, and the form for one's own.

use super::number;
use fitting::visit::{AxesTaken, CurveSet, Hat, Host, HostChosen, Port, ShippedHost};

/// The name of a host that comes with the program.
pub const fn shipped(host: ShippedHost) -> &'static str {
    match host {
        ShippedHost::WebPage => "A web page in the open standard’s layout",
        ShippedHost::HubTwoPorts => "A hub with two stick ports",
        ShippedHost::OnePort => "One stick port",
        ShippedHost::AnythingGoes => "A computer that takes anything",
    }
}

/// What it is, in one line.
pub const fn shipped_help(host: ShippedHost) -> &'static str {
    match host {
        ShippedHost::WebPage => {
            "four axes and 17 buttons with fixed jobs (W3C Gamepad); no settings \
            of its own"
        }
        ShippedHost::HubTwoPorts => {
            "each port passes two axes and the first eight buttons (common \
            practice, no source); ask for yours"
        }
        ShippedHost::OnePort => {
            "two axes and the first eight buttons, nothing to set (common \
            practice, no source)"
        }
        ShippedHost::AnythingGoes => {
            "any joystick, game pad, mouse or keyboard; everything can be set"
        }
    }
}

/// The name of a host; of one of the person's own, as it was called.
pub fn name(chosen: HostChosen, own: Option<&Host>) -> String {
    match chosen {
        HostChosen::Shipped(host) => shipped(host).to_owned(),
        HostChosen::Own(_) => own
            .map(|host| host.name.clone())
            .filter(|name| !name.is_empty())
            .unwrap_or_else(|| UNNAMED.to_owned()),
    }
}

/// A host without a name.
pub const UNNAMED: &str = "a host of your own";

/// The name of a port.
pub fn port(place: usize, port: &Port) -> String {
    if port.name.is_empty() { format!("port {}", place + 1) } else { port.name.clone() }
}

/// What a port passes, in one line.
pub fn port_line(port: &Port) -> String {
    format!("{} axes, the first {} buttons", port.axes, port.buttons)
}

/// The title of the form.
pub const TITLE: &str = "A host of your own";
/// What it is for.
pub const WHAT: &str = "A host is whatever the stick is plugged into: a computer, a console, a \
    tablet, a hub. Say what it accepts and lets through, as its manual or its maker says. What you \
    leave as it is counts as said.";
/// Begin.
pub const BEGIN: &str = "Begin from";
/// None yet.
pub const NONE: &str = "Choose what it is most like, and change that.";
/// Full.
pub const FULL: &str = "Six hosts are described already. Delete one first.";
/// Which one is shown.
pub const WHICH: &str = "Your hosts";
/// Its name.
pub const NAME: &str = "What you call it";
/// Of its own make.
pub const NAME_HELP: &str = "In your own words; it is printed and shared.";
/// What it accepts.
pub const ACCEPTS: &str = "It accepts";
/// Joystick.
pub const JOYSTICK: &str = "joysticks (USB usage 4)";
/// Game pad.
pub const GAME_PAD: &str = "game pads (USB usage 5)";
/// Multi-axis.
pub const MULTI_AXIS: &str = "multi-axis controllers (USB usage 8)";
/// Mouse.
pub const MOUSE: &str = "mice";
/// Keyboard.
pub const KEYBOARD: &str = "keyboards";
/// Layout.
pub const LAYOUT: &str = "Jobs are fixed by the open standard’s layout";
/// Joining.
pub const JOINS: &str = "What comes through two ports or devices makes up one controller";
/// A port.
pub fn port_title(place: usize) -> String {
    format!("Port {}", place + 1)
}
/// Its name.
pub const PORT_NAME: &str = "What is written on it";
/// Axes.
pub const PORT_AXES: &str = "Axes that get through";
/// Buttons.
pub const PORT_BUTTONS: &str = "Buttons that get through";
/// Which axes.
pub const AXES_TAKEN: &str = "Which axes";
/// Which axes, in words.
pub const fn axes_taken(taken: AxesTaken) -> &'static str {
    match taken {
        AxesTaken::FirstInOrder => "the first ones",
        AxesTaken::XAndYFirst => "X and Y by name",
    }
}
/// Hat.
pub const HAT: &str = "A hat switch";
/// What becomes of it.
pub const fn hat(hat: Hat) -> &'static str {
    match hat {
        Hat::Dropped => "is dropped",
        Hat::Through => "gets through",
        Hat::AsAxes => "comes as two axes",
        Hat::Unknown => "nobody knows",
    }
}
/// Jobs can be changed.
pub const REASSIGN: &str = "Can the jobs of its buttons be changed?";
/// Job of a button.
pub fn job_of(button: usize) -> String {
    format!("Button {button} does")
}
/// The jobs, folded.
pub const JOBS: &str = "What its buttons do";
/// Nobody knows.
pub const JOB_UNKNOWN: &str = "nobody knows";
/// Add a port.
pub const ADD_PORT: &str = "Add a port";
/// Remove a port.
pub const REMOVE_PORT: &str = "Remove this port";
/// Settings.
pub const SETS: &str = "What it lets you set";
/// Dead zone.
pub const SETS_DEAD_ZONE: &str = "a dead zone";
/// Full throw.
pub const SETS_FULL: &str = "full throw (outer limit)";
/// Curve.
pub const SETS_CURVE: &str = "A sensitivity curve";
/// A curve, in words.
pub const fn curve(curve: CurveSet) -> &'static str {
    match curve {
        CurveSet::None => "none",
        CurveSet::OneNumber => "one number",
        CurveSet::Points => "points",
    }
}
/// Inversion.
pub const SETS_INVERT: &str = "turning an axis round";
/// Swap.
pub const SETS_SWAP: &str = "swapping the axes";
/// Turn.
pub const SETS_TURN: &str = "turning by an angle";
/// Smoothing.
pub const SETS_SMOOTH: &str = "smoothing";
/// Timing.
pub const SETS_TIME: &str = "timing of button presses";
/// From.
pub const LOW: &str = "from, % of travel";
/// To.
pub const HIGH: &str = "to, % of travel";
/// Step.
pub const STEP: &str = "in steps of, % (0 where fine)";
/// One field of one setting, by name.
pub fn of(field: &str, setting: &str) -> String {
    format!("{setting}: {field}")
}
/// Save.
pub const SAVE: &str = "Save as a file to share";
/// Take in.
pub const TAKE_IN: &str = "Take in a file with a host";
/// Taken in.
pub fn taken_in(name: &str) -> String {
    let name = if name.is_empty() { UNNAMED } else { name };
    format!("“{name}” was added.")
}
/// Not a host.
pub const NO_HOST: &str =
    "This file holds no host, or one that cannot be read. Nothing was changed.";
/// Delete.
pub const DELETE: &str = "Delete this host";
/// Back.
pub const BACK: &str = "See what gets through";
/// The file's name.
pub const FILE: &str = "host.json";

/// The ends of a range.
pub fn range(low: f64, high: f64) -> String {
    format!("{} to {}", number::percent(low), number::percent(high))
}
