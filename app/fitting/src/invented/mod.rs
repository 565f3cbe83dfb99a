//! Invented people and sticks: for practice with no hardware, and as ground truth.
//!
//! An [`Invented`] person has a [`Model`]: how far and how steadily the person moves
//! ([`Body`]), and what the stick and the system make of it ([`Stick`]). A [`Player`] plays the
//! model from a seed and answers to what a task asks, sample by sample, through the same boundary
//! as a device. [`play_plan`] plays a whole plan, [`play`] any tasks. [`Model::random`] makes up
//! people, and [`Model::varied`] people as different as those who play; what is true of a model is
//! told by its `true_…` methods and, where it takes an hour to tell, by [`Model::rest_path`] and
//! [`Model::held_spread`].
//!
//! The same seed gives the same samples on every machine, to the bit.
//!
//! The people are made up. Where a shape or a size was taken from a published source, the field
//! says so; everything else is a choice.

mod body;
mod buttons;
mod deciding;
mod fixed;
mod helper;
mod model;
mod people;
mod play;
mod player;
mod population;
mod random;
mod reporting;
mod rest_path;
mod steering;
mod stick;
mod stick_in_use;
#[cfg(test)]
mod task_tests;
mod truth;
mod truth_back;
#[cfg(test)]
mod truth_tests;
mod unintended;
mod varied;
mod will;

pub use body::{
    Body, Breathing, Busy, DaySpread, Endurance, Inattention, Jerks, Lapses, Overshoot, Posture,
    Pressing, Rhythm, Roaming, Stops,
};
pub use fixed::fixed_order;
pub use helper::{Help, Helper};
pub use model::Model;
pub use people::Invented;
pub use play::{Played, play, play_in, play_plan};
pub use player::Player;
pub use reporting::Reporting;
pub use rest_path::{LongPath, Resting};
pub use stick::{ExtraAxis, Gate, Spring, Stick, System, Wiring};
pub use truth_back::TrueReturn;
