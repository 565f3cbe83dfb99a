//! Several devices at once.

use device::through::Together;
use fitting::visit::DeviceRole;

/// Title.
pub const TITLE: &str = "Devices together";
/// What it is for.
pub const WHAT: &str = "A stick for each hand, a stick beside an ordinary pad, or two people who \
    share the controls: each device is measured and fitted by itself, and all of them stay in one \
    fitting.";
/// One alone.
pub const ALONE: &str = "So far this fitting has one device.";
/// None at all.
pub const NONE: &str = "Choose a first stick, then add another one here.";
/// To the first stick.
pub const FIRST: &str = "Choose a stick";
/// In use.
pub const IN_USE: &str = "measured now";
/// Not connected.
pub const NOT_HERE: &str = "Not connected, or it shows itself only after a button was pressed.";
/// Others are only played when they are chosen.
pub const ONLY_CHOSEN: &str = "Moves only while it is the one that is measured.";
/// Position.
pub const POSITION: &str = "Position";
/// Pressed.
pub const PRESSED: &str = "Pressed";
/// Its role.
pub const ROLE: &str = "What it is there for";
/// Who plays with it.
pub const WHO: &str = "Who plays with it";
/// The port.
pub const PORT: &str = "Port of the host";
/// Measure with it.
pub const USE: &str = "Measure with this one";
/// Take it out.
pub const TAKE_OUT: &str = "Take it out";
/// Add.
pub const ADD: &str = "Add a device";
/// How.
pub const ADD_HELP: &str = "Connect it and press a button on it. Two devices of one name and shape \
    are told apart only by the order in which they were connected: move one and see which it is.";
/// Nothing to add.
pub const ADD_NONE: &str = "No other device is connected.";
/// No room.
pub const FULL: &str = "A fitting has room for no more devices.";
/// On the host.
pub const ON_HOST: &str = "Together on the host";
/// No host.
pub const NO_HOST: &str = "Choose a host at “What gets through”, and what holds of them together \
    stands here.";
/// The same in a table.
pub const NO_HOST_YET: &str = "no host chosen yet";
/// To the host.
pub const TO_HOST: &str = "What gets through";
/// To the place.
pub const TO_SET_UP: &str = "Where it stands";
/// Caution.
pub const CAUTION: &str = "Whoever helps with a second device can also stop the play at any time: \
    agree on how before you start. Two people with one cable each: keep the cables out of reach of \
    feet, wheels and wheelchair controls.";
/// A row of the sheet.
pub const SHEET: &str = "The devices of this fitting";
/// Its columns.
pub const COLUMNS: [&str; 5] = ["Device", "There for", "On the host", "Dead zone", "Full throw"];

/// Nothing recorded.
pub const NOTHING_RECORDED: &str = "nothing recorded yet";

/// A role.
pub const fn role(role: DeviceRole) -> &'static str {
    match role {
        DeviceRole::NotSaid => "not said yet",
        DeviceRole::LeftStick => "the left stick",
        DeviceRole::RightStick => "the right stick",
        DeviceRole::Buttons => "buttons only",
        DeviceRole::Shared => "another person plays along",
    }
}

/// In one line.
pub fn line(count: usize, now: Option<&str>) -> String {
    match (count, now) {
        (0 | 1, _) => "one device".to_owned(),
        (count, Some(now)) => format!("{count} devices; {now} is {IN_USE}"),
        (count, None) => format!("{count} devices"),
    }
}

/// The number and name of a device.
pub fn name(place: usize, name: &str) -> String {
    let name = if name.is_empty() { super::stick::UNNAMED } else { name };
    format!("{}. {name}", place + 1)
}

/// The buttons that are down.
pub fn pressed(down: &[usize]) -> String {
    if down.is_empty() {
        return "none".to_owned();
    }
    down.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")
}

/// How much was recorded with it.
pub fn recorded(tasks: usize) -> String {
    match tasks {
        0 => "Nothing was recorded with it yet.".to_owned(),
        1 => "One task was recorded with it.".to_owned(),
        tasks => format!("{tasks} tasks were recorded with it."),
    }
}

/// What holds of them together.
pub fn together(found: Together) -> String {
    let number = |place: usize| place + 1;
    match found {
        Together::Joined => "Good: the host makes one controller of them.".to_owned(),
        Together::Apart => "Note: the host makes no one controller of them. Each counts as a \
            player of its own, if it takes more than one at all. Some games let two players steer \
            one figure; else something in between has to join them."
            .to_owned(),
        Together::TooFewPorts { ports: 1, devices } => {
            format!("Stops it: {devices} devices, and the host has one port.")
        }
        Together::TooFewPorts { ports, devices } => {
            format!("Stops it: {devices} devices, and the host has {ports} ports.")
        }
        Together::SamePort { port, first, second } => format!(
            "Stops it: devices {} and {} are both in port {}. A port takes one.",
            number(first),
            number(second),
            port + 1
        ),
        Together::SameStick { role: both, first, second } => format!(
            "Limit: devices {} and {} are both {}. What one pushes, the other can push back.",
            number(first),
            number(second),
            role(both)
        ),
        Together::SharedNeedsJoining(place) => format!(
            "Limit: with device {} another person plays along, and this host does not join the two.",
            number(place)
        ),
    }
}
