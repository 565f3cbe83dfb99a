//! A body part that was looked at.

use super::short;
use serde::{Deserialize, Serialize};

/// The most body parts that are looked at in one visit.
pub const MOST_SITES: usize = 3;

/// What is asked of a body part, in the order in which it counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SiteQuestion {
    /// Whether the movement can be made again and again.
    Repeatable,
    /// Whether it is comfortable.
    Comfortable,
    /// Whether the screen stays in view.
    ScreenInView,
    /// Whether it sets off spasm.
    SetsOffSpasm,
    /// Whether it is the only movement the person has for speaking, driving or calling.
    OnlyMovement,
}

impl SiteQuestion {
    /// All of them, in the order in which they count.
    pub const ALL: [Self; 5] = [
        Self::Repeatable,
        Self::Comfortable,
        Self::ScreenInView,
        Self::SetsOffSpasm,
        Self::OnlyMovement,
    ];

    /// The answer that speaks for the body part.
    #[must_use]
    pub const fn wanted(self) -> bool {
        !matches!(self, Self::SetsOffSpasm | Self::OnlyMovement)
    }
}

/// A body part that was looked at, in less than a minute. Every answer may be missing.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct SiteTrial {
    /// Which body part.
    pub body_part: String,
    /// Whether the movement can be made again and again.
    pub repeatable: Option<bool>,
    /// Whether it is comfortable.
    pub comfortable: Option<bool>,
    /// Whether the screen stays in view.
    pub screen_in_view: Option<bool>,
    /// Whether it sets off spasm.
    pub sets_off_spasm: Option<bool>,
    /// Whether it is the only movement the person has for speaking, driving or calling.
    pub only_movement: Option<bool>,
}

impl SiteTrial {
    /// What was answered.
    #[must_use]
    pub const fn answer(&self, question: SiteQuestion) -> Option<bool> {
        match question {
            SiteQuestion::Repeatable => self.repeatable,
            SiteQuestion::Comfortable => self.comfortable,
            SiteQuestion::ScreenInView => self.screen_in_view,
            SiteQuestion::SetsOffSpasm => self.sets_off_spasm,
            SiteQuestion::OnlyMovement => self.only_movement,
        }
    }

    /// Answers with yes or no, or takes the answer back.
    pub const fn set_answer(&mut self, question: SiteQuestion, answer: Option<bool>) {
        let place = match question {
            SiteQuestion::Repeatable => &mut self.repeatable,
            SiteQuestion::Comfortable => &mut self.comfortable,
            SiteQuestion::ScreenInView => &mut self.screen_in_view,
            SiteQuestion::SetsOffSpasm => &mut self.sets_off_spasm,
            SiteQuestion::OnlyMovement => &mut self.only_movement,
        };
        *place = answer;
    }

    pub(super) fn tidied(&self) -> Self {
        Self { body_part: short(&self.body_part), ..self.clone() }
    }
}
