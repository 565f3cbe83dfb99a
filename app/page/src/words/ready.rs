//! Before anything moves.

use super::answer;
use fitting::visit::{Condition, Consent, ConsentTo, Helping, Safety, Support};

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
pub const CHECK_DRIVE: &str = "Wheelchair drive is off and locked, or there is none";
/// Call bell.
pub const CHECK_CLEAR: &str = "Call bell, communication aid and breathing tubes are clear and in \
    reach";
/// Stop signal.
pub const CHECK_STOP: &str = "We agreed how the person says stop, and tried it today";
/// Where the page's own stop is.
pub const STOP_HELP: &str = "On the page, Rest at the top right or the Escape key stops \
    everything at once and keeps it; so does any button of the stick held for two seconds.";

/// Mounting cautions.
pub const MOUNT: &str = "A stick on a wheelchair’s frame must not foul its own controls. A mouth \
    or chin mount must swing clear and never block breathing or speaking. Clean what touches skin \
    by its maker’s method.";
/// For everybody, whatever is answered.
pub const ALWAYS: [&str; 4] = [
    "Never use these settings to drive a wheelchair.",
    "Stop at pain, numbness, breathlessness, or a rise in spasm. Rest between tasks; keep first \
     sessions short.",
    "Look at the skin under straps and cups before and after. A mouthpiece is one person’s and is \
     never shared.",
    "Your own therapist, physician and local rules come first.",
];

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
/// The name of the cards.
pub const CARDS: &str = "What helps to know, each can be skipped";

/// The card of the stop signal.
pub const STOP: &str = "How the person says stop";
/// What to type there.
pub const STOP_HOW: &str = "The stop signal";
/// What to type there.
pub const STOP_HOW_HELP: &str = "In your own words. It should be possible at any moment, also with \
    the stick in use. Try it before the first task: the person gives it, the helper stops.";
/// Suggestions.
pub const STOP_SUGGESTIONS: [&str; 5] = [
    "Says “stop”",
    "Closes both eyes",
    "Looks away",
    "Shakes the head",
    "Presses a switch or bell",
];
/// The stop signal in one line.
pub fn stop_line(safety: &Safety) -> String {
    match (safety.stop.how.as_str(), safety.stop.tried) {
        ("", false) => answer::NOTHING.to_owned(),
        ("", true) => "tried today".to_owned(),
        (how, true) => format!("{how}; tried today"),
        (how, false) => format!("{how}; not tried yet today"),
    }
}

/// The card of conditions.
pub const ASK: &str = "Does any of this hold?";
/// What happens then.
pub const ASK_HELP: &str = "The caution that goes with an answer shows under it. What nobody knows \
    counts as yes: its caution is under “All cautions”.";
/// No to all that is left.
pub const NONE_OF_THE_REST: &str = "None of the others";
/// All of them.
pub const ALL_CAUTIONS: &str = "All cautions";

/// A condition.
pub const fn condition(condition: Condition) -> &'static str {
    match condition {
        Condition::Seizures => "Seizures",
        Condition::RecentSurgery => "Recent surgery or fracture",
        Condition::LooseJoints => "Joints that slip out",
        Condition::CordInjury => "Spinal cord injury at T6 or above",
        Condition::BreathingSupport => "Breathing support",
        Condition::BiteReflex => "Bite reflex",
        Condition::PoorSensation => "Poor sensation",
        Condition::PainOrFatigue => "Pain or fatigue today",
    }
}

/// The caution that goes with a yes.
pub const fn caution(condition: Condition) -> &'static str {
    match condition {
        Condition::Seizures => {
            "Leave moving pictures out, keep the room bright, stop at the person’s own warning \
             signs, and have their seizure plan at hand."
        }
        Condition::RecentSurgery => {
            "Measure only what the treating team has allowed, and never against resistance or pain."
        }
        Condition::LooseJoints => {
            "Support the joint, keep pushes small, and leave out long reaches that way. No heavier \
             spring."
        }
        Condition::CordInjury => {
            "A pounding headache, flushing or sweating means: stop, sit up, loosen anything tight, \
             check the bladder drainage, follow the person’s own emergency plan, call for help."
        }
        Condition::BreathingSupport => {
            "Somebody watches the breathing throughout. Nothing may press on chest, tube or mask. \
             With breath actions: five breaths, then rest, and stop at dizziness."
        }
        Condition::BiteReflex => {
            "No mouthpiece that can break; a mouthpiece is one person’s and is never shared. Think \
             of the chin or lip instead."
        }
        Condition::PoorSensation => {
            "Look at the skin under straps and cups before, between and after tasks: the person may \
             not feel what rubs."
        }
        Condition::PainOrFatigue => {
            "Take the shortest plan. If pain or fatigue rises by two points of ten, the page offers \
             to stop for today."
        }
    }
}

/// The caution that goes with an answer, where it has one.
pub const fn caution_of(asked: Condition, answer: Option<bool>) -> Option<&'static str> {
    match (asked, answer) {
        (_, Some(true)) => Some(caution(asked)),
        (Condition::PainOrFatigue, Some(false)) => Some(
            "It is asked again between tasks: a rise of pain or fatigue by two points of ten is \
             offered as a reason to stop for today.",
        ),
        _ => None,
    }
}

/// The answers in one line.
pub fn conditions_line(safety: &Safety) -> String {
    let skipped = safety.skipped().len();
    if skipped == Condition::ALL.len() {
        return answer::NOTHING.to_owned();
    }
    let holds: Vec<&str> = safety.holds.iter().map(|one| condition(*one)).collect();
    let holds = if holds.is_empty() { "none".to_owned() } else { holds.join(", ") };
    match skipped {
        0 => holds,
        _ => format!("{holds}; {skipped} not asked"),
    }
}

/// The card of help.
pub const HELP: &str = "Who helps, and how";
/// From where.
pub const HELP_WHERE: &str = "Who is there?";
/// Alone, beside, far away, not said.
pub const HELP_FROM: [&str; 4] = [
    "nobody, the player is alone",
    "somebody beside the player",
    "somebody over video",
    "not said",
];
/// Who.
pub const HELP_WHO: &str = "Who helps";
/// Who.
pub const HELP_WHO_HELP: &str = "Such as sister, therapist, assistant. No name is needed.";
/// How.
pub const HELP_HOW: &str = "How";
/// How.
pub const HELP_HOW_HELP: &str = "What is held, steadied, said or pressed for the person. What is \
    moved by a helper is recorded and left out of the person’s figures.";
/// Alone.
pub const HELP_ALONE: &str = "Alone: have a telephone or call bell in reach, and stop early.";
/// Far away.
pub const HELP_FAR: &str = "Over video: agree what happens if the call breaks off. Somebody who can \
    come should know.";

/// From where somebody helps.
pub const fn helping(helping: Helping) -> &'static str {
    match helping {
        Helping::Alone => HELP_FROM[0],
        Helping::Beside => HELP_FROM[1],
        Helping::FarAway => HELP_FROM[2],
    }
}

/// Help in one line.
pub fn help_line(support: &Support) -> String {
    let from = support.helping.map(helping).unwrap_or_default();
    let parts = [from, &support.who, support.how.lines().next().unwrap_or_default()];
    joined(&parts)
}

/// The card of consent.
pub const CONSENT: &str = "Who agreed, and to what";
/// Who.
pub const CONSENT_WHO: &str = "Who agreed";
/// Who.
pub const CONSENT_WHO_HELP: &str = "The person, a parent, a guardian: in your own words.";
/// The person's own answer.
pub const OWN_YES: &str = "The person’s own yes or no";
/// How they said so.
pub const OWN_WORDS: &str = "How the person said so";

/// What somebody can agree to, as a question.
pub const fn consent_to(to: ConsentTo) -> &'static str {
    match to {
        ConsentTo::Measuring => "To being measured",
        ConsentTo::Keeping => "To keeping it in this browser",
        ConsentTo::Sharing => "To handing a summary to others",
    }
}

/// What a no means.
pub const fn no_means(to: ConsentTo) -> &'static str {
    match to {
        ConsentTo::Measuring => {
            "Then do not measure. The page stops nobody by force; it says so on Measure until the \
             answer changes."
        }
        ConsentTo::Keeping => {
            "Then nothing of this fitting is kept: it is gone when the page is closed. Change the \
             answer, and all of it is kept at once."
        }
        ConsentTo::Sharing => {
            "Then Hand over offers no link and no file. Printing stays, for the person’s own use."
        }
    }
}

/// What the person's own no means.
pub const OWN_NO_MEANS: &str = "A person’s own no counts for all three, whoever else agreed: do not \
    measure, nothing is kept, nothing is offered to share. Ask again another day.";
/// On Measure, after a no.
pub const NO_MEASURING: &str = "Somebody said no to being measured. Do not measure unless that \
    changes.";
/// Where the answer is.
pub const TO_CONSENT: &str = "See who agreed";
/// What was kept before the no.
pub const STILL_KEPT: &str = "What was kept of this fitting before is still in this browser.";
/// Delete it.
pub const FORGET: &str = "Delete it from this browser";
/// It was deleted.
pub const FORGOTTEN: &str = "Deleted. The page has it until it is closed.";
/// When it was last changed.
pub fn consent_when(date: &str) -> String {
    format!("Last changed: {date}.")
}

/// Consent in one line.
pub fn consent_line(consent: &Consent) -> String {
    let of = |to: ConsentTo| {
        let name = match to {
            ConsentTo::Measuring => "measuring",
            ConsentTo::Keeping => "keeping",
            ConsentTo::Sharing => "sharing",
        };
        consent.answer(to).map(|yes| format!("{name} {}", answer::YES_NO[usize::from(!yes)]))
    };
    let own =
        consent.own_yes.map(|yes| format!("own answer {}", answer::YES_NO[usize::from(!yes)]));
    let mut parts = vec![consent.who.clone()];
    parts.extend(ConsentTo::ALL.into_iter().filter_map(of).chain(own));
    let parts: Vec<&str> = parts.iter().map(String::as_str).collect();
    joined(&parts)
}

/// What was said, in one line; that nothing was, where it is so.
pub(super) fn joined(parts: &[&str]) -> String {
    let said: Vec<&str> = parts.iter().copied().filter(|part| !part.is_empty()).collect();
    if said.is_empty() { answer::NOTHING.to_owned() } else { said.join("; ") }
}
