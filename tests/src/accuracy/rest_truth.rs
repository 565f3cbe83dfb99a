//! What an hour of rest of the same person shows.

use fitting::invented::{Model, Resting};
use fitting::measure::events::Sustained;
use fitting::statistics::weighted;
use fitting::trace::Piece;
use fitting::{Pipeline, Position, Span, Trace};

/// Length of the rest that is taken for the truth, seconds.
pub const HOUR_SECONDS: f64 = 3600.0;
/// The hour is played in so many parts, one after the other: less memory at a time. An event
/// that runs over a boundary counts twice, which happens in less than one of a thousand.
const PARTS: usize = 6;

/// An hour of rest.
#[derive(Clone, Debug)]
pub struct Hour {
    parts: Vec<Trace>,
}

impl Hour {
    /// Plays it: the person of `model` rests, seen as in a task.
    #[must_use]
    pub fn played(model: &Model, seed: u64, resting: Resting) -> Self {
        let part_seconds = HOUR_SECONDS / PARTS as f64;
        let mut parts: Vec<Trace> = vec![Trace::default()];
        let mut add = |from_seconds: f64, to_seconds: f64, at: Position| {
            if (from_seconds / part_seconds) as usize >= parts.len() {
                parts.push(Trace::default());
            }
            if let (Some(part), true) = (parts.last_mut(), to_seconds > from_seconds) {
                part.pieces.push(Piece { span: Span { from_seconds, to_seconds }, at });
            }
        };
        let mut held: Option<(f64, Position)> = None;
        for (now, place) in model.rest_path(resting, HOUR_SECONDS, seed) {
            if let Some((since, at)) = held {
                add(since, now, at);
            }
            held = Some((now, place));
        }
        if let Some((since, at)) = held {
            add(since, HOUR_SECONDS, at);
        }
        Self { parts }
    }

    /// Where it rests: the median of each axis over time.
    #[must_use]
    pub fn centre(&self) -> Position {
        let axis = |read: fn(&Position) -> f64| {
            let held: Vec<(f64, f64)> = self
                .parts
                .iter()
                .flat_map(|part| &part.pieces)
                .map(|piece| (read(&piece.at), piece.span.seconds()))
                .collect();
            weighted::median(&held).unwrap_or(0.0)
        };
        Position::new(axis(|at| at.right), axis(|at| at.up))
    }

    /// The distance from `centre` inside which it stays for `share` of the time.
    #[must_use]
    pub fn inside(&self, centre: Position, share: f64) -> f64 {
        let held: Vec<(f64, f64)> =
            self.parts.iter().flat_map(|part| part.distances(centre)).collect();
        weighted::quantile(&held, share).unwrap_or(0.0)
    }

    /// Ready to count events in what the dead zone of `pipeline` sees of it: after centre,
    /// direction and smoothing.
    #[must_use]
    pub fn through(&self, pipeline: &Pipeline) -> Levels {
        let parts: Vec<Sustained> = self
            .parts
            .iter()
            .map(|part| {
                let distances: Vec<(Span, f64)> = pipeline
                    .pushes_over(part)
                    .pieces
                    .iter()
                    .map(|piece| (piece.span, piece.at.radius()))
                    .collect();
                Sustained::of(&distances)
            })
            .collect();
        let minutes = parts.iter().map(Sustained::seconds).sum::<f64>() / 60.0;
        Levels { parts, minutes }
    }
}

/// An hour's sustained distances from the centre, as a dead zone sees them.
#[derive(Clone, Debug)]
pub struct Levels {
    parts: Vec<Sustained>,
    minutes: f64,
}

impl Levels {
    /// Events beyond `radius`, a minute.
    #[must_use]
    pub fn per_minute(&self, radius: f64) -> f64 {
        self.count(radius) as f64 / self.minutes
    }

    fn count(&self, radius: f64) -> usize {
        self.parts.iter().map(|part| part.events_beyond(radius).len()).sum()
    }

    /// The smallest radius from which on no more than `per_minute` events come: at a smaller one
    /// still, movement that never ends may count as a single event.
    #[must_use]
    pub fn smallest_radius(&self, per_minute: f64) -> f64 {
        const LEVELS: usize = 64;
        let most = (per_minute * self.minutes).floor() as usize;
        let largest = self.parts.iter().map(Sustained::largest).fold(0.0, f64::max);
        let level = |index: usize| largest * index as f64 / LEVELS as f64;
        let Some(over) = (0..LEVELS).rev().find(|index| self.count(level(*index)) > most) else {
            return 0.0;
        };
        let (mut over, mut under) = (level(over), level(over + 1));
        for _ in 0..14 {
            let middle = 0.5 * (over + under);
            if self.count(middle) > most {
                over = middle;
            } else {
                under = middle;
            }
        }
        under
    }
}
