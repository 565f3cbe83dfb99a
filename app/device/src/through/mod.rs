//! What gets through: a device held against a host.
//!
//! [`DeviceFacts`] is what is known of a device, wherever it comes from: what a browser shows,
//! what was heard, its report descriptor, what was measured. [`verdict`] holds it against a
//! [`fitting::visit::Host`] and says works, works with limits, will not work or cannot tell, each
//! with its [`Reason`]s and what to do next; [`together`] says what holds of several devices.

mod facts;
mod passes;
mod reason;
mod settings;
mod together;
mod verdict;

pub use facts::{AxisFacts, DeviceFacts, Speech};
pub use passes::{Passes, passes};
pub use reason::{NextStep, Reason, Weight};
pub use together::{Together, together};
pub use verdict::{Asked, Verdict, VerdictWord, verdict};

#[cfg(test)]
mod tests;
