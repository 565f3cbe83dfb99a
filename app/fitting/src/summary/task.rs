//! One recorded task as it is kept.

use super::envelope::{LAST_EPOCH_MS, extended};
use super::unreadable::hold;
use super::{Body, Envelope, Kind, Unreadable, is_id};
pub use crate::recording::MOST_SAMPLES as MOST_TASK_SAMPLES;
use crate::recording::{MOST_MEMORY_BYTES, MOST_SPANS, memory_bytes};
use crate::sample::MOST_CONTROLS;
use crate::task::{MOST_REPETITIONS, TaskAsk, TaskRecord};
use crate::visit::{MOST_SET_UPS, MOST_SITES};
use crate::{AxisPick, Position, Recording, Span};
use serde::{Deserialize, Serialize};

const MOST_LISTED: usize = 64;
/// A hundred days on the page's clock.
const LAST_SECONDS: f64 = 8.64e6;
const LARGEST_VALUE: f64 = 8.0;

/// One task of a fitting with everything that was recorded.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TaskBody {
    /// The id of the fitting it belongs to.
    pub fitting: String,
    /// Its place among the fitting's tasks, from 0.
    pub order: u32,
    /// When it started, milliseconds since 1970 UTC.
    pub started_epoch_ms: u64,
    /// The set-up it was recorded with, as its place among the fitting's set-ups, from 0.
    #[serde(default)]
    pub series: u32,
    /// The body part that was looked at with it, as its place among the fitting's, from 0; nothing
    /// for a task of the assessment itself.
    #[serde(default)]
    pub site: Option<u8>,
    /// What was asked, what was recorded.
    pub record: TaskRecord,
}

impl Body for TaskBody {
    const KIND: Kind = Kind::Task;
    const SCHEMA: u32 = 4;
    const MOST_BYTES: usize = 1 << 28;

    fn check(&self) -> Result<(), Unreadable> {
        hold(is_id(&self.fitting), "fitting")?;
        hold(self.order <= 100_000, "order")?;
        hold(self.started_epoch_ms <= LAST_EPOCH_MS, "started_epoch_ms")?;
        hold((self.series as usize) < MOST_SET_UPS, "series")?;
        let site = self.site.is_none_or(|site| usize::from(site) < MOST_SITES);
        hold(site, "site")?;
        check_record(&self.record)
    }

    /// Schema 1 knew four kinds of task, no kind of stick (each was the usual one), and neither
    /// button nor press nor effort of a repetition. Schema 2 knew one set-up and one way to ask.
    /// Schema 3 had the samples as a list.
    fn from_older(schema: u32, json: &str) -> Result<Envelope<Self>, Unreadable> {
        match schema {
            1..=3 => extended(json),
            found => Err(Unreadable::UnknownSchema { found }),
        }
    }
}

fn check_record(record: &TaskRecord) -> Result<(), Unreadable> {
    check_ask(&record.ask)?;
    hold(is_place(record.known.centre), "record.known.centre")?;
    hold(is_share(record.known.quiet_radius), "record.known.quiet_radius")?;
    let reach = &record.known.reach;
    hold(reach.len() <= MOST_LISTED, "record.known.reach")?;
    hold(reach.iter().all(|known| is_place(known.end)), "record.known.reach.end")?;
    check_recording(&record.recording)?;
    // Before its first report a device has no axes.
    let axes = record.recording.samples.iter().map(|sample| sample.axes.len()).max();
    let axes = axes.unwrap_or(MOST_CONTROLS);
    let picked = |pick: AxisPick| pick.index < axes || pick.index == AxisPick::NONE.index;
    hold(picked(record.axes.horizontal), "record.axes.horizontal")?;
    hold(picked(record.axes.vertical), "record.axes.vertical")?;
    let repetitions = &record.repetitions;
    hold(repetitions.len() <= MOST_REPETITIONS, "record.repetitions")?;
    for repetition in repetitions {
        hold(is_span(repetition.span), "record.repetitions.span")?;
        hold(repetition.level.is_none_or(is_share), "record.repetitions.level")?;
        let known = repetition.button.is_none_or(|button| button < MOST_CONTROLS);
        hold(known, "record.repetitions.button")?;
        let effort = repetition.effort.is_none_or(|effort| effort <= 10);
        hold(effort, "record.repetitions.effort")?;
        let queried = repetition.queried_degrees;
        hold(
            queried.is_none_or(|degrees| degrees.abs() <= 360.0),
            "record.repetitions.queried_degrees",
        )?;
        let short = repetition.queried_short.map(|short| [short.reach, short.usual]);
        let is_length = |length: &f64| (0.0..=2.0).contains(length);
        hold(
            short.is_none_or(|both| both.iter().all(is_length)),
            "record.repetitions.queried_short",
        )?;
    }
    hold(record.pauses.len() <= MOST_SPANS, "record.pauses")?;
    hold(record.pauses.iter().all(|span| is_span(*span)), "record.pauses")?;
    hold((0.0..=LAST_SECONDS).contains(&record.muscle_seconds), "record.muscle_seconds")
}

fn check_ask(ask: &TaskAsk) -> Result<(), Unreadable> {
    let seconds =
        |seconds: f64| hold((0.0..=LAST_SECONDS).contains(&seconds), "record.ask.seconds");
    match ask {
        TaskAsk::HandsOff { seconds: asked }
        | TaskAsk::QuietRest { seconds: asked }
        | TaskAsk::BusyRest { seconds: asked, .. }
        | TaskAsk::FreeMovement { seconds: asked } => seconds(*asked),
        TaskAsk::Sustained { directions, level, seconds: asked } => {
            hold(directions.len() <= MOST_LISTED, "record.ask.directions")?;
            hold(is_share(*level), "record.ask.level")?;
            seconds(*asked)
        }
        TaskAsk::Return { directions, level, rounds } => {
            hold(directions.len() <= MOST_LISTED, "record.ask.directions")?;
            hold(is_share(*level), "record.ask.level")?;
            hold(*rounds <= MOST_REPETITIONS, "record.ask.rounds")
        }
        TaskAsk::Presses { buttons, rounds } => {
            hold(buttons.len() <= MOST_CONTROLS, "record.ask.buttons")?;
            let known = buttons.iter().all(|button| *button < MOST_CONTROLS);
            hold(known, "record.ask.buttons")?;
            hold(*rounds <= MOST_REPETITIONS, "record.ask.rounds")
        }
        TaskAsk::Reach { directions, rounds } => {
            hold(directions.len() <= MOST_LISTED, "record.ask.directions")?;
            hold(*rounds <= MOST_REPETITIONS, "record.ask.rounds")
        }
        TaskAsk::Hold { directions, levels, rounds, seconds: asked } => {
            hold(directions.len() <= MOST_LISTED, "record.ask.directions")?;
            hold(levels.len() <= MOST_LISTED, "record.ask.levels")?;
            hold(levels.iter().all(|level| is_share(*level)), "record.ask.levels")?;
            hold(*rounds <= MOST_REPETITIONS, "record.ask.rounds")?;
            seconds(*asked)
        }
    }
}

fn check_recording(recording: &Recording) -> Result<(), Unreadable> {
    let samples = &recording.samples;
    hold(samples.len() <= MOST_TASK_SAMPLES, "record.recording.samples")?;
    let memory: usize = samples.iter().map(memory_bytes).sum();
    hold(memory <= MOST_MEMORY_BYTES, "record.recording.samples")?;
    for sample in samples {
        hold(is_time(sample.arrival_seconds), "record.recording.samples.arrival_seconds")?;
        hold(sample.axes.len() <= MOST_CONTROLS, "record.recording.samples.axes")?;
        hold(sample.buttons.len() <= MOST_CONTROLS, "record.recording.samples.buttons")?;
        let axes = sample.axes.iter().all(|value| value.abs() <= LARGEST_VALUE);
        hold(axes, "record.recording.samples.axes")?;
        let buttons = sample.buttons.iter().all(|value| (0.0..=1.0).contains(value));
        hold(buttons, "record.recording.samples.buttons")?;
    }
    let rising = samples.windows(2).all(|pair| pair[0].arrival_seconds < pair[1].arrival_seconds);
    hold(rising, "record.recording.samples.arrival_seconds")?;
    let polled = &recording.polled;
    hold(polled.len() <= MOST_SPANS, "record.recording.polled")?;
    hold(polled.iter().all(|span| is_span(*span)), "record.recording.polled")?;
    let ordered = polled.windows(2).all(|pair| pair[0].to_seconds <= pair[1].from_seconds);
    hold(ordered, "record.recording.polled")
}

// Each of these is false for what is not finite.

fn is_time(seconds: f64) -> bool {
    seconds.abs() <= LAST_SECONDS
}

fn is_span(span: Span) -> bool {
    is_time(span.from_seconds) && is_time(span.to_seconds) && span.from_seconds <= span.to_seconds
}

fn is_share(share: f64) -> bool {
    (0.0..=LARGEST_VALUE).contains(&share)
}

fn is_place(place: Position) -> bool {
    // Two axes, one taken from the other's middle: twice the largest value of one.
    place.right.abs() <= 2.0 * LARGEST_VALUE && place.up.abs() <= 2.0 * LARGEST_VALUE
}
