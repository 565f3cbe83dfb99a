//! What the core makes of recordings, in a form of its own: `public/schema/analysis-1.json`.

use crate::input::Visit;
use crate::lines;
use fitting::estimate::{Measured, NotEnough, Sureness};
use fitting::measure::measure;
use fitting::suggest::{Prepared, Wish, suggest};
use fitting::task::TaskKind;
use fitting::{CORE_VERSION, Settings};
use serde::Serialize;

/// The version of the form.
pub const SCHEMA: u32 = 1;

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
    /// Everything suggested.
    pub suggestions: Vec<Line>,
    /// What happens with the stick as it is (`raw`) and with the suggested settings
    /// (`suggested`), on the same recordings.
    pub effects: Vec<Line>,
    /// The suggested settings.
    pub settings: Settings,
}

/// One number with its unit, its 95 % interval and what it rests on, or why there is none.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Line {
    /// What it is.
    pub name: String,
    /// Of what: a direction, a level, a button; empty when there is one only.
    pub of: String,
    /// The unit.
    pub unit: Unit,
    /// The best single number.
    pub value: Option<f64>,
    /// Lower end of the 95 % interval.
    pub low: Option<f64>,
    /// Upper end of the 95 % interval.
    pub high: Option<f64>,
    /// Seconds of recording behind it.
    pub seconds: Option<f64>,
    /// Repetitions behind it.
    pub repetitions: Option<usize>,
    /// How much weight a suggestion can bear.
    pub sureness: Option<Sureness>,
    /// Why there is no number, where a reason is known.
    pub lacking: Option<NotEnough>,
}

/// Units.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Unit {
    /// A share of the stick's travel.
    #[serde(rename = "share_of_travel")]
    Travel,
    /// A share of the stick's travel a minute.
    #[serde(rename = "share_of_travel_per_minute")]
    TravelPerMinute,
    /// A share of full output.
    #[serde(rename = "share_of_output")]
    Output,
    /// A share of a whole that the name tells.
    Share,
    /// How often a minute.
    PerMinute,
    /// Seconds.
    Seconds,
    /// Degrees, from right towards up.
    Degrees,
    /// Hertz.
    Hertz,
    /// Bits.
    Bits,
    /// A number of things.
    Count,
    /// 0 to 10.
    OfTen,
    /// Output is input to this power.
    Exponent,
    /// Multiplies.
    Factor,
    /// 1 for yes, 0 for no.
    YesNo,
}

impl Line {
    pub(crate) fn plain(name: &str, of: &str, unit: Unit, value: Option<f64>) -> Self {
        Self {
            name: name.to_owned(),
            of: of.to_owned(),
            unit,
            value,
            low: None,
            high: None,
            seconds: None,
            repetitions: None,
            sureness: None,
            lacking: None,
        }
    }

    pub(crate) fn measured(name: &str, of: &str, unit: Unit, told: &Measured) -> Self {
        let mut line = Self::plain(name, of, unit, None);
        match told {
            Ok(estimate) => {
                line.value = Some(estimate.value);
                (line.low, line.high) = (Some(estimate.low), Some(estimate.high));
                line.seconds = Some(estimate.basis.seconds);
                line.repetitions = Some(estimate.basis.repetitions);
            }
            Err(why) => line.lacking = Some(*why),
        }
        line
    }
}

/// Measures one visit.
#[must_use]
pub fn analyse(visit: &Visit, files: &[String], index: usize, made_epoch_ms: u64) -> Analysis {
    let records = &visit.records;
    let measures = measure(records);
    let suggestions = suggest(records, &measures, visit.wish);
    let prepared = Prepared::new(records, &measures);
    let mut effects = lines::effect("raw", &prepared.effect(&Settings::default()));
    effects.extend(lines::effect("suggested", &prepared.effect(&suggestions.settings)));
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
            measures: lines::measured(&measures),
            suggestions: lines::suggested(&suggestions),
            effects,
            settings: suggestions.settings,
        },
    }
}
