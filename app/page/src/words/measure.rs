//! Planning and doing the tasks.

use super::number;
use fitting::Direction;
use fitting::measure::Ended;
use fitting::task::{
    MarkReason, Meanwhile, PauseCause, Phase, PressAsk, Prompt, Query, TaskAsk, TaskKind,
};

/// Title before a plan is chosen.
pub const TITLE: &str = "How many minutes today?";
/// What the choice means.
pub const CHOOSE: &str = "A short first session is a good one. Stopping at any point leaves a \
    usable result, and it can go on another day.";
/// A plan by its minutes.
pub fn minutes(minutes: u32) -> String {
    format!("{minutes} minutes")
}
/// The list of tasks.
pub const PLAN: &str = "The plan";
/// Title when the plan is done.
pub const ALL_DONE: &str = "Everything in the plan is there";
/// After the plan.
pub const ALL_DONE_TEXT: &str = "Look at the settings now, or measure a task again.";
/// To the settings.
pub const TO_SETTINGS: &str = "See the settings";
/// Another plan.
pub const OTHER_PLAN: &str = "Choose another plan";
/// No stick.
pub const NO_STICK: &str = "There is no stick to measure yet.";
/// What this fitting goes on with.
pub fn goes_on_with(name: &str, practised: bool) -> String {
    match (name.is_empty(), practised) {
        (true, _) => "Plug in its stick to go on".to_owned(),
        (false, true) => format!("Choose “{name}” to go on"),
        (false, false) => format!("Plug in “{name}” to go on"),
    }
}
/// Why it goes on with that one.
pub const GOES_ON_TEXT: &str = "Everything measured so far is here. To measure more, use the same \
    stick: another stick starts a new fitting.";
/// What was recorded.
pub const SO_FAR: &str = "Measured so far";
/// To the stick.
pub const TO_STICK: &str = "Choose a stick";
/// Start a task.
pub const START_TASK: &str = "Start";
/// Start it again.
pub const START_AGAIN: &str = "Measure again";
/// How a task ended.
pub const fn ended(ended: Ended) -> &'static str {
    match ended {
        Ended::Done => "done",
        Ended::Stopped => "stopped, nothing measured",
        Ended::LittleWatched => "poor: this computer saw too little of it",
    }
}
/// A task is done, and how much of it counts.
pub fn task_done(repetitions: usize) -> String {
    match repetitions {
        0 => "not measured".to_owned(),
        1 => "done".to_owned(),
        more => format!("done, {more} counted"),
    }
}

/// Less than the larger part of a task was watched; the share of it that was.
pub fn too_slow(kind: TaskKind, share: f64) -> String {
    format!(
        "{}: this computer was too slow to measure on. It saw only {} of the time, so the numbers \
         cannot be trusted. Close everything else, or take another computer, and measure again.",
        task(kind),
        number::percent(share)
    )
}

/// The name of a task.
pub const fn task(kind: TaskKind) -> &'static str {
    match kind {
        TaskKind::HandsOff => "Hands off",
        TaskKind::QuietRest => "Quiet rest",
        TaskKind::Reach => "Reach",
        TaskKind::Hold => "Hold",
        TaskKind::BusyRest => "Busy rest",
        TaskKind::FreeMovement => "Free movement",
        TaskKind::Sustained => "Longer hold",
        TaskKind::Return => "Return",
        TaskKind::Presses => "Presses",
    }
}

/// What a task asks, in a line.
pub fn task_line(ask: &TaskAsk) -> String {
    match ask {
        TaskAsk::HandsOff { seconds } => {
            format!("nobody touches the stick, {}", number::duration(*seconds))
        }
        TaskAsk::QuietRest { seconds } => {
            format!("resting on it, ready to play, {}", number::duration(*seconds))
        }
        TaskAsk::Reach { directions, rounds } => {
            format!("{}, {}, and back", ways(directions), times_each(directions, *rounds))
        }
        TaskAsk::Hold { directions, levels, rounds, seconds } => format!(
            "{}: {} of {}",
            ways(directions),
            holds(directions.len() * levels.len() * rounds),
            number::duration(*seconds)
        ),
        TaskAsk::BusyRest { seconds, meanwhile } => {
            format!(
                "resting on it while {}, {}",
                self::meanwhile(*meanwhile),
                number::duration(*seconds)
            )
        }
        TaskAsk::FreeMovement { seconds } => {
            format!("anything that moves it, {}", number::duration(*seconds))
        }
        TaskAsk::Sustained { directions, seconds, .. } => format!(
            "{}: {} of up to {}, and how hard it was",
            ways(directions),
            holds(directions.len()),
            number::duration(*seconds)
        ),
        TaskAsk::Return { directions, rounds, .. } => {
            format!("{}, {}: out, and let go", ways(directions), times_each(directions, *rounds))
        }
        TaskAsk::Presses { buttons, rounds } => {
            let buttons = buttons.len();
            let noun = if buttons == 1 { "button" } else { "buttons" };
            format!("{buttons} {noun}, {rounds} times each way")
        }
    }
}
/// One or two directions by name, more by their number.
fn ways(directions: &[Direction]) -> String {
    match directions {
        [one] => number::direction(*one).to_owned(),
        [one, two] => format!("{}, {}", number::direction(*one), number::direction(*two)),
        more => format!("{} directions", more.len()),
    }
}
fn times_each(directions: &[Direction], rounds: usize) -> String {
    let each = if directions.len() == 1 { "" } else { " each" };
    match rounds {
        1 => format!("once{each}"),
        more => format!("{more} times{each}"),
    }
}
fn holds(count: usize) -> String {
    if count == 1 { "1 hold".to_owned() } else { format!("{count} holds") }
}

/// The line above the sentence.
pub fn step(kind: TaskKind, phase: Phase, step: usize, of: usize, left_seconds: f64) -> String {
    if phase == Phase::Done {
        return task(kind).to_owned();
    }
    let part = match kind {
        TaskKind::HandsOff | TaskKind::QuietRest | TaskKind::BusyRest | TaskKind::FreeMovement => {
            String::new()
        }
        TaskKind::Reach | TaskKind::Return => format!(" · push {step} of {of}"),
        TaskKind::Hold | TaskKind::Sustained => format!(" · hold {step} of {of}"),
        TaskKind::Presses => format!(" · press {step} of {of}"),
    };
    format!("{}{part} · {} left", task(kind), number::about(left_seconds))
}

/// The one very large sentence.
pub fn prompt(prompt: Prompt, phase: Phase, paused: bool) -> String {
    if paused {
        return "Resting.".to_owned();
    }
    match (phase, prompt) {
        (Phase::Done, _) => "That is enough. Rest.".to_owned(),
        (Phase::Between, Prompt::Rest) => "Wait. The next one comes by itself.".to_owned(),
        (Phase::Between, _) => "Good. Rest a moment.".to_owned(),
        (_, Prompt::HandsOff) => "Hands off. Nobody touches the stick.".to_owned(),
        (_, Prompt::Rest) => "Rest on the stick, ready to play. Do nothing.".to_owned(),
        (_, Prompt::Push(direction)) => {
            format!("Push {}, as far as is comfortable. Then let it come back.", heading(direction))
        }
        (_, Prompt::ComeBack) => "Let it come back to the middle.".to_owned(),
        (_, Prompt::ToRing(direction)) => {
            format!("Push {}, into the ring.", heading(direction))
        }
        (_, Prompt::StayInRing(_)) => "Stay in the ring.".to_owned(),
        (_, Prompt::RestWhile(doing)) => {
            format!("Rest on the stick while {}.", meanwhile(doing))
        }
        (_, Prompt::MoveFreely) => "Move any way you like.".to_owned(),
        (_, Prompt::LetGo(_)) => "Let go. Let it come back.".to_owned(),
        (_, Prompt::Press { button, press }) => {
            format!("Button {button}: {}.", self::press(press))
        }
        (_, Prompt::PushAnywhere) => "Push any way you like. Then let it come back.".to_owned(),
        (_, Prompt::HoldAnywhere) => "Push any way you like, and stay there.".to_owned(),
        (_, Prompt::PressAny) => "Press any button.".to_owned(),
        (_, Prompt::HowHard) => "How hard was that?".to_owned(),
    }
}

/// What is done beside resting.
pub const fn meanwhile(meanwhile: Meanwhile) -> &'static str {
    match meanwhile {
        Meanwhile::Talking => "talking",
        Meanwhile::Watching => "watching something that moves",
        Meanwhile::Pressing => "pressing something else",
        Meanwhile::Breathing => "breathing in and out, without haste",
        Meanwhile::Swallowing => "swallowing now and then",
    }
}

/// Starts one of several busy rests.
pub fn start_busy(verb: &str, doing: Meanwhile) -> String {
    format!("{verb}: {}, {}", task(TaskKind::BusyRest), meanwhile(doing))
}

/// How a button is pressed.
pub const fn press(press: PressAsk) -> &'static str {
    match press {
        PressAsk::Once => "press once",
        PressAsk::Long => "press, hold for a moment, let go",
        PressAsk::Twice => "press twice, quickly",
    }
}

const fn heading(direction: Direction) -> &'static str {
    number::direction(direction)
}

/// The calm line under it.
pub const fn calm(prompt: Prompt, phase: Phase, paused: bool) -> &'static str {
    if paused {
        return "Go on when you are ready.";
    }
    match (phase, prompt) {
        (Phase::Ready, _) => "Press Begin when everybody is ready. There is no hurry.",
        (Phase::Done, _) => "Go on when you like.",
        (Phase::Between, _) => "The next one comes by itself.",
        (_, Prompt::HandsOff) => "This shows what the stick does alone.",
        (_, Prompt::Rest) => "Small movements are what we want to see. Breathe as usual.",
        (_, Prompt::Push(_) | Prompt::ComeBack) => {
            "No hurry, and never into pain. A little is fine."
        }
        (_, Prompt::ToRing(_) | Prompt::StayInRing(_)) => {
            "As still as is comfortable. Leaving the ring fails nothing."
        }
        (_, Prompt::RestWhile(_)) => "Movements that come along are what we want to see.",
        (_, Prompt::MoveFreely) => "Big or small, any way. Nothing is counted wrong.",
        (_, Prompt::PushAnywhere | Prompt::HoldAnywhere | Prompt::PressAny) => {
            "Whatever you do moves something. Nothing is counted wrong."
        }
        (_, Prompt::LetGo(_)) => "Nothing to aim for. Let it come to rest by itself.",
        (_, Prompt::Press { .. }) => "As in play. No hurry.",
        (_, Prompt::HowHard) => "0 is nothing at all, 10 the most there is.",
    }
}

/// Begin.
pub const BEGIN: &str = "Begin";
/// Next.
pub const fn next(kind: TaskKind) -> &'static str {
    match kind {
        TaskKind::Hold => "Next hold",
        TaskKind::Sustained => "That is enough",
        TaskKind::Presses => "Next press",
        _ => "Next direction",
    }
}
/// How hard a hold was.
pub const EFFORT: &str = "How hard was that, 0 to 10?";
/// One answer, read aloud.
pub fn effort_aloud(effort: u8) -> String {
    match effort {
        0 => "0, nothing at all".to_owned(),
        10 => "10, the most there is".to_owned(),
        effort => format!("{effort} of 10"),
    }
}
/// No answer.
pub const NO_EFFORT: &str = "No answer";
/// Tasks outside the plan.
pub const MORE_TASKS: &str = "More tasks";
/// What they are for.
pub const MORE_TASKS_TEXT: &str = "Each can be added at any time, today or on another day, and adds \
    what it shows to this fitting.";
/// What a kind of task shows.
pub const fn shows(kind: TaskKind) -> &'static str {
    match kind {
        TaskKind::HandsOff => "what the stick does alone",
        TaskKind::QuietRest => "unintended movement at rest",
        TaskKind::Reach => "comfortable reach, and which way pushes go",
        TaskKind::Hold => "steadiness, and rhythmic movement",
        TaskKind::BusyRest => "what comes along while doing something else",
        TaskKind::FreeMovement => "which directions are easy; no words needed",
        TaskKind::Sustained => "what can be kept up, and how hard it is",
        TaskKind::Return => "how it comes back to the middle",
        TaskKind::Presses => "how buttons are pressed",
    }
}
/// The kind of stick.
pub const KIND: &str = "What kind of stick is it?";
/// Why it is asked.
pub const KIND_TEXT: &str = "Some measures have no meaning for some sticks. Leave this as it is for \
    a stick that moves all ways and comes back by itself.";
/// How it moves.
pub const KIND_MOVES: &str = "It moves";
/// How it moves.
pub const KIND_TWO: &str = "all ways";
/// How it moves.
pub const KIND_ONE_AXIS: &str = "on one line, both ways";
/// How it moves.
pub const KIND_ONE_WAY: &str = "one way only";
/// Does not centre.
pub const KIND_STAYS: &str = "It does not come back to the middle by itself";
/// Force.
pub const KIND_FORCE: &str = "It answers to force and hardly moves";
/// Switches.
pub const KIND_SWITCHES: &str = "Its directions are used as switches (on or off)";
/// Next task.
pub fn next_task(kind: Option<TaskKind>) -> String {
    kind.map_or_else(|| "Done".to_owned(), |kind| format!("Next: {}", task(kind)))
}
/// Again.
pub const AGAIN: &str = "Again";
/// Skip.
pub const SKIP: &str = "Skip";
/// Skip the task.
pub const SKIP_TASK: &str = "Leave this task";
/// More.
pub const MORE: &str = "Half a minute more";
/// Mark.
pub const MARK: &str = "Mark this one…";
/// Take it back.
pub const UNMARK: &str = "Take the mark back";
/// The marking window.
pub const MARK_TITLE: &str = "Why does this one not count?";
/// What marking does.
pub const MARK_HELP: &str = "A marked one is kept, left out of the figures, and counted.";
/// Marked so far.
pub fn marked(count: usize) -> String {
    match count {
        0 => "none marked".to_owned(),
        1 => "1 marked and left out".to_owned(),
        more => format!("{more} marked and left out"),
    }
}
/// Another device as the stop.
pub const OTHER_DEVICE_STOPS: &str = "Any button of another connected device means stop";
/// The marking key.
pub const MARK_KEY: &str = "The M key marks a repetition";

/// A reason to mark.
pub const fn mark(reason: MarkReason) -> &'static str {
    match reason {
        MarkReason::NotUnderstood => "not understood",
        MarkReason::Helped => "helped",
        MarkReason::Spasm => "spasm",
        MarkReason::Talking => "talking",
        MarkReason::Distracted => "distracted",
        MarkReason::Pain => "pain",
    }
}

/// After pain was marked.
pub const PAIN: &str = "Pain was marked. Rest now; if it stays or rises, stop for today.";

/// A push far off what was asked.
pub fn query(query: Query) -> String {
    let odd = match query {
        Query::Off(degrees) => {
            format!("That push went {:.0}° away from what was asked.", degrees.abs())
        }
        Query::Short(short) => format!(
            "One push went {}, and others the same way about {}.",
            number::percent(short.reach),
            number::percent(short.usual)
        ),
    };
    format!("{odd} Was it on purpose? It won’t count until you say so.")
}
/// It was meant.
pub const QUERY_KEEP: &str = "It was meant: count it";
/// It was not.
pub const QUERY_AGAIN: &str = "Ask it again";

/// Why it is paused.
pub const fn paused(cause: PauseCause) -> &'static str {
    match cause {
        PauseCause::Asked => "Paused. What there is is kept.",
        PauseCause::DeviceGone => {
            "The stick is gone. What there is is kept; plug it in again and go on."
        }
        PauseCause::PageHidden => "Paused while the page was out of sight.",
        PauseCause::Breaths => {
            "Five breath actions: rest and breathe as usual. Go on when you like. Dizzy, tingling \
             or short of breath: stop here for today. Five and then a rest is common practice; \
             there is no source for the number."
        }
    }
}

/// Rest offered.
pub const OFFER_REST: &str = "That was half a minute of muscle work. Rest if you like.";
/// Nothing moves.
pub const SILENT: &str = "Nothing has moved for a while. There is no hurry; pause if you like.";

/// This push.
pub const THIS_PUSH: &str = "this push";
/// Its direction.
pub const THIS_DIRECTION: &str = "direction";
/// Muscle work.
pub const MUSCLE: &str = "muscle work so far";
/// Left out.
pub const LEFT_OUT: &str = "left out";
/// Time recorded.
pub const RECORDED: &str = "done";
/// Nothing yet.
pub const NOTHING: &str = "–";

/// For the helper.
pub const HELPER: &str = "For the helper.";
/// What to watch.
pub const fn helper(kind: TaskKind) -> &'static str {
    match kind {
        TaskKind::HandsOff => "Keep hands, straps and cables off the stick.",
        TaskKind::QuietRest => {
            "The body part rests as it will in play. Watch the skin under straps and cups."
        }
        TaskKind::Reach => {
            "Watch the shoulder and the breath. If spasm rises or anything hurts, press Rest."
        }
        TaskKind::Hold | TaskKind::Sustained => {
            "No straining. If breath is held or the arm tires, press Rest."
        }
        TaskKind::BusyRest => "Keep the talk or the game going. Say nothing of the stick.",
        TaskKind::FreeMovement => "Praise anything that moves. Do not steer the hand.",
        TaskKind::Return => "Nobody helps it back. Watch the fingers as it snaps back.",
        TaskKind::Presses => "With breath: five breaths, then rest. Stop at dizziness.",
    }
}
/// The invented person plays.
pub fn invented(name: &str) -> String {
    format!("{name} plays this by itself.")
}
/// Progress for screen readers.
pub const PROGRESS: &str = "progress of this task";
