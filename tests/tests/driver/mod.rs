//! Drives a task by hand: a stick that is where it is told to be, polled every 4 ms.
#![allow(dead_code, reason = "each test file uses its own part of the driver")]

use fitting::position::Position;
use fitting::task::{
    Command, Known, Outcome, Phase, Prompt, Query, Repetition, TaskAsk, TaskKind, TaskRecord,
    TaskRun, TaskView,
};
use fitting::{Direction, Sample, StickAxes};

/// Time between two polls, seconds.
pub(crate) const POLL_SECONDS: f64 = 0.004;

/// A task and a stick.
pub(crate) struct Driver {
    pub(crate) run: TaskRun,
    pub(crate) now: f64,
    at: Position,
    /// Which buttons are down.
    pub(crate) down: [bool; 4],
    was_down: [bool; 4],
}

/// The state of a stick that is at `at`.
pub(crate) fn sample(now: f64, at: Position) -> Sample {
    pressing(now, at, [false; 4])
}

/// The state of a stick that is at `at` with some of its buttons down.
pub(crate) fn pressing(now: f64, at: Position, down: [bool; 4]) -> Sample {
    let buttons = down.iter().map(|down| if *down { 1.0 } else { 0.0 }).collect();
    Sample { arrival_seconds: now, axes: vec![at.right, -at.up], buttons }
}

impl Driver {
    /// The task, ready, with nothing known.
    pub(crate) fn ready(ask: TaskAsk) -> Self {
        Self::knowing(ask, Known::default())
    }

    /// The task, ready.
    pub(crate) fn knowing(ask: TaskAsk, known: Known) -> Self {
        let now = 100.0;
        let at = Position::ORIGIN;
        let run = TaskRun::start(ask, StickAxes::default(), known, now, &sample(now, at));
        Self { run, now, at, down: [false; 4], was_down: [false; 4] }
    }

    /// The task, begun.
    pub(crate) fn begun(ask: TaskAsk) -> Self {
        let mut driver = Self::ready(ask);
        driver.command(Command::Begin);
        driver
    }

    pub(crate) fn view(&self) -> TaskView {
        self.run.view()
    }

    pub(crate) fn phase(&self) -> Phase {
        self.view().phase
    }

    pub(crate) fn command(&mut self, command: Command) {
        self.run.command(self.now, command);
    }

    /// One poll with the stick at `at`.
    pub(crate) fn poll(&mut self, at: Position) {
        self.now += POLL_SECONDS;
        let changed = at != self.at || self.down != self.was_down;
        let change = changed.then(|| pressing(self.now, at, self.down));
        self.at = at;
        self.was_down = self.down;
        self.run.poll(self.now, change.as_ref());
    }

    /// The stick stays where it is told for some seconds.
    pub(crate) fn stay(&mut self, seconds: f64, at: Position) {
        let until = self.now + seconds - POLL_SECONDS / 2.0;
        while self.now < until {
            self.poll(at);
        }
    }

    /// The stick rests in the middle.
    pub(crate) fn rest(&mut self, seconds: f64) {
        self.stay(seconds, Position::ORIGIN);
    }

    /// A button is down for some seconds, the stick in the middle.
    pub(crate) fn press(&mut self, button: usize, seconds: f64) {
        self.down[button] = true;
        self.rest(seconds);
        self.down[button] = false;
    }

    /// Rests until the next cue or the end.
    pub(crate) fn rest_between(&mut self) {
        for _ in 0..5000 {
            if self.phase() != Phase::Between {
                return;
            }
            self.poll(Position::ORIGIN);
        }
        panic!("no cue comes");
    }

    /// A push along `degrees`: out in 0.4 s, a stay, back in 0.4 s, and rest until it counts.
    pub(crate) fn push(&mut self, radius: f64, degrees: f64, stay: f64) {
        let steps = 100;
        for step in 1..=steps {
            let share = f64::from(step) / f64::from(steps);
            self.poll(Position::polar(radius * share, degrees));
        }
        self.stay(stay, Position::polar(radius, degrees));
        for step in (0..steps).rev() {
            let share = f64::from(step) / f64::from(steps);
            self.poll(Position::polar(radius * share, degrees));
        }
        self.rest(0.4);
    }

    /// Pushes as asked.
    pub(crate) fn push_as_asked(&mut self) {
        let direction = self.asked().expect("a push is asked");
        self.push(0.7, direction.degrees(), 0.5);
    }

    /// The direction that is asked now.
    pub(crate) fn asked(&self) -> Option<Direction> {
        use fitting::task::Prompt::{LetGo, Push, StayInRing, ToRing};
        let view = self.view();
        match view.prompt {
            Push(direction) | ToRing(direction) | StayInRing(direction) | LetGo(direction)
                if view.phase == Phase::Doing =>
            {
                Some(direction)
            }
            _ => None,
        }
    }

    pub(crate) fn finish(self) -> TaskRecord {
        let record = self.run.finish();
        check(&record);
        record
    }
}

/// What holds of every record, however it came about.
pub(crate) fn check(record: &TaskRecord) {
    let samples = &record.recording.samples;
    assert!(samples.windows(2).all(|pair| pair[0].arrival_seconds < pair[1].arrival_seconds));
    let polled = &record.recording.polled;
    assert!(polled.iter().all(|span| span.seconds() >= 0.0));
    assert!(polled.windows(2).all(|pair| pair[0].to_seconds <= pair[1].from_seconds));
    for sample in samples {
        assert!(sample.arrival_seconds.is_finite());
        assert!(sample.axes.iter().chain(&sample.buttons).all(|value| value.is_finite()));
    }
    assert!(record.muscle_seconds.is_finite() && record.muscle_seconds >= 0.0);
    assert!(record.pauses.iter().all(|span| span.seconds() >= 0.0));
    assert!(record.pauses.windows(2).all(|pair| pair[0].to_seconds <= pair[1].from_seconds));
    let (first, last) = match (polled.first(), polled.last()) {
        (Some(first), Some(last)) => (first.from_seconds, last.to_seconds),
        _ => {
            assert!(record.repetitions.is_empty() && samples.is_empty());
            return;
        }
    };
    let repetitions = &record.repetitions;
    let mut before = first;
    for repetition in repetitions {
        let span = repetition.span;
        assert!(span.seconds() >= 0.0 && span.from_seconds.is_finite(), "{repetition:?}");
        assert!(before <= span.from_seconds + 1e-9, "in order: {repetition:?}");
        assert!(span.to_seconds <= last + 1e-9, "{repetition:?} ends after {last}");
        before = span.to_seconds;
        // No repetition that counts reaches into a pause.
        let paused = record.pauses.iter().any(|pause| pause.shared_with(span).is_some());
        assert!(!paused || !repetition.counts(), "{repetition:?}");
        if let Some(degrees) = repetition.queried_degrees {
            assert!(degrees.abs() > 60.0 && degrees.abs() <= 180.0);
        }
        if let Some(level) = repetition.level {
            assert!(level.is_finite() && level > 0.0);
        }
        check_kind(record, repetition);
    }
}

/// What a repetition of each kind of task says and leaves out.
fn check_kind(record: &TaskRecord, repetition: &Repetition) {
    use TaskKind::{Hold, Presses, Reach, Return, Sustained};
    let kind = record.ask.kind();
    let has = |kinds: &[TaskKind]| kinds.contains(&kind);
    if record.is_free() {
        // Nothing was asked: what was done is sorted, or into nothing.
        assert!(repetition.direction.is_none() || has(&[Reach, Hold, Return]));
        assert!(repetition.level.is_none() || has(&[Hold]) && repetition.direction.is_some());
        assert!(repetition.button.is_none() || has(&[Presses]));
        assert!(repetition.queried_degrees.is_none());
    } else {
        assert_eq!(repetition.direction.is_some(), has(&[Reach, Hold, Sustained, Return]));
        assert_eq!(repetition.level.is_some(), has(&[Hold, Sustained, Return]));
        assert_eq!(repetition.button.is_some(), has(&[Presses]));
    }
    assert_eq!(repetition.press.is_some(), has(&[Presses]));
    assert!(repetition.queried_degrees.is_none() || kind == Reach);
    if let Some(effort) = repetition.effort {
        assert!(kind == Sustained && effort <= 10, "{repetition:?}");
        let over = [Outcome::Done, Outcome::AskedAgain].contains(&repetition.outcome);
        assert!(over, "{repetition:?}");
    }
}

/// What holds of every view.
pub(crate) fn check_view(view: &TaskView) {
    for value in [
        view.progress,
        view.left_seconds,
        view.muscle_seconds,
        view.hold_progress,
        match view.query {
            Some(Query::Off(degrees)) => degrees,
            Some(Query::Short(short)) => short.reach + short.usual,
            None => 0.0,
        },
    ] {
        assert!(value.is_finite(), "{view:?}");
    }
    assert!((0.0..=1.0).contains(&view.progress), "{view:?}");
    assert!((0.0..=1.0).contains(&view.hold_progress), "{view:?}");
    assert!(view.left_seconds >= 0.0 && view.muscle_seconds >= 0.0, "{view:?}");
    assert!(1 <= view.step && view.step <= view.of, "{view:?}");
    assert!(view.hold_progress == 0.0 || view.target.is_some(), "{view:?}");
    if let Prompt::ToRing(_) | Prompt::StayInRing(_) = view.prompt {
        assert!(view.target.is_some() || view.phase == Phase::Ready, "{view:?}");
    }
    if let Prompt::HowHard = view.prompt {
        assert!(view.phase == Phase::Doing && !view.silent, "{view:?}");
    }
    if let Some(push) = view.push {
        assert!(push.reach.is_finite() && push.degrees_off.is_none_or(f64::is_finite));
    }
    if let Some(target) = view.target {
        assert!(target.at.radius().is_finite() && target.radius > 0.0);
    }
}
