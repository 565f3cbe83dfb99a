//! How the person is today.

use super::{of_ten, short};
use serde::{Deserialize, Serialize};

/// The most minutes or days that are kept.
const MOST: u32 = 100_000;

/// Against what is usual for the person.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Compared {
    /// Less, or worse.
    Less,
    /// As usual.
    Usual,
    /// More, or better.
    More,
}

/// How the person is today; every answer may be missing.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Today {
    /// Fatigue before the first task, 0 (none) to 10.
    pub fatigue: Option<u8>,
    /// Pain before the first task, 0 (none) to 10.
    pub pain: Option<u8>,
    /// Fatigue now, when it was asked again.
    pub fatigue_now: Option<u8>,
    /// Pain now, when it was asked again.
    pub pain_now: Option<u8>,
    /// Spasm.
    pub spasm: Option<Compared>,
    /// Sleep.
    pub sleep: Option<Compared>,
    /// Minutes since the last medication.
    pub minutes_since_medication: Option<u32>,
    /// Days since the last injection or change of a pump.
    pub days_since_injection: Option<u32>,
    /// Anything else about the day.
    pub else_today: String,
}

impl Today {
    pub(super) fn tidied(&self) -> Self {
        Self {
            fatigue: of_ten(self.fatigue),
            pain: of_ten(self.pain),
            fatigue_now: of_ten(self.fatigue_now),
            pain_now: of_ten(self.pain_now),
            minutes_since_medication: self.minutes_since_medication.map(|some| some.min(MOST)),
            days_since_injection: self.days_since_injection.map(|some| some.min(MOST)),
            else_today: short(&self.else_today),
            ..self.clone()
        }
    }
}
