//! Real traces, thinned to what a drawing can show, and positions as SVG path data.

use crate::task::{TaskKind, TaskRecord};
use crate::{Position, Trace};
use std::fmt::Write;

/// The most traces one picture shows: more is a smudge.
const MOST_TRACES: usize = 40;

/// The paths of the pushes that count, about the centre of their task, thinned to steps of at
/// least 1 % of travel; at most [`MOST_TRACES`], the latest.
#[must_use]
pub fn push_traces(records: &[TaskRecord]) -> Vec<Vec<Position>> {
    let mut traces = Vec::new();
    for record in records.iter().filter(|record| record.ask.kind() == TaskKind::Reach) {
        let whole = Trace::of(&record.recording, record.axes).about(record.known.centre);
        for repetition in record.counting() {
            let push = whole.within(repetition.span);
            traces.push(thinned(push.pieces.iter().map(|piece| piece.at), 0.01));
        }
    }
    let first = traces.len().saturating_sub(MOST_TRACES);
    traces.split_off(first)
}

/// The points at least `step` (share of travel) from the last one kept; first and last stay.
#[must_use]
pub fn thinned(points: impl Iterator<Item = Position>, step: f64) -> Vec<Position> {
    let mut kept: Vec<Position> = Vec::new();
    let mut last_seen = None;
    for point in points {
        last_seen = Some(point);
        if kept.last().is_none_or(|&last| (point - last).radius() >= step) {
            kept.push(point);
        }
    }
    if let Some(point) = last_seen
        && kept.last() != Some(&point)
    {
        kept.push(point);
    }
    kept
}

/// SVG path data of these positions, `scale` units to one full travel, up drawn upwards, with
/// two decimals; `closed` joins the last to the first. Empty for no positions.
#[must_use]
pub fn svg_path(points: &[Position], scale: f64, closed: bool) -> String {
    let mut path = String::with_capacity(points.len() * 14);
    for (index, point) in points.iter().enumerate() {
        let letter = if index == 0 { 'M' } else { 'L' };
        // Writing to a string cannot fail.
        let _ = write!(path, "{letter}{:.2} {:.2}", point.right * scale, -point.up * scale);
    }
    if closed && !points.is_empty() {
        path.push('Z');
    }
    path
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn up_is_drawn_upwards() {
        let points = [Position::ORIGIN, Position::new(0.5, 1.0)];
        assert_eq!(svg_path(&points, 100.0, true), "M0.00 -0.00L50.00 -100.00Z");
        assert_eq!(svg_path(&[], 100.0, true), "");
    }

    #[test]
    fn thinning_keeps_both_ends() {
        let points = (0..=100).map(|k| Position::new(f64::from(k) * 0.001, 0.0));
        let kept = thinned(points, 0.03);
        assert_eq!(kept.first(), Some(&Position::ORIGIN));
        assert_eq!(kept.last().map(|point| point.right), Some(0.1));
        assert!(kept.len() <= 6);
    }
}
