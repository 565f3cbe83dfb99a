//! Five minutes in the person's own game.

use super::{found, number, settings as setting_words};
use crate::state::Decided;
use fitting::suggest::own_game::{Change, PlayAdvice};
use fitting::visit::Felt;

/// Title.
pub const TITLE: &str = "Five minutes in your own game";
/// What to do.
pub const STEPS: [&str; 3] = [
    "Type the numbers into what you play on.",
    "Play about five minutes of a game you know, or as long as you like.",
    "Come back and say how it went. Everything here can be left out.",
];
/// Where the numbers are.
pub const TO_NUMBERS: &str = "See the numbers";
/// The clock.
pub const CLOCK_START: &str = "Start a clock";
/// The clock.
pub const CLOCK_STOP: &str = "Stop the clock";
/// It ends nothing.
pub const CLOCK_HELP: &str = "It only counts: nothing ends by it.";
/// How long it runs.
pub fn clock(seconds: f64) -> String {
    number::duration(seconds)
}
/// Minutes.
pub const MINUTES: &str = "Minutes played";
/// Effort.
pub const EFFORT: &str = "How hard was it?";
/// Effort.
pub const EFFORT_HELP: &str = "0 is nothing at all, 10 the most there is";
/// Comfort.
pub const COMFORT: &str = "How comfortable was it?";
/// Comfort.
pub const COMFORT_HELP: &str = "0 is not at all, 10 the most there is";
/// Not said.
pub const NOT_SAID: &str = "not said";
/// What was not right.
pub const FELT: &str = "What was not right?";
/// What was felt.
pub const fn felt(felt: Felt) -> &'static str {
    match felt {
        Felt::Hurts => "It hurt or went numb",
        Felt::Tired => "It was tiring",
        Felt::MovesByItself => "The game moves by itself",
        Felt::StartsLate => "Nothing happens until the stick is far out",
        Felt::TooFar => "I must push too far to get all the way",
        Felt::AllAtOnce => "It goes all the way at once",
        Felt::TooQuick => "Too quick near the middle",
        Felt::TooSlow => "Too slow near the middle",
        Felt::Astray => "It goes another way than meant",
        Felt::Lags => "It answers late",
    }
}
/// What was changed back.
pub const CHANGED_BACK: &str = "What was changed back, and why";
/// The advice.
pub const FIRST: &str = "What to change first";
/// One at a time.
pub const ONE: &str = "One thing at a time, then some minutes of play. The size of a step is common \
    practice, no source.";
/// All well.
pub const FINE: &str = "Nothing was wrong: keep the numbers, and come back when something changes.";

/// From what number to what number, where there is one to begin with.
fn step(has_number: bool, from: f64, to: f64, number: fn(f64) -> String) -> String {
    if has_number { format!(", from {} to {}", number(from), number(to)) } else { String::new() }
}

/// One thing to change, with its reason; `decided` which settings have a number already.
pub fn change(advice: &PlayAdvice, decided: &Decided) -> String {
    match &advice.change {
        Change::Stop => "Stop for today. Look at posture, support, skin and the place of the stick \
            before playing on; with pain or numbness ask the person’s own therapist or physician."
            .to_owned(),
        Change::Shorter => "Shorter sessions with rests in between. What can be kept up is an effort \
            of up to 3 of 10; a smaller full throw asks for less."
            .to_owned(),
        Change::PostureFirst => "It moves by itself and starts late: a dead zone would only trade \
            one for the other. First posture and arm support, then another site or topper, then a \
            lighter or shorter throw; software last."
            .to_owned(),
        Change::DeadZone { from, to, rates, weakest } => {
            let way = if to > from { "up" } else { "down" };
            let has_number = decided.dead_zone.is_ok();
            let numbers = step(has_number, *from, *to, number::percent);
            let mut text = format!("Dead zone one step {way}{numbers}.");
            if !has_number {
                return text;
            }
            if let Some((now, _)) = rates.filter(|(now, _)| now.per_minute < 0.05) {
                text += &format!(
                    " At rest here it hardly moved by itself ({}): play brings it, so record a busy \
                     rest too.",
                    number::per_minute(now.per_minute)
                );
            } else if let Some((now, then)) = rates {
                text += &format!(
                    " At rest here {} became {} (at most {}).",
                    number::per_minute(now.per_minute),
                    number::per_minute(then.per_minute),
                    number::per_minute(then.high)
                );
            }
            if let Some(weakest) = weakest {
                text += &format!(
                    " It takes {} of the reach {} ({} of travel).",
                    number::percent(weakest.eaten),
                    number::towards(weakest.asked),
                    number::percent(weakest.reach)
                );
            }
            text
        }
        Change::FullThrow { from, to, shortest } => {
            let numbers = step(decided.full_throw.is_ok(), *from, *to, number::percent);
            if to > from {
                return format!(
                    "Full throw up{numbers}: more push between nothing and all the way."
                );
            }
            let mut text = format!("Full throw down{numbers}: less push gets all the way.");
            if let Some((asked, reach)) = shortest {
                text += &format!(
                    " The shortest reach, {}, is {} ({}).",
                    number::towards(*asked),
                    number::percent(reach.value),
                    number::percent_interval(reach)
                );
            }
            text
        }
        Change::Exponent { from, to } => {
            let way = if to > from { "gentler" } else { "quicker" };
            let numbers = step(decided.curve.is_ok(), *from, *to, number::exponent);
            format!("Sensitivity {way} near the middle{numbers}.")
        }
        Change::Turn { measured } => match measured {
            Ok(turn) => format!(
                "Look at the mount: pushes came out turned by {}. Turn the mount as much the other \
                 way if a repeat agrees; it may be the person’s own movement pattern.",
                found::with_interval(&Ok(*turn), |degrees| format!("{degrees:.0}°"))
            ),
            Err(why) => format!(
                "Look at the mount, and measure reach in four directions to see how far it is \
                 turned. {}",
                setting_words::not_enough(*why)
            ),
        },
        Change::LessSmoothing => "Less smoothing, or none: it answers sooner and trembles more."
            .to_owned(),
        Change::ElsewhereSlow => "No setting of the stick is slow here. Look at screen, connection \
            and game: a screen’s own picture processing is often the slowest part (common practice, \
            no source)."
            .to_owned(),
    }
}
