//! What gets through: the verdict of a device and a host.

use super::number;
use device::through::{NextStep, Passes, Reason, Speech, VerdictWord, Weight};
use fitting::measure::AxisOddity;

/// Title.
pub const TITLE: &str = "What gets through?";
/// What it is for.
pub const WHAT: &str = "A device and a host: does it work, and what of it arrives?";
/// The ways to all of it.
pub const WAYS: &str = "What this device is";
/// The device.
pub const DEVICE: &str = "The device";
/// The connected one.
pub const CONNECTED: &str = "The stick that is chosen";
/// None chosen.
pub const NONE_CHOSEN: &str = "no stick is chosen";
/// What was heard.
pub const HEARD: &str = "What was heard";
/// The host.
pub const HOST: &str = "The host";
/// Which port.
pub const PORT: &str = "Which port";
/// One of one's own.
pub const OWN_HOST: &str = "Describe a host of your own";
/// No host yet.
pub const NO_HOST: &str = "Choose a host to see whether it works.";
/// The verdict.
pub const VERDICT: &str = "Does it work?";
/// Why.
pub const WHY: &str = "Why";
/// What to do.
pub const NEXT: &str = "What to do next";
/// What gets through.
pub const PASSES: &str = "What gets through";
/// By pressing.
pub const PRESS: &str = "Which button is which?";
/// How to find out.
pub const PRESS_HELP: &str = "Press the buttons one by one. Which ones come first the maker decides; \
    those with the highest numbers are lost first.";
/// Nothing pressed yet.
pub const PRESS_NOTHING: &str = "Nothing was pressed yet.";
/// Needs the stick.
pub const PRESS_NO_STICK: &str = "Choose the stick first, then press its buttons here.";
/// Print.
pub const PRINT: &str = "Print this";
/// How sure this is.
pub const CAVEAT: &str = "This follows from what the device says of itself and from what is said of \
    the host. Try it before you pay, and ask for the right to send it back.";

/// A verdict in a word.
pub const fn word(word: VerdictWord) -> &'static str {
    match word {
        VerdictWord::Works => "works",
        VerdictWord::WorksWithLimits => "works with limits",
        VerdictWord::WillNotWork => "will not work",
        VerdictWord::CannotTell => "cannot tell yet",
    }
}

/// The mark in front of a reason, so that no colour is needed.
pub const fn mark(weight: Weight) -> &'static str {
    match weight {
        Weight::Fine => "Good:",
        Weight::Note => "Note:",
        Weight::Limits => "Limit:",
        Weight::Unknown => "Not known:",
        Weight::Blocks => "Stops it:",
    }
}

/// In one line.
pub fn line(host: Option<&str>, verdict: Option<VerdictWord>) -> String {
    match (host, verdict) {
        (Some(host), Some(verdict)) => format!("{host}: {}", word(verdict)),
        (Some(host), None) => host.to_owned(),
        (None, _) => "no host chosen yet".to_owned(),
    }
}

/// As what a device speaks.
pub fn speech(speech: Speech) -> String {
    match speech {
        Speech::Joystick => "a joystick (USB usage page 1, usage 4)".to_owned(),
        Speech::GamePad => "a game pad (USB usage page 1, usage 5)".to_owned(),
        Speech::MultiAxis => "a multi-axis controller (USB usage page 1, usage 8)".to_owned(),
        Speech::Controller => "a game controller".to_owned(),
        Speech::Mouse => "a mouse".to_owned(),
        Speech::Keyboard => "a keyboard".to_owned(),
        Speech::Other(usage) => {
            format!(
                "something else (usage page {:#06x}, usage {:#06x})",
                usage >> 16,
                usage & 0xffff
            )
        }
    }
}

/// A reason, as a sentence.
pub fn reason(reason: &Reason) -> String {
    match *reason {
        Reason::SpeaksAs(as_what) => {
            format!("It speaks as {}, which the host accepts.", speech(as_what))
        }
        Reason::ControllerOfUnknownSort => "It speaks as a game controller. The host accepts some \
            sorts and not others, and a browser does not say which sort this is."
            .to_owned(),
        Reason::NotAccepted(as_what) => {
            format!("It speaks as {}, which the host does not accept.", speech(as_what))
        }
        Reason::AlsoSpeaks(as_what) => {
            format!("It also speaks as {}. That part the host does not take.", speech(as_what))
        }
        Reason::SpeechUnknown => "Nobody knows yet as what it speaks.".to_owned(),
        Reason::FollowsLayout => {
            "It follows the open standard’s layout, so each axis and button has \
            its job."
                .to_owned()
        }
        Reason::NoLayout => {
            "The host goes by the open standard’s layout, and the browser lays this \
            device out by numbers only: jobs have to be given by hand, where the game lets you."
                .to_owned()
        }
        Reason::LayoutUnknown => "The host goes by the open standard’s layout. Whether the device \
            follows it shows only when it is connected."
            .to_owned(),
        Reason::StickGetsThrough => "Both axes of the stick get through.".to_owned(),
        Reason::TooFewAxes(count) => format!(
            "It has {}, and a stick needs two.",
            match count {
                0 => "no axes".to_owned(),
                1 => "one axis".to_owned(),
                count => format!("{count} axes"),
            }
        ),
        Reason::AxesUnknown => "Nobody knows yet which axes it has.".to_owned(),
        Reason::StickAxisLost(axis) => {
            format!("Axis {axis} is part of the stick and does not get through.")
        }
        Reason::AxesOutOfOrder => {
            "The stick’s axes arrive the other way round: up and down counts \
            as sideways."
                .to_owned()
        }
        Reason::OtherAxesLost(1) => "One other axis of it is lost.".to_owned(),
        Reason::OtherAxesLost(count) => format!("{count} other axes of it are lost."),
        Reason::RelativeAxes => "Its axes tell movements, as a mouse does, and no places: a stick \
            that is held still says nothing."
            .to_owned(),
        Reason::OddAxis(odd) => format!(
            "Axis {} of the stick {}.",
            odd.axis,
            match odd.what {
                AxisOddity::Dead => "never moved",
                AxisOddity::Stuck => "stands at one end",
                AxisOddity::NeverCentres => "never comes near its middle",
            }
        ),
        Reason::HatLost => "The hat switch is lost.".to_owned(),
        Reason::HatAsAxis(axis, at) => format!(
            "The hat switch comes as axis {axis}, which rests at {at:.2}: outside −1 to 1. A game \
             that takes it for a stick sees a push that never ends."
        ),
        Reason::HatUnknown => "Nobody knows what becomes of the hat switch.".to_owned(),
        Reason::AllButtons(1) => "Its one button gets through.".to_owned(),
        Reason::AllButtons(count) => format!("All {count} buttons get through."),
        Reason::ButtonsLost { through: 0, lost } => {
            format!("None of its {lost} buttons gets through.")
        }
        Reason::ButtonsLost { through, lost } => format!(
            "The first {through} buttons get through (0 to {}), and {lost} {} lost (from {through} \
             on). Which ones come first the maker decides.",
            through.saturating_sub(1),
            if lost == 1 { "is" } else { "are" },
        ),
        Reason::NoButtons => {
            "It has no buttons: pressing must come from somewhere else.".to_owned()
        }
        Reason::ButtonsUnknown => "Nobody knows yet how many buttons it has.".to_owned(),
        Reason::TooCoarse { steps, step } => format!(
            "Between dead zone and full throw it has only {steps} steps of {}: a slow movement comes \
             in jumps.",
            number::fine_percent(step)
        ),
        Reason::FineEnough(steps) => {
            format!("Between dead zone and full throw it has {steps} steps: fine enough.")
        }
        Reason::Slow(seconds) => format!(
            "Its changes come {} apart at the fastest that was seen; that is a good part of the 100 \
             ms from movement to picture that MIL-STD-1472E allows.",
            number::milliseconds(seconds)
        ),
        Reason::FastEnough(seconds) => {
            format!("Its changes come as fast as {} apart.", number::milliseconds(seconds))
        }
        Reason::HiddenMiddle(share) => format!(
            "Movement inside {} of the middle is hidden by stick, system or browser. Add it to any \
             dead zone, or measure on another system.",
            number::percent(share)
        ),
        Reason::DeadZoneBeyond { wanted, most } => format!(
            "The suggested dead zone is {}, and the host’s largest is {}.",
            number::percent(wanted),
            number::percent(most)
        ),
        Reason::DeadZoneBelow { wanted, least } => format!(
            "The suggested dead zone is {}, and the host’s smallest is {}: more reach is lost than \
             needed.",
            number::percent(wanted),
            number::percent(least)
        ),
        Reason::StepTooLarge { wanted, step } => format!(
            "The suggested dead zone is {}, and the host sets it in steps of {}: the next one is far \
             larger.",
            number::percent(wanted),
            number::percent(step)
        ),
        Reason::NoDeadZone(wanted) => format!(
            "A dead zone of {} is suggested, and the host has none to set.",
            number::percent(wanted)
        ),
        Reason::NoFullThrow(wanted) => format!(
            "Full throw at {} of travel is suggested, and the host has none to set.",
            number::percent(wanted)
        ),
        Reason::FullThrowOutside { wanted, least, most } => format!(
            "Full throw at {} is suggested, and the host goes from {}.",
            number::percent(wanted),
            super::hosts::range(least, most)
        ),
        Reason::NoCurve => "A sensitivity curve is suggested, and the host has none.".to_owned(),
        Reason::CannotInvert => "An axis has to be turned round, and the host cannot.".to_owned(),
        Reason::CannotSwap => "The axes have to change places, and the host cannot.".to_owned(),
        Reason::CannotTurn(degrees) => format!(
            "Directions have to be turned by {:.0} degrees, and the host cannot.",
            degrees.abs()
        ),
        Reason::CannotSmooth => "Smoothing is suggested, and the host has none.".to_owned(),
        Reason::CannotTime => {
            "A timing of the buttons is suggested, and the host has none.".to_owned()
        }
        Reason::TakesSettings => "The host takes every setting that is suggested.".to_owned(),
        Reason::NothingMeasured => "Nothing was measured yet, so what it needs of the host is not \
            known."
            .to_owned(),
    }
}

/// What to do next, as a sentence.
pub const fn next(step: NextStep) -> &'static str {
    match step {
        NextStep::AskForAnotherMode => {
            "Ask the maker for a mode in which it speaks as a joystick or \
            game pad, or choose a host that takes it as it is."
        }
        NextStep::ListenOrPaste => {
            "Connect it and listen to who speaks; or, before buying, ask the \
            maker as what it announces itself."
        }
        NextStep::ReadReports => {
            "Ask the maker as what it announces itself, and whether it hides \
            its middle; measure it on another system, too."
        }
        NextStep::AssignByHand => {
            "Look in the game or the system whether axes and buttons can be \
            given their jobs by hand."
        }
        NextStep::UseAsSwitches => "Use what it has as switches, or take a stick with two axes.",
        NextStep::AskForAxisOrder => {
            "Ask the maker which axes come first and whether that can be \
            changed, or swap them in another layer of the way to the game."
        }
        NextStep::MeasureHandsOff => {
            "Record “hands off” again. If it stays so, the stick may be \
            damaged, or made to stay where it is put."
        }
        NextStep::PlanButtons => "Plan which button does what without it.",
        NextStep::TryTheHat => {
            "Push the hat while the host’s own test of controllers is open, and see."
        }
        NextStep::PressToFindOut => {
            "Press the buttons here one by one to see which have the high \
            numbers; ask the maker whether others can come first."
        }
        NextStep::AddSwitches => "Add switches beside the stick, or a second device.",
        NextStep::FinerStick => {
            "Try a stick with finer steps, or a smaller dead zone and a longer \
            throw."
        }
        NextStep::ConnectDirectly => "Connect it directly, by cable, and record it again.",
        NextStep::SetElsewhere => {
            "Set it in another layer of the way: the stick, a hub, or the game \
            (see Settings)."
        }
        NextStep::TurnTheMount => "Turn the mount by as much instead.",
        NextStep::Measure => "Measure with it; the rest follows from that.",
    }
}

/// What gets through, in a few lines.
pub fn passes(passes: &Passes) -> Vec<String> {
    let list =
        |numbers: &[usize]| numbers.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
    let mut lines = Vec::new();
    if !passes.axes.is_empty() {
        lines.push(format!("Axes {}.", list(&passes.axes)));
    }
    if !passes.axes_lost.is_empty() {
        lines.push(format!("Lost: axes {}.", list(&passes.axes_lost)));
    }
    match (passes.buttons, passes.buttons_lost) {
        (0, 0) => {}
        (through, 0) => lines.push(format!("Buttons 0 to {}: all.", through.saturating_sub(1))),
        (0, lost) => lines.push(format!("Lost: all {lost} buttons.")),
        (through, lost) => {
            lines.push(format!("Buttons 0 to {}.", through - 1));
            lines.push(format!("Lost: buttons {through} to {}.", through + lost - 1));
        }
    }
    lines
}

/// A button that was just pressed.
pub fn pressed(button: usize, through: Option<bool>) -> String {
    match through {
        Some(true) => format!("Button {button} gets through."),
        Some(false) => format!("Button {button} is lost."),
        None => format!("Button {button}."),
    }
}
