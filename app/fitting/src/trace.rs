//! A recording as a path: each position with the time for which it held.

use crate::{Position, Recording, Span, StickAxes};

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
    #[must_use]
    pub fn of(recording: &Recording, axes: StickAxes) -> Self {
        let mut pieces = Vec::with_capacity(recording.samples.len());
        let mut polled = recording.polled.iter().peekable();
        for (index, sample) in recording.samples.iter().enumerate() {
            let holds = Span {
                from_seconds: sample.arrival_seconds,
                to_seconds: recording
                    .samples
                    .get(index + 1)
                    .map_or(f64::INFINITY, |next| next.arrival_seconds),
            };
            let at = axes.position(sample);
            while let Some(span) = polled.peek() {
                if let Some(span) = holds.shared_with(**span) {
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
