//! A number that was estimated, and the honest alternative to one.

use serde::{Deserialize, Serialize};

/// An estimated number with its 95 % interval and what it rests on.
///
/// All fields are finite and `low <= value <= high`. The unit is that of the field that holds
/// the estimate and is named there.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Estimate {
    /// The best single number.
    pub value: f64,
    /// Lower end of the 95 % interval.
    pub low: f64,
    /// Upper end of the 95 % interval.
    pub high: f64,
    /// How much recording it rests on.
    pub basis: Basis,
}

impl Estimate {
    /// An estimate whose ends are put in order about the value; `None` when anything is not
    /// finite, so that no NaN leaves the core.
    #[must_use]
    pub fn new(value: f64, low: f64, high: f64, basis: Basis) -> Option<Self> {
        let finite =
            value.is_finite() && low.is_finite() && high.is_finite() && basis.seconds.is_finite();
        finite.then(|| Self { value, low: low.min(value), high: high.max(value), basis })
    }

    /// The estimate with value and ends held to `low..=high`.
    #[must_use]
    pub fn held_to(self, low: f64, high: f64) -> Self {
        Self {
            value: self.value.clamp(low, high),
            low: self.low.clamp(low, high),
            high: self.high.clamp(low, high),
            basis: self.basis,
        }
    }

    /// The width of the interval.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.high - self.low
    }

    /// Firm where it `is_firm` by the rule of its kind, else rough. An interval without width says nothing
    /// of how sure a number is: a bound left none, or the number is exact; so it is never firm.
    #[must_use]
    pub fn sureness(&self, is_firm: bool) -> Sureness {
        if is_firm && self.width() > 0.0 { Sureness::Firm } else { Sureness::Rough }
    }
}

/// How much recording a number rests on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Basis {
    /// Seconds of recording used.
    pub seconds: f64,
    /// Repetitions used; 0 where the measure has none.
    pub repetitions: usize,
}

/// How much weight a figure can bear, in the everyday words of the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Sureness {
    /// There is too little recording to say anything.
    NotEnough,
    /// A usable first guess: play will have to confirm it.
    Rough,
    /// The interval is narrow enough to act on.
    Firm,
}

/// Why there is no estimate, and what would bring one.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum NotEnough {
    /// Nothing of this kind was recorded.
    NothingRecorded,
    /// Too few seconds were recorded.
    Seconds {
        /// Seconds there are.
        have: f64,
        /// Seconds needed for a rough figure.
        need: f64,
    },
    /// Too few repetitions were made.
    Repetitions {
        /// Repetitions there are.
        have: usize,
        /// Repetitions needed for a rough figure.
        need: usize,
    },
    /// The measure has no meaning for this stick or this recording.
    DoesNotApply,
    /// The system or browser hides the middle of the stick, so that this cannot be seen.
    Hidden,
    /// The measure has no meaning for this kind of stick.
    NotFor(StickTrait),
    /// What was asked was never done: not once from beginning to end.
    NotDone,
    /// The repetitions disagree too much for one figure.
    Unsettled,
    /// It lies outside what a setting can hold.
    OutOfRange,
    /// The edge of the stick's travel cut the movement off.
    CutOff,
    /// Between the dead zone and the weakest side too little is left to steer with, for one number.
    NoSteeringSpan,
}

/// What it is about a kind of stick that leaves a measure without meaning.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum StickTrait {
    /// It moves on one axis only.
    OneAxis,
    /// It moves one way only.
    OneWay,
    /// It does not centre itself.
    NotSelfCentring,
    /// It answers to force and hardly moves.
    Force,
    /// Its directions are used as switches.
    Switches,
    /// Breath moves it.
    Breath,
}

/// A figure, or why there is none.
pub type Measured = Result<Estimate, NotEnough>;
