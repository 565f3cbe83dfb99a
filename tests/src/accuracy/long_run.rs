//! One task of a model, played alone: many repetitions are the truth of a few.

use fitting::Sample;
use fitting::invented::{Help, Helper, Model, Player};
use fitting::task::{Command, Known, Phase, TaskAsk, TaskRecord, TaskRun};

use super::POLL_SECONDS;

/// The person waits for so long before the task begins, seconds.
const READY_SECONDS: f64 = 2.0;
/// No task is played for longer than this, seconds.
const LONGEST_SECONDS: f64 = 2.0 * 3600.0;

/// The record of one task, played by a person of whom `known` is known already.
#[must_use]
pub fn record_of(model: &Model, seed: u64, ask: TaskAsk, known: Known) -> TaskRecord {
    let mut player = Player::new(model.clone(), seed);
    player.advance(0.0, None);
    let first = Sample { arrival_seconds: 0.0, ..player.latest().clone() };
    let mut run = TaskRun::start(ask, player.axes(), known, 0.0, &first);
    let mut helper = Helper::new(0.0);
    let most = (LONGEST_SECONDS / POLL_SECONDS) as u64;
    for poll in 1..most {
        let now = poll as f64 * POLL_SECONDS;
        let view = run.view();
        if view.phase == Phase::Done {
            break;
        }
        let change = player.advance(now, Some(&view));
        run.poll(now, change.as_ref());
        if view.phase == Phase::Ready && now >= READY_SECONDS {
            run.command(now, Command::Begin);
        }
        if let Some(effort) = player.effort(&view) {
            run.command(now, Command::Effort(effort));
        }
        match helper.watches(&view, now) {
            Help::Waits => {}
            Help::GoesOn => run.command(now, Command::Next),
            Help::EndsTask => {
                run.command(now, Command::Next);
                break;
            }
        }
    }
    run.finish()
}
