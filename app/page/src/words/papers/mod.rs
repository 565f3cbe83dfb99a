//! The papers that leave the room: what they are called, and what stands on them as long as nobody
//! writes something else. Facts come from [`fitting::papers`]; what nobody said or measured is a
//! gap in [square brackets].

mod handover;
mod letter;
mod loan;

pub use letter::need;
pub use loan::{DIARY_COMFORT, DIARY_DAY, DIARY_MINUTES, DIARY_TITLE};

use super::number;
use fitting::papers::Facts;
use fitting::visit::{Paper, PaperPart};
use fitting::{Estimate, Sureness};

/// The papers to choose from.
pub const CHOOSE: &str = "Papers to choose from";
/// Each of them can be changed.
pub const CHOOSE_TEXT: &str = "Each can be changed before it is printed, and what you write stays \
    with this fitting.";
/// The summary.
pub const SUMMARY: &str = "Summary sheet";
/// What it is for.
pub const SUMMARY_FOR: &str = "Every number with its reason: for a colleague or a therapist.";

/// What a paper is called.
pub const fn title(paper: Paper) -> &'static str {
    match paper {
        Paper::Handover => "Handover sheet",
        Paper::Letter => "Need letter",
        Paper::Loan => "Loan card",
    }
}

/// What it is for.
pub const fn purpose(paper: Paper) -> &'static str {
    match paper {
        Paper::Handover => {
            "One page for family and carers: where the stick goes, what to type in, when to stop."
        }
        Paper::Letter => {
            "For whoever pays: the goal, what limits, what the stick has to do, each with what was \
             found."
        }
        Paper::Loan => {
            "For a lending library: what goes out and comes back, who cleaned it, and a diary."
        }
    }
}

/// Print it.
pub const fn print(paper: Paper) -> &'static str {
    match paper {
        Paper::Handover => "Print the handover sheet",
        Paper::Letter => "Print the letter",
        Paper::Loan => "Print the loan card",
    }
}

/// Back to the list of papers.
pub const BACK: &str = "All papers";
/// How to change it.
pub const EDIT_TEXT: &str = "Change whatever you like; an empty field leaves its part out. The paper \
    beside it shows what will be printed.";
/// What is to be filled in.
pub const GAPS: &str = "Still to be filled in: what stands in [square brackets].";
/// Longer than a page.
pub const OVER: &str = "This runs over one page. Shorten a part, or print it on two.";
/// It fits.
pub const FITS: &str = "This fits on one page.";
/// The list of fields.
pub const FIELDS: &str = "What stands on it";
/// The paper itself.
pub const PREVIEW: &str = "The paper as it will be printed";
/// The figures have changed.
pub const CHANGED: &str = "What is suggested here has changed since you wrote this. See whether your \
    words still hold.";
/// What is suggested now.
pub const NOW_SUGGESTED: &str = "Suggested now";
/// There is more than room for.
pub const CUT: &str = "There is more to say here than the paper has room for: the end is left out.";
/// Back to the suggestion.
pub const AS_SUGGESTED: &str = "As suggested";
/// Another day of the diary.
pub const ADD_DAY: &str = "Add a day";
/// Away with a day.
pub const REMOVE_DAY: &str = "Remove";
/// A field of a day.
pub fn of_day(what: &str, place: usize) -> String {
    format!("{what}, row {}", place + 1)
}

/// The line at the foot of every paper.
pub const FOOT: &str = "Measured and suggested by the Stick Fitting Room: no medical device and no \
    diagnosis. The person’s own therapist, physician and local rules come first. Never use these \
    settings to drive a wheelchair. Checked on invented people and published figures; not validated \
    with patients.";

/// The heading of a part.
pub const fn part(part: PaperPart) -> &'static str {
    match part {
        PaperPart::HandoverPlace => "Where the stick goes",
        PaperPart::HandoverType => "Where to type the numbers in",
        PaperPart::HandoverFirst => "If it goes wrong, change this first",
        PaperPart::HandoverSkin => "Look at the skin",
        PaperPart::HandoverStop => "When to stop",
        PaperPart::HandoverAsk => "Whom to ask",
        PaperPart::LetterTo => "To",
        PaperPart::LetterGoal => "The goal, in the person’s own words",
        PaperPart::LetterLimitation => "What limits",
        PaperPart::LetterOptions => "What was tried, and why it does not do",
        PaperPart::LetterFeatures => "What the stick has to do, and what was found",
        PaperPart::LetterTrial => "Trial",
        PaperPart::LetterTraining => "Training",
        PaperPart::LetterFollowUp => "Follow-up",
        PaperPart::LetterCost => "Cost",
        PaperPart::LetterFrom => "Who writes",
        PaperPart::LoanItem => "Item",
        PaperPart::LoanParts => "Parts",
        PaperPart::LoanCondition => "Condition",
        PaperPart::LoanOut => "Out",
        PaperPart::LoanIn => "Back",
        PaperPart::LoanCleaned => "Cleaned",
    }
}

/// What stands in a part as long as nobody writes something else. `measured` says when and with
/// what it was measured.
pub fn suggested(part: PaperPart, facts: &Facts, measured: &str) -> String {
    match part.paper() {
        Paper::Handover => handover::suggested(part, facts),
        Paper::Letter => letter::suggested(part, facts, measured),
        Paper::Loan => loan::suggested(part, facts, measured),
    }
}

/// Whether something is still to be filled in.
pub fn has_gap(text: &str) -> bool {
    text.split_once('[').is_some_and(|(_, rest)| rest.contains(']'))
}

/// A figure with its interval and its word: `36 % (33 to 39 %, rough)`.
fn sure(figure: &Estimate, sureness: Sureness, one: impl Fn(f64) -> String) -> String {
    format!(
        "{} ({} to {}, {})",
        one(figure.value),
        one(figure.low),
        one(figure.high),
        super::settings::sureness(sureness)
    )
}

/// The same without a word.
fn between(figure: &Estimate, one: impl Fn(f64) -> String) -> String {
    format!("{} ({} to {})", one(figure.value), one(figure.low), one(figure.high))
}

fn seconds(value: f64) -> String {
    format!("{value:.2}\u{a0}s")
}

/// Lines, those that are empty left out.
fn lines(lines: impl IntoIterator<Item = String>) -> String {
    let kept: Vec<String> = lines.into_iter().filter(|line| !line.is_empty()).collect();
    kept.join("\n")
}

/// A small percent where a whole one would say nothing.
fn percent(share: f64) -> String {
    if share.abs() < 0.0995 { number::fine_percent(share) } else { number::percent(share) }
}
