//! How an invented person moves: the figures of a person. What comes of them is in
//! [`super::unintended`] and [`super::will`].

use crate::position::fold_degrees;
use crate::task::CueKind;
use crate::{Direction, Position};

/// Rhythmic movement (tremor) whose size comes and goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rhythm {
    /// Its mean frequency, hertz.
    pub hertz: f64,
    /// Standard deviation with which the frequency wanders about its mean, hertz.
    pub hertz_spread: f64,
    /// Its mean peak size, share of travel.
    pub amplitude: f64,
    /// How unevenly its size comes and goes: standard deviation of the logarithm of the size.
    pub size_spread: f64,
    /// The direction in which most of it goes, degrees from right towards up.
    pub along_degrees: f64,
}

/// Size of rhythmic movement across its main direction, as a share of that along it.
pub(super) const ACROSS: f64 = 0.35;

/// Rare sudden movements: a Poisson process, each with its own size, direction and length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Jerks {
    /// Their mean rate, a minute.
    pub per_minute: f64,
    /// The smallest and largest peak size, share of travel; even between.
    pub sizes: (f64, f64),
    /// The shortest and longest duration, seconds; even between.
    pub seconds: (f64, f64),
}

/// Breathing that moves the body part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Breathing {
    /// Breaths a second, hertz.
    pub hertz: f64,
    /// Half the way between breathed in and breathed out, share of travel.
    pub amplitude: f64,
    /// The direction of it, degrees from right towards up.
    pub along_degrees: f64,
}

/// What doing something else does to a rest (overflow, startle).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Busy {
    /// Continual movement grows by this factor.
    pub factor: f64,
    /// Startles that come besides, if any do.
    pub startles: Option<Jerks>,
}

/// How long a push can be kept up, and what becomes of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Endurance {
    /// How long the whole reach can be held, seconds. A part of it can be held for longer, by the
    /// power of −1.61 (Frey Law and Avin 2010, *Ergonomics* 53: 109, hand and grip; from memory).
    pub seconds: f64,
    /// The share of the held distance that is lost by then; in between it grows evenly.
    pub sag: f64,
}

/// The power by which a hold of less than the whole reach lasts longer.
const ENDURANCE_POWER: f64 = -1.61;

/// One side that is not reached for as far as it could be while the sign is at the place there
/// (as after some strokes): seeing or attention, not reach.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Inattention {
    /// The side: this direction and the two beside it.
    pub side: Direction,
    /// The share of the own reach that is reached for there, 0..=1.
    pub share: f64,
}

/// A movement made in parts with a stop after each: sub-movements that do not blend, as after a
/// stroke (Rohrer and others 2002, *Journal of Neuroscience* 22: 8297, from memory).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stops {
    /// In how many parts of the same length, 2 or more.
    pub parts: u32,
    /// The shortest and longest stop between two parts, seconds; even between.
    pub seconds: (f64, f64),
}

/// Movement that goes past its goal and hunts for it (hypermetria, as in ataxia).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Overshoot {
    /// How far past the goal the first stroke goes at least and at most, as a share of the way;
    /// even between.
    pub shares: (f64, f64),
}

/// Posture that settles, slips and is put right: it takes rest and pushes along.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Posture {
    /// Standard deviation on each axis, share of travel.
    pub deviation: f64,
    /// Time constant, seconds: minutes.
    pub seconds: f64,
}

/// Attention that leaves: now and then a cue is acted upon late.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lapses {
    /// The share of cues to move that are noticed late, 0..=1.
    pub share: f64,
    /// By how much at least and at most, seconds; even between.
    pub seconds: (f64, f64),
}

/// How a person moves about when anything goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Roaming {
    /// Mean rest between two pushes, seconds.
    pub pause_seconds: f64,
    /// How likely each direction is, in the order of [`Direction::EIGHT`]; any numbers from 0 on.
    pub likelihood: [f64; 8],
}

/// How a person presses one button. Times are log-normal about their medians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pressing {
    /// Median time from the cue to the press, seconds.
    pub reaction_seconds: f64,
    /// Median length of a plain press, seconds.
    pub length_seconds: f64,
    /// Median length of a long press, seconds.
    pub long_seconds: f64,
    /// Median time between the two presses of a double press, seconds.
    pub gap_seconds: f64,
    /// Standard deviation of the logarithm of each of these times.
    pub spread: f64,
    /// Presses nobody asked for, a minute while the hand is on the stick: a Poisson process.
    pub unwanted_per_minute: f64,
    /// Their median length, seconds.
    pub unwanted_seconds: f64,
    /// The share of cues that are missed.
    pub missed: f64,
}

/// How much one day differs from another: the standard deviation of the logarithm of the factor
/// that holds for a whole visit.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct DaySpread {
    /// Of the reach in all directions.
    pub reach: f64,
    /// Of the wander.
    pub wander: f64,
    /// Of the size of rhythmic movement.
    pub rhythm: f64,
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
    /// Median time from a cue to the movement, seconds; log-normal.
    pub reaction_seconds: f64,
    /// Duration of a movement over the whole travel, seconds.
    pub movement_seconds: f64,
    /// The parts of a movement, if there are stops in it.
    pub stops: Option<Stops>,
    /// How far movements go past their goal, if they do.
    pub overshoot: Option<Overshoot>,
    /// The shortest and longest stay at the end of a push, seconds; even between.
    pub dwell_seconds: (f64, f64),
    /// Where the body part rests, from the stick's middle; pushes go out from there. Beyond the
    /// opening it leans against the edge.
    pub rests_at: Position,
    /// Slow change of posture, if there is any.
    pub posture: Option<Posture>,
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
    /// Breathing that moves the body part, if it does.
    pub breathing: Option<Breathing>,
    /// What doing something else does to a rest.
    pub busy: Busy,
    /// Share of the reach that a minute of muscle work costs.
    pub fatigue_per_minute: f64,
    /// Fatigue never costs more than this share of the reach.
    pub most_fatigue: f64,
    /// How long a push can be kept up.
    pub endurance: Endurance,
    /// Whether the person can let go of the stick; who cannot brings it back by hand.
    pub lets_go: bool,
    /// How the person moves about when anything goes.
    pub roaming: Roaming,
    /// A side that is reached for only part of the way unless the sign is in the middle or spoken.
    pub inattention: Option<Inattention>,
    /// Cues that are noticed late, if any are.
    pub lapses: Option<Lapses>,
    /// How the person presses, by button.
    pub presses: Vec<Pressing>,
    /// How much one day differs from another.
    pub day_spread: DaySpread,
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

    /// The share of that reach the person reaches for when a push is cued this way: all of it,
    /// except to a side that is not attended to and cued at its place.
    #[must_use]
    pub fn attended_share(&self, direction: Direction, cue: CueKind) -> f64 {
        let Some(side) = self.inattention.filter(|_| cue == CueKind::AtPlace) else { return 1.0 };
        let off = fold_degrees(direction.degrees() - side.side.degrees()).abs();
        if off < 80.0 { side.share.clamp(0.0, 1.0) } else { 1.0 }
    }

    /// Standard deviation on each axis while holding at `radius`, sudden movements left out: slow
    /// wander, unsteadiness that grows with the push, rhythmic movement and breathing, share of
    /// travel. What the person corrects by eye, and posture, is not in it.
    #[must_use]
    pub fn deviation_at(&self, radius: f64) -> f64 {
        let growth = self.growth * radius;
        let rhythm = self.rhythm.map_or(0.0, |rhythm| {
            // Mean square over both axes of an ellipse whose size is log-normal of mean 1.
            let across = ACROSS * ACROSS;
            let square = libm::exp(rhythm.size_spread * rhythm.size_spread);
            rhythm.amplitude * rhythm.amplitude * (1.0 + across) / 4.0 * square
        });
        let breathing = self.breathing.map_or(0.0, |one| one.amplitude * one.amplitude / 4.0);
        libm::sqrt(self.wander * self.wander + growth * growth + rhythm + breathing)
    }

    /// How long a push of `level`, a share of the whole reach, can be kept up, seconds.
    #[must_use]
    pub fn endurance_seconds(&self, level: f64) -> f64 {
        let level = if level.is_finite() { level.clamp(0.05, 1.0) } else { 1.0 };
        self.endurance.seconds * libm::pow(level, ENDURANCE_POWER)
    }

    /// How hard the person calls a hold of `level`, a share of the whole reach, that lasted
    /// `seconds`: 0 to 10. It begins with what the push itself costs and is 10 when it cannot be
    /// kept up. A choice, no source.
    #[must_use]
    pub fn effort(&self, level: f64, seconds: f64) -> f64 {
        let begins = AT_ONCE * level.clamp(0.0, 1.0);
        let spent = (seconds / self.endurance_seconds(level)).clamp(0.0, 1.0);
        10.0 * (begins + (1.0 - begins) * spent)
    }
}

/// How hard the whole reach is at once, as a share of the hardest.
const AT_ONCE: f64 = 0.3;

#[cfg(test)]
mod tests {
    use crate::invented::Invented;

    #[test]
    fn a_hold_gets_harder_with_level_and_time() {
        let body = Invented::SteadyHand.model().body;
        assert!((body.endurance_seconds(1.0) - body.endurance.seconds).abs() < 1e-12);
        // Half the reach lasts 2^1.61 = 3.05 times as long.
        let longer = body.endurance_seconds(0.5) / body.endurance_seconds(1.0);
        assert!((longer - 3.052).abs() < 0.001, "{longer}");
        assert!(body.effort(0.25, 0.0) < body.effort(0.5, 0.0));
        assert!(body.effort(0.5, 5.0) < body.effort(0.5, 15.0));
        assert_eq!(body.effort(0.5, 1e9), 10.0);
        assert_eq!(body.effort(0.0, 0.0), 0.0);
    }
}
