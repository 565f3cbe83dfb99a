//! Recordings in forms that other programs read.

pub mod csv;
