//! One press on cue.

use super::PressAsk;

/// The asked presses are over when the button has been up for this long, seconds.
const QUIET_SECONDS: f64 = 0.6;
/// A press of this long is a long one, seconds.
const LONG_SECONDS: f64 = 0.7;
/// Where a long press was asked and a shorter one came, a longer one may follow within this,
/// seconds.
const LONGER_FOLLOWS_SECONDS: f64 = 1.5;
/// Where two presses were asked and one came, the second may follow within this, seconds.
const SECOND_FOLLOWS_SECONDS: f64 = 3.0;
/// The button is up for less than this only when its contact bounces, seconds; common practice,
/// no source. It is one press that goes on.
pub(crate) const BOUNCE_SECONDS: f64 = 0.04;
/// Where nobody looked for this long a button is not known to have stayed up, seconds.
const GAP_SECONDS: f64 = 0.25;

/// Watches one button after its cue.
#[derive(Clone, Debug)]
pub(super) struct PressWatch {
    press: PressAsk,
    /// The button was up since the cue: some sticks rest with one down, and a press from before
    /// the cue is none that was asked.
    was_up: bool,
    is_down: bool,
    /// When the present or last press began, bounces taken as one press.
    pressed_at: f64,
    released_at: f64,
    presses: usize,
    longest_seconds: f64,
}

impl PressWatch {
    pub(super) const fn new(press: PressAsk) -> Self {
        Self {
            press,
            was_up: false,
            is_down: false,
            pressed_at: 0.0,
            released_at: 0.0,
            presses: 0,
            longest_seconds: 0.0,
        }
    }

    /// Takes in that the button was down, or up, from `from` to `to`. True when what was asked is
    /// over: made and quiet since. There is no limit on when it begins.
    pub(super) fn hold_for(&mut self, from: f64, to: f64, down: bool) -> bool {
        if down {
            if self.was_up && !self.is_down {
                self.is_down = true;
                if self.presses == 0 || from - self.released_at >= BOUNCE_SECONDS {
                    self.presses += 1;
                    self.pressed_at = from;
                }
            }
            if self.is_down {
                self.longest_seconds = self.longest_seconds.max(to - self.pressed_at);
            }
            return false;
        }
        self.was_up = true;
        if self.is_down {
            self.is_down = false;
            self.released_at = from;
        }
        if to - from > GAP_SECONDS {
            self.released_at = to;
        }
        self.presses > 0 && to - self.released_at >= self.needs_quiet_seconds()
    }

    fn needs_quiet_seconds(&self) -> f64 {
        match self.press {
            PressAsk::Long if self.longest_seconds < LONG_SECONDS => LONGER_FOLLOWS_SECONDS,
            PressAsk::Twice if self.presses < 2 => SECOND_FOLLOWS_SECONDS,
            PressAsk::Once | PressAsk::Long | PressAsk::Twice => QUIET_SECONDS,
        }
    }

    /// Whether it counts when the person says "next": the button was pressed at all.
    pub(super) const fn counts_when_ended(&self) -> bool {
        self.presses > 0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// When it was over, with the button down in these spans.
    fn over(press: PressAsk, down: &[(f64, f64)]) -> Option<f64> {
        let mut watch = PressWatch::new(press);
        (0..10_000).find_map(|tick| {
            let from = f64::from(tick) * 0.001;
            let is_down = down.iter().any(|(since, until)| (*since..*until).contains(&from));
            watch.hold_for(from, from + 0.001, is_down).then_some(from + 0.001)
        })
    }

    fn is_over_at(press: PressAsk, down: &[(f64, f64)], at: f64) {
        let over = over(press, down).expect("it is over");
        assert!((over - at).abs() < 0.003, "{press:?} {down:?}: {over}, not {at}");
    }

    #[test]
    fn a_quiet_moment_after_the_asked_presses_ends_it() {
        is_over_at(PressAsk::Once, &[(1.0, 1.2)], 1.8);
        is_over_at(PressAsk::Once, &[(7.0, 7.2)], 7.8);
        is_over_at(PressAsk::Once, &[(1.0, 4.0)], 4.6);
        // A second press nobody asked for stays in it.
        is_over_at(PressAsk::Once, &[(1.0, 1.2), (1.5, 1.6)], 2.2);
        is_over_at(PressAsk::Long, &[(1.0, 1.9)], 2.5);
        is_over_at(PressAsk::Long, &[(1.0, 1.3)], 2.8);
        is_over_at(PressAsk::Long, &[(1.0, 1.3), (2.0, 3.0)], 3.6);
        is_over_at(PressAsk::Twice, &[(1.0, 1.2), (1.4, 1.6)], 2.2);
        is_over_at(PressAsk::Twice, &[(1.0, 1.2), (3.4, 3.6)], 4.2);
        is_over_at(PressAsk::Twice, &[(1.0, 1.2)], 4.2);
    }

    #[test]
    fn bounce_is_no_second_press() {
        let bouncing = [(1.0, 1.004), (1.01, 1.2), (1.21, 1.215)];
        is_over_at(PressAsk::Twice, &bouncing, 4.215);
        let long = [(1.0, 1.4), (1.42, 1.8)];
        is_over_at(PressAsk::Long, &long, 2.4);
    }

    #[test]
    fn a_button_that_was_down_at_the_cue_counts_once_it_was_up() {
        assert_eq!(over(PressAsk::Once, &[(0.0, 1.0)]), None);
        assert_eq!(over(PressAsk::Once, &[(0.0, 99.0)]), None);
        is_over_at(PressAsk::Once, &[(0.0, 1.0), (2.0, 2.1)], 2.7);
        assert_eq!(over(PressAsk::Once, &[]), None);
    }

    #[test]
    fn where_nobody_looked_nothing_is_known_to_be_quiet() {
        let mut watch = PressWatch::new(PressAsk::Once);
        watch.hold_for(0.0, 0.1, false);
        watch.hold_for(0.1, 0.2, true);
        assert!(!watch.hold_for(0.2, 5.0, false));
        assert!(!watch.hold_for(5.0, 5.1, false) && watch.counts_when_ended());
    }
}
