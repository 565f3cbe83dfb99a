//! A body part that was looked at.

use super::short;
use serde::{Deserialize, Serialize};

/// The most body parts that are looked at in one visit.
pub const MOST_SITES: usize = 3;

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
    pub(super) fn tidied(&self) -> Self {
        Self { body_part: short(&self.body_part), ..self.clone() }
    }
}
