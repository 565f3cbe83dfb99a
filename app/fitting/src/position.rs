//! Where the stick is, and the directions a person is asked for.

use serde::{Deserialize, Serialize};

/// A place in the field of movement, or a displacement in it, in shares of the stick's full
/// travel: 0 is the middle, 1 the end of an axis as the browser reports it.
///
/// `up` is positive away from the person. The W3C Gamepad interface counts down and back as
/// positive; [`crate::StickAxes`] turns that round once, so that nothing later has to know.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Position {
    /// To the right, share of travel.
    pub right: f64,
    /// Up (away from the person), share of travel.
    pub up: f64,
}

impl Position {
    /// The middle of the field.
    pub const ORIGIN: Self = Self { right: 0.0, up: 0.0 };

    /// A position from its two shares.
    #[must_use]
    pub const fn new(right: f64, up: f64) -> Self {
        Self { right, up }
    }

    /// The position at `radius` (share of travel) and `degrees` counted from right towards up.
    #[must_use]
    pub fn polar(radius: f64, degrees: f64) -> Self {
        let (sin, cos) = libm::sincos(degrees.to_radians());
        Self { right: radius * cos, up: radius * sin }
    }

    /// Distance from the middle, share of travel.
    #[must_use]
    pub fn radius(self) -> f64 {
        libm::hypot(self.right, self.up)
    }

    /// Angle in degrees from right towards up, in −180..=180; 0 at the origin.
    #[must_use]
    pub fn degrees(self) -> f64 {
        libm::atan2(self.up, self.right).to_degrees()
    }

    /// The part of this displacement along `degrees`, share of travel.
    #[must_use]
    pub fn along(self, degrees: f64) -> f64 {
        let (sin, cos) = libm::sincos(degrees.to_radians());
        self.right * cos + self.up * sin
    }

    /// The nearest place that a drawing of the field can show: each share held in ±1.25.
    #[must_use]
    pub fn within_field(self) -> Self {
        let held = |share: f64| if share.is_finite() { share.clamp(-1.25, 1.25) } else { 0.0 };
        Self { right: held(self.right), up: held(self.up) }
    }

    /// This displacement turned by `degrees` from right towards up.
    #[must_use]
    pub fn turned(self, degrees: f64) -> Self {
        let (sin, cos) = libm::sincos(degrees.to_radians());
        Self { right: self.right * cos - self.up * sin, up: self.right * sin + self.up * cos }
    }
}

impl std::ops::Add for Position {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self { right: self.right + other.right, up: self.up + other.up }
    }
}

impl std::ops::Sub for Position {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self { right: self.right - other.right, up: self.up - other.up }
    }
}

impl std::ops::Mul<f64> for Position {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self { right: self.right * factor, up: self.up * factor }
    }
}

/// Degrees folded into −180 < d ≤ 180.
#[must_use]
pub fn fold_degrees(degrees: f64) -> f64 {
    let turns = (degrees / 360.0).round();
    let folded = degrees - 360.0 * turns;
    if folded <= -180.0 { folded + 360.0 } else { folded }
}

/// One of the eight directions a person is asked for, counted from right towards up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Direction {
    /// To the right, 0°.
    Right,
    /// Up and to the right, 45°.
    UpRight,
    /// Up, away from the person, 90°.
    Up,
    /// Up and to the left, 135°.
    UpLeft,
    /// To the left, 180°.
    Left,
    /// Down and to the left, −135°.
    DownLeft,
    /// Down, towards the person, −90°.
    Down,
    /// Down and to the right, −45°.
    DownRight,
}

impl Direction {
    /// All eight, counted from right towards up.
    pub const EIGHT: [Self; 8] = [
        Self::Right,
        Self::UpRight,
        Self::Up,
        Self::UpLeft,
        Self::Left,
        Self::DownLeft,
        Self::Down,
        Self::DownRight,
    ];

    /// Right, up, left, down.
    pub const FOUR: [Self; 4] = [Self::Right, Self::Up, Self::Left, Self::Down];

    /// The asked angle in degrees from right towards up, in −180 < d ≤ 180.
    #[must_use]
    pub const fn degrees(self) -> f64 {
        match self {
            Self::Right => 0.0,
            Self::UpRight => 45.0,
            Self::Up => 90.0,
            Self::UpLeft => 135.0,
            Self::Left => 180.0,
            Self::DownLeft => -135.0,
            Self::Down => -90.0,
            Self::DownRight => -45.0,
        }
    }
}
