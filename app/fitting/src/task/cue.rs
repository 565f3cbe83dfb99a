//! What is asked one after another: which things, and in which order.

use super::{PressAsk, TaskAsk};
use crate::Direction;
use rand_core::Rng;
use rand_pcg::Pcg32;
use std::collections::VecDeque;

/// The most rounds a task is played for, whatever was asked.
const MOST_ROUNDS: usize = 50;
/// The most levels of a hold, whatever was asked.
const MOST_LEVELS: usize = 8;
/// The lowest level of a ring, share of own reach.
const LOWEST_LEVEL: f64 = 0.05;

/// What one repetition asks for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum What {
    /// Push as far as is comfortable, and back.
    Push(Direction),
    /// Stay in a ring at this level for these seconds.
    Hold { direction: Direction, level: f64, seconds: f64 },
    /// The longer hold: at most these seconds.
    Sustain { direction: Direction, level: f64, seconds: f64 },
    /// Into a ring at this level, and let go.
    Return { direction: Direction, level: f64 },
    /// Press a button.
    Press { button: usize, press: PressAsk },
}

impl What {
    /// Which way, if it is a way.
    pub(super) const fn direction(&self) -> Option<Direction> {
        match self {
            Self::Push(direction)
            | Self::Hold { direction, .. }
            | Self::Sustain { direction, .. }
            | Self::Return { direction, .. } => Some(*direction),
            Self::Press { .. } => None,
        }
    }

    /// How far, share of own reach; `None` for "as far as is comfortable" and for presses.
    pub(super) const fn level(&self) -> Option<f64> {
        match self {
            Self::Hold { level, .. } | Self::Sustain { level, .. } | Self::Return { level, .. } => {
                Some(*level)
            }
            Self::Push(_) | Self::Press { .. } => None,
        }
    }

    /// Which button and how, if it is a press.
    pub(super) const fn press(&self) -> Option<(usize, PressAsk)> {
        match self {
            Self::Press { button, press } => Some((*button, *press)),
            Self::Push(_) | Self::Hold { .. } | Self::Sustain { .. } | Self::Return { .. } => None,
        }
    }

    /// Whether the one after the other would be the same movement twice running.
    fn repeats(&self, other: &Self) -> bool {
        match (self.press(), other.press()) {
            (Some(one), Some(two)) => one == two,
            _ => self.direction() == other.direction(),
        }
    }
}

/// One thing to ask.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Cue {
    /// What is asked.
    pub(super) what: What,
    /// The repetition that was left out and for which this is asked once more.
    pub(super) instead_of: Option<usize>,
    /// What was done when it was asked before was not watched, and so it is asked again.
    pub(super) was_unwatched: bool,
}

/// Everything a task asks for, each once a round (and level), in a balanced order that nobody can
/// foresee but that is the same every time, never the same twice running where there is a choice.
/// Rests and free movement ask for nothing one after another.
///
/// Levels of a hold go from the lowest up, so that a person who stops half-way has done the easy
/// ones.
pub(super) fn cues(ask: &TaskAsk) -> VecDeque<Cue> {
    // Any fixed numbers do: they only make the order look unplanned.
    let mut order = Order { cues: VecDeque::new(), random: Pcg32::new(0x0041_7469_6d65, 7) };
    match ask {
        TaskAsk::HandsOff { .. }
        | TaskAsk::QuietRest { .. }
        | TaskAsk::BusyRest { .. }
        | TaskAsk::FreeMovement { .. } => {}
        TaskAsk::Reach { directions, rounds } => {
            order.add(&ways(directions, What::Push), *rounds);
        }
        TaskAsk::Hold { directions, levels, rounds, seconds } => {
            for level in rising(levels) {
                let hold = |direction| What::Hold { direction, level, seconds: *seconds };
                order.add(&ways(directions, hold), *rounds);
            }
        }
        TaskAsk::Sustained { directions, level, seconds } => {
            let level = level.clamp(LOWEST_LEVEL, 1.0);
            let hold = |direction| What::Sustain { direction, level, seconds: *seconds };
            order.add(&ways(directions, hold), 1);
        }
        TaskAsk::Return { directions, level, rounds } => {
            let level = level.clamp(LOWEST_LEVEL, 1.0);
            let way = |direction| What::Return { direction, level };
            order.add(&ways(directions, way), *rounds);
        }
        TaskAsk::Presses { buttons, rounds } => {
            let mut presses = Vec::new();
            for button in each(buttons) {
                for press in [PressAsk::Once, PressAsk::Long, PressAsk::Twice] {
                    presses.push(What::Press { button, press });
                }
            }
            order.add(&presses, *rounds);
        }
    }
    order.cues
}

/// Each of these once, in their order.
pub(super) fn each<T: Copy + PartialEq>(some: &[T]) -> Vec<T> {
    let mut once: Vec<T> = Vec::new();
    for one in some {
        if !once.contains(one) {
            once.push(*one);
        }
    }
    once
}

/// What is asked in each direction once.
fn ways(directions: &[Direction], what: impl Fn(Direction) -> What) -> Vec<What> {
    each(directions).into_iter().map(what).collect()
}

/// The levels that make sense, each once, from the lowest up.
fn rising(levels: &[f64]) -> Vec<f64> {
    let mut levels: Vec<f64> = levels
        .iter()
        .filter(|level| level.is_finite() && **level > 0.0)
        .map(|level| level.clamp(LOWEST_LEVEL, 1.0))
        .collect();
    crate::statistics::order::sort_numbers(&mut levels);
    levels.dedup();
    levels.truncate(MOST_LEVELS);
    levels
}

/// The order as it grows.
struct Order {
    cues: VecDeque<Cue>,
    random: Pcg32,
}

impl Order {
    /// Adds rounds in which each of `once` is asked once.
    fn add(&mut self, once: &[What], rounds: usize) {
        for _ in 0..rounds.min(MOST_ROUNDS) {
            let mut round = once.to_vec();
            shuffle(&mut round, &mut self.random);
            let repeats = match (round.first(), self.cues.back()) {
                (Some(first), Some(last)) => first.repeats(&last.what),
                _ => false,
            };
            if round.len() > 1 && repeats {
                round.rotate_left(1);
            }
            self.cues.extend(round.into_iter().map(|what| Cue {
                what,
                instead_of: None,
                was_unwatched: false,
            }));
        }
    }
}

/// Fisher and Yates's shuffle. The share of each order is even to within one in a hundred
/// million for eight directions, which is as even as an order needs to be.
fn shuffle(round: &mut [What], random: &mut Pcg32) {
    for last in (1..round.len()).rev() {
        let pick = (random.next_u32() as usize) % (last + 1);
        round.swap(last, pick);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_direction_once_a_round_and_never_twice_running() {
        let ask = TaskAsk::Reach { directions: Direction::EIGHT.to_vec(), rounds: 12 };
        let cues: Vec<Direction> =
            cues(&ask).iter().filter_map(|cue| cue.what.direction()).collect();
        assert_eq!(cues.len(), 96);
        for round in cues.chunks(8) {
            for direction in Direction::EIGHT {
                assert_eq!(round.iter().filter(|asked| **asked == direction).count(), 1);
            }
        }
        assert!(cues.windows(2).all(|pair| pair[0] != pair[1]));
        let orders: std::collections::BTreeSet<_> = cues.chunks(8).map(<[_]>::to_vec).collect();
        assert!(orders.len() > 6, "the order does not repeat itself");
    }

    #[test]
    fn levels_rise_and_nonsense_is_left_out() {
        let ask = TaskAsk::Hold {
            directions: vec![Direction::Left, Direction::Left],
            levels: vec![0.75, f64::NAN, 0.25, -1.0, 0.25, 7.0],
            rounds: 2,
            seconds: 3.0,
        };
        let levels: Vec<f64> = cues(&ask).iter().filter_map(|cue| cue.what.level()).collect();
        assert_eq!(levels, [0.25, 0.25, 0.75, 0.75, 1.0, 1.0]);
        assert!(cues(&TaskAsk::Reach { directions: vec![], rounds: 3 }).is_empty());
        let many = TaskAsk::Reach { directions: Direction::FOUR.to_vec(), rounds: usize::MAX };
        assert_eq!(cues(&many).len(), 4 * MOST_ROUNDS);
    }

    #[test]
    fn every_button_in_every_way_once_a_round() {
        let ask = TaskAsk::Presses { buttons: vec![0, 3, 3, 5], rounds: 20 };
        let cues: Vec<(usize, PressAsk)> =
            cues(&ask).iter().filter_map(|cue| cue.what.press()).collect();
        assert_eq!(cues.len(), 3 * 3 * 20);
        for round in cues.chunks(9) {
            let mut sorted = round.to_vec();
            sorted.sort_unstable();
            sorted.dedup();
            assert_eq!(sorted.len(), 9);
        }
        assert!(cues.windows(2).all(|pair| pair[0] != pair[1]));
        let orders: std::collections::BTreeSet<_> = cues.chunks(9).map(<[_]>::to_vec).collect();
        assert!(orders.len() > 17, "the order does not repeat itself");
    }

    #[test]
    fn rests_ask_nothing_one_after_another() {
        for ask in [
            TaskAsk::HandsOff { seconds: 5.0 },
            TaskAsk::QuietRest { seconds: 5.0 },
            TaskAsk::FreeMovement { seconds: 5.0 },
        ] {
            assert!(cues(&ask).is_empty());
        }
    }
}
