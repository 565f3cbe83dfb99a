//! Which parts of a record count.

use crate::statistics::order::sort_few;
use crate::task::{Outcome, Repetition, TaskKind, TaskRecord};
use crate::trace::Piece;
use crate::{Span, Trace};

/// Left out after each start of a rest: hands settle, springs swing out.
pub const SETTLING_SECONDS: f64 = 1.0;
/// Stretches of rest that are less than this apart go on without settling anew.
const SAME_STRETCH_SECONDS: f64 = 0.1;
/// Time put between the rests of two records when they are laid end to end.
const BETWEEN_RECORDS_SECONDS: f64 = 10.0;

/// What is left of `span` outside the pauses.
pub(super) fn without_pauses(span: Span, pauses: &[Span]) -> Vec<Span> {
    let mut left = vec![span];
    let finite = |pause: &&Span| pause.from_seconds.is_finite() && pause.to_seconds.is_finite();
    for pause in pauses.iter().filter(finite) {
        left = left
            .into_iter()
            .flat_map(|part| {
                let before = Span { to_seconds: part.to_seconds.min(pause.from_seconds), ..part };
                let after = Span { from_seconds: part.from_seconds.max(pause.to_seconds), ..part };
                [before, after]
            })
            .filter(|part| part.seconds() > 0.0)
            .collect();
    }
    left
}

/// Whether a stretch of rest counts: unmarked, and not taken back. One that was cut short by
/// the end of the task counts as far as it goes.
fn rests(repetition: &Repetition) -> bool {
    repetition.mark.is_none()
        && matches!(repetition.outcome, Outcome::Done | Outcome::CutShort)
        && repetition.span.from_seconds.is_finite()
        && repetition.span.to_seconds.is_finite()
}

/// The settled stretches of a rest or hands-off record, in order.
#[must_use]
pub fn settled(record: &TaskRecord) -> Vec<Span> {
    counted(record)
        .into_iter()
        .map(|stretch| Span { from_seconds: stretch.from_seconds + SETTLING_SECONDS, ..stretch })
        .filter(|stretch| stretch.seconds() > 0.0)
        .collect()
}

/// The stretches of a record without cues that count, in order, their beginnings included.
pub(super) fn counted(record: &TaskRecord) -> Vec<Span> {
    let mut parts: Vec<Span> = record
        .repetitions
        .iter()
        .filter(|repetition| rests(repetition))
        .flat_map(|repetition| without_pauses(repetition.span, &record.pauses))
        .collect();
    sort_few(&mut parts, |one, other| one.from_seconds.total_cmp(&other.from_seconds).is_lt());
    let mut stretches: Vec<Span> = Vec::new();
    for part in parts {
        match stretches.last_mut() {
            Some(last) if part.from_seconds - last.to_seconds < SAME_STRETCH_SECONDS => {
                last.to_seconds = last.to_seconds.max(part.to_seconds);
            }
            _ => stretches.push(part),
        }
    }
    stretches
}

/// The settled path of all records of one kind: see [`settled_path_of`].
#[must_use]
pub fn settled_path(records: &[TaskRecord], kind: TaskKind) -> Trace {
    settled_path_of(records, |record| record.ask.kind() == kind)
}

/// The settled path of the records that are `wanted`, laid end to end on a clock of its own that
/// starts at 0 (records may come from different page loads), in absolute positions.
#[must_use]
pub(super) fn settled_path_of(
    records: &[TaskRecord],
    wanted: impl Fn(&TaskRecord) -> bool,
) -> Trace {
    let mut all = Trace::default();
    let mut next_start = 0.0;
    for record in records.iter().filter(|record| wanted(record)) {
        let trace = Trace::of(&record.recording, record.axes).within_all(&settled(record));
        let Some(first) = trace.pieces.first() else { continue };
        let shift = next_start - first.span.from_seconds;
        all.pieces.extend(trace.pieces.iter().map(|piece| Piece {
            span: Span {
                from_seconds: piece.span.from_seconds + shift,
                to_seconds: piece.span.to_seconds + shift,
            },
            at: piece.at,
        }));
        next_start =
            all.pieces.last().map_or(0.0, |last| last.span.to_seconds) + BETWEEN_RECORDS_SECONDS;
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn span(from_seconds: f64, to_seconds: f64) -> Span {
        Span { from_seconds, to_seconds }
    }

    #[test]
    fn pauses_split_a_span() {
        let left = without_pauses(span(0.0, 10.0), &[span(2.0, 3.0), span(9.0, 12.0)]);
        assert_eq!(left, [span(0.0, 2.0), span(3.0, 9.0)]);
        assert!(without_pauses(span(0.0, 1.0), &[span(-1.0, 2.0)]).is_empty());
    }
}
