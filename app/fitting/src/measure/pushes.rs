//! Which pushes are told together.

use super::watched::is_push_watched;
use crate::Direction;
use crate::task::{CueKind, Repetition, TaskKind, TaskRecord};

/// A direction in which no push was asked takes its reach from free movement when it was pushed at
/// least so many times. Once may be a slip or a fling; what comes back three times, and from which a
/// spread can be told, is what the person does of their own accord. It may be less than what would
/// be comfortable: nobody asked for more. Common practice, no source.
pub const FEWEST_FREE_PUSHES: usize = 3;

/// Pushes of one record, in order of time.
#[derive(Clone, Debug)]
pub(crate) struct Pushes<'a> {
    pub(crate) record: &'a TaskRecord,
    pub(crate) pushes: Vec<&'a Repetition>,
}

/// The pushes that count, were watched and went in a direction, of the reach tasks that are `wanted`.
fn of<'a>(
    records: &'a [TaskRecord],
    wanted: impl Fn(&TaskRecord) -> bool,
    counts: impl Fn(Direction) -> bool,
) -> Vec<Pushes<'a>> {
    let is_reach = |record: &&TaskRecord| record.ask.kind() == TaskKind::Reach && wanted(record);
    let told = |record: &'a TaskRecord| {
        let goes =
            |one: &&Repetition| one.direction.is_some_and(&counts) && is_push_watched(record, one);
        Pushes { record, pushes: record.counting().filter(goes).collect() }
    };
    records.iter().filter(is_reach).map(told).collect()
}

/// Whether a push was asked for one way, with a mark at the place.
fn is_asked(record: &TaskRecord) -> bool {
    !record.is_free() && record.cue == CueKind::AtPlace
}

/// The pushes that tell comfortable reach: those asked for with a mark at the place, told or shown,
/// and, in directions in which none was, those of free movement that came back often enough
/// ([`FEWEST_FREE_PUSHES`]). The two are never pooled in one direction.
pub(crate) fn of_reach(records: &[TaskRecord]) -> Vec<Pushes<'_>> {
    let mut asked = of(records, is_asked, |_| true);
    let free = from_free(records);
    asked.extend(of(records, TaskRecord::is_free, |went| free.contains(&went)));
    asked
}

/// The directions whose reach comes from free movement.
pub(crate) fn from_free(records: &[TaskRecord]) -> Vec<Direction> {
    let asked = of(records, is_asked, |_| true);
    let free = of(records, TaskRecord::is_free, |_| true);
    let times = |all: &[Pushes], way: Direction| {
        let went = |one: &&&Repetition| one.direction == Some(way);
        all.iter().map(|record| record.pushes.iter().filter(went).count()).sum::<usize>()
    };
    let comes =
        |way: &Direction| times(&asked, *way) == 0 && times(&free, *way) >= FEWEST_FREE_PUSHES;
    Direction::EIGHT.into_iter().filter(comes).collect()
}

/// The pushes that were cued this way.
pub(crate) fn cued(records: &[TaskRecord], cue: CueKind) -> Vec<Pushes<'_>> {
    of(records, |record| !record.is_free() && record.cue == cue, |_| true)
}
