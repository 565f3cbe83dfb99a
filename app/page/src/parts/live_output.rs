//! What the settings make of the stick as it moves now.

use fitting::pipeline::PipelineRun;
use fitting::{Pipeline, Position, Settings};

/// The output of the settings over time. Begins anew when the settings change.
#[derive(Debug, Default)]
pub struct LiveOutput {
    run: Option<(Settings, PipelineRun<'static>)>,
}

impl LiveOutput {
    /// The output now, with the stick at `at`.
    pub fn advance(&mut self, settings: &Settings, now_seconds: f64, at: Position) -> Position {
        if self.run.as_ref().is_none_or(|(of, _)| of != settings) {
            self.run = Some((settings.clone(), Pipeline::new(settings).into_run()));
        }
        self.run.as_mut().map_or(at, |(_, run)| run.advance(now_seconds, at))
    }
}
