//! One push of the reach task: from the cue out, and back.

use super::run::LONGEST_STEP_SECONDS;
use super::view::Push;
use crate::position::fold_degrees;
use crate::recording::GAP_SECONDS;
use crate::{Direction, Position};

/// A push is over when the stick has stayed inside the quiet radius for this long, seconds.
const BACK_SECONDS: f64 = 0.3;
/// A stick that does not come all the way back (a sagging spring, or a resting hand elsewhere)
/// ends the push when it has stayed inside [`NEARLY_BACK`] of its peak for this long and gained
/// nothing, seconds.
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
/// A distance was reached when the stick was there or beyond for so long in all, seconds: a spasm
/// rises and falls in less.
const REACHED_SECONDS: f64 = 0.4;
/// A push goes on while what it reached grows by this share; less is the creep of an end, or the
/// crests of a tremor. It is on its way out, too, while it is so much beyond where it was lately,
/// smoothed with this time constant, seconds.
const GAIN_SHARE: f64 = 0.05;
const LATELY_SECONDS: f64 = 0.35;
/// Nobody is to hold at the limit: when a push has gained nothing for this long, and for this share
/// of the time that its way took, the prompt says "come back"; whoever is slow stops for longer
/// between two parts of a push. Seconds; common practice, no source.
const STOPPED_SECONDS: f64 = 0.85;
const STOPPED_SHARE: f64 = 0.3;
const LONGEST_STOP_SECONDS: f64 = 3.0;
/// The stick is clearly coming back when it has been inside this share of what it reached for this
/// long, seconds; less is a slip.
const COMING_BACK: f64 = 0.7;
const COMING_BACK_SECONDS: f64 = 0.25;
/// A push was not watched when more than this share of its time outside the quiet radius lies in
/// gaps of the polling: its end may be in them.
const MOST_UNWATCHED: f64 = 1.0 / 3.0;
/// A push whose plateau is further off the asked direction than this is queried, degrees.
pub(crate) const QUERY_DEGREES: f64 = 60.0;

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
    /// Since it went out, and how much of that lay in gaps of the polling outside.
    out_seconds: f64,
    beyond_seconds: f64,
    unwatched_seconds: f64,
    /// What it had reached when it last gained, and when after going out that was.
    reached: f64,
    gained_at: f64,
    /// The distance where it was lately.
    lately: f64,
    stopped: bool,
    inside_seconds: f64,
    nearly_seconds: f64,
    falling_seconds: f64,
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
            out_seconds: 0.0,
            beyond_seconds: 0.0,
            unwatched_seconds: 0.0,
            reached: 0.0,
            gained_at: 0.0,
            lately: 0.0,
            stopped: false,
            inside_seconds: 0.0,
            nearly_seconds: 0.0,
            falling_seconds: 0.0,
            tally: vec![(0.0, Position::ORIGIN); RINGS],
        }
    }

    /// Takes in that the stick was at `at` when somebody looked, and that the next look came
    /// `looked_after` seconds later. True when the push is over.
    pub(super) fn hold_for(&mut self, looked_after: f64, at: Position) -> bool {
        // A long gap says little of how long the stick was there.
        let seconds = looked_after.min(LONGEST_STEP_SECONDS);
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
        if radius > self.quiet_radius {
            self.beyond_seconds += looked_after;
            if looked_after > GAP_SECONDS {
                self.unwatched_seconds += looked_after;
            }
        }
        self.nearly_seconds =
            if radius < self.peak * NEARLY_BACK { self.nearly_seconds + seconds } else { 0.0 };
        self.gain(seconds);
        let back = self.inside_seconds >= BACK_SECONDS;
        let over = back || self.nearly_seconds >= NEARLY_BACK_SECONDS;
        if over && !self.is_push() {
            *self = Self::new(self.asked, self.quiet_radius);
            return false;
        }
        over
    }

    /// Takes in whether the push still gains, has stopped, or comes back.
    fn gain(&mut self, seconds: f64) {
        self.out_seconds += seconds;
        let reached = self.reached_by_now();
        if reached > self.reached * (1.0 + GAIN_SHARE) {
            self.reached = reached;
            self.gained_at = self.out_seconds;
            self.nearly_seconds = 0.0;
        }
        let stop = STOPPED_SECONDS + STOPPED_SHARE * self.gained_at;
        let radius = self.smooth.radius();
        let goes_out = radius > self.lately * (1.0 + GAIN_SHARE);
        self.lately += (radius - self.lately) * (seconds / (LATELY_SECONDS + seconds));
        let since = self.out_seconds - self.gained_at;
        self.stopped |= !goes_out && since > stop.min(LONGEST_STOP_SECONDS);
        self.falling_seconds =
            if radius < self.reached * COMING_BACK { self.falling_seconds + seconds } else { 0.0 };
    }

    /// The farthest distance at which, or beyond, the stick was for [`REACHED_SECONDS`] in all; 0
    /// before that.
    fn reached_by_now(&self) -> f64 {
        let mut beyond = 0.0;
        let ring = self.tally.iter().rposition(|ring| {
            beyond += ring.0;
            beyond >= REACHED_SECONDS
        });
        ring.map_or(0.0, |ring| ring as f64 * RING_WIDTH)
    }

    /// Whether the push was not watched where it ended, so that nothing is known of it.
    pub(super) fn is_unwatched(&self) -> bool {
        self.unwatched_seconds > MOST_UNWATCHED * self.beyond_seconds
    }

    /// Whether what was seen is a push by now, and no jerk or false start.
    pub(super) fn is_push(&self) -> bool {
        self.longest_outside_seconds >= SHORTEST_PUSH_SECONDS
    }

    /// Whether the prompt should say "come back".
    pub(super) fn is_coming_back(&self) -> bool {
        self.stopped || self.falling_seconds >= COMING_BACK_SECONDS
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
#[path = "push_tests.rs"]
mod tests;
