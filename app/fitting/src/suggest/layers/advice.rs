//! What is said of one layer of a path.

use crate::suggest::HostForm;

/// What a path of layers does, told at the stick.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reached {
    /// A push up to here does nothing, share of travel.
    pub dead_zone: f64,
    /// A push from here on is all the way, share of travel; nothing where no push is.
    pub full_throw: Option<f64>,
    /// The largest distance of the output from what was suggested, share of full output.
    pub error: f64,
}

/// What there is to say about a path, each with the layer it is about, by its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LayerNote {
    /// No layer of the path can be set.
    NothingCanBeSet,
    /// The named layer cannot be set: what it does is taken as it is.
    CannotBeSet(usize),
    /// An earlier layer already ignores as much as is wanted: this one need not.
    EarlierIgnoresIt(usize),
    /// An earlier layer ignores a part of it, share as it comes in there.
    EarlierTakesPart {
        /// Which.
        layer: usize,
        /// Its dead zone.
        dead_zone: f64,
    },
    /// A later layer ignores a part of it, share as it comes in there: what is typed in makes up
    /// for that.
    LaterTakesPart {
        /// Which.
        layer: usize,
        /// Its dead zone.
        dead_zone: f64,
    },
    /// More is ignored than wanted, and nothing typed here changes that: this layer's dead zone
    /// should be lowered.
    LowerThere {
        /// Which.
        layer: usize,
        /// To this share.
        to: f64,
    },
    /// More is ignored than wanted, and this layer, which ignores a part of it, cannot be set.
    StaysThere(usize),
    /// Less is ignored than wanted: the layers before make nearly all of a small push, and no dead
    /// zone here is large enough.
    NotStill,
    /// Nobody knows what this layer ignores.
    Unknown(usize),
    /// The output does not start at nothing: it jumps to this share of full output.
    Jumps(f64),
    /// It is all the way before the suggested full throw.
    FullEarly,
    /// It is all the way only behind the suggested full throw, or never.
    FullLate,
    /// The dead zone was suggested by axis, and a round one stands in: it must be larger, by up to
    /// the square root of two, so that nothing more gets through. Share of travel that is wanted
    /// of it.
    RoundForSquare(f64),
    /// Round and per-axis dead zones are mixed: along the diagonals it differs.
    MixedShapes,
}

/// What is to be typed into one layer, and what the whole path does then.
#[derive(Clone, Debug, PartialEq)]
pub struct LayerAdvice {
    /// The layer, by its place; nothing where the stick is plugged in directly.
    pub layer: Option<usize>,
    /// The dead zone to type in, share as it comes into the layer, on a step of its slider.
    pub dead_zone: f64,
    /// The same over what layers nobody knows may ignore: from nothing to the usual.
    pub dead_zone_range: Option<(f64, f64)>,
    /// The full throw to type in, share as it comes into the layer.
    pub full_throw: f64,
    /// Sensitivity as one number.
    pub exponent: f64,
    /// All of it the way hosts take it.
    pub form: HostForm,
    /// What the whole path does with it, told at the stick, layers nobody knows taken to do
    /// nothing.
    pub reached: Reached,
    /// What there is to say about it.
    pub notes: Vec<LayerNote>,
}
