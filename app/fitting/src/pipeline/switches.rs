//! Directions used as switches: on beyond one threshold, off below a lower one, and only when a
//! push lasts.

use crate::Position;
use crate::settings::SwitchThresholds;

/// On from one level on, off from a lower one down: a value that hovers about one level does not
/// chatter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hysteresis {
    on: f64,
    off: f64,
    is_on: bool,
}

impl Hysteresis {
    /// Off at first. `off` is held to at most `on`; what is not finite never switches.
    #[must_use]
    pub fn new(on: f64, off: f64) -> Self {
        let on = if on.is_finite() { on } else { f64::INFINITY };
        let off = if off.is_finite() { off.min(on) } else { on };
        Self { on, off, is_on: false }
    }

    /// Whether it is on with this value: at `on` or above it goes on, at `off` or below it goes
    /// off, between the two (or with what is no number) it stays.
    pub fn step(&mut self, value: f64) -> bool {
        if value >= self.on {
            self.is_on = true;
        } else if value <= self.off {
            self.is_on = false;
        }
        self.is_on
    }
}

/// Thresholds brought into range: `on` into 0.01..=1, `off` at least 0 and under `on` (half of
/// it where not finite), the shortest time into 0..=2 s (0 where not finite).
#[must_use]
pub fn in_range(thresholds: SwitchThresholds) -> SwitchThresholds {
    let on = if thresholds.on.is_finite() { thresholds.on.clamp(0.01, 1.0) } else { 0.5 };
    let off = if thresholds.off.is_finite() { thresholds.off.clamp(0.0, on) } else { 0.5 * on };
    let shortest = thresholds.shortest_seconds;
    let shortest_seconds = if shortest.is_finite() { shortest.clamp(0.0, 2.0) } else { 0.0 };
    SwitchThresholds { on, off, shortest_seconds }
}

/// One of the four directions.
#[derive(Clone, Copy, Debug, PartialEq)]
struct OneSwitch {
    push: Hysteresis,
    /// Since when it is pushed, seconds.
    since_seconds: Option<f64>,
}

/// The four directions, each a switch of its own: two neighbours may be on together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct DirectionSwitches {
    shortest_seconds: f64,
    /// Right, left, up, down.
    four: [OneSwitch; 4],
}

/// Clocks differ in the last bits: this much earlier is on time, seconds.
const ON_TIME_SECONDS: f64 = 1e-9;

impl DirectionSwitches {
    /// `thresholds` must be in range.
    pub(super) fn new(thresholds: SwitchThresholds) -> Self {
        let push = Hysteresis::new(thresholds.on, thresholds.off);
        Self {
            shortest_seconds: thresholds.shortest_seconds,
            four: [OneSwitch { push, since_seconds: None }; 4],
        }
    }

    /// Takes the push that begins to hold at `at_seconds`.
    pub(super) fn push(&mut self, at_seconds: f64, push: Position) {
        let along = [push.right, -push.right, push.up, -push.up];
        for (switch, value) in self.four.iter_mut().zip(along) {
            if switch.push.step(value) {
                switch.since_seconds.get_or_insert(at_seconds);
            } else {
                switch.since_seconds = None;
            }
        }
    }

    /// What is on at `at_seconds`, −1, 0 or 1 on each axis. A push counts once it has lasted for
    /// the shortest time.
    pub(super) fn at(&self, at_seconds: f64) -> Position {
        let on = |index: usize| {
            let since: Option<f64> = self.four[index].since_seconds;
            let lasts = since
                .is_some_and(|since| at_seconds - since >= self.shortest_seconds - ON_TIME_SECONDS);
            f64::from(u8::from(lasts))
        };
        Position::new(on(0) - on(1), on(2) - on(3))
    }

    /// The next moment after `at_seconds` at which a push that goes on begins to count.
    pub(super) fn next_change(&self, at_seconds: f64) -> Option<f64> {
        self.four
            .iter()
            .filter_map(|switch| switch.since_seconds)
            .map(|since| since + self.shortest_seconds)
            .filter(|counts| *counts > at_seconds + ON_TIME_SECONDS)
            .min_by(f64::total_cmp)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Published in `key_filters.json`, worked there by another program.
    #[test]
    fn hovering_does_not_chatter() {
        let values =
            [0.0, 0.2, 0.45, 0.52, 0.48, 0.51, 0.47, 0.4, 0.36, 0.34, 0.5, 0.6, 0.35, 0.3, 0.1];
        let want = [0, 0, 0, 1, 1, 1, 1, 1, 1, 0, 1, 1, 0, 0, 0];
        let mut switch = Hysteresis::new(0.5, 0.35);
        let got: Vec<u8> = values.iter().map(|value| u8::from(switch.step(*value))).collect();
        assert_eq!(got, want);
        let mut never = Hysteresis::new(f64::NAN, 0.1);
        assert!(!never.step(9.0));
    }

    #[test]
    fn a_short_push_does_not_count_and_neighbours_go_together() {
        let thresholds = SwitchThresholds { on: 0.5, off: 0.3, shortest_seconds: 0.1 };
        let mut switches = DirectionSwitches::new(thresholds);
        switches.push(1.0, Position::new(0.6, 0.0));
        assert_eq!(switches.at(1.05), Position::ORIGIN);
        assert_eq!(switches.next_change(1.0), Some(1.1));
        switches.push(1.05, Position::new(0.2, 0.0));
        assert_eq!(switches.at(1.2), Position::ORIGIN);
        switches.push(2.0, Position::new(-0.6, 0.7));
        assert_eq!(switches.at(2.1), Position::new(-1.0, 1.0));
        assert_eq!(switches.next_change(2.1), None);
        switches.push(2.2, Position::new(-0.4, 0.1));
        assert_eq!(switches.at(2.2), Position::new(-1.0, 0.0));
    }
}
