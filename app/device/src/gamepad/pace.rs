//! How fast a device's changes arrive, for the live view.

use fitting::statistics::order::sort_numbers;
use std::collections::VecDeque;

/// Changes remembered: some four seconds at the fastest pace a browser shows.
const REMEMBERED: usize = 1024;

/// The times between the latest changes of one device.
///
/// A still stick sends nothing, so these are times between changes, never a report rate: the
/// shortest is "the fastest change seen here".
#[derive(Clone, Debug, Default)]
pub struct Pace {
    last_seconds: Option<f64>,
    between: VecDeque<f64>,
    fastest: Option<f64>,
}

/// Figures about the latest changes, in seconds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PaceFigures {
    /// The shortest time between two changes ever seen.
    pub fastest_seconds: f64,
    /// The median time between the latest changes.
    pub median_seconds: f64,
    /// The time that 95 % of the latest changes stayed within.
    pub slowest_twentieth_seconds: f64,
    /// The mean number of changes a second over the latest changes.
    pub changes_per_second: f64,
    /// Share of the latest times longer than one and a half medians: changes that were missed,
    /// if the stick moved all the while.
    pub long_share: f64,
}

impl PaceFigures {
    /// How many changes come in a second while they come one after the other: 1 / median. Pauses, in
    /// which nothing changed, do not lower it.
    #[must_use]
    pub fn typical_per_second(&self) -> f64 {
        1.0 / self.median_seconds
    }
}

impl Pace {
    /// Notes that a change arrived.
    pub fn note(&mut self, arrival_seconds: f64) {
        if let Some(last) = self.last_seconds {
            let seconds = arrival_seconds - last;
            if seconds.is_finite() && seconds > 0.0 {
                if self.between.len() == REMEMBERED {
                    self.between.pop_front();
                }
                self.between.push_back(seconds);
                self.fastest = Some(self.fastest.map_or(seconds, |f| f.min(seconds)));
            }
        }
        if arrival_seconds.is_finite() {
            self.last_seconds = Some(arrival_seconds);
        }
    }

    /// The figures, once there were two changes. Quantiles are linear between order statistics
    /// (Hyndman and Fan 1996, type 7).
    #[must_use]
    pub fn figures(&self) -> Option<PaceFigures> {
        let fastest_seconds = self.fastest?;
        let mut sorted: Vec<f64> = self.between.iter().copied().collect();
        sort_numbers(&mut sorted);
        let median_seconds = quantile(&sorted, 0.5);
        let long = sorted.iter().filter(|seconds| **seconds > 1.5 * median_seconds).count();
        let count = sorted.len() as f64;
        Some(PaceFigures {
            fastest_seconds,
            median_seconds,
            slowest_twentieth_seconds: quantile(&sorted, 0.95),
            changes_per_second: count / sorted.iter().sum::<f64>(),
            long_share: long as f64 / count,
        })
    }
}

/// Of sorted numbers, not empty.
fn quantile(sorted: &[f64], share: f64) -> f64 {
    let place = share * (sorted.len() - 1) as f64;
    let (below, above) = (place.floor() as usize, place.ceil() as usize);
    sorted[below] + (place - place.floor()) * (sorted[above] - sorted[below])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_to_say_before_two_changes() {
        let mut pace = Pace::default();
        assert_eq!(pace.figures(), None);
        pace.note(1.0);
        pace.note(1.0);
        assert_eq!(pace.figures(), None);
        pace.note(1.004);
        assert!((pace.figures().unwrap().fastest_seconds - 0.004).abs() < 1e-12);
    }

    #[test]
    fn times_that_are_no_times_are_passed_over() {
        let mut pace = Pace::default();
        for at in [0.0, f64::NAN, 0.5, 0.25, 0.75] {
            pace.note(at);
        }
        let figures = pace.figures().unwrap();
        assert_eq!(figures.fastest_seconds, 0.5);
        assert_eq!(figures.changes_per_second, 2.0);
        assert_eq!(figures.typical_per_second(), 2.0);
    }
}
