//! Choosing and seeing a stick.

use super::number;

/// Title.
pub const TITLE: &str = "Which stick?";
/// Real devices.
pub const REAL: &str = "Connected sticks";
/// Practice.
pub const PRACTICE_TITLE: &str = "No stick at hand";
/// The practice stick.
pub const PRACTICE: &str = "Practice stick";
/// How it is driven.
pub const PRACTICE_HELP: &str = "drag in the field, or focus it and use the arrow keys";
/// Waiting for a gesture.
pub const WAITING: &str = "No stick has shown itself yet. Connect it, then press any button on \
    it: browsers keep a stick hidden until a button is pressed. If the person cannot press one, a \
    helper may press any button once. Moving the stick far may do as well, but not in every \
    browser.";
/// The interface is missing.
pub const MISSING: &str = "This browser has no gamepad interface, so it cannot see a stick. \
    Another browser will do; the practice stick works here.";
/// The only stick was taken by itself.
pub fn taken(name: &str) -> String {
    format!("{name} is connected and in use. Move it, and the dot follows.")
}
/// Refused by a policy.
pub const REFUSED: &str = "This page is not allowed to see sticks: whoever serves or embeds it \
    has switched the gamepad interface off. Open the page by itself in its own tab, or ask them to \
    allow it.";
/// Looks like something else.
pub const OTHER_KIND: &str = "Some sticks speak as a mouse or a keyboard. If the pointer moves or \
    letters appear when the stick moves, it is one of those, and cannot be measured as a stick.";
/// A hub.
pub const HUB: &str = "A stick behind a hub shows as the hub.";

/// An unnamed stick.
pub const UNNAMED: &str = "unnamed stick";

/// What a device brings.
pub fn controls(axes: usize, buttons: usize, standard: bool) -> String {
    let layout = if standard { ", standard layout" } else { "" };
    format!("{axes} axes, {buttons} buttons{layout}")
}

/// The live view.
pub const LIVE: &str = "Live";
/// No stick chosen.
pub const NONE_CHOSEN: &str = "Choose a stick, the practice stick or an invented person first.";
/// Nothing to see yet.
pub const STILL: &str = "Nothing has moved yet.";
/// Axes.
pub const AXES: &str = "Axes";
/// Buttons.
pub const BUTTONS: &str = "Buttons";
/// No axes.
pub const NO_AXES: &str = "This device has no axes: it cannot be used as a stick.";
/// No buttons.
pub const NO_BUTTONS: &str = "This device has no buttons.";
/// Fastest change.
pub const FASTEST: &str = "fastest change seen";
/// Gaps.
pub const GAPS: &str = "gaps over 12 ms";
/// Polls.
pub const POLLS: &str = "looks a second";
/// Position.
pub const POSITION: &str = "position";
/// Nothing yet.
pub const NOT_YET: &str = "not yet";

/// An axis by number.
pub fn axis(index: usize) -> String {
    format!("axis {index}")
}
/// A button by number.
pub fn button(index: usize) -> String {
    format!("{index}")
}
/// Position in words.
pub fn position(right: f64, up: f64) -> String {
    let sideways = if right < 0.0 { "left" } else { "right" };
    let upright = if up < 0.0 { "down" } else { "up" };
    format!("{} {sideways}, {} {upright}", number::percent(right.abs()), number::percent(up.abs()))
}

/// Finding the stick's axes.
pub const FIND: &str = "Which two axes are the stick?";
/// How.
pub const FIND_HELP: &str = "Press Start, then move the stick in a slow circle, as wide as is \
    comfortable. Or choose the axes by hand.";
/// Start.
pub const FIND_START: &str = "Start: move in a circle";
/// Stop.
pub const FIND_STOP: &str = "Stop looking";
/// Searching.
pub fn finding(share: f64) -> String {
    format!("Looking: {} of the circle seen.", number::percent(share))
}
/// Found.
pub fn found(horizontal: usize, vertical: usize) -> String {
    format!("Axis {horizontal} is sideways, axis {vertical} is up and down.")
}
/// Sideways axis.
pub const HORIZONTAL: &str = "Sideways";
/// Upright axis.
pub const VERTICAL: &str = "Up and down";
/// Inverted.
pub const INVERT_HORIZONTAL: &str = "Turn sideways round";
/// Inverted.
pub const INVERT_VERTICAL: &str = "Turn up and down round";
/// Swap.
pub const SWAP: &str = "Swap the two axes";
/// One only.
pub const ONE_AXIS: &str = "Only one axis moved. Choose it by hand if the stick moves one way \
    only; the other direction then reads nothing.";
/// Go on.
pub const NEXT: &str = "Go on to measuring";
/// The device went away.
pub const GONE: &str = "The stick is gone. Nothing is lost: plug it in again and go on.";
/// Position line for the field.
pub const FIELD: &str = "Field of movement";
/// Its description.
pub const FIELD_LIVE: &str = "The stick’s position on graph paper, a tenth of its travel a square.";
