//! What was measured beyond reach and rest.

use super::number;
use super::settings::not_enough;
use fitting::estimate::Measured;
use fitting::measure::{
    AxisOddity, BusyRest, ButtonPresses, DirectionReturn, FreeMovement, GateShape, OddAxis,
    PerformedMap, RhythmicMovement,
};
use fitting::task::Meanwhile;
use fitting::{Direction, Estimate, NotEnough};

/// The person.
pub const PERSON: &str = "The person’s movement";
/// The buttons.
pub const BUTTONS: &str = "Buttons";

/// A figure with its interval, each number made by `one`; or why there is none.
pub fn with_interval(figure: &Measured, one: impl Fn(f64) -> String) -> String {
    match figure {
        Ok(estimate) => between(estimate, one),
        Err(why) => not_enough(*why),
    }
}

fn between(estimate: &Estimate, one: impl Fn(f64) -> String) -> String {
    format!("{} ({} to {})", one(estimate.value), one(estimate.low), one(estimate.high))
}

fn hertz(value: f64) -> String {
    format!("{value:.1}\u{a0}Hz")
}

fn seconds(value: f64) -> String {
    if value < 0.1 { number::milliseconds(value) } else { format!("{value:.2}\u{a0}s") }
}

fn per_minute(value: f64) -> String {
    format!("{}\u{a0}a minute", number::fine_percent(value))
}

/// Rhythmic movement.
pub const RHYTHM: &str = "Rhythmic movement";
/// What was found.
pub fn rhythm(found: &Result<RhythmicMovement, NotEnough>) -> String {
    match found {
        Err(why) => not_enough(*why),
        Ok(rhythm) if !rhythm.found => {
            format!("none stands out in {} of holding", number::duration(rhythm.seconds))
        }
        Ok(rhythm) => format!(
            "{}, {} of travel to each side, told apart to {}; from {} of holding",
            with_interval(&rhythm.hertz, hertz),
            with_interval(&rhythm.amplitude, number::fine_percent),
            hertz(rhythm.resolution_hertz),
            number::duration(rhythm.seconds)
        ),
    }
}

/// Slow wander while holding, by level.
pub fn wander_at(level: f64) -> String {
    format!("Slow wander holding {} of reach", number::percent(level))
}
/// A small share with its interval.
pub fn fine(figure: &Measured) -> String {
    with_interval(figure, number::fine_percent)
}

/// Reach of one direction that stands apart.
pub fn cued(asked: Direction, reach: &Measured) -> String {
    format!("{} {}", number::direction(asked), fine(reach))
}
/// Reach of directions that nobody asked for.
pub const FREE_REACH: &str = "Reach of their own accord (never asked for, came back three times)";

/// Where pushes go.
pub const TURN: &str = "Pushes come out turned by";
/// The turn, and what it rests on.
pub fn turn(turn: &Measured, pushes: usize, directions: usize, repeat_agrees: bool) -> String {
    let agree = if repeat_agrees { "" } else { "; first and later rounds disagree" };
    format!(
        "{}, from {pushes} pushes in {directions} directions{agree}",
        with_interval(turn, number::degrees)
    )
}
/// What the turn rests on.
pub fn turn_basis(map: &Result<PerformedMap, NotEnough>) -> String {
    map.as_ref().map_or_else(|_| String::new(), |map| format!("from {} pushes", map.pushes))
}
/// Axes that come out swapped or turned round.
pub const SWAPPED: &str = "Axes";
/// In words.
pub fn swapped(swapped: bool, right_inverted: bool, up_inverted: bool) -> String {
    let mut parts = Vec::new();
    if swapped {
        parts.push("swapped");
    }
    if right_inverted {
        parts.push("left and right turned round");
    }
    if up_inverted {
        parts.push("up and down turned round");
    }
    if parts.is_empty() { "as asked".to_owned() } else { parts.join(", ") }
}
/// Stretch.
pub const STRETCH: &str = "Reach of the weaker axis, of the stronger";
/// Cross-talk.
pub const CROSS_TALK: &str = "Cross-talk between the axes";

/// A longer hold.
pub fn sustained_name(asked: Direction) -> String {
    format!("Kept up {}", number::towards(asked))
}
/// What was kept up, for how long, how hard it was, and how it drifted.
pub fn sustained(kept: &Measured, seconds: f64, effort: Option<u8>, drift: &Measured) -> String {
    let effort =
        effort.map_or("effort not said".to_owned(), |effort| format!("effort {effort} of 10"));
    let drift = match drift {
        Ok(_) => format!(", drifting {}", with_interval(drift, per_minute)),
        Err(_) => String::new(),
    };
    format!(
        "{} of travel for {}, {effort}{drift}",
        with_interval(kept, number::percent),
        number::duration(seconds)
    )
}

/// A way back.
pub fn return_name(back: &DirectionReturn) -> String {
    format!("Back from {}", number::direction(back.asked))
}
/// How it came back.
pub fn came_back(back: &DirectionReturn) -> String {
    format!(
        "at rest after {}; shoots past by {} of the way; {}",
        with_interval(&back.seconds, seconds),
        with_interval(&back.overshoot, number::percent),
        rests(&back.rests_short)
    )
}
/// Where it comes to rest, along the push.
fn rests(short: &Measured) -> String {
    match short {
        Ok(short) if short.value < 0.0 => format!(
            "rests {} ({} to {}) beyond the middle",
            number::fine_percent(-short.value),
            number::fine_percent(-short.high),
            number::fine_percent(-short.low)
        ),
        short => format!("rests {} short of the middle", fine(short)),
    }
}
/// The ways back together, on a sheet.
pub const RETURNS: &str = "At rest again after letting go";
/// How long one took, and where it rests if that is not the middle.
pub fn returned(asked: Direction, time: &Measured, short: &Measured) -> String {
    let off = short.as_ref().is_ok_and(|short| short.value.abs() >= OFF_THE_MIDDLE);
    let rests = if off { format!(", {}", rests(short)) } else { String::new() };
    format!("{} {}{rests}", number::direction(asked), with_interval(time, seconds))
}
/// A resting place this far off the middle is told on a sheet, share of travel.
const OFF_THE_MIDDLE: f64 = 0.01;

/// Busy rest.
pub fn busy_name(meanwhile: Meanwhile) -> String {
    format!("Rest while {}", super::measure::meanwhile(meanwhile))
}
/// How far it stays.
pub fn inside(wander: &Measured) -> String {
    format!("95 % of the time inside {}", fine(wander))
}
/// The rate of false movements with the dead zone chosen.
pub fn busy_rate(per_minute: f64, low: f64, high: f64) -> String {
    format!(
        "; with this dead zone {} ({} to {})",
        number::per_minute(per_minute),
        number::rate_figure(low),
        number::rate_figure(high)
    )
}
/// What it says, beside the quiet one.
pub fn busy(busy: &BusyRest) -> String {
    match &busy.rest {
        Err(why) => not_enough(*why),
        Ok(rest) => {
            let sudden = match rest.sudden.count {
                0 => String::new(),
                1 => ", 1 sudden movement".to_owned(),
                count => format!(", {count} sudden movements"),
            };
            format!("{}{sudden}; {}", inside(&rest.wander), number::duration(rest.seconds))
        }
    }
}

/// Free movement.
pub const FREE: &str = "Free movement (range seen, not comfortable reach)";
/// What it shows.
pub fn free(free: &Result<FreeMovement, NotEnough>) -> String {
    match free {
        Err(why) => not_enough(*why),
        Ok(free) => {
            let seen: Vec<String> = free
                .directions
                .iter()
                .filter(|one| one.visits > 0)
                .map(|one| {
                    format!(
                        "{} {} ({}×)",
                        number::direction(one.about),
                        number::percent(one.farthest),
                        one.visits
                    )
                })
                .collect();
            let seen = if seen.is_empty() { "nothing moved".to_owned() } else { seen.join(", ") };
            format!(
                "{seen}; moving {} of {}",
                number::percent(free.moving_share),
                number::duration(free.seconds)
            )
        }
    }
}

/// How long a press is.
pub fn length(length: &Measured) -> String {
    format!("a press lasts {}", with_interval(length, seconds))
}
/// One button’s presses.
pub fn presses(presses: &ButtonPresses) -> Vec<(String, String)> {
    let name = |what: &str| format!("Button {}: {what}", presses.button);
    let mut rows = vec![
        (name("presses"), format!("{} made, {} asked and not made", presses.made, presses.missed)),
        (name("from cue to press"), with_interval(&presses.reaction_seconds, seconds)),
        (name("length of a press"), with_interval(&presses.length_seconds, seconds)),
        (name("length of a long press"), with_interval(&presses.long_seconds, seconds)),
        (name("gap of a double press"), with_interval(&presses.gap_seconds, seconds)),
        (
            name("presses nobody asked for"),
            with_interval(&presses.unwanted_per_minute, number::per_minute),
        ),
    ];
    let bounce = match presses.bounces.last() {
        None => format!(
            "none seen; under {} it cannot be seen here",
            number::milliseconds(presses.shortest_seen_seconds)
        ),
        Some(longest) => {
            format!("{} times, up to {}", presses.bounces.len(), number::milliseconds(*longest))
        }
    };
    rows.push((name("contact bounce"), bounce));
    rows
}

/// Drift of the centre.
pub const DRIFT: &str = "drift of the untouched centre";
/// The drift.
pub fn drift(drift: &Measured) -> String {
    with_interval(drift, per_minute)
}
/// Sag.
pub const SAG: &str = "how far off the spring leaves it after a push";
/// The opening.
pub const GATE: &str = "shape of the opening";
/// The opening in words.
pub fn gate(gate: &Result<GateShape, NotEnough>) -> String {
    match gate {
        Err(why) => not_enough(*why),
        Ok(gate) => format!(
            "{} of travel, out of round by {} (a square is 12.2 %), touched in {} of 8 directions",
            number::percent(gate.radius),
            number::fine_percent(gate.out_of_round),
            gate.directions
        ),
    }
}
/// Early full scale.
pub const EARLY: &str = "full scale reached early";
/// In words.
pub fn early(share: Option<f64>) -> String {
    share.map_or("not seen".to_owned(), |share| {
        format!("{} of travel before the end: stick, system or browser", number::percent(share))
    })
}
/// An odd axis.
pub fn odd_axis_name(odd: &OddAxis) -> String {
    super::stick::axis(odd.axis)
}
/// What is odd about it.
pub const fn odd_axis(odd: &OddAxis) -> &'static str {
    match odd.what {
        AxisOddity::Dead => "never moved",
        AxisOddity::Stuck => "stands at one end, whatever is done",
        AxisOddity::NeverCentres => "moves, and never comes near its middle",
    }
}
