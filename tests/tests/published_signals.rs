//! Spectra and the smoothing filter, against the libraries of those who made them.

use checks::{number, numbers, same, vector};
use fitting::Position;
use fitting::pipeline::one_euro::{OneEuro, OneEuroPlane, alpha};
use fitting::statistics::spectrum::density;

/// Welch 1967 (from memory) in the conventions of `scipy.signal.welch` and `csd`, which give the
/// values at their bins; between these `scipy.signal.czt` does.
#[test]
fn power_by_frequency() {
    let spectrum = vector("spectrum");
    let segment = spectrum["nperseg"].as_u64().unwrap() as usize;
    let step = 1.0 / number(&spectrum["fs"]);
    let axes = numbers(&spectrum["right"]).into_iter().zip(numbers(&spectrum["up"]));
    let part: Vec<Position> =
        axes.take(segment).map(|(right, up)| Position::new(right, up)).collect();
    for frequencies in ["bins", "between"] {
        let want = &spectrum["one"][frequencies];
        let hertz = numbers(&want["hertz"]);
        let names = ["right", "up", "both"];
        let want = names.map(|name| numbers(&want[name]));
        let densities: Vec<[f64; 3]> = density(&part, step, hertz.iter().copied()).collect();
        assert_eq!(densities.len(), hertz.len());
        for (index, got) in densities.iter().enumerate() {
            // A part between the axes is small beside either where they go their own ways, and high
            // frequencies of a smooth path are differences of large sums.
            let scale = (want[0][index] * want[1][index]).sqrt().max(1e-9 * want[0][0]);
            for (axis, name) in names.iter().enumerate() {
                let off = (got[axis] - want[axis][index]).abs();
                assert!(
                    off <= 1e-9 * scale.max(want[axis][index]),
                    "{name} at {} Hz",
                    hertz[index]
                );
            }
        }
    }
    // The slanted rhythm of 5.3 Hz is the highest of both axes.
    let bins = numbers(&spectrum["three"]["bins"]["hertz"]);
    let sums = density(&part, step, bins.iter().copied()).map(|[right, up, _]| right + up);
    let top = sums.enumerate().max_by(|one, other| one.1.total_cmp(&other.1)).unwrap().0;
    assert!((bins[top] - 5.3).abs() < 0.34, "{}", bins[top]);
}

/// The 1 euro filter (Casiez, Roussel and Vogel 2012, paper from memory, the authors' code
/// read), against the authors' own package: even and uneven stamps, and bursts as of a device
/// that tells only changes.
#[test]
fn smoothing_by_the_authors() {
    let want = vector("one_euro");
    for case in want["alpha_table"].as_array().unwrap() {
        let share = alpha(number(&case["fc"]), 1.0 / number(&case["fs"]));
        same(share, number(&case["alpha"]), 1e-12, &case.to_string());
    }
    for run in want["runs"].as_array().unwrap() {
        assert_eq!(number(&run["dcutoff"]), fitting::pipeline::one_euro::SPEED_CUTOFF_HERTZ);
        let name = run["name"].as_str().unwrap();
        let (stamps, inputs, outputs) =
            (numbers(&run["t"]), numbers(&run["x"]), numbers(&run["y"]));
        let (cutoff, coefficient) = (number(&run["mincutoff"]), number(&run["beta"]));
        let mut filter = OneEuro::new(cutoff, coefficient);
        // In the plane, along any direction, it is the same filter.
        let (mut plane, angle) = (OneEuroPlane::new(cutoff, coefficient), 33.0);
        let mut before = stamps[0] - 1.0;
        for ((stamp, input), output) in stamps.iter().zip(inputs).zip(outputs) {
            let got = filter.step(stamp - before, input);
            // Near its zeros the output is a difference of values around 1.
            assert!((got - output).abs() < 1e-12, "{name} at {stamp}: {got} is not {output}");
            let place = plane.step(stamp - before, Position::polar(input, angle));
            assert!((place.along(angle) - output).abs() < 1e-12, "{name} in the plane");
            before = *stamp;
        }
    }
}

/// The authors' ground truth (their repository, read): six digits are printed, and of
/// the time between two stamps that leaves 4e-5 of it: 5e-6 absolute. They ask 1e-4 themselves.
#[test]
fn smoothing_of_the_ground_truth() {
    let truth = &vector("one_euro")["ground_truth"];
    let mut filter = OneEuro::new(number(&truth["mincutoff"]), number(&truth["beta"]));
    let mut before = -1.0;
    for row in truth["rows"].as_array().unwrap() {
        let row = numbers(row);
        let got = filter.step(row[0] - before, row[1]);
        assert!((got - row[2]).abs() < 5e-6, "{row:?}: {got}");
        before = row[0];
    }
}

/// Without its coefficient the filter is one pole, of textbook magnitude and delay:
/// `scipy.signal.freqz`.
///
/// Measured on sine waves that have settled: amplitude by projection over whole periods, 1e-9.
#[test]
fn magnitude_of_one_pole() {
    let want = vector("one_pole");
    let rate = number(&want["fs"]);
    for case in want["cases"].as_array().unwrap() {
        let cutoff = number(&case["fc"]);
        same(alpha(cutoff, 1.0 / rate), number(&case["alpha"]), 1e-12, "alpha");
        for (hertz, magnitude) in case["mag"].as_object().unwrap() {
            let turn = std::f64::consts::TAU * hertz.parse::<f64>().unwrap() / rate;
            let mut filter = OneEuro::new(cutoff, 0.0);
            let (mut sine, mut cosine) = (0.0, 0.0);
            // Twenty seconds to settle, twenty (whole periods of every frequency) to measure.
            for step in 0..2400 {
                let out = filter.step(1.0 / rate, libm::sin(turn * f64::from(step)));
                if step >= 1200 {
                    sine += out * libm::sin(turn * f64::from(step)) / 600.0;
                    cosine += out * libm::cos(turn * f64::from(step)) / 600.0;
                }
            }
            let what = format!("{cutoff} Hz at {hertz} Hz");
            same(libm::hypot(sine, cosine), number(magnitude), 1e-9, &what);
        }
        // A ramp is followed late by the delay of slow movement.
        let mut filter = OneEuro::new(cutoff, 0.0);
        let last = (0..4000).map(|step| filter.step(1.0 / rate, f64::from(step))).last().unwrap();
        let late_ms = (3999.0 - last) / rate * 1000.0;
        same(late_ms, number(&case["dc_delay_ms"]), 1e-9, "delay");
    }
}
