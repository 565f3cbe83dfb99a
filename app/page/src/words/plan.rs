//! Plans by time: what is asked today, why, and how it can be changed.

use super::measure::task;
use super::number;
use fitting::Direction;
use fitting::task::{Amount, Reason, TaskKind, Working};

/// Whom the plan is for.
pub const WAY: &str = "How does this person work best?";
/// A way of working.
pub const fn way(way: Working) -> &'static str {
    match way {
        Working::Usual => "told in words, with a pause now and then",
        Working::Shown => "shown instead of told, in bursts of at most two minutes",
        Working::Tires => "tires soon: at most two minutes of muscle work, in short bursts",
    }
}
/// The minutes that were tested with a way of working.
pub fn tested(minutes: u32) -> String {
    format!("{minutes} minutes is the plan that was tested for this.")
}
/// How much muscle work.
pub const MUSCLE: &str = "How much muscle work is all right today?";
/// Less than usual.
pub const MUSCLE_LESS: &str = "little";
/// As usual.
pub const MUSCLE_USUAL: &str = "as usual";
/// More than usual.
pub const MUSCLE_MORE: &str = "more than usual";
/// Sudden movements.
pub const SUDDEN: &str = "Do sudden movements or spasms come by themselves?";
/// They do.
pub const SUDDEN_YES: &str = "yes: keep more time for rest, to see them";
/// They do not.
pub const SUDDEN_NO: &str = "no";
/// Nobody said.
pub const SUDDEN_NOT_SAID: &str = "not said";
/// Something was recorded before.
pub const GOES_ON: &str = "What is kept of this fitting counts: the plan asks for what is still \
    unknown or known only roughly.";

/// What a plan takes, on the button that chooses it.
pub fn cost(said: Amount, pauses: usize) -> String {
    format!(
        "{} with {}, of it {} of muscle work",
        number::about(said.seconds),
        self::pauses(pauses),
        number::duration(said.muscle_seconds)
    )
}
fn pauses(count: usize) -> String {
    match count {
        0 => "no pause".to_owned(),
        1 => "a pause".to_owned(),
        more => format!("{more} pauses"),
    }
}
/// What is left of a plan.
pub fn left(left: Amount, pauses: usize) -> String {
    format!(
        "Still to come: {} with {}, of it {} of muscle work. After each task the rest is fitted \
         to this person's own pace.",
        number::about(left.seconds),
        self::pauses(pauses),
        number::duration(left.muscle_seconds)
    )
}
/// Nothing fits.
pub const NOTHING_FITS: &str = "nothing fits in this much muscle work";

/// Why a task is in the plan.
pub fn reason(reason: Reason) -> String {
    match reason {
        Reason::StickAlone => "everything later is told from what the stick does alone".to_owned(),
        Reason::NothingYet(kind) => nothing_yet(kind).to_owned(),
        Reason::Missing(direction) => {
            format!(
                "{} needs more pushes before its reach can be told",
                number::direction(direction)
            )
        }
        Reason::Rough(direction) => {
            format!("{} is known only roughly", number::direction(direction))
        }
        Reason::RestRough => "rest is known only roughly".to_owned(),
        Reason::HoldRough => "steadiness is known only roughly".to_owned(),
        Reason::WasEasy => {
            "it was easy half-way; farther out it shows what you can keep up".to_owned()
        }
        Reason::Once(_) => "it was kept up once, and once may be chance".to_owned(),
        Reason::BetweenTheFour => {
            "the directions between show whether the mount is turned".to_owned()
        }
        Reason::Surer(kind) => format!("makes {} surer", surer(kind)),
        Reason::Asked => "more of it was asked for".to_owned(),
    }
}
const fn nothing_yet(kind: TaskKind) -> &'static str {
    match kind {
        TaskKind::HandsOff => "nothing is known of the stick alone yet",
        TaskKind::QuietRest => "nothing is known of rest yet",
        TaskKind::BusyRest => "nothing is known yet of what comes along while busy",
        TaskKind::FreeMovement => "a beginning without words: what moves it?",
        TaskKind::Reach => "nothing is known of reach yet",
        TaskKind::Hold => "nothing is known of steadiness yet",
        TaskKind::Sustained => "nothing is known yet of what can be kept up",
        TaskKind::Return => "nothing is known of the way back yet",
        TaskKind::Presses => "nothing is known of presses yet",
    }
}
const fn surer(kind: TaskKind) -> &'static str {
    match kind {
        TaskKind::HandsOff => "what the stick does alone",
        TaskKind::QuietRest | TaskKind::BusyRest => "rest",
        TaskKind::FreeMovement => "the range seen",
        TaskKind::Reach => "reach",
        TaskKind::Hold => "steadiness",
        TaskKind::Sustained => "what can be kept up",
        TaskKind::Return => "the way back",
        TaskKind::Presses => "presses",
    }
}
/// What one task takes.
pub fn takes(amount: Amount) -> String {
    if amount.muscle_seconds > 0.0 {
        format!(
            "{}, {} of it muscle work",
            number::duration(amount.seconds),
            number::duration(amount.muscle_seconds)
        )
    } else {
        format!("{}, no muscle work", number::duration(amount.seconds))
    }
}
/// A pause in the list.
pub const PAUSE: &str = "A pause, as long as you like";
/// The pause that is now.
pub const PAUSE_NOW: &str = "Time for a pause. Rest as long as you like; nothing runs out. What \
    there is is kept, and stopping here is fine.";
/// After the pause comes this.
pub const NEXT_PAUSE: &str = "Next: a pause";

/// Changing the plan.
pub const CHANGE: &str = "Change the plan";
/// What changing does.
pub const CHANGE_TEXT: &str = "Everything else is fitted again into the same minutes and muscle \
    work. What does not fit there is not added.";
/// How much of a kind there is.
pub fn amount(kind: TaskKind, rounds: usize) -> String {
    let name = task(kind);
    match kind {
        TaskKind::HandsOff | TaskKind::QuietRest | TaskKind::BusyRest | TaskKind::FreeMovement => {
            format!("{name}: {}", number::duration(10.0 * rounds as f64))
        }
        TaskKind::Sustained => format!("{name}: {}", times(rounds, "time", "times")),
        _ => format!("{name}: {}", times(rounds, "round", "rounds")),
    }
}
fn times(count: usize, one: &str, many: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {many}") }
}
/// Fewer.
pub const FEWER: &str = "Less";
/// More.
pub const MORE: &str = "More";
/// Leave out.
pub const LEAVE_OUT: &str = "Leave out";
/// Put back.
pub const PUT_BACK: &str = "Put back";
/// A control of one kind of task.
pub fn of_kind(verb: &str, kind: TaskKind) -> String {
    format!("{verb}: {}", task(kind))
}
/// Left out.
pub fn left_out(kind: TaskKind) -> String {
    format!("{}: left out", task(kind))
}
/// More did not fit.
pub fn no_room(kind: TaskKind) -> String {
    format!(
        "More of {} does not fit in these minutes and this muscle work.",
        task(kind).to_ascii_lowercase()
    )
}
/// Changed.
pub fn changed(left: Amount) -> String {
    format!(
        "Changed: {} to come, of it {} of muscle work.",
        number::about(left.seconds),
        number::duration(left.muscle_seconds)
    )
}
/// The directions.
pub const NEEDED: &str = "Which directions are needed?";
/// What they do.
pub const NEEDED_TEXT: &str = "These come first. With none chosen it is all four.";
/// A direction.
pub const fn needed(direction: Direction) -> &'static str {
    number::direction(direction)
}

/// What is usable.
pub const USABLE: &str = "Usable now";
/// What stopping means.
pub const USABLE_TEXT: &str = "If you stop here, this is what there is. It can go on another day.";
/// Nothing yet.
pub const USABLE_NOTHING: &str = "Nothing yet: the first task begins it.";
