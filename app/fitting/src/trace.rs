//! A recording as a path: each position with the time for which it held.

use crate::recording::GAP_SECONDS;
use crate::{Position, Recording, Span, StickAxes};

/// The farthest place on an axis that is believed, shares of travel: a hat at rest may read
/// 3.3, nothing honest reads more.
pub const FARTHEST: f64 = 4.0;

/// The most values that a path is read off to: over 80 minutes at 60 a second. What follows is
/// left out, so that no imported recording keeps a computer busy without end.
pub const MOST_READ_OFF: usize = 300_000;

/// One position and the span for which it held.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// When.
    pub span: Span,
    /// Where, shares of travel.
    pub at: Position,
}

/// A path of constant pieces in order of time. Where nobody was looking there is no piece.
///
/// Every figure about movement is computed from this type, so that it weighs time and not the
/// number of reports: the same movement reported 60 or 1000 times a second, or only on change,
/// gives the same figure.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Trace {
    /// The pieces, in order, not overlapping, each longer than nothing.
    pub pieces: Vec<Piece>,
}

impl Trace {
    /// The path of `axes` in `recording`.
    ///
    /// Whatever the recording holds, every piece is finite: a sample whose stick axes or time
    /// are not is passed over (the position before it holds on), positions are held to
    /// [`FARTHEST`] on each axis, and time that was told already is not told twice.
    #[must_use]
    pub fn of(recording: &Recording, axes: StickAxes) -> Self {
        let mut pieces: Vec<Piece> = Vec::with_capacity(recording.samples.len());
        let places: Vec<(f64, Position)> = recording
            .samples
            .iter()
            .map(|sample| (sample.arrival_seconds, axes.position(sample)))
            .filter(|(at, place)| at.is_finite() && place.right.is_finite() && place.up.is_finite())
            .collect();
        let mut told_to = f64::NEG_INFINITY;
        let mut polled = recording.polled.iter().peekable();
        for (index, (from_seconds, place)) in places.iter().enumerate() {
            let holds = Span {
                from_seconds: from_seconds.max(told_to),
                to_seconds: places.get(index + 1).map_or(f64::INFINITY, |next| next.0),
            };
            let at = Position::new(
                place.right.clamp(-FARTHEST, FARTHEST),
                place.up.clamp(-FARTHEST, FARTHEST),
            );
            while let Some(span) = polled.peek() {
                if let Some(span) = holds
                    .shared_with(**span)
                    .filter(|span| span.from_seconds >= told_to && span.seconds().is_finite())
                {
                    told_to = span.to_seconds;
                    pieces.push(Piece { span, at });
                }
                // The span may go on under the next sample; only then is it kept.
                if span.to_seconds > holds.to_seconds {
                    break;
                }
                polled.next();
            }
        }
        Self { pieces }
    }

    /// The part of the path inside `window`.
    #[must_use]
    pub fn within(&self, window: Span) -> Self {
        let start =
            self.pieces.partition_point(|piece| piece.span.to_seconds <= window.from_seconds);
        let pieces = self.pieces[start..]
            .iter()
            .take_while(|piece| piece.span.from_seconds < window.to_seconds)
            .filter_map(|piece| {
                piece.span.shared_with(window).map(|span| Piece { span, at: piece.at })
            })
            .collect();
        Self { pieces }
    }

    /// The parts of the path inside any of `windows`, which are in order and do not overlap.
    #[must_use]
    pub fn within_all(&self, windows: &[Span]) -> Self {
        Self { pieces: windows.iter().flat_map(|window| self.within(*window).pieces).collect() }
    }

    /// Distances from `centre`, each with the seconds for which it held.
    #[must_use]
    pub fn distances(&self, centre: Position) -> Vec<(f64, f64)> {
        let distance = |piece: &Piece| ((piece.at - centre).radius(), piece.span.seconds());
        self.pieces.iter().map(distance).collect()
    }

    /// The median of each axis over time; `None` of an empty path.
    #[must_use]
    pub fn median(&self) -> Option<Position> {
        let axis = |read: fn(&Position) -> f64| {
            let held: Vec<(f64, f64)> =
                self.pieces.iter().map(|piece| (read(&piece.at), piece.span.seconds())).collect();
            crate::statistics::weighted::median(&held)
        };
        Some(Position::new(axis(|at| at.right)?, axis(|at| at.up)?))
    }

    /// The path read off every `step_seconds`, in stretches without a gap of more than
    /// [`crate::recording::GAP_SECONDS`]; at most [`MOST_READ_OFF`] values.
    #[must_use]
    pub fn read_off(&self, step_seconds: f64) -> Vec<Vec<Position>> {
        let mut stretches: Vec<Vec<Position>> = Vec::new();
        let mut next = f64::NEG_INFINITY;
        let mut end = f64::NEG_INFINITY;
        let mut read = 0;
        for piece in &self.pieces {
            if stretches.is_empty() || piece.span.from_seconds - end > GAP_SECONDS {
                stretches.push(Vec::new());
                next = piece.span.from_seconds + 0.5 * step_seconds;
            }
            end = piece.span.to_seconds;
            if let Some(stretch) = stretches.last_mut() {
                while next < end && read < MOST_READ_OFF {
                    read += 1;
                    stretch.push(piece.at);
                    next += step_seconds;
                }
            }
        }
        stretches
    }

    /// Seconds the path covers.
    #[must_use]
    pub fn seconds(&self) -> f64 {
        self.pieces.iter().map(|piece| piece.span.seconds()).sum()
    }

    /// The same path about another centre: every position less `centre`.
    #[must_use]
    pub fn about(&self, centre: Position) -> Self {
        let pieces =
            self.pieces.iter().map(|piece| Piece { span: piece.span, at: piece.at - centre });
        Self { pieces: pieces.collect() }
    }

    /// Whether the path has no length.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.pieces.is_empty()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Sample;

    fn recording(samples: &[(f64, f64)], polled: &[(f64, f64)]) -> Recording {
        Recording {
            samples: samples
                .iter()
                .map(|&(arrival_seconds, right)| Sample {
                    arrival_seconds,
                    axes: vec![right, 0.0],
                    buttons: Vec::new(),
                })
                .collect(),
            polled: polled
                .iter()
                .map(|&(from_seconds, to_seconds)| Span { from_seconds, to_seconds })
                .collect(),
        }
    }

    #[test]
    fn a_value_holds_until_the_next_and_gaps_are_missing() {
        let trace = Trace::of(
            &recording(&[(0.0, 0.1), (2.0, 0.2), (4.5, 0.3)], &[(0.5, 3.0), (4.0, 5.0)]),
            StickAxes::default(),
        );
        let told: Vec<(f64, f64, f64)> = trace
            .pieces
            .iter()
            .map(|p| (p.span.from_seconds, p.span.to_seconds, p.at.right))
            .collect();
        assert_eq!(told, [(0.5, 2.0, 0.1), (2.0, 3.0, 0.2), (4.0, 4.5, 0.2), (4.5, 5.0, 0.3)]);
        assert_eq!(trace.seconds(), 3.5);
        assert_eq!(trace.median(), Some(Position::new(0.2, 0.0)));
        assert_eq!(trace.read_off(0.5).iter().map(Vec::len).collect::<Vec<_>>(), [5, 2]);
    }

    #[test]
    fn what_is_not_finite_leaves_no_piece() {
        let trace = Trace::of(
            &recording(
                &[(0.0, f64::NAN), (1.0, 1e300), (f64::NAN, 0.1), (2.0, 0.2)],
                &[(0.0, 3.0), (f64::NAN, 4.0), (1.0, 3.0), (3.0, f64::INFINITY)],
            ),
            StickAxes::default(),
        );
        assert!(trace.pieces.iter().all(|p| p.span.seconds() > 0.0 && p.at.right <= FARTHEST));
        assert!(trace.seconds().is_finite());
    }
}
