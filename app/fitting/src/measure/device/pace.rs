//! How fast states come, and when nobody was looking.

use crate::Span;
use crate::measure::windows::without_pauses;
use crate::task::TaskRecord;

/// The shortest time between two changes in any record, seconds.
pub(super) fn fastest_change_seconds(records: &[TaskRecord]) -> Option<f64> {
    records
        .iter()
        .filter_map(|record| record.recording.fastest_change_seconds())
        .filter(|seconds| seconds.is_finite())
        .min_by(f64::total_cmp)
}

/// Gaps in the polling outside the pauses.
pub(super) fn gaps_that_count(record: &TaskRecord) -> Vec<Span> {
    record
        .recording
        .gaps()
        .into_iter()
        .filter(|gap| gap.seconds().is_finite())
        .flat_map(|gap| without_pauses(gap, &record.pauses))
        .filter(|gap| gap.seconds() > crate::recording::GAP_SECONDS)
        .collect()
}
