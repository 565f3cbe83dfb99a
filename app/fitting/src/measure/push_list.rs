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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::test_records::pushes;

    /// Pushes to the right this far, in order.
    fn right(reaches: &[f64]) -> TaskRecord {
        let ends: Vec<(Direction, Position)> =
            reaches.iter().map(|reach| (Direction::Right, Position::polar(*reach, 0.0))).collect();
        pushes(0.0, &ends, 250.0, false, |_| Position::ORIGIN)
    }

    fn listed(record: &TaskRecord) -> Vec<(usize, bool)> {
        list_pushes(std::slice::from_ref(record))
            .iter()
            .map(|push| (push.number, push.odd.is_some()))
            .collect()
    }

    #[test]
    fn one_that_falls_short_of_the_others_stands_out_wherever_it_comes() {
        for place in 0..4 {
            let mut reaches = vec![0.68, 0.7, 0.72];
            reaches.insert(place, 0.25);
            let wanted: Vec<(usize, bool)> =
                (0..4).map(|index| (index + 1, index == place)).collect();
            assert_eq!(listed(&right(&reaches)), wanted);
        }
        assert!(listed(&right(&[0.5, 0.7, 0.72, 0.6])).iter().all(|one| !one.1), "as people vary");
    }

    #[test]
    fn what_was_said_of_a_push_is_kept_and_it_still_stands_out() {
        let mut record = right(&[0.7, 0.25, 0.72, 0.68]);
        let one = list_pushes(std::slice::from_ref(&record))[1];
        let odd = one.odd.expect("it stands out");
        for is_meant in [false, true] {
            record.repetitions[1].say_meant(odd, is_meant);
            let after = list_pushes(std::slice::from_ref(&record))[1];
            assert_eq!((after.counts, after.odd.is_some()), (is_meant, true));
            assert_eq!((after.record, after.repetition), (0, 1));
        }
    }

    #[test]
    fn one_that_goes_the_wrong_way_stands_out_and_lists_follow_directions_then_time() {
        let mut ends = vec![(Direction::Up, Position::polar(0.6, 90.0)); 3];
        ends.push((Direction::Right, Position::polar(0.7, 0.0)));
        ends.push((Direction::Right, Position::polar(0.7, 130.0)));
        let record = pushes(0.0, &ends, 250.0, false, |_| Position::ORIGIN);
        let all = list_pushes(&[record]);
        let asked: Vec<Direction> = all.iter().map(|push| push.asked).collect();
        assert_eq!(asked[..2], [Direction::Right; 2]);
        assert_eq!(asked[2..], [Direction::Up; 3]);
        assert!(matches!(all[1].odd, Some(Query::Off(degrees)) if (degrees - 130.0).abs() < 2.0));
        assert!((all[1].reach - 0.7).abs() < 0.01);
    }
}
