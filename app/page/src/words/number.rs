//! Numbers with their units, as people read them.

use fitting::{Direction, Estimate};

/// A space that does not break.
const SPACE: char = '\u{a0}';

/// With a real minus sign in place of a hyphen.
fn with_minus(text: &str) -> String {
    text.replace('-', "−")
}

/// A share of travel as whole percent: `12 %`.
pub fn percent(share: f64) -> String {
    format!("{}{SPACE}%", bare_percent(share))
}

/// The number of whole percent alone.
pub fn bare_percent(share: f64) -> String {
    format!("{:.0}", share * 100.0 + 0.0)
}

/// A share of travel with one decimal: `1.3 %`.
pub fn fine_percent(share: f64) -> String {
    with_minus(&format!("{:.1}{SPACE}%", share * 100.0 + 0.0))
}

/// A share as the percent of a field, without zeros that say nothing: `12`, `0.5`.
pub fn field_percent(share: f64) -> String {
    let text = format!("{:.2}", share * 100.0);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// An interval of shares: `10 to 14 %`.
pub fn percent_interval(estimate: &Estimate) -> String {
    format!("{:.0} to {:.0}{SPACE}%", estimate.low * 100.0 + 0.0, estimate.high * 100.0)
}

/// An interval of small shares: `0.4 to 0.9 %`.
pub fn fine_percent_interval(estimate: &Estimate) -> String {
    format!("{:.1} to {:.1}{SPACE}%", estimate.low * 100.0 + 0.0, estimate.high * 100.0)
}

/// A length of time: `8 s`, `1 min 40 s`.
pub fn duration(seconds: f64) -> String {
    let whole = seconds.max(0.0).round() as u64;
    match (whole / 60, whole % 60) {
        (0, seconds) => format!("{seconds}{SPACE}s"),
        (minutes, 0) => format!("{minutes}{SPACE}min"),
        (minutes, seconds) => format!("{minutes}{SPACE}min {seconds}{SPACE}s"),
    }
}

/// With a capital at its beginning. Letters beyond ASCII stay as they are: the tables for them would weigh
/// more than they help.
pub fn capital(text: &str) -> String {
    let mut text = text.to_owned();
    if let Some(first) = text.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    text
}

/// How much there is of what is needed, never told as enough: `4 s of 5 s`.
pub fn of_needed(have_seconds: f64, need_seconds: f64) -> String {
    format!("{} of {}", duration(have_seconds.floor()), duration(need_seconds.ceil()))
}

/// Roughly how long: `about 1 minute`, `less than a minute`.
pub fn about(seconds: f64) -> String {
    match (seconds.max(0.0) / 60.0).round() as u64 {
        0 => "less than a minute".to_owned(),
        1 => "about 1 minute".to_owned(),
        minutes => format!("about {minutes} minutes"),
    }
}

/// A rate a minute: `6.2 a minute`.
pub fn per_minute(rate: f64) -> String {
    format!("{} a minute", rate_figure(rate))
}

/// A rate's figure alone, with as many decimals as it can bear.
pub fn rate_figure(rate: f64) -> String {
    if rate >= 9.95 {
        format!("{rate:.0}")
    } else if rate >= 0.095 {
        format!("{rate:.1}")
    } else if rate >= 0.0095 {
        format!("{rate:.2}")
    } else {
        "under 0.01".to_owned()
    }
}

/// A rate of things as people say it: `one false movement in 2 minutes`, `2 false movements a
/// minute`. `one` and `many` name the thing.
pub fn rate_of(rate: f64, one: &str, many: &str) -> String {
    if rate >= 1.5 {
        return format!("{} {many} a minute", rate_figure(rate).trim_end_matches(".0"));
    }
    let minutes = (1.0 / rate.max(1e-3)).round();
    if minutes <= 1.0 {
        format!("one {one} a minute")
    } else {
        format!("one {one} in {minutes} minutes")
    }
}

/// Thousandths of a second: `4.1 ms`, from a tenth of a second on `120 ms`.
pub fn milliseconds(seconds: f64) -> String {
    let thousandths = seconds * 1000.0;
    if thousandths < 99.95 {
        format!("{thousandths:.1}{SPACE}ms")
    } else {
        format!("{thousandths:.0}{SPACE}ms")
    }
}

/// An angle with its sign: `−3°`.
pub fn degrees(value: f64) -> String {
    with_minus(&format!("{:.0}°", value.round() + 0.0))
}

/// An angle off a heading: `9° to its left`, seen along the push.
pub fn degrees_off(degrees: f64) -> String {
    let whole = degrees.abs().round();
    if whole < 1.0 {
        "straight".to_owned()
    } else if degrees > 0.0 {
        format!("{whole}° to its left")
    } else {
        format!("{whole}° to its right")
    }
}

/// An axis value with its sign: `+0.42`.
pub fn axis(value: f64) -> String {
    with_minus(&format!("{value:+.3}"))
}

/// A sensitivity number: `1.4`.
pub fn exponent(value: f64) -> String {
    format!("{value:.1}")
}

/// A direction in words.
pub const fn direction(direction: Direction) -> &'static str {
    match direction {
        Direction::Right => "right",
        Direction::UpRight => "up and right",
        Direction::Up => "up",
        Direction::UpLeft => "up and left",
        Direction::Left => "left",
        Direction::DownLeft => "down and left",
        Direction::Down => "down",
        Direction::DownRight => "down and right",
    }
}

/// A direction as where something goes: `to the right`, `upwards`.
pub const fn towards(direction: Direction) -> &'static str {
    match direction {
        Direction::Right => "to the right",
        Direction::UpRight => "up and to the right",
        Direction::Up => "upwards",
        Direction::UpLeft => "up and to the left",
        Direction::Left => "to the left",
        Direction::DownLeft => "down and to the left",
        Direction::Down => "downwards",
        Direction::DownRight => "down and to the right",
    }
}
