//! The page of the Stick Fitting Room.

pub mod errors;
pub mod input;
pub mod route;
pub mod store;
