//! How a stick's states come to the page: reports, some of them late or lost, and a browser that
//! looks now and then and tells only of changes.

use super::random::Random;
use std::collections::VecDeque;

/// How often states come, and what happens on the way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reporting {
    /// Time between two reports of the stick, seconds; 0.001 to 0.1.
    pub seconds: f64,
    /// A report is on its way for up to this share of that time, even from 0 on; 0..=1.
    pub jitter: f64,
    /// The share of reports that never arrive, 0..=0.5.
    pub lost: f64,
    /// The browser looks this often, seconds, and stamps a state with when it looked; 0 where
    /// every report is seen and stamped as it arrives.
    pub browser_seconds: f64,
}

impl Default for Reporting {
    /// 250 reports a second, each seen as it comes.
    fn default() -> Self {
        Self { seconds: 0.004, jitter: 0.0, lost: 0.0, browser_seconds: 0.0 }
    }
}

impl Reporting {
    /// The same with every number brought into its range.
    #[must_use]
    pub(super) fn sound(self) -> Self {
        let within = |value: f64, low: f64, high: f64, other: f64| {
            if value.is_finite() { value.clamp(low, high) } else { other }
        };
        Self {
            seconds: within(self.seconds, 0.001, 0.1, 0.004),
            jitter: within(self.jitter, 0.0, 1.0, 0.0),
            lost: within(self.lost, 0.0, 0.5, 0.0),
            browser_seconds: within(self.browser_seconds, 0.0, 0.1, 0.0),
        }
    }
}

/// One state of the device: the stick's two axes, and a bit for each button that is down.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct State {
    pub(super) axes: [f64; 2],
    pub(super) pressed: u32,
}

/// Reports under way.
#[derive(Clone, Debug)]
pub(super) struct Reports {
    reporting: Reporting,
    random: Random,
    /// When the browser's first look was, seconds.
    looks_from: f64,
    under_way: VecDeque<(f64, State)>,
}

impl Reports {
    /// For sound numbers.
    pub(super) fn new(reporting: Reporting, seed: u64) -> Self {
        let random = Random::new(seed, 41);
        Self { reporting, random, looks_from: 0.0, under_way: VecDeque::new() }
    }

    /// The browser begins to look within one look of now.
    pub(super) fn start(&mut self, now: f64) {
        self.looks_from = now + self.random.even() * self.reporting.browser_seconds;
    }

    /// The stick sends its state `now`.
    pub(super) fn send(&mut self, now: f64, state: State) {
        let Reporting { seconds, jitter, lost, browser_seconds } = self.reporting;
        if lost > 0.0 && self.random.chance(lost) {
            return;
        }
        let late = if jitter > 0.0 { self.random.even() * jitter * seconds } else { 0.0 };
        let mut seen = now + late;
        if browser_seconds > 0.0 {
            let looks = ((seen - self.looks_from) / browser_seconds).ceil();
            seen = self.looks_from + looks * browser_seconds;
        }
        match self.under_way.back_mut() {
            // The browser sees only the newest of what came between two looks.
            Some(last) if last.0 >= seen => last.1 = state,
            _ => self.under_way.push_back((seen, state)),
        }
    }

    /// The next state that the browser has seen by `now`, with its stamp. Everything that was
    /// sent before `now` must have been.
    pub(super) fn next_seen(&mut self, now: f64) -> Option<(f64, State)> {
        if self.under_way.front().is_some_and(|first| first.0 <= now) {
            self.under_way.pop_front()
        } else {
            None
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What is seen of a state that changes with every report, for a minute.
    fn seen(reporting: Reporting) -> Vec<(f64, State)> {
        let mut reports = Reports::new(reporting, 3);
        reports.start(0.0);
        let mut all = Vec::new();
        for step in 0..(60.0 / reporting.seconds) as u32 {
            let now = f64::from(step) * reporting.seconds;
            reports.send(now, State { axes: [f64::from(step), 0.0], pressed: 0 });
            while let Some(one) = reports.next_seen(now) {
                all.push(one);
            }
        }
        all
    }

    #[test]
    fn every_report_of_a_plain_stick_is_seen_when_it_is_sent() {
        let all = seen(Reporting::default());
        assert_eq!(all.len(), 15_000);
        assert!(all.iter().all(|(at, state)| (at - 0.004 * state.axes[0]).abs() < 1e-9));
    }

    #[test]
    fn late_reports_keep_their_order_and_lost_ones_are_missing() {
        let reporting = Reporting { jitter: 1.0, lost: 0.1, ..Reporting::default() };
        let all = seen(reporting);
        let share = all.len() as f64 / 15_000.0;
        // Four standard errors of a share of 0.9.
        assert!((share - 0.9).abs() < 0.01, "{share}");
        assert!(all.windows(2).all(|pair| pair[0].0 < pair[1].0));
        assert!(all.windows(2).all(|pair| pair[0].1.axes[0] < pair[1].1.axes[0]));
        let late: f64 = all.iter().map(|(at, state)| at - 0.004 * state.axes[0]).sum();
        let late = late / all.len() as f64;
        assert!((late - 0.002).abs() < 0.0001, "even between 0 and 4 ms: {late}");
    }

    #[test]
    fn a_browser_shows_at_most_one_state_a_look() {
        let reporting = Reporting {
            seconds: 0.001,
            jitter: 0.5,
            browser_seconds: 0.004,
            ..Reporting::default()
        };
        let all = seen(reporting);
        assert!((14_990..=15_000).contains(&all.len()), "{}", all.len());
        for pair in all.windows(2) {
            let looks = (pair[1].0 - pair[0].0) / 0.004;
            assert!((looks - looks.round()).abs() < 1e-6 && looks > 0.5);
        }
        // Never older than one look and one report.
        assert!(all.iter().all(|(at, state)| *at - 0.001 * state.axes[0] < 0.0055));
    }
}
