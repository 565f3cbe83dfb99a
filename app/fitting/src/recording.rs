//! What was seen of a device, and when somebody was looking.

mod bytes;
mod column;
mod grid;
mod packed;

use crate::Sample;
use serde::{Deserialize, Serialize};

pub(crate) use packed::{MOST_MEMORY_BYTES, memory_bytes};

/// The most samples of one task that are kept and read: some 26 minutes of unbroken movement at the
/// fastest pace a browser shows (250 a second).
pub const MOST_SAMPLES: usize = 400_000;

/// The most spans of one task, polled or paused, that are kept and read. A machine that looks too seldom
/// begins a span with every look.
pub(crate) const MOST_SPANS: usize = 100_000;

/// Polling pauses longer than this are gaps: what happened in them is missing, not still.
pub const GAP_SECONDS: f64 = 0.012;

/// A length of time on the page's monotonic clock; `from_seconds <= to_seconds`.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Span {
    /// Start, seconds.
    pub from_seconds: f64,
    /// End, seconds.
    pub to_seconds: f64,
}

impl Span {
    /// Length in seconds.
    #[must_use]
    pub fn seconds(self) -> f64 {
        self.to_seconds - self.from_seconds
    }

    /// Whether `at` lies in the span, its end left out.
    #[must_use]
    pub fn holds(self, at_seconds: f64) -> bool {
        self.from_seconds <= at_seconds && at_seconds < self.to_seconds
    }

    /// The part both spans share, if it has any length.
    #[must_use]
    pub fn shared_with(self, other: Self) -> Option<Self> {
        let from_seconds = self.from_seconds.max(other.from_seconds);
        let to_seconds = self.to_seconds.min(other.to_seconds);
        (from_seconds < to_seconds).then_some(Self { from_seconds, to_seconds })
    }
}

/// Change events and clock marks of one stretch of watching a device.
///
/// `samples` are in strictly increasing order of arrival; `polled` are the spans in which the
/// device was polled at least every [`GAP_SECONDS`], in order and not overlapping. A value
/// holds from its arrival to the next; outside the polled spans nothing is known. It is kept packed,
/// without loss.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Recording {
    /// Every change of the device's state.
    pub samples: Vec<Sample>,
    /// When somebody was looking.
    pub polled: Vec<Span>,
}

impl Recording {
    /// Notes one poll at `now_seconds`, with the new state if it changed since the poll before.
    ///
    /// Times that run backwards are held at the last one: a clock set back must not tear the
    /// order. An arrival not after the one before replaces that one's values.
    pub fn poll(&mut self, now_seconds: f64, change: Option<&Sample>) {
        if let Some(change) = change {
            match self.samples.last_mut() {
                Some(last) if change.arrival_seconds <= last.arrival_seconds => {
                    last.axes.clone_from(&change.axes);
                    last.buttons.clone_from(&change.buttons);
                }
                _ => self.samples.push(change.clone()),
            }
        }
        match self.polled.last_mut() {
            Some(span) if now_seconds - span.to_seconds <= GAP_SECONDS => {
                span.to_seconds = span.to_seconds.max(now_seconds);
            }
            _ => self.polled.push(Span { from_seconds: now_seconds, to_seconds: now_seconds }),
        }
    }

    /// Starts a new polled span even if no gap has passed yet: after a pause that was asked for.
    pub fn cut(&mut self, now_seconds: f64) {
        self.polled.push(Span { from_seconds: now_seconds, to_seconds: now_seconds });
    }

    /// Seconds in which the device was watched.
    #[must_use]
    pub fn watched_seconds(&self) -> f64 {
        self.polled.iter().map(|span| span.seconds()).sum()
    }

    /// The gaps between polled spans.
    #[must_use]
    pub fn gaps(&self) -> Vec<Span> {
        self.polled
            .windows(2)
            .map(|pair| Span { from_seconds: pair[0].to_seconds, to_seconds: pair[1].from_seconds })
            .filter(|gap| gap.seconds() > 0.0)
            .collect()
    }

    /// The shortest time between two changes while watched, seconds: the fastest change seen.
    ///
    /// The state that held when watching began is stamped with that moment; it is no change.
    #[must_use]
    pub fn fastest_change_seconds(&self) -> Option<f64> {
        let begins = |at: f64| {
            let next = self.polled.partition_point(|span| span.from_seconds < at);
            self.polled.get(next).is_some_and(|span| span.from_seconds == at)
        };
        self.samples
            .windows(2)
            .filter(|pair| !begins(pair[0].arrival_seconds))
            .map(|pair| pair[1].arrival_seconds - pair[0].arrival_seconds)
            .filter(|seconds| *seconds > 0.0)
            .min_by(f64::total_cmp)
    }
}
