//! A figure of a summary, or why there is none.

use super::grid::{Grid, Number, Seconds};
use crate::estimate::{Basis, Estimate, Measured, NotEnough, StickTrait};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// The most repetitions that are told.
pub(super) const MOST_REPETITIONS: u32 = 10_000;

/// Something a fitting came to, or why there was not enough for it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Answer<T> {
    /// It is known.
    Known(T),
    /// It is not.
    NotEnough(Lacking),
}

/// A number with its interval, or why there is none.
pub type Figure<G> = Answer<Interval<G>>;

/// A number with its 95 % interval and what it rests on; `low <= value <= high`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval<G> {
    /// The best single number.
    pub value: G,
    /// Lower end of the 95 % interval.
    pub low: G,
    /// Upper end of the 95 % interval.
    pub high: G,
    /// Seconds of recording used.
    pub seconds: Seconds,
    /// Repetitions used; 0 where the measure has none.
    pub repetitions: u32,
}

/// An [`Interval`] of any grid as it is written.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Interval")]
struct Written {
    value: Number,
    low: Number,
    high: Number,
    seconds: Number,
    repetitions: u32,
}

impl<G: Grid> Serialize for Interval<G> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let human_readable = serializer.is_human_readable();
        let written = Written {
            value: Number::of(self.value, human_readable),
            low: Number::of(self.low, human_readable),
            high: Number::of(self.high, human_readable),
            seconds: Number::of(self.seconds, human_readable),
            repetitions: self.repetitions,
        };
        write(&written, serializer)
    }
}

impl<'de, G: Grid> Deserialize<'de> for Interval<G> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let written = read(deserializer)?;
        Ok(Self {
            value: written.value.on_grid(),
            low: written.low.on_grid(),
            high: written.high.on_grid(),
            seconds: written.seconds.on_grid(),
            repetitions: written.repetitions,
        })
    }
}

// Once in the program for each form, whatever the optimiser thinks.
#[inline(never)]
fn write<S: Serializer>(written: &Written, serializer: S) -> Result<S::Ok, S::Error> {
    written.serialize(serializer)
}

#[inline(never)]
fn read<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Written, D::Error> {
    Written::deserialize(deserializer)
}

/// [`NotEnough`] on the grid of a summary.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Lacking {
    /// Nothing of this kind was recorded.
    NothingRecorded,
    /// Too few seconds were recorded.
    Seconds {
        /// Seconds there are.
        have: Seconds,
        /// Seconds needed for a rough figure.
        need: Seconds,
    },
    /// Too few repetitions were made.
    Repetitions {
        /// Repetitions there are.
        have: u32,
        /// Repetitions needed for a rough figure.
        need: u32,
    },
    /// The measure has no meaning for this stick or this recording.
    DoesNotApply,
    /// The system or browser hides the middle of the stick.
    Hidden,
    /// The measure has no meaning for this kind of stick.
    NotFor(StickTrait),
    /// What was asked was never done.
    NotDone,
    /// The repetitions disagree too much for one figure.
    Unsettled,
    /// It lies outside what a setting can hold.
    OutOfRange,
    /// The edge of the stick's travel cut the movement off.
    CutOff,
    /// Too little is left to steer with, for one number.
    NoSteeringSpan,
}

impl<T> Answer<T> {
    /// From a result of the core, turned into the grid's form by `known`.
    pub fn from_result<R>(result: &Result<R, NotEnough>, known: impl FnOnce(&R) -> T) -> Self {
        match result {
            Ok(value) => Self::Known(known(value)),
            Err(reason) => Self::NotEnough(Lacking::of(*reason)),
        }
    }

    /// Nothing of the kind was recorded.
    pub(super) const NOTHING: Self = Self::NotEnough(Lacking::NothingRecorded);

    /// The same with what is known turned into another form.
    pub(super) fn map<U>(self, known: impl FnOnce(T) -> U) -> Answer<U> {
        match self {
            Self::Known(value) => Answer::Known(known(value)),
            Self::NotEnough(reason) => Answer::NotEnough(reason),
        }
    }

    /// As the core's own kind of answer, so that the same words explain both.
    ///
    /// # Errors
    /// Why there is none.
    pub fn result(&self) -> Result<&T, NotEnough> {
        match self {
            Self::Known(value) => Ok(value),
            Self::NotEnough(reason) => Err(reason.reason()),
        }
    }
}

impl<G: Grid> Interval<G> {
    /// From an estimate.
    #[must_use]
    pub fn of(estimate: &Estimate) -> Self {
        Self {
            value: G::of(estimate.value),
            // Ordered by promise; kept so here, as an interval that is not would be unreadable.
            low: G::of(estimate.low.min(estimate.value)),
            high: G::of(estimate.high.max(estimate.value)),
            seconds: Seconds::of(estimate.basis.seconds),
            repetitions: count(estimate.basis.repetitions),
        }
    }

    /// As the core's own kind of estimate.
    #[must_use]
    pub fn estimate(&self) -> Estimate {
        Estimate {
            value: self.value.get(),
            low: self.low.get(),
            high: self.high.get(),
            basis: Basis { seconds: self.seconds.get(), repetitions: self.repetitions as usize },
        }
    }
}

impl<G: Grid> Figure<G> {
    /// From a measured number.
    #[must_use]
    pub fn of(measured: &Measured) -> Self {
        Self::from_result(measured, Interval::of)
    }

    /// As the core's own kind of measured number, so that the same parts of a page show both.
    ///
    /// # Errors
    /// Why there is none.
    pub fn measured(&self) -> Measured {
        self.result().map(Interval::estimate)
    }
}

impl Lacking {
    /// From the core's own reason.
    #[must_use]
    pub fn of(reason: NotEnough) -> Self {
        match reason {
            NotEnough::NothingRecorded => Self::NothingRecorded,
            NotEnough::Seconds { have, need } => {
                Self::Seconds { have: Seconds::of(have), need: Seconds::of(need) }
            }
            NotEnough::Repetitions { have, need } => {
                Self::Repetitions { have: count(have), need: count(need) }
            }
            NotEnough::DoesNotApply => Self::DoesNotApply,
            NotEnough::Hidden => Self::Hidden,
            NotEnough::NotFor(what) => Self::NotFor(what),
            NotEnough::NotDone => Self::NotDone,
            NotEnough::Unsettled => Self::Unsettled,
            NotEnough::OutOfRange => Self::OutOfRange,
            NotEnough::CutOff => Self::CutOff,
            NotEnough::NoSteeringSpan => Self::NoSteeringSpan,
        }
    }

    /// As the core's own reason.
    #[must_use]
    pub fn reason(self) -> NotEnough {
        match self {
            Self::NothingRecorded => NotEnough::NothingRecorded,
            Self::Seconds { have, need } => {
                NotEnough::Seconds { have: have.get(), need: need.get() }
            }
            Self::Repetitions { have, need } => {
                NotEnough::Repetitions { have: have as usize, need: need as usize }
            }
            Self::DoesNotApply => NotEnough::DoesNotApply,
            Self::Hidden => NotEnough::Hidden,
            Self::NotFor(what) => NotEnough::NotFor(what),
            Self::NotDone => NotEnough::NotDone,
            Self::Unsettled => NotEnough::Unsettled,
            Self::OutOfRange => NotEnough::OutOfRange,
            Self::CutOff => NotEnough::CutOff,
            Self::NoSteeringSpan => NotEnough::NoSteeringSpan,
        }
    }
}

/// A count, cut at [`MOST_REPETITIONS`].
pub(super) fn count(count: usize) -> u32 {
    u32::try_from(count).map_or(MOST_REPETITIONS, |count| count.min(MOST_REPETITIONS))
}
