//! The running task: fed by the input, outside the reactive graph; seen through one signal.

use super::App;
use crate::errors::Trouble;
use crate::input::Input;
use crate::store::now_epoch_ms;
use fitting::Sample;
use fitting::task::{
    Command, PauseCause, Phase, StopButton, TaskAsk, TaskKind, TaskRecord, TaskRun, TaskView, Way,
};
use leptos::prelude::*;

/// How often the signal of a running task moves at most while nothing but figures change.
const FIGURES_SECONDS: f64 = 0.25;

/// The same during a rest, where only the time runs: every drawing of figures holds the main
/// thread for a few milliseconds, and a fast stick's states are missed in them.
const RESTING_FIGURES_SECONDS: f64 = 1.0;

/// A handle on the running task.
#[derive(Clone, Copy)]
pub struct Session {
    pub(super) run: StoredValue<Option<TaskRun>, LocalStorage>,
    /// What is drawn of it; nothing when no task runs.
    pub view: RwSignal<Option<TaskView>, LocalStorage>,
    drawn_at: StoredValue<f64>,
    /// When the task was begun, milliseconds since 1970 UTC.
    pub(super) begun_epoch_ms: StoredValue<u64>,
}

impl Session {
    pub(super) fn new() -> Self {
        Self {
            run: StoredValue::new_local(None),
            view: RwSignal::new_local(None),
            drawn_at: StoredValue::new(0.0),
            begun_epoch_ms: StoredValue::new(0),
        }
    }

    /// Whether a task runs, not tracked.
    pub fn runs(self) -> bool {
        self.run.with_value(Option::is_some)
    }

    /// What the running task would leave behind if it ended now.
    pub fn record_so_far(self) -> Option<TaskRecord> {
        self.run.with_value(|run| run.clone().map(TaskRun::finish))
    }

    /// Leaves a running task without keeping it. Only for a change of stick or fitting, where
    /// its record was already taken or never wanted.
    pub(super) fn leave(self, input: Input) {
        input.set_listener(None);
        input.measuring(false);
        input.ask(None);
        self.run.set_value(None);
        self.view.set(None);
    }

    /// Pauses for a device that went away or a hidden page, and notes when both are back.
    pub(super) fn watch(self, input: Input, gone: bool, hidden: bool) {
        let cause = if gone {
            PauseCause::DeviceGone
        } else if hidden {
            PauseCause::PageHidden
        } else {
            // The device is back: the task goes on by itself. After a hidden page somebody has
            // to say so, for nobody may be sitting there any more.
            let waited_for_it = self.view.with_untracked(|view| {
                view.as_ref().is_some_and(|view| view.paused == Some(PauseCause::DeviceGone))
            });
            if waited_for_it {
                self.command(input, Command::GoOn);
            }
            return;
        };
        if self.runs() {
            self.command(input, Command::Pause(cause));
        }
    }

    /// Passes a command to the task and shows at once what it made of it.
    pub fn command(self, input: Input, command: Command) {
        let ready =
            |view: &Option<TaskView>| view.as_ref().is_some_and(|view| view.phase == Phase::Ready);
        if command == Command::Begin && self.view.with_untracked(ready) {
            self.begun_epoch_ms.set_value(now_epoch_ms());
        }
        self.run.update_value(|run| {
            if let Some(run) = run {
                run.command(input.now_seconds(), command);
            }
        });
        self.show(input);
    }

    /// Draws the task as it is now.
    fn show(self, input: Input) {
        let view = self.run.with_value(|run| run.as_ref().map(TaskRun::view));
        self.drawn_at.set_value(input.now_seconds());
        input.ask(view.clone());
        self.view.set(view);
    }

    /// Draws the task if more than figures changed, or it is time to.
    fn show_if_due(self, input: Input, now_seconds: f64) {
        let Some(new) = self.run.with_value(|run| run.as_ref().map(TaskRun::view)) else { return };
        let same = self.view.with_untracked(|old| {
            old.as_ref().is_some_and(|old| {
                (old.phase, old.paused, old.step, old.mark, old.silent, old.offer_rest)
                    == (new.phase, new.paused, new.step, new.mark, new.silent, new.offer_rest)
                    && old.prompt == new.prompt
                    && old.query.is_some() == new.query.is_some()
            })
        });
        let rests = is_rest(new.kind);
        let pause = if rests { RESTING_FIGURES_SECONDS } else { FIGURES_SECONDS };
        if same && now_seconds - self.drawn_at.get_value() < pause {
            return;
        }
        self.drawn_at.set_value(now_seconds);
        input.ask(Some(new.clone()));
        self.view.set(Some(new));
    }
}

/// Whether a task only lets time pass: nothing is aimed at, and its figures may be drawn seldom.
pub const fn is_rest(kind: TaskKind) -> bool {
    matches!(
        kind,
        TaskKind::HandsOff | TaskKind::QuietRest | TaskKind::BusyRest | TaskKind::FreeMovement
    )
}

impl App {
    /// Starts a task in the way that is remembered for this visit.
    pub fn start_task(self, ask: TaskAsk) {
        self.start_task_in(ask, self.visit.with_untracked(|visit| visit.asked.way));
    }

    /// Starts a task that is asked in this way, as far as it applies: it says what will be asked and
    /// waits for somebody to begin.
    pub fn start_task_in(self, ask: TaskAsk, way: Way) {
        let input = self.input;
        let Some(first) = input.latest().or_else(|| input.chosen().map(|_| Sample::default()))
        else {
            self.tell(Trouble::DeviceGone, "no source for a task");
            return;
        };
        let mut known = self.records.with_untracked(|records| fitting::measure::known(records));
        known.kind = self.kind.get_untracked();
        let button_stops = ask.kind().stops_by_held_button();
        let run =
            TaskRun::start(ask, self.axes.get_untracked(), known, input.now_seconds(), &first)
                .in_way(way);
        let session = self.session;
        let mut stop = StopButton::held();
        session.run.set_value(Some(run));
        session.show(input);
        input.measuring(true);
        let mut held = first;
        input.set_listener(Some(Box::new(move |now_seconds, change| {
            session.run.update_value(|run| {
                if let Some(run) = run {
                    run.poll(now_seconds, change);
                }
            });
            if let Some(change) = change {
                held.clone_from(change);
            }
            // A button that is held changes nothing, so each poll looks at what still holds.
            if button_stops && stop.stops(now_seconds, &held) {
                self.rest();
            }
        })));
    }

    /// Asks in another way from now on. A task that has begun is asked anew for what is left of it,
    /// and waits for somebody to begin; what there is of it is kept.
    pub fn ask_in(self, way: Way) {
        self.change_visit(|visit| visit.asked.way = way);
        let began = self
            .session
            .view
            .with_untracked(|view| view.as_ref().is_some_and(|view| view.phase != Phase::Ready));
        let Some(run) = self.session.run.try_update_value(Option::take).flatten() else { return };
        let (record, run) = if began {
            let (record, run) = run.turned(way);
            (Some(record), run)
        } else {
            (None, run.in_way(way))
        };
        self.session.run.set_value(Some(run));
        self.session.show(self.input);
        if let Some(record) = record {
            self.keep_if_any(record);
        }
    }

    /// Passes a command to the running task; a task that is over by it is kept.
    pub fn command(self, command: Command) {
        self.session.command(self.input, command);
        let over = self.session.run.with_value(|run| run.as_ref().is_some_and(TaskRun::is_over));
        if over {
            self.end_task();
        }
    }

    /// Stops everything at once and keeps it: pauses a running task and opens the rest window.
    pub fn rest(self) {
        if self.session.runs() {
            self.command(Command::Pause(PauseCause::Asked));
        }
        self.resting.set(true);
    }

    /// Drops what was kept of a task while it ran, where nothing of it is wanted.
    fn drop_under_way(self) {
        if let Some(later) = self.later.get_untracked() {
            (later.drop_under_way)(self);
        }
    }

    /// Draws the running task; called once a frame.
    pub fn on_task_frame(self, now_seconds: f64) {
        self.keep_under_way(now_seconds);
        self.session.show_if_due(self.input, now_seconds);
        if let Some(effort) = self.input.effort() {
            self.command(Command::Effort(effort));
        }
        // By itself, because its recording is full.
        if self.session.run.with_value(|run| run.as_ref().is_some_and(TaskRun::is_over)) {
            self.end_task();
        }
    }

    /// Ends the running task and keeps its record.
    pub fn end_task(self) {
        let Some(run) = self.session.run.try_update_value(Option::take).flatten() else { return };
        self.session.leave(self.input);
        if run.is_full() {
            self.tell(Trouble::RecordingFull, "as long as any that may be kept");
        }
        self.keep_if_any(run.finish());
    }

    /// Keeps a record that has something in it.
    fn keep_if_any(self, record: TaskRecord) {
        if record.recording.samples.is_empty() || record.repetitions.is_empty() {
            self.drop_under_way();
            return;
        }
        self.keep_record(record);
    }

    /// Ends the running task because its screen is left: keeps what there is, if anything began.
    pub fn leave_task(self) {
        let began = self
            .session
            .view
            .with_untracked(|view| view.as_ref().is_some_and(|view| view.phase != Phase::Ready));
        if began {
            self.command(Command::Stop);
        }
        self.drop_task();
    }

    /// Ends the running task without keeping it: nothing of it was wanted.
    pub fn drop_task(self) {
        self.session.leave(self.input);
        self.drop_under_way();
    }
}
