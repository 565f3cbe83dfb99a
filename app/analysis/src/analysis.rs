//! What the core makes of recordings, in a form of its own: `public/schema/analysis-2.json`.

use crate::input::Visit;
use fitting::exchange::figures::{Line, effect, measured, suggested};
use fitting::measure::measure;
use fitting::suggest::{Prepared, Wish, suggest};
use fitting::task::TaskKind;
use fitting::{CORE_VERSION, Settings};
use serde::Serialize;

/// The version of the form.
pub const SCHEMA: u32 = 2;

/// One visit measured, in the envelope of everything kept.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Analysis {
    /// Always `analysis`.
    pub kind: &'static str,
    /// [`SCHEMA`].
    pub schema: u32,
    /// The version of the computing core.
    pub core: &'static str,
    /// `analysis-` and its place in the run, from 0.
    pub id: String,
    /// When it was made, milliseconds since 1970 UTC.
    pub made: u64,
    /// What was found.
    pub body: Findings,
}

/// What was found.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Findings {
    /// The files it rests on.
    pub files: Vec<String>,
    /// What the visit is called within its file; may be empty.
    pub label: String,
    /// The tasks recorded, in order.
    pub tasks: Vec<TaskKind>,
    /// What the person wants of the settings.
    pub wish: Wish,
    /// Everything measured.
    pub measures: Vec<Line>,
    /// Everything suggested: each number to type in, or why there is none.
    pub suggestions: Vec<Line>,
    /// What happens with the stick as it is (`raw`) and with the suggested settings
    /// (`suggested`), on the same recordings.
    pub effects: Vec<Line>,
}

/// Measures one visit.
#[must_use]
pub fn analyse(visit: &Visit, files: &[String], index: usize, made_epoch_ms: u64) -> Analysis {
    let records = &visit.records;
    let measures = measure(records);
    let suggestions = suggest(records, &measures, visit.wish);
    let prepared = Prepared::new(records, &measures);
    let raw = prepared.effect(&Settings::default());
    let as_suggested = prepared.effect(&suggestions.settings);
    let mut effects = effect("raw", &raw, &as_suggested);
    effects.extend(effect("suggested", &as_suggested, &raw));
    Analysis {
        kind: "analysis",
        schema: SCHEMA,
        core: CORE_VERSION,
        id: format!("analysis-{index}"),
        made: made_epoch_ms,
        body: Findings {
            files: files.to_vec(),
            label: visit.label.clone(),
            tasks: records.iter().map(|record| record.ask.kind()).collect(),
            wish: visit.wish,
            measures: measured(&measures),
            suggestions: suggested(&measures, &suggestions),
            effects,
        },
    }
}
