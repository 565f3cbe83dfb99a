//! How directions used as switches are pushed.

use super::SwitchUse;
use super::events::{SHORTEST_RUN_SECONDS, Sustained};
use super::pushes::{Pushes, of_reach};
use super::reach::plateau;
use super::rest::distances;
use super::windows::settled_path;
use crate::estimate::NotEnough;
use crate::task::{TaskKind, TaskRecord};
use crate::{Direction, Position, Trace};

/// The fewest pushes from which anything is said.
const FEWEST_PUSHES: usize = 3;
/// A push is at its plateau from this share of it on.
const AT_PLATEAU: f64 = 0.95;

/// What the pushes of reach and the quiet rest say of directions used as switches; only where the
/// kind of stick says so.
///
/// A dip is told when it lasts for a frame of a host (1/60 s), and only between the first and the
/// last moment of the push's plateau.
pub(super) fn switches(
    records: &[TaskRecord],
    centre: Option<Position>,
) -> Result<SwitchUse, NotEnough> {
    if records.is_empty() {
        return Err(NotEnough::NothingRecorded);
    }
    if !records.iter().any(|record| record.known.kind.switches) {
        return Err(NotEnough::DoesNotApply);
    }
    let mut weakest: Vec<(Direction, f64)> = Vec::new();
    let (mut pushes, mut dips_to, mut shortest) = (0, 1.0_f64, f64::INFINITY);
    for Pushes { record, pushes: counting } in of_reach(records) {
        let path = Trace::of(&record.recording, record.axes);
        let centre = centre.unwrap_or(record.known.centre);
        for repetition in counting {
            let Some(direction) = repetition.direction else { continue };
            let Some(end) = plateau(&path, centre, repetition.span) else { continue };
            let push = path.within(repetition.span).about(centre);
            let level = end.radius();
            let Some((seconds, dip)) = one_push(&push, level, record.known.quiet_radius) else {
                continue;
            };
            pushes += 1;
            dips_to = dips_to.min(dip);
            shortest = shortest.min(seconds);
            match weakest.iter_mut().find(|one| one.0 == direction) {
                Some(one) => one.1 = one.1.min(level),
                None => weakest.push((direction, level)),
            }
        }
    }
    if pushes < FEWEST_PUSHES {
        return Err(NotEnough::Repetitions { have: pushes, need: FEWEST_PUSHES });
    }
    crate::statistics::order::sort_few(&mut weakest, |one, other| one.0 < other.0);
    let rest = settled_path(records, TaskKind::QuietRest);
    let rest_reaches = centre
        .or_else(|| rest.median())
        .map_or(0.0, |centre| Sustained::of(&distances(&rest, centre)).largest());
    Ok(SwitchUse { weakest, rest_reaches, dips_to, shortest_push_seconds: shortest })
}

/// Seconds from leaving rest to coming back, and the deepest dip as a share of the plateau; `None`
/// of a push that never left rest.
fn one_push(push: &Trace, level: f64, quiet_radius: f64) -> Option<(f64, f64)> {
    let at = |index: usize| push.pieces.get(index).map_or(0.0, |piece| piece.at.radius());
    let top = |index: &usize| at(*index) >= AT_PLATEAU * level;
    let count = push.pieces.len();
    let (first, last) = ((0..count).find(top)?, (0..count).rev().find(top)?);
    if level <= quiet_radius {
        return None;
    }
    let quiet = |index: &usize| at(*index) <= quiet_radius;
    let leaves = (0..first).rev().find(quiet).map_or(0, |index| index + 1);
    let back = (last..count).find(quiet).unwrap_or(count) - 1;
    let seconds =
        push.pieces.get(back)?.span.to_seconds - push.pieces.get(leaves)?.span.from_seconds;
    // The lowest level that the path stays at or below for a frame: a falling front of maxima.
    let mut front: std::collections::VecDeque<(f64, f64)> = std::collections::VecDeque::new();
    let mut dip = f64::INFINITY;
    let start = push.pieces.get(first)?.span.from_seconds;
    for piece in push.pieces.get(first..=last)? {
        let (radius, end) = (piece.at.radius(), piece.span.to_seconds);
        while front.back().is_some_and(|before| before.1 <= radius) {
            front.pop_back();
        }
        front.push_back((end, radius));
        while front.front().is_some_and(|before| before.0 <= end - SHORTEST_RUN_SECONDS) {
            front.pop_front();
        }
        if let (Some(highest), true) = (front.front(), end - start >= SHORTEST_RUN_SECONDS) {
            dip = dip.min(highest.1);
        }
    }
    Some((seconds, (dip / level).min(1.0)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::measure;
    use crate::measure::test_records::{pushes, quiet_rest, recording};

    fn used_as_switches(mut records: Vec<TaskRecord>) -> Vec<TaskRecord> {
        for record in &mut records {
            record.known.kind.switches = true;
        }
        records
    }

    #[test]
    fn pushes_and_rest_are_told_where_directions_are_switches() {
        let ends = [
            (Direction::Right, Position::new(0.7, 0.0)),
            (Direction::Up, Position::new(0.0, 0.6)),
            (Direction::Right, Position::new(0.5, 0.0)),
            (Direction::Up, Position::new(0.0, 0.8)),
        ];
        // In the first push a dip to half of it for a tenth of a second.
        let dip = |at: f64| {
            if (0.9..1.0).contains(&at) { Position::new(-0.35, 0.0) } else { Position::ORIGIN }
        };
        let rest = recording(100.0, 20.0, 250.0, false, |at| {
            if (8.0..8.5).contains(&at) { Position::new(0.2, 0.0) } else { Position::ORIGIN }
        });
        let records =
            used_as_switches(vec![quiet_rest(rest), pushes(0.0, &ends, 250.0, false, dip)]);
        let told = measure(&records).switches.unwrap();
        assert_eq!(told.weakest.len(), 2);
        assert_eq!(told.weakest[0].0, Direction::Right);
        assert!((told.weakest[0].1 - 0.5).abs() < 0.01 && (told.weakest[1].1 - 0.6).abs() < 0.01);
        assert!((told.rest_reaches - 0.2).abs() < 1e-9);
        assert!((told.dips_to - 0.5).abs() < 0.02, "{}", told.dips_to);
        // Outside a tenth of the travel: from about 0.06 to 1.64 s of each push of 2 s.
        assert!((told.shortest_push_seconds - 1.55).abs() < 0.06, "{told:?}");
    }

    #[test]
    fn a_short_drop_that_no_host_sees_is_no_dip() {
        let ends = [(Direction::Right, Position::new(0.7, 0.0)); 3];
        let drop = |at: f64| {
            if (0.9..0.908).contains(&at) { Position::new(-0.6, 0.0) } else { Position::ORIGIN }
        };
        let records = used_as_switches(vec![pushes(0.0, &ends, 250.0, false, drop)]);
        let told = measure(&records).switches.unwrap();
        assert!(told.dips_to > 0.95, "{}", told.dips_to);
        assert_eq!(told.rest_reaches, 0.0);
    }

    #[test]
    fn a_stick_that_is_no_switch_has_none() {
        let ends = [(Direction::Right, Position::new(0.7, 0.0)); 3];
        let records = vec![pushes(0.0, &ends, 250.0, false, |_| Position::ORIGIN)];
        assert_eq!(measure(&records).switches, Err(NotEnough::DoesNotApply));
        let few =
            used_as_switches(vec![pushes(0.0, &ends[..2], 250.0, false, |_| Position::ORIGIN)]);
        assert_eq!(measure(&few).switches, Err(NotEnough::Repetitions { have: 2, need: 3 }));
        assert_eq!(measure(&[]).switches, Err(NotEnough::NothingRecorded));
    }
}
