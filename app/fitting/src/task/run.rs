//! A task while it runs.

mod breaths;
mod outside;
mod room;
mod show;
mod steps;
mod turn;

use self::breaths::Breaths;
use self::outside::{LARGEST_AXIS, refill, sound};
use super::cued::Cued;
use super::rest::Rest;
use super::stop::PRESSED;
use super::watch::Held;
use super::{
    Asking, Command, Known, PauseCause, Phase, Repetition, TaskAsk, TaskKind, TaskRecord, Way,
};
use crate::measure::plateau::plateau;
use crate::stick_kind::Mover;
use crate::{Position, Recording, Sample, Span, StickAxes, Trace};

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
/// It has no time limit: nothing fails for being slow. Only a recording as large as may be kept ends it
/// by itself ([`Self::is_full`]). It may be finished at any moment and leaves
/// a record that is usable as far as it goes. Times that run backwards are held at the last one;
/// a clock that was set back goes on from there. Values that are not finite are replaced by the
/// last finite ones.
#[derive(Clone, Debug)]
pub struct TaskRun {
    ask: TaskAsk,
    way: Way,
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
    /// Why it stays paused when the device that went away is back.
    other_pause: Option<PauseCause>,
    /// When the present pause began, if it began while recording.
    pause_since: Option<f64>,
    over: bool,
    /// Whether it is over because nothing more may be kept with it.
    full: bool,
    /// Of so many samples, which do not change any more, the memory, bytes.
    memory: (usize, usize),
    muscle_seconds: f64,
    muscle_since_pause: f64,
    breaths: Breaths,
    work: Work,
    /// [`length_of_push`], through a pointer: who only lets a task run on, as the part of the page that
    /// comes first, does without what measures.
    length_of_push: fn(&Recording, StickAxes, Position, Span) -> Option<f64>,
}

/// How far a push in this span of a recording went, share of travel, as the figures will say.
fn length_of_push(
    recording: &Recording,
    axes: StickAxes,
    centre: Position,
    span: Span,
) -> Option<f64> {
    plateau(&Trace::of(recording, axes), centre, span).map(Position::radius)
}

impl Work {
    /// What a task does whose numbers are in range.
    fn of(ask: &TaskAsk, known: &Known, way: Way) -> Self {
        match ask {
            TaskAsk::HandsOff { seconds }
            | TaskAsk::QuietRest { seconds }
            | TaskAsk::BusyRest { seconds, .. }
            | TaskAsk::FreeMovement { seconds } => Self::Rest(Rest::new(*seconds)),
            TaskAsk::Reach { .. }
            | TaskAsk::Hold { .. }
            | TaskAsk::Sustained { .. }
            | TaskAsk::Return { .. }
            | TaskAsk::Presses { .. } => {
                Self::Cued(Box::new(Cued::new(ask, known.clone(), way.asking)))
            }
        }
    }
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
        let way = Way::default();
        let work = Work::of(&ask, &known, way);
        let now = if now_seconds.is_finite() { now_seconds } else { 0.0 };
        let mut run = Self {
            ask,
            way,
            axes,
            known,
            recording: Recording::default(),
            pauses: Vec::new(),
            latest: Sample::default(),
            now,
            set_back: 0.0,
            phase: Phase::Ready,
            paused: None,
            other_pause: None,
            pause_since: None,
            over: false,
            full: false,
            memory: (0, 0),
            muscle_seconds: 0.0,
            muscle_since_pause: 0.0,
            breaths: Breaths::default(),
            work,
            length_of_push,
        };
        run.take(first, now);
        run
    }

    /// The same task asked in this way, as far as it applies ([`Way::suited`]). Once it has begun
    /// the way stays what it is: [`Self::turned`] goes on in another one.
    #[must_use]
    pub fn in_way(mut self, way: Way) -> Self {
        if self.phase == Phase::Ready {
            self.way = way.suited(self.ask.kind());
            self.work = Work::of(&self.ask, &self.known, self.way);
        }
        self
    }

    /// Takes in one poll of the device: the time, and the new state if it changed since the poll
    /// before.
    pub fn poll(&mut self, now_seconds: f64, change: Option<&Sample>) {
        if self.over {
            return;
        }
        let before = self.now;
        let held = self.held();
        self.now = self.clock(now_seconds, true);
        if let Some(change) = change {
            self.take(change, self.now);
        }
        if !self.is_recording() {
            return;
        }
        self.recording.poll(self.now, change.map(|_| &self.latest));
        self.pass(before, self.now, held);
        self.rest_after_breaths();
        self.close_if_full();
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
                self.pass(before, now, self.held());
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
            Command::Effort(effort) => {
                if let Work::Cued(cued) = &mut self.work
                    && cued.effort(now, effort)
                {
                    self.rest_or_end();
                }
            }
            Command::More => self.more(),
            Command::Next | Command::Skip | Command::Again => self.step(command),
        }
        self.close_if_full();
    }

    /// Whether the task is over: stopped, done and left, or full.
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
            known: self.known,
            axes: self.axes,
            pauses: self.pauses,
            muscle_seconds: self.muscle_seconds,
            asking: self.way.asking,
            cue: self.way.cue,
            ..TaskRecord::new(self.ask, self.recording, repetitions)
        }
    }

    /// What the task would leave behind if it ended now, without its samples: those are
    /// [`Self::samples`].
    #[must_use]
    pub fn without_samples(&mut self) -> TaskRecord {
        // Taken out, so that they are not copied.
        let samples = std::mem::take(&mut self.recording.samples);
        let record = self.clone().finish();
        self.recording.samples = samples;
        record
    }

    /// The samples so far. The last one may still change.
    #[must_use]
    pub fn samples(&self) -> &[Sample] {
        &self.recording.samples
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

    /// The latest state as far as the task looks at it.
    fn held(&self) -> Held {
        let asked = match &self.work {
            Work::Rest(_) => None,
            Work::Cued(cued) => cued.asked_button(),
        };
        let buttons = &self.latest.buttons;
        let asked = asked.and_then(|button| buttons.get(button));
        Held {
            at: self.axes.position(&self.latest),
            asked_down: asked.is_some_and(|value| *value >= PRESSED),
            any_down: buttons.iter().any(|value| *value >= PRESSED),
            down: buttons
                .iter()
                .zip(0_u32..)
                .filter(|(value, _)| **value >= PRESSED)
                .fold(0, |mask, (_, button)| mask | 1 << button),
        }
    }

    /// Takes in what held from `before` to `now`.
    fn pass(&mut self, before: f64, now: f64, held: Held) {
        let is_out = (held.at - self.known.centre).radius() > self.known.quiet_radius;
        // What moves at rest is no work; where movement is asked for, it is.
        let is_work = match self.ask.kind() {
            TaskKind::HandsOff | TaskKind::QuietRest | TaskKind::BusyRest => false,
            TaskKind::FreeMovement
            | TaskKind::Reach
            | TaskKind::Hold
            | TaskKind::Sustained
            | TaskKind::Return
            | TaskKind::Presses => true,
        };
        // A helper's work is not the person's.
        if is_out && is_work && self.way.asking != Asking::MovedByHelper {
            let seconds = (now - before).min(LONGEST_STEP_SECONDS);
            self.muscle_seconds += seconds;
            self.muscle_since_pause += seconds;
        }
        if is_work {
            self.breaths.hold_for(before, now, is_out || held.any_down);
        }
        match &mut self.work {
            Work::Rest(rest) => {
                if rest.pass(before, now, is_out) {
                    self.phase = Phase::Done;
                }
            }
            Work::Cued(cued) => {
                if self.phase == Phase::Doing {
                    if cued.pass(before, now, held) {
                        self.measure_push();
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

    /// Measures the push that just ended as the figures will, so that what is asked about is what
    /// they would take it for.
    fn measure_push(&mut self) {
        if let Work::Cued(cued) = &mut self.work
            && let Some(span) = cued.unmeasured_push()
        {
            let measure = self.length_of_push;
            cued.push_measured(measure(&self.recording, self.axes, self.known.centre, span));
        }
    }

    /// After some breath actions the task rests by itself, between two repetitions, or in the
    /// midst of free movement; one command goes on.
    fn rest_after_breaths(&mut self) {
        let between = match self.work {
            Work::Rest(_) => self.phase == Phase::Doing,
            Work::Cued(_) => self.phase == Phase::Between,
        };
        if self.known.kind.mover == Mover::Breath && between && self.breaths.is_rest_due(self.now) {
            self.pause(PauseCause::Breaths);
        }
    }

    /// After a repetition: the question how hard it was, a moment of rest, or the end.
    fn rest_or_end(&mut self) {
        if let Work::Cued(cued) = &self.work {
            self.phase = if cued.is_running() || cued.asks_effort() {
                Phase::Doing
            } else if cued.has_more() {
                Phase::Between
            } else {
                Phase::Done
            };
        }
    }
}
