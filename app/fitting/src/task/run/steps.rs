//! What a running task does when it is told something.

use super::{TaskRun, Work};
use crate::Span;
use crate::task::{Command, Outcome, PauseCause, Phase};

impl TaskRun {
    pub(super) fn begin(&mut self) {
        // Without a device there is nothing to record; the page says go on when it is back.
        if self.phase != Phase::Ready || self.paused == Some(PauseCause::DeviceGone) {
            return;
        }
        (self.paused, self.other_pause) = (None, None);
        self.record_from_now();
        self.phase = match &mut self.work {
            Work::Rest(rest) => {
                rest.begin(self.now);
                Phase::Doing
            }
            Work::Cued(cued) => {
                cued.begin(self.now);
                Phase::Between
            }
        };
        self.rest_or_end();
    }

    pub(super) fn pause(&mut self, cause: PauseCause) {
        if self.is_recording() {
            self.pause_since = Some(self.now);
            match &mut self.work {
                Work::Rest(rest) => rest.break_off(self.now),
                Work::Cued(cued) => {
                    cued.break_off(self.now);
                    // How hard it was is still asked after the pause.
                    if !cued.asks_effort() {
                        self.phase = Phase::Between;
                    }
                }
            }
            self.muscle_since_pause = 0.0;
            self.breaths.rested();
        }
        // A device that went away outweighs all else, for going on needs it back; what was asked for
        // beside it still holds then.
        let gone = Some(PauseCause::DeviceGone);
        if cause == PauseCause::DeviceGone && self.paused != gone {
            self.other_pause = self.paused;
        } else if self.paused == gone && cause != PauseCause::DeviceGone {
            self.other_pause = Some(cause);
        }
        if self.paused != gone {
            self.paused = Some(cause);
        }
    }

    pub(super) fn go_on(&mut self) {
        if self.paused.take().is_none() {
            return;
        }
        self.paused = self.other_pause.take();
        if self.paused.is_some() {
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
    pub(super) fn step(&mut self, command: Command) {
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
                let ran = cued.is_running() || cued.asks_effort();
                match command {
                    Command::Again => cued.again(now),
                    Command::Skip => cued.skip(now),
                    _ => cued.next(now),
                }
                // Between two repetitions "next" means: the next one now.
                if !ran && command == Command::Next {
                    cued.ask_next(now);
                }
                self.measure_push();
                self.rest_or_end();
            }
        }
    }

    /// A task that was done goes on when something is to be asked once more.
    pub(super) fn wake(&mut self) {
        if self.phase == Phase::Done
            && let Work::Cued(cued) = &mut self.work
            && cued.has_more()
        {
            cued.rest_from(self.now);
            self.phase = Phase::Between;
            self.resume();
        }
    }

    pub(super) fn more(&mut self) {
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
            self.pause_since.get_or_insert(self.now);
        }
    }

    pub(super) fn stop(&mut self) {
        self.end_all();
        self.over = true;
    }

    pub(super) fn end_all(&mut self) {
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
