//! The settings a person types into whatever they use.

use crate::Position;
use serde::{Deserialize, Serialize};

/// The most points a sensitivity curve may have.
pub const MOST_CURVE_POINTS: usize = 16;

/// How a dead zone is laid over the two axes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Shape {
    /// One disc around the centre; the direction of a push is kept.
    Radial,
    /// Each axis by itself.
    PerAxis,
}

/// How far the output answers to a given push, both from 0 to 1.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Curve {
    /// The output is the input.
    Linear,
    /// The output is the input raised to this exponent: above 1 gentler near the centre.
    /// Bounded to 0.2..=5.
    Exponent(f64),
    /// Straight lines between points `(input, output)`, from (0, 0) to (1, 1), both rising.
    /// At most [`MOST_CURVE_POINTS`].
    Points(Vec<(f64, f64)>),
}

/// How a push is turned and stretched before anything else looks at it, in this order: axes
/// swapped, signs turned round, turned, each axis multiplied.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct DirectionMap {
    /// Whether the two axes change places.
    pub swapped: bool,
    /// Whether right and left change places.
    pub right_inverted: bool,
    /// Whether up and down change places.
    pub up_inverted: bool,
    /// Turned by this many degrees from right towards up, −180..=180.
    pub turn_degrees: f64,
    /// Multiplies right and left, 0.2..=5. Multiplies unintended movement too.
    pub right_gain: f64,
    /// Multiplies up and down, 0.2..=5. Multiplies unintended movement too.
    pub up_gain: f64,
}

impl Default for DirectionMap {
    /// Every push as it comes.
    fn default() -> Self {
        Self {
            swapped: false,
            right_inverted: false,
            up_inverted: false,
            turn_degrees: 0.0,
            right_gain: 1.0,
            up_gain: 1.0,
        }
    }
}

/// How movement is smoothed over time.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Smoothing {
    /// Not at all.
    #[default]
    Off,
    /// A low-pass whose cutoff rises with speed (Casiez, Roussel and Vogel, "1 € filter", CHI
    /// 2012): smooth when slow, quick when fast.
    OneEuro {
        /// Cutoff at standstill, hertz, 0.1..=60.
        cutoff_hertz: f64,
        /// By how many hertz the cutoff rises for each share of travel a second (the paper's
        /// beta), 0..=1000.
        speed_coefficient: f64,
    },
}

/// From where on a push counts as a switch pressed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct SwitchThresholds {
    /// A push beyond this share of travel is on.
    pub on: f64,
    /// It is off again below this, under `on`.
    pub off: f64,
    /// A push shorter than this does not count, seconds.
    pub shortest_seconds: f64,
}

/// Timing of the buttons.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct ButtonTiming {
    /// A press shorter than this does not count, seconds; 0 accepts every press.
    pub shortest_press_seconds: f64,
    /// After a button was let go, it is deaf for this long, seconds; 0 for never.
    pub bounce_seconds: f64,
    /// A press held for this long begins to repeat, seconds; `None` leaves the host's.
    pub repeat_delay_seconds: Option<f64>,
}

/// Settings for one layer (stick, hub, host or game), in the order in which they are applied:
/// centre, direction, smoothing, dead zone with full throw, curve, switches. Buttons go their
/// own way.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Settings {
    /// Where the stick comes to rest: taken off before anything else. Shares of travel.
    pub centre: Position,
    /// How a push is turned and stretched.
    #[serde(default)]
    pub direction: DirectionMap,
    /// How movement is smoothed over time.
    #[serde(default)]
    pub smoothing: Smoothing,
    /// Movement inside this share of travel is ignored, 0..=0.9.
    pub dead_zone: f64,
    /// A push of this share of travel counts as all the way, above `dead_zone`, at most 1.5.
    pub full_throw: f64,
    /// How dead zone and full throw are laid over the axes.
    pub shape: Shape,
    /// The sensitivity curve between them.
    pub curve: Curve,
    /// Directions used as switches; `None` where the stick steers.
    #[serde(default)]
    pub switches: Option<SwitchThresholds>,
    /// Timing of the buttons.
    #[serde(default)]
    pub buttons: ButtonTiming,
}

impl Default for Settings {
    /// The stick as it is: nothing ignored, nothing stretched.
    fn default() -> Self {
        Self {
            centre: Position::ORIGIN,
            direction: DirectionMap::default(),
            smoothing: Smoothing::Off,
            dead_zone: 0.0,
            full_throw: 1.0,
            shape: Shape::Radial,
            curve: Curve::Linear,
            switches: None,
            buttons: ButtonTiming::default(),
        }
    }
}
