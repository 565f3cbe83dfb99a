//! What stands on a researcher's page beyond the lines of an analysis: whole curves, spectra, single
//! ends, and what was left out.

use super::lines::{Lines, name};
use super::{Line, Unit};
use crate::estimate::NotEnough;
use crate::measure::{Measures, RestMeasures};
use crate::suggest::Suggestions;
use crate::task::{Asking, CueKind, MarkReason, Outcome, TaskKind, TaskRecord};

/// What was asked in one task, and what came of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// Its place among the tasks, from 0.
    pub place: usize,
    /// The task.
    pub kind: TaskKind,
    /// In which way it was asked.
    pub asking: Asking,
    /// How directions were cued.
    pub cue: CueKind,
    /// Seconds in which the device was watched.
    pub watched_seconds: f64,
    /// Changes of the device's state.
    pub changes: usize,
    /// Seconds of muscle work, where the task asks for movement.
    pub muscle_seconds: f64,
    /// Repetitions.
    pub repetitions: usize,
    /// Of these, those that count.
    pub counted: usize,
    /// Those that were marked, by reason; reasons of which there are none are left out.
    pub marked: Vec<(MarkReason, usize)>,
    /// Those that went far off what was asked.
    pub queried: usize,
    /// Those that were skipped, asked again or cut short.
    pub not_done: usize,
}

/// What was asked in each task, and what was left out of it.
#[must_use]
pub fn asked(records: &[TaskRecord]) -> Vec<Asked> {
    let of = |(place, record): (usize, &TaskRecord)| {
        let repetitions = &record.repetitions;
        let count = |is: &dyn Fn(&crate::task::Repetition) -> bool| {
            repetitions.iter().filter(|one| is(one)).count()
        };
        let marked = MarkReason::ALL
            .into_iter()
            .map(|reason| (reason, count(&|one| one.mark == Some(reason))))
            .filter(|(_, times)| *times > 0)
            .collect();
        Asked {
            place,
            kind: record.ask.kind(),
            asking: record.asking,
            cue: record.cue,
            watched_seconds: record.recording.watched_seconds(),
            changes: record.recording.samples.len(),
            muscle_seconds: record.muscle_seconds,
            repetitions: repetitions.len(),
            counted: record.counting().count(),
            marked,
            queried: count(&|one| one.is_queried()),
            not_done: count(&|one| one.outcome != Outcome::Done),
        }
    };
    records.iter().enumerate().map(of).collect()
}

/// Curves, spectra and single values, beside [`super::measured`] and [`super::suggested`]: each
/// line's name begins with what it belongs to, as theirs do.
#[must_use]
pub fn more(measures: &Measures, suggestions: &Suggestions) -> Vec<Line> {
    let mut lines = Lines { all: Vec::new() };
    rest(&mut lines, "rest", "", &measures.rest);
    for busy in &measures.busy_rest {
        rest(&mut lines, "busy_rest", &name(busy.meanwhile), &busy.rest);
    }
    if let Ok(free) = &measures.free {
        for direction in &free.directions {
            let about = name(direction.about);
            lines.plain("free.seconds_there", &about, Unit::Seconds, Some(direction.seconds));
            lines.plain("free.visits", &about, Unit::Count, Some(direction.visits as f64));
        }
    }
    for reach in &measures.reach {
        for (push, end) in reach.ends.iter().enumerate() {
            let of = format!("{} {}", name(reach.asked), push + 1);
            lines.plain("reach.end_right", &of, Unit::Travel, Some(end.right));
            lines.plain("reach.end_up", &of, Unit::Travel, Some(end.up));
        }
    }
    if let Ok(map) = &measures.map {
        for (row, performed) in map.matrix.iter().zip(["right", "up"]) {
            for (value, asked) in row.iter().zip(["right", "up"]) {
                let of = format!("{performed} from {asked}");
                lines.plain("map.matrix", &of, Unit::Share, Some(*value));
            }
        }
        lines.plain("map.stretch_along", "", Unit::Degrees, Some(map.stretch_degrees));
        lines.plain("map.turn_without_one", "", Unit::Degrees, map.turn_without_one);
        lines.plain("map.directions", "", Unit::Count, Some(map.directions as f64));
        lines.plain("map.pushes", "", Unit::Count, Some(map.pushes as f64));
    }
    for hold in &measures.hold {
        let of = format!("{}", hold.level);
        lines.plain("hold.radius", &of, Unit::Travel, Some(hold.radius));
        let freedom = Some(hold.degrees_of_freedom);
        lines.plain("hold.degrees_of_freedom", &of, Unit::Factor, freedom);
    }
    if let Ok(rhythm) = &measures.rhythm {
        lines.plain("rhythm.along", "", Unit::Degrees, Some(rhythm.along_degrees));
        lines.plain("rhythm.seconds", "", Unit::Seconds, Some(rhythm.seconds));
    }
    for point in &measures.spectrum {
        let of = format!("{} Hz", point.hertz);
        lines.plain("spectrum.density", &of, Unit::TravelSquaredPerHertz, Some(point.density));
    }
    for hold in &measures.sustained {
        let of = name(hold.asked);
        lines.plain("sustained.level", &of, Unit::Share, Some(hold.level));
        lines.plain("sustained.times", &of, Unit::Count, Some(hold.times as f64));
    }
    for presses in &measures.presses {
        let of = format!("button{}", presses.button);
        let bounces = Some(presses.bounces.len() as f64);
        lines.plain("presses.bounces", &of, Unit::Count, bounces);
        let longest = presses.bounces.last().copied();
        lines.plain("presses.longest_bounce", &of, Unit::Seconds, longest);
        let shortest = Some(presses.shortest_seen_seconds);
        lines.plain("presses.shortest_seen", &of, Unit::Seconds, shortest);
    }
    let gate = measures.device.gate.ok().map(|gate| gate.directions as f64);
    lines.plain("device.gate_directions", "", Unit::Count, gate);
    advice(&mut lines, suggestions);
    lines.all
}

fn rest(lines: &mut Lines, about: &str, of: &str, rest: &Result<RestMeasures, NotEnough>) {
    let Ok(rest) = rest else { return };
    let named = |field: &str| format!("{about}.{field}");
    lines.plain(&named("centre_right"), of, Unit::Travel, Some(rest.centre.right));
    lines.plain(&named("centre_up"), of, Unit::Travel, Some(rest.centre.up));
    lines.plain(&named("sudden_count"), of, Unit::Count, Some(rest.sudden.count as f64));
    for (place, size) in rest.sudden.sizes.iter().enumerate() {
        let of = format!("{of} {}", place + 1);
        lines.plain(&named("sudden_size"), of.trim(), Unit::Travel, Some(*size));
    }
    match &rest.ellipse {
        Ok(ellipse) => {
            let (along, across) = (Some(ellipse.along_deviation), Some(ellipse.across_deviation));
            lines.plain(&named("ellipse_along_deviation"), of, Unit::Travel, along);
            lines.plain(&named("ellipse_across_deviation"), of, Unit::Travel, across);
            lines.add(&named("ellipse_along"), of, Unit::Degrees, &ellipse.along_degrees);
            lines.plain(&named("ellipse_area"), of, Unit::TravelSquared, Some(ellipse.area));
        }
        Err(why) => lines.add(&named("ellipse_area"), of, Unit::TravelSquared, &Err(*why)),
    }
    // Events by radius, with their band.
    let events = if about == "rest" { "events" } else { "busy_events" };
    for point in &rest.curve {
        let of = format!("{of} {:.4}", point.radius);
        let mut line = Line::plain(
            &format!("{events}.per_minute"),
            of.trim(),
            Unit::PerMinute,
            Some(point.per_minute),
        );
        (line.low, line.high) = (Some(point.low), Some(point.high));
        lines.all.push(line);
        let counted = Some(point.counted_per_minute);
        lines.plain(&format!("{events}.counted"), of.trim(), Unit::PerMinute, counted);
        lines.yes(&format!("{events}.from_model"), of.trim(), point.from_model);
        let outside = Some(point.outside_share);
        lines.plain(&format!("{events}.outside"), of.trim(), Unit::Share, outside);
    }
}

fn advice(lines: &mut Lines, suggestions: &Suggestions) {
    if let Ok(advice) = &suggestions.full_throw {
        for (asked, own, left) in &advice.by_direction {
            lines.plain("full_throw.own", &name(asked), Unit::Travel, Some(*own));
            lines.plain("full_throw.left", &name(asked), Unit::Travel, Some(*left));
        }
    }
    if let Ok(advice) = &suggestions.curve {
        lines.plain("curve.at_centre", "", Unit::Travel, Some(advice.at_centre));
        lines.plain("curve.exponent_cost", "", Unit::Output, Some(advice.exponent_cost));
    }
    if let Ok(advice) = &suggestions.smoothing {
        for point in &advice.curve {
            let of = smoothing(point.smoothing);
            lines.plain("smoothing.jitter", &of, Unit::Output, Some(point.jitter));
            lines.plain("smoothing.lag_of", &of, Unit::Seconds, Some(point.lag_seconds));
        }
    }
}

/// A smoothing by its numbers: cutoff in hertz, and by how many it rises with speed.
fn smoothing(of: crate::settings::Smoothing) -> String {
    match of {
        crate::settings::Smoothing::Off => "off".to_owned(),
        crate::settings::Smoothing::OneEuro { cutoff_hertz, speed_coefficient } => {
            format!("{cutoff_hertz:.2} Hz {speed_coefficient:.2}")
        }
    }
}
