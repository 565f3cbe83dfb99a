//! The page of the Stick Fitting Room.
