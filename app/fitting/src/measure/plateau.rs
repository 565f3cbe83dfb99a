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
/// What stays out for less may be a jerk, seconds: as long as a sudden movement rises and falls,
/// and the smoothing beside it.
const LEAST_OUT_SECONDS: f64 = 0.35;
/// A push beside a jerk goes at least this share as far; less is the rest around it.
const LEAST_FARTHEST: f64 = 1.0 / 3.0;
/// At least this share of the time out is kept, its middle: a quick push has hardly a plateau.
const LEAST_KEPT: f64 = 1.0 / 3.0;

/// The place of a push's plateau, from `centre`, inside `span` of a path: the median over time
/// of each axis between the end of the way out and the beginning of the way back. `None` when
/// nobody was looking.
///
/// When the push was out is told from the path smoothed over 250 ms: its longest stay beyond 70 %
/// of its farthest distance, less what is still way at both ends of that (1.3 times the time that the way between
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
    let (first, last, farthest) = longest_out(&times, &distances)?;
    let near = |distance: &f64| *distance <= BEGINS_SHARE * farthest;
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

/// The first and last read of the longest stay out, and the farthest distance it is out of.
///
/// A jerk goes out too, and farther than the push at times, but not for long: where nothing stays
/// out for [`LEAST_OUT_SECONDS`], the stays that are out of the next farthest distance are looked
/// at, down to [`LEAST_FARTHEST`] of the first.
fn longest_out(times: &[f64], distances: &[f64]) -> Option<(usize, usize, f64)> {
    let mut left: Vec<f64> = distances.to_vec();
    let mut quick = None;
    let mut least = 0.0;
    loop {
        let farthest = left.iter().copied().fold(0.0, f64::max);
        if farthest <= least {
            return quick;
        }
        let stays = stays(times, &left, OUT_SHARE * farthest);
        let seconds = |stay: &(usize, usize)| times[stay.1] - times[stay.0];
        let longest =
            stays.iter().copied().max_by(|one, other| seconds(one).total_cmp(&seconds(other)))?;
        if seconds(&longest) >= LEAST_OUT_SECONDS {
            return Some((longest.0, longest.1, farthest));
        }
        quick = quick.or(Some((longest.0, longest.1, farthest)));
        least = least.max(LEAST_FARTHEST * farthest);
        // Each with its ways out and back.
        let near = |distance: &f64| *distance <= BEGINS_SHARE * farthest;
        for (first, last) in stays {
            let begins = left[..first].iter().rposition(near).unwrap_or(0);
            let ends = left[last..].iter().position(near).map_or(left.len(), |on| last + on);
            left[begins..ends].fill(0.0);
        }
    }
}

/// First and last reads of the stretches that stay at `level` or above, shorter breaks than
/// [`SMOOTH_SECONDS`] passed over.
fn stays(times: &[f64], distances: &[f64], level: f64) -> Vec<(usize, usize)> {
    let mut found: Vec<(usize, usize)> = Vec::new();
    for (index, now) in times.iter().enumerate().filter(|(index, _)| distances[*index] >= level) {
        match found.last_mut() {
            Some(last) if now - times[last.1] < SMOOTH_SECONDS => last.1 = index,
            _ => found.push((index, index)),
        }
    }
    found
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::StickAxes;
    use crate::measure::test_records::recording;

    /// A push to 0.26 up from 2 to 4 s, out and back in 0.5 s each; a jerk to 0.5 of 0.2 s at
    /// `jerk_seconds`.
    fn plateau_with_jerk(jerk_seconds: f64) -> Position {
        let path = |at: f64| {
            let share = ((at - 2.0) / 0.5).min((4.0 - at) / 0.5).clamp(0.0, 1.0);
            let jerk = (1.0 - ((at - jerk_seconds) / 0.1 - 1.0).abs()).max(0.0);
            Position::new(0.5 * jerk, 0.26 * share)
        };
        let recording = recording(0.0, 6.0, 100.0, false, path);
        let path = Trace::of(&recording, StickAxes::default());
        let span = Span { from_seconds: 0.0, to_seconds: 6.0 };
        plateau(&path, Position::ORIGIN, span).unwrap()
    }

    #[test]
    fn a_jerk_beside_a_push_is_not_its_plateau() {
        for jerk_seconds in [0.5, 1.5, 3.0, 4.2, 5.0] {
            let end = plateau_with_jerk(jerk_seconds);
            let off = (end - Position::new(0.0, 0.26)).radius();
            assert!(off < 0.02, "{jerk_seconds}: {end:?}");
        }
    }

    #[test]
    fn a_quick_push_has_a_plateau_too() {
        let path = |at: f64| {
            let share = ((at - 1.0) / 0.25).min((1.6 - at) / 0.25).clamp(0.0, 1.0);
            Position::new(0.0, 0.4 * share)
        };
        let recording = recording(0.0, 3.0, 100.0, false, path);
        let path = Trace::of(&recording, StickAxes::default());
        let span = Span { from_seconds: 0.0, to_seconds: 3.0 };
        let end = plateau(&path, Position::ORIGIN, span).unwrap();
        assert!((end.up - 0.4).abs() < 0.02, "{end:?}");
    }
}
