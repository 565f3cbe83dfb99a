//! What went wrong: what happened, what is safe, what to do.

use crate::errors::{ErrorMessage, Trouble};

/// Title of the window.
pub const TITLE: &str = "Something needs your attention";
/// Before what is safe.
pub const SAFE: &str = "What is safe:";
/// Before what to do.
pub const TO_DO: &str = "What to do:";

/// The later part of the program is missing: told without it.
pub const LATER_MISSING: ErrorMessage = ErrorMessage {
    happened: "A part of the program could not be fetched.",
    safe: "Nothing is lost: what was kept is kept.",
    to_do: "Check the connection and try again. If that does not help, load the page anew.",
};

/// The three sentences for a trouble.
pub const fn message(trouble: Trouble) -> ErrorMessage {
    let (happened, safe, to_do) = match trouble {
        Trouble::InputMissing => (
            "This browser cannot see sticks: it has no gamepad interface.",
            "Nothing is lost.",
            "Use another browser, or the practice stick.",
        ),
        Trouble::InputRefused => (
            "This page is not allowed to see sticks.",
            "Nothing is lost.",
            "Open the page by itself in its own tab, or ask whoever serves it to allow gamepads.",
        ),
        Trouble::DeviceGone => (
            "The stick is gone.",
            "Everything recorded so far is kept, and the task waits.",
            "Plug it in again, move it once, then press Go on.",
        ),
        Trouble::StoreUnavailable => (
            "This browser keeps nothing here: its storage is off, as in a private window.",
            "Everything works until the page is closed.",
            "Before you close it, save the fitting as a file under Hand over.",
        ),
        Trouble::StoreFull => (
            "The browser’s storage is full.",
            "What was shown as kept is kept; the newest part is only in this page’s memory.",
            "Save the fitting as a file now, then delete fittings you no longer need.",
        ),
        Trouble::StoreBlocked => (
            "Another tab holds the kept fittings.",
            "What was kept is safe.",
            "Close the other tabs with this page, then reload.",
        ),
        Trouble::StoreNewer => (
            "A newer version of this page was used here, and keeps things in a way this one only reads.",
            "What was kept is safe, can be looked at, and saved as a file.",
            "Load the page anew with a network. What you do until then is not kept.",
        ),
        Trouble::StoreFailed => (
            "The browser could not keep the last change.",
            "What was shown as kept before is kept; the newest part is in this page’s memory.",
            "Save the fitting as a file now, then reload.",
        ),
        Trouble::KeptUnreadable => (
            "Something kept here could not be read.",
            "It was set aside, not deleted; everything else is there.",
            "Save everything as a file under Kept fittings; the part set aside is in it.",
        ),
        Trouble::NotFound => (
            "This fitting is not kept here any more.",
            "The others are there.",
            "Look for it under Kept fittings, or open its file.",
        ),
        Trouble::FileForeign => (
            "This file is not one of this page’s.",
            "Nothing was changed.",
            "Choose a file that was saved here; its name ends in .json.",
        ),
        Trouble::FileDamaged => (
            "This file is damaged or was changed by hand.",
            "Nothing was changed.",
            "Ask for the file again, or use another copy.",
        ),
        Trouble::FileNewer => (
            "This file comes from a newer version of this page.",
            "Nothing was changed.",
            "Reload this page, take up the new version that it offers, then open the file again.",
        ),
        Trouble::FileTooLarge => (
            "This file is larger than any this page writes.",
            "Nothing was changed.",
            "Choose a file that was saved here.",
        ),
        Trouble::LinkForeign => (
            "This link does not carry a summary.",
            "Nothing was changed.",
            "Ask for the link again, and copy the whole of it.",
        ),
        Trouble::LinkDamaged => (
            "This link is damaged or cut short.",
            "Nothing was changed.",
            "Ask for the link again, and copy the whole of it; or ask for the file.",
        ),
        Trouble::LinkNewer => (
            "This link comes from a newer version of this page.",
            "Nothing was changed.",
            "Reload this page, take up the new version that it offers, then open the link again.",
        ),
        Trouble::ClipboardRefused => (
            "The browser did not let the page copy.",
            "The text is still there.",
            "Select it yourself and copy it.",
        ),
        Trouble::LaterMissing => return LATER_MISSING,
        Trouble::RecordingFull => (
            "This recording is now as long as one can be, so it has ended.",
            "Nothing that was recorded is lost.",
            "Take a rest. To record more, start the task again.",
        ),
        Trouble::Unexpected => (
            "Something happened that should not.",
            "What was shown as kept is kept.",
            "Save the fitting as a file, then reload the page.",
        ),
    };
    ErrorMessage { happened, safe, to_do }
}
