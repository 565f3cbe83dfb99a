//! Who is speaking: the check whether a device speaks as a game controller, a mouse or a keyboard.

use super::number;
use device::speaking::{Conclusion, EndedBy, Step, conclusion};
use fitting::visit::{Heard, KeysHeard, PadHeard, PointerHeard};

/// Title.
pub const TITLE: &str = "Who is speaking?";
/// What the check is for.
pub const WHAT: &str = "Some devices look like a joystick and speak as a mouse or a keyboard. Then \
    no game controller arrives anywhere, whatever is set. This check listens to all of them together \
    while the device is moved and its buttons are pressed.";
/// What happens meanwhile.
pub const MEANWHILE: &str = "While it listens, keys and clicks do nothing else on this page. Escape \
    and Tab end it, whoever presses them; so does the button below, and half a minute in which \
    nothing new comes. Nothing that is typed is kept, only how many keys of which sort.";
/// What cannot be held back.
pub const SYSTEM_KEYS: &str = "Some keys belong to the system, and no page can hold them back: the \
    one that opens its menu, switching windows, locking the screen, taking a picture of it, volume \
    and power. If the device sends one of these, it does what it always does.";
/// Own mouse.
pub const OWN_HANDS: &str =
    "Take your own hands off mouse and keyboard first, or they are heard too.";
/// Begin.
pub const LISTEN: &str = "Listen";
/// Begin anew.
pub const AGAIN: &str = "Listen again";
/// From moving to pressing.
pub const NOW_BUTTONS: &str = "Now the buttons";
/// The end.
pub const THAT_IS_ALL: &str = "That is all of them";
/// From hands off to moving.
pub const GO_ON: &str = "Go on";
/// What was heard so far.
pub const SO_FAR: &str = "Heard so far";
/// Nothing yet.
pub const NOTHING_YET: &str = "Nothing yet.";
/// The evidence.
pub const EVIDENCE: &str = "What was heard";
/// What takes it.
pub const TAKES: &str = "What takes such a device";
/// What to ask.
pub const ASK: &str = "What to ask the maker";
/// On to what gets through.
pub const ON: &str = "What gets through to your host";

/// What is asked.
pub const fn step(step: Step) -> &'static str {
    match step {
        Step::HandsOff => "Touch nothing.",
        Step::Move => "Move the stick.",
        Step::Press => "Press each button, one after another.",
        Step::Over(_) => "That is enough.",
    }
}

/// The calm line below.
pub const fn calm(step: Step) -> &'static str {
    match step {
        Step::HandsOff => "Three seconds, to see whether something speaks by itself.",
        Step::Move => "In all directions, as far as is comfortable.",
        Step::Press => "Every button and every breath or switch on it. In any order.",
        Step::Over(_) => "",
    }
}

/// The control that leads on.
pub const fn control(step: Step) -> &'static str {
    match step {
        Step::HandsOff => GO_ON,
        Step::Move => NOW_BUTTONS,
        Step::Press | Step::Over(_) => THAT_IS_ALL,
    }
}

/// How long until it goes on by itself.
pub fn left(seconds: f64) -> String {
    format!("Goes on by itself after {} without anything new.", number::duration(seconds.ceil()))
}

/// In one line, what came of it.
pub fn line(heard: Option<&Heard>) -> String {
    heard.map_or_else(
        || "not listened yet".to_owned(),
        |heard| {
            let said = match conclusion(heard) {
                Conclusion::Nobody => "nobody spoke",
                Conclusion::Pad => "a game controller",
                Conclusion::PadAndMore => "a game controller, and more",
                Conclusion::Pointer => "a mouse",
                Conclusion::Keys => "a keyboard",
                Conclusion::PointerAndKeys => "a mouse and a keyboard",
            };
            said.to_owned()
        },
    )
}

/// Who spoke, as a heading.
pub const fn who(conclusion: Conclusion) -> &'static str {
    match conclusion {
        Conclusion::Nobody => "Nobody spoke.",
        Conclusion::Pad => "It speaks as a game controller.",
        Conclusion::PadAndMore => {
            "It speaks as a game controller, and as something else beside it."
        }
        Conclusion::Pointer => "It speaks as a mouse.",
        Conclusion::Keys => "It speaks as a keyboard.",
        Conclusion::PointerAndKeys => "It speaks as a mouse and a keyboard.",
    }
}

/// What that means.
pub const fn means(conclusion: Conclusion) -> &'static str {
    match conclusion {
        Conclusion::Nobody => {
            "Either nothing reached the browser, or the device is a kind that it \
            does not show. A controller shows itself to a page only after a button was pressed; \
            a far movement alone does not do it everywhere."
        }
        Conclusion::Pad => "It can be measured here as a stick.",
        Conclusion::PadAndMore => {
            "What comes as a game controller can be measured here. What comes \
            as mouse or keyboard goes to the system, and a host that takes game controllers only \
            never gets it."
        }
        Conclusion::Pointer => {
            "It cannot be measured here as a stick: browsers show a mouse to no \
            page as a controller."
        }
        Conclusion::Keys => {
            "It cannot be measured here as a stick: browsers show a keyboard to no \
            page as a controller. Keys are on or off, so there is no “a little to the left”."
        }
        Conclusion::PointerAndKeys => {
            "It cannot be measured here as a stick: browsers show neither \
            to a page as a controller."
        }
    }
}

/// What takes such a device and what does not.
pub const fn takes(conclusion: Conclusion) -> &'static [&'static str] {
    match conclusion {
        Conclusion::Nobody => &[
            "Press any button on it once more, and look whether a light on it comes on.",
            "Try another cable, another socket, and without a hub between.",
            "Try it on another computer: if nothing happens there either, it is the device or its \
                cable.",
            "A device that needs a program of its maker stays silent until that runs.",
        ],
        Conclusion::Pad => &[
            "Hosts that take a USB joystick or game pad: most computers, web pages, and hubs with \
                stick ports (common practice, no source).",
            "Some hosts take game pads only, or only those of their own make: what gets through \
                says which question to ask.",
        ],
        Conclusion::PadAndMore => &[
            "Hosts that take a USB joystick or game pad take the controller half.",
            "Computers take both halves. A hub with stick ports drops the other one (common \
                practice, no source).",
        ],
        Conclusion::Pointer => &[
            "Computers and most tablets take it, and games that are played by mouse.",
            "Hosts and hubs that take game controllers only do not (common practice, no source).",
        ],
        Conclusion::Keys => &[
            "Computers and most tablets take it, and games that are played by keys.",
            "Hosts and hubs that take game controllers only do not (common practice, no source).",
        ],
        Conclusion::PointerAndKeys => &[
            "Computers and most tablets take it, and games that are played by mouse and keys.",
            "Hosts and hubs that take game controllers only do not (common practice, no source).",
        ],
    }
}

/// What to ask the maker.
pub const fn ask(conclusion: Conclusion) -> &'static [&'static str] {
    match conclusion {
        Conclusion::Nobody => &[
            "Does it need a program or a driver, and does that run on this system?",
            "As what does it announce itself: joystick, game pad, mouse, keyboard?",
        ],
        Conclusion::Pad => &[],
        Conclusion::PadAndMore => &[
            "Can everything come as a game controller, the buttons too?",
            "Is there a mode for that, and how is it chosen?",
        ],
        Conclusion::Pointer | Conclusion::Keys | Conclusion::PointerAndKeys => &[
            "Is there a mode in which it speaks as a joystick or game pad (USB HID usage page 1, \
                usage 4 or 5)?",
            "How is that mode chosen: by a switch on it, by buttons held while it is plugged in, or \
                by a program? Such a mode switch is common practice (no source).",
            "Does it stay in that mode when it is unplugged?",
            "If there is none: is there a model that speaks as a joystick?",
        ],
    }
}

/// What ended it, where that is worth a word.
pub const fn ended(by: EndedBy) -> Option<&'static str> {
    match by {
        EndedBy::Control => None,
        EndedBy::Escape => Some(
            "Escape ended the check. If nobody pressed it, the device sent it: it speaks as a \
                keyboard.",
        ),
        EndedBy::Tab => Some(
            "Tab ended the check. If nobody pressed it, the device sent it: it speaks as a keyboard.",
        ),
        EndedBy::Silence => {
            Some("Nothing new came for half a minute, so the check ended by itself.")
        }
    }
}

/// Something spoke while nobody was to touch anything.
pub const UNASKED: &str = "Something spoke while nobody was to touch anything. It may be your own \
    mouse or keyboard, or a stick that drifts. Take hands off everything else and listen again.";

/// Could be somebody else's.
pub const OWN: &str = "If it was your own mouse or keyboard that moved, listen again with hands off \
    them.";

/// The evidence, line by line.
pub fn evidence(heard: &Heard) -> Vec<String> {
    let pad = heard.pad.as_ref().map(pad);
    let pointer = heard.pointer.as_ref().map(pointer);
    let keys = heard.keys.as_ref().map(keys);
    pad.into_iter().chain(pointer).chain(keys).collect()
}

fn pad(heard: &PadHeard) -> String {
    let list = |numbers: &[u32]| {
        let numbers: Vec<String> = numbers.iter().map(ToString::to_string).collect();
        numbers.join(", ")
    };
    let axes = match heard.axes.as_slice() {
        [] => "no axis moved".to_owned(),
        [one] => format!("axis {one} moved"),
        axes => format!("axes {} moved", list(axes)),
    };
    let buttons = match heard.buttons.as_slice() {
        [] => "no button was pressed".to_owned(),
        [one] => format!("button {one} was pressed"),
        buttons => format!("buttons {} were pressed, in this order", list(buttons)),
    };
    let name = if heard.name.is_empty() { super::stick::UNNAMED } else { &heard.name };
    format!("Game controller “{name}”: {axes}; {buttons}.")
}

fn pointer(heard: &PointerHeard) -> String {
    let mut said = Vec::new();
    if heard.moves > 0 {
        said.push(format!(
            "the pointer moved {}, {} pixels in all",
            times(heard.moves),
            heard.pixels
        ));
    }
    if heard.presses > 0 {
        said.push(format!("its buttons were pressed {}", times(heard.presses)));
    }
    if heard.wheel > 0 {
        said.push(format!("the wheel turned {}", times(heard.wheel)));
    }
    format!("Mouse: {}.", said.join("; "))
}

fn keys(heard: &KeysHeard) -> String {
    let sorts = [
        (heard.arrows, "arrow keys"),
        (heard.letters, "letters, digits or signs"),
        (heard.space_and_enter, "Space or Enter"),
        (heard.escape, "Escape"),
        (heard.tab, "Tab"),
        (heard.others, "other keys"),
    ];
    let said: Vec<String> = sorts
        .into_iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, sort)| format!("{sort} {}", times(count)))
        .collect();
    format!("Keyboard: {}.", said.join("; "))
}

fn times(count: u32) -> String {
    if count == 1 { "once".to_owned() } else { format!("{count} times") }
}
