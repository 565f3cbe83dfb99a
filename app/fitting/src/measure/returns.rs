//! The way back to the centre: how long, how far past it, and where it ends.

use super::DirectionReturn;
use super::device::quantisation_deviation;
use super::reach::{FEWEST_PUSHES, Pool, mean_place};
use crate::estimate::{Basis, Estimate, Measured, NotEnough};
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
                let untold = [0.0, 0.0, place / way, rests].get(index).copied().unwrap_or(0.0);
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
        for piece in &back.pieces {
            let off = (piece.at - *rest).radius();
            if off > if is_in { leaves } else { band } {
                is_in = false;
                settled = piece.span.to_seconds;
            } else if off <= band {
                is_in = true;
            }
        }
        let moved = left[..halfway]
            .iter()
            .rposition(|left| *left >= 1.0 - band / way)
            .and_then(|index| back.pieces.get(index))
            .map_or(*cue, |piece| piece.span.to_seconds);
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
mod tests {
    use super::*;
    use crate::estimate::StickTrait;
    use crate::measure::measure;
    use crate::measure::test_records::{record, recording, repetition};
    use crate::measure::truth_tests::normals;
    use crate::task::TaskAsk;

    /// A second-order release: what is left of the way, `since` seconds after it began.
    fn released(since: f64, damping: f64, natural: f64) -> f64 {
        if since < 0.0 {
            return 1.0;
        }
        let share = libm::sqrt(1.0 - damping * damping);
        let (sin, cos) = libm::sincos(natural * share * since);
        libm::exp(-damping * natural * since) * (cos + damping / share * sin)
    }

    /// Ways back of 3 s, each held for 1 s before the cue; `from` and where each rests.
    fn task(hertz: f64, ends: &[(Direction, Position, Position)], reaction: f64) -> TaskRecord {
        let path = |since: f64| {
            let index = ((since / 4.0) as usize).min(ends.len() - 1);
            let (_, from, rest) = ends[index];
            let left = released(since - 4.0 * index as f64 - 1.0 - reaction, 0.5, 25.0);
            rest + (from - rest) * left
        };
        let repetitions = ends
            .iter()
            .enumerate()
            .map(|(index, end)| {
                let from_seconds = 4.0 * index as f64 + 1.0;
                let span = Span { from_seconds, to_seconds: from_seconds + 2.5 };
                repetition(span, Some(end.0), Some(0.5))
            })
            .collect();
        let directions = ends.iter().map(|end| end.0).collect();
        let ask = TaskAsk::Return { directions, level: 0.5, rounds: 1 };
        record(ask, recording(0.0, 4.0 * ends.len() as f64, hertz, false, path), repetitions)
    }

    /// A second-order release with damping 0.5 and 25 radians a second overshoots by
    /// exp(−πζ/√(1−ζ²)) = 0.163034 and stays within 5 % from 0.21167 s on (the reports of 60 a
    /// second say so at 0.21667 s, the end of the report before; standard control engineering).
    #[test]
    fn a_second_order_release_is_as_in_the_textbook() {
        let ends = [(Direction::Up, Position::new(0.0, 0.45), Position::ORIGIN); 4];
        for (hertz, slack) in [(60.0, 0.0017), (250.0, 0.0005)] {
            let up = measure(&[task(hertz, &ends, 0.2)]).returns.remove(0);
            let overshoot = up.overshoot.unwrap();
            assert!((overshoot.value / 0.163_033_535 - 1.0).abs() < 0.003_5, "{overshoot:?}");
            let settles = (1..30_000)
                .map(|i| f64::from(i) * 1e-5)
                .filter(|since| released(*since, 0.5, 25.0).abs() > 0.05)
                .fold(0.0, f64::max);
            let seconds = up.seconds.unwrap().value - 0.2;
            let report = 1.0 / hertz;
            assert!((-1e-9..=report + slack).contains(&(seconds - settles)), "{seconds} {settles}");
            assert!(
                (up.seconds.unwrap().value - up.moving_seconds.unwrap().value - 0.2).abs() < 0.04
            );
            assert_eq!(up.seconds.unwrap().basis.repetitions, 4);
        }
    }

    /// The same release read exactly as in the reference: sampled at 60 a second it under-reads
    /// (0.161862), and the parabola gives most of that back.
    #[test]
    fn what_reports_miss_of_the_top_is_given_back() {
        let pieces: Vec<Piece> = (0..60)
            .map(|i| Piece {
                span: Span {
                    from_seconds: f64::from(i) / 60.0,
                    to_seconds: f64::from(i + 1) / 60.0,
                },
                at: Position::new(released(f64::from(i) / 60.0, 0.5, 25.0), 0.0),
            })
            .collect();
        let left: Vec<f64> = pieces.iter().map(|piece| piece.at.right).collect();
        let seen = left.iter().fold(0.0, |low: f64, one| low.min(*one));
        assert!((seen + 0.161_862_037).abs() < 1e-8, "{seen}");
        let given_back = overshoot(&pieces, &left);
        assert!((given_back / 0.163_033_535 - 1.0).abs() < 0.003_5, "{given_back}");
        // From there on it stays within 5 % (the reference value of settling, 13 reports).
        let settled = left.iter().rposition(|one| one.abs() > 0.05).unwrap() + 1;
        assert!((settled as f64 / 60.0 - 0.216_667).abs() < 1e-5);
        assert_eq!(overshoot(&pieces[..2], &left[..2]), 0.0);
    }

    #[test]
    fn where_it_comes_to_rest_is_told_by_direction() {
        let (right, left) = (Position::new(0.5, 0.0), Position::new(-0.5, 0.0));
        let short = Position::new(0.06, 0.0);
        let mut ends = Vec::new();
        for _ in 0..3 {
            ends.push((Direction::Right, right, short));
            ends.push((Direction::Left, left, Position::new(0.02, 0.0)));
        }
        let measured = measure(&[task(100.0, &ends, 0.2)]).returns;
        assert_eq!(measured.len(), 2);
        assert!((measured[0].rests_short.unwrap().value - 0.06).abs() < 1e-3);
        assert!((measured[1].rests_short.unwrap().value + 0.02).abs() < 1e-3);
        assert!((measured[0].rests_at.unwrap() - short).radius() < 1e-3);
        let few = measure(&[task(100.0, &ends[..2], 0.2)]).returns;
        assert_eq!(
            few[0].overshoot.unwrap_err(),
            NotEnough::Repetitions { have: 2, need: FEWEST_PUSHES }
        );
    }

    #[test]
    fn a_stick_that_stays_where_it_is_put_has_no_way_back() {
        let ends = [(Direction::Up, Position::new(0.0, 0.45), Position::ORIGIN); 4];
        let mut stays = task(60.0, &ends, 0.2);
        stays.known.kind.centres_itself = false;
        let up = measure(&[stays]).returns.remove(0);
        let not_for = NotEnough::NotFor(StickTrait::NotSelfCentring);
        assert_eq!((up.seconds, up.overshoot), (Err(not_for), Err(not_for)));
        assert_eq!((up.rests_short, up.rests_at), (Err(not_for), None));
    }

    /// The mean of three quiet ways back is no surer than the middle it is told from.
    #[test]
    fn where_it_rests_is_no_surer_than_the_centre() {
        let ends = [(Direction::Up, Position::new(0.0, 0.45), Position::new(0.0, 0.02)); 4];
        let centre = Some(Position::ORIGIN);
        let told = |unsure: f64| {
            let up =
                returns(&[task(100.0, &ends, 0.2)], centre, 0.01, unsure, 0.0, false).remove(0);
            (up.rests_short.unwrap(), up.overshoot.unwrap())
        };
        let (sure, unsure) = (told(0.0), told(0.03));
        assert!(sure.0.low > 0.015 && unsure.0.low < 0.0);
        assert!((unsure.0.high - 0.05).abs() < 1e-3, "{:?}", unsure.0);
        assert_eq!((sure.0.value, sure.1), (unsure.0.value, unsure.1));
    }

    /// Who strays at rest for half of the way has no way back that anybody could see.
    #[test]
    fn a_way_that_the_rest_strays_is_none() {
        let ends = [(Direction::Up, Position::new(0.0, 0.45), Position::ORIGIN); 4];
        let found = |wander: f64| {
            returns(&[task(100.0, &ends, 0.2)], None, wander, 0.0, 0.0, false)
                .pop()
                .and_then(|up| up.moving_seconds.ok())
        };
        assert!(found(0.2).is_some());
        assert_eq!(found(0.23), None);
    }

    /// A system that reads a band about the middle as 0 hides the overshoot, and says so.
    #[test]
    fn behind_a_hidden_middle_overshoot_is_not_known() {
        let ends = [(Direction::Up, Position::new(0.0, 0.45), Position::ORIGIN); 4];
        let up = returns(&[task(60.0, &ends, 0.2)], None, 0.0, 0.0, 0.0, true).remove(0);
        assert_eq!(up.overshoot, Err(NotEnough::Hidden));
        assert_eq!((up.rests_short, up.rests_at), (Err(NotEnough::Hidden), None));
        assert!(up.seconds.is_ok() && up.moving_seconds.is_ok());
    }

    /// Reaction times and resting places that vary: the intervals hold the means about as often as
    /// they claim.
    #[test]
    fn intervals_hold_the_truth() {
        let (mut held, mut all) = (0, 0);
        for seed in 0..150 {
            let noise = normals(500 + seed, 12);
            let ends: Vec<(Direction, Position, Position)> = (0..12)
                .map(|i| {
                    let asked = Direction::FOUR[i % 4];
                    let rest = Position::polar(0.02 + 0.01 * noise[i], asked.degrees());
                    (asked, Position::polar(0.5, asked.degrees()), rest)
                })
                .collect();
            for direction in measure(&[task(100.0, &ends, 0.25)]).returns {
                let short = direction.rests_short.unwrap();
                all += 1;
                held += usize::from(short.low <= 0.02 && 0.02 <= short.high);
            }
        }
        let share = f64::from(held as u32) / f64::from(all);
        assert!((0.914..=0.986).contains(&share), "{share}");
    }
}
