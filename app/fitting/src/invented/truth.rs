//! What is true of a model, worked out from its figures without noise.
//!
//! Lengths are shares of travel, as a page sees them that takes the stick's two axes for the
//! first two of the standard layout: behind the mount, the opening and the system.

use super::body::{ACROSS, Body, Jerks, Pressing};
use super::model::Model;
use super::stick::System;
use crate::task::CueKind;
use crate::{Direction, Position};

/// A push is within this share of the reach, up and down.
pub(super) const REACH_BOUND: f64 = 0.3;

/// How much of the reach this much muscle work has cost, as a share of it.
pub(super) fn fatigue(body: &Body, muscle_seconds: f64) -> f64 {
    (body.fatigue_per_minute * muscle_seconds / 60.0).min(body.most_fatigue).max(0.0)
}

/// Steps in which the mean over pushes is taken, to each side, and how many standard deviations
/// apart they are.
const STEPS: i32 = 14;
const STEP: f64 = 0.25;

impl Model {
    /// Where the page is shown the untouched stick: the mean over its noise.
    #[must_use]
    pub fn true_centre(&self) -> Position {
        self.stick.untouched()
    }

    /// Where the page is shown the resting body part on the average, sudden movements left out: the
    /// untouched stick's place where the person rests in its middle.
    #[must_use]
    pub fn true_rest(&self) -> Position {
        if self.body.rests_at == Position::ORIGIN {
            return self.true_centre();
        }
        self.stick.shows_on_average(self.mounted(self.body.rests_at))
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
    /// lengths, over all that push may be: its spread in length and angle, clipped at the gate; from
    /// where the body part rests.
    fn ends(&self, direction: Direction) -> (Position, f64) {
        let body = &self.body;
        let reach = body.reach_towards(direction);
        let centre = self.true_rest();
        let (mut end, mut length, mut weights) = (Position::ORIGIN, 0.0, 0.0);
        for i in -STEPS..=STEPS {
            for j in -STEPS..=STEPS {
                let (along, across) = (f64::from(i) * STEP, f64::from(j) * STEP);
                let weight = libm::exp(-(along * along + across * across) / 2.0);
                let spread = (body.reach_spread * along).clamp(-REACH_BOUND, REACH_BOUND);
                let degrees = direction.degrees() + body.angle_spread_degrees * across;
                let push = Position::polar(reach * (1.0 + spread), degrees);
                let at = self.mounted(body.rests_at + push);
                let at = self.stick.shows_on_average(at);
                end = end + at * weight;
                length += (at - centre).radius() * weight;
                weights += weight;
            }
        }
        (end * (1.0 / weights) - centre, length / weights)
    }

    /// The mean end of comfortable pushes asked for in `direction`, rested, from where the rest is shown.
    #[must_use]
    pub fn true_end(&self, direction: Direction) -> Position {
        self.ends(direction).0
    }

    /// Comfortable reach: the mean distance of those ends from the rest shown, share of travel.
    /// Play of the stick (at most half of [`super::Stick::hysteresis`]) is not in it.
    #[must_use]
    pub fn true_reach(&self, direction: Direction) -> f64 {
        self.ends(direction).1
    }

    /// The same with the push cued this way: less than the reach on a side that is not attended to.
    #[must_use]
    pub fn true_reach_cued(&self, direction: Direction, cue: CueKind) -> f64 {
        let mut attends = self.clone();
        let share = self.body.attended_share(direction, cue);
        attends.body.reach.iter_mut().for_each(|reach| *reach *= share);
        attends.true_reach(direction)
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

    /// The rate of those of `jerks` that the page is shown farther than `beyond` (share of travel) from
    /// the resting place, a minute: each by itself, without the continual movement.
    #[must_use]
    pub fn true_rate_beyond(&self, jerks: Jerks, beyond: f64) -> f64 {
        const SIZES: u32 = 64;
        let rest = self.true_rest();
        let (low, high) = jerks.sizes;
        let shown = |direction: Direction, index: u32| {
            let size = low + (high - low) * (f64::from(index) + 0.5) / f64::from(SIZES);
            let peak = self.body.rests_at + Position::polar(size, direction.degrees());
            (self.stick.shows_on_average(self.mounted(peak)) - rest).radius()
        };
        let far = Direction::EIGHT
            .iter()
            .flat_map(|direction| (0..SIZES).map(move |index| (*direction, index)))
            .filter(|(direction, index)| shown(*direction, *index) > beyond)
            .count();
        jerks.per_minute * far as f64 / f64::from(8 * SIZES)
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
}
