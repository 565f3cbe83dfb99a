//! The timing of one button: presses that are too short, and bounce.
//!
//! The two filters are those of the X11 keyboard extension (*The X Keyboard Extension: Library
//! Specification*, chapter 10): a press counts once it was held for the *acceptance delay*, and
//! after a release the button is deaf for the *bounce* time. The specification says both "after
//! it is released" and "after having been pressed"; here it is the release, and a release inside
//! the deaf time begins it anew, so that a chattering contact stays one press for as long as it
//! chatters.
//!
//! Where both are set, a press that was too short to count does not begin the deaf time: a
//! contact that chatters as it closes would otherwise shut out the very press it begins.

use super::switches::Hysteresis;
use crate::settings::ButtonTiming;

/// From this value on a button is pressed...
pub const PRESSED_FROM: f64 = 0.5;
/// ... until it is at this one or below.
pub const RELEASED_AT: f64 = 0.35;
/// Times further apart than clocks differ in their last bits, seconds.
const SAME_SECONDS: f64 = 1e-9;
/// No time of a button is longer, seconds.
const LONGEST_SECONDS: f64 = 10.0;

/// What a button did, after its timing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ButtonChange {
    /// A press that counts.
    Pressed,
    /// It is held for so long that it begins to repeat.
    Repeats,
    /// The end of a press that counted.
    Released,
}

/// One button with its timing.
#[derive(Clone, Debug, PartialEq)]
pub struct ButtonFilter {
    timing: ButtonTiming,
    value: Hysteresis,
    held: Held,
    /// The end of the last release that begins a deaf time, seconds.
    deaf_from_seconds: Option<f64>,
}

/// What is known of the press that is going on.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Held {
    Up,
    /// Down, in the deaf time.
    Deaf,
    /// Down since this moment, not yet accepted.
    Waiting(f64),
    /// Accepted at this moment.
    Accepted(f64),
    /// Repeating.
    Repeating,
}

impl ButtonFilter {
    /// A button that is up. Times are held to 0..=10 s; what is not finite becomes 0 (no
    /// repeat).
    #[must_use]
    pub fn new(timing: ButtonTiming) -> Self {
        Self {
            timing: in_range(timing),
            value: Hysteresis::new(PRESSED_FROM, RELEASED_AT),
            held: Held::Up,
            deaf_from_seconds: None,
        }
    }

    /// What happened up to `to_seconds`, from when on the button has this analogue value
    /// (0..=1): pressed from [`PRESSED_FROM`] on until it is at [`RELEASED_AT`] or below. Times
    /// must not run backwards.
    pub fn value(&mut self, to_seconds: f64, value: f64) -> Vec<(f64, ButtonChange)> {
        let down = self.value.step(value);
        self.advance(to_seconds, down)
    }

    /// What happened up to `to_seconds`, from when on the button is down or up, each with its
    /// moment in seconds. A press held for just the shortest time counts. Times must not run
    /// backwards; one that is not finite is passed over.
    pub fn advance(&mut self, to_seconds: f64, down: bool) -> Vec<(f64, ButtonChange)> {
        let mut happened = Vec::new();
        if !to_seconds.is_finite() {
            return happened;
        }
        let reached = |moment: f64| moment <= to_seconds + SAME_SECONDS;
        if let Held::Waiting(since) = self.held {
            let accepted = since + self.timing.shortest_press_seconds;
            if reached(accepted) {
                happened.push((accepted.min(to_seconds), ButtonChange::Pressed));
                self.held = Held::Accepted(accepted);
            }
        }
        if let (Held::Accepted(since), Some(delay)) = (self.held, self.timing.repeat_delay_seconds)
            && reached(since + delay)
        {
            happened.push(((since + delay).min(to_seconds), ButtonChange::Repeats));
            self.held = Held::Repeating;
        }
        match (self.held, down) {
            (Held::Up, true) => {
                let deaf = self.deaf_from_seconds.is_some_and(|from| {
                    to_seconds - from < self.timing.bounce_seconds - SAME_SECONDS
                });
                self.held = if deaf { Held::Deaf } else { Held::Waiting(to_seconds) };
                if !deaf && self.timing.shortest_press_seconds <= 0.0 {
                    happened.push((to_seconds, ButtonChange::Pressed));
                    self.held = Held::Accepted(to_seconds);
                }
            }
            (Held::Accepted(_) | Held::Repeating, false) => {
                happened.push((to_seconds, ButtonChange::Released));
                self.deaf_from_seconds = Some(to_seconds);
                self.held = Held::Up;
            }
            (Held::Deaf, false) => {
                self.deaf_from_seconds = Some(to_seconds);
                self.held = Held::Up;
            }
            (Held::Waiting(_), false) => self.held = Held::Up,
            _ => {}
        }
        happened
    }
}

/// Timing brought into range.
#[must_use]
pub fn in_range(timing: ButtonTiming) -> ButtonTiming {
    let seconds =
        |value: f64| if value.is_finite() { value.clamp(0.0, LONGEST_SECONDS) } else { 0.0 };
    ButtonTiming {
        shortest_press_seconds: seconds(timing.shortest_press_seconds),
        bounce_seconds: seconds(timing.bounce_seconds),
        repeat_delay_seconds: timing
            .repeat_delay_seconds
            .filter(|delay| delay.is_finite() && *delay > 0.0)
            .map(seconds),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn played(timing: ButtonTiming, changes: &[(u32, bool)]) -> Vec<(u32, ButtonChange)> {
        let mut filter = ButtonFilter::new(timing);
        changes
            .iter()
            .flat_map(|(at, down)| filter.advance(f64::from(*at) / 1000.0, *down))
            .map(|(at, change)| ((1000.0 * at).round() as u32, change))
            .collect()
    }

    #[test]
    fn short_presses_and_bounce_do_not_count() {
        use ButtonChange::{Pressed, Released};
        let changes = [(0, true), (12, false), (20, true), (180, false), (195, true), (210, false)];
        let slow = ButtonTiming { shortest_press_seconds: 0.05, ..ButtonTiming::default() };
        assert_eq!(played(slow, &changes), [(70, Pressed), (180, Released)]);
        let bounce = ButtonTiming { bounce_seconds: 0.01, ..ButtonTiming::default() };
        assert_eq!(
            played(bounce, &changes),
            [(0, Pressed), (12, Released), (195, Pressed), (210, Released)]
        );
        // A contact that chatters as it closes and as it opens, with both set: one press.
        let both = ButtonTiming {
            shortest_press_seconds: 0.03,
            bounce_seconds: 0.02,
            repeat_delay_seconds: None,
        };
        let chatter = [
            (0, true),
            (2, false),
            (4, true),
            (100, false),
            (102, true),
            (103, false),
            (121, true),
            (160, false),
        ];
        assert_eq!(played(both, &chatter), [(34, Pressed), (100, Released)]);
    }

    #[test]
    fn a_long_press_begins_to_repeat() {
        use ButtonChange::{Pressed, Released, Repeats};
        let timing = ButtonTiming { repeat_delay_seconds: Some(0.5), ..ButtonTiming::default() };
        let got =
            played(timing, &[(0, true), (300, false), (1000, true), (1200, true), (1900, false)]);
        assert_eq!(
            got,
            [(0, Pressed), (300, Released), (1000, Pressed), (1500, Repeats), (1900, Released)]
        );
    }

    #[test]
    fn an_analogue_button_does_not_chatter() {
        let mut filter = ButtonFilter::new(ButtonTiming::default());
        let values = [0.2, 0.55, 0.45, 0.52, 0.36, 0.34];
        let changes: usize =
            values.iter().enumerate().map(|(i, value)| filter.value(i as f64, *value).len()).sum();
        assert_eq!(changes, 2);
    }
}
