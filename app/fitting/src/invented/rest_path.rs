//! Long stretches of one thing, as the page sees them: for truths that take an hour to tell.

use super::deciding::Asked;
use super::model::Model;
use super::player::Player;
use crate::Position;
use crate::task::Target;

/// What a rest is beside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Resting {
    /// Nothing.
    Quiet,
    /// Talking, watching, or pressing something else.
    Busy,
}

/// What the page sees of one long stretch: when each new state was seen, seconds from the
/// beginning, and where the stick was in it. A place holds until the next; the first is at 0.
#[derive(Clone, Debug)]
pub struct LongPath {
    player: Player,
    now: f64,
    left_out: f64,
    seconds: f64,
    last: Option<Position>,
}

impl LongPath {
    fn new(player: Player, left_out: f64, seconds: f64) -> Self {
        let seconds = if seconds.is_finite() { seconds.max(0.0) } else { 0.0 };
        Self { player, now: 0.0, left_out, seconds, last: None }
    }
}

impl Iterator for LongPath {
    type Item = (f64, Position);

    fn next(&mut self) -> Option<Self::Item> {
        loop {
            while let Some((at, place)) = self.player.next_seen(self.now) {
                let since = at - self.left_out;
                if since < 0.0 || self.last == Some(place) {
                    continue;
                }
                let since = if self.last.is_none() { 0.0 } else { since };
                self.last = Some(place);
                if since < self.seconds {
                    return Some((since, place));
                }
            }
            if self.now >= self.left_out + self.seconds {
                return None;
            }
            self.now = self.player.step_on();
        }
    }
}

/// A hold has settled after this long, seconds.
const SETTLES_SECONDS: f64 = 5.0;

impl Model {
    /// The unintended movement of `seconds` of rest on the stick, from a seed, with no push
    /// before. For the same without sudden movements and startles, ask
    /// [`Model::without_jerks`]: everything else is the same to the bit.
    #[must_use]
    pub fn rest_path(&self, resting: Resting, seconds: f64, seed: u64) -> LongPath {
        let mut player = Player::new(self.clone(), seed);
        let asked = match resting {
            Resting::Quiet => Asked::Rest,
            Resting::Busy => Asked::Busy,
        };
        player.begin_with(asked, None);
        LongPath::new(player, 0.0, seconds)
    }

    /// The movement in `seconds` of staying in the ring `target` (as a task shows it), once
    /// settled: with what the person corrects by eye. It does not tire.
    #[must_use]
    pub fn held_path(&self, target: Target, seconds: f64, seed: u64) -> LongPath {
        let mut player = Player::new(self.clone(), seed);
        let direction = crate::Direction::Up;
        player.begin_with(Asked::Ring { direction, step: 1, sustained: false }, Some(target));
        LongPath::new(player, SETTLES_SECONDS, seconds)
    }

    /// Hold steadiness: the spread about the held place over ten minutes of staying in `target`,
    /// sudden movements left out: standard deviation over time, both axes pooled, share of travel.
    #[must_use]
    pub fn held_spread(&self, target: Target, seed: u64) -> f64 {
        const SECONDS: f64 = 600.0;
        let path = self.clone().without_jerks().held_path(target, SECONDS, seed);
        let (mut sum, mut squares, mut before) = (Position::ORIGIN, 0.0, None);
        let mut take = |from: f64, to: f64, place: Position| {
            // From the ring's middle, so that the squares lose no digits.
            let off = place - target.at;
            sum = sum + off * (to - from);
            squares += (off.right * off.right + off.up * off.up) * (to - from);
        };
        for (at, place) in path {
            if let Some((from, held)) = before {
                take(from, at, held);
            }
            before = Some((at, place));
        }
        if let Some((from, held)) = before {
            take(from, SECONDS, held);
        }
        let mean = sum * (1.0 / SECONDS);
        let variance = squares / SECONDS - mean.right * mean.right - mean.up * mean.up;
        libm::sqrt((variance / 2.0).max(0.0))
    }
}
