//! One push of the reach task: from the cue out, and back.

use super::view::Push;
use crate::position::fold_degrees;
use crate::{Direction, Position};

/// A push is over when the stick has stayed inside the quiet radius for this long, seconds.
const BACK_SECONDS: f64 = 0.3;
/// A stick that does not come all the way back (a sagging spring, or a resting hand elsewhere)
/// ends the push when it has stayed inside [`NEARLY_BACK`] of its peak for this long, seconds.
const NEARLY_BACK_SECONDS: f64 = 2.0;
const NEARLY_BACK: f64 = 0.4;
/// A push is outside the quiet radius for at least this long without a break, seconds, rhythmic
/// movement smoothed away (which adds some 0.1 s); less is a jerk or a false start.
const SHORTEST_PUSH_SECONDS: f64 = 0.4;
/// Time constant of that smoothing, seconds: takes five sixths off a rhythm of 6 Hz.
const SMOOTH_SECONDS: f64 = 0.15;
/// A push begins only this far beyond the nearest place since the cue, share of travel, so that
/// a stick left outside the quiet radius starts no push by itself.
const START_BEYOND: f64 = 0.05;
/// The plateau of a push: what lies beyond this share of its peak.
const PLATEAU: f64 = 0.8;
/// The stick is clearly coming back when it is inside this share of the peak.
const COMING_BACK: f64 = 0.7;
/// Nobody is to hold at the limit: after this long on the plateau the prompt says "come back",
/// seconds.
const LONG_PLATEAU_SECONDS: f64 = 1.2;
/// A push whose plateau is further off the asked direction than this is queried, degrees.
pub(super) const QUERY_DEGREES: f64 = 60.0;

/// Width of one ring of the tally, share of travel, and how many rings there are; the last one
/// holds everything beyond.
const RING_WIDTH: f64 = 1.0 / 64.0;
const RINGS: usize = 128;

/// Watches one push. Positions are from the centre, shares of travel.
#[derive(Clone, Debug)]
pub(super) struct PushWatch {
    /// `None` where no way was asked.
    asked: Option<Direction>,
    quiet_radius: f64,
    /// The nearest distance since the cue, before the push began.
    nearest: f64,
    out: bool,
    peak: f64,
    smooth: Position,
    outside_seconds: f64,
    longest_outside_seconds: f64,
    plateau_seconds: f64,
    inside_seconds: f64,
    nearly_seconds: f64,
    coming_back: bool,
    /// By distance: seconds there, and position times seconds. Of fixed size, however long a
    /// person takes.
    tally: Vec<(f64, Position)>,
}

impl PushWatch {
    /// A push one way, or, without one, any way.
    pub(super) fn new(asked: impl Into<Option<Direction>>, quiet_radius: f64) -> Self {
        Self {
            asked: asked.into(),
            quiet_radius,
            nearest: f64::INFINITY,
            out: false,
            peak: 0.0,
            smooth: Position::ORIGIN,
            outside_seconds: 0.0,
            longest_outside_seconds: 0.0,
            plateau_seconds: 0.0,
            inside_seconds: 0.0,
            nearly_seconds: 0.0,
            coming_back: false,
            tally: vec![(0.0, Position::ORIGIN); RINGS],
        }
    }

    /// Takes in that the stick was at `at` for `seconds`. True when the push is over.
    pub(super) fn hold_for(&mut self, seconds: f64, at: Position) -> bool {
        let radius = at.radius();
        if !self.out {
            self.nearest = self.nearest.min(radius);
            if radius <= self.quiet_radius.max(self.nearest + START_BEYOND) {
                return false;
            }
            self.out = true;
        }
        self.peak = self.peak.max(radius);
        let ring = ((radius / RING_WIDTH) as usize).min(RINGS - 1);
        if let Some((time, sum)) = self.tally.get_mut(ring) {
            *time += seconds;
            *sum = *sum + at * seconds;
        }
        self.smooth = self.smooth + (at - self.smooth) * (seconds / (SMOOTH_SECONDS + seconds));
        self.outside_seconds = if self.smooth.radius() > self.quiet_radius {
            self.outside_seconds + seconds
        } else {
            0.0
        };
        self.longest_outside_seconds = self.longest_outside_seconds.max(self.outside_seconds);
        self.inside_seconds =
            if radius > self.quiet_radius { 0.0 } else { self.inside_seconds + seconds };
        if radius >= self.peak * PLATEAU {
            self.plateau_seconds += seconds;
        }
        if radius < self.peak * COMING_BACK || self.plateau_seconds > LONG_PLATEAU_SECONDS {
            self.coming_back = true;
        }
        self.nearly_seconds =
            if radius < self.peak * NEARLY_BACK { self.nearly_seconds + seconds } else { 0.0 };
        let back = self.inside_seconds >= BACK_SECONDS;
        let over = back || self.nearly_seconds >= NEARLY_BACK_SECONDS;
        if over && !self.is_push() {
            *self = Self::new(self.asked, self.quiet_radius);
            return false;
        }
        over
    }

    /// Whether what was seen is a push by now, and no jerk or false start.
    pub(super) fn is_push(&self) -> bool {
        self.longest_outside_seconds >= SHORTEST_PUSH_SECONDS
    }

    /// Whether the prompt should say "come back".
    pub(super) const fn is_coming_back(&self) -> bool {
        self.coming_back
    }

    /// How far and how far off, as seen so far: the mean of the plateau.
    pub(super) fn push(&self) -> Option<Push> {
        if !self.out {
            return None;
        }
        let Some(mean) = self.end() else {
            return Some(Push { reach: self.peak, degrees_off: None });
        };
        let degrees_off = self
            .asked
            .filter(|_| mean.radius() > self.quiet_radius)
            .map(|asked| fold_degrees(mean.degrees() - asked.degrees()));
        Some(Push { reach: mean.radius(), degrees_off })
    }

    /// Where its plateau is on average; `None` before there is one.
    pub(super) fn end(&self) -> Option<Position> {
        let first = ((self.peak * PLATEAU / RING_WIDTH) as usize).min(RINGS - 1);
        let (time, sum) = self.tally[first..]
            .iter()
            .fold((0.0, Position::ORIGIN), |(time, sum), ring| (time + ring.0, sum + ring.1));
        (self.out && time > 0.0).then(|| sum * (1.0 / time))
    }

    /// How far off the push went, if that is to be queried: degrees.
    pub(super) fn queried_degrees(&self) -> Option<f64> {
        self.push()
            .and_then(|push| push.degrees_off)
            .filter(|degrees| degrees.abs() > QUERY_DEGREES)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Plays a push along `degrees` to `radius` and back; the seconds it took, if it ended.
    fn play(watch: &mut PushWatch, radius: f64, degrees: f64, dwell: f64) -> Option<f64> {
        let step = 0.004;
        for tick in 0..5000 {
            let time = f64::from(tick) * step;
            let share = if time < 0.4 {
                time / 0.4
            } else if time < 0.4 + dwell {
                1.0
            } else {
                (1.0 - (time - 0.4 - dwell) / 0.4).max(0.0)
            };
            if watch.hold_for(step, Position::polar(radius * share, degrees)) {
                return Some(time);
            }
        }
        None
    }

    #[test]
    fn a_push_ends_a_moment_after_it_came_back() {
        let mut watch = PushWatch::new(Direction::Up, 0.1);
        let took = play(&mut watch, 0.6, 95.0, 0.6).expect("it ends");
        assert!((took - (1.4 - 0.4 / 6.0 + 0.3)).abs() < 0.02, "{took}");
        let push = watch.push().expect("there is one");
        assert!((push.reach - 0.6).abs() < 0.02, "{push:?}");
        assert!((push.degrees_off.expect("it went somewhere") - 5.0).abs() < 1e-6);
        assert_eq!(watch.queried_degrees(), None);
    }

    #[test]
    fn the_wrong_way_is_queried() {
        let mut watch = PushWatch::new(Direction::Left, 0.1);
        play(&mut watch, 0.6, -90.0, 0.6).expect("it ends");
        assert!((watch.queried_degrees().expect("queried") - 90.0).abs() < 1e-6);
    }

    #[test]
    fn a_jerk_is_no_push() {
        let mut watch = PushWatch::new(Direction::Up, 0.1);
        for tick in 0..400 {
            let radius = if (20..60).contains(&tick) { 0.5 } else { 0.0 };
            assert!(!watch.hold_for(0.004, Position::new(radius, 0.0)));
        }
        assert!(!watch.is_push() && watch.push().is_none());
    }

    #[test]
    fn a_burst_of_rhythmic_movement_is_no_push() {
        let mut watch = PushWatch::new(Direction::Up, 0.1);
        for tick in 0..2000 {
            let time = f64::from(tick) * 0.004;
            let size = if (1.0..4.0).contains(&time) { 0.2 } else { 0.0 };
            let at = Position::new(size * libm::sin(37.7 * time), 0.0);
            assert!(!watch.hold_for(0.004, at), "{time}");
        }
        assert!(!watch.is_push());
    }

    #[test]
    fn a_stick_left_outside_starts_nothing_and_a_sagging_one_ends() {
        let mut watch = PushWatch::new(Direction::Up, 0.1);
        for _ in 0..1000 {
            assert!(!watch.hold_for(0.004, Position::new(0.14, 0.0)));
        }
        assert!(!watch.is_push());
        let mut ended = false;
        for tick in 0..1500 {
            let radius = if tick < 200 { 0.7 } else { 0.14 };
            ended |= watch.hold_for(0.004, Position::new(0.0, radius));
        }
        assert!(ended, "comes to rest outside the quiet radius and still ends");
    }

    #[test]
    fn a_long_plateau_asks_to_come_back() {
        let mut watch = PushWatch::new(Direction::Up, 0.1);
        watch.hold_for(0.004, Position::ORIGIN);
        for _ in 0..200 {
            watch.hold_for(0.004, Position::new(0.0, 0.7));
        }
        assert!(!watch.is_coming_back());
        for _ in 0..150 {
            watch.hold_for(0.004, Position::new(0.0, 0.7));
        }
        assert!(watch.is_coming_back());
    }
}
