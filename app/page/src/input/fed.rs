//! A device whose states are handed in from outside: its raw reports, read by the later part of the
//! program.

use fitting::{Sample, summary::DeviceSeen};

use super::{adapter::Look, engine::Engine, status::Source};

/// A state handed in longer ago than this came while nobody looked (the page was hidden); it counts
/// from now, seconds.
const LATE_SECONDS: f64 = 0.1;

impl Engine {
    /// The newest state, if it was not taken yet.
    pub(super) fn take_fed(&self, now_seconds: f64) -> Option<Sample> {
        let mut sample = self.fed.take()?;
        if sample.arrival_seconds < now_seconds - LATE_SECONDS {
            sample.arrival_seconds = now_seconds;
        }
        Some(sample)
    }

    /// There is such a device from now on, or none any more.
    pub(super) fn offer(&self, seen: Option<DeviceSeen>) {
        self.fed.take();
        let chosen = self.shown().chosen == Some(Source::Fed);
        // Another one in its place is no source that comes back.
        let same = seen.is_some() && *self.fed_seen.borrow() == seen;
        if chosen && seen.is_some() && !same {
            self.choose(None);
        } else if chosen {
            self.live.borrow_mut().cut();
            self.owes_state();
            self.show(|status| status.device_gone = !same);
            return;
        }
        self.fed_seen.replace(seen);
    }

    /// Takes a state in and tells of it at once, where the device is chosen.
    pub(super) fn feed(&self, sample: Sample) {
        self.fed.replace(Some(sample));
        if self.shown().chosen == Some(Source::Fed) {
            self.poll(Look::IfStamped);
        }
    }
}
