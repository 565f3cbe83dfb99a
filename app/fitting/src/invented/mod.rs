//! Invented people and sticks: for practice with no hardware, and as ground truth.
//!
//! An [`Invented`] person has a [`Model`]: how far and how steadily the person moves
//! ([`Body`]), and what the stick and the system make of it ([`Stick`]). A [`Player`] plays the
//! model from a seed and answers to what a task asks, sample by sample, through the same boundary
//! as a device. [`play`] plays a whole plan.
//!
//! The same seed gives the same samples on every machine, to the bit.
//!
//! The people are made up. Where a shape or a size was taken from a published source, the field
//! says so; everything else is a choice.

mod body;
mod people;
mod play;
mod player;
mod random;
mod stick;
mod will;

pub use body::{Body, Jerks, Rhythm};
pub use people::{Invented, Model};
pub use play::play;
pub use player::Player;
pub use stick::{Gate, Stick, System};
