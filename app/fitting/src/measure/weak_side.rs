//! Whether one side looks weak, and what a repeat with another cue says of it.

use super::{CuedReach, DirectionReach, Measures};
use crate::Direction;
use crate::estimate::Estimate;
use crate::position::fold_degrees;
use crate::task::{CueKind, TaskAsk};

/// A side that reaches at least this share of the way of the other one is not called weak.
const NEARLY_AS_FAR: f64 = 0.8;
/// Directions less than this far apart belong to one side, degrees.
const OWN_SIDE_DEGREES: f64 = 80.0;
/// How often each of the two sides is asked in the repeat.
const REPEAT_ROUNDS: usize = 5;

/// A side that looks weak.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WeakSide {
    /// Right, up, left or down.
    pub side: Direction,
    /// How far it was reached with a mark at the place, share of travel.
    pub reach: Estimate,
    /// The least of what was reached in the directions that are not of that side.
    pub least_other: Estimate,
    /// What the repeat with another cue says.
    pub verdict: SideVerdict,
}

/// What limits a side that looks weak.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SideVerdict {
    /// It was not yet asked again with a sign in the middle, or spoken: before that it is not called
    /// reach.
    AskAgain,
    /// It is weak with that cue too: what limits it is reach, as far as this can tell.
    Reach,
    /// With that cue it goes about as far as the other side: seeing or attention may be what limits
    /// it when the mark is at the place.
    Attention,
    /// The repeat says neither.
    CannotTell,
}

impl WeakSide {
    /// The repeat: the side and the one across from it, with a cue in the middle or spoken.
    #[must_use]
    pub fn repeat(&self) -> TaskAsk {
        TaskAsk::Reach { directions: vec![self.side, across(self.side)], rounds: REPEAT_ROUNDS }
    }
}

/// The side that looks weak in what was measured, if one does.
///
/// A side (right, up, left or down) looks weak when the interval of its reach lies wholly below
/// that of the direction across and of every other direction that was measured and is more than
/// 80 degrees away, and it reaches at most four fifths of the least of them. So at most one side
/// does. Only pushes that were asked for with a mark at the place are looked at.
///
/// The repeat is judged within itself: pushes that were cued in different ways are never compared.
/// Both sides are asked with the same cue. The side is limited by **reach** when by the same rule it
/// looks weak against the one across; by **seeing or attention** when it surely reaches more than
/// four fifths of it (the 95 % interval of `side − 0.8 × across` lies above 0, from the intervals of
/// both by the method of variance estimates recovery: Zou and Donner 2008, *Statistics in Medicine*
/// 27: 1693, from memory); else **cannot tell**, also where a central and a spoken cue disagree.
/// That a side that looks weak is asked again with another cue, and the four fifths, are common
/// practice, no source. What was learnt between the two is not told from attention.
#[must_use]
pub fn weak_side(measures: &Measures) -> Option<WeakSide> {
    let asked: Vec<&DirectionReach> = measures.reach.iter().filter(|one| !one.free).collect();
    Direction::FOUR.into_iter().find_map(|side| {
        let reach = reach_of(asked.iter().copied(), side)?;
        reach_of(asked.iter().copied(), across(side))?;
        let others = asked.iter().filter(|one| is_elsewhere(one.asked, side));
        let others: Vec<Estimate> = others.filter_map(|one| one.reach.ok()).collect();
        if !others.iter().all(|other| is_weak(reach, *other)) {
            return None;
        }
        let least = others.into_iter().min_by(|one, two| one.value.total_cmp(&two.value))?;
        Some(WeakSide { side, reach, least_other: least, verdict: verdict(&measures.cued, side) })
    })
}

/// What all cued repeats say of a side together.
fn verdict(cued: &[CuedReach], side: Direction) -> SideVerdict {
    let said = cued.iter().filter(|one| one.cue != CueKind::AtPlace).filter_map(|one| {
        let reach = reach_of(one.reach.iter(), side)?;
        Some(of_repeat(reach, reach_of(one.reach.iter(), across(side))?))
    });
    let mut said = said.filter(|one| *one != SideVerdict::CannotTell).peekable();
    let Some(first) = said.peek().copied() else {
        let was_asked = |one: &CuedReach| {
            one.cue != CueKind::AtPlace && one.reach.iter().any(|reach| reach.asked == side)
        };
        let asked = cued.iter().any(was_asked);
        return if asked { SideVerdict::CannotTell } else { SideVerdict::AskAgain };
    };
    if said.all(|one| one == first) { first } else { SideVerdict::CannotTell }
}

/// What one repeat says, both sides having been asked with the same cue.
fn of_repeat(side: Estimate, across: Estimate) -> SideVerdict {
    if is_weak(side, across) {
        return SideVerdict::Reach;
    }
    let down = side.value - side.low;
    let up = NEARLY_AS_FAR * (across.high - across.value);
    let low = side.value - NEARLY_AS_FAR * across.value - libm::hypot(down, up);
    if low > 0.0 { SideVerdict::Attention } else { SideVerdict::CannotTell }
}

/// Whether one reach lies clear below another and is at most four fifths of it.
fn is_weak(reach: Estimate, other: Estimate) -> bool {
    reach.high < other.low && reach.value <= NEARLY_AS_FAR * other.value
}

fn is_elsewhere(direction: Direction, side: Direction) -> bool {
    fold_degrees(direction.degrees() - side.degrees()).abs() >= OWN_SIDE_DEGREES
}

fn reach_of<'a>(
    mut of: impl Iterator<Item = &'a DirectionReach>,
    side: Direction,
) -> Option<Estimate> {
    of.find(|one| one.asked == side).and_then(|one| one.reach.ok())
}

/// The direction across.
fn across(side: Direction) -> Direction {
    let off = |one: &Direction| fold_degrees(one.degrees() - side.degrees()).abs();
    Direction::EIGHT.into_iter().find(|one| off(one) > 179.0).unwrap_or(side)
}

#[cfg(test)]
mod tests;
