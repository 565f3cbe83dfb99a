//! The frame around every screen.

use crate::route::Screen;

/// The program's name.
pub const NAME: &str = "Stick Fitting Room";
/// The name of the main navigation.
pub const WAY: &str = "The way through a fitting";
/// The skip link.
pub const SKIP: &str = "Skip to the page";
/// The control that stops everything, top right on every screen.
pub const REST: &str = "Rest";
/// Said beside a step that is done, for screen readers.
pub const DONE: &str = "done";

/// The title of the rest window.
pub const REST_TITLE: &str = "Rest. Nothing is lost.";
/// What the rest window says.
pub const REST_TEXT: &str =
    "Everything recorded so far is kept. Go on when you are ready, or leave it for another day.";
/// Signs to stop for good.
pub const REST_SIGNS: &str = "Stop for today at pain, numbness, breathlessness, or a rise in \
    spasm. After a spinal cord injury, a pounding headache, flushing or sweating means: stop, sit \
    up, loosen anything tight, check the bladder drainage, follow your own emergency plan, call \
    for help.";
/// Go on after a rest.
pub const GO_ON: &str = "Go on";
/// End the running task and keep what there is.
pub const END_TASK: &str = "Stop this task and keep it";
/// Stay in the pause, where the way of asking can be changed.
pub const ASK_OTHERWISE: &str = "Change how it is asked";

/// The line at the foot of every screen.
pub const FOOT: &str = "The page measures and suggests. It is no medical device and makes no \
    diagnosis; your own therapist, physician and local rules come first. Never use these settings \
    to drive a wheelchair. Checked on invented people and published figures; not validated with \
    patients. Nothing is sent anywhere.";
/// Light and dark.
pub const LIGHT: &str = "Colours";
/// As the system has it.
pub const LIGHT_SYSTEM: &str = "as the system has it";
/// Light.
pub const LIGHT_DAY: &str = "light";
/// Dark.
pub const LIGHT_NIGHT: &str = "dark";
/// Until the later part of the program is there.
pub const LOADING: &str = "A moment: the rest of the program is on its way.";
/// Try once more.
pub const AGAIN: &str = "Try again";
/// Close a window.
pub const CLOSE: &str = "Close";
/// Not now.
pub const CANCEL: &str = "Not now";

/// The name of a screen on the way.
pub const fn screen(screen: &Screen) -> &'static str {
    match screen {
        Screen::Ready => "Ready",
        Screen::Today => "Today",
        Screen::SetUp => "Set-up",
        Screen::Sites => "Body part",
        Screen::Stick => "Stick",
        Screen::Speaks => "Who is speaking",
        Screen::Through => "What gets through",
        Screen::Together => "Devices together",
        Screen::Buttons => "Plan the buttons",
        Screen::Host => "A host of your own",
        Screen::Choosing => super::choosing::TITLE,
        Screen::Questions => super::choosing::question::TITLE,
        Screen::Measure => "Measure",
        Screen::Settings => "Settings",
        Screen::Details => super::details::TITLE,
        Screen::Try => "Try",
        Screen::HandOver => "Hand over",
        Screen::Summary => super::papers::SUMMARY,
        Screen::Paper(paper) => super::papers::title(*paper),
        Screen::Kept => "Kept fittings",
        Screen::Shared(_) => "A shared summary",
    }
}
