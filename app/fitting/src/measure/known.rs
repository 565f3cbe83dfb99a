//! What earlier records tell later tasks.

use super::events::Sustained;
use super::pushes::of_reach;
use super::reach::{mean_place, plateaus};
use super::rest::distances;
use super::windows::settled_path;
use crate::Position;
use crate::statistics::weighted;
use crate::task::{Known, KnownReach, TaskKind, TaskRecord};

/// The quiet radius is this many times what the rest stays inside for 99 % of the time.
const QUIET_MARGIN: f64 = 1.5;
/// Bounds of the quiet radius, shares of travel.
const QUIET_RADIUS: (f64, f64) = (0.03, 0.3);
/// The least settled path that says where the centre is, seconds.
const LEAST_SECONDS: f64 = 1.0;

/// The centre of the visit: the median of the rest over time, else of hands off; `None` without
/// a second of either.
#[must_use]
pub fn visit_centre(records: &[TaskRecord]) -> Option<Position> {
    [TaskKind::QuietRest, TaskKind::HandsOff]
        .iter()
        .map(|kind| settled_path(records, *kind))
        .find(|path| path.seconds() >= LEAST_SECONDS)
        .and_then(|path| path.median())
}

/// What earlier records tell later tasks: where the stick rests, from where on it counts as
/// pushed (1.5 times what the rest sustains for 99 % of the time, held to 0.03..=0.3), and where
/// comfortable pushes ended.
#[must_use]
pub fn known(records: &[TaskRecord]) -> Known {
    let defaults = Known::default();
    let visit_centre = visit_centre(records);
    let rest = settled_path(records, TaskKind::QuietRest);
    let quiet_radius = visit_centre
        .filter(|_| rest.seconds() >= LEAST_SECONDS)
        .and_then(|centre| {
            let held: Vec<(f64, f64)> = Sustained::of(&distances(&rest, centre))
                .pieces
                .iter()
                .map(|(span, level)| (*level, span.seconds()))
                .collect();
            weighted::quantile(&held, 0.99)
        })
        .map_or(defaults.quiet_radius, |inside| {
            (QUIET_MARGIN * inside).clamp(QUIET_RADIUS.0, QUIET_RADIUS.1)
        });
    let reach = plateaus(&of_reach(records), |record| visit_centre.unwrap_or(record.known.centre))
        .iter()
        .map(|(asked, ends)| KnownReach { asked: *asked, end: mean_place(ends) })
        .collect();
    let kind = records.last().map_or(defaults.kind, |record| record.known.kind);
    Known { centre: visit_centre.unwrap_or(defaults.centre), quiet_radius, reach, kind }
}
