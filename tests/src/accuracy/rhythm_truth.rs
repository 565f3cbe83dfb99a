//! How much of a person's other movement lies where the rhythm is.

use fitting::invented::{Body, Model};
use fitting::task::Known;
use fitting::{Direction, Position};

use super::hold_truth::held;

/// The band goes so far to each side of the rhythm's frequency, hertz.
const HALF_BAND_HERTZ: f64 = 1.0;
/// Seconds of holding looked at.
const SECONDS: f64 = 60.0;
/// Read off this often, seconds.
const STEP_SECONDS: f64 = 0.02;
/// The level of the hold.
const LEVEL: f64 = 0.5;

/// Standard deviation on one axis of what the same person without rhythm moves within a hertz of
/// `hertz` while holding: by the plain Fourier sum over a minute, share of travel.
#[must_use]
pub fn wander_in_band(
    model: &Model,
    seed: u64,
    known: &Known,
    directions: &[Direction],
    hertz: f64,
) -> f64 {
    let model = Model { body: Body { rhythm: None, ..model.body.clone() }, ..model.clone() };
    let Some(first) = directions.first() else { return 0.0 };
    let path = held(&model, seed, known, &[*first], LEVEL, SECONDS);
    let reads: Vec<Position> =
        path.iter().flat_map(|path| path.read_off(STEP_SECONDS)).flatten().collect();
    let n = reads.len() as f64;
    let resolution = 1.0 / (n * STEP_SECONDS);
    let mut variance = 0.0;
    let steps = (2.0 * HALF_BAND_HERTZ / resolution) as usize;
    for step in 0..=steps {
        let frequency = hertz - HALF_BAND_HERTZ + step as f64 * resolution;
        let turn = 2.0 * std::f64::consts::PI * frequency * STEP_SECONDS;
        let (mut real, mut imaginary) = (Position::ORIGIN, Position::ORIGIN);
        for (index, at) in reads.iter().enumerate() {
            let (sin, cos) = libm::sincos(turn * index as f64);
            real = real + *at * cos;
            imaginary = imaginary + *at * sin;
        }
        // One-sided; the mean of both axes.
        let power = |sum: Position| sum.right * sum.right + sum.up * sum.up;
        variance += (power(real) + power(imaginary)) * 2.0 / (n * n) / 2.0;
    }
    libm::sqrt(variance)
}
