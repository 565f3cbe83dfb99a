//! Which settings have a number: those that are suggested, and those chosen by hand. Of the others
//! the stick stays as it is, and nothing of theirs stands among the numbers to type in.

use super::ByHand;
use fitting::NotEnough;
use fitting::papers::TypedNumber;
use fitting::suggest::Suggestions;
use fitting::summary::short::ShortSummary;
use fitting::summary::{ChosenCurve, SummaryBody};

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

    /// By a summary: one number for the sensitivity was chosen by hand.
    pub fn of_summary(body: &SummaryBody) -> Self {
        let by_hand = matches!(body.chosen.curve, ChosenCurve::Exponent(_));
        Self {
            dead_zone: body.dead_zone_to_type_in().map(|_| ()),
            full_throw: body.full_throw_to_type_in().map(|_| ()),
            curve: either(body.curve.result().err().as_ref(), by_hand),
        }
    }

    /// By a short text, which has no straight curve to tell.
    pub fn of_short(short: &ShortSummary) -> Self {
        let if_so = |has_number: bool| {
            if has_number { Ok(()) } else { Err(NotEnough::NothingRecorded) }
        };
        Self {
            dead_zone: if_so(short.has_dead_zone),
            full_throw: if_so(short.has_full_throw),
            curve: if_so(short.chosen.curve != ChosenCurve::Linear),
        }
    }
}

fn either(why_not: Option<&NotEnough>, by_hand: bool) -> Result<(), NotEnough> {
    match why_not {
        Some(why) if !by_hand => Err(*why),
        _ => Ok(()),
    }
}
