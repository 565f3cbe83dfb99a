//! A new version of the page, and what changed. The changes themselves stand in
//! `public/changes.json`, which comes with the version it speaks of.

/// A new version waits.
pub const WAITING: &str = "A new version of this page is there";
/// When it is taken up.
pub const WHEN: &str = "It is taken up when nothing is running: now, if you like, or by itself once \
    every window with this page was closed. The page is then loaded anew; the fitting is closed, and \
    opens again under Kept fittings.";
/// While a task runs.
pub const TASK_RUNS: &str = "A task is running. It goes on undisturbed, and the new version waits. \
    Take it up after the task.";
/// Something is in the page's memory alone.
pub const NOT_KEPT: &str = "Something recorded here is not kept in this browser and would be gone. \
    Save the fitting as a file under Hand over first.";
/// Open elsewhere.
pub const OTHERS: &str = "The page is open in another window or tab, too. Close the others and press \
    again; or close them all, and the new version is there next time.";
/// The button.
pub const TAKE_UP: &str = "Take it up now";
/// Before what changed.
pub const WHAT_CHANGED: &str = "What changes:";
/// This version has news.
pub const CHANGED: &str = "This page has changed since your last visit";
/// It was read.
pub const READ: &str = "Close";
