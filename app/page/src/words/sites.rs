//! Looking for the body part that moves the stick.

use super::number;
use super::ready::joined;
use fitting::estimate::NotEnough;
use fitting::measure::site::{SiteDirection, SiteMovement, UsualWay};
use fitting::visit::{Ahead, SiteQuestion, SiteTrial, SiteWarning};

/// Title.
pub const TITLE: &str = "Which body part?";
/// What it is for.
pub const TEXT: &str = "Up to three body parts on the chosen stick, less than a minute each: the same \
    easy movement out and back, again and again, then five questions. Nothing of it is in the figures \
    of the assessment.";
/// No stick.
pub const NO_STICK: &str = "To record the movement, choose a stick first. The questions can be \
    answered without one.";
/// To the stick.
pub const TO_STICK: &str = "Choose a stick";
/// A body part by number.
pub fn title(site: usize) -> String {
    format!("Body part {}", site + 1)
}
/// The name of a body part.
pub const PART: &str = "Which body part";
/// Suggestions.
pub const PART_HELP: &str = "Such as left hand, chin, right foot, elbow.";
/// Start.
pub fn start(seconds: f64, again: bool) -> String {
    let verb = if again { "Move again" } else { "Move" };
    format!("{verb} for {}", number::duration(seconds))
}
/// What to do.
pub const MOVE_HELP: &str = "One easy movement, out and back, several times the same way. Then any \
    other way that is easy. Stop whenever you like.";
/// One more.
pub const ADD: &str = "Look at another body part";
/// Remove.
pub const REMOVE: &str = "Remove";

/// A question.
pub const fn question(question: SiteQuestion) -> &'static str {
    match question {
        SiteQuestion::Repeatable => "Can it be made again and again?",
        SiteQuestion::Comfortable => "Is it comfortable?",
        SiteQuestion::ScreenInView => "Does the screen stay in view?",
        SiteQuestion::SetsOffSpasm => "Does it set off spasm?",
        SiteQuestion::OnlyMovement => {
            "Is it the only movement the person has for speaking, driving or calling?"
        }
    }
}

/// A question in a table.
pub const fn heading(question: SiteQuestion) -> &'static str {
    match question {
        SiteQuestion::Repeatable => "Repeatable",
        SiteQuestion::Comfortable => "Comfortable",
        SiteQuestion::ScreenInView => "Screen in view",
        SiteQuestion::SetsOffSpasm => "Sets off no spasm",
        SiteQuestion::OnlyMovement => "Not the only movement for speaking, driving or calling",
    }
}

/// What a question says in the table.
pub const fn speaks(speaks: Option<bool>) -> &'static str {
    match speaks {
        Some(true) => "✓ yes",
        Some(false) => "✕ no",
        None => "not known",
    }
}

/// A warning.
pub const fn warning(warning: SiteWarning) -> &'static str {
    match warning {
        SiteWarning::Answered(SiteQuestion::Repeatable) => {
            "The movement cannot be made again and again: settings cannot make up for that."
        }
        SiteWarning::Answered(SiteQuestion::Comfortable) => {
            "It is not comfortable: what is uncomfortable for a minute is worse in an hour of play."
        }
        SiteWarning::Answered(SiteQuestion::ScreenInView) => {
            "The screen is not in view while moving: move the screen, or take another body part."
        }
        SiteWarning::Answered(SiteQuestion::SetsOffSpasm) => {
            "It sets off spasm: ask the person’s own therapist before going on with it."
        }
        SiteWarning::Answered(SiteQuestion::OnlyMovement) => {
            "It is the only movement for speaking, driving or calling: playing with it takes that \
             away, and tires it. Ask the person’s own therapist first."
        }
        SiteWarning::MeasuredOtherwise => {
            "It was called repeatable, and in the recording the movements end far apart: look again."
        }
    }
}

/// The comparison.
pub const COMPARED: &str = "Beside one another";
/// The comparison.
pub const COMPARED_TEXT: &str = "In the order in which it counts: repeatable, comfortable, screen in \
    view, no spasm, not the only movement. The page compares; the choice is the person’s, with \
    whoever helps.";
/// How it stands.
pub fn ahead(ahead: Ahead, name: impl Fn(usize) -> String) -> String {
    match ahead {
        Ahead::NothingToCompare => {
            "Not enough is known yet to compare: answer the questions for two body parts."
                .to_owned()
        }
        Ahead::AllWarned => {
            "Each of them has a warning. Look for another body part, or another place or topper, \
             before choosing one of these."
                .to_owned()
        }
        Ahead::Alike => {
            "Those without a warning do not differ in what was answered: take the one the person \
             likes best."
                .to_owned()
        }
        Ahead::One { site, by } => {
            let why = match by {
                SiteQuestion::Repeatable => "its movement can be made again and again",
                SiteQuestion::Comfortable => "it is comfortable",
                SiteQuestion::ScreenInView => "the screen stays in view",
                SiteQuestion::SetsOffSpasm => "it sets off no spasm",
                SiteQuestion::OnlyMovement => {
                    "it is not the only movement for speaking, driving or calling"
                }
            };
            format!(
                "{}: nothing warns of it, and where they differ first, {why}, or that is better \
                 known of it than of the others.",
                name(site)
            )
        }
    }
}
/// Choose one.
pub fn choose(name: &str) -> String {
    format!("Take this one: {name}")
}
/// Chosen.
pub const CHOSEN: &str = "in use";
/// Chosen.
pub fn took(name: &str) -> String {
    format!("{name} stands in the set-up now.")
}
/// Go on.
pub const NEXT: &str = "Go on to the set-up";

/// How often and how far.
pub const MOVEMENTS: &str = "Out and back";
/// How well it repeats.
pub const REPEATS: &str = "The same way";
/// How far by direction.
pub const RANGE: &str = "How far";

/// How many movements, with their rate.
pub fn movements(moved: &SiteMovement) -> String {
    let count = match moved.movements {
        0 => "none seen".to_owned(),
        1 => "once".to_owned(),
        count => format!("{count} times"),
    };
    let seconds = number::duration(moved.seconds);
    match moved.per_minute {
        Ok(rate) if moved.movements > 0 => format!(
            "{count} in {seconds}: {:.0} a minute ({:.0} to {:.0})",
            rate.value, rate.low, rate.high
        ),
        _ => format!("{count} in {seconds}"),
    }
}

/// How well the usual way repeats.
pub fn repeats(moved: &SiteMovement) -> String {
    let Some(UsualWay { about, movements, spread }) = &moved.usual else {
        return "not enough yet: no movement was seen".to_owned();
    };
    let of = format!("{movements} went {}", number::towards(*about));
    let spread = match spread {
        Ok(spread) => spread,
        Err(why) => return format!("{of}; {}", not_enough(*why)),
    };
    let word = match moved.repeats() {
        Some(true) => "repeats well",
        Some(false) => "does not repeat well",
        None => "rough: it may repeat well or not",
    };
    format!(
        "{word}: {of}, their ends lie {} of the movement apart ({} to {})",
        number::percent(spread.value),
        number::bare_percent(spread.low),
        number::percent(spread.high)
    )
}

/// How far in one direction.
pub fn range(direction: &SiteDirection) -> String {
    let towards = number::towards(direction.about);
    match direction.size {
        Ok(size) => format!(
            "{towards} {} of travel ({} to {}), {} times",
            number::percent(size.value),
            number::bare_percent(size.low),
            number::percent(size.high),
            direction.movements
        ),
        Err(why) => format!("{towards}: {}", not_enough(why)),
    }
}

/// Why there is no figure.
pub fn not_enough(why: NotEnough) -> String {
    match why {
        NotEnough::NothingRecorded => "nothing recorded yet".to_owned(),
        NotEnough::Seconds { have, need } => {
            format!("not enough yet: {} needed", number::of_needed(have, need))
        }
        NotEnough::Repetitions { have, need } => {
            format!("not enough yet: {have} of {need} movements")
        }
        _ => "not enough to say".to_owned(),
    }
}

/// A body part that nobody named.
pub fn name(trial: &SiteTrial, site: usize) -> String {
    if trial.body_part.is_empty() { title(site) } else { trial.body_part.clone() }
}

/// The body parts in one line.
pub fn line(sites: &[SiteTrial]) -> String {
    let names: Vec<String> =
        sites.iter().enumerate().map(|(site, trial)| name(trial, site)).collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    joined(&names)
}
