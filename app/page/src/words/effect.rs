//! The plots, and what settings do to the person’s own recordings.

use super::number;

/// The rate plot.
pub const RATE_TITLE: &str = "False movements a minute, by dead zone";
/// Its description.
pub fn rate_description(dead_zone: Option<f64>, per_minute: Option<f64>) -> String {
    let at = dead_zone.map_or(String::new(), |dead_zone| {
        let rate = per_minute.map_or("an unknown rate".to_owned(), number::per_minute);
        format!(" At {} it is {rate}.", number::percent(dead_zone))
    });
    format!("The rate falls as the dead zone grows.{at}")
}
/// The target in the plot.
pub fn wish_label(per_minute: f64) -> String {
    format!("your target: {}", number::rate_of(per_minute, "", "").replace("  ", " "))
}
/// Where the curve has no meaning yet.
pub const NEVER_STILL: &str = "never still";
/// The same as a table.
pub const AS_TABLE: &str = "The same as a table";
/// Table heads.
pub const TABLE_RADIUS: &str = "Dead zone";
/// Table heads.
pub const TABLE_RATE: &str = "A minute";
/// Table heads.
pub const TABLE_BAND: &str = "95 % band";
/// Table heads.
pub const TABLE_FROM: &str = "From";
/// From the model.
pub const FROM_MODEL: &str = "model";
/// From counting.
pub const FROM_COUNT: &str = "count";
/// A band of rates.
pub fn band(low: f64, high: f64) -> String {
    format!("{} to {}", number::rate_figure(low), number::rate_figure(high))
}

/// The curve plot.
pub const CURVE_TITLE: &str = "What a push becomes";
/// Axis names.
pub const CURVE_INPUT: &str = "push, share of travel";
/// Axis names.
pub const CURVE_OUTPUT: &str = "output";

/// Judged on own recordings.
pub const EFFECT_TITLE: &str = "On your own recordings";
/// As it is.
pub const AS_IS: &str = "as it is";
/// With these settings.
pub const WITH_THESE: &str = "with these settings";
/// False movements.
pub const FALSE_MOVEMENTS: &str = "Moving by itself while resting";
/// How much, and how often. An output that hardly ever comes to rest has no count that means
/// anything.
pub fn moving(share: f64, per_minute: Option<f64>) -> String {
    let time = if share <= 0.0 {
        let expected = per_minute
            .map_or(String::new(), |rate| format!(", {} expected", number::per_minute(rate)));
        return format!("none seen{expected}");
    } else if share < 0.01 {
        format!("under {} of the time", number::percent(0.01))
    } else {
        format!("{} of the time", number::percent(share))
    };
    match per_minute {
        Some(rate) if share < 0.5 => format!("{time}, {}", number::per_minute(rate)),
        _ => time,
    }
}
/// The figure of what settings make worse.
pub fn more(figure: &str) -> String {
    format!("{figure}, more than before")
}
/// Shaking of the output.
pub const JITTER: &str = "Unsteadiness of the output while holding";
/// What reach is left.
pub const REACH_KEPT: &str = "Reach kept";
/// Table heads.
pub const DIRECTION: &str = "Direction";
/// Table heads.
pub const REACH: &str = "Reach";
/// Table heads.
pub const KEPT: &str = "Kept outside the dead zone";
/// Table heads.
pub const OUTPUT: &str = "Output at that reach";
/// No rest recorded.
pub const NO_REST: &str = "No quiet rest is recorded yet.";
/// No holds recorded.
pub const NO_HOLDS: &str = "Cannot tell: no holds are recorded yet, or with one of the two settings they \
    lie at an end, where everything looks steady.";
