//! The general statistics the measures rest on.
//!
//! - [`special`]: incomplete gamma and beta functions.
//! - [`distributions`]: normal, t and chi-square.
//! - [`plain`]: of samples that each count the same (repetitions).
//! - [`weighted`]: of values that each held for a length of time.
//! - [`circular`]: of angles.
//! - [`ellipse`]: of places in the plane.
//! - [`counts`]: intervals for rates and shares, and what "none seen" shows.
//! - [`lines`]: robust slope, and a weighted straight line without negative parts.
//! - [`medians`]: intervals of a median.
//! - [`order`]: putting things in order.
//! - [`dependence`]: how much independent evidence a slowly changing series holds.
//! - [`spectrum`]: power by frequency.
//! - [`tails`]: how often a level is passed that was hardly ever seen to be passed.
//! - [`tolerance`]: limits that a share of all future values keeps.
//!
//! Every function says what it returns for too little or senseless input; none returns NaN
//! where its documentation does not allow it to be called.

pub mod circular;
pub mod counts;
pub mod dependence;
pub mod distributions;
pub mod ellipse;
pub mod lines;
pub mod medians;
pub mod order;
pub mod plain;
pub mod special;
pub mod spectrum;
pub mod tails;
pub mod tolerance;
pub mod weighted;
