//! What free movement with one body part says of it: how often it goes out and comes back, how far,
//! and how well the movement that it makes most repeats.
//!
//! It compares body parts of one person within one visit. It is no reach: nobody was asked for a
//! direction or to go as far as is comfortable.

use super::windows::counted;
use crate::estimate::{Basis, Estimate, Measured, NotEnough};
use crate::position::fold_degrees;
use crate::statistics::counts::poisson_mid_p;
use crate::statistics::distributions::deviation_factors;
use crate::statistics::plain::{mean, mean_interval};
use crate::task::{TaskKind, TaskRecord};
use crate::{Direction, Position, Trace};

/// The least movement from which anything is said, seconds.
const LEAST_SECONDS: f64 = 10.0;
/// A movement goes at least this far, as a share of the farthest that was seen; what is smaller is a
/// wobble on the way.
const LEAST_SHARE: f64 = 0.25;
/// It has come back when it is nearer than this share of its farthest point.
const BACK_SHARE: f64 = 0.5;
/// Movements within so many degrees to either side are one and the same way. Among movements to all
/// sides alike this leaves a spread of a third of their size and more.
const SAME_WAY_DEGREES: f64 = 35.0;
/// Below this spread, as a share of the movement, it is called repeatable: half of all ends lie
/// within about a quarter of the movement from their middle. Our own choice, no source.
pub const REPEATS_WITHIN: f64 = 0.35;
/// Fewer movements are not enough for a spread or a mean.
const LEAST_MOVEMENTS: usize = 3;

/// What free movement with one body part shows.
#[derive(Clone, Debug, PartialEq)]
pub struct SiteMovement {
    /// Seconds used.
    pub seconds: f64,
    /// Movements out and back.
    pub movements: usize,
    /// The same a minute, mid-P Poisson interval.
    pub per_minute: Measured,
    /// By direction in which there were any, in the order of [`Direction::EIGHT`].
    pub directions: Vec<SiteDirection>,
    /// The way it went most, and how well that repeats; nothing where there was no movement.
    pub usual: Option<UsualWay>,
}

/// One direction of it.
#[derive(Clone, Debug, PartialEq)]
pub struct SiteDirection {
    /// The direction its sector is about.
    pub about: Direction,
    /// Movements there.
    pub movements: usize,
    /// How far they went, share of travel: mean and t interval.
    pub size: Measured,
}

/// The way that was gone most.
#[derive(Clone, Debug, PartialEq)]
pub struct UsualWay {
    /// The direction nearest to it.
    pub about: Direction,
    /// Movements that way.
    pub movements: usize,
    /// How far their ends lie apart, as a share of how far they went: the standard deviation in the
    /// plane over the distance of their mean, chi-square interval.
    pub spread: Measured,
}

impl SiteMovement {
    /// Whether the movement repeats, where the recording tells.
    #[must_use]
    pub fn repeats(&self) -> Option<bool> {
        let spread = self.usual.as_ref()?.spread.ok()?;
        if spread.high <= REPEATS_WITHIN {
            Some(true)
        } else {
            (spread.low > REPEATS_WITHIN).then_some(false)
        }
    }
}

/// Measures the free movement of the records of one body part.
///
/// # Errors
/// [`NotEnough`] with less than ten seconds of it.
pub fn site_movement<'a>(
    records: impl IntoIterator<Item = &'a TaskRecord>,
) -> Result<SiteMovement, NotEnough> {
    let mut ends: Vec<Position> = Vec::new();
    let (mut seconds, mut any) = (0.0, false);
    for record in records {
        if record.ask.kind() != TaskKind::FreeMovement {
            continue;
        }
        let path = Trace::of(&record.recording, record.axes)
            .within_all(&counted(record))
            .about(record.known.centre);
        any |= !path.is_empty();
        seconds += path.seconds();
        ends.extend(out_and_back(&path, record.known.quiet_radius));
    }
    if !any {
        return Err(NotEnough::NothingRecorded);
    }
    if seconds < LEAST_SECONDS {
        return Err(NotEnough::Seconds { have: seconds, need: LEAST_SECONDS });
    }
    let movements = ends.len();
    let basis = Basis { seconds, repetitions: movements };
    let minutes = seconds / 60.0;
    let (low, high) = poisson_mid_p(movements as f64);
    let rate = movements as f64 / minutes;
    let per_minute = Estimate::new(rate, low / minutes, high / minutes, basis)
        .ok_or(NotEnough::Seconds { have: seconds, need: LEAST_SECONDS });
    let directions =
        Direction::EIGHT.into_iter().filter_map(|about| direction(&ends, about, seconds)).collect();
    Ok(SiteMovement { seconds, movements, per_minute, directions, usual: usual(&ends, seconds) })
}

/// The farthest point of each movement out and back.
fn out_and_back(path: &Trace, quiet_radius: f64) -> Vec<Position> {
    let farthest = path.pieces.iter().map(|piece| piece.at.radius()).fold(0.0, f64::max);
    let least = (LEAST_SHARE * farthest).max(quiet_radius);
    let mut ends = Vec::new();
    let mut out: Option<Position> = None;
    // How near it came since the last movement: the next begins that much farther out.
    let mut nearest = 0.0_f64;
    for piece in &path.pieces {
        let radius = piece.at.radius();
        match out {
            None => {
                nearest = nearest.min(radius);
                if radius >= nearest + least {
                    out = Some(piece.at);
                }
            }
            Some(end) if radius < BACK_SHARE * end.radius() => {
                ends.push(end);
                (out, nearest) = (None, radius);
            }
            Some(end) if radius > end.radius() => out = Some(piece.at),
            Some(_) => {}
        }
    }
    // One that had not come back when the time was over is none.
    ends
}

/// The direction of eight that is nearest.
fn nearest(at: Position) -> Direction {
    let off = |about: &Direction| fold_degrees(at.degrees() - about.degrees()).abs();
    Direction::EIGHT
        .into_iter()
        .min_by(|one, other| off(one).total_cmp(&off(other)))
        .unwrap_or(Direction::Right)
}

fn direction(ends: &[Position], about: Direction, seconds: f64) -> Option<SiteDirection> {
    let sizes: Vec<f64> =
        ends.iter().filter(|end| nearest(**end) == about).map(|end| end.radius()).collect();
    if sizes.is_empty() {
        return None;
    }
    let movements = sizes.len();
    let size = (movements >= LEAST_MOVEMENTS)
        .then(|| {
            let ((low, high), value) = (mean_interval(&sizes)?, mean(&sizes)?);
            let basis = Basis { seconds, repetitions: movements };
            Estimate::new(value, low.max(0.0), high, basis)
        })
        .flatten();
    let size = size.ok_or(NotEnough::Repetitions { have: movements, need: LEAST_MOVEMENTS });
    Some(SiteDirection { about, movements, size })
}

/// The way with the most movements to either side of it.
fn usual(ends: &[Position], seconds: f64) -> Option<UsualWay> {
    let same_way = |centre: Position| {
        let near = move |end: &&Position| {
            fold_degrees(end.degrees() - centre.degrees()).abs() <= SAME_WAY_DEGREES
        };
        ends.iter().filter(near).copied().collect::<Vec<_>>()
    };
    let mut best: Vec<Position> = Vec::new();
    for end in ends {
        let group = same_way(*end);
        if group.len() > best.len() {
            best = group;
        }
    }
    let movements = best.len();
    let n = movements as f64;
    let sum = best.iter().fold(Position::ORIGIN, |sum, end| sum + *end);
    let middle = sum * (1.0 / n);
    if movements == 0 {
        return None;
    }
    let spread = if movements < LEAST_MOVEMENTS {
        Err(NotEnough::Repetitions { have: movements, need: LEAST_MOVEMENTS })
    } else {
        let squares: f64 = best
            .iter()
            .map(|end| {
                let off = (*end - middle).radius();
                off * off
            })
            .sum();
        let value = libm::sqrt(squares / (n - 1.0)) / middle.radius();
        // Two directions of the plane for each movement but one.
        let (low, high) = deviation_factors(2.0 * (n - 1.0));
        let basis = Basis { seconds, repetitions: movements };
        Estimate::new(value, value * low, value * high, basis).ok_or(NotEnough::Unsettled)
    };
    Some(UsualWay { about: nearest(middle), movements, spread })
}

#[cfg(test)]
mod tests;
