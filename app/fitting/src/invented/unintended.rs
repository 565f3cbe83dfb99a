//! Movement that is not meant: slow wander, unsteadiness that grows with the push, rhythmic
//! movement, breathing, posture, and sudden movements.

use super::body::{ACROSS, Body, Jerks};
use super::random::{Random, Smooth};
use super::will::minimum_jerk;
use crate::Position;

/// The time constant with which the rhythm's size and frequency come and go, seconds.
const MODULATION_SECONDS: f64 = 1.2;
/// Time constant of the unsteadiness that grows with the push, seconds.
const GROWTH_SECONDS: f64 = 0.12;
/// The share of a sudden movement that is its rise.
const RISE: f64 = 0.35;
/// A push shorter than this is none, share of travel.
const NO_PUSH: f64 = 1e-9;
/// The most sudden movements that run at once; one more is left out.
const MOST_JERKS: usize = 8;

/// A sudden movement that runs.
#[derive(Clone, Copy, Debug)]
struct Jerk {
    since_seconds: f64,
    seconds: f64,
    peak: Position,
}

/// Sudden movements: a Poisson process of shapes that add up.
#[derive(Clone, Debug)]
pub(super) struct Sudden {
    jerks: Jerks,
    random: Random,
    next_in_seconds: f64,
    running: Vec<Jerk>,
    /// How many there have been.
    pub(super) count: u64,
}

impl Sudden {
    pub(super) fn new(jerks: Jerks, seed: u64, stream: u64) -> Self {
        let mut random = Random::new(seed, stream);
        let next_in_seconds = waits(jerks, &mut random);
        Self { jerks, random, next_in_seconds, running: Vec::new(), count: 0 }
    }

    /// One step on: the displacement.
    fn step(&mut self, step_seconds: f64) -> Position {
        self.next_in_seconds -= step_seconds;
        if self.next_in_seconds <= 0.0 {
            let size = self.random.between(self.jerks.sizes.0, self.jerks.sizes.1);
            let degrees = self.random.between(-180.0, 180.0);
            let seconds = self.random.between(self.jerks.seconds.0, self.jerks.seconds.1);
            self.next_in_seconds += waits(self.jerks, &mut self.random);
            if self.running.len() < MOST_JERKS {
                let peak = Position::polar(size, degrees);
                let seconds = seconds.max(step_seconds);
                self.running.push(Jerk { since_seconds: 0.0, seconds, peak });
                self.count += 1;
            }
        }
        let mut at = Position::ORIGIN;
        for jerk in &mut self.running {
            jerk.since_seconds += step_seconds;
            let share = jerk.since_seconds / jerk.seconds;
            let height = if share < RISE {
                minimum_jerk(share / RISE)
            } else {
                1.0 - minimum_jerk((share - RISE) / (1.0 - RISE))
            };
            at = at + jerk.peak * height;
        }
        self.running.retain(|jerk| jerk.since_seconds < jerk.seconds);
        at
    }
}

/// The time to the next one, seconds; a day where there are none.
fn waits(jerks: Jerks, random: &mut Random) -> f64 {
    if jerks.per_minute > 0.0 { random.waits(60.0 / jerks.per_minute) } else { 86_400.0 }
}

/// Unintended movement, step by step. Every source has random numbers of its own, so that the
/// same seed gives the same wander with and without the others.
#[derive(Clone, Debug)]
pub(super) struct Unintended {
    step_seconds: f64,
    wander: Smooth,
    growth: Smooth,
    modulation: Smooth,
    phase: f64,
    breath_phase: f64,
    /// The rhythm's two half axes at its mean size, and the breath's way.
    along: Position,
    across: Position,
    breath: Position,
    posture: Option<Smooth>,
    pub(super) jerks: Option<Sudden>,
    pub(super) startles: Option<Sudden>,
}

impl Unintended {
    pub(super) fn new(body: &Body, step_seconds: f64, seed: u64) -> Self {
        let mut phases = Random::new(seed, 24);
        let smooth =
            |seconds, stream| Smooth::new(seconds, step_seconds, Random::new(seed, stream));
        let half_axis = |share: f64, turned: f64| {
            body.rhythm.map_or(Position::ORIGIN, |rhythm| {
                Position::polar(rhythm.amplitude * share, rhythm.along_degrees + turned)
            })
        };
        Self {
            along: half_axis(1.0, 0.0),
            across: half_axis(ACROSS, 90.0),
            breath: body
                .breathing
                .map_or(Position::ORIGIN, |one| Position::polar(one.amplitude, one.along_degrees)),
            wander: smooth(body.wander_seconds, 21),
            growth: smooth(GROWTH_SECONDS, 22),
            modulation: smooth(MODULATION_SECONDS, 23),
            phase: std::f64::consts::TAU * phases.even(),
            breath_phase: std::f64::consts::TAU * phases.even(),
            posture: body.posture.map(|posture| smooth(posture.seconds, 27)),
            step_seconds,
            jerks: body.jerks.map(|jerks| Sudden::new(jerks, seed, 25)),
            startles: body.busy.startles.map(|startles| Sudden::new(startles, seed, 26)),
        }
    }

    /// One step on: the displacement that is not meant, at a push of `radius`, while `busy`.
    pub(super) fn step(&mut self, body: &Body, radius: f64, busy: bool) -> Position {
        let factor = if busy { body.busy.factor } else { 1.0 };
        let mut at = self.wander.step() * (body.wander * factor);
        if radius > NO_PUSH && body.growth > 0.0 {
            at = at + self.growth.step() * (body.growth * radius);
        }
        if let Some(rhythm) = body.rhythm {
            let modulation = self.modulation.step();
            let hertz = rhythm.hertz + rhythm.hertz_spread * modulation.up;
            self.phase = on(self.phase, hertz * self.step_seconds);
            let spread = rhythm.size_spread;
            let log = spread * modulation.right - spread * spread / 2.0;
            let size = factor * libm::exp(log);
            let (sin, cos) = libm::sincos(self.phase);
            at = at + self.along * (size * cos) + self.across * (size * sin);
        }
        if let Some(breathing) = body.breathing {
            self.breath_phase = on(self.breath_phase, breathing.hertz * self.step_seconds);
            at = at + self.breath * libm::sin(self.breath_phase);
        }
        if let (Some(posture), Some(moves)) = (body.posture, &mut self.posture) {
            at = at + moves.step() * posture.deviation;
        }
        if let Some(jerks) = &mut self.jerks {
            at = at + jerks.step(self.step_seconds);
        }
        if busy && let Some(startles) = &mut self.startles {
            at = at + startles.step(self.step_seconds);
        }
        at
    }
}

/// A phase moved on by so many turns, radians.
fn on(phase: f64, turns: f64) -> f64 {
    (phase + std::f64::consts::TAU * turns) % std::f64::consts::TAU
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::invented::{Breathing, Invented};

    fn deviation(body: &Body, radius: f64, busy: bool) -> f64 {
        let mut unintended = Unintended::new(body, 0.004, 5);
        let steps = 250_000;
        let mut sum = 0.0;
        for _ in 0..steps {
            let at = unintended.step(body, radius, busy);
            sum += at.right * at.right + at.up * at.up;
        }
        libm::sqrt(sum / f64::from(steps) / 2.0)
    }

    #[test]
    fn the_deviation_at_a_push_is_what_it_says() {
        let breathing = Breathing { hertz: 0.25, amplitude: 0.03, along_degrees: 90.0 };
        for invented in [Invented::SteadyHand, Invented::RhythmicMovement] {
            for breathing in [None, Some(breathing)] {
                let body = Body { breathing, ..invented.model().body };
                let seen = deviation(&body, 0.5, false);
                let said = body.deviation_at(0.5);
                assert!((seen / said - 1.0).abs() < 0.06, "{invented:?}: {seen} against {said}");
            }
        }
    }

    #[test]
    fn being_busy_lets_continual_movement_grow_by_its_factor() {
        let mut body = Invented::RhythmicMovement.model().body;
        body.busy = crate::invented::Busy { factor: 1.7, startles: None };
        let share = deviation(&body, 0.0, true) / deviation(&body, 0.0, false);
        assert!((share - 1.7).abs() < 1e-9, "{share}");
    }

    #[test]
    fn sudden_movements_come_at_their_rate_one_by_one() {
        let body = Invented::SuddenJerks.model().body;
        let jerks = body.jerks.expect("has them");
        let mut unintended = Unintended::new(&body, 0.004, 9);
        let mut by_minute = vec![0_u64; 400];
        for count in &mut by_minute {
            let before = unintended.jerks.as_ref().map_or(0, |one| one.count);
            for _ in 0..15_000 {
                unintended.step(&body, 0.0, false);
            }
            *count = unintended.jerks.as_ref().map_or(0, |one| one.count) - before;
        }
        let mean = by_minute.iter().sum::<u64>() as f64 / 400.0;
        let variance =
            by_minute.iter().map(|count| (*count as f64 - mean) * (*count as f64 - mean));
        let variance = variance.sum::<f64>() / 399.0;
        // Four standard errors of a Poisson mean; its variance is its mean (standard error of the
        // ratio about sqrt(2 / 400)).
        assert!((mean - jerks.per_minute).abs() < 4.0 * libm::sqrt(jerks.per_minute / 400.0));
        assert!((variance / mean - 1.0).abs() < 0.3, "{variance} {mean}");
    }

    #[test]
    fn the_rhythm_has_its_mean_frequency_and_size() {
        let mut body = Invented::RhythmicMovement.model().body;
        body.wander = 0.0;
        let rhythm = body.rhythm.expect("has one");
        let mut unintended = Unintended::new(&body, 0.002, 3);
        let minutes = 20.0;
        let (mut cycles, mut before, mut size, mut sizes) = (0_u32, 0.0, 0.0_f64, 0.0);
        for _ in 0..(minutes * 60.0 / 0.002) as usize {
            let along = unintended.step(&body, 0.0, false).along(rhythm.along_degrees);
            if before < 0.0 && along >= 0.0 {
                cycles += 1;
                sizes += size;
                size = 0.0;
            }
            size = size.max(along);
            before = along;
        }
        let hertz = f64::from(cycles) / (minutes * 60.0);
        assert!((hertz - rhythm.hertz).abs() < 0.05, "{hertz}");
        let amplitude = sizes / f64::from(cycles);
        assert!((amplitude / rhythm.amplitude - 1.0).abs() < 0.05, "{amplitude}");
    }
}
