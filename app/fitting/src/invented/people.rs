//! The invented people of the practice mode.

use super::body::{Body, Breathing, Busy, DaySpread, Endurance, Jerks, Pressing, Rhythm, Roaming};
use super::model::Model;
use super::stick::{Spring, Stick};
use crate::Position;
use crate::stick_kind::Mover;
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
    /// A chin: short reach, moved by each breath, no hand to let go with.
    Chin,
    /// A foot: hardly any way up and down, and larger jerks.
    Foot,
}

impl Invented {
    /// All of them.
    pub const ALL: [Self; 6] = [
        Self::SteadyHand,
        Self::RhythmicMovement,
        Self::ShortToOneSide,
        Self::SuddenJerks,
        Self::Chin,
        Self::Foot,
    ];

    /// The code under which this person is kept.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::SteadyHand => "steady-hand",
            Self::RhythmicMovement => "rhythmic-movement",
            Self::ShortToOneSide => "short-to-one-side",
            Self::SuddenJerks => "sudden-jerks",
            Self::Chin => "chin",
            Self::Foot => "foot",
        }
    }

    /// The person's model.
    #[must_use]
    pub fn model(self) -> Model {
        let body = middling();
        match self {
            Self::SteadyHand => Model {
                body,
                stick: Stick { centre: Position::new(0.02, -0.015), ..Stick::default() },
                ..Model::default()
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
                    rhythm: Some(Rhythm {
                        hertz: 6.0,
                        hertz_spread: 0.25,
                        amplitude: 0.05,
                        size_spread: 0.35,
                        along_degrees: 70.0,
                    }),
                    fatigue_per_minute: 0.006,
                    ..body
                },
                stick: Stick {
                    bits: 8,
                    noise: 0.002,
                    centre: Position::new(-0.03, 0.02),
                    ..Stick::default()
                },
                ..Model::default()
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
                ..Model::default()
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
                ..Model::default()
            },
            Self::Chin => Model {
                body: Body {
                    reach: [0.46, 0.42, 0.4, 0.42, 0.48, 0.4, 0.36, 0.38],
                    reach_spread: 0.05,
                    angle_spread_degrees: 6.0,
                    reaction_seconds: 0.5,
                    movement_seconds: 1.1,
                    dwell_seconds: (0.5, 0.8),
                    wander: 0.008,
                    growth: 0.03,
                    // Fifteen breaths a minute at rest (common practice, no source).
                    breathing: Some(Breathing {
                        hertz: 0.25,
                        amplitude: 0.02,
                        along_degrees: 90.0,
                    }),
                    busy: Busy {
                        factor: 1.8,
                        startles: Some(Jerks {
                            per_minute: 1.5,
                            sizes: (0.1, 0.25),
                            seconds: (0.3, 0.6),
                        }),
                    },
                    fatigue_per_minute: 0.01,
                    endurance: Endurance { seconds: 12.0, sag: 0.25 },
                    lets_go: false,
                    ..body
                },
                stick: Stick {
                    centre: Position::new(-0.01, 0.015),
                    spring: Spring { hertz: 5.0, damping: 0.7 },
                    ..Stick::default()
                },
                ..Model::default()
            },
            Self::Foot => Model {
                body: Body {
                    reach: [0.7, 0.46, 0.3, 0.44, 0.66, 0.4, 0.26, 0.42],
                    reach_spread: 0.07,
                    angle_spread_degrees: 8.0,
                    reaction_seconds: 0.65,
                    movement_seconds: 1.2,
                    dwell_seconds: (0.5, 0.9),
                    wander: 0.012,
                    wander_seconds: 0.7,
                    growth: 0.04,
                    jerks: Some(Jerks { per_minute: 1.2, sizes: (0.2, 0.4), seconds: (0.2, 0.4) }),
                    fatigue_per_minute: 0.008,
                    endurance: Endurance { seconds: 18.0, sag: 0.2 },
                    ..body
                },
                stick: Stick {
                    noise: 0.0015,
                    centre: Position::new(0.015, 0.0),
                    spring: Spring { hertz: 3.5, damping: 0.35 },
                    ..Stick::default()
                },
                ..Model::default()
            },
        }
    }
}

/// A middling person, from whom the others differ.
fn middling() -> Body {
    let pressing = Pressing {
        reaction_seconds: 0.45,
        length_seconds: 0.16,
        long_seconds: 0.9,
        gap_seconds: 0.18,
        spread: 0.2,
        unwanted_per_minute: 0.0,
        unwanted_seconds: 0.1,
        missed: 0.0,
    };
    Body {
        reach: [0.88, 0.9, 0.92, 0.88, 0.86, 0.84, 0.86, 0.86],
        reach_spread: 0.03,
        angle_spread_degrees: 3.0,
        reaction_seconds: 0.38,
        movement_seconds: 0.75,
        stops: None,
        overshoot: None,
        dwell_seconds: (0.4, 0.7),
        rests_at: Position::ORIGIN,
        posture: None,
        wander: 0.008,
        wander_seconds: 0.5,
        growth: 0.02,
        rhythm: None,
        jerks: None,
        breathing: None,
        busy: Busy {
            factor: 1.4,
            startles: Some(Jerks { per_minute: 0.8, sizes: (0.1, 0.3), seconds: (0.2, 0.5) }),
        },
        fatigue_per_minute: 0.004,
        most_fatigue: 0.2,
        endurance: Endurance { seconds: 30.0, sag: 0.15 },
        lets_go: true,
        roaming: Roaming { pause_seconds: 1.5, likelihood: [1.0; 8] },
        inattention: None,
        lapses: None,
        presses: vec![pressing, Pressing { unwanted_per_minute: 0.3, ..pressing }],
        day_spread: DaySpread { reach: 0.05, wander: 0.15, rhythm: 0.2 },
    }
}

impl Default for Model {
    /// A middling person on a good stick.
    fn default() -> Self {
        Self {
            body: middling(),
            stick: Stick::default(),
            turn_degrees: 0.0,
            gain: [1.0, 1.0],
            mover: Mover::Limb,
        }
    }
}
