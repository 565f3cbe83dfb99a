//! Rhythmic movement while holding: a narrow peak above the wander, wherever it lies.
//!
//! The holds are read in even cells of time ([`crate::statistics::spectrum`] says how and what that
//! takes from an amplitude, which is given back here), cut into Hann windows of three seconds that
//! overlap by half, each less its own straight line, and their powers on both axes are averaged at
//! a raster of frequencies from 2 to 15 Hz, or to four tenths of the report rate. Three seconds
//! tell frequencies apart that differ by a third of a hertz. A rhythm's own frequency wanders more
//! than that: so a band is summed up, not one line read.
//!
//! The background of a peak is a power law through what lies beside it. A peak counts when, window
//! by window, it stands out by more than chance and a bent background allow: at most one person in
//! twenty without a rhythm is told of one (tested on invented people, on autoregressive noise and on
//! pulls at irregular moments). Where several stand out, the one of the greatest power is told.
//!
//! Nothing but the frequency names it. Errors are from leaving out one hold after another (the
//! delete-one jackknife: Efron and Tibshirani, *An Introduction to the Bootstrap* (1993), chapter
//! 11, from memory).

use super::hold::OneHold;
use super::{RhythmicMovement, SpectrumPoint};
use crate::Position;
use crate::estimate::{Basis, Estimate, Measured, NotEnough};
use crate::statistics::distributions::t_quantile;
use crate::statistics::order::sort_numbers;
use crate::statistics::plain;
use crate::statistics::spectrum::{Window, cells, density, held_share, wave};

/// The length of a cell of time, seconds.
const CELL_SECONDS: f64 = 1.0 / 120.0;
/// The length of a window, and the shortest stretch that is one by itself, seconds.
const WINDOW_SECONDS: f64 = 3.0;
const SHORTEST_WINDOW_SECONDS: f64 = 2.0;
/// The raster of frequencies: its first, its step and its last, hertz.
const FIRST_HERTZ: f64 = 0.75;
const STEP_HERTZ: f64 = 0.125;
const LAST_HERTZ: f64 = 18.0;
/// Where a peak may lie, hertz.
const PEAK_HERTZ: (f64, f64) = (2.0, 15.0);
/// No frequency above this share of the report rate is looked at.
const CARRIED_SHARE: f64 = 0.4;
/// The background is read between these distances from a peak that is searched for, and from one
/// that is summed up, hertz.
const BESIDE_HERTZ: (f64, f64) = (0.8, 1.5);
const BESIDE_BAND_HERTZ: (f64, f64) = (1.6, 3.0);
/// A rhythm's power is summed up this far to each side, its mean frequency this far, hertz.
const BAND_HERTZ: f64 = 1.5;
const CENTROID_HERTZ: f64 = 1.0;
/// How many times a background that is bent, as that of slow wander is near its knee, may lie above
/// the power law through its sides.
const BENT: f64 = 1.45;
/// The chance of being told of a peak that is none, and how many places for one there are.
const FALSE_PEAKS: f64 = 0.05;
const PLACES: f64 = 30.0;
/// Windows that overlap by half count for about so much each.
const WINDOWS_COUNT: f64 = 0.66;
/// The least holding from which anything is said, seconds.
const LEAST_SECONDS: f64 = 9.0;
/// What windows of three seconds and the background's bend leave untold of a frequency, hertz: a
/// twentieth of the resolution, added to its interval.
const LEFT_UNTOLD_HERTZ: f64 = 1.0 / (20.0 * WINDOW_SECONDS);
/// From here on the stick is at the edge of its travel, share of it; held there for more than so
/// much of the time, its rhythm is cut off and larger than it looks.
const EDGE: f64 = 0.985;
const MOST_AT_EDGE: f64 = 0.02;
/// The window in which the size of the rhythm is followed, and its stride, seconds.
const SIZE_SECONDS: f64 = 0.7;
const SIZE_STRIDE_SECONDS: f64 = 0.1;

/// Power by frequency of some windows, not yet divided by their number.
#[derive(Clone, Debug)]
struct Powers {
    /// At each frequency of the raster: right, up, and both together (the real part).
    sums: Vec<[f64; 3]>,
    windows: f64,
}

impl Powers {
    fn nothing() -> Self {
        Self { sums: vec![[0.0; 3]; raster()], windows: 0.0 }
    }

    fn add(&mut self, other: &Self, times: f64) {
        self.windows += times * other.windows;
        for (sum, other) in self.sums.iter_mut().zip(&other.sums) {
            for (one, more) in sum.iter_mut().zip(other) {
                *one += times * more;
            }
        }
    }

    /// The density on both axes together, or along one direction.
    fn density(&self, along: Option<f64>) -> Vec<f64> {
        let over = 1.0 / self.windows.max(1.0);
        let (sin, cos) = libm::sincos(along.unwrap_or(0.0).to_radians());
        self.sums
            .iter()
            .map(|[right, up, both]| {
                let sum = match along {
                    None => right + up,
                    Some(_) => right * cos * cos + up * sin * sin + 2.0 * both * sin * cos,
                };
                // Rounding and perfectly still sticks leave nothing to take a logarithm of.
                (sum * over).max(1e-18)
            })
            .collect()
    }
}

/// How many frequencies the raster has.
fn raster() -> usize {
    ((LAST_HERTZ - FIRST_HERTZ) / STEP_HERTZ) as usize + 1
}

fn hertz_of(index: usize) -> f64 {
    FIRST_HERTZ + STEP_HERTZ * index as f64
}

/// What the holds say of rhythmic movement.
pub(super) struct Found {
    /// For the person.
    pub(super) movement: RhythmicMovement,
    /// The power of the rhythm in each hold, half of both axes together: `None` without a rhythm.
    pub(super) power_by_hold: Option<Vec<f64>>,
    /// The spectrum of all holds together.
    pub(super) spectrum: Vec<SpectrumPoint>,
}

/// Looks for a rhythm in all `holds` together.
pub(super) fn rhythm(holds: &[OneHold]) -> Result<Found, NotEnough> {
    if holds.is_empty() {
        return Err(NotEnough::NothingRecorded);
    }
    let report_seconds = report_seconds(holds);
    let stretches: Vec<Vec<Vec<Position>>> =
        holds.iter().map(|hold| cells(&hold.path, CELL_SECONDS)).collect();
    let windows: Vec<Vec<Powers>> = stretches.iter().map(|of_hold| windows(of_hold)).collect();
    let by_hold: Vec<Powers> = windows.iter().map(|of_hold| sum(of_hold)).collect();
    let seconds: f64 = holds
        .iter()
        .zip(&by_hold)
        .filter(|(_, powers)| powers.windows > 0.0)
        .map(|(hold, _)| hold.path.seconds())
        .sum();
    if seconds < LEAST_SECONDS {
        return Err(NotEnough::Seconds { have: seconds, need: LEAST_SECONDS });
    }
    let all = sum(&by_hold);
    let spectrum: Vec<SpectrumPoint> = all
        .density(None)
        .into_iter()
        .enumerate()
        .map(|(index, density)| SpectrumPoint { hertz: hertz_of(index), density })
        .collect();
    let highest = PEAK_HERTZ.1.min(CARRIED_SHARE / report_seconds);
    let mut movement = RhythmicMovement {
        found: false,
        hertz: Err(NotEnough::DoesNotApply),
        resolution_hertz: 1.0 / WINDOW_SECONDS,
        amplitude: Err(NotEnough::DoesNotApply),
        along_degrees: 0.0,
        seconds,
    };
    let each: Vec<Vec<f64>> = windows.iter().flatten().map(|one| one.density(None)).collect();
    let Some(rough) = search(&all, &each, highest) else {
        return Ok(Found { movement, power_by_hold: None, spectrum });
    };
    let along = main_direction(&all, rough);
    let peak = sum_up(&all, rough, Some(along));
    let held = held_share(peak.hertz, report_seconds, CELL_SECONDS).max(0.5);
    let share = mean_of_size(&stretches, peak.hertz, along, peak.background);
    let amplitude = libm::sqrt(2.0 * peak.power) * share / held;
    // Each hold left out once; a hold without a window takes nothing with it.
    let (mut hertz_without, mut size_without) = (Vec::new(), Vec::new());
    for one in by_hold.iter().filter(|one| one.windows > 0.0 && one.windows < all.windows) {
        let mut without = all.clone();
        without.add(one, -1.0);
        let peak = sum_up(&without, rough, Some(along));
        hertz_without.push(peak.hertz);
        size_without.push(0.5 * libm::log(peak.power.max(1e-18)));
    }
    let basis = Basis { seconds, repetitions: hertz_without.len() };
    let jackknife = |without: &[f64]| -> Result<f64, NotEnough> {
        let n = without.len() as f64;
        if n < 3.0 {
            return Err(NotEnough::Repetitions { have: without.len(), need: 3 });
        }
        let squares = plain::squares_about_mean(without);
        Ok(t_quantile(0.975, n - 1.0) * libm::sqrt((n - 1.0) / n * squares))
    };
    let estimate = |value: f64, low: f64, high: f64| -> Measured {
        Estimate::new(value, low, high, basis).ok_or(NotEnough::DoesNotApply)
    };
    movement.found = true;
    movement.along_degrees = along;
    movement.hertz = jackknife(&hertz_without)
        .map(|half| libm::hypot(half, 1.96 * LEFT_UNTOLD_HERTZ))
        .and_then(|half| estimate(peak.hertz, (peak.hertz - half).max(0.0), peak.hertz + half));
    movement.amplitude = jackknife(&size_without).and_then(|half| {
        if share_at_edge(holds) > MOST_AT_EDGE {
            return Err(NotEnough::CutOff);
        }
        let factor = libm::exp(half.min(3.0));
        estimate(amplitude, amplitude / factor, amplitude * factor)
    });
    // The background is that of all holds together, by each hold's own windows.
    let both = sum_up(&all, rough, None);
    let power_by_hold = by_hold
        .iter()
        .map(|one| {
            let near = |index: &usize| (hertz_of(*index) - both.hertz).abs() <= BAND_HERTZ;
            let density = one.density(None);
            let power: f64 = (0..raster()).filter(near).map(|i| density[i] * STEP_HERTZ).sum();
            0.5 * ((power - both.background_power) / (held * held)).max(0.0)
        })
        .collect();
    Ok(Found { movement, power_by_hold: Some(power_by_hold), spectrum })
}

/// The share of the time in which the stick is at the edge of its travel.
fn share_at_edge(holds: &[OneHold]) -> f64 {
    let (mut at_edge, mut whole) = (0.0, 0.0);
    for piece in holds.iter().flat_map(|hold| &hold.path.pieces) {
        let Position { right, up } = piece.at;
        let out = piece.at.radius().max(right.abs()).max(up.abs());
        whole += piece.span.seconds();
        at_edge += if out >= EDGE { piece.span.seconds() } else { 0.0 };
    }
    at_edge / f64::max(whole, 1e-9)
}

/// The time between two reports: the lower tenth of the times between two changes, seconds.
fn report_seconds(holds: &[OneHold]) -> f64 {
    let mut lengths: Vec<f64> = holds
        .iter()
        .flat_map(|hold| {
            let inner = hold.path.pieces.len().saturating_sub(1);
            hold.path.pieces.get(1..inner).unwrap_or_default()
        })
        .map(|piece| piece.span.seconds())
        .collect();
    sort_numbers(&mut lengths);
    plain::quantile_of_sorted(&lengths, 0.1).unwrap_or(CELL_SECONDS).clamp(0.001, 0.1)
}

fn sum(some: &[Powers]) -> Powers {
    let mut all = Powers::nothing();
    for one in some {
        all.add(one, 1.0);
    }
    all
}

/// The powers of each window of one hold's stretches.
fn windows(stretches: &[Vec<Position>]) -> Vec<Powers> {
    let mut found = Vec::new();
    let whole = (WINDOW_SECONDS / CELL_SECONDS).round() as usize;
    let shortest = (SHORTEST_WINDOW_SECONDS / CELL_SECONDS).round() as usize;
    for stretch in stretches.iter().filter(|stretch| stretch.len() >= shortest) {
        let length = whole.min(stretch.len());
        // So many windows, evenly laid, that neighbours share at least half.
        let room = stretch.len() - length;
        let strides = (2 * room).div_ceil(length);
        for index in 0..=strides {
            let start = (room * index).checked_div(strides).unwrap_or(0);
            found.extend(stretch.get(start..start + length).map(window_powers));
        }
    }
    found
}

fn window_powers(part: &[Position]) -> Powers {
    let mut powers = Powers::nothing();
    powers.windows = 1.0;
    let densities = density(part, CELL_SECONDS, (0..raster()).map(hertz_of));
    for (sum, density) in powers.sums.iter_mut().zip(densities) {
        *sum = density;
    }
    powers
}

/// The power law through what lies beside `hertz`, as its height at each frequency: logarithm at
/// `hertz`, and slope over the logarithm of frequency.
fn background(density: &[f64], hertz: f64, beside: (f64, f64)) -> (f64, f64) {
    let (mut n, mut sx, mut sy, mut sxx, mut sxy) = (0.0, 0.0, 0.0, 0.0, 0.0);
    for (index, value) in density.iter().enumerate() {
        let off = (hertz_of(index) - hertz).abs();
        if beside.0 <= off && off <= beside.1 {
            let (x, y) = (libm::log(hertz_of(index) / hertz), libm::log(*value));
            n += 1.0;
            sx += x;
            sy += y;
            sxx += x * x;
            sxy += x * y;
        }
    }
    let determinant = n * sxx - sx * sx;
    if n < 2.0 || determinant <= 0.0 {
        return (sy / f64::max(n, 1.0), 0.0);
    }
    let slope = (n * sxy - sx * sy) / determinant;
    ((sy - slope * sx) / n, slope)
}

/// Where a peak stands out from its background, hertz: that of the greatest power.
///
/// Each window is asked by itself how far its power stands above its own background, and the
/// logarithms of that are held against their own spread (a t test). In the mean of all powers a few
/// windows with a great pull in them would decide, whose power lies wherever chance puts it; and how
/// many independent values a window holds depends on the movement, which the spread knows.
fn search(all: &Powers, windows: &[Vec<f64>], highest: f64) -> Option<f64> {
    let density = all.density(None);
    let independent = WINDOWS_COUNT * windows.len() as f64;
    if independent <= 2.0 {
        return None;
    }
    let t = t_quantile(1.0 - FALSE_PEAKS / PLACES, independent - 1.0);
    let near = |density: &[f64], index: usize| {
        (density[index - 1] + density[index] + density[index + 1]) / 3.0
    };
    let mut best: Option<(f64, f64)> = None;
    for index in 1..raster() - 1 {
        let hertz = hertz_of(index);
        if hertz < PEAK_HERTZ.0 || hertz > highest {
            continue;
        }
        if density[index] < density[index - 1] || density[index] < density[index + 1] {
            continue;
        }
        let above: Vec<f64> = windows
            .iter()
            .map(|one| libm::log(near(one, index)) - background(one, hertz, BESIDE_HERTZ).0)
            .collect();
        let mean = plain::mean(&above).unwrap_or(0.0);
        let spread = libm::sqrt(plain::squares_about_mean(&above) / (above.len() as f64 - 1.0));
        let power = near(&density, index) - libm::exp(background(&density, hertz, BESIDE_HERTZ).0);
        if mean > libm::log(BENT) + t * spread / libm::sqrt(independent)
            && best.is_none_or(|best| power > best.1)
        {
            best = Some((hertz, power));
        }
    }
    best.map(|best| best.0)
}

/// The direction along which most of the power about `hertz` goes, degrees, −90..=90.
fn main_direction(all: &Powers, hertz: f64) -> f64 {
    let (mut difference, mut both) = (0.0, 0.0);
    for (index, sum) in all.sums.iter().enumerate() {
        if (hertz_of(index) - hertz).abs() <= 0.5 {
            difference += sum[0] - sum[1];
            both += sum[2];
        }
    }
    0.5 * libm::atan2(2.0 * both, difference).to_degrees()
}

/// A peak summed up.
struct Peak {
    hertz: f64,
    /// Power of the rhythm in its band, and of the background there.
    power: f64,
    background_power: f64,
    /// Density of the background at the peak.
    background: f64,
}

/// Sums up what stands above the background about `rough` hertz: its mean frequency and its power.
fn sum_up(powers: &Powers, rough: f64, along: Option<f64>) -> Peak {
    let density = powers.density(along);
    let mut hertz = rough;
    let above = |about: f64, reach: f64| {
        let (height, slope) = background(&density, about, BESIDE_BAND_HERTZ);
        let (mut over, mut under, mut weighed) = (0.0, 0.0, 0.0);
        for (index, value) in density.iter().enumerate() {
            let at = hertz_of(index);
            if (at - about).abs() <= reach + 1e-9 {
                let below = libm::exp(height + slope * libm::log(at / about));
                over += value - below;
                under += below;
                weighed += (value - below) * at;
            }
        }
        (over, under, weighed, libm::exp(height))
    };
    for _ in 0..3 {
        let (over, _, weighed, _) = above(hertz, CENTROID_HERTZ);
        if over > 0.0 {
            hertz = (weighed / over).clamp(rough - CENTROID_HERTZ, rough + CENTROID_HERTZ);
        }
    }
    let (over, under, _, background) = above(hertz, BAND_HERTZ);
    Peak {
        hertz,
        power: (over * STEP_HERTZ).max(0.0),
        background_power: under * STEP_HERTZ,
        background,
    }
}

/// The mean size of the rhythm as a share of the root of its mean square: 1 for one of constant
/// size, less for one that comes and goes.
///
/// The size is followed in short windows. What the background adds to a size `a` is about `N / 2a`
/// (Rice 1944, the distribution named after him: `N` is the background's mean square in both
/// parts), and exactly `N` to its square.
fn mean_of_size(stretches: &[Vec<Vec<Position>>], hertz: f64, along: f64, background: f64) -> f64 {
    let length = (SIZE_SECONDS / CELL_SECONDS).round() as usize;
    let stride = (SIZE_STRIDE_SECONDS / CELL_SECONDS).round() as usize;
    let window = Window::hann(length);
    let (sum, squares) = (window.sum, window.squares);
    let (mut count, mut size, mut square) = (0.0, 0.0, 0.0);
    for stretch in stretches.iter().flatten() {
        for part in stretch.windows(length).step_by(stride) {
            let (right, up) = wave(&window.on(part), hertz, CELL_SECONDS);
            let real = Position::new(right.0, up.0).along(along);
            let imaginary = Position::new(right.1, up.1).along(along);
            let mean_square = (real * real + imaginary * imaginary) * 4.0 / (sum * sum);
            count += 1.0;
            size += libm::sqrt(mean_square);
            square += mean_square;
        }
    }
    if count == 0.0 {
        return 1.0;
    }
    let noise = 2.0 * background * squares / (CELL_SECONDS * sum * sum);
    let (size, square) = (size / count, square / count);
    let share = (size * size - 0.5 * noise) / (square - noise);
    // A Gaussian narrow band has √(π/4) = 0.886 (Rayleigh); less is hardly a rhythm.
    if share.is_finite() { libm::sqrt(share.clamp(0.7, 1.0)) } else { 1.0 }
}

#[cfg(test)]
mod irregular_tests;
#[cfg(test)]
mod tests;
