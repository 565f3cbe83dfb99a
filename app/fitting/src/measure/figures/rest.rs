//! What rest shows.

use crate::Position;
use crate::estimate::{Measured, NotEnough};
use crate::statistics::tails::Tail;
use crate::task::Meanwhile;

/// Unintended movement while the person does something beside resting.
#[derive(Clone, Debug, PartialEq)]
pub struct BusyRest {
    /// What the person did.
    pub meanwhile: Meanwhile,
    /// The same measures as of the quiet rest, about the visit's one centre.
    pub rest: Result<RestMeasures, NotEnough>,
}

/// Movement that the person did not intend, while resting ready to play.
#[derive(Clone, Debug, PartialEq)]
pub struct RestMeasures {
    /// Seconds of rest used: settled, unmarked, watched.
    pub seconds: f64,
    /// The visit's one centre: the time-weighted median of the rest.
    pub centre: Position,
    /// How far the centre is off the middle of the field, share of travel.
    pub offset: Measured,
    /// The distance from the centre inside which the stick stays 95 % of the time.
    pub wander: Measured,
    /// How the movement lies in the plane.
    pub ellipse: Result<RestEllipse, NotEnough>,
    /// False movements a minute by radius of the dead zone, continual part.
    pub curve: Vec<RatePoint>,
    /// Rare sudden movements.
    pub sudden: Sudden,
    /// The largest distance that the continual part sustained for one frame, share of travel.
    pub largest_continual: f64,
    /// The model of the continual part's tail; `None` when there were too few peaks for one.
    pub tail: Option<Tail>,
    /// Whether it is the same from beginning to end.
    pub parts: RestParts,
}

/// How the movement of a rest lies in the plane, about its own mean.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RestEllipse {
    /// Standard deviation along the main direction, share of travel.
    pub along_deviation: f64,
    /// Standard deviation across it, share of travel.
    pub across_deviation: f64,
    /// The main direction, degrees from right towards up, −90..=90 (the ends of its interval
    /// may lie beyond); does not apply when the movement is as good as round.
    pub along_degrees: Measured,
    /// The area that holds 95 % of the places, shares of travel squared, as if normal.
    pub area: f64,
}

/// False movements a minute that a dead zone of one radius lets through.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RatePoint {
    /// Radius of the dead zone, share of travel.
    pub radius: f64,
    /// Counted in the recording, a minute.
    pub counted_per_minute: f64,
    /// Estimated rate a minute: counted where there are enough, else from the fitted tail.
    pub per_minute: f64,
    /// Lower end of its 95 % band.
    pub low: f64,
    /// Upper end of its 95 % band.
    pub high: f64,
    /// Whether the estimate comes from the model of the tail.
    pub from_model: bool,
    /// Share of the rest time that is spent outside this radius, however shortly and however
    /// suddenly, 0..=1. Where it nears 1 the stick is never still, and few movements a minute
    /// only mean long ones.
    pub outside_share: f64,
}

/// Rare sudden movements (jerks, spasm), told apart from continual movement.
#[derive(Clone, Debug, PartialEq)]
pub struct Sudden {
    /// The distance from the centre beyond which a fast event is one of them, share of travel: smaller
    /// ones cannot be told apart from what this rest moves all the time. Where frequent ones are
    /// [`covered`](Self::covered), the largest of those.
    pub beyond: f64,
    /// How many were seen.
    pub count: usize,
    /// The rate of those beyond that, a minute, mid-P Poisson interval.
    pub per_minute: Measured,
    /// The largest distance from the centre of each, share of travel, in order of time.
    pub sizes: Vec<f64>,
    /// The same of fast movements that are frequent and run into the continual movement, so that they
    /// cannot be told apart: they count as continual, and a dead zone covers them too. Empty where
    /// there are none.
    pub covered: Vec<f64>,
}

/// Why what a rest shows may not hold for the time after it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotStationary {
    /// The place where the stick rests moves on.
    Drift,
    /// There is more movement at some times than at others.
    PartsDiffer,
    /// The far movements go to one side.
    OneSided,
    /// The movement is so slow that the rest holds only few independent stretches of it.
    FewStretches,
}

/// How alike the parts of a rest are, sudden movements left out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RestParts {
    /// Why the rest may not stand for the time after it; `None` where nothing speaks for that.
    pub not_stationary: Option<NotStationary>,
    /// The distance inside which the stick stays 95 % of the time, in the third of the rest where
    /// it is largest less that where it is smallest, share of travel.
    pub thirds_differ: f64,
}
