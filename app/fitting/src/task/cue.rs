//! What is asked one after another: the order of directions and levels.

use crate::Direction;
use rand_core::Rng;
use rand_pcg::Pcg32;
use std::collections::VecDeque;

/// The most rounds a task is played for, whatever was asked.
const MOST_ROUNDS: usize = 50;
/// The most levels of a hold, whatever was asked.
const MOST_LEVELS: usize = 8;

/// One thing to ask: one push or one hold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Cue {
    /// Which way.
    pub(super) direction: Direction,
    /// How far, share of own reach; `None` for "as far as is comfortable".
    pub(super) level: Option<f64>,
    /// The repetition that was left out and for which this is asked once more.
    pub(super) instead_of: Option<usize>,
}

/// Every direction once a round and level, in a balanced order that nobody can foresee but that
/// is the same every time, never the same direction twice running where there is a choice.
///
/// Levels go from the lowest up, so that a person who stops half-way has done the easy ones.
pub(super) fn in_order(
    directions: &[Direction],
    levels: Option<&[f64]>,
    rounds: usize,
) -> VecDeque<Cue> {
    let mut once: Vec<Direction> = Vec::new();
    for direction in directions {
        if !once.contains(direction) {
            once.push(*direction);
        }
    }
    let levels: Vec<Option<f64>> = match levels {
        None => vec![None],
        Some(levels) => {
            let mut levels: Vec<f64> = levels
                .iter()
                .filter(|level| level.is_finite() && **level > 0.0)
                .map(|level| level.clamp(0.05, 1.0))
                .collect();
            crate::statistics::order::sort_numbers(&mut levels);
            levels.dedup();
            levels.truncate(MOST_LEVELS);
            levels.into_iter().map(Some).collect()
        }
    };
    // Any fixed numbers do: they only make the order look unplanned.
    let mut random = Pcg32::new(0x0041_7469_6d65, 7);
    let mut cues = VecDeque::new();
    for level in levels {
        for _ in 0..rounds.min(MOST_ROUNDS) {
            let mut round = once.clone();
            shuffle(&mut round, &mut random);
            let last = cues.back().map(|cue: &Cue| cue.direction);
            if round.len() > 1 && round.first().copied() == last {
                round.rotate_left(1);
            }
            cues.extend(round.iter().map(|direction| Cue {
                direction: *direction,
                level,
                instead_of: None,
            }));
        }
    }
    cues
}

/// Fisher and Yates's shuffle. The share of each order is even to within one in a hundred
/// million for eight directions, which is as even as an order needs to be.
fn shuffle(directions: &mut [Direction], random: &mut Pcg32) {
    for last in (1..directions.len()).rev() {
        let pick = (random.next_u32() as usize) % (last + 1);
        directions.swap(last, pick);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_direction_once_a_round_and_never_twice_running() {
        let cues: Vec<Direction> =
            in_order(&Direction::EIGHT, None, 12).iter().map(|cue| cue.direction).collect();
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
        let levels = [0.75, f64::NAN, 0.25, -1.0, 0.25, 7.0];
        let cues = in_order(&[Direction::Left, Direction::Left], Some(&levels), 2);
        let levels: Vec<f64> = cues.iter().filter_map(|cue| cue.level).collect();
        assert_eq!(levels, [0.25, 0.25, 0.75, 0.75, 1.0, 1.0]);
        assert!(in_order(&[], None, 3).is_empty());
        assert_eq!(in_order(&Direction::FOUR, None, usize::MAX).len(), 4 * MOST_ROUNDS);
    }
}
