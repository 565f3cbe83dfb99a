//! Recordings from files, measured by the same core as in the page.
//!
//! - [`input`]: files of the page (JSON) and plain recordings (CSV) into records, or a
//!   [`Trouble`] that says what is wrong and where.
//! - [`analysis`]: what the core makes of them.
//! - [`table`]: the same for people.
//!
//! What is read here comes from outside: sizes are capped before reading, every field is checked.
#![deny(missing_docs)]
#![forbid(unsafe_code)]

pub mod analysis;
pub mod input;
pub mod table;
mod trouble;

pub use trouble::{Trouble, Wrong};
