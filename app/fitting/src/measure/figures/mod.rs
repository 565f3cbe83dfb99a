//! The figures that measuring gives, one file for each thing that is asked of the person.

mod device;
mod holding;
mod presses;
mod pushing;
mod rest;

pub use device::{AxisOddity, DeviceMeasures, GateShape, OddAxis};
pub use holding::{LevelSteadiness, RhythmicMovement, SpectrumPoint, SustainedHold};
pub use presses::{ButtonPresses, SwitchUse};
pub use pushing::{
    CuedReach, DirectionReach, DirectionReturn, FreeDirection, FreeMovement, PerformedMap,
};
pub use rest::{BusyRest, NotStationary, RatePoint, RestEllipse, RestMeasures, RestParts, Sudden};
