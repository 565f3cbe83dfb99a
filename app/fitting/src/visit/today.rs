//! How the person is today.

use super::{of_ten, short};
use serde::{Deserialize, Serialize};

/// The most minutes or days that are kept.
const MOST: u32 = 100_000;

/// A rise of fatigue or pain by so many points of ten is a reason to offer to stop.
pub const OFFER_STOP_POINTS: u8 = 2;

/// After so many seconds of muscle work fatigue and pain can have changed, and are asked again.
pub const ASK_AGAIN_SECONDS: f64 = 60.0;

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
    /// The time of day, in the person's words.
    pub time: String,
    /// Fatigue when it was first told today, 0 (none) to 10.
    pub fatigue: Option<u8>,
    /// Pain when it was first told today, 0 (none) to 10.
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

/// By how many points of ten fatigue and pain rose; 0 where one did not rise or was not told twice.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Rise {
    /// Of fatigue.
    pub fatigue: u8,
    /// Of pain.
    pub pain: u8,
}

impl Today {
    /// Takes in how it is now. What was not told before is told for the first time by it, so that a
    /// later rise is seen.
    pub fn tell_now(&mut self, fatigue: Option<u8>, pain: Option<u8>) {
        let (fatigue, pain) = (of_ten(fatigue), of_ten(pain));
        self.fatigue = self.fatigue.or(fatigue);
        self.pain = self.pain.or(pain);
        self.fatigue_now = fatigue.or(self.fatigue_now);
        self.pain_now = pain.or(self.pain_now);
    }

    /// The rise of fatigue or pain, if either rose far enough to offer to stop for today.
    #[must_use]
    pub fn offers_to_stop(&self) -> Option<Rise> {
        let rise = |first: Option<u8>, now: Option<u8>| match (first, now) {
            (Some(first), Some(now)) => now.saturating_sub(first),
            _ => 0,
        };
        let rise = Rise {
            fatigue: rise(self.fatigue, self.fatigue_now),
            pain: rise(self.pain, self.pain_now),
        };
        (rise.fatigue.max(rise.pain) >= OFFER_STOP_POINTS).then_some(rise)
    }

    pub(super) fn tidied(&self) -> Self {
        Self {
            time: short(&self.time),
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rise_of_two_points_offers_to_stop() {
        for first in 0..=10_u8 {
            for now in 0..=10_u8 {
                let pain = Today { pain: Some(first), pain_now: Some(now), ..Today::default() };
                let fatigue =
                    Today { fatigue: Some(first), fatigue_now: Some(now), ..Today::default() };
                let rose = i32::from(now) - i32::from(first) >= 2;
                assert_eq!(pain.offers_to_stop().is_some(), rose, "pain {first} to {now}");
                assert_eq!(fatigue.offers_to_stop().is_some(), rose, "fatigue {first} to {now}");
            }
        }
        let both = Today {
            fatigue: Some(3),
            fatigue_now: Some(7),
            pain: Some(4),
            pain_now: Some(2),
            ..Today::default()
        };
        assert_eq!(both.offers_to_stop(), Some(Rise { fatigue: 4, pain: 0 }));
    }

    #[test]
    fn what_is_told_late_is_compared_with_later() {
        let mut today = Today { fatigue: Some(3), ..Today::default() };
        today.tell_now(Some(4), Some(2));
        assert_eq!((today.fatigue, today.pain), (Some(3), Some(2)));
        assert_eq!(today.offers_to_stop(), None);
        today.tell_now(None, Some(4));
        assert_eq!(today.offers_to_stop(), Some(Rise { fatigue: 1, pain: 2 }));
        today.tell_now(Some(200), None);
        assert_eq!(today.fatigue_now, Some(10));
        assert_eq!(today.tidied(), today);
    }
}
