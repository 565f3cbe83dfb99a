//! How figures come about: what unfolds behind "interval, method and basis", in a researcher's words.

/// Interval.
pub const INTERVAL: &str = "95 % interval";
/// Method of the dead zone.
pub const fn dead_zone_method(from_model: bool) -> &'static str {
    if from_model {
        "The smallest radius whose rate of false movements has its upper bound under your target. \
         A false movement is an excursion of at least 1/60 s; excursions less than 250 ms apart \
         are one. From a model: the tail of the continual movement is fitted to the peaks over a \
         threshold, with its uncertainty."
    } else {
        "The smallest radius whose counted rate of false movements has its upper bound under your \
         target. A false movement is an excursion of at least 1/60 s; excursions less than 250 ms \
         apart are one."
    }
}
