//! False movements: what counts as one, and how far out they stay.
//!
//! One definition serves estimate, truth and the effect of settings: **an event is a maximal
//! run beyond the radius that lasts at least one frame of a host (1/60 s); runs less than
//! 250 ms apart are one event.** A run ends where nobody was looking.

use crate::Span;
use crate::statistics::order::sort_pairs;

/// The shortest run beyond the radius that counts: one frame of a host.
pub const SHORTEST_RUN_SECONDS: f64 = 1.0 / 60.0;
/// Runs less than this apart are one event.
pub const APART_SECONDS: f64 = 0.25;
/// Clocks are coarse (100 µs to 1 ms): a frame may look this much shorter than it is.
const CLOCK_SLACK_SECONDS: f64 = 0.0005;
/// Pieces that are this close touch.
const TOUCHING_SECONDS: f64 = 1e-6;

/// The events of a path told as spans in order of time, each inside the radius (`false`) or
/// beyond it (`true`). The span of an event goes from its first run's start to its last's end.
pub fn events(path: impl Iterator<Item = (Span, bool)>) -> Vec<Span> {
    let mut found: Vec<Span> = Vec::new();
    let mut run: Option<Span> = None;
    let mut close = |run: Span| {
        if run.seconds() < SHORTEST_RUN_SECONDS - CLOCK_SLACK_SECONDS {
            return;
        }
        match found.last_mut() {
            Some(last) if run.from_seconds - last.to_seconds < APART_SECONDS => {
                last.to_seconds = run.to_seconds;
            }
            _ => found.push(run),
        }
    };
    for (span, beyond) in path {
        let touches = run.is_some_and(|run| span.from_seconds - run.to_seconds < TOUCHING_SECONDS);
        if let Some(done) = run.take_if(|_| !beyond || !touches) {
            close(done);
        }
        if beyond {
            match &mut run {
                Some(run) => run.to_seconds = span.to_seconds,
                None => run = Some(span),
            }
        }
    }
    if let Some(done) = run {
        close(done);
    }
    found
}

/// An event with the largest level that it sustained.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Event {
    /// From its first run's start to its last run's end.
    pub span: Span,
    /// The largest level held for at least one frame.
    pub size: f64,
}

/// A path of levels (distances from the centre) with what is *sustained* of each: the largest
/// level that the path stays at or above for at least one frame around that moment.
///
/// The sustained level passes a radius exactly where the path has a run beyond it that is long
/// enough to count, so one pass over the recording serves every radius.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sustained {
    /// Spans in order of time with their sustained level.
    pub pieces: Vec<(Span, f64)>,
}

impl Sustained {
    /// Of spans in order of time, not overlapping, with their levels (not negative).
    #[must_use]
    pub fn of(path: &[(Span, f64)]) -> Self {
        // From the highest level down: neighbours already taken join; when a joined stretch
        // grows to the length of a frame, its members are sustained at the present level.
        let mut by_level: Vec<(f64, f64)> =
            path.iter().enumerate().map(|(index, piece)| (-piece.1, index as f64)).collect();
        sort_pairs(&mut by_level);
        let touches = |left: usize| {
            path[left + 1].0.from_seconds - path[left].0.to_seconds < TOUCHING_SECONDS
        };
        let long_enough = SHORTEST_RUN_SECONDS - CLOCK_SLACK_SECONDS;
        let mut sustained: Vec<Option<f64>> = vec![None; path.len()];
        // At both ends of a stretch stands where its other end is.
        let mut other_end: Vec<Option<usize>> = vec![None; path.len()];
        for (_, index) in by_level {
            let index = index as usize;
            let level = path[index].1;
            let left = index.checked_sub(1).filter(|&left| touches(left));
            let first = left.and_then(|left| other_end[left]).unwrap_or(index);
            let right = Some(index + 1).filter(|&right| right < path.len() && touches(index));
            let last = right.and_then(|right| other_end[right]).unwrap_or(index);
            other_end[index] = Some(index);
            other_end[first] = Some(last);
            other_end[last] = Some(first);
            if path[last].0.to_seconds - path[first].0.from_seconds >= long_enough {
                // Parts that were long enough before are marked already; the rest is short.
                for member in (first..=index).rev() {
                    if member < index && sustained[member].is_some() {
                        break;
                    }
                    sustained[member] = Some(level);
                }
                for member in sustained.iter_mut().take(last + 1).skip(index + 1) {
                    if member.is_some() {
                        break;
                    }
                    *member = Some(level);
                }
            }
        }
        let pieces = path
            .iter()
            .zip(sustained)
            .map(|((span, _), level)| (*span, level.unwrap_or(0.0)))
            .collect();
        Self { pieces }
    }

    /// The events beyond `radius`, in order of time.
    #[must_use]
    pub fn events_beyond(&self, radius: f64) -> Vec<Event> {
        let mut found: Vec<Event> = Vec::new();
        for (span, level) in &self.pieces {
            if *level <= radius {
                continue;
            }
            match found.last_mut() {
                Some(last) if span.from_seconds - last.span.to_seconds < APART_SECONDS => {
                    last.span.to_seconds = span.to_seconds;
                    last.size = last.size.max(*level);
                }
                _ => found.push(Event { span: *span, size: *level }),
            }
        }
        found
    }

    /// The largest sustained level; 0 of nothing.
    #[must_use]
    pub fn largest(&self) -> f64 {
        self.pieces.iter().map(|piece| piece.1).fold(0.0, f64::max)
    }

    /// Seconds in all.
    #[must_use]
    pub fn seconds(&self) -> f64 {
        self.pieces.iter().map(|piece| piece.0.seconds()).sum()
    }

    /// What lies outside `spans` (in order).
    #[must_use]
    pub fn without(&self, spans: &[Span]) -> Self {
        let outside =
            |span: &Span| spans.iter().all(|left_out| left_out.shared_with(*span).is_none());
        let pieces = self.pieces.iter().filter(|piece| outside(&piece.0)).copied().collect();
        Self { pieces }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::{Strategy, prop_assert_eq, proptest};

    fn path(levels: &[(f64, f64)]) -> Vec<(Span, f64)> {
        let mut at = 0.0;
        levels
            .iter()
            .map(|&(seconds, level)| {
                let from_seconds = at;
                at += seconds;
                (Span { from_seconds, to_seconds: at }, level)
            })
            .collect()
    }

    fn count(levels: &[(f64, f64)], radius: f64) -> usize {
        events(path(levels).into_iter().map(|(span, level)| (span, level > radius))).len()
    }

    #[test]
    fn short_runs_do_not_count_and_close_runs_are_one() {
        let second_apart = [(1.0, 0.0), (0.1, 0.5), (1.0, 0.0), (0.1, 0.5), (1.0, 0.0)];
        assert_eq!(count(&second_apart, 0.2), 2);
        assert_eq!(count(&second_apart, 0.5), 0);
        let close = [(1.0, 0.0), (0.1, 0.5), (0.2, 0.0), (0.1, 0.5), (1.0, 0.0)];
        assert_eq!(count(&close, 0.2), 1);
        assert_eq!(count(&[(1.0, 0.0), (0.010, 0.5), (1.0, 0.0)], 0.2), 0);
        assert_eq!(count(&[(1.0, 0.0), (0.0166, 0.5), (1.0, 0.0)], 0.2), 1);
        // Two short ones side by side are one run that is long enough.
        assert_eq!(count(&[(1.0, 0.0), (0.010, 0.5), (0.010, 0.4), (1.0, 0.0)], 0.2), 1);
    }

    #[test]
    fn a_run_ends_where_nobody_looked() {
        let mut split = path(&[(0.01, 0.5), (0.01, 0.5)]);
        split[1].0 = Span { from_seconds: 0.03, to_seconds: 0.04 };
        assert!(events(split.into_iter().map(|(span, level)| (span, level > 0.2))).is_empty());
    }

    proptest! {
        /// The sustained level and the plain definition count the same at every radius.
        #[test]
        fn sustained_levels_count_what_the_definition_counts(
            levels in proptest::collection::vec((0.001..0.4_f64, (0..12_u8).prop_map(f64::from)), 0..60),
            radius in 0.0..12.0_f64,
        ) {
            let path = path(&levels);
            let plain = events(path.iter().map(|(span, level)| (*span, *level > radius)));
            let sustained = Sustained::of(&path).events_beyond(radius);
            let spans: Vec<Span> = sustained.iter().map(|event| event.span).collect();
            prop_assert_eq!(plain, spans);
        }
    }
}
