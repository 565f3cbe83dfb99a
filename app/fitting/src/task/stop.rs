//! Stopping by the stick itself: any of its buttons held for two seconds.

use super::TaskKind;
use crate::Sample;

/// How long a button is held to mean stop, seconds. A press in passing is shorter.
pub const HELD_SECONDS: f64 = 2.0;

/// From this value on a button counts as held; the open standard names no threshold of its own.
pub const PRESSED: f64 = 0.5;

impl TaskKind {
    /// Whether a held button of the measured stick stops a task of this kind: always, except
    /// where pressing (and holding) its buttons is what is asked. Escape, the control on the page
    /// and another device stop every task.
    #[must_use]
    pub const fn stops_by_held_button(self) -> bool {
        match self {
            Self::Presses => false,
            Self::HandsOff
            | Self::QuietRest
            | Self::BusyRest
            | Self::FreeMovement
            | Self::Reach
            | Self::Hold
            | Self::Sustained
            | Self::Return => true,
        }
    }
}

/// Watches the buttons of the measured stick, or of another device, for a stop.
#[derive(Clone, Debug)]
pub struct StopButton {
    /// How long a press must last, seconds.
    needs_seconds: f64,
    /// Since when each button is held.
    held_since: Vec<Option<f64>>,
    /// A stop was told of and its button is not up yet.
    told: bool,
}

impl StopButton {
    /// For the measured stick itself: a button held for [`HELD_SECONDS`].
    #[must_use]
    pub fn held() -> Self {
        Self { needs_seconds: HELD_SECONDS, held_since: Vec::new(), told: false }
    }

    /// For a device that does nothing else here: any press.
    #[must_use]
    pub fn pressed() -> Self {
        Self { needs_seconds: 0.0, ..Self::held() }
    }

    /// Looks at the state at `now_seconds`; true once for each stop. A button that was already
    /// down at the first look counts only after it was up: some sticks rest with one down.
    pub fn stops(&mut self, now_seconds: f64, state: &Sample) -> bool {
        let first_look = self.held_since.len() != state.buttons.len();
        if first_look {
            // Infinitely late: held from before, so it never grows old enough.
            let down = |value: &f64| (*value >= PRESSED).then_some(f64::INFINITY);
            self.held_since = state.buttons.iter().map(down).collect();
            return false;
        }
        let mut longest = None::<f64>;
        for (since, value) in self.held_since.iter_mut().zip(&state.buttons) {
            if *value < PRESSED {
                *since = None;
            } else {
                let from = *since.get_or_insert(now_seconds);
                let seconds = now_seconds - from;
                longest = Some(longest.map_or(seconds, |longest| longest.max(seconds)));
            }
        }
        let stops = longest.is_some_and(|seconds| seconds >= self.needs_seconds);
        let tells = stops && !self.told;
        self.told = stops;
        tells
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn with(buttons: &[f64]) -> Sample {
        Sample { arrival_seconds: 0.0, axes: vec![0.0, 0.0], buttons: buttons.to_vec() }
    }

    #[test]
    fn two_seconds_of_holding_stop_once() {
        let mut stop = StopButton::held();
        assert!(!stop.stops(0.0, &with(&[0.0, 0.0])));
        assert!(!stop.stops(1.0, &with(&[0.0, 1.0])));
        assert!(!stop.stops(2.9, &with(&[0.0, 1.0])));
        assert!(stop.stops(3.0, &with(&[0.0, 1.0])));
        assert!(!stop.stops(4.0, &with(&[0.0, 1.0])));
        assert!(!stop.stops(5.0, &with(&[0.0, 0.0])));
        assert!(!stop.stops(5.1, &with(&[0.0, 1.0])));
        assert!(stop.stops(7.1, &with(&[0.0, 1.0])));
    }

    #[test]
    fn a_short_press_does_not_stop() {
        let mut stop = StopButton::held();
        stop.stops(0.0, &with(&[0.0]));
        for beat in 0..20 {
            let at = f64::from(beat);
            assert!(!stop.stops(at + 0.1, &with(&[1.0])));
            assert!(!stop.stops(at + 0.6, &with(&[0.0])));
        }
    }

    #[test]
    fn any_press_of_another_device_stops() {
        let mut stop = StopButton::pressed();
        assert!(!stop.stops(0.0, &with(&[0.0, 0.0])));
        assert!(stop.stops(0.1, &with(&[1.0, 0.0])));
        assert!(!stop.stops(0.2, &with(&[1.0, 0.0])));
    }

    #[test]
    fn a_button_that_is_always_down_never_stops() {
        let mut stop = StopButton::held();
        for at in 0..10 {
            assert!(!stop.stops(f64::from(at), &with(&[1.0, 0.0])));
        }
    }
}
