//! Which button or switch does which job.
//!
//! [`sources`] lists everything that can be pressed: the buttons of the stick with what the person
//! knows of each and what the presses task recorded, and the switches beside it. [`plan`] gives the
//! jobs that are needed to them, the most needed first, and says what does not fit, what does the
//! same twice, and what else could be done.
//!
//! Two things hold whatever is asked, and are tested so: no job goes without for the sake of one that
//! is needed less; and of the ways to serve the same jobs, the more needed one has the better button.

mod elsewhere;
mod matching;
mod plan;
mod source;

#[cfg(test)]
mod tests;

pub use elsewhere::{Overlap, Suggestion};
pub use plan::{Asked, Assigned, Plan, Planned, Setting, WhyNot, plan};
pub use source::{Pressed, Reliability, ReliabilityClass, Source, sources};
