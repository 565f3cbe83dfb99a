//! Random people on random sticks, who move at a middling pace and rest in the middle: a body of
//! which every figure can be told. [`super::varied`] makes of them what people are like. The ranges
//! are choices, no source.

use super::body::{Body, Busy, DaySpread, Endurance, Jerks, Pressing, Rhythm, Roaming};
use super::model::Model;
use super::random::Random;
use super::reporting::Reporting;
use super::stick::{ExtraAxis, Gate, Spring, Stick, System, Wiring};
use crate::stick_kind::{Mover, Moves};
use crate::{Direction, Position};

/// The shortest and the longest reach of anybody, share of travel.
const REACH: (f64, f64) = (0.25, 1.0);
/// No continual movement is larger than this share of the shortest reach: who shakes more than
/// that is not asked to steer by it.
const LARGEST_WANDER: f64 = 0.15;
const LARGEST_RHYTHM: f64 = 0.3;

impl Model {
    /// A random person on a random stick, each seed another, the same everywhere.
    ///
    /// Reach 0.25 to 1, smooth over the directions, with a weak side in half of them; variability
    /// of the reach 2 to 12 % and of the angle 2 to 12 degrees; mount straight in half of them,
    /// else turned by up to 35 degrees; wander 0.003 to 0.05; rhythmic movement in 40 %, sudden
    /// movements in 25 %; sticks of 8 to 16 bits with offsets up to 0.06, sag in 15 %, a system
    /// that hides the middle in 15 %; 60 to 1000 reports a second through a browser that looks 250
    /// times a second. All sticks have two axes and centre themselves.
    #[must_use]
    pub fn random(seed: u64) -> Self {
        let mut random = Random::new(seed, 71);
        let body = body(&mut random);
        let turned = random.chance(0.5);
        let turn_degrees = random.between(-35.0, 35.0);
        let stretched = random.chance(0.3);
        let gain = if stretched {
            [random.between(0.8, 1.0), random.between(0.8, 1.0)]
        } else {
            [1.0, 1.0]
        };
        let stick = stick(&mut Random::new(seed, 72));
        let turn_degrees = if turned { turn_degrees } else { 0.0 };
        Self { body, stick, turn_degrees, gain, mover: Mover::Limb }
    }
}

/// Reach by direction: two slow waves about a mean, and in half of the people a weak side.
fn reach(random: &mut Random) -> [f64; 8] {
    let mean = random.between(0.4, 1.0);
    let (once, twice) = (random.between(0.0, 0.12), random.between(0.0, 0.08));
    let (once_at, twice_at) = (random.between(-180.0, 180.0), random.between(-180.0, 180.0));
    let is_weak = random.chance(0.5);
    let (weak_at, weak_by) = (random.between(-180.0, 180.0), random.between(0.25, 0.6));
    Direction::EIGHT.map(|direction| {
        let degrees = direction.degrees();
        let wave = |times: f64, at: f64| libm::cos(times * (degrees - at).to_radians());
        let mut reach = mean * (1.0 + once * wave(1.0, once_at) + twice * wave(2.0, twice_at));
        if is_weak {
            let off = crate::position::fold_degrees(degrees - weak_at) / 60.0;
            reach *= 1.0 - weak_by * libm::exp(-off * off);
        }
        reach.clamp(REACH.0, REACH.1)
    })
}

fn body(random: &mut Random) -> Body {
    let reach = reach(random);
    let weakest = reach.iter().copied().fold(1.0, f64::min);
    let wander = random.between_logs(0.003, 0.05).min(LARGEST_WANDER * weakest);
    let has_rhythm = random.chance(0.4);
    let rhythm = Rhythm {
        hertz: random.between(3.0, 12.0),
        hertz_spread: random.between(0.1, 0.4),
        amplitude: random.between_logs(0.01, 0.12).min(LARGEST_RHYTHM * weakest),
        size_spread: random.between(0.2, 0.5),
        along_degrees: random.between(-90.0, 90.0),
    };
    let has_jerks = random.chance(0.25);
    let per_minute = random.between_logs(0.3, 5.0);
    let jerks = jerks(random, per_minute);
    let startles = random.chance(0.4);
    let per_minute = random.between_logs(0.5, 4.0);
    let startle = self::jerks(random, per_minute);
    let shortest_dwell = random.between(0.35, 0.6);
    Body {
        reach,
        reach_spread: random.between(0.02, 0.12),
        angle_spread_degrees: random.between(2.0, 12.0),
        reaction_seconds: random.between(0.25, 1.0),
        movement_seconds: random.between(0.5, 1.5),
        stops: None,
        overshoot: None,
        dwell_seconds: (shortest_dwell, shortest_dwell + random.between(0.15, 0.5)),
        rests_at: Position::ORIGIN,
        posture: None,
        wander,
        wander_seconds: random.between(0.2, 1.2),
        growth: random.between(0.0, 0.08),
        rhythm: has_rhythm.then_some(rhythm),
        jerks: has_jerks.then_some(jerks),
        breathing: None,
        busy: Busy { factor: random.between(1.0, 2.5), startles: startles.then_some(startle) },
        fatigue_per_minute: random.between(0.0, 0.01),
        most_fatigue: 0.2,
        endurance: Endurance {
            seconds: random.between_logs(8.0, 60.0),
            sag: random.between(0.05, 0.3),
        },
        lets_go: random.chance(0.7),
        roaming: Roaming {
            pause_seconds: random.between(0.5, 3.0),
            likelihood: Direction::EIGHT.map(|_| random.even()),
        },
        inattention: None,
        lapses: None,
        presses: vec![pressing(random), pressing(random)],
        day_spread: DaySpread {
            reach: random.between(0.0, 0.1),
            wander: random.between(0.0, 0.25),
            rhythm: random.between(0.0, 0.3),
        },
    }
}

pub(super) fn jerks(random: &mut Random, per_minute: f64) -> Jerks {
    let smallest = random.between(0.12, 0.3);
    let shortest = random.between(0.12, 0.25);
    Jerks {
        per_minute,
        sizes: (smallest, smallest + random.between(0.1, 0.3)),
        seconds: (shortest, shortest + random.between(0.05, 0.25)),
    }
}

fn pressing(random: &mut Random) -> Pressing {
    let unwanted = random.chance(0.4);
    let unwanted_per_minute = random.between_logs(0.2, 4.0);
    Pressing {
        reaction_seconds: random.between(0.3, 1.0),
        length_seconds: random.between_logs(0.08, 0.6),
        long_seconds: random.between(0.7, 1.6),
        gap_seconds: random.between_logs(0.12, 0.5),
        spread: random.between(0.1, 0.4),
        unwanted_per_minute: if unwanted { unwanted_per_minute } else { 0.0 },
        unwanted_seconds: random.between_logs(0.03, 0.3),
        missed: if random.chance(0.2) { random.between(0.0, 0.15) } else { 0.0 },
    }
}

/// One of these.
fn one_of<const N: usize, T: Copy>(random: &mut Random, all: [T; N]) -> T {
    let index = (random.even() * N as f64) as usize;
    all[index.min(N - 1)]
}

fn stick(random: &mut Random) -> Stick {
    let kind = random.even();
    let edge = random.between(0.85, 1.0);
    let gate = if kind < 0.5 {
        Gate::Round(1.0)
    } else if kind < 0.7 {
        Gate::Round(edge)
    } else if kind < 0.85 {
        Gate::Octagon(1.0)
    } else {
        Gate::Square
    };
    let centre = Position::polar(random.between(0.0, 0.06), random.between(-180.0, 180.0));
    let (has_play, play) = (random.chance(0.25), random.between(0.002, 0.01));
    let (sags, sag) = (random.chance(0.15), random.between(0.02, 0.08));
    let (drifts, drift) = (random.chance(0.1), random.between(0.001, 0.005));
    let (bounces, bounce) = (random.chance(0.3), random.between(0.002, 0.012));
    let hides = random.chance(0.15);
    let extra = random.even();
    let jitter = random.between(0.0, 0.5);
    let (loses, lost) = (random.chance(0.3), random.between(0.001, 0.02));
    let or_0 = |does: bool, value: f64| if does { value } else { 0.0 };
    Stick {
        moves: Moves::TwoAxes,
        centres_itself: true,
        bits: one_of(random, [8, 10, 12, 16]),
        noise: random.between_logs(0.0002, 0.003),
        centre,
        drift: or_0(drifts, drift),
        drift_seconds: random.between(120.0, 600.0),
        gate,
        hysteresis: or_0(has_play, play),
        sag: or_0(sags, sag),
        spring: Spring { hertz: random.between(3.0, 10.0), damping: random.between(0.2, 1.2) },
        system: if hides { System::HiddenMiddle } else { System::AsIs },
        wiring: Wiring::default(),
        extra_axes: if extra < 0.2 {
            vec![ExtraAxis::Dead, ExtraAxis::Dead]
        } else if extra < 0.3 {
            vec![ExtraAxis::HatAtRest]
        } else if extra < 0.4 {
            vec![ExtraAxis::AtLowEnd]
        } else {
            Vec::new()
        },
        buttons: 2,
        bounce_seconds: or_0(bounces, bounce),
        reporting: Reporting {
            seconds: 1.0 / one_of(random, [60.0, 100.0, 125.0, 250.0, 500.0, 1000.0]),
            jitter,
            lost: or_0(loses, lost),
            browser_seconds: 0.004,
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_population_is_as_wide_as_it_says() {
        let people: Vec<Model> = (0..2000).map(Model::random).collect();
        let share = |is: &dyn Fn(&Model) -> bool| {
            people.iter().filter(|model| is(model)).count() as f64 / 2000.0
        };
        // Four standard errors of a share of one half are 4.5 %.
        assert!((share(&|model| model.turn_degrees == 0.0) - 0.5).abs() < 0.045);
        assert!((share(&|model| model.body.rhythm.is_some()) - 0.4).abs() < 0.045);
        assert!((share(&|model| model.body.jerks.is_some()) - 0.25).abs() < 0.04);
        assert!((share(&|model| model.stick.sag > 0.0) - 0.15).abs() < 0.035);
        assert!((share(&|model| model.stick.system == System::HiddenMiddle) - 0.15).abs() < 0.035);
        assert!((share(&|model| model.stick.gate == Gate::Square) - 0.15).abs() < 0.035);
        for model in &people {
            assert!(model.body.reach.iter().all(|reach| (0.25..=1.0).contains(reach)));
            assert!(model.stick.centre.radius() <= 0.06 + 1e-12);
        }
        let shortest = |model: &Model| model.body.reach.iter().copied().fold(1.0, f64::min);
        assert!(share(&|model| shortest(model) < 0.3) > 0.05);
        assert!(share(&|model| shortest(model) > 0.8) > 0.03);
        assert_ne!(people[0], people[1]);
        assert_eq!(people[7], Model::random(7));
    }
}
