//! The way back to the centre: how long, how far past it, and where it ends.

use super::DirectionReturn;
use super::device::quantisation_deviation;
use super::reach::{FEWEST_PUSHES, Pool, mean_place};
use crate::estimate::{Basis, Estimate, Measured, NotEnough};
use crate::statistics::order::sort_numbers;
use crate::statistics::plain::quantile_of_sorted;
use crate::task::{TaskKind, TaskRecord};
use crate::trace::Piece;
use crate::{Direction, Position, Span, Trace};

/// The stick is at its resting place when it stays within this share of the way back of it: the
/// usual settling band of control engineering.
const SETTLING_SHARE: f64 = 0.05;
/// The place from which it comes back is read in this time before the cue and after it, seconds:
/// nobody reacts sooner.
const BEFORE_SECONDS: f64 = 0.25;
const AFTER_SECONDS: f64 = 0.1;
/// The place where it rests is read in the last so many seconds.
const RESTING_SECONDS: f64 = 0.25;
/// What its rest moves by itself is read in the last so many seconds.
const TAIL_SECONDS: f64 = 0.9;
/// What stays in one place for so long is at rest there, though its spring may creep on, seconds.
const CREEPS_SECONDS: f64 = 0.5;
/// From a twentieth to a quarter of the way takes no more than this share of the time from a quarter to
/// three quarters: 0.6 for a minimum-jerk movement (Flash and Hogan 1985), 0.2 for a spring let go.
const FALL_BEGINS: f64 = 0.7;
/// Once back, the stick has left its rest again only beyond so many standard deviations of that.
const LEAVES_DEVIATIONS: f64 = 3.0;
/// A shorter way than this says nothing of a way back, share of travel.
const LEAST_WAY: f64 = 0.1;
/// Neighbours of the farthest report that are longer away than this say nothing of the top between
/// reports, seconds.
const LONGEST_NEIGHBOUR_SECONDS: f64 = 0.05;

/// One way back.
#[derive(Clone, Copy, Debug, PartialEq)]
struct OneReturn {
    seconds: f64,
    moving_seconds: f64,
    overshoot: f64,
    rests_short: f64,
    rests_at: Position,
    /// How long the way was, share of travel.
    way: f64,
}

/// One way back before it is read.
struct Seen {
    back: Trace,
    cue: f64,
    /// Where it rests.
    rest: Position,
    /// From there to where it began, of unit length.
    along: Position,
    way: f64,
    centre: Position,
}

/// Standard deviation on one axis of what the sticks at rest move by themselves after these ways
/// back, about where each rests.
fn tail_deviation(seen: &[(Direction, Seen)]) -> f64 {
    let (mut squares, mut seconds) = (0.0, 0.0);
    for (_, one) in seen {
        let Some(last) = one.back.pieces.last() else { continue };
        let to_seconds = last.span.to_seconds;
        let tail = one.back.within(Span { from_seconds: to_seconds - TAIL_SECONDS, to_seconds });
        for piece in &tail.pieces {
            let off = (piece.at - one.rest).radius();
            squares += 0.5 * off * off * piece.span.seconds();
            seconds += piece.span.seconds();
        }
    }
    libm::sqrt(squares / f64::max(seconds, 1e-9))
}

/// The usual time between two reports, seconds.
fn report_seconds(seen: &[(Direction, Seen)]) -> f64 {
    let pieces = seen.iter().flat_map(|(_, one)| &one.back.pieces);
    let mut lengths: Vec<f64> = pieces.map(|piece| piece.span.seconds()).collect();
    sort_numbers(&mut lengths);
    quantile_of_sorted(&lengths, 0.5).unwrap_or(0.0)
}

/// Measures the ways back by direction, in the order of [`Direction::EIGHT`]. `centre` is the
/// visit's; `wander` is how far a stick at rest strays, share of travel: within that it counts as
/// at rest, however short the way was, and a way of less than twice that is none. `unsure` is how far
/// the centre itself may be off (half of its 95 % interval): that much more where the stick rests is
/// not told. Where the middle is `hidden`, so is how far the stick shoots
/// past it and where it rests; the times are then those to what is shown as the middle. What the
/// stick's `step` leaves untold of where it turns round and rests is added as for reach.
pub(super) fn returns(
    records: &[TaskRecord],
    centre: Option<Position>,
    wander: f64,
    unsure: f64,
    step: f64,
    hidden: bool,
) -> Vec<DirectionReturn> {
    let mut groups: Vec<(Direction, Vec<OneReturn>)> =
        Direction::EIGHT.iter().map(|asked| (*asked, Vec::new())).collect();
    let mut lacks = None;
    let mut seen: Vec<(Direction, Seen)> = Vec::new();
    for record in records.iter().filter(|record| record.ask.kind() == TaskKind::Return) {
        lacks = lacks.or(record.known.kind.lacks_centring());
        let path = Trace::of(&record.recording, record.axes);
        let centre = centre.unwrap_or(record.known.centre);
        // Without a place to come back to there is no way back.
        if !(centre.right.is_finite() && centre.up.is_finite()) {
            continue;
        }
        for repetition in record.counting() {
            let one = see(&path, repetition.span, centre, wander);
            if let (Some(direction), Some(one)) = (repetition.direction, one) {
                seen.push((direction, one));
            }
        }
    }
    let moves = tail_deviation(&seen);
    for (direction, one) in &seen {
        let group = groups.iter_mut().find(|group| group.0 == *direction);
        if let (Some(group), Some(one)) = (group, one.read(wander, moves)) {
            group.1.push(one);
        }
    }
    groups.retain(|group| !group.1.is_empty());
    // A way back begins and ends between two reports.
    let report = report_seconds(&seen);
    let total: usize = groups.iter().map(|group| group.1.len()).sum();
    let reads: [fn(&OneReturn) -> f64; 4] =
        [|one| one.seconds, |one| one.moving_seconds, |one| one.overshoot, |one| one.rests_short];
    let columns = |ways: &[OneReturn]| reads.map(|read| ways.iter().map(read).collect::<Vec<_>>());
    let mut pools = [Pool::default(); 4];
    for (_, ways) in &groups {
        for (pool, column) in pools.iter_mut().zip(columns(ways)) {
            *pool = pool.add(&column);
        }
    }
    groups
        .iter()
        .map(|(asked, ways)| {
            let columns = columns(ways);
            let basis = Basis { seconds: columns[0].iter().sum(), repetitions: ways.len() };
            let estimate = |index: usize, low: f64| -> Measured {
                if let Some(lacks) = lacks {
                    return Err(NotEnough::NotFor(lacks));
                }
                // Overshoot and resting place.
                if hidden && index >= 2 {
                    return Err(NotEnough::Hidden);
                }
                let (Some(column), Some(pool)) = (columns.get(index), pools.get(index)) else {
                    return Err(NotEnough::NothingRecorded);
                };
                if total < FEWEST_PUSHES {
                    return Err(NotEnough::Repetitions { have: total, need: FEWEST_PUSHES });
                }
                let mean = column.iter().sum::<f64>() / column.len() as f64;
                let half = pool
                    .half(column)
                    .ok_or(NotEnough::Repetitions { have: ways.len(), need: 2 })?;
                // The places of a coarse stick that end on one value do not average out.
                let place = 1.96 * quantisation_deviation(step);
                let way = ways.iter().map(|one| one.way).sum::<f64>() / ways.len() as f64;
                let rests = libm::hypot(place, unsure);
                let untold =
                    [report, report, place / way, rests].get(index).copied().unwrap_or(0.0);
                let half = libm::hypot(half, untold);
                // As far as the rest moves by itself, nobody knows whether it was the way back.
                let value = if index == 2 { (mean - moves / way).max(0.0) } else { mean };
                Estimate::new(value, value - half, mean + half, basis)
                    .map(|estimate| estimate.held_to(low, f64::MAX))
                    .ok_or(NotEnough::DoesNotApply)
            };
            let places: Vec<Position> = ways.iter().map(|one| one.rests_at).collect();
            DirectionReturn {
                asked: *asked,
                seconds: estimate(0, 0.0),
                moving_seconds: estimate(1, 0.0),
                overshoot: estimate(2, 0.0),
                rests_short: estimate(3, f64::MIN),
                rests_at: (lacks.is_none() && !hidden).then(|| mean_place(&places)),
            }
        })
        .collect()
}

/// One way back in `span` (from the cue to let go until at rest); `None` where it was not watched,
/// or where there was hardly a way.
fn see(path: &Trace, span: Span, centre: Position, wander: f64) -> Option<Seen> {
    let cue = span.from_seconds;
    let around = Span { from_seconds: cue - BEFORE_SECONDS, to_seconds: cue + AFTER_SECONDS };
    let from = path.within(around).median()?;
    let last = Span { from_seconds: span.to_seconds - RESTING_SECONDS, ..span };
    let rest = path.within(last).median()?;
    let way = (from - rest).radius();
    if way < LEAST_WAY.max(2.0 * wander) || !way.is_finite() {
        return None;
    }
    let along = (from - rest) * (1.0 / way);
    Some(Seen { back: path.within(span), cue, rest, along, way, centre })
}

impl Seen {
    /// Reads it, where a stick at rest strays by `wander` and `moves` is [`tail_deviation`].
    fn read(&self, wander: f64, moves: f64) -> Option<OneReturn> {
        let Self { back, cue, rest, along, way, centre } = self;
        // What is left of the way: 1 at its beginning, 0 at the resting place, below it beyond.
        let left_at = |at: Position| {
            let off = at - *rest;
            (off.right * along.right + off.up * along.up) / way
        };
        let left: Vec<f64> = back.pieces.iter().map(|piece| left_at(piece.at)).collect();
        let band = way * SETTLING_SHARE.max(wander / way);
        let leaves = band.max(LEAVES_DEVIATIONS * moves);
        let halfway = left.iter().position(|left| *left < 0.5)?;
        let (mut settled, mut is_in) = (*cue, false);
        for (index, piece) in back.pieces.iter().enumerate() {
            let off = (piece.at - *rest).radius();
            let limit = if is_in { leaves } else { band };
            if off > limit && moves_on(&back.pieces[index..], limit) {
                is_in = false;
                settled = piece.span.to_seconds;
            } else if off <= band {
                is_in = true;
            }
        }
        let moved = leaves_at(&back.pieces, &left, halfway).unwrap_or(*cue);
        let from_centre = *rest - *centre;
        Some(OneReturn {
            seconds: settled - cue,
            moving_seconds: (settled - moved).max(0.0),
            overshoot: overshoot(&back.pieces, &left),
            rests_short: from_centre.right * along.right + from_centre.up * along.up,
            rests_at: from_centre,
            way: *way,
        })
    }
}

/// Whether the stick is elsewhere by more than `limit` soon after the first of these pieces. A spring
/// that creeps on after the way back is no part of it.
fn moves_on(pieces: &[Piece], limit: f64) -> bool {
    let Some(first) = pieces.first() else { return false };
    let soon = first.span.to_seconds + CREEPS_SECONDS;
    pieces
        .iter()
        .take_while(|piece| piece.span.from_seconds <= soon)
        .any(|piece| (piece.at - first.at).radius() > limit)
}

/// When the way back begins, seconds; `left` is what each piece leaves of it, `halfway` the first that
/// has half of it behind it. `None` where it began before the first piece.
///
/// A hand that holds sags, wanders and trembles before it lets go. So the last time near the place at
/// the cue counts only as far as the fall itself is as slow.
fn leaves_at(pieces: &[Piece], left: &[f64], halfway: usize) -> Option<f64> {
    let before = left.get(..halfway)?;
    let last_beyond = |share: f64| {
        let index = before.iter().rposition(|left| *left >= share)?;
        Some(pieces.get(index)?.span.to_seconds)
    };
    let quarter = last_beyond(0.75)?;
    let three_quarters = left.iter().skip(halfway).position(|left| *left < 0.25)? + halfway;
    let fall = pieces.get(three_quarters)?.span.from_seconds - quarter;
    let earliest = quarter - FALL_BEGINS * fall;
    Some(last_beyond(1.0 - SETTLING_SHARE).map_or(earliest, |moved| moved.max(earliest)))
}

/// How far the path shoots past its resting place at its first passing, share of the way.
///
/// Reports miss the very top: at `n` reports a wave up to `(π/n)²/2` of it, 0.7 % for a wave of
/// 0.44 s at 60 a second. The top of the parabola through the farthest report and the ones beside
/// it gives that back (exact to the second order).
fn overshoot(pieces: &[Piece], left: &[f64]) -> f64 {
    let Some(passes) = left.iter().position(|left| *left < 0.0) else { return 0.0 };
    let comes_back = left[passes..].iter().position(|left| *left >= 0.0);
    let until = comes_back.map_or(left.len(), |count| passes + count);
    let Some(top) = (passes..until).min_by(|one, other| left[*one].total_cmp(&left[*other])) else {
        return 0.0;
    };
    let farthest = -left[top];
    // A report comes when its piece begins.
    let at = |index: usize| pieces.get(index).map(|piece| piece.span.from_seconds);
    let beside = || {
        let before = top.checked_sub(1)?;
        let (t0, t1, t2) = (at(before)?, at(top)?, at(top + 1)?);
        Some((t0 - t1, left.get(before)? - left[top], t2 - t1, left.get(top + 1)? - left[top]))
    };
    let Some((t0, y0, t2, y2)) = beside() else { return farthest };
    if -t0 > LONGEST_NEIGHBOUR_SECONDS || t2 > LONGEST_NEIGHBOUR_SECONDS {
        return farthest;
    }
    // y = a t² + b t through both neighbours; its lowest point is −b²/(4a).
    let a = (y0 * t2 - y2 * t0) / (t0 * t2 * (t0 - t2));
    let b = (y2 * t0 * t0 - y0 * t2 * t2) / (t0 * t2 * (t0 - t2));
    let missed = b * b / (4.0 * a);
    if a > 0.0 && missed.is_finite() { farthest + missed.min(0.1 * farthest) } else { farthest }
}

#[cfg(test)]
#[path = "returns_tests.rs"]
mod tests;
