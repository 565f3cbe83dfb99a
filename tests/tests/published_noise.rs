//! What noise does to a stick at rest, against theory that was published.

use checks::{number, numbers, same, vector};
use fitting::measure::device::quantisation_deviation;
use fitting::measure::events::Sustained;
use fitting::statistics::plain::{mean, quantile};
use fitting::{Position, Span};

/// Bennett 1948: the rounding error of one step has the deviation step / √12.
#[test]
fn quantisation_floor() {
    let normalised = vector("gamepad_normalize");
    for (bits, step) in normalised["lsb"].as_object().unwrap() {
        let want = number(&normalised["quantisation_sd"][bits]);
        same(quantisation_deviation(number(step)), want, 1e-9, bits);
    }
}

/// Distances from the centre: type 7 percentiles of numpy on 200 correlated points.
#[test]
fn percentiles_of_the_distance() {
    let ellipse = vector("ellipse_pca");
    let points: Vec<Position> = ellipse["X"]
        .as_array()
        .unwrap()
        .iter()
        .map(|point| Position::new(number(&point[0]), number(&point[1])))
        .collect();
    let middle = numbers(&ellipse["mean"]);
    let rights: Vec<f64> = points.iter().map(|point| point.right).collect();
    same(mean(&rights).unwrap(), middle[0], 1e-9, "mean");
    let centre = Position::new(middle[0], middle[1]);
    let distances: Vec<f64> = points.iter().map(|point| (*point - centre).radius()).collect();
    for (percent, want) in ellipse["radius_percentiles_type7"].as_object().unwrap() {
        let share = percent.parse::<f64>().unwrap() / 100.0;
        same(quantile(&distances, share).unwrap(), number(want), 1e-9, percent);
    }
}

/// A stationary path: sums of 400 sine waves with random phases on each axis (Rice's own
/// construction), standard deviation 1, with mean squared frequency as returned.
fn gaussian_path(seconds: f64, hertz: f64) -> (Vec<(Span, f64)>, f64) {
    // s = (1664525 s + 1013904223) mod 2^32, as in the collection of check values.
    let mut state: u64 = 2026;
    let mut next = || {
        state = (1_664_525 * state + 1_013_904_223) % (1 << 32);
        (state as f64 + 0.5) / f64::from(u32::MAX)
    };
    const WAVES: usize = 400;
    let amplitude = (2.0 / WAVES as f64).sqrt();
    let waves: Vec<[f64; 4]> = (0..WAVES)
        .map(|i| {
            let frequency = 0.05 + 0.9 * (i as f64 + next()) / WAVES as f64;
            let turn = std::f64::consts::TAU;
            [
                frequency,
                turn * next(),
                0.05 + 0.9 * (i as f64 + next()) / WAVES as f64,
                turn * next(),
            ]
        })
        .collect();
    let squared: f64 =
        waves.iter().map(|wave| 0.5 * (wave[0] * wave[0] + wave[2] * wave[2])).sum::<f64>()
            / WAVES as f64;
    let path = (0..(seconds * hertz) as usize)
        .map(|i| {
            let at = i as f64 / hertz;
            let (mut right, mut up) = (0.0, 0.0);
            for wave in &waves {
                right += amplitude * libm::cos(std::f64::consts::TAU * wave[0] * at + wave[1]);
                up += amplitude * libm::cos(std::f64::consts::TAU * wave[2] * at + wave[3]);
            }
            let span = Span { from_seconds: at, to_seconds: (i + 1) as f64 / hertz };
            (span, Position::new(right, up).radius())
        })
        .collect();
    (path, squared)
}

/// Rice 1944/45 (from memory): the envelope of a Gaussian process, and so the distance of two
/// independent Gaussian axes with deviation 1, passes a radius R upwards
/// `√(2π) f R exp(−R²/2)` times a second, f² being the mean squared frequency. Shares of time
/// beyond R are `exp(−R²/2)` (Rayleigh 1880).
///
/// Counted on 40 minutes of an invented process: the bound is four standard errors of a Poisson
/// count, and 10 % for runs under a frame and runs less than 250 ms apart, which are events of
/// our own kind and not passages.
#[test]
fn passages_of_a_gaussian_path() {
    let (path, squared) = gaussian_path(2400.0, 60.0);
    let sustained = Sustained::of(&path);
    for radius in [2.0, 2.5, 3.0_f64] {
        let still = libm::exp(-0.5 * radius * radius);
        let rate = libm::sqrt(std::f64::consts::TAU * squared) * radius * still;
        let want = rate * 2400.0;
        let got = sustained.events_beyond(radius).len() as f64;
        let bound = 4.0 * want.sqrt() + 0.1 * want;
        assert!((got - want).abs() < bound, "{radius}: {got} events, theory {want}");
        // And the theory must have something to say at all.
        assert!(want > 30.0);
    }
}

/// Rayleigh 1880: radii that hold 50, 95, 99 and 99.9 % of isotropic Gaussian positions. Shares
/// of time of a simulated path within 1 % of the radius at the median and 4 % at 99 %, four
/// times what 40 minutes with a correlation of about a second leave open.
#[test]
fn rayleigh_radii() {
    let rayleigh = &vector("ellipse_pca")["rayleigh"];
    for (key, share) in [("median", 0.5), ("r95", 0.95), ("r99", 0.99), ("r999", 0.999)] {
        let radius = number(&rayleigh[key]);
        let beyond = fitting::statistics::distributions::chi_square_share(radius * radius, 2.0);
        same(beyond, share, 1e-9, key);
    }
    let (path, _) = gaussian_path(2400.0, 60.0);
    let held: Vec<(f64, f64)> = path.iter().map(|(span, level)| (*level, span.seconds())).collect();
    let at = |share| fitting::statistics::weighted::quantile(&held, share).unwrap();
    same(at(0.5), number(&rayleigh["median"]), 0.02, "median of the path");
    same(at(0.95), number(&rayleigh["r95"]), 0.02, "95 % of the path");
    same(at(0.99), number(&rayleigh["r99"]), 0.04, "99 % of the path");
}
