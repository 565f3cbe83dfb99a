//! What stick, system and browser do alone, and steadiness in holds.

use super::number;

/// What the stick does alone.
pub const DEVICE_TITLE: &str = "What stick, system and browser do alone";
/// Noise.
pub const NOISE: &str = "noise, hands off";
/// Offset.
pub const OFFSET: &str = "rest position off the middle";
/// Step.
pub const STEP: &str = "smallest step";
/// A step in words.
pub fn step(share: f64, bits: Option<f64>) -> String {
    let bits = bits.map_or(String::new(), |bits| format!(", about {bits:.0} bits"));
    format!("{}{bits}", number::fine_percent(share))
}
/// Fastest change.
pub const FASTEST: &str = "fastest change seen";
/// Wander.
pub const WANDER: &str = "wander while resting, 95 % of the time inside";
/// Steadiness.
pub const STEADINESS: &str = "Steadiness in holds";
/// Level.
pub const LEVEL: &str = "Share of own reach";
/// Interval.
pub const HELD_AT: &str = "Held at";
