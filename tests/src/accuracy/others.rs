//! Figures of the smaller tasks beside their truths, and what is right or wrong.

use fitting::invented::{Model, Resting, System};
use fitting::measure::device::quantisation_deviation;
use fitting::measure::{BusyRest, Measures};
use fitting::task::{TaskAsk, TaskKind, TaskRecord};
use fitting::trace::Piece;
use fitting::{Direction, Position, Trace};

use super::dead_zone::Rested;
use super::figure::{Case, Figure};
use super::long_run::record_of;
use super::map_truth::true_map;
use super::person::{Exact, direction_code};
use super::rest_truth::Hour;
use super::twin::MeanEnd;

/// The figures of the smaller tasks, added to `cases`; `hour` is an hour of rest without sudden
/// movements.
pub fn others(model: &Model, seed: u64, rested: &Rested, hour: &Hour, cases: &mut Vec<Case>) {
    let Rested { records, measures, .. } = rested;
    device(model, seed, rested, cases);
    for busy in &measures.busy_rest {
        busy_rest(model, seed, busy, cases);
    }
    ways_back(model, records, measures, hour, cases);
    sustained(model, seed, records, measures, cases);
    for told in &measures.presses {
        let Some(truth) = model.true_press(told.button) else { continue };
        let of = format!("button {}", told.button);
        let mut add = |figure, truth, told| {
            cases.push(Case { figure, of: of.clone(), truth, told });
        };
        // The reaction ends with the next report and the browser's next look.
        let reporting = model.stick.reporting;
        let late = 0.5 * (reporting.seconds * (1.0 + reporting.jitter) + reporting.browser_seconds);
        add(Figure::PressReaction, truth.reaction_seconds + late, told.reaction_seconds);
        add(Figure::PressLength, truth.length_seconds, told.length_seconds);
        add(Figure::PressLong, truth.long_seconds, told.long_seconds);
        add(Figure::PressGap, truth.gap_seconds, told.gap_seconds);
        add(Figure::UnwantedRate, truth.unwanted_per_minute, told.unwanted_per_minute);
    }
}

/// A way back is over within this share of it: control engineering's usual band.
const BAND: f64 = 0.05;
const MOST_BAND: f64 = 0.5;

/// One step of the stick, share of travel.
fn step(model: &Model) -> f64 {
    2.0 / (libm::exp2(f64::from(model.stick.bits)) - 1.0)
}

fn device(model: &Model, seed: u64, rested: &Rested, cases: &mut Vec<Case>) {
    let Rested { records, measures, .. } = rested;
    let device = &measures.device;
    // Behind a system that hides the middle the untouched stick says nothing.
    if model.stick.system != System::AsIs {
        return;
    }
    let step = step(model);
    // Where the noise does not reach from one step to the next, rounding makes of it what the
    // place between two steps happens to be.
    if model.stick.noise > 0.5 * step {
        let truth = libm::hypot(model.stick.noise, quantisation_deviation(step));
        cases.push(Case::one(Figure::DeviceNoise, truth, device.noise));
    }
    // A centre that drifts does so another way in every visit.
    if model.stick.drift == 0.0 {
        cases.push(Case::one(Figure::DeviceDrift, 0.0, device.drift_per_minute));
    }
    // With play the reading stays behind as well, by as much as wander does not shake out of it.
    if model.stick.hysteresis == 0.0 {
        let reach = records.iter().find(|record| record.ask.kind() == TaskKind::Reach);
        if let Some(reach) = reach {
            let truth = model.true_sag(reach.known.quiet_radius, seed);
            cases.push(Case::one(Figure::Sag, truth, device.sag));
        }
    }
}

fn busy_rest(model: &Model, seed: u64, busy: &BusyRest, cases: &mut Vec<Case>) {
    let rest = busy.rest.as_ref();
    let both = [model.body.jerks, model.body.busy.startles];
    if both.iter().flatten().any(|jerks| jerks.per_minute > 0.0) {
        let beyond = rest.map_or(0.0, |rest| rest.sudden.beyond);
        let sudden =
            both.iter().flatten().map(|jerks| model.true_rate_beyond(*jerks, beyond)).sum();
        let told = rest.map_or_else(|why| Err(*why), |rest| rest.sudden.per_minute);
        cases.push(Case::one(Figure::BusySuddenRate, sudden, told));
    } else {
        let hour = Hour::played(model, seed, Resting::Busy);
        let told = rest.map_or_else(|why| Err(*why), |rest| rest.wander);
        cases.push(Case::one(Figure::BusyWander, hour.inside(hour.centre(), 0.95), told));
    }
}

fn ways_back(
    model: &Model,
    records: &[TaskRecord],
    measures: &Measures,
    hour: &Hour,
    cases: &mut Vec<Case>,
) {
    let Some(record) = records.iter().find(|record| record.ask.kind() == TaskKind::Return) else {
        return;
    };
    let TaskAsk::Return { level, .. } = &record.ask else { return };
    // Within how far it strays at rest a stick counts as at rest, however short the way was.
    let strays = hour.inside(hour.centre(), 0.95).max(2.0 * step(model));
    for told in &measures.returns {
        // The ring lay where earlier pushes had ended.
        let end = record.known.reach.iter().find(|known| known.asked == told.asked);
        let whole = model.true_reach(told.asked).max(1e-6);
        let level = level * end.map_or(1.0, |known| known.end.radius() / whole);
        let Some(truth) = model.true_return(told.asked, level, BAND, strays) else { continue };
        // Where the rest strays for half of the way nobody can see a way back.
        if strays >= MOST_BAND * truth.way {
            continue;
        }
        let of = direction_code(told.asked);
        for (figure, truth, told) in [
            (Figure::ReturnSeconds, truth.seconds, told.seconds),
            (Figure::ReturnMoving, truth.moving_seconds, told.moving_seconds),
            (Figure::ReturnOvershoot, truth.overshoot, told.overshoot),
            (Figure::ReturnShort, truth.rests_short, told.rests_short),
        ] {
            cases.push(Case { figure, of: of.clone(), truth, told });
        }
    }
}

/// Longer holds of other seeds whose mean is the truth of one.
const SUSTAINED_RUNS: u64 = 16;

fn sustained(
    model: &Model,
    seed: u64,
    records: &[TaskRecord],
    measures: &Measures,
    cases: &mut Vec<Case>,
) {
    let Some(record) = records.iter().find(|record| record.ask.kind() == TaskKind::Sustained)
    else {
        return;
    };
    // The same task of as many other visits, with the means over them for the truth.
    let mut sums: Vec<(Direction, f64, f64, f64)> = Vec::new();
    for run in 0..SUSTAINED_RUNS {
        let seed = seed.wrapping_add(run);
        let other = record_of(model, seed, record.ask.clone(), record.known.clone());
        let centre = model.true_rest();
        for repetition in other.repetitions.iter().filter(|one| one.counts()) {
            let Some(asked) = repetition.direction else { continue };
            let path = Trace::of(&other.recording, other.axes).within(repetition.span);
            let Some((mean, slope)) = line(&path, centre) else { continue };
            match sums.iter_mut().find(|sum| sum.0 == asked) {
                Some(sum) => *sum = (asked, sum.1 + 1.0, sum.2 + mean, sum.3 + slope),
                None => sums.push((asked, 1.0, mean, slope)),
            }
        }
    }
    for told in &measures.sustained {
        let Some(sum) = sums.iter().find(|sum| sum.0 == told.asked) else { continue };
        let of = direction_code(told.asked);
        for (figure, truth, told) in [
            (Figure::SustainedKept, sum.2 / sum.1, told.kept),
            (Figure::SustainedDrift, sum.3 / sum.1, told.drift_per_minute),
        ] {
            cases.push(Case { figure, of: of.clone(), truth, told });
        }
    }
}

/// Mean distance from `centre` and its slope a minute, by plain least squares over time.
fn line(path: &Trace, centre: Position) -> Option<(f64, f64)> {
    let middle = |piece: &Piece| 0.5 * (piece.span.from_seconds + piece.span.to_seconds);
    let over = |of: &dyn Fn(&Piece) -> f64| {
        path.pieces.iter().map(|piece| of(piece) * piece.span.seconds()).sum::<f64>()
    };
    let seconds = path.seconds();
    if seconds <= 0.0 {
        return None;
    }
    let distance = |piece: &Piece| (piece.at - centre).radius();
    let (when, mean) = (over(&middle) / seconds, over(&distance) / seconds);
    let square = over(&|piece| (middle(piece) - when) * (middle(piece) - when));
    let product = over(&|piece| (middle(piece) - when) * (distance(piece) - mean));
    (square > 0.0).then(|| (mean, 60.0 * product / square))
}

/// What is known exactly or at the stop.
#[must_use]
pub fn exact(model: &Model, measures: &Measures, ends: &[MeanEnd]) -> Vec<Exact> {
    let mut found = Vec::new();
    let mut say = |what, right| found.push(Exact { what, right });
    let device = &measures.device;
    if let Ok(centre) = device.centre {
        let truth = model.true_centre();
        // A side is meant only where the centre is off by more than a step.
        let step = 2.0 / libm::exp2(f64::from(model.stick.bits));
        for (told, truth) in [(centre.right, truth.right), (centre.up, truth.up)] {
            if truth.abs() > step {
                say("side of the centre", told * truth > 0.0);
            }
        }
    }
    if let (Ok(bits), System::AsIs) = (device.bits, model.stick.system) {
        say("bits of an axis", (bits - f64::from(model.stick.bits)).abs() < 0.5);
    }
    let hidden = model.true_hidden_middle().is_some();
    say("hidden middle", (device.hidden_middle.is_some() || device.still_middle) == hidden);
    if let (Ok(map), Some(truth)) = (&measures.map, true_map(ends)) {
        let told = (map.swapped, map.right_inverted, map.up_inverted);
        let right = (truth.swapped, truth.right_inverted, truth.up_inverted);
        say("swapped and inverted axes", told == right);
    }
    if let (Ok(rest), None) = (&measures.rest, model.body.jerks) {
        say("no sudden movement told where there is none", rest.sudden.count == 0);
    }
    found
}
