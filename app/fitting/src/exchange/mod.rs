//! Recordings and figures in forms that other programs and other people's tables read.

pub mod code;
pub mod csv;
pub mod figures;
