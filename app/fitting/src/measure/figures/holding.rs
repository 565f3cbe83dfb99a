//! What holds show.

use crate::Direction;
use crate::estimate::Measured;

/// A rhythmic part of the movement: a narrow peak above the wander, wherever it lies.
#[derive(Clone, Debug, PartialEq)]
pub struct RhythmicMovement {
    /// Whether a peak stands out; without one frequency and amplitude are not known.
    pub found: bool,
    /// Its frequency, hertz.
    pub hertz: Measured,
    /// The finest difference of frequencies that the recordings can tell apart, hertz.
    pub resolution_hertz: f64,
    /// Its peak amplitude along its main direction, share of travel; `Hidden` behind a system that
    /// hides the middle of the axes.
    pub amplitude: Measured,
    /// Its main direction, degrees from right towards up, −90..=90.
    pub along_degrees: f64,
    /// Seconds of holding behind it.
    pub seconds: f64,
}

/// One point of the spectrum of the movement while holding.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpectrumPoint {
    /// The frequency, hertz.
    pub hertz: f64,
    /// The density, both axes together, shares of travel squared per hertz: as read, not corrected
    /// for what a value that holds until the next report takes of it.
    pub density: f64,
}

/// One direction's longer hold.
#[derive(Clone, Debug, PartialEq)]
pub struct SustainedHold {
    /// The nearest level of own reach beyond this one at which a stay was tried and was not easy or not
    /// kept to its end, share of reach. Only where this one was easy.
    pub hard_at_level: Option<f64>,
    /// What was asked.
    pub asked: Direction,
    /// The level asked, share of own reach.
    pub level: f64,
    /// The longest stay, seconds.
    pub seconds: f64,
    /// Stays of this direction and level that lasted about as long and were no harder, this one
    /// included: one alone says that it was possible once.
    pub times: usize,
    /// How hard it was, 0 to 10; `None` when nobody said.
    pub effort: Option<u8>,
    /// Distance from the centre that was kept, share of travel: its mean with an interval.
    pub kept: Measured,
    /// How it drifted from beginning to end, share of travel a minute, towards the centre
    /// negative.
    pub drift_per_minute: Measured,
}

/// Steadiness while holding at one level of the person's own reach.
#[derive(Clone, Debug, PartialEq)]
pub struct LevelSteadiness {
    /// Share of own reach that was asked.
    pub level: f64,
    /// Mean distance from the centre at which it was held, share of travel.
    pub radius: f64,
    /// Standard deviation about the held place, both axes pooled, share of travel.
    pub deviation: Measured,
    /// Independent values behind it, less one for each held place.
    pub degrees_of_freedom: f64,
    /// Of this, the slow part (below the rhythm), share of travel.
    pub wander: Measured,
    /// Of this, the rhythmic part, share of travel; not known without a rhythm.
    pub rhythmic: Measured,
    /// Whether a hold of this level touched the end of the stick's travel.
    pub at_gate: bool,
}
