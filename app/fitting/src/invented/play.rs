//! A whole plan, played without a browser.

use super::model::Model;
use super::player::Player;
use crate::Sample;
use crate::measure::known;
use crate::task::{
    Command, Known, PauseCause, Phase, Plan, READY_SECONDS, TaskAsk, TaskKind, TaskRecord, TaskRun,
    Way,
};

/// A helper who sees that nothing comes of a repetition goes on to the next one after this long,
/// seconds: of a movement, and of a press.
const HELPER_SECONDS: f64 = 60.0;
const PRESS_HELPER_SECONDS: f64 = 6.0;

/// Lets the invented person of `model` play the whole `plan`, polled every `poll_seconds`, and
/// gives the records in order. Between two tasks what is known is worked out from the records so
/// far, as the page does.
#[must_use]
pub fn play(model: Model, seed: u64, plan: &Plan, poll_seconds: f64) -> Vec<TaskRecord> {
    play_in(model, seed, &plan.tasks, Way::default(), poll_seconds)
}

/// The same of these tasks, each asked in this way, as far as it applies.
#[must_use]
pub fn play_in(
    model: Model,
    seed: u64,
    tasks: &[TaskAsk],
    way: Way,
    poll_seconds: f64,
) -> Vec<TaskRecord> {
    let poll = if poll_seconds.is_finite() { poll_seconds.clamp(0.0005, 0.1) } else { 0.004 };
    let mut player = Player::new(model, seed);
    let mut polls: u64 = 0;
    player.advance(0.0, None);
    let mut records: Vec<TaskRecord> = Vec::new();
    for ask in tasks {
        let now = polls as f64 * poll;
        let first = Sample { arrival_seconds: now, ..player.latest().clone() };
        let known = Known { kind: player.model().kind(), ..known(&records) };
        let run = TaskRun::start(ask.clone(), player.axes(), known, now, &first);
        let mut run = run.in_way(way);
        let begin_at = now + READY_SECONDS;
        let mut step = (0, now);
        while run.view().phase != Phase::Done {
            polls += 1;
            let now = polls as f64 * poll;
            let view = run.view();
            let change = player.advance(now, Some(&view));
            run.poll(now, change.as_ref());
            if view.phase == Phase::Ready && now >= begin_at {
                run.command(now, Command::Begin);
            }
            if view.paused == Some(PauseCause::Breaths) {
                run.command(now, Command::GoOn);
            }
            if let Some(effort) = player.effort(&view) {
                run.command(now, Command::Effort(effort));
            }
            if view.step != step.0 {
                step = (view.step, now);
            }
            let helper = match view.kind {
                TaskKind::Presses => PRESS_HELPER_SECONDS,
                _ => HELPER_SECONDS,
            };
            if now - step.1 > helper {
                run.command(now, Command::Next);
                step.1 = now;
            }
        }
        records.push(run.finish());
    }
    records
}
