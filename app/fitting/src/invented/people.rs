//! The invented people, and what is true of them.

use super::body::{Body, Jerks, Rhythm};
use super::stick::{Stick, System};
use crate::{Direction, Position};
use serde::{Deserialize, Serialize};

/// The invented people.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Invented {
    /// A steady hand on a good stick.
    SteadyHand,
    /// Rhythmic movement at 6 Hz whose size comes and goes.
    RhythmicMovement,
    /// A short reach to the right, on a mount that is turned by 25 degrees.
    ShortToOneSide,
    /// Sudden jerks, on a stick whose spring sags.
    SuddenJerks,
}

/// An invented person with an invented stick: the truth that measures are to find.
#[derive(Clone, Debug, PartialEq)]
pub struct Model {
    /// The person.
    pub body: Body,
    /// The stick.
    pub stick: Stick,
    /// How far the mount is turned: a push that is meant for one direction arrives this many
    /// degrees further, from right towards up.
    pub turn_degrees: f64,
}

impl Invented {
    /// All of them.
    pub const ALL: [Self; 4] =
        [Self::SteadyHand, Self::RhythmicMovement, Self::ShortToOneSide, Self::SuddenJerks];

    /// The code under which this person is kept.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::SteadyHand => "steady-hand",
            Self::RhythmicMovement => "rhythmic-movement",
            Self::ShortToOneSide => "short-to-one-side",
            Self::SuddenJerks => "sudden-jerks",
        }
    }

    /// The person's model.
    #[must_use]
    pub fn model(self) -> Model {
        let body = Body {
            reach: [0.88, 0.9, 0.92, 0.88, 0.86, 0.84, 0.86, 0.86],
            reach_spread: 0.03,
            angle_spread_degrees: 3.0,
            reaction_seconds: 0.38,
            movement_seconds: 0.75,
            dwell_seconds: (0.4, 0.7),
            wander: 0.008,
            wander_seconds: 0.5,
            growth: 0.02,
            rhythm: None,
            jerks: None,
            fatigue_per_minute: 0.004,
        };
        match self {
            Self::SteadyHand => Model {
                body,
                stick: Stick { centre: Position::new(0.02, -0.015), ..Stick::default() },
                turn_degrees: 0.0,
            },
            Self::RhythmicMovement => Model {
                body: Body {
                    reach: [0.78, 0.76, 0.8, 0.78, 0.76, 0.72, 0.74, 0.74],
                    reach_spread: 0.05,
                    angle_spread_degrees: 5.0,
                    reaction_seconds: 0.5,
                    movement_seconds: 1.0,
                    dwell_seconds: (0.5, 0.8),
                    wander: 0.012,
                    growth: 0.03,
                    rhythm: Some(Rhythm { hertz: 6.0, amplitude: 0.05, along_degrees: 70.0 }),
                    fatigue_per_minute: 0.006,
                    ..body
                },
                stick: Stick {
                    bits: 8,
                    noise: 0.002,
                    centre: Position::new(-0.03, 0.02),
                    ..Stick::default()
                },
                turn_degrees: 0.0,
            },
            Self::ShortToOneSide => Model {
                body: Body {
                    reach: [0.38, 0.44, 0.66, 0.74, 0.8, 0.72, 0.62, 0.42],
                    reach_spread: 0.05,
                    angle_spread_degrees: 5.0,
                    reaction_seconds: 0.55,
                    movement_seconds: 1.1,
                    dwell_seconds: (0.5, 0.8),
                    wander: 0.01,
                    growth: 0.035,
                    fatigue_per_minute: 0.008,
                    ..body
                },
                stick: Stick { centre: Position::new(0.01, 0.03), ..Stick::default() },
                turn_degrees: 25.0,
            },
            Self::SuddenJerks => Model {
                body: Body {
                    reach: [0.72, 0.7, 0.74, 0.7, 0.7, 0.66, 0.68, 0.68],
                    reach_spread: 0.06,
                    angle_spread_degrees: 6.0,
                    reaction_seconds: 0.5,
                    movement_seconds: 0.9,
                    dwell_seconds: (0.4, 0.7),
                    wander: 0.014,
                    growth: 0.035,
                    jerks: Some(Jerks {
                        per_minute: 2.5,
                        sizes: (0.22, 0.45),
                        seconds: (0.15, 0.28),
                    }),
                    fatigue_per_minute: 0.006,
                    ..body
                },
                stick: Stick {
                    noise: 0.0015,
                    centre: Position::new(0.0, -0.02),
                    sag: 0.06,
                    ..Stick::default()
                },
                turn_degrees: 0.0,
            },
        }
    }
}

impl Model {
    /// The same person on another stick.
    #[must_use]
    pub fn on(self, stick: Stick) -> Self {
        Self { stick, ..self }
    }

    /// The same person and stick behind a system that hides the middle and reaches full scale
    /// early: with 8 bits, or with 16 and the system's noise filter.
    #[must_use]
    pub fn behind_hidden_middle(self, bits: u32) -> Self {
        let stick = Stick { bits, system: System::HiddenMiddle, ..self.stick.clone() };
        self.on(stick)
    }

    /// Where the page is shown the untouched stick, share of travel.
    #[must_use]
    pub fn true_centre(&self) -> Position {
        self.stick.shows(Position::ORIGIN)
    }

    /// Where, from the centre shown, the page is shown the end of a rested, middling push that was
    /// asked for in `direction`, shares of travel.
    #[must_use]
    pub fn true_end(&self, direction: Direction) -> Position {
        let moved = Position::polar(
            self.body.reach_towards(direction),
            direction.degrees() + self.turn_degrees,
        );
        self.stick.shows(moved) - self.true_centre()
    }

    /// How far that is: comfortable reach as a page can see it, share of travel.
    #[must_use]
    pub fn true_reach(&self, direction: Direction) -> f64 {
        self.true_end(direction).radius()
    }

    /// How far the mount is turned, degrees from right towards up.
    #[must_use]
    pub const fn true_turn_degrees(&self) -> f64 {
        self.turn_degrees
    }

    /// The mean frequency of rhythmic movement, hertz, if there is any.
    #[must_use]
    pub fn true_rhythm_hertz(&self) -> Option<f64> {
        self.body.rhythm.map(|rhythm| rhythm.hertz)
    }

    /// The mean rate of sudden movements, a minute.
    #[must_use]
    pub fn true_jerks_per_minute(&self) -> f64 {
        self.body.jerks.map_or(0.0, |jerks| jerks.per_minute)
    }

    /// How far to each side of the middle every movement reads 0, share of the stick's own travel.
    #[must_use]
    pub const fn true_hidden_middle(&self) -> Option<f64> {
        match self.stick.system {
            System::AsIs => None,
            System::HiddenMiddle => Some(0.125),
        }
    }
}
