//! How the person is today.

use super::ready::joined;
use fitting::visit::{Compared, Rise, Today};

/// Title.
pub const TITLE: &str = "How is today?";
/// What it is for.
pub const TEXT: &str = "Half a minute, and each answer can be left out. Numbers of another day only \
    compare with today’s when it is known how the day was.";
/// Time.
pub const TIME: &str = "Time of day";
/// Fatigue.
pub const FATIGUE: &str = "Fatigue";
/// Pain.
pub const PAIN: &str = "Pain";
/// The scale.
pub const SCALE: &str = "0 none, 10 the most there is";
/// Spasm.
pub const SPASM: &str = "Spasm against usual";
/// Less to more.
pub const SPASM_IS: [&str; 4] = ["less", "as usual", "more", "not said"];
/// Sleep.
pub const SLEEP: &str = "Sleep against usual";
/// Worse to better.
pub const SLEEP_IS: [&str; 4] = ["worse", "as usual", "better", "not said"];
/// Medication.
pub const MEDICATION: &str = "Minutes since the last medication that matters here";
/// Injection.
pub const INJECTION: &str = "Days since the last injection or pump change";
/// Else.
pub const ELSE: &str = "Anything else about today";
/// Else.
pub const ELSE_HELP: &str = "Such as a cold, a new cushion, a long journey.";
/// The caution.
pub const CAUTION: &str = "Fatigue and pain are asked again after some muscle work. If either rises \
    by two points of ten, the page offers to stop for today.";
/// More spasm.
pub const SPASM_MORE: &str = "More spasm than usual: keep it short, rest often, and stop at a \
    further rise. Today’s numbers may not be the usual ones.";
/// Go on.
pub const NEXT: &str = "Go on to the set-up";
/// Back.
pub const BACK: &str = "Back to Ready";

/// Asked again.
pub const AGAIN: &str = "Some muscle work is done. How is it now?";
/// Asked again.
pub const AGAIN_FATIGUE: &str = "Fatigue now";
/// Asked again.
pub const AGAIN_PAIN: &str = "Pain now";
/// Asked again.
pub const AGAIN_DONE: &str = "Done";
/// Asked again.
pub const AGAIN_SKIP: &str = "Not now";
/// Stop.
pub const STOP: &str = "Stop for today";
/// Stop.
pub const GO_ON: &str = "Go on all the same";

/// The offer to stop.
pub fn offer_to_stop(rise: Rise) -> String {
    let points = |points: u8| {
        if points == 1 { "1 point".to_owned() } else { format!("{points} points") }
    };
    let what = match (rise.fatigue, rise.pain) {
        (fatigue, 0) => format!("Fatigue rose by {}", points(fatigue)),
        (0, pain) => format!("Pain rose by {}", points(pain)),
        (fatigue, pain) => {
            format!("Fatigue rose by {} and pain by {}", points(fatigue), points(pain))
        }
    };
    format!(
        "{what} of ten since the beginning. That is a good reason to stop for today: everything is \
         kept, and any other day goes on from here."
    )
}

/// The day in one line.
pub fn line(today: &Today) -> String {
    let of_ten = |name: &str, first: Option<u8>, now: Option<u8>| match (first, now) {
        (Some(first), Some(now)) if first != now => format!("{name} {first}, now {now}"),
        (Some(first), _) => format!("{name} {first}"),
        (None, Some(now)) => format!("{name} {now}"),
        (None, None) => String::new(),
    };
    let compared = |name: &str, words: &[&str; 4], now: Option<Compared>| {
        now.map(|now| format!("{name} {}", words[place(now)])).unwrap_or_default()
    };
    let since = |number: Option<u32>, what: &str| {
        number.map(|number| format!("{number} {what}")).unwrap_or_default()
    };
    let parts = [
        today.time.clone(),
        of_ten("fatigue", today.fatigue, today.fatigue_now),
        of_ten("pain", today.pain, today.pain_now),
        compared("spasm", &SPASM_IS, today.spasm),
        compared("sleep", &SLEEP_IS, today.sleep),
        since(today.minutes_since_medication, "minutes since medication"),
        since(today.days_since_injection, "days since injection or pump change"),
        today.else_today.clone(),
    ];
    let parts: Vec<&str> = parts.iter().map(String::as_str).collect();
    joined(&parts)
}

/// The place of an answer among those that are offered.
pub const fn place(compared: Compared) -> usize {
    match compared {
        Compared::Less => 0,
        Compared::Usual => 1,
        Compared::More => 2,
    }
}
