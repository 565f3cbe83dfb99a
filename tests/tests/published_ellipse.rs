//! The ellipse of scattered places, and the turn and stretch of a map of the plane.

use checks::{number, numbers, same, vector};
use fitting::Position;
use fitting::statistics::ellipse::Ellipse;

/// Principal axes and areas of 200 places (Pearson 1901; Schubert and Kirchner 2014, both from
/// memory): numpy.cov, numpy.linalg.eigh, scipy.stats.
#[test]
fn axes_and_area_of_scattered_places() {
    let want = vector("ellipse_pca");
    let held: Vec<(Position, f64)> = want["X"]
        .as_array()
        .unwrap()
        .iter()
        .map(|place| (Position::new(number(&place[0]), number(&place[1])), 0.25))
        .collect();
    let n = held.len() as f64;
    let ellipse = Ellipse::of(&held).unwrap();
    // The reference divides by one less than the number of places; over time there is no such
    // number.
    let corrected = n / (n - 1.0);
    let axes = numbers(&want["eigenvalues_desc"]);
    same(ellipse.along_variance * corrected, axes[0], 1e-9, "along");
    same(ellipse.across_variance * corrected, axes[1], 1e-9, "across");
    let degrees = ellipse.along_degrees.rem_euclid(180.0);
    same(degrees, number(&want["major_axis_deg_mod180"]), 1e-9, "direction");
    same(ellipse.area(0.95) * corrected, number(&want["area95_chi2"]), 1e-9, "area");
    // Made with a main direction of 30 degrees and three times as long as wide: its interval of
    // 200 independent places holds that, and it is not round.
    assert!((degrees - 30.0).abs() < ellipse.half_interval_degrees(n));
    assert!(ellipse.half_interval_degrees(n) < 5.0 && !ellipse.is_round(n));
    // Second moments in, the same axes out.
    let rows = want["cov_ddof1"].as_array().unwrap();
    let moments = [number(&rows[0][0]), number(&rows[0][1]), number(&rows[1][1])];
    same(Ellipse::of_moments(moments).unwrap().along_variance, axes[0], 1e-9, "moments");
}

/// The test of roundness keeps its 5 % (Mauchly 1940, from memory): of 2000 sets of 30 places
/// without a main direction 5 % are told one, within four binomial errors.
#[test]
fn roundness_keeps_its_level() {
    let mut state: u64 = 99;
    let mut even = || {
        state = (1_664_525 * state + 1_013_904_223) % (1 << 32);
        (state as f64 + 0.5) / 4_294_967_296.0
    };
    let mut told = 0;
    for _ in 0..2000 {
        let held: Vec<(Position, f64)> = (0..30)
            .map(|_| {
                let radius = libm::sqrt(-2.0 * libm::log(even()));
                (Position::polar(radius, 360.0 * even()), 1.0)
            })
            .collect();
        told += u32::from(!Ellipse::of(&held).unwrap().is_round(30.0));
    }
    let share = f64::from(told) / 2000.0;
    assert!((share - 0.05).abs() < 4.0 * (0.05_f64 * 0.95 / 2000.0).sqrt(), "{share}");
}
