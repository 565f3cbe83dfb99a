//! Where pushes truly ended, and where they end on the average.

use fitting::invented::{Body, Busy, Model, Stick, play};
use fitting::measure::reach::plateau;
use fitting::position::fold_degrees;
use fitting::task::{TaskAsk, TaskKind, TaskRecord};
use fitting::{Direction, Position, Trace};

use super::POLL_SECONDS;

/// Rests are cut to this in a twin's plan, seconds: nothing in them tires.
const SHORT_REST_SECONDS: f64 = 3.0;

/// The person of `model` who moves just as meant, on the same stick without noise: the same seed
/// means the same pushes.
fn still(model: &Model) -> Model {
    let body = Body {
        wander: 0.0,
        growth: 0.0,
        rhythm: None,
        jerks: None,
        breathing: None,
        posture: None,
        busy: Busy { factor: 1.0, startles: None },
        ..model.body.clone()
    };
    Model { body, stick: Stick { noise: 0.0, ..model.stick.clone() }, ..model.clone() }
}

/// The plan up to its last reach task, with short rests.
fn up_to_reach(plan: &[TaskAsk]) -> Vec<TaskAsk> {
    let last = plan.iter().rposition(|ask| ask.kind() == TaskKind::Reach);
    plan[..last.map_or(0, |last| last + 1)]
        .iter()
        .map(|ask| match ask {
            TaskAsk::HandsOff { .. } => TaskAsk::HandsOff { seconds: SHORT_REST_SECONDS },
            TaskAsk::QuietRest { .. } => TaskAsk::QuietRest { seconds: SHORT_REST_SECONDS },
            TaskAsk::BusyRest { meanwhile, .. } => {
                TaskAsk::BusyRest { seconds: SHORT_REST_SECONDS, meanwhile: *meanwhile }
            }
            other => other.clone(),
        })
        .collect()
}

/// What the person of this seed means to do up to the last reach task.
#[must_use]
pub fn meant(model: &Model, seed: u64, plan: &[TaskAsk]) -> Vec<TaskRecord> {
    play(still(model), seed, &up_to_reach(plan), POLL_SECONDS)
}

/// The ends of the very pushes that the person makes, without noise, from what is [`meant`]: what the
/// oracle averages. By direction, in the order in which they were made.
#[must_use]
pub fn true_ends(model: &Model, meant: &[TaskRecord]) -> Vec<(Direction, Position)> {
    let mut found = Vec::new();
    for record in meant {
        if record.ask.kind() != TaskKind::Reach {
            continue;
        }
        let path = Trace::of(&record.recording, record.axes);
        for repetition in record.repetitions.iter().filter(|one| one.counts()) {
            if let (Some(asked), Some(end)) =
                (repetition.direction, plateau(&path, model.true_rest(), repetition.span))
            {
                found.push((asked, end));
            }
        }
    }
    found
}

/// Where the pushes of a visit end in one direction, on the average over all that might be made.
#[derive(Clone, Copy, Debug)]
pub struct MeanEnd {
    /// What was asked.
    pub asked: Direction,
    /// Mean distance from the centre, share of travel.
    pub reach: f64,
    /// Mean end, from the centre.
    pub end: Position,
    /// Its angle less the angle asked, degrees.
    pub degrees_off: f64,
}

/// The mean ends of all directions that the records ask for. The person is as tired as in the
/// middle of the task.
#[must_use]
pub fn mean_ends(model: &Model, records: &[TaskRecord]) -> Vec<MeanEnd> {
    let mut worked = 0.0;
    let mut found: Vec<MeanEnd> = Vec::new();
    for record in records {
        if let TaskAsk::Reach { directions, .. } = &record.ask {
            let tired = model.clone().after_work(worked + 0.5 * record.muscle_seconds);
            for asked in directions {
                if found.iter().any(|end| end.asked == *asked) {
                    continue;
                }
                let end = tired.true_end(*asked);
                let reach = tired.true_reach(*asked);
                found.push(MeanEnd {
                    asked: *asked,
                    reach,
                    end,
                    degrees_off: fold_degrees(end.degrees() - asked.degrees()),
                });
            }
        }
        worked += record.muscle_seconds;
    }
    found
}
