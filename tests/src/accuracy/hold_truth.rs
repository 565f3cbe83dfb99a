//! How steadily the same person holds over ten minutes.

use fitting::invented::Model;
use fitting::measure::hold::variance_about_place;
use fitting::task::{Command, Known, Target, TaskAsk, TaskRun};
use fitting::trace::Piece;
use fitting::{Direction, Sample, Span, StickAxes, Trace};

/// Seconds of holding at one level, over all its directions.
const LEVEL_SECONDS: f64 = 600.0;

/// One path per direction: the person of `model`, sudden movements left out, holds at `level`
/// for `seconds` in the rings that the task shows to whom `known` is known.
#[must_use]
pub fn held(
    model: &Model,
    seed: u64,
    known: &Known,
    directions: &[Direction],
    level: f64,
    seconds: f64,
) -> Vec<Trace> {
    let model = model.clone().without_jerks();
    let mut paths = Vec::new();
    for (index, direction) in directions.iter().enumerate() {
        let Some(target) = ring(known, *direction, level) else { continue };
        let mut path = Trace::default();
        let mut before = None;
        for (now, place) in model.held_path(target, seconds, seed.wrapping_add(index as u64)) {
            add(&mut path, before, now);
            before = Some((now, place));
        }
        add(&mut path, before, seconds);
        paths.push(path);
    }
    paths
}

fn add(path: &mut Trace, before: Option<(f64, fitting::Position)>, to_seconds: f64) {
    if let Some((from_seconds, at)) = before.filter(|before| before.0 < to_seconds) {
        path.pieces.push(Piece { span: Span { from_seconds, to_seconds }, at });
    }
}

/// The ring that the task shows.
#[must_use]
pub fn ring(known: &Known, direction: Direction, level: f64) -> Option<Target> {
    let ask =
        TaskAsk::Hold { directions: vec![direction], levels: vec![level], rounds: 1, seconds: 3.0 };
    let first = Sample { axes: vec![0.0, 0.0], ..Sample::default() };
    let mut run = TaskRun::start(ask, StickAxes::default(), known.clone(), 0.0, &first);
    run.command(0.0, Command::Begin);
    run.view().target
}

/// Standard deviation about the held place over [`LEVEL_SECONDS`] at one level, both axes
/// pooled, share of travel. The held place is the mean of all that time in one direction.
#[must_use]
pub fn deviation(
    model: &Model,
    seed: u64,
    known: &Known,
    directions: &[Direction],
    level: f64,
) -> f64 {
    let each = LEVEL_SECONDS / directions.len().max(1) as f64;
    let (mut sum, mut seconds) = (0.0, 0.0);
    for path in held(model, seed, known, directions, level, each) {
        sum += path.seconds() * variance_about_place(&path);
        seconds += path.seconds();
    }
    libm::sqrt(sum / seconds.max(1e-9))
}
