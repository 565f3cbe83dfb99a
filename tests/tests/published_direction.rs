//! Angles: circular mean and the rotation between asked and performed directions.

use checks::{number, numbers, same, vector};
use fitting::position::fold_degrees;
use fitting::statistics::circular;

/// Mardia and Jupp 2000: scipy.stats.circmean and circstd.
#[test]
fn circular_mean_and_deviation() {
    let want = vector("circular");
    let (mean, length) = circular::mean(&numbers(&want["deg"])).unwrap();
    same(mean, number(&want["circmean_deg"]), 1e-9, "mean");
    same(length, number(&want["R_bar"]), 1e-9, "length");
    let deviation = circular::deviation(length);
    same(deviation, number(&want["circstd_rad"]).to_degrees(), 1e-9, "deviation");
}

/// Rotation as the circular mean of performed less asked angle.
#[test]
fn rotation_of_a_mount() {
    let want = &vector("circular")["rotation_estimate_example"];
    let off: Vec<f64> = numbers(&want["produced_deg"])
        .iter()
        .zip(numbers(&want["target_deg"]))
        .map(|(produced, asked)| fold_degrees(produced - asked))
        .collect();
    let (rotation, _) = circular::mean(&off).unwrap();
    same(rotation, number(&want["mean_rotation_deg"]), 1e-9, "rotation");
}
