//! Angles: circular mean and the rotation between asked and performed directions.

use checks::{number, numbers, same, vector};
use fitting::measure::device::gate::{out_of_round, superellipse};
use fitting::measure::map::polar_of_ends;
use fitting::measure::polar::Matrix;
use fitting::position::{Direction, Position, fold_degrees};
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

fn matrix(value: &serde_json::Value) -> Matrix {
    [0, 1].map(|row| [0, 1].map(|column| number(&value[row][column])))
}

/// The least-squares map of asked unit vectors to ends (numpy.linalg.lstsq) and its polar
/// decomposition (scipy.linalg.polar), axes swapped and inverted among them.
#[test]
fn maps_and_their_polar_decomposition() {
    for case in vector("polar")["cases"].as_array().unwrap() {
        let places = case["ends"].as_array().unwrap();
        let ends: Vec<(Direction, Position)> = Direction::EIGHT
            .into_iter()
            .zip(places)
            .map(|(asked, end)| (asked, Position::new(number(&end[0]), number(&end[1]))))
            .collect();
        assert_eq!(places.len(), 8);
        let (found, polar) = polar_of_ends(&ends).unwrap();
        for (got, want) in found.iter().flatten().zip(matrix(&case["matrix"]).iter().flatten()) {
            same(*got, *want, 1e-9, "entry");
        }
        let flips = matrix(&case["flips"]);
        assert_eq!(polar.swapped, flips[0][0] == 0.0);
        assert_eq!(polar.right_inverted, flips[0][0] + flips[0][1] < 0.0);
        assert_eq!(polar.up_inverted, flips[1][0] + flips[1][1] < 0.0);
        same(polar.degrees, number(&case["degrees"]), 1e-9, "turn");
        let sizes = numbers(&case["singular_values"]);
        for (got, want) in polar.stretch.iter().zip(numbers(&case["stretch"])) {
            assert!((got - want).abs() <= 1e-12 * sizes[0], "{got} is not {want}");
        }
        let (f, g) = polar.uneven();
        let uneven = libm::hypot(f, g);
        same((1.0 - uneven) / (1.0 + uneven), sizes[1] / sizes[0], 1e-9, "weaker axis");
    }
}

/// For ends on a circle the turn is the angle of an orthogonal Procrustes fit (Schönemann 1966),
/// `atan2(sum(xt yp - yt xp), sum(xt xp + yt yp))`, which is the circular mean.
#[test]
fn the_turn_of_a_circle_is_the_circular_mean() {
    let want = &vector("circular")["rotation_estimate_example"];
    let ends: Vec<(Direction, Position)> = Direction::EIGHT
        .into_iter()
        .zip(numbers(&want["produced_deg"]))
        .map(|(direction, degrees)| (direction, Position::polar(1.0, degrees)))
        .collect();
    let turn = polar_of_ends(&ends).unwrap().1.degrees;
    same(turn, number(&want["mean_rotation_deg"]), 1e-9, "turn");
}

/// Out-of-roundness of known outlines, over as many even angles as the vector names: arithmetic
/// outside the project. Of a square over all angles it is (4/π) ln(1 + √2) − 1.
#[test]
fn how_far_an_opening_is_from_round() {
    let want = vector("circularity");
    let octagon = |degrees: f64| {
        let eighth = std::f64::consts::FRAC_PI_4;
        let from_corner = degrees.to_radians().rem_euclid(eighth);
        libm::cos(eighth / 2.0) / libm::cos(from_corner - eighth / 2.0)
    };
    for count in [8, 3600] {
        let even = |radius: &dyn Fn(f64) -> f64| {
            let angles = (0..count).map(|i| f64::from(i) * 360.0 / f64::from(count));
            out_of_round(angles.map(radius), 1.0)
        };
        let of = |name: &str| number(&want["out_of_round"][name][count.to_string()]);
        same(even(&|degrees| superellipse(degrees, 0.0)), of("square"), 1e-9, "square");
        let rounder = even(&|degrees| superellipse(degrees, 0.25));
        same(rounder, of("superellipse_4"), 1e-9, "superellipse");
        let eight = even(&octagon);
        assert!((eight - of("octagon")).abs() < 1e-9, "octagon: {eight}");
    }
    let circle = (0..360).map(|degrees| superellipse(f64::from(degrees), 0.5));
    assert!(out_of_round(circle, 1.0) < 1e-12);
}
