//! The recordings that settings are judged on, as the pieces they are judged by.

use crate::measure::hold::holds_in;
use crate::measure::pushes::{Pushes, of_reach};
use crate::measure::windows::settled_path;
use crate::pipeline::FRAME_SECONDS;
use crate::recording::GAP_SECONDS;
use crate::task::{TaskKind, TaskRecord};
use crate::trace::{MOST_READ_OFF, Piece};
use crate::{Position, Span, Trace};

/// Smoothing is given this long to settle before a hold begins, seconds.
const LEAD_SECONDS: f64 = 1.0;

/// One hold: the frames of a host from a moment before it on, absolute.
#[derive(Clone, Debug)]
pub(super) struct HeldFrames {
    pub(super) level: f64,
    pub(super) frames: Vec<Position>,
    /// The first frame that is part of the hold.
    pub(super) from: usize,
}

/// One push from the cue to its end, read off at the frames of a host, absolute.
#[derive(Clone, Debug)]
pub(super) struct PushedFrames {
    pub(super) frames: Vec<Position>,
}

/// The settled quiet rest, absolute, on a clock of its own.
pub(super) fn quiet_rest(records: &[TaskRecord]) -> Trace {
    settled_path(records, TaskKind::QuietRest)
}

/// All holds that count, in order of time.
pub(super) fn held_frames(records: &[TaskRecord]) -> Vec<HeldFrames> {
    let mut found = Vec::new();
    let mut read = 0;
    for record in records.iter().filter(|record| record.ask.kind() == TaskKind::Hold) {
        let whole = Trace::of(&record.recording, record.axes);
        for hold in holds_in(record, &whole) {
            let Some(span) = extent(&hold.path) else { continue };
            let from_seconds = span.from_seconds - LEAD_SECONDS;
            let (began, frames) = frames(&whole.within(Span { from_seconds, ..span }));
            let lead = ((span.from_seconds - began) / FRAME_SECONDS - 1e-6).max(0.0);
            let from = libm::ceil(lead) as usize;
            if from + 2 < frames.len() && read < MOST_READ_OFF {
                read += frames.len();
                found.push(HeldFrames { level: hold.level, frames, from });
            }
        }
    }
    found
}

/// All pushes that tell reach.
pub(super) fn pushed_frames(records: &[TaskRecord]) -> Vec<PushedFrames> {
    let mut found = Vec::new();
    let mut read = 0;
    for Pushes { record, pushes } in of_reach(records) {
        let whole = Trace::of(&record.recording, record.axes);
        for push in pushes {
            let (_, frames) = frames(&whole.within(push.span));
            if frames.len() > 2 && read < MOST_READ_OFF {
                read += frames.len();
                found.push(PushedFrames { frames });
            }
        }
    }
    found
}

/// From the first to the last moment of a path.
fn extent(path: &Trace) -> Option<Span> {
    let (first, last) = path.pieces.first().zip(path.pieces.last())?;
    Some(Span { from_seconds: first.span.from_seconds, to_seconds: last.span.to_seconds })
}

/// The last stretch of a path without a gap, read off at the frames of a host from its first
/// moment on, and when it began.
fn frames(path: &Trace) -> (f64, Vec<Position>) {
    let gap = path
        .pieces
        .windows(2)
        .rposition(|pair| pair[1].span.from_seconds - pair[0].span.to_seconds > GAP_SECONDS);
    let stretch = &path.pieces[gap.map_or(0, |before| before + 1)..];
    let began = stretch.first().map_or(0.0, |piece| piece.span.from_seconds);
    let mut read = Vec::new();
    for piece in stretch {
        while read.len() < MOST_READ_OFF {
            let next = began + read.len() as f64 * FRAME_SECONDS;
            // A frame at a change shows what holds from then on.
            if next >= piece.span.to_seconds - 1e-9 {
                break;
            }
            read.push(piece.at);
        }
    }
    (began, read)
}

/// A path as one piece for each frame of a host: what smoothing sees of it.
pub(super) fn at_frames(path: &Trace) -> Trace {
    let mut out: Vec<Piece> = Vec::new();
    let (mut began, mut count, mut end) = (0.0, 0.0, f64::NEG_INFINITY);
    for piece in &path.pieces {
        if piece.span.from_seconds - end > GAP_SECONDS {
            end_with(&mut out, end);
            (began, count) = (piece.span.from_seconds, 0.0);
        }
        end = piece.span.to_seconds;
        let mut next = began + count * FRAME_SECONDS;
        while next < end - 1e-9 && out.len() < MOST_READ_OFF {
            count += 1.0;
            let to_seconds = began + count * FRAME_SECONDS;
            out.push(Piece { span: Span { from_seconds: next, to_seconds }, at: piece.at });
            next = to_seconds;
        }
    }
    end_with(&mut out, end);
    Trace { pieces: out }
}

/// The last frame of a stretch ends with it.
fn end_with(out: &mut [Piece], end: f64) {
    if let Some(last) = out.last_mut() {
        last.span.to_seconds = last.span.to_seconds.min(end);
    }
}
