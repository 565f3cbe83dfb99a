//! Breath actions since the last rest.

use crate::stick_kind::BREATHS_BEFORE_REST;

/// What comes sooner after an action belongs to it, seconds: one breath presses twice, and a value
/// at the edge of rest flickers.
const SAME_BREATH_SECONDS: f64 = 0.25;

/// Counts breath actions: whatever leaves the rest, or presses a button, after a moment of
/// nothing.
#[derive(Clone, Debug, Default)]
pub(super) struct Breaths {
    count: u32,
    /// When something was last out of rest or pressed.
    active: Option<f64>,
}

impl Breaths {
    /// Takes in that up to `to` the stick was out of its rest or a button down, or neither.
    pub(super) fn hold_for(&mut self, from: f64, to: f64, is_active: bool) {
        if !is_active {
            return;
        }
        if self.active.is_none_or(|before| from - before >= SAME_BREATH_SECONDS) {
            self.count = self.count.saturating_add(1);
        }
        self.active = Some(to);
    }

    /// Whether a rest is due: enough actions, and the last one over.
    pub(super) fn is_rest_due(&self, now: f64) -> bool {
        self.count >= BREATHS_BEFORE_REST
            && self.active.is_none_or(|before| now - before >= SAME_BREATH_SECONDS)
    }

    /// A rest was taken.
    pub(super) fn rested(&mut self) {
        *self = Self::default();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// How many actions there are in a track of spans with something going on.
    fn counted(active: &[(f64, f64)]) -> Breaths {
        let mut breaths = Breaths::default();
        for tick in 0..2000 {
            let from = f64::from(tick) * 0.004;
            let is = active.iter().any(|(since, until)| (*since..*until).contains(&from));
            breaths.hold_for(from, from + 0.004, is);
        }
        breaths
    }

    #[test]
    fn what_follows_at_once_is_the_same_breath() {
        let twice = [(0.5, 0.7), (0.8, 1.0), (2.0, 2.1), (2.11, 2.5)];
        assert_eq!(counted(&twice).count, 2);
        assert_eq!(counted(&[]).count, 0);
        // A value that stays out of rest is one action, however long.
        assert_eq!(counted(&[(0.0, 8.0)]).count, 1);
    }

    #[test]
    fn a_rest_is_due_after_five_and_only_when_the_fifth_is_over() {
        let five: Vec<(f64, f64)> =
            (0..5).map(|k| (f64::from(k) + 0.5, f64::from(k) + 1.0)).collect();
        let mut breaths = counted(&five);
        assert!(!breaths.is_rest_due(5.1) && breaths.is_rest_due(5.3));
        breaths.rested();
        assert!(!breaths.is_rest_due(99.0));
        assert!(!counted(&five[..4]).is_rest_due(99.0));
    }
}
