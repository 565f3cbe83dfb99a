//! What a fitting's records say, computed once after each task.

use fitting::Settings;
use fitting::measure::{Measures, measure};
use fitting::suggest::{Effect, Prepared, Suggestions, Wish, suggest};
use fitting::task::TaskRecord;
use std::rc::Rc;

/// Measures, suggestions, and what is needed to judge other settings at once.
pub struct Analysis {
    /// The records all of it rests on.
    pub records: Rc<Vec<TaskRecord>>,
    /// The measures.
    pub measures: Measures,
    /// The suggestions.
    pub suggestions: Suggestions,
    /// The recordings made ready for [`Analysis::effect`].
    prepared: Prepared,
    /// What the stick does as it is.
    pub before: Effect,
}

impl Analysis {
    /// Computes everything the records say.
    pub fn of(records: Rc<Vec<TaskRecord>>, wish: Wish) -> Self {
        let measures = measure(&records);
        let suggestions = suggest(&records, &measures, wish);
        let prepared = Prepared::new(&records, &measures);
        let before = prepared.effect(&Settings::default());
        Self { records, measures, suggestions, prepared, before }
    }

    /// What these settings do to the person's own recordings.
    pub fn effect(&self, settings: &Settings) -> Effect {
        self.prepared.effect(settings)
    }
}
