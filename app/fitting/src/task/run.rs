//! A task while it runs.

mod outside;
mod show;

use self::outside::{LARGEST_AXIS, refill, sound};
use super::cued::Cued;
use super::rest::Rest;
use super::{Command, Known, Outcome, PauseCause, Phase, Repetition, TaskAsk, TaskRecord};
use crate::{Position, Recording, Sample, Span, StickAxes};

/// A poll this much earlier than the one before means that the clock was set back, seconds; less
/// is two callers that read the clock a moment apart.
const SET_BACK_SECONDS: f64 = 1.0;
/// One poll stands for at most this much time where nothing was seen in between, seconds.
pub(super) const LONGEST_STEP_SECONDS: f64 = 0.1;
/// A rest is offered after this much muscle work since the last pause, seconds.
const OFFER_REST_SECONDS: f64 = 30.0;

/// What the task does.
#[derive(Clone, Debug)]
enum Work {
    Rest(Rest),
    Cued(Box<Cued>),
}

/// One task while it runs: driven by polls and commands, drawn from its view.
///
/// It has no time limit: nothing fails for being slow. It may be finished at any moment and leaves
/// a record that is usable as far as it goes. Times that run backwards are held at the last one;
/// a clock that was set back goes on from there. Values that are not finite are replaced by the
/// last finite ones.
#[derive(Clone, Debug)]
pub struct TaskRun {
    ask: TaskAsk,
    axes: StickAxes,
    known: Known,
    recording: Recording,
    pauses: Vec<Span>,
    latest: Sample,
    now: f64,
    /// What was added to the clock because it had been set back, seconds.
    set_back: f64,
    phase: Phase,
    paused: Option<PauseCause>,
    /// When the present pause began, if it began while recording.
    pause_since: Option<f64>,
    over: bool,
    muscle_seconds: f64,
    muscle_since_pause: f64,
    work: Work,
}

impl TaskRun {
    /// A task that is ready to begin. `first` is the device's state now. What is out of range in
    /// `ask` and `known` is brought into it.
    #[must_use]
    pub fn start(
        ask: TaskAsk,
        axes: StickAxes,
        known: Known,
        now_seconds: f64,
        first: &Sample,
    ) -> Self {
        let (ask, known) = (ask.sound(), sound(known));
        let work = match &ask {
            TaskAsk::HandsOff { seconds }
            | TaskAsk::QuietRest { seconds }
            | TaskAsk::BusyRest { seconds, .. }
            | TaskAsk::FreeMovement { seconds } => Work::Rest(Rest::new(*seconds)),
            TaskAsk::Reach { .. }
            | TaskAsk::Hold { .. }
            | TaskAsk::Sustained { .. }
            | TaskAsk::Return { .. }
            | TaskAsk::Presses { .. } => Work::Cued(Box::new(Cued::new(&ask, known.clone()))),
        };
        let now = if now_seconds.is_finite() { now_seconds } else { 0.0 };
        let mut run = Self {
            ask,
            axes,
            known,
            recording: Recording::default(),
            pauses: Vec::new(),
            latest: Sample::default(),
            now,
            set_back: 0.0,
            phase: Phase::Ready,
            paused: None,
            pause_since: None,
            over: false,
            muscle_seconds: 0.0,
            muscle_since_pause: 0.0,
            work,
        };
        run.take(first, now);
        run
    }

    /// Takes in one poll of the device: the time, and the new state if it changed since the poll
    /// before.
    pub fn poll(&mut self, now_seconds: f64, change: Option<&Sample>) {
        if self.over {
            return;
        }
        let before = self.now;
        let held_at = self.axes.position(&self.latest);
        self.now = self.clock(now_seconds, true);
        if let Some(change) = change {
            self.take(change, self.now);
        }
        if !self.is_recording() {
            return;
        }
        self.recording.poll(self.now, change.map(|_| &self.latest));
        self.pass(before, self.now, held_at);
    }

    /// Does what the page was told.
    pub fn command(&mut self, now_seconds: f64, command: Command) {
        if self.over {
            return;
        }
        let now = self.clock(now_seconds, false);
        // Up to here the last state held.
        if now > self.now {
            let before = std::mem::replace(&mut self.now, now);
            if self.is_recording() {
                self.recording.poll(now, None);
                self.pass(before, now, self.axes.position(&self.latest));
            }
        }
        match command {
            Command::Begin => self.begin(),
            Command::Pause(cause) => self.pause(cause),
            Command::GoOn => self.go_on(),
            Command::Stop => self.stop(),
            Command::Mark(mark) => {
                match &mut self.work {
                    Work::Rest(rest) => rest.set_mark(mark),
                    Work::Cued(cued) => cued.set_mark(mark),
                }
                self.wake();
            }
            Command::Unmark => match &mut self.work {
                Work::Rest(rest) => rest.unmark(),
                Work::Cued(cued) => cued.unmark(),
            },
            Command::KeepQueried => {
                if let Work::Cued(cued) = &mut self.work {
                    cued.keep_queried();
                }
            }
            Command::Effort(_) => {}
            Command::More => self.more(),
            Command::Next | Command::Skip | Command::Again => self.step(command),
        }
    }

    /// Whether the task is over: stopped, or done and left.
    #[must_use]
    pub const fn is_over(&self) -> bool {
        self.over
    }

    /// What the task leaves behind. What runs is cut short; a rest keeps what it has.
    #[must_use]
    pub fn finish(mut self) -> TaskRecord {
        self.end_all();
        let repetitions: Vec<Repetition> = match self.work {
            Work::Rest(rest) => rest.repetitions,
            Work::Cued(cued) => cued.repetitions,
        };
        TaskRecord {
            ask: self.ask,
            known: self.known,
            axes: self.axes,
            recording: self.recording,
            repetitions,
            pauses: self.pauses,
            muscle_seconds: self.muscle_seconds,
        }
    }

    /// The task's own clock: never backwards.
    fn clock(&mut self, now_seconds: f64, is_poll: bool) -> f64 {
        if !now_seconds.is_finite() {
            return self.now;
        }
        let behind = self.now - (now_seconds + self.set_back);
        if is_poll && behind > SET_BACK_SECONDS {
            self.set_back += behind;
        }
        self.now.max(now_seconds + self.set_back)
    }

    /// Makes a state from outside the latest one: finite, bounded, not from the future.
    fn take(&mut self, change: &Sample, now: f64) {
        let arrival = change.arrival_seconds + self.set_back;
        self.latest.arrival_seconds = if arrival.is_finite() { arrival.min(now) } else { now };
        refill(&mut self.latest.axes, &change.axes, -LARGEST_AXIS, LARGEST_AXIS);
        refill(&mut self.latest.buttons, &change.buttons, 0.0, 1.0);
    }

    fn is_recording(&self) -> bool {
        self.paused.is_none() && matches!(self.phase, Phase::Doing | Phase::Between)
    }

    /// Starts recording, or goes on with it after a pause: the state that holds is stamped anew.
    fn record_from_now(&mut self) {
        self.latest.arrival_seconds = self.now;
        self.recording.cut(self.now);
        self.recording.poll(self.now, Some(&self.latest));
    }

    /// Takes in that the stick was at `held_at` from `before` to `now`.
    fn pass(&mut self, before: f64, now: f64, held_at: Position) {
        match &mut self.work {
            Work::Rest(rest) => {
                if rest.pass(before, now) {
                    self.phase = Phase::Done;
                }
            }
            Work::Cued(cued) => {
                if (held_at - self.known.centre).radius() > self.known.quiet_radius {
                    let seconds = (now - before).min(LONGEST_STEP_SECONDS);
                    self.muscle_seconds += seconds;
                    self.muscle_since_pause += seconds;
                }
                if self.phase == Phase::Doing {
                    if cued.pass(before, now, held_at) {
                        self.rest_or_end();
                    }
                } else if !cued.has_more() {
                    // What was to be asked once more counts after all.
                    self.phase = Phase::Done;
                } else if cued.is_rested(now) && cued.ask_next(now) {
                    self.phase = Phase::Doing;
                }
            }
        }
    }

    /// After a repetition: a moment of rest, or the end.
    fn rest_or_end(&mut self) {
        if let Work::Cued(cued) = &self.work {
            self.phase = if cued.is_running() {
                Phase::Doing
            } else if cued.has_more() {
                Phase::Between
            } else {
                Phase::Done
            };
        }
    }

    fn begin(&mut self) {
        // Without a device there is nothing to record; the page says go on when it is back.
        if self.phase != Phase::Ready || self.paused == Some(PauseCause::DeviceGone) {
            return;
        }
        self.paused = None;
        self.record_from_now();
        self.phase = match &mut self.work {
            Work::Rest(rest) => {
                rest.begin(self.now);
                Phase::Doing
            }
            Work::Cued(cued) => {
                if cued.ask_next(self.now) {
                    Phase::Doing
                } else {
                    Phase::Done
                }
            }
        };
    }

    fn pause(&mut self, cause: PauseCause) {
        if self.is_recording() {
            self.pause_since = Some(self.now);
            match &mut self.work {
                Work::Rest(rest) => rest.break_off(self.now),
                Work::Cued(cued) => {
                    cued.break_off(self.now);
                    self.phase = Phase::Between;
                }
            }
            self.muscle_since_pause = 0.0;
        }
        // A device that went away outweighs what was there before: going on needs it back.
        if self.paused != Some(PauseCause::DeviceGone) {
            self.paused = Some(cause);
        }
    }

    fn go_on(&mut self) {
        if self.paused.take().is_none() {
            return;
        }
        if let Some(since) = self.pause_since.take() {
            self.pauses.push(Span { from_seconds: since, to_seconds: self.now });
        }
        if self.is_recording() {
            self.record_from_now();
            match &mut self.work {
                Work::Rest(rest) => rest.begin(self.now),
                Work::Cued(cued) => cued.rest_from(self.now),
            }
        }
    }

    /// Next, skip and again: while recording, and where it is said, also before and after.
    fn step(&mut self, command: Command) {
        match self.phase {
            Phase::Ready => self.over = command == Command::Skip,
            Phase::Done => match (&mut self.work, command) {
                (Work::Cued(cued), Command::Again) => {
                    cued.again(self.now);
                    self.wake();
                }
                (_, Command::Next) => self.over = true,
                _ => {}
            },
            Phase::Doing | Phase::Between if self.paused.is_none() => self.step_now(command),
            Phase::Doing | Phase::Between => {}
        }
    }

    fn step_now(&mut self, command: Command) {
        let now = self.now;
        match &mut self.work {
            Work::Rest(rest) => match command {
                Command::Again => rest.again(now),
                Command::Skip => {
                    rest.end(now, Outcome::Skipped);
                    self.phase = Phase::Done;
                }
                _ => {
                    rest.end(now, Outcome::Done);
                    self.phase = Phase::Done;
                }
            },
            Work::Cued(cued) => {
                let ran = cued.is_running();
                match command {
                    Command::Again => cued.again(now),
                    Command::Skip => cued.skip(now),
                    _ => cued.next(now),
                }
                // Between two repetitions "next" means: the next one now.
                if !ran && command == Command::Next {
                    cued.ask_next(now);
                }
                self.rest_or_end();
            }
        }
    }

    /// A task that was done goes on when something is to be asked once more.
    fn wake(&mut self) {
        if self.phase == Phase::Done
            && let Work::Cued(cued) = &mut self.work
            && cued.has_more()
        {
            cued.rest_from(self.now);
            self.phase = Phase::Between;
            self.resume();
        }
    }

    fn more(&mut self) {
        let Work::Rest(rest) = &mut self.work else {
            return;
        };
        rest.more();
        if self.phase == Phase::Done {
            self.phase = Phase::Doing;
            if self.paused.is_none() {
                rest.begin(self.now);
            }
            self.resume();
        }
    }

    /// Records again, or notes that it would but for a pause.
    fn resume(&mut self) {
        if self.paused.is_none() {
            self.record_from_now();
        } else {
            self.pause_since = Some(self.now);
        }
    }

    fn stop(&mut self) {
        self.end_all();
        self.over = true;
    }

    fn end_all(&mut self) {
        if self.over {
            return;
        }
        if let Some(since) = self.pause_since.take() {
            self.pauses.push(Span { from_seconds: since, to_seconds: self.now });
        }
        match &mut self.work {
            Work::Rest(rest) => rest.break_off(self.now),
            Work::Cued(cued) => cued.cut_short(self.now),
        }
    }
}
