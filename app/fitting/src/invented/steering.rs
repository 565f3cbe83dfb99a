//! A steering task: an invented person follows a slow target with given settings.
//!
//! The person knows the settings: for each output they push as far as it takes, no farther than they
//! comfortably can, and return to rest between. What is in the way is their own: reach, unsteadiness,
//! sudden movements, and the stick. So settings that need more reach than there is, or that make
//! unsteadiness large, steer badly. It does not tire, and looks are not corrected by: both would be the
//! same with all settings.

use super::body::Body;
use super::model::Model;
use super::random::Random;
use super::stick_in_use::StickInUse;
use super::unintended::Unintended;
use crate::{Direction, Pipeline, Position, Settings};

/// The outputs that are asked for, shares of full output.
const OUTPUTS: [f64; 3] = [0.3, 0.6, 1.0];
/// How long the target takes to move out or back, stays out, and rests, seconds.
const MOVES_SECONDS: f64 = 2.0;
const STAYS_SECONDS: f64 = 3.0;
const RESTS_SECONDS: f64 = 3.0;
/// The hand follows with a time constant of this share of a movement over the whole travel, and no less
/// than so many seconds.
const FOLLOWS: f64 = 0.25;
const LEAST_FOLLOWS_SECONDS: f64 = 0.1;
/// Halvings by which a push is found: to a millionth of travel.
const HALVINGS: usize = 20;
/// The farthest push that is tried, share of travel.
const FARTHEST: f64 = 1.5;

impl Model {
    /// The root mean square distance of the output from the target, share of full output, over one
    /// round of all outputs in the four directions (those that the stick has), from a seed.
    ///
    /// The mount counts as straight: turning is no matter of the settings that are compared.
    #[must_use]
    pub fn steering_error(&self, settings: &Settings, seed: u64) -> f64 {
        let mut model = Self { turn_degrees: 0.0, ..self.clone() };
        model.stick.reporting = model.stick.reporting.sound();
        let pipeline = Pipeline::new(settings);
        let step = model.stick.reporting.seconds;
        let mut stick = StickInUse::new(model.stick.clone(), seed);
        let mut unintended = Unintended::new(&model.body, step, seed);
        let mut run = pipeline.run();
        let directions: Vec<Direction> =
            Direction::FOUR.into_iter().filter(|one| model.directions().contains(one)).collect();
        let mut asked: Vec<(Direction, f64)> =
            directions.iter().flat_map(|one| OUTPUTS.map(|output| (*one, output))).collect();
        shuffle(&mut asked, &mut Random::new(seed, 61));
        let follows = (step / follows_seconds(&model.body)).min(1.0);
        let home = model.body.rests_at;
        let (mut now, mut hand) = (0.0, Position::ORIGIN);
        let (mut squares, mut seconds) = (0.0, 0.0);
        for (direction, output) in asked {
            let begins = now;
            let whole = 2.0 * MOVES_SECONDS + STAYS_SECONDS + RESTS_SECONDS;
            let (mut wanted, mut means) = (0.0, Position::ORIGIN);
            while now < begins + whole {
                now += step;
                let next = output * out_share(now - begins);
                if next != wanted {
                    wanted = next;
                    means = model.hand_for(&pipeline, direction, wanted);
                }
                hand = hand + (means - hand) * follows;
                let off = unintended.step(&model.body, hand.radius(), false);
                let axes = stick.read(model.mounted(home + hand + off));
                let told = run.advance(now, Position::new(axes[0], -axes[1]));
                let miss = told - Position::polar(wanted, direction.degrees());
                squares += step * (miss.right * miss.right + miss.up * miss.up);
                seconds += step;
            }
        }
        libm::sqrt(squares / seconds.max(step))
    }

    /// How far from its resting place the hand has to be for an output in a direction, and no farther
    /// than it comfortably goes.
    fn hand_for(&self, pipeline: &Pipeline, direction: Direction, output: f64) -> Position {
        if output <= 0.0 {
            return Position::ORIGIN;
        }
        let at = |reach: f64| Position::polar(reach, direction.degrees());
        let (mut low, mut high) = (0.0, self.body.reach_towards(direction).min(FARTHEST));
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            let place = self.body.rests_at + at(middle);
            let shown = self.stick.shows_on_average(self.mounted(place));
            if pipeline.apply(shown).along(direction.degrees()) < output {
                low = middle;
            } else {
                high = middle;
            }
        }
        at(high)
    }
}

fn follows_seconds(body: &Body) -> f64 {
    (FOLLOWS * body.movement_seconds).max(LEAST_FOLLOWS_SECONDS)
}

/// How far out the target is, so long after it began, as a share of all its way.
fn out_share(seconds: f64) -> f64 {
    let back = 2.0 * MOVES_SECONDS + STAYS_SECONDS - seconds;
    (seconds / MOVES_SECONDS).min(back / MOVES_SECONDS).clamp(0.0, 1.0)
}

/// Puts them in an order drawn from the seed (Fisher and Yates, Durstenfeld's algorithm 235, from memory).
fn shuffle<T>(all: &mut [T], random: &mut Random) {
    for last in (1..all.len()).rev() {
        let other = (random.even() * (last + 1) as f64) as usize;
        all.swap(last, other.min(last));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::invented::Invented;

    fn with(dead_zone: f64, full_throw: f64) -> Settings {
        Settings { dead_zone, full_throw, ..Settings::default() }
    }

    /// Without anything in the way, whoever reaches all the way follows to within the lag of the hand.
    #[test]
    fn who_is_steady_and_reaches_far_follows_closely() {
        let mut model = Invented::SteadyHand.model();
        model.body.reach = [1.0; 8];
        model.body.wander = 0.0;
        model.body.growth = 0.0;
        model.body.movement_seconds = 0.3;
        let error = model.steering_error(&with(0.02, 0.9), 3);
        assert!(error < 0.1, "{error}");
        assert_eq!(error, model.steering_error(&with(0.02, 0.9), 3));
    }

    /// Full output out of reach, a span of nothing, and no dead zone where the hand never rests: each
    /// steers worse than settings that fit.
    #[test]
    fn settings_that_do_not_fit_steer_worse() {
        let mut short = Invented::SteadyHand.model();
        short.body.reach = [0.4; 8];
        let fits = short.steering_error(&with(0.05, 0.38), 5);
        assert!(short.steering_error(&with(0.05, 1.0), 5) > 2.0 * fits, "{fits}");
        let rhythm = Invented::RhythmicMovement.model();
        let wide = rhythm.steering_error(&with(0.1, 0.6), 5);
        assert!(rhythm.steering_error(&with(0.1, 0.15), 5) > 1.3 * wide, "{wide}");
    }
}
