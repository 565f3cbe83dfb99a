//! What the page draws of a running task.

use super::{OFFER_REST_SECONDS, TaskRun, Work};
use crate::task::{Phase, Prompt, TaskAsk, TaskView};

impl TaskRun {
    /// What the page draws.
    #[must_use]
    pub fn view(&self) -> TaskView {
        let ready = self.phase == Phase::Ready;
        let mut view = TaskView {
            kind: self.ask.kind(),
            way: self.way,
            phase: self.phase,
            prompt: Prompt::HandsOff,
            paused: self.paused,
            step: 1,
            of: 1,
            progress: 0.0,
            left_seconds: 0.0,
            muscle_seconds: self.muscle_seconds,
            hold_progress: 0.0,
            target: None,
            push: None,
            query: None,
            mark: None,
            marked: 0,
            offer_rest: self.muscle_since_pause >= OFFER_REST_SECONDS && self.is_recording(),
            silent: false,
        };
        match &self.work {
            Work::Rest(rest) => {
                view.prompt = match &self.ask {
                    TaskAsk::HandsOff { .. } => Prompt::HandsOff,
                    TaskAsk::BusyRest { meanwhile, .. } => Prompt::RestWhile(*meanwhile),
                    TaskAsk::FreeMovement { .. } => Prompt::MoveFreely,
                    TaskAsk::QuietRest { .. }
                    | TaskAsk::Reach { .. }
                    | TaskAsk::Hold { .. }
                    | TaskAsk::Sustained { .. }
                    | TaskAsk::Return { .. }
                    | TaskAsk::Presses { .. } => Prompt::Rest,
                };
                let moves = matches!(self.ask, TaskAsk::FreeMovement { .. });
                view.silent = moves && self.is_recording() && rest.is_silent(self.now);
                (view.step, view.of) = rest.step();
                view.progress = rest.progress();
                view.left_seconds = rest.left_seconds();
                view.mark = rest.mark();
                view.marked = rest.marked();
            }
            Work::Cued(cued) => {
                view.prompt = if ready { cued.first_prompt() } else { cued.prompt() };
                (view.step, view.of) = cued.step();
                view.progress = cued.progress();
                view.left_seconds = cued.left_seconds(self.now);
                view.hold_progress = cued.hold_progress(self.now);
                view.target = cued.target();
                view.push = cued.push();
                view.query = cued.query();
                view.mark = cued.mark();
                view.marked = cued.marked();
                view.silent = self.is_recording() && cued.is_silent(self.now);
            }
        }
        if self.phase == Phase::Done {
            view.progress = 1.0;
            view.left_seconds = 0.0;
        }
        view
    }
}
