//! What free movement shows: the range seen, never called comfortable reach.

use super::events::events;
use super::reach::sustained_level;
use super::windows::counted;
use super::{FreeDirection, FreeMovement};
use crate::estimate::NotEnough;
use crate::position::fold_degrees;
use crate::task::{TaskKind, TaskRecord};
use crate::trace::Piece;
use crate::{Direction, Position, Span, Trace};

/// The least free movement from which anything is said, seconds.
const LEAST_SECONDS: f64 = 10.0;
/// A place counts as gone to when it is held for this long, seconds: longer than half a wave of a
/// 4 Hz tremor.
const HELD_SECONDS: f64 = 0.15;
/// Half the width of a direction's sector, degrees.
const HALF_SECTOR_DEGREES: f64 = 22.5;

/// Measures the free movement of all records, and of what else was asked by cause and effect, each
/// about the visit's `centre` or, without one, about what was known when it began.
pub(super) fn free(
    records: &[TaskRecord],
    centre: Option<Position>,
) -> Result<FreeMovement, NotEnough> {
    let mut directions: Vec<FreeDirection> = Direction::EIGHT
        .iter()
        .map(|about| FreeDirection { about: *about, farthest: 0.0, seconds: 0.0, visits: 0 })
        .collect();
    let (mut seconds, mut moving_seconds, mut any) = (0.0, 0.0, false);
    let is_free = |record: &&TaskRecord| {
        (record.ask.kind() == TaskKind::FreeMovement || record.is_free()) && record.is_of_person()
    };
    let moves = |record: &&TaskRecord| record.ask.kind() != TaskKind::Presses;
    for record in records.iter().filter(is_free).filter(moves) {
        let centre = centre.unwrap_or(record.known.centre);
        let path =
            Trace::of(&record.recording, record.axes).within_all(&counted(record)).about(centre);
        any |= !path.is_empty();
        seconds += path.seconds();
        moving_seconds += add(&path, record.known.quiet_radius, &mut directions);
    }
    if !any {
        return Err(NotEnough::NothingRecorded);
    }
    if seconds < LEAST_SECONDS {
        return Err(NotEnough::Seconds { have: seconds, need: LEAST_SECONDS });
    }
    Ok(FreeMovement { seconds, moving_share: moving_seconds / seconds, directions })
}

/// Adds one path, told from the centre; the seconds it was outside the quiet radius.
fn add(path: &Trace, quiet_radius: f64, directions: &mut [FreeDirection]) -> f64 {
    let beyond = |piece: &Piece| piece.at.radius() > quiet_radius;
    for direction in directions.iter_mut() {
        let about = direction.about;
        let level = |piece: &Piece| {
            let inside = beyond(piece) && is_about(piece.at, about);
            if inside { piece.at.radius() } else { 0.0 }
        };
        let levels: Vec<(Span, f64)> =
            path.pieces.iter().map(|piece| (piece.span, level(piece))).collect();
        direction.seconds +=
            levels.iter().filter(|one| one.1 > 0.0).map(|one| one.0.seconds()).sum::<f64>();
        let farthest = sustained_level(&levels, HELD_SECONDS).unwrap_or(0.0);
        direction.farthest = direction.farthest.max(farthest);
    }
    // Each way out and back is a visit to the direction in which it went farthest.
    for visit in events(path.pieces.iter().map(|piece| (piece.span, beyond(piece)))) {
        if visit.seconds() < HELD_SECONDS {
            continue;
        }
        let farthest = path
            .within(visit)
            .pieces
            .iter()
            .map(|piece| piece.at)
            .max_by(|one, other| one.radius().total_cmp(&other.radius()));
        let of = farthest.and_then(|at| directions.iter_mut().find(|one| is_about(at, one.about)));
        if let Some(direction) = of {
            direction.visits += 1;
        }
    }
    path.pieces.iter().filter(|piece| beyond(piece)).map(|piece| piece.span.seconds()).sum()
}

/// Whether a place lies in the sector of a direction; the edge belongs to the sector below it.
fn is_about(at: Position, about: Direction) -> bool {
    let off = fold_degrees(at.degrees() - about.degrees());
    -HALF_SECTOR_DEGREES < off && off <= HALF_SECTOR_DEGREES
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::measure;
    use crate::measure::test_records::{record, recording, stretches};
    use crate::task::{MarkReason, TaskAsk};

    /// Out for 1 s of every 2, in turn right (0.6), up (0.4) and right; a flick of 50 ms to 0.9.
    fn moved(since: f64) -> Position {
        if (9.4..9.45).contains(&since) {
            return Position::polar(0.9, -90.0);
        }
        let turn = (since / 2.0) as usize % 3;
        match turn {
            _ if since % 2.0 >= 1.0 => Position::ORIGIN,
            1 => Position::polar(0.4, 80.0),
            _ => Position::polar(0.6, 10.0),
        }
    }

    #[test]
    fn the_range_seen_is_told_by_sector() {
        let path = recording(5.0, 24.0, 100.0, true, moved);
        let repetitions = stretches(&path);
        let mut task = record(TaskAsk::FreeMovement { seconds: 24.0 }, path, repetitions);
        let free = measure(std::slice::from_ref(&task)).free.unwrap();
        assert!((free.seconds - 24.0).abs() < 1e-9);
        assert!((free.moving_share - (12.0 + 0.05) / 24.0).abs() < 0.002, "{free:?}");
        let of = |about| free.directions.iter().find(|one| one.about == about).unwrap();
        let (right, up) = (of(Direction::Right), of(Direction::Up));
        assert!((right.farthest - 0.6).abs() < 1e-12 && (up.farthest - 0.4).abs() < 1e-12);
        assert_eq!((right.visits, up.visits, of(Direction::Down).visits), (8, 4, 0));
        assert!((right.seconds - 8.0).abs() < 0.02);
        assert_eq!(of(Direction::Down).farthest, 0.0);
        task.repetitions[0].mark = Some(MarkReason::Helped);
        task.repetitions[1].mark = Some(MarkReason::Helped);
        match measure(&[task]).free.unwrap_err() {
            NotEnough::Seconds { have, .. } => assert!((have - 4.0).abs() < 1e-9),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn every_place_lies_in_one_sector() {
        for degrees in -180..=180 {
            let at = Position::polar(0.5, f64::from(degrees) + 0.3);
            let count = Direction::EIGHT.iter().filter(|about| is_about(at, **about)).count();
            assert_eq!(count, 1, "{degrees}");
        }
    }
}
