//! A whole plan, played without a browser.

use super::helper::{Help, Helper};
use super::model::Model;
use super::player::Player;
use crate::Sample;
use crate::measure::known;
use crate::task::{
    Command, Known, PAUSE_SECONDS, Past, PauseCause, Phase, Plan, READY_SECONDS, TaskAsk,
    TaskRecord, TaskRun, Way,
};

/// Lets the invented person of `model` play these tasks, polled every `poll_seconds`, and
/// gives the records in order. Between two tasks what is known is worked out from the records so
/// far, as the page does.
#[must_use]
pub fn play(model: Model, seed: u64, tasks: &[TaskAsk], poll_seconds: f64) -> Vec<TaskRecord> {
    play_in(model, seed, tasks, Way::default(), poll_seconds)
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
    let mut room = Room::new(model, seed, poll_seconds);
    for ask in tasks {
        room.task(ask, way);
    }
    room.records
}

/// What came of a plan that was played to its end.
#[derive(Clone, Debug, PartialEq)]
pub struct Played {
    /// The records, those that there were before included.
    pub records: Vec<TaskRecord>,
    /// The plan as it was in the end: nothing is left of it.
    pub plan: Plan,
    /// The longest stretch of tasks without a pause, with the reading before each, seconds.
    pub longest_burst_seconds: f64,
}

/// Lets the invented person of `model` play a plan as the page does: a task, what it changed in
/// the plan, the pause where one is offered, the next one. `records` are what was recorded before
/// the plan was made.
#[must_use]
pub fn play_plan(
    model: Model,
    seed: u64,
    plan: Plan,
    records: Vec<TaskRecord>,
    poll_seconds: f64,
) -> Played {
    let mut room = Room::new(model, seed, poll_seconds);
    room.records = records;
    let mut plan = plan;
    let (mut longest, mut burst_since) = (0.0_f64, room.now());
    while let Some(next) = plan.tasks.first().cloned() {
        if next.after_pause {
            room.pause(PAUSE_SECONDS);
            burst_since = room.now();
        }
        let record = room.task(&next.ask, Way::default()).clone();
        longest = longest.max(room.now() - burst_since);
        plan = plan.after(&record, &Past::of(&room.records));
    }
    Played { records: room.records, plan, longest_burst_seconds: longest }
}

/// A person, a stick and a clock.
struct Room {
    player: Player,
    poll_seconds: f64,
    polls: u64,
    records: Vec<TaskRecord>,
}

impl Room {
    fn new(model: Model, seed: u64, poll_seconds: f64) -> Self {
        let finite = poll_seconds.is_finite();
        let poll_seconds = if finite { poll_seconds.clamp(0.0005, 0.1) } else { 0.004 };
        let mut player = Player::new(model, seed);
        player.advance(0.0, None);
        Self { player, poll_seconds, polls: 0, records: Vec::new() }
    }

    fn now(&self) -> f64 {
        self.polls as f64 * self.poll_seconds
    }

    /// Nothing is asked for some seconds.
    fn pause(&mut self, seconds: f64) {
        let until = self.now() + seconds;
        while self.now() < until {
            self.polls += 1;
            self.player.advance(self.now(), None);
        }
    }

    /// One task from reading it to its end.
    fn task(&mut self, ask: &TaskAsk, way: Way) -> &TaskRecord {
        let now = self.now();
        let first = Sample { arrival_seconds: now, ..self.player.latest().clone() };
        let known = Known { kind: self.player.model().kind(), ..known(&self.records) };
        let run = TaskRun::start(ask.clone(), self.player.axes(), known, now, &first);
        let mut run = run.in_way(way);
        let begin_at = now + READY_SECONDS;
        let mut helper = Helper::new(now);
        while run.view().phase != Phase::Done {
            self.polls += 1;
            let now = self.now();
            let view = run.view();
            let change = self.player.advance(now, Some(&view));
            run.poll(now, change.as_ref());
            if view.phase == Phase::Ready && now >= begin_at {
                run.command(now, Command::Begin);
            }
            if view.paused == Some(PauseCause::Breaths) {
                run.command(now, Command::GoOn);
            }
            if let Some(effort) = self.player.effort(&view) {
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
        self.records.push(run.finish());
        // Just pushed.
        &self.records[self.records.len() - 1]
    }
}
