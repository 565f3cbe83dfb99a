//! How an invented person moves: on purpose elsewhere ([`super::will`]), and without meaning to
//! here.

use super::random::{Random, Smooth};
use crate::{Direction, Position};

/// Rhythmic movement (tremor) whose size comes and goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rhythm {
    /// Its mean frequency, hertz; it wanders by some tenths about it.
    pub hertz: f64,
    /// Its mean peak size, share of travel.
    pub amplitude: f64,
    /// The direction in which most of it goes, degrees from right towards up.
    pub along_degrees: f64,
}

/// Rare sudden movements, at random times.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Jerks {
    /// Their mean rate, a minute.
    pub per_minute: f64,
    /// The smallest and largest peak size, share of travel; even between.
    pub sizes: (f64, f64),
    /// The shortest and longest duration, seconds; even between.
    pub seconds: (f64, f64),
}

/// How a person moves a stick. Lengths are shares of travel.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    /// Comfortable reach by direction, in the order of [`Direction::EIGHT`].
    pub reach: [f64; 8],
    /// Coefficient of variation of the reach from push to push.
    pub reach_spread: f64,
    /// Standard deviation of the direction from push to push, degrees.
    pub angle_spread_degrees: f64,
    /// Mean time from a cue to the movement, seconds.
    pub reaction_seconds: f64,
    /// Duration of a movement over the whole travel, seconds.
    pub movement_seconds: f64,
    /// The shortest and longest stay at the end of a push, seconds; even between.
    pub dwell_seconds: (f64, f64),
    /// Standard deviation on each axis of slow wander at rest.
    pub wander: f64,
    /// Time constant of the wander, seconds.
    pub wander_seconds: f64,
    /// Growth of unsteadiness with the push: standard deviation on each axis by distance
    /// (signal-dependent noise, Harris and Wolpert 1998).
    pub growth: f64,
    /// Rhythmic movement, if there is any.
    pub rhythm: Option<Rhythm>,
    /// Sudden movements, if there are any.
    pub jerks: Option<Jerks>,
    /// Share of the reach that a minute of muscle work costs.
    pub fatigue_per_minute: f64,
}

impl Body {
    /// The person's comfortable reach in the person's own direction, rested, share of travel.
    #[must_use]
    pub fn reach_towards(&self, direction: Direction) -> f64 {
        Direction::EIGHT
            .iter()
            .position(|one| *one == direction)
            .and_then(|index| self.reach.get(index))
            .copied()
            .unwrap_or(0.0)
    }

    /// Standard deviation on each axis while holding at `radius`, sudden movements left out: slow
    /// wander, unsteadiness that grows with the push, and rhythmic movement, share of travel.
    #[must_use]
    pub fn deviation_at(&self, radius: f64) -> f64 {
        let growth = self.growth * radius;
        let rhythm = self.rhythm.map_or(0.0, |rhythm| {
            // Mean square over both axes of an ellipse, by the modulation's mean square.
            let across = ACROSS * ACROSS;
            rhythm.amplitude * rhythm.amplitude * (1.0 + across) / 4.0 * MODULATION_MEAN_SQUARE
        });
        libm::sqrt(self.wander * self.wander + growth * growth + rhythm)
    }
}

/// Size of rhythmic movement across its main direction, as a share of that along it.
const ACROSS: f64 = 0.35;
/// Spread of the logarithm of the rhythm's size, and the time constant with which it comes and
/// goes, seconds.
const MODULATION: f64 = 0.35;
const MODULATION_SECONDS: f64 = 1.2;
/// Mean square of a log-normal size of mean 1: `exp(MODULATION²)`.
const MODULATION_MEAN_SQUARE: f64 = 1.130_3;
/// Standard deviation of the rhythm's frequency, hertz.
const FREQUENCY_SPREAD: f64 = 0.25;
/// Time constant of the unsteadiness that grows with the push, seconds.
const GROWTH_SECONDS: f64 = 0.12;
/// The share of a sudden movement that is its rise.
const RISE: f64 = 0.35;

/// A sudden movement that runs.
#[derive(Clone, Copy, Debug)]
struct Jerk {
    since_seconds: f64,
    seconds: f64,
    peak: Position,
}

/// Unintended movement, step by step.
#[derive(Clone, Debug)]
pub(super) struct Unintended {
    random: Random,
    step_seconds: f64,
    wander: Smooth,
    growth: Smooth,
    modulation: Smooth,
    phase: f64,
    jerk: Option<Jerk>,
}

impl Unintended {
    pub(super) fn new(body: &Body, step_seconds: f64, seed: u64) -> Self {
        let mut random = Random::new(seed, 21);
        Self {
            wander: Smooth::new(body.wander_seconds, step_seconds, &mut random),
            growth: Smooth::new(GROWTH_SECONDS, step_seconds, &mut random),
            modulation: Smooth::new(MODULATION_SECONDS, step_seconds, &mut random),
            phase: 2.0 * std::f64::consts::PI * random.even(),
            random,
            step_seconds,
            jerk: None,
        }
    }

    /// One step on: the displacement that is not meant, at a push of `radius`.
    pub(super) fn step(&mut self, body: &Body, radius: f64) -> Position {
        // Every source is stepped whether the person has it or not, so that the same seed gives
        // the same wander with and without a rhythm.
        let wander = self.wander.step(&mut self.random) * body.wander;
        let growth = self.growth.step(&mut self.random) * (body.growth * radius);
        let modulation = self.modulation.step(&mut self.random);
        let chance = self.random.even();
        let mut at = wander + growth;
        if let Some(rhythm) = body.rhythm {
            let hertz = rhythm.hertz + FREQUENCY_SPREAD * modulation.up;
            let turn = 2.0 * std::f64::consts::PI;
            self.phase = (self.phase + turn * hertz * self.step_seconds) % turn;
            let log = MODULATION * modulation.right - MODULATION * MODULATION / 2.0;
            let size = rhythm.amplitude * libm::exp(log);
            let (sin, cos) = libm::sincos(self.phase);
            let ellipse = Position::new(size * cos, size * ACROSS * sin);
            at = at + ellipse.turned(rhythm.along_degrees);
        }
        if let Some(jerks) = body.jerks {
            at = at + self.jerk(jerks, chance);
        }
        at
    }

    fn jerk(&mut self, jerks: Jerks, chance: f64) -> Position {
        if self.jerk.is_none() && chance < jerks.per_minute / 60.0 * self.step_seconds {
            let size = self.random.between(jerks.sizes.0, jerks.sizes.1);
            let degrees = self.random.between(-180.0, 180.0);
            self.jerk = Some(Jerk {
                since_seconds: 0.0,
                seconds: self.random.between(jerks.seconds.0, jerks.seconds.1),
                peak: Position::polar(size, degrees),
            });
        }
        let Some(jerk) = &mut self.jerk else {
            return Position::ORIGIN;
        };
        jerk.since_seconds += self.step_seconds;
        let share = jerk.since_seconds / jerk.seconds;
        let height = if share < RISE {
            minimum_jerk(share / RISE)
        } else {
            1.0 - minimum_jerk((share - RISE) / (1.0 - RISE))
        };
        let at = jerk.peak * height;
        if share >= 1.0 {
            self.jerk = None;
        }
        at
    }
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
    use crate::invented::Invented;

    #[test]
    fn minimum_jerk_has_its_published_shape() {
        assert_eq!((minimum_jerk(-1.0), minimum_jerk(0.0)), (0.0, 0.0));
        assert_eq!((minimum_jerk(0.5), minimum_jerk(1.0), minimum_jerk(2.0)), (0.5, 1.0, 1.0));
        // Its peak speed is 15/8 of the mean speed (Flash and Hogan 1985).
        let speed = (minimum_jerk(0.5001) - minimum_jerk(0.4999)) / 0.0002;
        assert!((speed - 1.875).abs() < 1e-6);
    }

    #[test]
    fn the_deviation_at_a_push_is_what_it_says() {
        for invented in [Invented::SteadyHand, Invented::RhythmicMovement] {
            let body = invented.model().body;
            let mut unintended = Unintended::new(&body, 0.004, 5);
            let steps = 250_000;
            let mut sum = 0.0;
            for _ in 0..steps {
                let at = unintended.step(&body, 0.5);
                sum += at.right * at.right + at.up * at.up;
            }
            let seen = libm::sqrt(sum / f64::from(steps) / 2.0);
            let said = body.deviation_at(0.5);
            assert!((seen / said - 1.0).abs() < 0.06, "{invented:?}: {seen} against {said}");
        }
    }

    #[test]
    fn sudden_movements_come_at_their_rate() {
        let body = Invented::SuddenJerks.model().body;
        let jerks = body.jerks.expect("has them");
        let mut unintended = Unintended::new(&body, 0.004, 9);
        let (mut count, mut was) = (0_u32, false);
        let minutes = 200.0;
        for _ in 0..(minutes * 60.0 / 0.004) as usize {
            unintended.step(&body, 0.0);
            let is = unintended.jerk.is_some();
            count += u32::from(is && !was);
            was = is;
        }
        let expected = jerks.per_minute * minutes;
        // Four Poisson standard deviations, and the little time in which one runs already.
        let bound = 4.0 * libm::sqrt(expected) + 0.03 * expected;
        assert!((f64::from(count) - expected).abs() < bound, "{count} against {expected}");
    }
}
