//! What a crash left.

use super::{measure, number};
use fitting::summary::TaskBody;

/// Title.
pub const TITLE: &str = "A task was not finished";
/// What happened.
pub const WHAT: &str =
    "The page went away while it ran. What was recorded until then is still here.";
/// Keep it.
pub const KEEP: &str = "Keep it and go on";
/// Throw it away.
pub const DROP: &str = "Throw it away";

/// Which task, how much of it, and of whom.
pub fn line(task: &TaskBody, label: &str) -> String {
    let kind = measure::task(task.record.ask.kind());
    let polled = &task.record.recording.polled;
    let seconds: f64 = polled.iter().map(|span| span.seconds()).sum();
    let of = if label.is_empty() { String::new() } else { format!(", {label}") };
    format!("{kind}: {} recorded{of}", number::duration(seconds))
}
