//! People as different as those who play with a stick of their own: slow, in parts, past the goal,
//! shaking, jerking, wandering, settling in the seat, one-sided, tiring, elsewhere with their
//! thoughts, resting beside the middle or at the edge, by limb, chin or lip.
//!
//! Everybody is somebody of [`Model::random`] on the same stick, with some of these laid over. Each
//! has random numbers of its own, so that a change in one leaves the others as they are. How often
//! each comes is a choice, no source: often enough that a group of each can be judged.

use super::body::{Breathing, Lapses, Overshoot, Posture, Rhythm, Stops};
use super::model::Model;
use super::population::jerks;
use super::random::Random;
use crate::stick_kind::Mover;
use crate::{Direction, Position};

/// The shortest reach of anybody on a side that hardly moves, share of travel.
const SHORTEST_REACH: f64 = 0.03;
/// How far beyond the opening somebody means to be who leans against its edge, share of travel.
const LEANS: f64 = 0.05;

impl Model {
    /// A random person as people are who play with a stick of their own, each seed another, the
    /// same everywhere.
    ///
    /// Of all people 30 % move by chin or lip; 35 % take 1.5 to 12 s for a movement over the whole
    /// travel, the others 0.3 to 1.5 s; 20 % move in two to five parts with stops; 15 % go 5 to
    /// 50 % past the goal and hunt for it; 40 % have tremor of 2 to 12 Hz, from hardly seen to larger than
    /// any play allows; 35 % sudden movements, from one an hour to one in ten seconds; 20 % slow
    /// wander; 20 % a posture that drifts over minutes; 15 % hardly reach to one side; 20 % lose
    /// up to six tenths of their reach, a half in as little as ten minutes of pushing; 15 %
    /// notice some cues late; 20 % rest beside the middle and 10 % at the edge.
    #[must_use]
    pub fn varied(seed: u64) -> Self {
        let mut model = Self::random(seed);
        let laid_over: [fn(&mut Self, &mut Random); 11] = [
            mover, pace, stops, overshoot, tremor, sudden, wander, posture, one_sided, tires,
            lapses,
        ];
        for (stream, lay_over) in (73..).zip(laid_over) {
            lay_over(&mut model, &mut Random::new(seed, stream));
        }
        rest(&mut model, &mut Random::new(seed, 90));
        model
    }
}

/// A chin or a lip goes less far, is moved by each breath and seldom lets go.
fn mover(model: &mut Model, random: &mut Random) {
    let mover = random.even();
    let shorter = random.between(0.35, 0.7);
    // Twelve to twenty-five breaths a minute (common practice, no source).
    let breathing = Breathing {
        hertz: random.between(0.2, 0.42),
        amplitude: random.between_logs(0.004, 0.05),
        along_degrees: random.between(60.0, 120.0),
    };
    let lets_go = random.chance(0.2);
    if mover < 0.7 {
        return;
    }
    model.mover = if mover < 0.85 { Mover::Chin } else { Mover::Lip };
    for reach in &mut model.body.reach {
        *reach = (*reach * shorter).max(SHORTEST_REACH);
    }
    model.body.breathing = Some(breathing);
    model.body.lets_go = lets_go;
}

/// Quick or slow. The slowest is a choice, no source.
fn pace(model: &mut Model, random: &mut Random) {
    let slow = random.chance(0.35);
    let (slow_seconds, quick_seconds) =
        (random.between_logs(1.5, 12.0), random.between_logs(0.3, 1.5));
    let slow_reaction = random.between(0.4, 2.5);
    let body = &mut model.body;
    body.movement_seconds = if slow { slow_seconds } else { quick_seconds };
    if slow {
        body.reaction_seconds = slow_reaction;
    }
}

fn stops(model: &mut Model, random: &mut Random) {
    let parts = 2 + (random.even() * 4.0) as u32;
    let seconds = (random.between(0.1, 0.3), random.between(0.3, 0.7));
    model.body.stops = random.chance(0.2).then_some(Stops { parts, seconds });
}

fn overshoot(model: &mut Model, random: &mut Random) {
    let shares = (random.between(0.05, 0.15), random.between(0.2, 0.5));
    model.body.overshoot = random.chance(0.15).then_some(Overshoot { shares });
}

/// From the slow tremor of the cerebellum, 2 to 5 Hz, to the quick ones, up to 12 Hz (Deuschl, Bain
/// and Brin 1998, *Movement Disorders* 13, supplement 3: 2, from memory). The sizes are a choice.
fn tremor(model: &mut Model, random: &mut Random) {
    let rhythm = Rhythm {
        hertz: random.between(2.0, 12.0),
        hertz_spread: random.between(0.1, 0.4),
        amplitude: random.between_logs(0.01, 0.6),
        size_spread: random.between(0.2, 0.5),
        along_degrees: random.between(-90.0, 90.0),
    };
    model.body.rhythm = random.chance(0.4).then_some(rhythm);
}

fn sudden(model: &mut Model, random: &mut Random) {
    // One an hour to one in ten seconds.
    let per_minute = random.between_logs(1.0 / 60.0, 6.0);
    let jerks = jerks(random, per_minute);
    model.body.jerks = random.chance(0.35).then_some(jerks);
}

/// Slow writhing; its size and pace are a choice, no source.
fn wander(model: &mut Model, random: &mut Random) {
    let (wander, seconds) = (random.between_logs(0.02, 0.12), random.between(0.8, 5.0));
    if random.chance(0.2) {
        model.body.wander = wander;
        model.body.wander_seconds = seconds;
    }
}

fn posture(model: &mut Model, random: &mut Random) {
    let (deviation, seconds) = (random.between_logs(0.01, 0.08), random.between(60.0, 400.0));
    model.body.posture = random.chance(0.2).then_some(Posture { deviation, seconds });
}

/// One direction and the two beside it are hardly reached for.
fn one_sided(model: &mut Model, random: &mut Random) {
    let side = (random.even() * 8.0) as usize;
    let (there, beside) = (random.between(0.08, 0.3), random.between(0.3, 0.7));
    if random.chance(0.15) {
        for (off, share) in [(0, there), (1, beside), (7, beside)] {
            if let Some(reach) = model.body.reach.get_mut((side + off) % Direction::EIGHT.len()) {
                *reach = (*reach * share).max(SHORTEST_REACH);
            }
        }
    }
}

/// Pushing again and again is muscle work for about half of the time: 0.1 a minute of work halves the
/// reach in ten minutes.
fn tires(model: &mut Model, random: &mut Random) {
    let per_minute = random.between(0.04, 0.12);
    let endurance = random.between_logs(3.0, 15.0);
    if random.chance(0.2) {
        model.body.fatigue_per_minute = per_minute;
        model.body.most_fatigue = 0.6;
        model.body.endurance.seconds = endurance;
    }
}

fn lapses(model: &mut Model, random: &mut Random) {
    let share = random.between(0.1, 0.4);
    let seconds = (random.between(1.0, 3.0), random.between(4.0, 15.0));
    model.body.lapses = random.chance(0.15).then_some(Lapses { share, seconds });
}

/// Where the body part rests: in the middle, beside it, or leaning against the edge.
fn rest(model: &mut Model, random: &mut Random) {
    let place = random.even();
    let beside = Position::polar(random.between(0.05, 0.3), random.between(-180.0, 180.0));
    let degrees = random.between(-180.0, 180.0);
    let at = if place < 0.1 {
        let edge = model.stick.inside_gate(Position::polar(3.0, degrees)).radius();
        model.unmounted(Position::polar(edge + LEANS, degrees))
    } else if place < 0.3 {
        beside
    } else {
        Position::ORIGIN
    };
    model.body.rests_at = at;
}

#[cfg(test)]
#[path = "varied_tests.rs"]
mod tests;
