//! How the resting place moves: by itself, and after a push.

use super::quantisation_deviation;
use crate::estimate::{Basis, Estimate, Measured, NotEnough};
use crate::measure::map::length_of_pair;
use crate::measure::reach::plateau;
use crate::measure::rest::independent_of;
use crate::measure::windows::settled;
use crate::statistics::distributions::{normal_quantile, t_quantile};
use crate::statistics::lines::theil_sen_of_groups;
use crate::statistics::weighted;
use crate::task::{Repetition, TaskKind, TaskRecord};
use crate::{Position, Span, Trace};

/// A drift whose interval is wider than this, shares of travel a minute, is none that could be used: the
/// stick was moved, or was still for too short a time.
const WIDEST: f64 = 0.7;
/// The least hands off from which drift is read, seconds.
const LEAST_SECONDS: f64 = 5.0;
/// A stretch is cut into at most this many parts, none shorter than that many seconds.
const MOST_PARTS: f64 = 60.0;
const LEAST_PART_SECONDS: f64 = 0.25;
/// Sen's interval is a normal one: as many degrees of freedom.
const MANY: f64 = 1e6;
/// The path is read off this often where independence in time is judged, seconds.
const READ_OFF_SECONDS: f64 = 1.0 / 60.0;
/// Where a push leaves the stick is read so long after its end, from and to, seconds: as soon as
/// it counts as back it may still be on its way, and the next cue comes after 0.8 s.
const AT_REST_SECONDS: (f64, f64) = (0.5, 0.8);
/// Where the next cue comes sooner, in the last moment before the end, seconds.
const ELSE_SECONDS: f64 = 0.15;
/// What the sticks still came nearer while their rest was read may go on for so many times as far: the
/// last tenth of a minimum-jerk movement of 6 s, 0.3 s at a time, goes on for about twice (set on
/// invented people: without it intervals held the truth in 85 %).
const STILL_GOES: f64 = 2.5;
/// The fewest pushes from which sag is read.
const FEWEST_PUSHES: usize = 3;
/// The directions of the pushes must differ by at least this much: their mean squared distance
/// from their mean, as unit vectors (1 for opposite ones, 0.5 for two at right angles).
const LEAST_APART: f64 = 0.25;

/// How far the untouched centre moves, share of travel a minute.
///
/// The slope over time of each axis is that of Theil and Sen through the means of short parts,
/// pairs from one record only. Its interval is Sen's, its variance widened by the number of parts
/// over the number of independent values that the path holds once the slope is taken off (as the
/// trend test of Hamed and Rao, *Journal of Hydrology* 204 (1998) 182, does, from memory). The
/// interval of the length of both axes' slopes goes down to 0 where they are not told from none.
/// What stays under one step of the stick cannot be seen, so the ends are at least that step over
/// the time away.
pub(super) fn drift_per_minute(records: &[TaskRecord], step: f64) -> Measured {
    let paths: Vec<Trace> = records
        .iter()
        .filter(|record| record.ask.kind() == TaskKind::HandsOff)
        .map(|record| Trace::of(&record.recording, record.axes).within_all(&settled(record)))
        .filter(|path| !path.is_empty())
        .collect();
    let seconds: f64 = paths.iter().fold(0.0, |sum, path| sum + path.seconds());
    if paths.is_empty() {
        return Err(NotEnough::NothingRecorded);
    }
    if seconds < LEAST_SECONDS {
        return Err(NotEnough::Seconds { have: seconds, need: LEAST_SECONDS });
    }
    let need = NotEnough::Seconds { have: seconds, need: 2.0 * seconds };
    let right = axis_slope(&paths, |at| at.right).ok_or(need)?;
    let up = axis_slope(&paths, |at| at.up).ok_or(need)?;
    let (value, low, high) =
        length_of_pair((right.0, up.0), [right.1 * right.1, 0.0, up.1 * up.1], MANY);
    let minute = 60.0;
    let basis = Basis { seconds, repetitions: 0 };
    let unseen = step / seconds;
    let (low, high) = (low.min(value - unseen).max(0.0), high.max(value + unseen));
    if minute * (high - low) > WIDEST {
        return Err(NotEnough::Unsettled);
    }
    Estimate::new(minute * value, minute * low, minute * high, basis).ok_or(NotEnough::DoesNotApply)
}

/// Slope of one axis, shares of travel a second, with its standard error.
fn axis_slope(paths: &[Trace], read: fn(Position) -> f64) -> Option<(f64, f64)> {
    let groups: Vec<Vec<(f64, f64)>> = paths.iter().map(|path| parts(path, read)).collect();
    let plain = theil_sen_of_groups(&groups, 1.0, 0.0)?;
    let mut series: Vec<Vec<f64>> = Vec::new();
    for path in paths {
        for stretch in path.read_off(READ_OFF_SECONDS) {
            let level = |(index, at): (usize, &Position)| {
                read(*at) - plain.slope * READ_OFF_SECONDS * index as f64
            };
            series.push(stretch.iter().enumerate().map(level).collect());
        }
    }
    let count: usize = groups.iter().map(Vec::len).sum();
    let wider = (count as f64 / independent_of(&series).0).max(1.0);
    let ends = normal_quantile(0.975);
    let line = theil_sen_of_groups(&groups, wider, ends)?;
    Some((line.slope, (line.high - line.low) / (2.0 * ends)))
}

/// Means of short parts of a path, with the middle of each part's time.
fn parts(path: &Trace, read: fn(Position) -> f64) -> Vec<(f64, f64)> {
    let (Some(first), Some(last)) = (path.pieces.first(), path.pieces.last()) else {
        return Vec::new();
    };
    let whole = last.span.to_seconds - first.span.from_seconds;
    let each = (whole / MOST_PARTS).max(LEAST_PART_SECONDS);
    let count = (whole / each + 1e-9) as usize;
    (0..count)
        .filter_map(|part| {
            let from_seconds = first.span.from_seconds + each * part as f64;
            let window = Span { from_seconds, to_seconds: from_seconds + each };
            let held: Vec<(f64, f64)> = path
                .within(window)
                .pieces
                .iter()
                .map(|piece| (read(piece.at), piece.span.seconds()))
                .collect();
            let enough = weighted::seconds(&held) >= 0.5 * each;
            Some((from_seconds + 0.5 * each, weighted::mean(&held).filter(|_| enough)?))
        })
        .collect()
}

/// How far off its centre the stick rests after a push, towards that push, share of travel;
/// negative when it comes back past the centre.
///
/// The resting places r after the pushes of reach and return, half a second after each was back,
/// are fitted as `r = centre + sag × (unit vector of the push)` by least squares: the centre
/// itself need not be known. t interval on 2 n − 3 degrees of freedom; what the stick's `step` leaves
/// untold of a place is added as for reach, and what the sticks still moved along their pushes meanwhile:
/// whoever is slow or hunts is not yet back. With a hand on the stick
/// this is spring and person together; what a helper moved is left out.
pub(super) fn sag(records: &[TaskRecord], step: f64) -> Measured {
    let of_interest: Vec<&TaskRecord> = records
        .iter()
        .filter(|record| matches!(record.ask.kind(), TaskKind::Reach | TaskKind::Return))
        .collect();
    let first = of_interest.first().ok_or(NotEnough::NothingRecorded)?;
    if let Some(lacks) = first.known.kind.lacks_centring() {
        return Err(NotEnough::NotFor(lacks));
    }
    let (mut pushes, mut seconds): (Vec<(Position, Position)>, f64) = (Vec::new(), 0.0);
    // How far each still came nearer from the time before to that window.
    let mut on: Vec<Position> = Vec::new();
    for record in of_interest {
        let path = Trace::of(&record.recording, record.axes);
        for repetition in record.counting() {
            let end = repetition.span.to_seconds;
            let (from, to) = AT_REST_SECONDS;
            let after = Span { from_seconds: end + from, to_seconds: end + to };
            let is_next = |one: &Repetition| {
                repetition.span.from_seconds < one.span.from_seconds
                    && one.span.from_seconds < after.from_seconds
            };
            let window = if record.repetitions.iter().any(is_next) {
                Span { from_seconds: end - ELSE_SECONDS, to_seconds: end }
            } else {
                after
            };
            // The way back begins where the push was: a little before its own span.
            let out = Span { from_seconds: repetition.span.from_seconds - 0.5, ..repetition.span };
            let out = if record.ask.kind() == TaskKind::Return { out } else { repetition.span };
            let (Some(rests), Some(pushed)) =
                (path.within(window).median(), plateau(&path, record.known.centre, out))
            else {
                continue;
            };
            let far = pushed.radius();
            if far > 2.0 * record.known.quiet_radius {
                pushes.push((pushed * (1.0 / far), rests));
                let to_seconds = window.from_seconds;
                let sooner = Span { from_seconds: to_seconds - window.seconds(), to_seconds };
                on.push(path.within(sooner).median().unwrap_or(rests) - rests);
                seconds += window.seconds();
            }
        }
    }
    let n = pushes.len() as f64;
    if pushes.len() < FEWEST_PUSHES {
        return Err(NotEnough::Repetitions { have: pushes.len(), need: FEWEST_PUSHES });
    }
    let sum = |which: fn(&(Position, Position)) -> Position| {
        pushes.iter().fold(Position::ORIGIN, |sum, push| sum + which(push)) * (1.0 / n)
    };
    let (mean_push, mean_rest) = (sum(|push| push.0), sum(|push| push.1));
    let dot = |one: Position, other: Position| one.right * other.right + one.up * other.up;
    let (mut apart, mut both) = (0.0, 0.0);
    for (push, rests) in &pushes {
        let off = *push - mean_push;
        apart += dot(off, off);
        both += dot(off, *rests - mean_rest);
    }
    if apart < LEAST_APART * n {
        return Err(NotEnough::Repetitions { have: 1, need: 2 });
    }
    let value = both / apart;
    let squares = pushes.iter().fold(0.0, |sum, (push, rests)| {
        let left = *rests - mean_rest - (*push - mean_push) * value;
        sum + dot(left, left)
    });
    let freedom = 2.0 * n - 3.0;
    let half = t_quantile(0.975, freedom) * libm::sqrt(squares / freedom / apart);
    let half = libm::hypot(half, 1.96 * quantisation_deviation(step));
    let basis = Basis { seconds, repetitions: pushes.len() };
    let going: f64 =
        pushes.iter().zip(&on).map(|(push, on)| dot(push.0 - mean_push, *on)).sum::<f64>() / apart;
    let half = libm::hypot(half, STILL_GOES * going);
    Estimate::new(value, value - half, value + half, basis).ok_or(NotEnough::DoesNotApply)
}
