//! All computing of the Stick Fitting Room.
//!
//! Data flows one way:
//!
//! ```text
//! Sample -> Recording -> Measures -> Settings -> Pipeline -> Summary
//! ```
//!
//! - [`sample`]: one state of a device ([`Sample`]), and which of its axes are the stick.
//! - [`recording`]: what was seen and when somebody was looking ([`Recording`]).
//! - [`trace`]: a recording as a path that holds each position for a length of time.
//! - [`task`]: what a person is asked to do, as state machines driven by samples and time.
//! - [`measure`]: figures computed from the records of tasks, each with its interval.
//! - [`suggest`]: settings computed from measures, each with its reason and its cost.
//! - [`settings`], [`pipeline`]: the settings, and the one piece of code that applies them.
//! - [`summary`]: what is kept, shared and printed.
//! - [`papers`]: the facts that sheets and letters are made from.
//! - [`exchange`]: recordings in forms that other programs read.
//! - [`invented`]: invented people and sticks, for practice and as ground truth.
//! - [`plot`]: the geometry of our pictures.
//! - [`statistics`]: the general statistics the measures rest on.
//!
//! Invariants: nothing here touches a browser, a clock, storage, or randomness it was not
//! handed; transcendental functions come from `libm`, so native and wasm builds agree to the
//! bit; statistics weigh time, not samples; no NaN leaves the crate.
#![deny(missing_docs)]
#![forbid(unsafe_code)]

pub mod estimate;
pub mod exchange;
pub mod invented;
pub mod measure;
pub mod papers;
pub mod pipeline;
pub mod plot;
pub mod position;
pub mod recording;
pub mod sample;
pub mod settings;
pub mod statistics;
pub mod stick_kind;
pub mod suggest;
pub mod summary;
pub mod task;
pub mod tones;
pub mod trace;
pub mod visit;

pub use estimate::{Estimate, NotEnough, StickTrait, Sureness};
pub use pipeline::Pipeline;
pub use position::{Direction, Position};
pub use recording::{Recording, Span};
pub use sample::{AxisPick, Sample, StickAxes};
pub use settings::Settings;
pub use stick_kind::StickKind;
pub use trace::Trace;

/// The version of the computing core, kept with every stored result.
pub const CORE_VERSION: &str = env!("CARGO_PKG_VERSION");
