//! Movement that the person did not intend, while resting ready to play.

use super::events::Sustained;
use super::rest_parts::rest_parts;
use super::rest_spread::Spread;
use super::sudden::{Parted, part};
use super::windows::settled_path;
use super::{RatePoint, RestMeasures, Sudden};
use crate::estimate::{Estimate, Measured, NotEnough};
use crate::statistics::counts::poisson_mid_p;
use crate::statistics::dependence::{autocorrelation, effective_counts};
use crate::statistics::tails::Tail;
use crate::task::{TaskKind, TaskRecord};
use crate::{Position, Span, Trace};

/// The least rest from which anything is said, seconds.
pub const LEAST_REST_SECONDS: f64 = 10.0;
/// The path is read off this often where independence in time is judged.
pub(super) const READ_OFF_SECONDS: f64 = 1.0 / 60.0;
/// Correlation is followed for this long.
const CORRELATION_SECONDS: f64 = 10.0;
/// Peaks the tail is fitted to: about three quarters of the most there are at any level, between
/// these two.
const TAIL_PEAKS: (f64, f64) = (8.0, 40.0);
/// The curve goes on until not even its upper end passes this many a minute.
const CURVE_ENDS_PER_MINUTE: f64 = 0.02;
/// No dead zone beyond this is ever looked at, share of travel.
pub(crate) const FARTHEST_RADIUS: f64 = 0.9;

/// Distances from `centre` along a path.
pub(crate) fn distances(trace: &Trace, centre: Position) -> Vec<(Span, f64)> {
    trace.pieces.iter().map(|piece| (piece.span, (piece.at - centre).radius())).collect()
}

/// Measures the quiet rest of all records. `step` is the stick's step, 0 if unknown.
pub(super) fn rest(records: &[TaskRecord], step: f64) -> Result<RestMeasures, NotEnough> {
    let path = settled_path(records, TaskKind::QuietRest);
    let centre = path.median().ok_or(NotEnough::NothingRecorded)?;
    let mut rest = rest_about(&path, centre, step)?;
    let lacks_centring = records.iter().find_map(|record| record.known.kind.lacks_centring());
    if let Some(lacks) = lacks_centring {
        rest.offset = Err(NotEnough::NotFor(lacks));
    }
    Ok(rest)
}

/// Measures one settled path of rest about `centre`.
pub(crate) fn rest_about(
    path: &Trace,
    centre: Position,
    step: f64,
) -> Result<RestMeasures, NotEnough> {
    let seconds = path.seconds();
    if path.is_empty() {
        return Err(NotEnough::NothingRecorded);
    }
    if seconds < LEAST_REST_SECONDS {
        return Err(NotEnough::Seconds { have: seconds, need: LEAST_REST_SECONDS });
    }
    let spread = Spread::of(path);
    let raw = distances(path, centre);
    let held: Vec<(f64, f64)> = raw.iter().map(|(span, level)| (*level, span.seconds())).collect();
    let sustained = Sustained::of(&raw);
    let Parted { continual, sudden, spans } = part(&sustained, &held, step);
    let (curve, tail) = curve(&continual, &held, step);
    let largest = continual.largest();
    Ok(RestMeasures {
        seconds,
        centre,
        offset: spread.offset(step),
        wander: spread.wander(centre, &held).map(|wander| no_finer_than(wander, step)),
        ellipse: spread.ellipse(),
        curve,
        sudden,
        largest_continual: largest,
        tail,
        parts: rest_parts(path, &spans, step),
    })
}

/// A distance whose ends are half a step away at least: how far inside its code a place is, nobody
/// can see.
fn no_finer_than(distance: Estimate, step: f64) -> Estimate {
    let low = distance.low.min(distance.value - 0.5 * step).max(0.0);
    Estimate { low, high: distance.high.max(distance.value + 0.5 * step), ..distance }
}

/// The distance inside which a settled path of rest stays 95 % of the time, without the rest of
/// the figures and what the stick's step leaves untold.
pub(super) fn wander(path: &Trace) -> Measured {
    let seconds = path.seconds();
    let Some(centre) = path.median() else {
        return Err(NotEnough::NothingRecorded);
    };
    if seconds < LEAST_REST_SECONDS {
        return Err(NotEnough::Seconds { have: seconds, need: LEAST_REST_SECONDS });
    }
    let held: Vec<(f64, f64)> =
        distances(path, centre).iter().map(|(span, level)| (*level, span.seconds())).collect();
    Spread::of(path).wander(centre, &held)
}

/// The tail and the sudden movements of a path of rest about `centre`, without the rest of the
/// figures: quick enough for a slider.
pub(crate) fn tail_and_sudden(path: &Trace, centre: Position, step: f64) -> (Option<Tail>, Sudden) {
    let raw = distances(path, centre);
    let held: Vec<(f64, f64)> = raw.iter().map(|(span, level)| (*level, span.seconds())).collect();
    let Parted { continual, sudden, .. } = part(&Sustained::of(&raw), &held, step);
    let minutes = continual.seconds() / 60.0;
    (fit_tail(&continual, minutes, step), sudden)
}

/// How many independent values a series read off every [`READ_OFF_SECONDS`] holds, for its mean
/// and for its variance.
pub(crate) fn independent_of(stretches: &[Vec<f64>]) -> (f64, f64) {
    let slices: Vec<&[f64]> = stretches.iter().map(Vec::as_slice).collect();
    let n: usize = slices.iter().map(|stretch| stretch.len()).sum();
    let most = (CORRELATION_SECONDS / READ_OFF_SECONDS) as usize;
    effective_counts(&autocorrelation(&slices, most.min(n / 3)), n)
}

/// False movements a minute by radius, and the tail that speaks for the large radii. `held` is
/// the whole rest, distances with their seconds.
fn curve(continual: &Sustained, held: &[(f64, f64)], step: f64) -> (Vec<RatePoint>, Option<Tail>) {
    let minutes = continual.seconds() / 60.0;
    let largest = continual.largest();
    if minutes <= 0.0 {
        return (Vec::new(), None);
    }
    let tail = fit_tail(continual, minutes, step);
    let independent = tail.as_ref().map_or(1.0, |tail| tail.independent);
    let knee = tail.as_ref().map_or(largest.max(step), |tail| tail.threshold);
    let counted = |radius: f64| {
        let count = continual.events_beyond(radius).len() as f64;
        let (low, high) = poisson_mid_p(count * independent);
        RatePoint {
            radius,
            counted_per_minute: count / minutes,
            per_minute: count / minutes,
            low: low / (minutes * independent),
            high: high / (minutes * independent),
            from_model: false,
            outside_share: outside_share(held, radius),
        }
    };
    let mut points: Vec<RatePoint> = (0..24).map(|i| counted(knee * f64::from(i) / 24.0)).collect();
    let Some(tail) = tail else {
        points.extend([knee, knee + step.max(0.001)].map(counted));
        return (points, None);
    };
    let stride = ((largest - knee) / 10.0).max(knee / 40.0).max(0.000_5);
    let mut radius = knee;
    loop {
        let count = continual.events_beyond(radius).len() as f64;
        let rate = tail.rate(radius);
        points.push(RatePoint {
            radius,
            counted_per_minute: count / minutes,
            per_minute: rate.middle,
            low: rate.low,
            high: rate.high,
            from_model: true,
            outside_share: outside_share(held, radius),
        });
        if rate.high < CURVE_ENDS_PER_MINUTE || radius >= FARTHEST_RADIUS || points.len() >= 200 {
            break;
        }
        radius = (radius + stride * (1.0 + 0.04 * points.len() as f64)).min(FARTHEST_RADIUS);
    }
    (points, Some(tail))
}

/// The share of the time that is spent beyond `radius`, 0..=1; 0 when no time passed.
fn outside_share(held: &[(f64, f64)], radius: f64) -> f64 {
    let (mut outside, mut all) = (0.0, 0.0);
    for (level, seconds) in held {
        all += seconds;
        if *level > radius {
            outside += seconds;
        }
    }
    if all > 0.0 { outside / all } else { 0.0 }
}

/// Fits the tail above the level where the number of events has fallen to about three quarters of the
/// most there are at any level: below it runs still melt into each other.
fn fit_tail(continual: &Sustained, minutes: f64, step: f64) -> Option<Tail> {
    const LEVELS: i32 = 48;
    let largest = continual.largest();
    let level = |i: i32| largest * f64::from(i) / f64::from(LEVELS);
    let counts: Vec<usize> = (0..LEVELS).map(|i| continual.events_beyond(level(i)).len()).collect();
    let most = counts.iter().copied().max()?;
    let knee = counts.iter().rposition(|count| *count == most)?;
    let wanted = (0.75 * most as f64).clamp(TAIL_PEAKS.0, TAIL_PEAKS.1);
    let chosen = (knee..counts.len()).find(|&i| counts[i] as f64 <= wanted).unwrap_or(knee);
    let threshold = level(i32::try_from(chosen).ok()?);
    let peaks: Vec<(f64, f64)> = continual
        .events_beyond(threshold)
        .iter()
        .map(|event| (event.span.from_seconds, event.size))
        .collect();
    Tail::fit(&peaks, threshold, minutes, step)
}
