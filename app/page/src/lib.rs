//! The page of the Stick Fitting Room: input, store, screens, parts.
//!
//! The page draws and passes on; it computes nothing that a person is told. Samples flow past
//! the reactive graph from [`input`] into the core's state machines; what the core says comes
//! back as a few signals in [`state`]; [`screens`] and [`parts`] draw them, with the words of
//! [`words`].

pub mod app;
pub mod errors;
pub mod hid;
pub mod input;
pub mod later;
pub mod parts;
pub mod route;
pub mod screens;
pub mod state;
pub mod store;
pub mod words;

pub use app::Page;
