//! What an observer makes of the same visit who is told more than any page can know: where such a one
//! misses a bar too, no better measure would clear it.

use fitting::invented::Model;
use fitting::measure::hold;
use fitting::task::{TaskKind, TaskRecord};
use fitting::trace::Piece;
use fitting::{Direction, Position, Span, Trace};

use super::hold_truth::held;

/// The meant path is out where it is this near its farthest, share of that.
const OUT_SHARE: f64 = 0.97;
/// Seconds of holding in each direction from which the true place of a hold is taken.
const PLACE_SECONDS: f64 = 120.0;

/// The ends of the reach task's pushes as they are read by whom is told the true resting place and,
/// from the `meant` pushes of the same seed, when each was out: the median place over just that time.
/// By direction, in the order in which they were made; empty where the meant visit went otherwise.
#[must_use]
pub fn told_when_out(
    model: &Model,
    meant: &[TaskRecord],
    records: &[TaskRecord],
) -> Vec<(Direction, Position)> {
    let meant = pushes(meant);
    let shown = pushes(records);
    let is_same =
        meant.len() == shown.len() && meant.iter().zip(&shown).all(|(one, other)| one.0 == other.0);
    if !is_same {
        return Vec::new();
    }
    let rest = model.true_rest();
    let both = meant.iter().zip(&shown);
    both.filter_map(|((asked, meant), (_, shown))| {
        let out = out(meant, rest)?;
        let since =
            shown.pieces.first()?.span.from_seconds - meant.pieces.first()?.span.from_seconds;
        let when =
            Span { from_seconds: out.from_seconds + since, to_seconds: out.to_seconds + since };
        Some((*asked, shown.within(when).median()? - rest))
    })
    .collect()
}

/// The paths of the pushes that count, from the cue on.
fn pushes(records: &[TaskRecord]) -> Vec<(Direction, Trace)> {
    let reach = records.iter().filter(|record| record.ask.kind() == TaskKind::Reach);
    reach
        .flat_map(|record| {
            let path = Trace::of(&record.recording, record.axes);
            let counting = record.repetitions.iter().filter(|one| one.counts());
            counting.filter_map(move |one| Some((one.direction?, path.within(one.span))))
        })
        .collect()
}

/// From when to when a path is near its farthest.
fn out(path: &Trace, rest: Position) -> Option<Span> {
    let far = |piece: &&Piece| (piece.at - rest).radius();
    let farthest = path.pieces.iter().map(|piece| far(&piece)).fold(0.0, f64::max);
    let mut near = path.pieces.iter().filter(|piece| far(piece) >= OUT_SHARE * farthest);
    let first = near.next()?;
    let last = near.next_back().unwrap_or(first);
    Some(Span { from_seconds: first.span.from_seconds, to_seconds: last.span.to_seconds })
}

/// How far the steadiness at one level is off, as a share of `truth`, for whom is told the true place
/// of every hold; from the very seconds of the visit. `None` without a hold at that level.
#[must_use]
pub fn told_place(
    model: &Model,
    seed: u64,
    record: &TaskRecord,
    level: f64,
    truth: f64,
) -> Option<f64> {
    let (mut squares, mut seconds) = (0.0, 0.0);
    let holds = hold::steady(std::slice::from_ref(record), TaskKind::Hold);
    for one in holds.iter().filter(|one| one.level == level) {
        let places = held(model, seed, &record.known, &[one.direction?], level, PLACE_SECONDS);
        let place = mean(places.first()?);
        for piece in &one.path.pieces {
            let off = (piece.at - place).radius();
            squares += 0.5 * off * off * piece.span.seconds();
            seconds += piece.span.seconds();
        }
    }
    (seconds > 0.0 && truth > 0.0).then(|| (libm::sqrt(squares / seconds) - truth).abs() / truth)
}

/// The mean place over time.
fn mean(path: &Trace) -> Position {
    let sum = path
        .pieces
        .iter()
        .fold(Position::ORIGIN, |sum, piece| sum + piece.at * piece.span.seconds());
    sum * (1.0 / path.seconds().max(1e-9))
}
