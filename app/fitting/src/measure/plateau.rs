//! Where a push ends: the place it is kept at between the way out and the way back.

use crate::{Position, Span, Trace};

/// The path is read off this often, seconds.
const READ_SECONDS: f64 = 0.005;
/// It is smoothed over this long to tell when the push was out, seconds: one wave of a 4 Hz
/// tremor, so that neither its crests nor its troughs decide.
const SMOOTH_SECONDS: f64 = 0.25;
/// A push is out beyond this share of the farthest smoothed distance: well below, because the
/// farthest is where unsteadiness adds to the push, and a share near it would keep only that.
const OUT_SHARE: f64 = 0.7;
/// It is at its beginning before this share of it.
const BEGINS_SHARE: f64 = 0.15;
/// From 15 to 70 % of the way a minimum-jerk movement takes 0.32 of its time, and 0.39 from
/// there to its end (Flash and Hogan 1985): 1.23 times as long. A small correcting movement at the
/// end makes it somewhat longer.
const END_OF_WAY: f64 = 1.3;
/// At least this share of the time out is kept, its middle: a quick push has hardly a plateau.
const LEAST_KEPT: f64 = 1.0 / 3.0;

/// The place of a push's plateau, from `centre`, inside `span` of a path: the median over time
/// of each axis between the end of the way out and the beginning of the way back. `None` when
/// nobody was looking.
///
/// When the push was out is told from the path smoothed over 250 ms: beyond 70 % of its farthest
/// distance, less what is still way at both ends of that (1.3 times the time that the way between
/// 15 and 70 % took). The median of what is left is neither drawn out by tremor, as a
/// maximum is, nor drawn in by the ways.
#[must_use]
pub fn plateau(path: &Trace, centre: Position, span: Span) -> Option<Position> {
    let push = path.within(span).about(centre);
    let top = top(&push).map(|top| push.within(top)).filter(|top| !top.is_empty());
    top.unwrap_or(push).median()
}

/// When the push was at its plateau; `None` of a path too short to tell.
fn top(push: &Trace) -> Option<Span> {
    let (times, distances) = smoothed(push);
    let farthest = distances.iter().copied().fold(0.0, f64::max);
    let out = |distance: &f64| *distance >= OUT_SHARE * farthest;
    let near = |distance: &f64| *distance <= BEGINS_SHARE * farthest;
    let first = distances.iter().position(out)?;
    let last = distances.iter().rposition(out)?;
    let (from, to) = (*times.get(first)?, *times.get(last)?);
    // Of a way that was not watched from its beginning counts what was watched.
    let begins = distances[..first].iter().rposition(near).unwrap_or(0);
    let ends = distances[last..].iter().position(near).map_or(times.len() - 1, |on| last + on);
    let (before, after) = (END_OF_WAY * (from - times[begins]), END_OF_WAY * (times[ends] - to));
    let most = (1.0 - LEAST_KEPT) * (to - from);
    let factor = if before + after > most { most / (before + after) } else { 1.0 };
    let top = Span { from_seconds: from + factor * before, to_seconds: to - factor * after };
    (top.seconds() > 0.0).then_some(top)
}

/// Times and distances of the path, its places smoothed by a moving mean; beside a gap over what
/// there is.
fn smoothed(push: &Trace) -> (Vec<f64>, Vec<f64>) {
    let mut reads: Vec<(f64, Position)> = Vec::new();
    let mut next = f64::NEG_INFINITY;
    for piece in &push.pieces {
        if next < piece.span.from_seconds {
            // Half a step on: a read just at a change would hang on the last bit of its time.
            next = piece.span.from_seconds + 0.5 * READ_SECONDS;
        }
        while next < piece.span.to_seconds && reads.len() < crate::trace::MOST_READ_OFF {
            reads.push((next, piece.at));
            next += READ_SECONDS;
        }
    }
    let mut sums = vec![Position::ORIGIN];
    for (_, at) in &reads {
        sums.push(sums.last().copied().unwrap_or_default() + *at);
    }
    let half = (0.5 * SMOOTH_SECONDS / READ_SECONDS) as usize;
    let mut times = Vec::with_capacity(reads.len());
    let mut distances = Vec::with_capacity(reads.len());
    for (index, (now, _)) in reads.iter().enumerate() {
        let (from, to) = (index.saturating_sub(half), (index + half + 1).min(reads.len()));
        times.push(*now);
        distances.push((sums[to] - sums[from]).radius() / (to - from) as f64);
    }
    (times, distances)
}
