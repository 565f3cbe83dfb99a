//! How steadily the same person holds over ten minutes.

use fitting::invented::{Body, Model, Player};
use fitting::measure::hold::variance_about_place;
use fitting::task::{Command, Known, Prompt, TaskAsk, TaskRun, TaskView};
use fitting::trace::Piece;
use fitting::{Direction, Sample, Span, Trace};

use super::POLL_SECONDS;

/// Seconds of holding at one level, over all its directions.
const LEVEL_SECONDS: f64 = 600.0;
/// The spread is that about the place held over so many seconds.
const ONE_HOLD_SECONDS: f64 = 60.0;
/// Left out until the ring is reached, seconds.
const ARRIVING_SECONDS: f64 = 5.0;

/// One path per direction: the person of `model`, sudden movements left out, holds at `level`
/// in the rings that the task shows to whom `known` is known.
#[must_use]
pub fn held(
    model: &Model,
    seed: u64,
    known: &Known,
    directions: &[Direction],
    level: f64,
    seconds: f64,
) -> Vec<Trace> {
    let model = Model { body: Body { jerks: None, ..model.body.clone() }, ..model.clone() };
    directions
        .iter()
        .enumerate()
        .map(|(index, direction)| {
            let mut player = Player::new(model.clone(), seed.wrapping_add(index as u64));
            player.advance(0.0, None);
            let view = in_ring(player.latest(), &player, known, *direction, level);
            path(&mut player, &view, seconds)
        })
        .collect()
}

/// What the task shows while the person is to stay in the ring.
fn in_ring(
    first: &Sample,
    player: &Player,
    known: &Known,
    direction: Direction,
    level: f64,
) -> TaskView {
    let ask = TaskAsk::Hold {
        directions: vec![direction],
        levels: vec![level],
        rounds: 1,
        seconds: ONE_HOLD_SECONDS,
    };
    let mut run = TaskRun::start(ask, player.axes(), known.clone(), 0.0, first);
    run.command(0.0, Command::Begin);
    TaskView { prompt: Prompt::StayInRing(direction), ..run.view() }
}

fn path(player: &mut Player, view: &TaskView, seconds: f64) -> Trace {
    let axes = player.axes();
    let arriving = (ARRIVING_SECONDS / POLL_SECONDS) as u64;
    let polls = (seconds / POLL_SECONDS) as u64;
    let mut pieces: Vec<Piece> = Vec::new();
    let mut since = ARRIVING_SECONDS;
    let mut at = axes.position(player.latest());
    for poll in 1..=arriving + polls {
        let now = poll as f64 * POLL_SECONDS;
        let Some(change) = player.advance(now, Some(view)) else { continue };
        let arrival = change.arrival_seconds.min(now);
        if arrival > since {
            pieces.push(Piece { span: Span { from_seconds: since, to_seconds: arrival }, at });
            since = arrival;
        }
        at = axes.position(&change);
    }
    let to_seconds = (arriving + polls) as f64 * POLL_SECONDS;
    if to_seconds > since {
        pieces.push(Piece { span: Span { from_seconds: since, to_seconds }, at });
    }
    Trace { pieces }
}

/// Standard deviation about the held place over [`LEVEL_SECONDS`] at one level, both axes
/// pooled, share of travel.
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
        let holds = (each / ONE_HOLD_SECONDS).floor().max(1.0);
        for hold in 0..holds as usize {
            let from_seconds = ARRIVING_SECONDS + each / holds * hold as f64;
            let part = path.within(Span { from_seconds, to_seconds: from_seconds + each / holds });
            sum += part.seconds() * variance_about_place(&part);
            seconds += part.seconds();
        }
    }
    libm::sqrt(sum / seconds.max(1e-9))
}
