//! The plan of the buttons.

use super::{layout, number};
use device::buttons::{
    Overlap, Pressed, Reliability, ReliabilityClass, Setting, Source, Suggestion, WhyNot,
};
use fitting::visit::{Ease, Job};

/// Title.
pub const TITLE: &str = "Plan the buttons";
/// What it is for.
pub const WHAT: &str = "Which button or switch does which job. Say what is needed, the most needed \
    first, and what is known of each button; the plan follows.";
/// The jobs.
pub const JOBS: &str = "What is needed";
/// None yet.
pub const NO_JOBS: &str = "No job was named yet.";
/// Own words.
pub const OWN: &str = "A job in your own words";
/// An example.
pub const OWN_HELP: &str = "Such as jump, look round, open the map.";
/// A place.
pub const PLACE: &str = "Or a button of the usual layout, by its place";
/// Add.
pub const ADD: &str = "Add it";
/// Up.
pub const UP: &str = "Up";
/// Down.
pub const DOWN: &str = "Down";
/// Remove.
pub const REMOVE: &str = "Remove";
/// The buttons.
pub const BUTTONS: &str = "The buttons of the stick";
/// None.
pub const NO_BUTTONS: &str = "How many buttons it has shows when a stick is chosen, or when its report \
    descriptor is read.";
/// Press to see.
pub const BUTTONS_HELP: &str = "Press one, and it lights up here. How well each works the presses task \
    records.";
/// Where it is.
pub const WHERE: &str = "Where it is";
/// How easily.
pub const EASE: &str = "How easily is it pressed?";
/// Switches.
pub const SWITCHES: &str = "Switches beside it";
/// About them.
pub const SWITCHES_HELP: &str = "Each plugs into a socket of its own, in a hub, an interface or the \
    stick. Ask what that socket does: a host does not say.";
/// Add a switch.
pub const ADD_SWITCH: &str = "Add a switch";
/// The host.
pub const HOST: &str = "The host";
/// The plan.
pub const PLAN: &str = "The plan";
/// The same as a table.
pub const TABLE: &str = "The plan as a table";
/// Its columns.
pub const COLUMNS: [&str; 3] = ["What is needed", "Pressed", "Why, and how"];
/// What does not fit.
pub const LEFT: &str = "What is not used";
/// Overlaps.
pub const OVERLAPS: &str = "What does the same twice";
/// Other ways.
pub const SUGGESTIONS: &str = "What else could be done";
/// Caution.
pub const CAUTION: &str = "A call bell, a wheelchair and anything else that matters keep switches of \
    their own: never plan one of those for play. Stop at pain; a button that takes effort tires long \
    before the game ends.";

/// The eases, in the order in which they are offered.
pub const EASES: [Ease; 4] = [Ease::Easy, Ease::WithEffort, Ease::OutOfReach, Ease::NotSaid];

/// How easily something is pressed.
pub const fn ease(ease: Ease) -> &'static str {
    match ease {
        Ease::Easy => "easily",
        Ease::WithEffort => "with effort, or only after letting go",
        Ease::OutOfReach => "not at all",
        Ease::NotSaid => "not said",
    }
}

/// A job.
pub fn job(job: &Job) -> String {
    match job {
        Job::Position(place) => layout::button(*place).to_owned(),
        Job::Own(text) => text.clone(),
    }
}

/// A job with what is done to it.
pub fn of_job(what: &str, of: &Job) -> String {
    format!("{what}: {}", job(of))
}

/// What is pressed, with its name where it has one.
pub fn pressed(what: Pressed, name: &str) -> String {
    let plain = match what {
        Pressed::Button(number) => format!("button {number}"),
        Pressed::Switch(place) => format!("switch {}", place + 1),
    };
    if name.is_empty() { plain } else { format!("{plain} ({name})") }
}

/// A button or a switch as a heading.
pub fn heading(what: Pressed) -> String {
    number::capital(&pressed(what, ""))
}

/// What was recorded of a button.
pub fn reliability(of: &Reliability) -> String {
    match *of {
        Reliability::NotRecorded => "No presses were recorded yet.".to_owned(),
        Reliability::Recorded { made, asked, share: (low, high), unmeant_per_minute } => {
            let unmeant =
                unmeant_per_minute.filter(|rate| *rate > 0.0).map_or_else(String::new, |rate| {
                    format!(" At least {} come unmeant.", number::per_minute(rate))
                });
            if asked == 0 {
                return format!("No presses were asked for yet.{unmeant}");
            }
            format!(
                "{made} of {asked} presses came, so some {} to {} of all do.{unmeant}",
                number::bare_percent(low),
                number::percent(high)
            )
        }
    }
}

/// Why this does that job.
pub fn why(source: &Source, setting: Setting) -> String {
    let reach = match source.ease {
        Ease::Easy => "Easily pressed",
        Ease::NotSaid => "How easily it is pressed was not said",
        Ease::WithEffort => "Pressed with effort",
        Ease::OutOfReach => "Out of reach",
    };
    let reliable = match source.reliability.class() {
        ReliabilityClass::Reliable => "and reliable",
        ReliabilityClass::CannotTell => "and whether it is reliable is not known yet",
        ReliabilityClass::Unreliable => "but unreliable; nothing better is left",
    };
    format!("{reach}, {reliable}. {}", self::setting(setting))
}

/// How something comes to its job.
pub const fn setting(setting: Setting) -> &'static str {
    match setting {
        Setting::AsItComes => "It has this job as it comes.",
        Setting::Assign => "Give it this job in the host.",
        Setting::AskWhether => "It has to be given this job: ask whether the host lets one.",
        Setting::NumberOnly => {
            "It has a number there and no job: give it this one in the game, if the game lets you."
        }
        Setting::HostUnknown => "Choose a host to see whether it gets through.",
        Setting::OwnSocket => "It has a socket of its own: ask what that does.",
    }
}

/// Why nothing does a job.
pub const fn why_not(why: WhyNot) -> &'static str {
    match why {
        WhyNot::NothingThere => "Nothing is there that can be pressed and gets through.",
        WhyNot::NothingLeft => "Everything that can be pressed does something that is needed more.",
        WhyNot::FixedElsewhere => {
            "Jobs are fixed at this port, and no button within reach has this one."
        }
    }
}

/// Nothing.
pub const NOTHING: &str = "nothing";

/// A list of what can be pressed, with what it has in common.
pub fn list(what: &str, of: &[Pressed]) -> String {
    let names = of.iter().map(|one| pressed(*one, "")).collect::<Vec<_>>();
    format!("{what}: {}.", names.join(", "))
}

/// Spare, out of reach, lost.
pub const UNUSED: [&str; 3] =
    ["Free for something else", "Out of reach", "Does not get through the host"];

fn jobs(of: &[Job]) -> String {
    of.iter().map(job).collect::<Vec<_>>().join("; ")
}

/// What does the same twice.
pub fn overlap(overlap: &Overlap) -> String {
    match overlap {
        Overlap::Ports { first, second, jobs: same } => format!(
            "Ports {} and {} do the same as they come: {}. Two people can share these; where jobs run \
             short, give one of them other jobs.",
            first + 1,
            second + 1,
            jobs(same)
        ),
        Overlap::Buttons { planned, also, job: same } => format!(
            "Button {also} does {} as it comes, too, beside {}. Give it another job, or none, where \
             pressing it by mistake matters.",
            job(same),
            pressed(*planned, "")
        ),
    }
}

/// What else could be done.
pub fn suggestion(suggestion: &Suggestion) -> String {
    let names =
        |of: &[Pressed]| of.iter().map(|one| pressed(*one, "")).collect::<Vec<_>>().join(", ");
    match suggestion {
        Suggestion::AnotherPort { port, gains } => {
            format!("Port {} serves more: {}.", port + 1, jobs(gains))
        }
        Suggestion::SecondDevice(left) => format!(
            "A second device in another socket can do what is left ({}): the host makes one controller \
             of both, so a helper can press it.",
            jobs(left)
        ),
        Suggestion::AskWhetherJobsChange => {
            "Ask whether the host lets jobs be changed: the plan stands on it.".to_owned()
        }
        Suggestion::AddSwitches(1) => {
            "One switch beside the stick would do what is left.".to_owned()
        }
        Suggestion::AddSwitches(count) => {
            format!("{count} switches beside the stick would do what is left.")
        }
        Suggestion::FreeWhatIsLost(lost) => format!(
            "Put to use what is out of reach or lost ({}): turn or move the stick, or ask the maker \
             whether other buttons can come first.",
            names(lost)
        ),
        Suggestion::RecordPresses(buttons) => format!(
            "Record presses of button {}: the plan uses {} and nothing certain is known of {}.",
            buttons.iter().map(ToString::to_string).collect::<Vec<_>>().join(", "),
            if buttons.len() == 1 { "it" } else { "them" },
            if buttons.len() == 1 { "it" } else { "them" },
        ),
        Suggestion::ReplaceUnreliable(of) => format!(
            "Look for something better than {}: pressed and not heard, or heard and not meant, too \
             often.",
            names(of)
        ),
    }
}

/// In one line.
pub fn line(jobs: usize, served: usize) -> String {
    match jobs {
        0 => "nothing named yet".to_owned(),
        jobs => format!("{served} of {jobs} jobs have a button"),
    }
}
