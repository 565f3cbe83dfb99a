//! A device whose states are handed in from outside: its raw reports, read by the later part of the
//! program.

use fitting::{Sample, summary::DeviceSeen};

use super::{adapter::Look, engine::Engine, status::Source};

/// A state handed in longer ago than this came while nobody looked (the page was hidden); it counts
/// from now, seconds.
const LATE_SECONDS: f64 = 0.1;

/// The newest state.
#[derive(Debug, Default)]
pub(super) struct Fed {
    latest: Option<Sample>,
    taken: bool,
}

impl Fed {
    /// The newest state, if it was not taken yet.
    pub(super) fn take(&mut self, now_seconds: f64) -> Option<Sample> {
        if std::mem::replace(&mut self.taken, true) {
            return None;
        }
        let mut sample = self.latest.clone()?;
        if sample.arrival_seconds < now_seconds - LATE_SECONDS {
            sample.arrival_seconds = now_seconds;
        }
        Some(sample)
    }

    /// The newest state may be taken again: somebody else wants it.
    pub(super) fn again(&mut self) {
        self.taken = false;
    }
}

impl Engine {
    /// There is such a device from now on, or none any more.
    pub(super) fn offer(&self, seen: Option<DeviceSeen>) {
        self.fed.replace(Fed::default());
        let before = self.shown();
        let chosen = before.chosen == Some(Source::Fed);
        // Another one in its place is no source that comes back.
        let same = seen.is_some() && before.fed == seen;
        if chosen && seen.is_some() && !same {
            self.choose(None);
        } else if chosen {
            self.live.borrow_mut().cut();
            self.owes_state();
        }
        self.show(|status| {
            if status.chosen == Some(Source::Fed) {
                status.device_gone = !same;
            } else {
                status.fed = seen;
            }
        });
    }

    /// Takes a state in and tells of it at once, where the device is chosen.
    pub(super) fn feed(&self, sample: Sample) {
        self.fed.replace(Fed { latest: Some(sample), taken: false });
        if self.shown().chosen == Some(Source::Fed) {
            self.poll(Look::IfStamped);
        }
    }
}
