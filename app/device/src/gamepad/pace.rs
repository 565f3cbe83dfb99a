//! How soon one change follows another, for the live view.

/// The shortest time between two changes of one device. A still stick sends nothing and a busy page
/// is handed several at once, so it is no report rate: see [`super::ReportRate`].
#[derive(Clone, Debug, Default)]
pub struct Pace {
    last_seconds: Option<f64>,
    fastest: Option<f64>,
}

impl Pace {
    /// Notes that a change arrived.
    pub fn note(&mut self, arrival_seconds: f64) {
        if let Some(last) = self.last_seconds {
            let seconds = arrival_seconds - last;
            if seconds.is_finite() && seconds > 0.0 {
                self.fastest = Some(self.fastest.map_or(seconds, |fastest| fastest.min(seconds)));
            }
        }
        if arrival_seconds.is_finite() {
            self.last_seconds = Some(arrival_seconds);
        }
    }

    /// The shortest time between two changes ever seen, seconds.
    #[must_use]
    pub fn fastest_seconds(&self) -> Option<f64> {
        self.fastest
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_to_say_before_two_changes() {
        let mut pace = Pace::default();
        assert_eq!(pace.fastest_seconds(), None);
        pace.note(1.0);
        pace.note(1.0);
        assert_eq!(pace.fastest_seconds(), None);
        pace.note(1.004);
        assert!((pace.fastest_seconds().unwrap() - 0.004).abs() < 1e-12);
    }

    #[test]
    fn times_that_are_no_times_are_passed_over() {
        let mut pace = Pace::default();
        for at in [0.0, f64::NAN, 0.5, 0.25, 0.75] {
            pace.note(at);
        }
        assert_eq!(pace.fastest_seconds(), Some(0.5));
    }
}
