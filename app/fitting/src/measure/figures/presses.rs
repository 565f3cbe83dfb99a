//! What presses, of buttons or of directions used as switches, show.

use crate::Direction;
use crate::estimate::Measured;

/// Presses of one button.
#[derive(Clone, Debug, PartialEq)]
pub struct ButtonPresses {
    /// The button, as a number of [`crate::Sample::buttons`].
    pub button: usize,
    /// Presses that were asked and made.
    pub made: usize,
    /// Presses that were asked and not made.
    pub missed: usize,
    /// Seconds from the cue to the press.
    pub reaction_seconds: Measured,
    /// Length of a plain press, seconds: median.
    pub length_seconds: Measured,
    /// The lengths of all plain presses, seconds, in rising order.
    pub lengths: Vec<f64>,
    /// Length of a long press, seconds: median.
    pub long_seconds: Measured,
    /// From the first press's end to the second's start when pressing twice, seconds: median.
    pub gap_seconds: Measured,
    /// The gaps of all double presses, seconds, in rising order.
    pub gaps: Vec<f64>,
    /// Lengths of presses nobody asked for, seconds, in rising order.
    pub unwanted: Vec<f64>,
    /// Unwanted presses a minute, over all watched time.
    pub unwanted_per_minute: Measured,
    /// Contact bounce: gaps too short for a person, as far as this rate of reports shows them,
    /// seconds, in rising order.
    pub bounces: Vec<f64>,
    /// Bounce shorter than this cannot be seen here, seconds.
    pub shortest_seen_seconds: f64,
}

/// How directions used as switches are pushed.
#[derive(Clone, Debug, PartialEq)]
pub struct SwitchUse {
    /// The smallest plateau of the pushes that count, by asked direction.
    pub weakest: Vec<(Direction, f64)>,
    /// The largest distance that a rest sustains for one frame, share of travel.
    pub rest_reaches: f64,
    /// The deepest dip within a push, as a share of its plateau: 1 for none.
    pub dips_to: f64,
    /// The time from leaving rest to coming back, of the shortest push, seconds.
    pub shortest_push_seconds: f64,
}
