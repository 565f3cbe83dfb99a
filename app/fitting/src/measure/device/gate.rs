//! The stick's opening, as far as pushes touched its end, and full scale that comes before it.

use super::SAME_VALUE;
use crate::estimate::NotEnough;
use crate::measure::GateShape;
use crate::measure::events::Sustained;
use crate::measure::reach::plateau;
use crate::position::fold_degrees;
use crate::statistics::plain;
use crate::task::{TaskKind, TaskRecord};
use crate::{Position, Trace};

/// Pushes whose farthest places agree within this touched something, share of travel; or within
/// that many steps, or standard deviations of the untouched stick.
const AGREE: f64 = 0.004;
const AGREE_STEPS: f64 = 2.0;
const AGREE_DEVIATIONS: f64 = 4.0;
/// So many pushes of one direction must agree, and this share of them. Pushes that end by
/// themselves with a deviation of 0.025 do so in under one direction of a hundred.
const FEWEST_PUSHES: usize = 3;
const AGREEING_SHARE: f64 = 0.66;
/// An axis at the end of its scale counts as an end that was touched from so many pushes on.
const FEWEST_AT_FULL: usize = 2;
/// A direction lies on an axis up to this angle, and off the axes from that on, degrees.
const ON_AXIS_DEGREES: f64 = 12.0;
const OFF_AXIS_DEGREES: f64 = 20.0;
/// Off the axes a round opening that is read too far must stand out by this, share of travel.
const STANDS_OUT: f64 = 0.03;
/// Full scale further before the end than this is not believed, share of travel.
const EARLIEST: f64 = 0.3;

/// An end that pushes of one direction touched.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Touched {
    /// Where, in absolute shares of travel.
    at: Position,
    /// An axis reads exactly its full scale there.
    full: bool,
}

impl Touched {
    /// Degrees off the nearest axis, 0..=45.
    fn off_axis(&self) -> f64 {
        let quarter = self.at.degrees() / 90.0;
        90.0 * (quarter - libm::round(quarter)).abs()
    }
}

/// The ends that pushes touched, one for each of eight sectors in which they did.
///
/// A stick that ends somewhere stops every push at the same place; a person who stops by
/// themselves does not. So an end is touched where the farthest places of at least three pushes,
/// and two thirds of all in that sector, agree within noise and steps; or where an axis reads its
/// full scale in two.
pub(super) fn touched(records: &[TaskRecord], step: f64, noise: f64) -> Vec<Touched> {
    let mut sectors: Vec<Vec<(f64, Position)>> = vec![Vec::new(); 8];
    for record in records.iter().filter(|record| record.ask.kind() == TaskKind::Reach) {
        let path = Trace::of(&record.recording, record.axes);
        for repetition in record.repetitions.iter().filter(|repetition| repetition.counts()) {
            let Some(place) = plateau(&path, Position::ORIGIN, repetition.span) else { continue };
            let push = path.within(repetition.span);
            let distances: Vec<_> =
                push.pieces.iter().map(|piece| (piece.span, piece.at.radius())).collect();
            let farthest = Sustained::of(&distances).largest();
            let sector = (libm::round(place.degrees() / 45.0) as i32).rem_euclid(8) as usize;
            if place.radius() > 2.0 * record.known.quiet_radius
                && let Some(sector) = sectors.get_mut(sector)
            {
                // The plateau's direction, at the farthest distance it sustained.
                let full = at_full(place);
                let at = if full { place } else { place * (farthest / place.radius()) };
                sector.push((farthest, at));
            }
        }
    }
    let agree = AGREE.max(AGREE_STEPS * step).max(AGREE_DEVIATIONS * noise);
    sectors.iter().filter_map(|pushes| end_of(pushes, agree)).collect()
}

fn at_full(at: Position) -> bool {
    let most = at.right.abs().max(at.up.abs());
    (most - 1.0).abs() <= SAME_VALUE
}

fn end_of(pushes: &[(f64, Position)], agree: f64) -> Option<Touched> {
    let farthest = pushes.iter().map(|push| push.0).max_by(f64::total_cmp)?;
    let at_the_end: Vec<Position> =
        pushes.iter().filter(|push| push.0 >= farthest - agree).map(|push| push.1).collect();
    let full: Vec<Position> = pushes.iter().map(|push| push.1).filter(|at| at_full(*at)).collect();
    let agrees = at_the_end.len() >= FEWEST_PUSHES
        && at_the_end.len() as f64 >= AGREEING_SHARE * pushes.len() as f64;
    let ends = if full.len() >= FEWEST_AT_FULL {
        &full
    } else if agrees {
        &at_the_end
    } else {
        return None;
    };
    let radii: Vec<f64> = ends.iter().map(|at| at.radius()).collect();
    let first = ends.first()?.degrees();
    let turns: Vec<f64> = ends.iter().map(|at| fold_degrees(at.degrees() - first)).collect();
    let at = Position::polar(plain::median(&radii)?, first + plain::median(&turns)?);
    Some(Touched { at, full: full.len() >= FEWEST_AT_FULL })
}

/// Mean of |R / R(axis) − 1| over radii at evenly spaced angles: 0 for a circle, 0.1222 for a
/// square; 0 of nothing. `axis` is above 0.
#[must_use]
pub fn out_of_round(radii: impl Iterator<Item = f64>, axis: f64) -> f64 {
    let (mut sum, mut count) = (0.0, 0.0);
    for radius in radii {
        sum += (radius / axis - 1.0).abs();
        count += 1.0;
    }
    if count > 0.0 { sum / count } else { 0.0 }
}

/// Distance of the outline |x|^n + |y|^n = 1 (a superellipse: a circle for n of 2, a square
/// without end, a diamond for 1) at `degrees`, by `one_nth` = 1/n in 0..=1.
#[must_use]
pub fn superellipse(degrees: f64, one_nth: f64) -> f64 {
    let (sin, cos) = libm::sincos(degrees.to_radians());
    let (more, less) = if sin.abs() > cos.abs() { (sin, cos) } else { (cos, sin) };
    let (more, share) = (more.abs(), (less / more).abs());
    let n = 1.0 / one_nth.max(1e-12);
    libm::pow(1.0 + libm::pow(share, n), -1.0 / n) / more
}

/// The superellipse that is at 1 on the axes and passes `radius` at `degrees`: its 1/n. Radii
/// beyond a square or inside a diamond are held to these.
fn superellipse_through(degrees: f64, radius: f64) -> f64 {
    let (mut square, mut diamond) = (0.0, 1.0);
    for _ in 0..50 {
        let middle = 0.5 * (square + diamond);
        if superellipse(degrees, middle) > radius { square = middle } else { diamond = middle }
    }
    0.5 * (square + diamond)
}

/// The shape of the opening.
///
/// Pushes touch it in some directions only, so each end off the axes is taken for a point of a
/// superellipse through the mean end on the axes, and the mean of |R / R(axis) − 1| is taken over
/// the whole outline of each. An opening with eight corners that are pushed into looks round.
/// Needs an end on an axis and one at least 20 degrees off all.
pub(super) fn shape(touched: &[Touched]) -> Result<GateShape, NotEnough> {
    if touched.is_empty() {
        return Err(NotEnough::NotDone);
    }
    let radii = |on: bool| -> Vec<(f64, f64)> {
        touched
            .iter()
            .filter(|end| {
                if on {
                    end.off_axis() <= ON_AXIS_DEGREES
                } else {
                    end.off_axis() >= OFF_AXIS_DEGREES
                }
            })
            .map(|end| (end.off_axis(), end.at.radius()))
            .collect()
    };
    let (on, off) = (radii(true), radii(false));
    let need = NotEnough::Repetitions { have: touched.len(), need: touched.len() + 1 };
    let axis = plain::mean(&on.iter().map(|end| end.1).collect::<Vec<_>>()).ok_or(need)?;
    let indices: Vec<f64> = off
        .iter()
        .map(|(degrees, radius)| {
            let one_nth = superellipse_through(*degrees, radius / axis);
            out_of_round((0..360).map(|i| superellipse(f64::from(i) / 4.0 + 0.125, one_nth)), 1.0)
        })
        .collect();
    let radius = plain::mean(&touched.iter().map(|end| end.at.radius()).collect::<Vec<_>>());
    let (Some(radius), Some(index)) = (radius, plain::mean(&indices)) else { return Err(need) };
    Ok(GateShape { radius, out_of_round: index, directions: touched.len() })
}

/// How far before the stick's end its axes read full scale, share of travel to each side, if they
/// do.
///
/// One axis at full scale looks the same whether the stick stands at its end or is read too far.
/// Off the axes it does not: a round opening whose values are stretched and held at full scale
/// ends there beyond a distance of 1 with neither axis at full scale. So this needs ends touched
/// on an axis, at full scale, and off the axes, not at full scale, and takes the opening for
/// round; one with eight corners looks the same. `hidden` says that as much is cut out of the
/// middle as at the ends (observed, Chromium 156 on Linux: a sixteenth of the range each).
pub(super) fn early_full(touched: &[Touched], hidden: bool) -> Option<f64> {
    let full_on_axis = touched.iter().any(|end| end.full && end.off_axis() <= ON_AXIS_DEGREES);
    let found: Vec<f64> =
        touched
            .iter()
            .filter(|end| {
                full_on_axis
                    && !end.full
                    && end.off_axis() >= OFF_AXIS_DEGREES
                    && end.at.radius() > 1.0 + STANDS_OUT
            })
            .filter_map(|end| {
                if hidden { cut_from_both(end.at) } else { Some(1.0 - 1.0 / end.at.radius()) }
            })
            .filter(|early| *early <= EARLIEST)
            .collect();
    plain::median(&found)
}

/// What was cut from the middle and from the end of both axes when the end of a round opening
/// reads `at`: the share e with |(at (1 − 2 e) + e)| = 1; `None` when there is none up to
/// [`EARLIEST`].
fn cut_from_both(at: Position) -> Option<f64> {
    let beyond = |cut: f64| {
        let was = |value: f64| value.abs() * (1.0 - 2.0 * cut) + cut;
        Position::new(was(at.right), was(at.up)).radius() - 1.0
    };
    let (mut low, mut high) = (0.0, EARLIEST);
    if beyond(low) <= 0.0 || beyond(high) > 0.0 {
        return None;
    }
    for _ in 0..50 {
        let middle = 0.5 * (low + high);
        if beyond(middle) > 0.0 { low = middle } else { high = middle }
    }
    Some(0.5 * (low + high))
}
