//! Raw reports: what a device says of itself, and raw beside shown.

use super::descriptor::usage;
use super::number;
use crate::hid::Standing;
use device::gamepad::ReportsPerSecond;
use device::hid::usage::{X, Y};
use device::hid::{Axis, Usage};
use device::raw_and_shown::{
    Hidden, LEAST_VALUES, Lack, LateReports, PairedBy, RawShownFindings, SideFindings,
};

/// Title.
pub const TITLE: &str = "The raw reports";
/// What it is for.
pub const WHAT: &str = "A stick reports to the system, and the system may hide its middle or cut its \
    ends before a page sees it. Some browsers let a page read the reports themselves. The page only \
    reads, and sends the device nothing.";
/// The button.
pub const ASK: &str = "Ask the browser for the raw reports";
/// The other button.
pub const ASK_ANY: &str = "Not in the list? Show any device";
/// Close.
pub const CLOSE: &str = "Stop reading";
/// A device without a name.
pub const UNNAMED: &str = "unnamed device";
/// The rate.
pub const RATE: &str = "How fast it reports";
/// Side by side.
pub const BESIDE: &str = "Raw beside shown";
/// How.
pub const BESIDE_HELP: &str = "Move the stick slowly from the middle outwards as far as is \
    comfortable and back, once to each side: two seconds or more each way. Somebody else may move it.";
/// Reports that queue up, and what helps.
pub fn late(late: LateReports) -> String {
    format!(
        "This machine is busy: the reports come up to {:.1} s late. Move the stick in small steps and hold it \
         still for {} after each. Closing other programs helps.",
        late.late_seconds,
        number::duration(late.stay_seconds),
    )
}

/// Nothing shown.
pub const NOT_SHOWN: &str =
    "The browser shows no stick beside it yet. Press any button on it once.";
/// Which axis.
pub const AXIS: &str = "Which axis";
/// Shown as.
pub const SHOWN_AS: &str = "Shown by the browser as";
/// No axes.
pub const NO_AXES: &str = "It has no axes.";
/// Measure with it.
pub const MEASURE: &str = "Measure with the raw reports";
/// What that means.
pub const MEASURE_HELP: &str = "Then nothing is hidden by the system. A game may see less: it mostly \
    gets what the system shows. Settings found so fit a host that reads the stick itself.";
/// Chosen.
pub const MEASURES: &str = "The raw reports are the chosen stick.";
/// The plot.
pub const PLOT: &str = "What is shown at each place of the stick";
/// Across.
pub const PLOT_RAW: &str = "as reported";
/// Along.
pub const PLOT_SHOWN: &str = "as shown";
/// What was found.
pub const FOUND: &str = "What was found";

/// A device that was allowed before.
pub fn open_allowed(name: &str) -> String {
    format!("Read {name}, which was allowed before")
}

/// The name under which it is kept.
pub fn source_name(name: &str) -> String {
    format!("{name}, raw reports")
}

/// How it stands; nothing where there is nothing to say.
pub const fn standing(standing: Standing) -> &'static str {
    match standing {
        Standing::Missing => {
            "This browser has no way to read raw reports; everything else here works without."
        }
        Standing::Closed | Standing::Open => "",
        Standing::Asking => "The browser asks which device may be read. Choose the stick there.",
        Standing::Cancelled => "No device was chosen, so nothing is read. Ask again at any time.",
        Standing::Refused => {
            "The browser or the system did not allow it, so nothing is read. \
            Everything else here works without."
        }
        Standing::Unusable => {
            "What was chosen says nothing that could be read as a stick: no axes \
            and no buttons, or far more than any stick has."
        }
        Standing::CannotOpen => {
            "The device could not be opened. Another program may hold it, or the \
            system keeps pages away from it."
        }
        Standing::Gone => "The device is gone. Plug it in again, then ask again.",
    }
}

/// Whose reports are read.
pub fn reads(name: &str) -> String {
    format!("Reading the reports of {name}.")
}

/// An axis in a list to choose from.
pub fn axis_name(place: usize, axis: &Axis) -> String {
    format!("{}, axis {place} of the report", usage(axis.usage))
}

/// The rate.
pub fn rate(rate: Option<&ReportsPerSecond>) -> String {
    let Some(rate) = rate else {
        return "Cannot tell yet: move the stick for two seconds without a break. On a busy machine \
                reports may come too unevenly to count them."
            .to_owned();
    };
    format!(
        "About {:.0} reports a second while it moves ({:.0} to {:.0}), counted over {:.1} s.",
        rate.value,
        rate.low.floor(),
        rate.high.ceil(),
        rate.seconds,
    )
}

/// The rate of what is shown.
pub fn shown_rate(fastest_seconds: f64) -> String {
    format!(
        "What the browser shows of it changed at the fastest every {}.",
        number::milliseconds(fastest_seconds)
    )
}

/// Why two axes are held to be the same.
pub const fn paired(by: PairedBy) -> &'static str {
    match by {
        PairedBy::Order => {
            "This pair is a guess by the usual order. Move the stick, and the page sees \
            which moves with which."
        }
        PairedBy::Movement => "The two moved together, so they are held to be the same.",
        PairedBy::Hand => "Paired by hand.",
    }
}

/// The two sides of an axis: where it reads below its middle, and above.
fn sides(usage: Usage) -> [&'static str; 2] {
    match usage {
        X => ["left", "right"],
        Y => ["up", "down"],
        _ => ["to its low side", "to its high side"],
    }
}

/// What was found, in sentences.
pub fn findings(usage: Usage, found: &RawShownFindings) -> Vec<String> {
    let [low, high] = sides(usage);
    let mut lines = Vec::new();
    if let (Ok(Hidden::Band { share: one, .. }), Ok(Hidden::Band { share: other, .. })) =
        (found.negative.middle, found.positive.middle)
    {
        let (one_within, other_within) =
            (within(found.negative.middle), within(found.positive.middle));
        lines.push(format!(
            "Between {} {low}{one_within} and {} {high}{other_within} of the middle the stick moves \
             and the page sees nothing: a hidden middle of the system or browser. A dead zone found \
             in the usual way comes on top of it.",
            number::fine_percent(one),
            number::fine_percent(other),
        ));
    } else {
        lines.push(middle(low, found.negative.middle));
        lines.push(middle(high, found.positive.middle));
    }
    lines.push(end(low, found.negative.end));
    lines.push(end(high, found.positive.end));
    lines.push(steps(low, &found.negative));
    lines.push(steps(high, &found.positive));
    lines
}

fn within(found: Result<Hidden, Lack>) -> String {
    match found {
        Ok(Hidden::Band { least, most, .. }) => {
            format!(" ({:.1} to {})", least * 100.0, number::fine_percent(most))
        }
        _ => String::new(),
    }
}

fn middle(side: &str, found: Result<Hidden, Lack>) -> String {
    match found {
        Ok(Hidden::Band { share, .. }) => format!(
            "From the middle to {} {side}{} the stick moves and the page sees nothing: a hidden \
             middle of the system or browser.",
            number::fine_percent(share),
            within(found),
        ),
        Ok(Hidden::None { most }) => format!(
            "Middle, {side}: nothing is hidden; if anything, less than {}.",
            number::fine_percent(most)
        ),
        Err(lack) => format!("Middle, {side}: not enough recorded yet. {}", self::lack(lack)),
    }
}

fn end(side: &str, found: Result<Hidden, Lack>) -> String {
    match found {
        Ok(Hidden::Band { share, .. }) => format!(
            "End, {side}: the last {}{} make no difference, full push is shown before them.",
            number::fine_percent(share),
            within(found),
        ),
        Ok(Hidden::None { most }) => format!(
            "End, {side}: nothing is cut; if anything, less than {}.",
            number::fine_percent(most)
        ),
        Err(lack) => format!("End, {side}: not enough recorded yet. {}", self::lack(lack)),
    }
}

fn steps(side: &str, found: &SideFindings) -> String {
    let step = |found: Result<f64, Lack>| match found {
        Ok(step) => format!("{:.3}\u{a0}% of the way", step * 100.0),
        Err(Lack::TooFewValues { seen }) => {
            format!("not enough yet ({seen} of {LEAST_VALUES} values)")
        }
        Err(_) => "not enough yet".to_owned(),
    };
    format!(
        "Smallest step, {side}: as reported {}; as shown {}.",
        step(found.raw_step),
        step(found.shown_step)
    )
}

fn lack(lack: Lack) -> String {
    match lack {
        Lack::NothingSteady => {
            "Move it there slowly, two seconds or more each way, or hold it.".to_owned()
        }
        Lack::NotFarEnough { swept, needed } => format!(
            "It went slowly as far as {}, and has to go to {}.",
            number::percent(swept),
            number::percent(needed)
        ),
        Lack::PassedTooFast { from, to } => format!(
            "It passed too quickly between {} and {}.",
            number::percent(from),
            number::percent(to)
        ),
        Lack::TooFewValues { seen } => {
            format!("{seen} different values were seen; {LEAST_VALUES} are needed.")
        }
    }
}
