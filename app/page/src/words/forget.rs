//! Deleting with a way back, and fittings at a counter.

use super::{measure, number};
use fitting::summary::TaskBody;

/// It was deleted.
pub fn deleted(what: &str) -> String {
    format!("Deleted: {what}.")
}
/// Put it back.
pub const UNDO: &str = "Put it back";
/// Do not keep the way back.
pub const FORGET_NOW: &str = "Forget it now";
/// How long.
pub const UNTIL: &str = "It can be put back until you leave this screen or delete something else.";
/// It is there again.
pub const BACK: &str = "It is back.";
/// Before everything is deleted.
pub const NOT_REACHED: &str = "Files that were saved, papers that were printed and links that were \
    given to others are not reached by this.";
/// The recordings of a fitting.
pub const RECORDINGS: &str = "Recordings";
/// None.
pub const NO_RECORDINGS: &str = "Nothing was recorded.";

/// One recording.
pub fn recording(task: &TaskBody) -> String {
    let kind = measure::task(task.record.ask.kind());
    let polled = &task.record.recording.polled;
    let seconds: f64 = polled.iter().map(|span| span.seconds()).sum();
    format!("{}. {kind}, {}", task.order + 1, number::duration(seconds))
}

/// The card of the first screen.
pub const COUNTER: &str = "At a counter";
/// The card in one line.
pub const fn counter_line(is: bool) -> &'static str {
    if is { "each fitting is erased when the visitor leaves" } else { "no; fittings stay kept" }
}
/// The choice.
pub const AT_COUNTER: &str = "Erase each fitting when the visitor leaves";
/// What it means.
pub const COUNTER_HELP: &str = "For shops and open days. A fitting that begins now is kept only so \
    that a crash loses nothing, and is erased with all its recordings when you press “Visitor \
    leaves”, when the next one begins, or half an hour after it was left.";
/// Above every screen.
pub const ERASES: &str = "At a counter: this fitting is erased when the visitor leaves.";
/// The button.
pub const LEAVES: &str = "Visitor leaves…";
/// The question.
pub const ERASE_TITLE: &str = "Erase this fitting?";
/// What goes.
pub fn erase_text(recordings: usize) -> String {
    format!(
        "It goes with {} and cannot be brought back. Hand over first what the visitor wants to take \
         along: a paper, a code, a file.",
        match recordings {
            0 => "all that was told".to_owned(),
            1 => "its one recording".to_owned(),
            many => format!("its {many} recordings"),
        }
    )
}
/// Do it.
pub const ERASE: &str = "Erase it now";
/// First the papers.
pub const HAND_OVER_FIRST: &str = "Hand over first";
/// Not yet.
pub const GO_ON: &str = "Go on";
/// Never.
pub const KEEP_FOR_GOOD: &str = "Keep it for good";
/// Left behind.
pub const LEFT_TITLE: &str = "A counter fitting was left";
/// One that was left.
pub fn left(when: &str, tasks: u32) -> String {
    format!("From {when}, with {tasks} {}.", if tasks == 1 { "task" } else { "tasks" })
}
/// Gone.
pub fn erased(when: &str) -> String {
    format!("A counter fitting from {when} was left for more than half an hour and is erased.")
}
/// In the list.
pub const MARK: &str = "at a counter, erased when the visitor leaves";
