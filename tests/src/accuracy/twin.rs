//! The same person without noise: where pushes truly ended, and where they end on the average.

use fitting::invented::{Body, Gate, Model, Stick, System, play};
use fitting::measure::reach::plateau;
use fitting::statistics::distributions::normal_quantile;
use fitting::task::{Plan, TaskAsk, TaskKind};
use fitting::{Direction, Position, Trace};

use super::POLL_SECONDS;

/// Rests are cut to this in a twin's plan, seconds: nothing in them tires.
const SHORT_REST_SECONDS: f64 = 3.0;
/// Where the distribution of a push is read off: so many lengths by so many angles, each at the
/// middle of an equal share.
const LENGTHS: usize = 31;
const ANGLES: usize = 15;
/// A push is never longer or shorter than usual by more than this share.
const MOST_SPREAD: f64 = 0.3;

/// The person of `model` who moves just as meant, on the same stick without noise.
fn still(model: &Model) -> Model {
    Model {
        body: Body { wander: 0.0, growth: 0.0, rhythm: None, jerks: None, ..model.body.clone() },
        stick: Stick { noise: 0.0, ..model.stick.clone() },
        ..model.clone()
    }
}

/// The plan up to its last reach task, with short rests.
fn up_to_reach(plan: &Plan) -> Plan {
    let last = plan.tasks.iter().rposition(|ask| ask.kind() == TaskKind::Reach);
    let tasks = plan.tasks[..last.map_or(0, |last| last + 1)]
        .iter()
        .map(|ask| match ask {
            TaskAsk::HandsOff { .. } => TaskAsk::HandsOff { seconds: SHORT_REST_SECONDS },
            TaskAsk::QuietRest { .. } => TaskAsk::QuietRest { seconds: SHORT_REST_SECONDS },
            TaskAsk::BusyRest { meanwhile, .. } => {
                TaskAsk::BusyRest { seconds: SHORT_REST_SECONDS, meanwhile: *meanwhile }
            }
            other => other.clone(),
        })
        .collect();
    Plan::of(plan.minutes, tasks)
}

/// Ends of the pushes of all reach tasks from `centre`, by direction in the order in which they
/// were made.
fn ends(model: Model, seed: u64, plan: &Plan, centre: Position) -> Vec<(Direction, Position)> {
    let mut found = Vec::new();
    for record in play(model, seed, &up_to_reach(plan), POLL_SECONDS) {
        if record.ask.kind() != TaskKind::Reach {
            continue;
        }
        let path = Trace::of(&record.recording, record.axes);
        for repetition in record.repetitions.iter().filter(|one| one.counts()) {
            if let (Some(asked), Some(end)) =
                (repetition.direction, plateau(&path, centre, repetition.span))
            {
                found.push((asked, end));
            }
        }
    }
    found
}

/// The ends of the very pushes that the person of this seed makes, without noise: what the
/// oracle averages.
#[must_use]
pub fn true_ends(model: &Model, seed: u64, plan: &Plan) -> Vec<(Direction, Position)> {
    ends(still(model), seed, plan, model.true_centre())
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
    /// Mean angle performed less the angle asked, degrees.
    pub degrees_off: f64,
    /// Standard deviation of the distance from push to push, share of travel.
    pub deviation: f64,
}

/// The mean ends of all directions that the plan asks for. The distance of each push before the
/// stick's own end comes from a twin whose pushes do not vary, on a stick without end; what
/// varies, and the stick, is laid over it exactly.
#[must_use]
pub fn mean_ends(model: &Model, seed: u64, plan: &Plan) -> Vec<MeanEnd> {
    let twin = still(model);
    let even = Model {
        body: Body { reach_spread: 0.0, angle_spread_degrees: 0.0, ..twin.body.clone() },
        stick: Stick {
            bits: 16,
            centre: Position::ORIGIN,
            gate: Gate::Round(10.0),
            system: System::AsIs,
            ..twin.stick.clone()
        },
        turn_degrees: 0.0,
        ..twin
    };
    let made = ends(even, seed, plan, Position::ORIGIN);
    Direction::EIGHT
        .iter()
        .filter_map(|asked| {
            let lengths: Vec<f64> =
                made.iter().filter(|end| end.0 == *asked).map(|end| end.1.radius()).collect();
            (!lengths.is_empty()).then(|| mean_end(model, *asked, &lengths))
        })
        .collect()
}

fn mean_end(model: &Model, asked: Direction, lengths: &[f64]) -> MeanEnd {
    let share = |index: usize, of: usize| normal_quantile((index as f64 + 0.5) / of as f64);
    let centre = model.true_centre();
    let (mut reach, mut square, mut end, mut count) = (0.0, 0.0, Position::ORIGIN, 0.0);
    for length in lengths {
        for step in 0..LENGTHS {
            let spread =
                (model.body.reach_spread * share(step, LENGTHS)).clamp(-MOST_SPREAD, MOST_SPREAD);
            for angle in 0..ANGLES {
                let degrees = asked.degrees()
                    + model.turn_degrees
                    + model.body.angle_spread_degrees * share(angle, ANGLES);
                let at =
                    model.stick.shows(Position::polar(length * (1.0 + spread), degrees)) - centre;
                reach += at.radius();
                square += at.radius() * at.radius();
                end = end + at;
                count += 1.0;
            }
        }
    }
    let (reach, end) = (reach / count, end * (1.0 / count));
    MeanEnd {
        asked,
        reach,
        end,
        degrees_off: fitting::position::fold_degrees(end.degrees() - asked.degrees()),
        deviation: libm::sqrt((square / count - reach * reach).max(0.0)),
    }
}
