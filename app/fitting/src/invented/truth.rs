//! What is true of a model, worked out from its figures without noise.
//!
//! Lengths are shares of travel, as a page sees them that takes the stick's two axes for the
//! first two of the standard layout: behind the mount, the opening and the system.

use super::body::{ACROSS, Body, Pressing};
use super::deciding::REACTION_SPREAD;
use super::model::Model;
use super::stick::System;
use super::will::{Will, first_shares};
use crate::{Direction, Position};

/// Fatigue never costs more than this share of the reach.
const MOST_FATIGUE: f64 = 0.2;
/// A push is within this share of the reach, up and down.
pub(super) const REACH_BOUND: f64 = 0.3;

/// How much of the reach this much muscle work has cost, as a share of it.
pub(super) fn fatigue(body: &Body, muscle_seconds: f64) -> f64 {
    (body.fatigue_per_minute * muscle_seconds / 60.0).clamp(0.0, MOST_FATIGUE)
}

/// The way back from a place, noise-free.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TrueReturn {
    /// From the cue to where the stick stays at rest, seconds: the mean reaction and
    /// [`Self::moving_seconds`].
    pub seconds: f64,
    /// From the first move back to where it stays within the quiet radius, seconds.
    pub moving_seconds: f64,
    /// How far it shoots past its resting place, as a share of the way back.
    pub overshoot: f64,
    /// How far before the centre it comes to rest at first, along the push: what the spring sags.
    pub rests_short: f64,
}

/// Steps in which the mean over pushes is taken, to each side, and how many standard deviations
/// apart they are.
const STEPS: i32 = 14;
const STEP: f64 = 0.25;
/// The path of a way back is read off this often, and for this long, seconds.
const READ_SECONDS: f64 = 0.001;
const LONGEST_RETURN_SECONDS: f64 = 6.0;

impl Model {
    /// Where the page is shown the untouched stick: the mean over its noise.
    #[must_use]
    pub fn true_centre(&self) -> Position {
        self.stick.untouched()
    }

    /// The same person after so much muscle work: [`super::Player::muscle_seconds`] of a player, or
    /// [`crate::task::TaskRecord::muscle_seconds`] summed over the tasks before.
    #[must_use]
    pub fn after_work(mut self, muscle_seconds: f64) -> Self {
        let left = 1.0 - fatigue(&self.body, muscle_seconds);
        for reach in &mut self.body.reach {
            *reach *= left;
        }
        self
    }

    /// The mean of the ends of comfortable pushes asked for in `direction`, and the mean of their
    /// lengths, over all that push may be: its spread in length and angle, clipped at the gate.
    fn ends(&self, direction: Direction) -> (Position, f64) {
        let body = &self.body;
        let reach = body.reach_towards(direction);
        let centre = self.true_centre();
        let (mut end, mut length, mut weights) = (Position::ORIGIN, 0.0, 0.0);
        for i in -STEPS..=STEPS {
            for j in -STEPS..=STEPS {
                let (along, across) = (f64::from(i) * STEP, f64::from(j) * STEP);
                let weight = libm::exp(-(along * along + across * across) / 2.0);
                let spread = (body.reach_spread * along).clamp(-REACH_BOUND, REACH_BOUND);
                let degrees = direction.degrees() + body.angle_spread_degrees * across;
                let at = self.mounted(Position::polar(reach * (1.0 + spread), degrees));
                let at = self.stick.shows_on_average(at);
                end = end + at * weight;
                length += (at - centre).radius() * weight;
                weights += weight;
            }
        }
        (end * (1.0 / weights) - centre, length / weights)
    }

    /// The mean end of comfortable pushes asked for in `direction`, rested, from the centre shown.
    #[must_use]
    pub fn true_end(&self, direction: Direction) -> Position {
        self.ends(direction).0
    }

    /// Comfortable reach: the mean distance of those ends from the centre shown, share of travel.
    /// Play of the stick (at most half of [`super::Stick::hysteresis`]) is not in it.
    #[must_use]
    pub fn true_reach(&self, direction: Direction) -> f64 {
        self.ends(direction).1
    }

    /// The least-squares map from the asked unit vectors to the mean ends: rows right and up as
    /// performed, columns right and up as asked. `None` where the directions do not tell it.
    #[must_use]
    pub fn true_map(&self, directions: &[Direction]) -> Option<[[f64; 2]; 2]> {
        // Normal equations: (Σ end askedᵀ) (Σ asked askedᵀ)⁻¹.
        let (mut ends, mut asked) = ([[0.0; 2]; 2], [0.0; 3]);
        for direction in directions {
            let end = self.true_end(*direction);
            let unit = Position::polar(1.0, direction.degrees());
            ends[0][0] += end.right * unit.right;
            ends[0][1] += end.right * unit.up;
            ends[1][0] += end.up * unit.right;
            ends[1][1] += end.up * unit.up;
            asked[0] += unit.right * unit.right;
            asked[1] += unit.right * unit.up;
            asked[2] += unit.up * unit.up;
        }
        let determinant = asked[0] * asked[2] - asked[1] * asked[1];
        if determinant < 1e-9 {
            return None;
        }
        let row = |row: [f64; 2]| {
            [
                (row[0] * asked[2] - row[1] * asked[1]) / determinant,
                (row[1] * asked[0] - row[0] * asked[1]) / determinant,
            ]
        };
        Some(ends.map(row))
    }

    /// The turn in that map: the rotation of its polar decomposition, degrees from right towards
    /// up. For a stick whose axes are neither swapped nor inverted.
    #[must_use]
    pub fn true_map_turn_degrees(&self, directions: &[Direction]) -> Option<f64> {
        self.true_map(directions)
            .map(|[right, up]| libm::atan2(up[0] - right[1], right[0] + up[1]).to_degrees())
    }

    /// How far the mount is turned, degrees from right towards up. The person's own shape of
    /// reach and the opening may turn the map by a little more.
    #[must_use]
    pub const fn true_turn_degrees(&self) -> f64 {
        self.turn_degrees
    }

    /// The mean frequency of rhythmic movement, hertz, if there is any.
    #[must_use]
    pub fn true_rhythm_hertz(&self) -> Option<f64> {
        self.body.rhythm.map(|rhythm| rhythm.hertz)
    }

    /// The mean peak amplitude of rhythmic movement along its main direction where nothing hides
    /// or stops it, and that direction, degrees from right towards up, −90..=90; if there is any.
    #[must_use]
    pub fn true_rhythm_amplitude(&self) -> Option<(f64, f64)> {
        let rhythm = self.body.rhythm?;
        let axis = |size: f64, degrees: f64| self.mounted(Position::polar(size, degrees));
        let along = axis(rhythm.amplitude, rhythm.along_degrees);
        let across = axis(rhythm.amplitude * ACROSS, rhythm.along_degrees + 90.0);
        // The longer half axis of the ellipse along × cos + across × sin: the largest root of
        // its covariance matrix.
        let right = along.right * along.right + across.right * across.right;
        let up = along.up * along.up + across.up * across.up;
        let both = along.right * along.up + across.right * across.up;
        let root = libm::hypot((right - up) / 2.0, both);
        let amplitude = libm::sqrt((right + up) / 2.0 + root) * self.stick.slope();
        let degrees = libm::atan2(both, (right - up) / 2.0).to_degrees() / 2.0;
        Some((amplitude, degrees))
    }

    /// The mean rate of sudden movements, a minute.
    #[must_use]
    pub fn true_jerks_per_minute(&self) -> f64 {
        self.body.jerks.map_or(0.0, |jerks| jerks.per_minute)
    }

    /// The mean rate of startles while the person is busy, a minute; they come besides the sudden
    /// movements.
    #[must_use]
    pub fn true_startles_per_minute(&self) -> f64 {
        self.body.busy.startles.map_or(0.0, |jerks| jerks.per_minute)
    }

    /// How far to each side of the middle every movement reads 0, share of the stick's own travel.
    #[must_use]
    pub const fn true_hidden_middle(&self) -> Option<f64> {
        match self.stick.system {
            System::AsIs => None,
            System::HiddenMiddle => Some(0.125),
        }
    }

    /// How the person presses `button`: medians and rates. The page sees each edge with the next
    /// report, half a report later on average. `None` for a button that the stick does not have.
    #[must_use]
    pub fn true_press(&self, button: usize) -> Option<Pressing> {
        self.body.presses.get(button).copied().filter(|_| button < self.stick.buttons)
    }

    /// The way back from `level` (a share of the person's own reach) in `direction`, as far as a
    /// page can see it with a quiet radius of `quiet_radius` about the centre; `None` where the
    /// stick does not come to rest within that. The mean over the shares that the first stroke
    /// covers, where the person brings it back by hand.
    #[must_use]
    pub fn true_return(
        &self,
        direction: Direction,
        level: f64,
        quiet_radius: f64,
    ) -> Option<TrueReturn> {
        let from = Position::polar(
            self.body.reach_towards(direction) * level.clamp(0.0, 1.0),
            direction.degrees(),
        );
        let reaction =
            self.body.reaction_seconds * libm::exp(REACTION_SPREAD * REACTION_SPREAD / 2.0);
        let centre = self.true_centre();
        let (mut moving, mut overshoot, mut count) = (0.0, 0.0_f64, 0.0);
        let by_spring = self.body.lets_go && self.stick.centres_itself;
        if self.body.lets_go && !self.stick.centres_itself {
            return None;
        }
        for share in first_shares() {
            let mut will = Will::back_from(from, self.body.movement_seconds, share);
            let mut outside = 0.0;
            let mut now = 0.0;
            while now <= LONGEST_RETURN_SECONDS {
                let at = if by_spring { from * self.stick.spring_back(now) } else { will.at(now) };
                let shown = self.stick.shows_on_average(self.mounted(at)) - centre;
                if shown.radius() > quiet_radius {
                    outside = now;
                }
                if by_spring {
                    overshoot = overshoot.max(-self.stick.spring_back(now));
                }
                now += READ_SECONDS;
            }
            if outside > LONGEST_RETURN_SECONDS - 0.5 {
                return None;
            }
            moving += outside;
            count += 1.0;
            if by_spring {
                break;
            }
        }
        let moving_seconds = moving / count;
        Some(TrueReturn {
            seconds: reaction + moving_seconds,
            moving_seconds,
            overshoot,
            rests_short: self.stick.sag * self.stick.slope(),
        })
    }
}
