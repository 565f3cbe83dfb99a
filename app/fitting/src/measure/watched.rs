//! How much of what was done somebody watched: a machine that is too slow looks too seldom, and
//! what it did not see is missing, not still.

use super::windows::without_pauses;
use crate::task::{Repetition, TaskKind, TaskRecord};
use crate::{Span, Trace};

/// A task of which no more than this share was watched says little.
pub const LEAST_WATCHED_SHARE: f64 = 0.5;
/// A push is out beyond this share of the farthest place that was seen of it.
const OUT_SHARE: f64 = 0.5;
/// No push goes less far than this, share of travel; presumed, no source.
const LEAST_PUSH: f64 = 0.02;
/// A push of which more than this share of its time out lies in gaps may have ended in them.
const MOST_UNWATCHED: f64 = 1.0 / 3.0;

/// A kind of task of which less than the larger part was watched.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LittleWatched {
    /// What was asked.
    pub kind: TaskKind,
    /// How long it took without its pauses, all times together, seconds.
    pub seconds: f64,
    /// Which share of that was watched, 0..=[`LEAST_WATCHED_SHARE`].
    pub share: f64,
}

/// The kinds of task of which less than the larger part was watched, in the order of
/// [`TaskKind::ALL`]. What was measured again on a quicker machine is in it with all its times.
#[must_use]
pub fn little_watched(records: &[TaskRecord]) -> Vec<LittleWatched> {
    TaskKind::ALL
        .into_iter()
        .filter_map(|kind| {
            let of_kind = records.iter().filter(|record| record.ask.kind() == kind);
            let (seconds, watched) = of_kind
                .map(watched_of_all)
                .fold((0.0, 0.0), |sum, one| (sum.0 + one.0, sum.1 + one.1));
            let share = (watched / seconds).clamp(0.0, 1.0);
            (seconds > 0.0 && share <= LEAST_WATCHED_SHARE).then_some(LittleWatched {
                kind,
                seconds,
                share,
            })
        })
        .collect()
}

/// How a task that is over ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ended {
    /// It has a result.
    Done,
    /// It was stopped or skipped before anything of it counted.
    Stopped,
    /// Less than the larger part of it was watched: it says little.
    LittleWatched,
}

impl Ended {
    /// How this one ended.
    #[must_use]
    pub fn of(record: &TaskRecord) -> Self {
        let (seconds, watched) = watched_of_all(record);
        if !record.has_result() {
            Self::Stopped
        } else if seconds > 0.0 && watched <= LEAST_WATCHED_SHARE * seconds {
            Self::LittleWatched
        } else {
            Self::Done
        }
    }
}

/// How much of a stretch of a recording was watched, seconds.
pub(crate) fn watched_within(record: &TaskRecord, span: Span) -> f64 {
    let watched = record.recording.polled.iter().filter_map(|polled| polled.shared_with(span));
    watched.map(Span::seconds).sum()
}

/// How long a task took without its pauses, and how much of that was watched, seconds.
fn watched_of_all(record: &TaskRecord) -> (f64, f64) {
    let polled = &record.recording.polled;
    let (Some(first), Some(last)) = (polled.first(), polled.last()) else { return (0.0, 0.0) };
    let whole = Span { from_seconds: first.from_seconds, to_seconds: last.to_seconds };
    let left = |span: Span| -> f64 {
        without_pauses(span, &record.pauses).into_iter().map(Span::seconds).sum()
    };
    let (seconds, watched) = (left(whole), polled.iter().map(|span| left(*span)).sum::<f64>());
    if seconds.is_finite() && watched.is_finite() { (seconds, watched) } else { (0.0, 0.0) }
}

/// Whether a push was watched where it went: not when it lies in gaps, or never left its place.
pub(super) fn is_push_watched(record: &TaskRecord, push: &Repetition) -> bool {
    let radius = |at: f64| radius_at(record, at);
    let samples = &record.recording.samples;
    let first = samples.partition_point(|sample| sample.arrival_seconds < push.span.from_seconds);
    let farthest = samples[first..]
        .iter()
        .map(|sample| sample.arrival_seconds)
        .take_while(|at| *at < push.span.to_seconds)
        .chain([push.span.from_seconds])
        .filter_map(radius)
        .fold(0.0, f64::max);
    let gaps = record.recording.gaps().into_iter().filter_map(|gap| gap.shared_with(push.span));
    let out = OUT_SHARE * farthest;
    let is_out = |at: f64| radius(at).is_some_and(|radius| radius >= out);
    let missed: f64 = gaps
        .filter(|gap| is_out(gap.from_seconds) || is_out(gap.to_seconds))
        .map(Span::seconds)
        .sum();
    if farthest < LEAST_PUSH || missed <= 0.0 {
        return farthest >= LEAST_PUSH;
    }
    let path = Trace::of(&record.recording, record.axes).within(push.span);
    let watched: f64 = path
        .distances(record.known.centre)
        .into_iter()
        .filter(|(distance, _)| *distance >= out)
        .map(|(_, seconds)| seconds)
        .sum();
    missed <= MOST_UNWATCHED * (watched + missed)
}

/// How far out the stick was told to be at a moment; `None` before anything was told.
fn radius_at(record: &TaskRecord, at: f64) -> Option<f64> {
    let samples = &record.recording.samples;
    let next = samples.partition_point(|sample| sample.arrival_seconds <= at);
    let sample = samples.get(next.checked_sub(1)?)?;
    let radius = (record.axes.position(sample) - record.known.centre).radius();
    radius.is_finite().then_some(radius)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::measure;
    use crate::measure::test_records::pushes;
    use crate::{Direction, Position};

    /// Six pushes to 0.6 upwards, watched but for these spans of each (from its beginning; it is
    /// out from 0.4 to 1.4 s).
    fn watched_but_for(gaps: &[(f64, f64)], of: impl Fn(usize) -> bool) -> TaskRecord {
        let end = (Direction::Up, Position::new(0.0, 0.6));
        let mut record = pushes(0.0, &[end; 6], 100.0, true, |_| Position::ORIGIN);
        let mut edges = vec![0.0];
        for push in (0..6).filter(|push| of(*push)) {
            edges.extend(
                gaps.iter()
                    .flat_map(|(from, to)| [2.0 * push as f64 + from, 2.0 * push as f64 + to]),
            );
        }
        edges.push(12.0);
        record.recording.polled = edges
            .chunks(2)
            .map(|edge| Span { from_seconds: edge[0], to_seconds: edge[1] })
            .collect();
        let polled = record.recording.polled.clone();
        let seen =
            |at: f64| polled.iter().any(|span| span.from_seconds <= at && at <= span.to_seconds);
        record.recording.samples.retain(|sample| seen(sample.arrival_seconds));
        record
    }

    #[test]
    fn a_push_that_nobody_saw_out_there_is_none() {
        let all = measure(&[watched_but_for(&[], |_| true)]).reach.remove(0);
        assert_eq!(all.ends.len(), 6);
        // Two of six lie in gaps, whole or but for their beginnings.
        for gap in [(0.02, 1.9), (0.2, 1.7), (0.3, 1.3)] {
            let record = watched_but_for(&[gap], |push| push < 2);
            let up = measure(&[record]).reach.remove(0);
            assert_eq!(up.ends.len(), 4, "{gap:?}: {:?}", up.ends);
            let reach = up.reach.unwrap();
            assert!(
                (reach.low - 0.6).abs() < 0.015 && (reach.high - 0.6).abs() < 0.01,
                "{reach:?}"
            );
        }
        // A moment is missed.
        let record = watched_but_for(&[(0.7, 0.9)], |_| true);
        assert_eq!(measure(&[record]).reach.remove(0).ends.len(), 6);
        // Nothing was seen.
        let record = watched_but_for(&[(0.02, 1.98)], |_| true);
        assert!(measure(&[record]).reach.is_empty());
    }

    #[test]
    fn a_task_that_was_hardly_watched_is_told_of() {
        let told = |record: TaskRecord| little_watched(&[record]);
        assert!(told(watched_but_for(&[(0.2, 1.0)], |_| true)).is_empty());
        let mut half = watched_but_for(&[(0.2, 1.4)], |_| true);
        assert_eq!(Ended::of(&half), Ended::LittleWatched);
        let little = told(half.clone());
        assert_eq!((little.len(), little[0].kind), (1, TaskKind::Reach));
        assert!((little[0].share - 0.4).abs() < 1e-9 && (little[0].seconds - 12.0).abs() < 1e-9);
        // What was paused is not missing.
        half.pauses = (0..6)
            .map(|push| Span {
                from_seconds: 2.0 * f64::from(push) + 0.2,
                to_seconds: 2.0 * f64::from(push) + 1.4,
            })
            .collect();
        assert_eq!(Ended::of(&half), Ended::Done);
        half.repetitions.clear();
        assert_eq!(Ended::of(&half), Ended::Stopped);
        assert!(told(half).is_empty());
        assert!(
            told(TaskRecord {
                recording: crate::Recording::default(),
                ..watched_but_for(&[], |_| true)
            })
            .is_empty()
        );
    }
}
