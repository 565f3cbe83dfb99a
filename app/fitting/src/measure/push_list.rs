//! The pushes of the reach tasks, one by one.

use super::known::visit_centre;
use super::plateau::plateau;
use crate::position::fold_degrees;
use crate::task::stands_out::falls_short;
use crate::task::{MarkReason, Outcome, QUERY_DEGREES, Query, Repetition, TaskKind, TaskRecord};
use crate::{Direction, Position, Trace};

/// One push that was asked for and done.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ListedPush {
    /// Its record's place among those of the visit.
    pub record: usize,
    /// Its place among the repetitions of that.
    pub repetition: usize,
    /// Its place among the listed ones that were asked the same way, from 1.
    pub number: usize,
    /// The direction that was asked.
    pub asked: Direction,
    /// How far its plateau lies from the centre, share of travel.
    pub reach: f64,
    /// How far off the asked direction, degrees; `None` where it did not leave the quiet radius.
    pub degrees_off: Option<f64>,
    /// What is odd about it, also where somebody said that it was meant.
    pub odd: Option<Query>,
    /// Why it was marked, if it was.
    pub mark: Option<MarkReason>,
    /// Whether it counts in the figures.
    pub counts: bool,
}

/// The pushes that were asked of the person and done, by direction in the order of
/// [`Direction::EIGHT`] and then of time, with their lengths as the reach figures take them. One
/// is odd by the rules of the running task: more than 60 degrees off, or less than three fifths of
/// the others of its task that way.
#[must_use]
pub fn list_pushes(records: &[TaskRecord]) -> Vec<ListedPush> {
    let centre = visit_centre(records);
    let is_listed = |record: &TaskRecord| {
        record.ask.kind() == TaskKind::Reach && !record.is_free() && record.is_of_person()
    };
    let all: Vec<ListedPush> = records
        .iter()
        .enumerate()
        .filter(|(_, record)| is_listed(record))
        .flat_map(|(place, record)| of_record(place, record, centre.unwrap_or(record.known.centre)))
        .collect();
    let one_way = |asked: Direction| {
        let same = all.iter().filter(move |push| push.asked == asked);
        same.zip(1..).map(|(push, number)| ListedPush { number, ..*push })
    };
    Direction::EIGHT.into_iter().flat_map(one_way).collect()
}

fn of_record(record: usize, from: &TaskRecord, centre: Position) -> Vec<ListedPush> {
    let path = Trace::of(&from.recording, from.axes);
    let done = from.repetitions.iter().enumerate().filter(|one| one.1.outcome == Outcome::Done);
    let mut pushes: Vec<ListedPush> = done
        .filter_map(|(repetition, push)| {
            let asked = push.direction?;
            let end = plateau(&path, centre, push.span)?;
            let left = end.radius() > from.known.quiet_radius;
            Some(ListedPush {
                record,
                repetition,
                number: 0,
                asked,
                reach: end.radius(),
                degrees_off: left.then(|| fold_degrees(end.degrees() - asked.degrees())),
                odd: push.query(),
                mark: push.mark,
                counts: push.counts(),
            })
        })
        .collect();
    let is_compared = |push: &&ListedPush| {
        from.repetitions.get(push.repetition).is_some_and(Repetition::counts_but_for_length)
    };
    let lengths: Vec<(Direction, f64)> =
        pushes.iter().filter(is_compared).map(|push| (push.asked, push.reach)).collect();
    for push in pushes.iter_mut().filter(|push| push.counts) {
        let mut same: Vec<f64> =
            lengths.iter().filter(|one| one.0 == push.asked).map(|one| one.1).collect();
        if let Some(itself) = same.iter().position(|reach| *reach == push.reach) {
            same.swap_remove(itself);
        }
        let short = falls_short(push.reach, same).map(Query::Short);
        let off = push.degrees_off.filter(|degrees| degrees.abs() > QUERY_DEGREES).map(Query::Off);
        push.odd = off.or(short);
    }
    pushes
}
