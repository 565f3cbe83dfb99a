//! A task that goes on in another way.

use super::breaths::Breaths;
use super::{TaskRun, Work};
use crate::Recording;
use crate::task::{Phase, TaskAsk, TaskRecord, Way};

impl TaskRun {
    /// Ends this task as [`Self::finish`] does, and gives, besides what it leaves behind, a task that
    /// asks in another way for what is still to be asked: what was done in one way and what is done
    /// in another are never in one record. It waits to be begun.
    #[must_use]
    pub fn turned(mut self, way: Way) -> (TaskRecord, Self) {
        if let Work::Cued(cued) = &mut self.work {
            cued.break_off(self.now);
        }
        self.end_all();
        let way = way.suited(self.ask.kind());
        let (ask, work) = match &self.work {
            Work::Rest(rest) => {
                let ask = self.ask.clone().lasting(rest.left_seconds());
                let work = Work::of(&ask, &self.known, way);
                (ask, work)
            }
            Work::Cued(cued) => {
                let rest = cued.rest_in(&self.ask, way.asking);
                (self.ask.clone(), Work::Cued(Box::new(rest)))
            }
        };
        let next = Self {
            ask,
            way,
            recording: Recording::default(),
            pauses: Vec::new(),
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
            known: self.known.clone(),
            latest: self.latest.clone(),
            ..self
        };
        (self.finish(), next)
    }
}

impl TaskAsk {
    /// A task of time that lasts for so many seconds; others as they are.
    fn lasting(self, seconds: f64) -> Self {
        match self {
            Self::HandsOff { .. } => Self::HandsOff { seconds },
            Self::QuietRest { .. } => Self::QuietRest { seconds },
            Self::BusyRest { meanwhile, .. } => Self::BusyRest { seconds, meanwhile },
            Self::FreeMovement { .. } => Self::FreeMovement { seconds },
            other => other,
        }
    }
}
