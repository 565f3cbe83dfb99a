//! The last few seconds of the chosen source, for the live view.

use std::collections::VecDeque;

use device::gamepad::Pace;
use fitting::{Position, Sample, StickAxes, recording::GAP_SECONDS};

/// How far back samples are kept, seconds.
pub const KEPT_SECONDS: f64 = 3.0;

/// The most samples kept, whatever the rate.
const MOST_SAMPLES: usize = 6_000;

/// Over how long polls are counted, seconds.
const COUNTED_SECONDS: f64 = 1.0;

/// Figures about the stream of samples, since the source was chosen.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct LiveStatistics {
    /// The shortest time between two changes, seconds: the fastest change seen.
    pub fastest_seconds: Option<f64>,
    /// How many changes came in the last second.
    pub changes_per_second: f64,
    /// How often the device was looked at in the last second.
    pub polls_per_second: f64,
    /// Pauses between two polls that were longer than 12 ms, while the page was shown.
    pub gaps: u32,
    /// The longest of them, seconds.
    pub longest_gap_seconds: f64,
}

/// The recent samples and the figures about them.
#[derive(Debug, Default)]
pub(super) struct Live {
    samples: VecDeque<Sample>,
    polls: VecDeque<f64>,
    last_poll_seconds: Option<f64>,
    pace: Pace,
    figures: LiveStatistics,
    /// Whether gaps count: only while polling is meant to be faster than they are.
    counts_gaps: bool,
}

impl Live {
    /// Starts anew: another source.
    pub(super) fn clear(&mut self) {
        let counts_gaps = self.counts_gaps;
        *self = Self { counts_gaps, ..Self::default() };
    }

    /// A pause that was asked for (page hidden, pace changed, device gone) is no gap.
    pub(super) fn cut(&mut self) {
        self.last_poll_seconds = None;
    }

    /// Whether pauses over 12 ms count as gaps from now on. At frame pace every pause is longer.
    pub(super) fn count_gaps(&mut self, counts_gaps: bool) {
        self.counts_gaps = counts_gaps;
        self.cut();
    }

    /// Notes one poll, with the change if there was one.
    pub(super) fn poll(&mut self, now_seconds: f64, change: Option<&Sample>) {
        if let Some(last) = self.last_poll_seconds {
            let pause = now_seconds - last;
            if self.counts_gaps && pause > GAP_SECONDS {
                self.figures.gaps = self.figures.gaps.saturating_add(1);
                self.figures.longest_gap_seconds = self.figures.longest_gap_seconds.max(pause);
            }
        }
        self.last_poll_seconds = Some(now_seconds);
        self.polls.push_back(now_seconds);
        while self.polls.front().is_some_and(|poll| *poll < now_seconds - COUNTED_SECONDS) {
            self.polls.pop_front();
        }
        let Some(change) = change else { return };
        self.pace.note(change.arrival_seconds);
        self.samples.push_back(change.clone());
        // The one before the window is kept too: its values hold at the window's beginning.
        while self.samples.len() > MOST_SAMPLES
            || self.samples.get(1).is_some_and(|s| s.arrival_seconds < now_seconds - KEPT_SECONDS)
        {
            self.samples.pop_front();
        }
    }

    pub(super) fn statistics(&self) -> LiveStatistics {
        let now = self.last_poll_seconds.unwrap_or_default();
        let changes = self
            .samples
            .iter()
            .rev()
            .take_while(|sample| sample.arrival_seconds >= now - COUNTED_SECONDS)
            .count();
        LiveStatistics {
            fastest_seconds: self.pace.fastest_seconds(),
            changes_per_second: count_per_second(changes),
            polls_per_second: count_per_second(self.polls.len()),
            ..self.figures
        }
    }

    pub(super) fn latest(&self) -> Option<&Sample> {
        self.samples.back()
    }

    /// Visits the positions of the last `seconds` (at most [`KEPT_SECONDS`]) in order of time,
    /// beginning with the one that held at the start.
    pub(super) fn trail(
        &self,
        now_seconds: f64,
        seconds: f64,
        axes: StickAxes,
        mut visit: impl FnMut(f64, Position),
    ) {
        let from = now_seconds - seconds.clamp(0.0, KEPT_SECONDS);
        let start = self.samples.partition_point(|s| s.arrival_seconds < from).saturating_sub(1);
        for sample in self.samples.range(start..) {
            visit(sample.arrival_seconds.max(from), axes.position(sample));
        }
    }
}

fn count_per_second(count: usize) -> f64 {
    u32::try_from(count).map_or(f64::INFINITY, f64::from) / COUNTED_SECONDS
}
