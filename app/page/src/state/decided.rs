//! Which settings have a number: those that are suggested, and those chosen by hand. Of the others
//! the stick stays as it is, and nothing of theirs stands among the numbers to type in.

use super::ByHand;
use fitting::papers::TypedNumber;
use fitting::suggest::Suggestions;
use fitting::summary::short::ShortSummary;
use fitting::summary::{ChosenCurve, ChosenSettings, SummaryBody};
use fitting::{NotEnough, Settings};

/// Of each setting that it has a number, or why it has none.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Decided {
    /// Dead zone.
    pub dead_zone: Result<(), NotEnough>,
    /// Full throw.
    pub full_throw: Result<(), NotEnough>,
    /// Sensitivity.
    pub curve: Result<(), NotEnough>,
}

impl Decided {
    /// Nothing was recorded, and nothing chosen.
    pub const NOTHING: Self = Self {
        dead_zone: Err(NotEnough::NothingRecorded),
        full_throw: Err(NotEnough::NothingRecorded),
        curve: Err(NotEnough::NothingRecorded),
    };

    /// Whether this number is one of them.
    pub const fn has(&self, number: TypedNumber) -> bool {
        match number {
            TypedNumber::DeadZone => self.dead_zone.is_ok(),
            TypedNumber::FullThrow => self.full_throw.is_ok(),
            TypedNumber::Exponent => self.curve.is_ok(),
        }
    }

    /// Whether no setting has a number.
    pub fn is_nothing(&self) -> bool {
        self.dead_zone.is_err() && self.full_throw.is_err() && self.curve.is_err()
    }

    /// By the suggestions and what was changed by hand.
    pub fn of(suggestions: &Suggestions, by_hand: &ByHand) -> Self {
        Self {
            dead_zone: either(suggestions.dead_zone.as_ref().err(), by_hand.dead_zone.is_some()),
            full_throw: either(suggestions.full_throw.as_ref().err(), by_hand.full_throw.is_some()),
            curve: either(suggestions.curve.as_ref().err(), by_hand.exponent.is_some()),
        }
    }

    /// By a summary: what differs from the stick as it is without a suggestion was chosen by hand.
    pub fn of_summary(body: &SummaryBody) -> Self {
        let touched = Self::of_chosen(&body.chosen);
        Self {
            dead_zone: body.dead_zone_to_type_in().map(|_| ()),
            full_throw: either(body.full_throw.result().err().as_ref(), touched.full_throw.is_ok()),
            curve: either(body.curve.result().err().as_ref(), touched.curve.is_ok()),
        }
    }

    /// By a short text, which says of the dead zone alone whether it has a number.
    pub fn of_short(short: &ShortSummary) -> Self {
        let nothing = Self::NOTHING.dead_zone;
        let dead_zone = if short.has_dead_zone { Ok(()) } else { nothing };
        Self { dead_zone, ..Self::of_chosen(&short.chosen) }
    }

    /// By settings alone, where nothing says what was suggested: what leaves the stick as it is has
    /// no number.
    fn of_chosen(chosen: &ChosenSettings) -> Self {
        let as_it_is = ChosenSettings::of(&Settings::default());
        let touched = |is: bool, nothing: Result<(), NotEnough>| if is { Ok(()) } else { nothing };
        Self {
            dead_zone: touched(chosen.dead_zone != as_it_is.dead_zone, Self::NOTHING.dead_zone),
            full_throw: touched(chosen.full_throw != as_it_is.full_throw, Self::NOTHING.full_throw),
            curve: touched(chosen.curve != ChosenCurve::Linear, Self::NOTHING.curve),
        }
    }
}

fn either(why_not: Option<&NotEnough>, by_hand: bool) -> Result<(), NotEnough> {
    match why_not {
        Some(why) if !by_hand => Err(*why),
        _ => Ok(()),
    }
}
