//! Movement on purpose: smooth strokes laid over one another.

use super::body::{Body, Overshoot};
use super::random::Random;
use crate::Position;

/// One stroke.
#[derive(Clone, Copy, Debug)]
struct Stroke {
    from_seconds: f64,
    seconds: f64,
    by: Position,
}

/// The place a person means to be at. A movement is one large stroke and a small one that
/// corrects it (sub-movements; Meyer and others 1988), each of minimum jerk; strokes add up, so a
/// movement may begin while another runs.
#[derive(Clone, Debug, Default)]
pub(super) struct Will {
    reached: Position,
    strokes: Vec<Stroke>,
}

/// The shortest stroke, seconds.
const SHORTEST_SECONDS: f64 = 0.25;
/// The first stroke covers between this share of the way and all of it.
const FIRST_SHARE: f64 = 0.9;
/// Shares of the way that the first stroke may cover, in even steps: for means over them.
pub(super) fn first_shares() -> impl Iterator<Item = f64> {
    (0..5_u8).map(|step| FIRST_SHARE + (1.0 - FIRST_SHARE) * (f64::from(step) + 0.5) / 5.0)
}

/// When the correcting stroke begins, as a share of the first one.
const CORRECTS_AT: f64 = 0.8;

/// A shorter way is gone in one part, share of travel.
const LEAST_IN_PARTS: f64 = 0.1;
/// A stroke that corrects an overshoot goes too far itself, by this share, so many times; the last
/// one lands.
const OVERCORRECTS: f64 = 0.4;
const OVERCORRECTIONS: usize = 2;

impl Will {
    /// Means to be at `goal`, moving as `body` does. Returns when the movement will have ended.
    pub(super) fn go_to(
        &mut self,
        goal: Position,
        now: f64,
        body: &Body,
        random: &mut Random,
    ) -> f64 {
        let share = random.between(FIRST_SHARE, 1.0);
        if body.stops.is_none() && body.overshoot.is_none() {
            return self.stroke(goal, now, body.movement_seconds, share);
        }
        let way = goal - self.goal();
        let seconds_of = |share: f64| lasts(body.movement_seconds, way.radius() * share);
        let past = |one: Overshoot| 1.0 + random.between(one.shares.0, one.shares.1);
        let share = body.overshoot.map_or(share, past);
        let stops = body.stops.filter(|_| way.radius() > LEAST_IN_PARTS);
        let parts = stops.map_or(1, |stops| stops.parts.max(1));
        let (seconds, by) = (seconds_of(1.0) / f64::from(parts), way * (share / f64::from(parts)));
        let mut at = now;
        for part in 0..parts {
            if let (Some(stops), true) = (stops, part > 0) {
                at += random.between(stops.seconds.0, stops.seconds.1);
            }
            self.strokes.push(Stroke { from_seconds: at, seconds, by });
            at += seconds;
        }
        let mut left = 1.0 - share;
        let again = if body.overshoot.is_some() { OVERCORRECTIONS } else { 0 };
        for round in 0..=again {
            let by = if round < again { left * (1.0 + OVERCORRECTS) } else { left };
            let seconds = seconds_of(by.abs());
            self.strokes.push(Stroke { from_seconds: at, seconds, by: way * by });
            left -= by;
            at += seconds;
        }
        at
    }

    /// The same, where the first stroke covers `share` of the way.
    fn stroke(&mut self, goal: Position, now: f64, whole_seconds: f64, share: f64) -> f64 {
        let way = goal - self.goal();
        let seconds = lasts(whole_seconds, way.radius());
        let corrects = now + CORRECTS_AT * seconds;
        self.strokes.push(Stroke { from_seconds: now, seconds, by: way * share });
        self.strokes.push(Stroke {
            from_seconds: corrects,
            seconds: SHORTEST_SECONDS,
            by: way * (1.0 - share),
        });
        (now + seconds).max(corrects + SHORTEST_SECONDS)
    }

    /// A movement from `from` back to the middle, whose first stroke covers `share` of the way, and
    /// when it will have ended.
    pub(super) fn back_from(from: Position, whole_seconds: f64, share: f64) -> (Self, f64) {
        let mut will = Self { reached: from, strokes: Vec::new() };
        let ends = will.stroke(Position::ORIGIN, 0.0, whole_seconds, share);
        (will, ends)
    }

    /// A movement from `from` back to the middle, as `body` moves, and when it will have ended.
    pub(super) fn back(from: Position, body: &Body, random: &mut Random) -> (Self, f64) {
        let mut will = Self { reached: from, strokes: Vec::new() };
        let ends = will.go_to(Position::ORIGIN, 0.0, body, random);
        (will, ends)
    }

    /// Where all strokes that are under way will lead.
    pub(super) fn goal(&self) -> Position {
        self.strokes.iter().fold(self.reached, |sum, stroke| sum + stroke.by)
    }

    /// Where the person means to be at this moment; strokes that are over are put together.
    pub(super) fn at(&mut self, now: f64) -> Position {
        let mut at = self.reached;
        for stroke in &self.strokes {
            at = at + stroke.by * minimum_jerk((now - stroke.from_seconds) / stroke.seconds);
        }
        let reached = &mut self.reached;
        self.strokes.retain(|stroke| {
            let runs = now < stroke.from_seconds + stroke.seconds;
            if !runs {
                *reached = *reached + stroke.by;
            }
            runs
        });
        at
    }
}

/// How long a stroke over this way lasts, seconds, where one over the whole travel lasts
/// `whole_seconds`.
fn lasts(whole_seconds: f64, way: f64) -> f64 {
    SHORTEST_SECONDS + (whole_seconds - SHORTEST_SECONDS).max(0.0) * way
}

/// The smoothest movement from 0 to 1 as time goes from 0 to 1 (minimum jerk, Flash and Hogan
/// 1985, *Journal of Neuroscience* 5: 1688): `10 t³ − 15 t⁴ + 6 t⁵`, held at its ends.
pub(super) fn minimum_jerk(time: f64) -> f64 {
    let time = time.clamp(0.0, 1.0);
    time * time * time * (10.0 + time * (-15.0 + 6.0 * time))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::invented::{Invented, Stops};

    #[test]
    fn minimum_jerk_has_its_published_shape() {
        assert_eq!((minimum_jerk(-1.0), minimum_jerk(0.0)), (0.0, 0.0));
        assert_eq!((minimum_jerk(0.5), minimum_jerk(1.0), minimum_jerk(2.0)), (0.5, 1.0, 1.0));
        // Its peak speed is 15/8 of the mean speed (Flash and Hogan 1985).
        let speed = (minimum_jerk(0.5001) - minimum_jerk(0.4999)) / 0.0002;
        assert!((speed - 1.875).abs() < 1e-6);
    }

    #[test]
    fn strokes_add_up_smoothly_and_end_at_the_goal() {
        let mut random = Random::new(4, 4);
        let mut will = Will::default();
        let goal = Position::new(0.6, -0.3);
        let body = Body { movement_seconds: 0.8, ..Invented::SteadyHand.model().body };
        let ends = will.go_to(goal, 0.0, &body, &mut random);
        let mut before = will.at(0.0);
        let mut turned_back = false;
        let mut now = 0.0;
        while now < 4.0 {
            if !turned_back && now > ends / 2.0 {
                turned_back = true;
                will.go_to(Position::ORIGIN, now, &body, &mut random);
            }
            let at = will.at(now);
            assert!((at - before).radius() < 0.02, "no jump");
            before = at;
            now += 0.004;
        }
        assert!(before.radius() < 1e-9);
    }

    /// How far along a way of 0.6 to the right somebody is, every 4 ms until the end.
    fn along(body: &Body) -> Vec<f64> {
        let mut will = Will::default();
        let goal = Position::new(0.6, 0.0);
        let ends = will.go_to(goal, 0.0, body, &mut Random::new(5, 4));
        let steps = (ends / 0.004) as u32 + 2;
        let path: Vec<f64> =
            (0..steps).map(|step| will.at(f64::from(step) * 0.004).right / 0.6).collect();
        assert!((path[path.len() - 1] - 1.0).abs() < 1e-9);
        path
    }

    #[test]
    fn a_movement_in_parts_stops_between_them() {
        let stops = Some(Stops { parts: 4, seconds: (0.3, 0.5) });
        let body = Body { stops, ..Invented::SteadyHand.model().body };
        let path = along(&body);
        let still = path.windows(2).filter(|pair| (pair[1] - pair[0]).abs() < 1e-12).count();
        assert!((0.9..1.5).contains(&(still as f64 * 0.004)), "three stops: {still}");
        assert!(path.windows(2).all(|pair| pair[1] >= pair[0] - 1e-12), "never back");
    }

    #[test]
    fn an_overshoot_goes_past_and_hunts() {
        let overshoot = Some(Overshoot { shares: (0.3, 0.4) });
        let body = Body { overshoot, ..Invented::SteadyHand.model().body };
        let path = along(&body);
        let top = path.iter().copied().fold(0.0, f64::max);
        assert!((1.3..=1.4).contains(&top), "{top}");
        let over = path.iter().position(|share| *share > 1.2).expect("past the goal");
        let low = path[over..].iter().copied().fold(2.0, f64::min);
        // Two fifths of the overshoot to the other side.
        assert!((low - (1.0 - 0.4 * (top - 1.0))).abs() < 0.01, "{low} after {top}");
    }
}
