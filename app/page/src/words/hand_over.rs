//! Trying, handing over, keeping.

use super::number;
use crate::store::Imported;
use fitting::papers::TypedNumber;

/// Try.
pub const TRY_TITLE: &str = "Feel the difference";
/// Try.
pub const TRY_TEXT: &str = "Move the stick. On the left as it is, on the right what these settings \
    make of it. Nothing is recorded here.";
/// Try.
pub const TRY_BEFORE: &str = "As it is";
/// Try.
pub const TRY_AFTER: &str = "With these settings";
/// No stick to try with.
pub const TRY_NO_STICK: &str = "To try the settings you need the stick.";
/// The way to it.
pub const TRY_TO_STICK: &str = "Choose a stick";
/// No settings to try.
pub const TRY_NOT_MEASURED: &str = "Nothing is measured yet, so there are no settings to try.";
/// The way to them.
pub const TRY_TO_MEASURE: &str = "Go to measuring";
/// Try.
pub const TRY_CLAIM: &str = "Whether settings help a player shows in play, not here: change one \
    thing at a time, and keep what feels better.";
/// Try.
pub const TRY_OUTPUT: &str = "output";
/// Try.
pub const TRY_HELD: &str = "held still by the dead zone";
/// Try.
pub const TRY_FULL: &str = "all the way";

/// Hand over.
pub const TITLE: &str = "Hand over";
/// Files.
pub const FILES: &str = "As a file";
/// Nothing to hand over.
pub const NOTHING: &str = "There is nothing to hand over yet: measure first.";
/// Print.
pub const PRINT: &str = "Print the sheet";
/// Save the summary.
pub const SAVE_SUMMARY: &str = "Save the summary as a file";
/// Save the whole.
pub const SAVE_FITTING: &str = "Save the fitting with its recordings";
/// Make a link.
pub const MAKE_LINK: &str = "Make a link";
/// Label in the link.
pub const LINK_LABEL: &str = "Put the name into the link";
/// What a link holds.
pub const LINK_HELP: &str = "The link itself carries the summary: no recordings, no notes. A link \
    cannot be called back; whoever has it can read it.";
/// The link.
pub const LINK: &str = "The link";
/// Copy it.
pub const COPY: &str = "Copy the link";
/// Copied.
pub const COPIED: &str = "Copied.";
/// It does not fit.
pub const LINK_TOO_LONG: &str = "This summary does not fit a link. Save the file instead.";
/// Share.
pub const SHARE: &str = "Share";

/// The sheet.
pub const SHEET_NUMBERS: &str = "Numbers to type in";
/// The sheet.
pub const SHEET_MEASURED: &str = "What was measured";
/// The sheet.
pub const SHEET_EFFECT: &str = "What they do on the person’s own recordings";
/// The sheet.
pub const SHEET_FIRST: &str = "If it goes wrong, change this first";
/// The sheet: what to change of which number.
pub const SHEET_FIRST_LIST: [(TypedNumber, &str); 4] = [
    (TypedNumber::DeadZone, "It moves by itself: make the dead zone 3 % larger."),
    (TypedNumber::DeadZone, "It does not answer to small pushes: make the dead zone 3 % smaller."),
    (TypedNumber::FullThrow, "It does not reach full speed: make full throw 5 % smaller."),
    (
        TypedNumber::Exponent,
        "It is twitchy near the centre: make the sensitivity number 0.2 larger.",
    ),
];
/// The sheet.
pub const SHEET_WATCH: &str = "Watch for";
/// The sheet.
pub const SHEET_WATCH_LIST: [&str; 3] = [
    "Skin under straps and cups: look before and after play.",
    "Stop at pain, numbness, breathlessness, or a rise in spasm. After a spinal cord injury, a \
     pounding headache, flushing or sweating: stop, sit up, loosen anything tight, check the \
     bladder drainage, follow the emergency plan, call for help.",
    "Questions go to the person’s own therapist or physician. These settings are never for \
     driving a wheelchair.",
];
/// Where it was made.
pub fn made(date: &str, device: &str) -> String {
    format!("{date}, with {device}")
}
/// A summary's minutes.
pub fn minutes(minutes: u32) -> String {
    format!("plan of {minutes} minutes")
}
/// Invented.
pub const INVENTED: &str = "This is an invented person. It stands for nobody.";
/// The practice stick.
pub const WITH_PRACTICE: &str = "the practice stick";

/// Kept.
pub const KEPT_TITLE: &str = "Kept fittings";
/// Kept.
pub const KEPT_TEXT: &str = "Kept in this browser only. Clearing the browser’s data deletes them: \
    save what matters as a file.";
/// While the list is read.
pub const KEPT_LOADING: &str = "Looking for saved fittings…";
/// The list could not be read.
pub const KEPT_FAILED: &str = "The saved fittings could not be read just now. Load the page again.";
/// None.
pub const KEPT_NONE: &str = "Nothing is kept yet. A fitting is kept by itself as soon as something \
    is answered or a task is done.";
/// Open.
pub const OPEN: &str = "Open";
/// Delete.
pub const DELETE: &str = "Delete";
/// It cannot be undone.
pub const DELETE_TEXT: &str = "It cannot be brought back unless it was saved as a file.";
/// Delete all.
pub const DELETE_ALL: &str = "Delete everything";
/// Delete all?
pub const DELETE_ALL_TITLE: &str = "Delete everything kept here?";
/// Keep it.
pub const KEEP: &str = "Keep it";
/// Export all.
pub const EXPORT_ALL: &str = "Save everything as a file";
/// Open a file.
pub const IMPORT: &str = "Open a file saved here";
/// What was taken in.
pub fn imported(imported: &Imported) -> String {
    let Imported { fittings, tasks, renamed, completed, already_here: _, set_aside } = *imported;
    let mut said = Vec::new();
    if fittings > 0 {
        said.push(format!("{} added.", some(fittings, "fitting was", "fittings were")));
    }
    if renamed > 0 {
        said.push(format!(
            "{} as a copy beside what is kept here, because the two differ.",
            some(renamed, "of them came", "of them came"),
        ));
    }
    if completed > 0 {
        said.push(format!(
            "{} here already and got what was missing.",
            some(completed, "fitting was", "fittings were")
        ));
    }
    if tasks > 0 {
        said.push(format!("{} added.", some(tasks, "recording was", "recordings were")));
    }
    if set_aside > 0 {
        said.push(format!(
            "{} not be read and was put aside; “Save everything” holds it.",
            some(set_aside, "part could", "parts could")
        ));
    }
    if said.is_empty() { IMPORT_NOTHING.to_owned() } else { said.join(" ") }
}

fn some(count: usize, one: &str, more: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { more })
}

/// Already there.
pub const IMPORT_NOTHING: &str = "Everything in this file was already here.";
/// Not lasting.
pub const NOT_LASTING: &str = "This browser keeps nothing after the page is closed.";
/// Somebody said no to keeping.
pub const NOT_WANTED: &str =
    "Not kept, as was answered on Ready: it is gone when the page is closed.";
/// Somebody said no to sharing.
pub const NO_SHARING: &str = "Somebody said no to handing this to others: no link and no file is \
    offered. Printing stays, for the person’s own use.";
/// Begin a next visit.
pub const NEXT_VISIT: &str = "Next visit";
/// A row of the list.
pub fn kept_row(tasks: usize, device: &str) -> String {
    let tasks = if tasks == 1 { "1 task".to_owned() } else { format!("{tasks} tasks") };
    format!("{tasks}, {device}")
}
/// Kept now.
pub fn saved_at(time: &str) -> String {
    format!("Kept in this browser at {time}.")
}
/// Being kept.
pub const SAVING: &str = "Keeping…";
/// Not kept.
pub const NOT_SAVED: &str = "Not kept yet.";
/// The file's name.
pub const FILE_SUMMARY: &str = "stick-summary.json";
/// The file's name.
pub const FILE_FITTING: &str = "stick-fitting.json";
/// The file's name.
pub const FILE_ALL: &str = "stick-fitting-room.json";

/// A shared summary.
pub const SHARED_TEXT: &str = "Read-only, from a link or a file. Nothing was kept here.";
/// Ends.
pub const TO_START: &str = "Start a fitting of your own";
/// The interval in a table.
pub fn reach_with_interval(reach: f64, low: f64, high: f64) -> String {
    format!(
        "{} ({} to {})",
        number::percent(reach),
        number::bare_percent(low),
        number::percent(high)
    )
}
