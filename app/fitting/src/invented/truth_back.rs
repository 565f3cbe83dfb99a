//! What is true of a model's ways back, and of what the spring leaves: from its figures and its own
//! mechanism, never from what is measured of it.

use super::deciding::REACTION_SPREAD;
use super::model::Model;
use super::random::Random;
use super::stick::Stick;
use super::stick_in_use::{CREEP_SECONDS, StickInUse, TAKES_ALONG};
use super::unintended::Unintended;
use super::will::{Will, first_shares};
use crate::{Direction, Position};

/// The way back from a place, noise-free.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TrueReturn {
    /// From the cue until the stick stays at rest, seconds: the mean over reactions.
    pub seconds: f64,
    /// From the first move back until it stays at rest, seconds.
    pub moving_seconds: f64,
    /// How far it shoots past its resting place, as a share of the way back.
    pub overshoot: f64,
    /// How far before the place where the person rests it comes to rest at first, along the push:
    /// what the spring sags, and how far beside the middle the person rests.
    pub rests_short: f64,
    /// How long the way is, share of travel.
    pub way: f64,
}

/// A way back has begun once this share of it is done, and a shorter one is none, share of travel.
const MOVED_SHARE: f64 = 0.05;
const LEAST_WAY: f64 = 0.01;
/// The path of a way back is read off this often, and for this long after the hand is back or a
/// spring let go, seconds.
const READ_SECONDS: f64 = 0.002;
const AFTER_HAND_SECONDS: f64 = 1.0;
const AFTER_SPRING_SECONDS: f64 = 6.0;
/// So many ways back are made by hand where no two are alike.
const BY_HAND: u64 = 24;
/// Where a way back has come to rest is seen about this long after it did, seconds.
const SEEN_AFTER_SECONDS: f64 = 0.9;
/// Mean distance over the standard deviation on each axis of a place that is normal on both:
/// `sqrt(π/2)`.
const MEAN_DISTANCE: f64 = 1.253_314_137_315_5;

/// A push counts as back once it was this long within the quiet radius, and what the spring leaves is
/// seen from this long until that long after, seconds.
const BACK_SECONDS: f64 = 0.3;
const SAG_SEEN_SECONDS: (f64, f64) = (0.5, 0.8);
/// Nobody takes longer for a way back, seconds.
const LONGEST_SECONDS: f64 = 60.0;
/// Ways back in each direction over which the sag is taken.
const SAG_ROUNDS: u64 = 4;

impl Model {
    /// The way back from `level` (a share of the person's own reach) in `direction`, noise-free, as
    /// the page is shown it. The stick is at rest once it stays within the share `band` of the way
    /// back (control engineering's usual band is 0.05), or within `strays` (share of travel) where
    /// that is more, and has moved once it is past a share of 0.05. Where the person brings it back by hand, the mean over the ways in which that
    /// may be done. `None` for a stick that stays where it is let go, and where there is no way
    /// back to be seen.
    #[must_use]
    pub fn true_return(
        &self,
        direction: Direction,
        level: f64,
        band: f64,
        strays: f64,
    ) -> Option<TrueReturn> {
        let band = (band, strays);
        let level = if level.is_finite() { level.clamp(0.0, 1.0) } else { return None };
        let reach = self.body.reach_towards(direction) * level;
        let from = Position::polar(reach, direction.degrees());
        let home = self.body.rests_at;
        if self.body.lets_go {
            if !self.stick.centres_itself {
                return None;
            }
            let back = |now: f64| (home + from) * self.stick.spring_back(now);
            let way = self.way_back(band, Position::ORIGIN, AFTER_SPRING_SECONDS, back)?;
            return Some(self.returned(&[way], 0.0));
        }
        let wills: Vec<(Will, f64)> = if self.body.stops.is_some() || self.body.overshoot.is_some()
        {
            let mut random = Random::new(0, 91);
            (0..BY_HAND).map(|_| Will::back(from, &self.body, &mut random)).collect()
        } else {
            first_shares()
                .map(|share| Will::back_from(from, self.body.movement_seconds, share))
                .collect()
        };
        let mut ways = Vec::new();
        for (mut will, ends) in wills {
            let until = ends + AFTER_HAND_SECONDS;
            ways.push(self.way_back(band, home, until, |now| home + will.at(now))?);
        }
        Some(self.returned(&ways, MEAN_DISTANCE * self.body.deviation_at(0.0)))
    }

    /// The mean of these ways back to a rest that moves by so much.
    fn returned(&self, ways: &[WayBack], rest_moves: f64) -> TrueReturn {
        let count = ways.len().max(1) as f64;
        let mean = |of: &dyn Fn(&WayBack) -> f64| ways.iter().map(of).sum::<f64>() / count;
        let settled = mean(&|way| way.settled_seconds);
        let spread = REACTION_SPREAD * REACTION_SPREAD / 2.0;
        let late = self
            .body
            .lapses
            .map_or(0.0, |lapses| lapses.share * 0.5 * (lapses.seconds.0 + lapses.seconds.1));
        let sag = |way: &WayBack| {
            let since = way.settled_seconds + SEEN_AFTER_SECONDS - way.crossed_seconds;
            let off = libm::hypot(way.rests_from_middle, rest_moves);
            let left = (1.0 - off / TAKES_ALONG).max(0.0) * libm::exp(-since / CREEP_SECONDS);
            if way.crossed_seconds > 0.0 { self.stick.sag * self.stick.slope() * left } else { 0.0 }
        };
        TrueReturn {
            seconds: self.body.reaction_seconds * libm::exp(spread) + late + settled,
            moving_seconds: settled - mean(&|way| way.moved_seconds),
            overshoot: mean(&|way| way.overshoot),
            way: mean(&|way| way.way),
            rests_short: mean(&|way| way.rests_beside + sag(way)),
        }
    }

    /// Reads off a way back of the body's place over time, which ends at `rests`.
    fn way_back(
        &self,
        (band, strays): (f64, f64),
        rests: Position,
        until_seconds: f64,
        mut at: impl FnMut(f64) -> Position,
    ) -> Option<WayBack> {
        let rests = self.mounted(rests);
        let rest = self.stick.shows_on_average(rests);
        let begins = self.stick.shows_on_average(self.mounted(at(0.0))) - rest;
        let way = begins.radius();
        if way < LEAST_WAY {
            return None;
        }
        let along = begins * (1.0 / way);
        let beside = rest - self.true_rest();
        let mut found = WayBack {
            way,
            moved_seconds: 0.0,
            settled_seconds: 0.0,
            crossed_seconds: 0.0,
            overshoot: 0.0,
            rests_beside: beside.right * along.right + beside.up * along.up,
            rests_from_middle: rests.radius(),
        };
        let mut has_moved = false;
        let mut now = 0.0;
        while now <= until_seconds {
            let moved = self.mounted(at(now));
            let off = self.stick.shows_on_average(moved) - rest;
            let left = (off.right * along.right + off.up * along.up) / way;
            has_moved |= left < 1.0 - MOVED_SHARE;
            if !has_moved {
                found.moved_seconds = now;
            }
            if off.radius() > f64::max(band * way, strays) {
                found.settled_seconds = now;
            }
            if moved.radius() > TAKES_ALONG {
                found.crossed_seconds = now;
            }
            found.overshoot = found.overshoot.max(-left);
            now += READ_SECONDS;
        }
        (found.settled_seconds < until_seconds - 0.5).then_some(found)
    }

    /// How far off the spring leaves the stick half a second after a push is back, towards that push,
    /// share of travel, for whom `quiet_radius` counts as at rest: what the same ways back show
    /// with the stick's sag and without it, hand on the stick, apart from noise. 0 where it sags
    /// not, and where no push goes far enough.
    #[must_use]
    pub fn true_sag(&self, quiet_radius: f64, seed: u64) -> f64 {
        if self.stick.sag <= 0.0 {
            return 0.0;
        }
        let (mut sum, mut count) = (0.0, 0.0);
        for (index, direction) in (0_u64..).zip(Direction::EIGHT) {
            for round in 0..SAG_ROUNDS {
                let seed = seed.wrapping_add(SAG_ROUNDS * index + round);
                if let Some(left) = self.sag_after(direction, quiet_radius, seed) {
                    sum += left;
                    count += 1.0;
                }
            }
        }
        sum / f64::max(count, 1.0)
    }

    fn sag_after(&self, direction: Direction, quiet_radius: f64, seed: u64) -> Option<f64> {
        let body = &self.body;
        let step = self.stick.reporting.sound().seconds;
        let push = Position::polar(body.reach_towards(direction), direction.degrees());
        let stick = |sag: f64| {
            let bare = Stick { sag, noise: 0.0, drift: 0.0, ..self.stick.clone() };
            StickInUse::new(bare, seed)
        };
        let (mut sagging, mut sound) = (stick(self.stick.sag), stick(0.0));
        let mut unintended = Unintended::new(&self.clone().without_jerks().body, step, seed);
        let (mut will, _) = Will::back(push, body, &mut Random::new(seed, 92));
        let rest = self.true_rest();
        let along = self.stick.shows_on_average(self.mounted(body.rests_at + push)) - rest;
        // Nearer than twice the quiet radius it is no push whose rest is looked at.
        if along.radius() <= 2.0 * quiet_radius {
            return None;
        }
        let along = along * (1.0 / along.radius());
        let (mut inside, mut back) = (0.0, None);
        let (mut left, mut seen) = (0.0, 0.0);
        let mut now = 0.0;
        while now < LONGEST_SECONDS {
            let meant = will.at(now);
            let at = body.rests_at + meant + unintended.step(body, meant.radius(), false);
            let at = self.mounted(at);
            let as_seen = |[first, second]: [f64; 2]| Position::new(first, -second);
            let (with, without) = (as_seen(sagging.read(at)), as_seen(sound.read(at)));
            inside = if (with - rest).radius() <= quiet_radius { inside + step } else { 0.0 };
            if back.is_none() && inside >= BACK_SECONDS {
                back = Some(now);
            }
            let since = back.map_or(0.0, |back| now - back);
            if since >= SAG_SEEN_SECONDS.1 {
                break;
            }
            if since >= SAG_SEEN_SECONDS.0 {
                let off = with - without;
                left += off.right * along.right + off.up * along.up;
                seen += 1.0;
            }
            now += step;
        }
        (seen > 0.0).then(|| left / seen)
    }
}

/// One noise-free way back; times from its beginning.
struct WayBack {
    /// Share of travel.
    way: f64,
    moved_seconds: f64,
    settled_seconds: f64,
    /// When the stick was last so far out that its spring goes along; 0 where it never was.
    crossed_seconds: f64,
    overshoot: f64,
    /// How far the resting place lies from where the person rests, along the push.
    rests_beside: f64,
    /// How far it is from the stick's middle.
    rests_from_middle: f64,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::invented::{Invented, Overshoot, Stops};

    #[test]
    fn a_spring_that_creeps_back_leaves_most_of_its_sag() {
        let mut model = Invented::SuddenJerks.model();
        let left = model.true_sag(0.05, 3) / model.stick.sag;
        // About a second and a half of eight have passed, and the hand's own wander takes some.
        assert!((0.65..0.9).contains(&left), "{left}");
        model.stick.sag = 0.0;
        assert_eq!(model.true_sag(0.05, 3), 0.0);
    }

    #[test]
    fn stops_and_hunting_make_a_way_back_longer() {
        let mut model = Invented::Chin.model();
        let way =
            |model: &Model| model.true_return(Direction::Left, 0.8, 0.05, 0.0).expect("a way");
        let plain = way(&model);
        model.body.stops = Some(Stops { parts: 3, seconds: (0.4, 0.6) });
        let in_parts = way(&model);
        assert!((in_parts.moving_seconds - plain.moving_seconds - 1.0).abs() < 0.25);
        model.body.stops = None;
        model.body.overshoot = Some(Overshoot { shares: (0.2, 0.3) });
        let hunts = way(&model);
        assert!(hunts.overshoot > 0.15 && plain.overshoot == 0.0, "{hunts:?}");
        assert!(hunts.moving_seconds > plain.moving_seconds + 0.3);
    }

    #[test]
    fn who_rests_beside_the_middle_and_lets_go_comes_to_rest_elsewhere() {
        let mut model = Invented::SteadyHand.model();
        model.body.rests_at = Position::new(0.1, 0.0);
        let way = model.true_return(Direction::Right, 0.8, 0.05, 0.0).expect("a way");
        assert!((way.rests_short + 0.1).abs() < 1e-9, "{way:?}");
        model.body.lets_go = false;
        let way = model.true_return(Direction::Right, 0.8, 0.05, 0.0).expect("a way");
        assert!(way.rests_short.abs() < 1e-9, "{way:?}");
    }
}
