//! A recording ends before it holds more than may be kept: what would be refused later is lost.

use super::{TaskRun, Work};
use crate::recording::{MOST_MEMORY_BYTES, MOST_SAMPLES, MOST_SPANS, memory_bytes};
use crate::sample::MOST_CONTROLS;
use crate::task::MOST_REPETITIONS;

/// So much of each is left when a task is closed. One poll or command adds a sample, two spans and a
/// repetition at most, and the end of the task one more of each.
const MARGIN: usize = 8;

/// The most memory that one sample may take, bytes.
const LARGEST_SAMPLE_BYTES: usize = 64 + 16 * MOST_CONTROLS;

impl TaskRun {
    /// Whether the task was ended because its recording is as long as any that may be kept. What there is
    /// can be kept; another task goes on.
    #[must_use]
    pub const fn is_full(&self) -> bool {
        self.full
    }

    /// Counts the memory of the samples, and ends the task when the next poll might be one too many.
    pub(super) fn close_if_full(&mut self) {
        let samples = &self.recording.samples;
        // The last one may have been replaced by one of another shape.
        let (counted, bytes) = self.memory;
        let fresh = samples.get(counted..).unwrap_or_default();
        self.memory = match fresh.split_last() {
            Some((_, settled)) => {
                (samples.len() - 1, bytes + settled.iter().map(memory_bytes).sum::<usize>())
            }
            None => (counted, bytes),
        };
        let bytes = self.memory.1 + samples.last().map_or(0, memory_bytes);
        let repetitions = match &self.work {
            Work::Rest(rest) => rest.repetitions.len(),
            Work::Cued(cued) => cued.repetitions.len(),
        };
        let has_room = samples.len() + MARGIN <= MOST_SAMPLES
            && bytes + MARGIN * LARGEST_SAMPLE_BYTES <= MOST_MEMORY_BYTES
            && self.recording.polled.len() + MARGIN <= MOST_SPANS
            && self.pauses.len() + MARGIN <= MOST_SPANS
            && repetitions + MARGIN <= MOST_REPETITIONS;
        if !has_room && !self.over {
            self.stop();
            self.full = true;
        }
    }
}
