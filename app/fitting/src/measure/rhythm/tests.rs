//! Rhythm in holds whose truth is known.

use super::*;
use crate::measure::test_records::recording;
use crate::measure::truth_tests::normals;
use crate::{StickAxes, Trace};
use std::f64::consts::PI;

/// The mean over windows that overlap by half, on both axes and along a direction, against
/// `scipy.signal`: see `tests/vectors/scripts/signals.py`.
#[test]
fn the_spectrum_is_that_of_a_published_library() {
    let vector: serde_json::Value =
        serde_json::from_str(include_str!("../../../../../tests/vectors/spectrum.json")).unwrap();
    let numbers = |list: &serde_json::Value| -> Vec<f64> {
        list.as_array().unwrap().iter().map(|number| number.as_f64().unwrap()).collect()
    };
    let axes = numbers(&vector["right"]).into_iter().zip(numbers(&vector["up"]));
    let stretch: Vec<Position> = axes.map(|(right, up)| Position::new(right, up)).collect();
    let powers = sum(&windows(&[stretch]));
    assert_eq!((powers.windows, vector["fs"].as_f64()), (3.0, Some(1.0 / CELL_SECONDS)));
    let want = &vector["three"]["between"];
    let [hertz, right, up, both] =
        ["hertz", "right", "up", "both"].map(|name| numbers(&want[name]));
    assert_eq!(hertz.len(), raster());
    let near = |got: f64, want: f64, scale: f64| {
        assert!((got - want).abs() <= 1e-9 * scale, "{got} is not {want}");
    };
    let (plain, along) = (powers.density(None), powers.density(Some(30.0)));
    let (sin, cos) = libm::sincos(PI / 6.0);
    for (index, (plain, along)) in plain.iter().zip(&along).enumerate() {
        near(hertz_of(index), hertz[index], hertz[index]);
        let sum = right[index] + up[index];
        near(*plain, sum, sum);
        // What lies across the direction takes itself off, but for rounding.
        let turned =
            right[index] * cos * cos + up[index] * sin * sin + 2.0 * both[index] * sin * cos;
        near(*along, turned, sum);
    }
    // The same at the bins of the library's own spectrum, those that lie on the raster.
    let bins = &vector["three"]["bins"];
    let [hertz, right, up] = ["hertz", "right", "up"].map(|name| numbers(&bins[name]));
    let mut met = 0;
    for (index, plain) in plain.iter().enumerate() {
        if let Some(bin) = hertz.iter().position(|bin| (bin - hertz_of(index)).abs() < 1e-9) {
            near(*plain, right[bin] + up[bin], right[bin] + up[bin]);
            met += 1;
        }
    }
    assert_eq!(met, 18);
}

/// Holds of 3 s, reported `hertz` times a second: smooth slow wander of both axes (deviation
/// 0.012, time constant 0.4 s), rough fast wander (0.006, 0.06 s), and a rhythm of mean size
/// `amplitude` along 30 degrees whose size comes and goes; rounded to `step`.
pub(super) fn holds(
    seed: u64,
    count: usize,
    hertz: f64,
    step: f64,
    rhythm: Option<(f64, f64)>,
) -> Vec<OneHold> {
    const RATE: f64 = 240.0;
    let length = (count as f64 * 3.0 * RATE) as usize + 1;
    let lead = 1200;
    let noise = normals(seed, 5 * (length + lead));
    let (slow, fast, size) = (0.4 * RATE, 0.06 * RATE, 1.0 * RATE);
    let (mut rough, mut smooth, mut quick) = (Position::ORIGIN, Position::ORIGIN, Position::ORIGIN);
    let mut log = 0.0;
    let path: Vec<Position> = (0..length + lead)
        .map(|i| {
            let draw = |j: usize| noise[5 * i + j];
            let keep = libm::exp(-1.0 / slow);
            let fresh = libm::sqrt(1.0 - keep * keep);
            rough = rough * keep + Position::new(draw(0), draw(1)) * fresh;
            smooth = smooth * keep + rough * (1.0 - keep);
            let keep = libm::exp(-1.0 / fast);
            let fresh = libm::sqrt(1.0 - keep * keep);
            quick = quick * keep + Position::new(draw(2), draw(3)) * fresh;
            let keep = libm::exp(-1.0 / size);
            log = log * keep + 0.3 * libm::sqrt(1.0 - keep * keep) * draw(4);
            let rhythmic = rhythm.map_or(0.0, |(at, amplitude)| {
                let wave = libm::sin(2.0 * PI * at * i as f64 / RATE);
                amplitude * libm::exp(log - 0.045) * wave
            });
            smooth * (0.012 * std::f64::consts::SQRT_2)
                + quick * 0.006
                + Position::polar(rhythmic, 30.0)
                + Position::new(0.0, 0.4)
        })
        .collect();
    let on_step = |value: f64| if step > 0.0 { (value / step).round() * step } else { value };
    (0..count)
        .map(|index| {
            let from = index as f64 * 3.0;
            let seen = recording(10.0 * from, 3.0, hertz, true, |since| {
                let at = path[lead + ((from + since) * RATE).floor() as usize];
                Position::new(on_step(at.right), on_step(at.up))
            });
            OneHold { direction: None, level: 0.5, path: Trace::of(&seen, StickAxes::default()) }
        })
        .collect()
}

#[test]
fn a_rhythm_is_found_wherever_it_lies() {
    for (hertz, amplitude, reports, step) in [
        (3.1, 0.04, 240.0, 0.0),
        (6.0, 0.03, 60.0, 2.0 / 255.0),
        (9.4, 0.02, 120.0, 2.0 / 1023.0),
        (13.0, 0.02, 60.0, 0.0),
    ] {
        let found = rhythm(&holds(3, 16, reports, step, Some((hertz, amplitude)))).unwrap();
        let movement = found.movement;
        assert!(movement.found, "{hertz}");
        let at = movement.hertz.unwrap();
        assert!((at.value - hertz).abs() < 0.15 && at.width() < 0.5, "{hertz}: {at:?}");
        let size = movement.amplitude.unwrap();
        assert!((size.value / amplitude - 1.0).abs() < 0.15, "{hertz}: {size:?}");
        assert!((movement.along_degrees - 30.0).abs() < 6.0, "{movement:?}");
        assert!((movement.resolution_hertz - 1.0 / 3.0).abs() < 1e-12);
        // The size comes and goes: its mean square is exp(0.09) times the square of its mean.
        let power = found.power_by_hold.unwrap();
        let mean = power.iter().sum::<f64>() / power.len() as f64;
        let want = 0.25 * amplitude * amplitude * libm::exp(0.09);
        assert!((mean / want - 1.0).abs() < 0.35, "{hertz}: {mean} {want}");
    }
}

/// The stated false-alarm rate: at most one in twenty without a rhythm.
#[test]
fn wander_alone_is_hardly_ever_a_rhythm() {
    let mut found = 0;
    for seed in 0..120 {
        let (count, reports) = [(4, 60.0), (8, 120.0), (16, 240.0)][seed as usize % 3];
        found +=
            i32::from(rhythm(&holds(50 + seed, count, reports, 0.0, None)).unwrap().movement.found);
    }
    // One in twenty of 120 is 6; three standard errors more would be 13.
    assert!(found <= 6, "{found}");
}

#[test]
fn intervals_hold_frequency_and_amplitude() {
    let (mut hertz, mut size, mut all) = (0, 0, 0);
    for seed in 0..100 {
        let movement = rhythm(&holds(900 + seed, 12, 120.0, 2.0 / 1023.0, Some((5.3, 0.025))))
            .unwrap()
            .movement;
        all += 1;
        hertz += i32::from(movement.hertz.is_ok_and(|at| at.low <= 5.3 && 5.3 <= at.high));
        size += i32::from(movement.amplitude.is_ok_and(|at| at.low <= 0.025 && 0.025 <= at.high));
    }
    // Three standard errors of 95 % of 100 are 6.5 %.
    assert!(hertz >= all * 88 / 100 && size >= all * 88 / 100, "{hertz} {size} of {all}");
}

#[test]
fn too_little_holding_and_slow_reports_say_so() {
    match rhythm(&holds(1, 2, 60.0, 0.0, Some((6.0, 0.05)))).map(|found| found.movement) {
        Err(NotEnough::Seconds { have, need }) => assert!((have - 6.0).abs() < 0.1 && need == 9.0),
        other => panic!("{other:?}"),
    }
    assert_eq!(rhythm(&[]).map(|found| found.movement), Err(NotEnough::NothingRecorded));
    // Twenty reports a second carry nothing at 11 Hz, which would pass for 9.
    let slow = rhythm(&holds(1, 16, 20.0, 0.0, Some((11.0, 0.05)))).unwrap().movement;
    assert!(!slow.found && slow.hertz == Err(NotEnough::DoesNotApply));
}

#[test]
fn a_still_stick_has_no_rhythm() {
    let still: Vec<OneHold> = (0..6)
        .map(|index| {
            let seen =
                recording(10.0 * f64::from(index), 3.0, 60.0, true, |_| Position::new(0.1, 0.4));
            OneHold { direction: None, level: 0.5, path: Trace::of(&seen, StickAxes::default()) }
        })
        .collect();
    assert!(!rhythm(&still).unwrap().movement.found);
}
