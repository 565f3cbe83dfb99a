//! How safe what is kept is.

/// The last change could not be kept.
pub const FAILED: &str = "The newest part is not kept: it is in this page’s memory only. What was shown \
    as kept before is still there.";
/// Nothing can be kept.
pub const IN_MEMORY: &str = "This browser keeps nothing here. What you do is in this page’s memory and \
    is gone when it is closed, unless you save it as a file.";
/// Once more.
pub const AGAIN: &str = "Try to keep it again";

/// Whether the browser promises to keep it.
pub const fn promised(promised: Option<bool>) -> &'static str {
    match promised {
        Some(true) => "The browser has promised not to clear this by itself when space runs short.",
        Some(false) => {
            "The browser has not promised to keep this: it may clear it when space runs short, and \
             some browsers do after a week without a visit. Installing the page, or saving a file \
             now and then, protects it."
        }
        None => {
            "Whether the browser may clear this by itself, it does not say: save a file now and then."
        }
    }
}

/// Room taken and left.
pub fn room(used_bytes: f64, free_bytes: f64) -> String {
    format!("Taken: {}; left: {}.", size(used_bytes), size(free_bytes))
}

fn size(bytes: f64) -> String {
    if bytes < 1e6 {
        "less than 1 MB".to_owned()
    } else if bytes < 1e9 {
        format!("{:.0} MB", bytes / 1e6)
    } else {
        format!("{:.0} GB", bytes / 1e9)
    }
}

/// A reminder.
pub const NEVER_SAVED: &str = "Nothing here was ever saved as a file. One press on “Save everything as a \
    file” makes a copy that a lost or cleared browser cannot take along.";
/// A reminder.
pub fn saved_days_ago(days: u64) -> String {
    format!(
        "Everything was last saved as a file {days} days ago. “Save everything as a file” makes a \
         fresh copy."
    )
}
/// A fitting of a newer version.
pub fn newer(label: &str) -> String {
    format!("{label}: made by a newer version of this page")
}
/// What can be done with it.
pub const NEWER_TEXT: &str = "It cannot be shown here, and is left as it is. Load the page anew with a \
    network, or save it as a file and open that where the newer version is.";
/// Save it as it stands.
pub const SAVE_NEWER: &str = "Save as a file";
/// The file's name.
pub const FILE_NEWER: &str = "stick-fitting-newer.json";
