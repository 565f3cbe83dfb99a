//! A recorded task as text of comma-separated values (RFC 4180), units in its header.
//!
//! First what was asked, in lines `# key: value`; then one line of column names, `time_s`,
//! `axis0_share` …, `button0_share` …; then one line for each change of the device's state. A
//! value holds until the next line. Every number is written so that it comes back to the last
//! bit. The whole form, and how it is read, is described in `public/schema/README.md`.

use crate::stick_kind::{Mover, Moves};
use crate::task::{Repetition, TaskAsk, TaskRecord};
use crate::{AxisPick, Position, Span, StickKind};
use serde::Serialize;
use std::fmt::Write;

/// The version of the form, in its first line.
pub const VERSION: u32 = 1;

/// A recorded task as text.
#[must_use]
pub fn write(record: &TaskRecord) -> String {
    let mut text = String::new();
    key(&mut text, "stick_recording", &VERSION.to_string());
    asked(&mut text, &record.ask);
    key(&mut text, "asking", &name(&record.asking));
    key(&mut text, "cue", &name(&record.cue));
    key(&mut text, "stick_right", &pick(record.axes.horizontal));
    key(&mut text, "stick_down", &pick(record.axes.vertical));
    let known = &record.known;
    key(&mut text, "centre_share", &place(known.centre));
    key(&mut text, "quiet_radius_share", &known.quiet_radius.to_string());
    for reach in &known.reach {
        key(&mut text, "known_reach", &format!("{},{}", name(&reach.asked), place(reach.end)));
    }
    kind(&mut text, known.kind);
    for span in &record.recording.polled {
        key(&mut text, "polled_s", &between(*span));
    }
    if record.recording.polled.is_empty() {
        key(&mut text, "polled_s", "none");
    }
    for pause in &record.pauses {
        key(&mut text, "pause_s", &between(*pause));
    }
    for repetition in &record.repetitions {
        key(&mut text, "repetition_s", &done(repetition));
    }
    if record.repetitions.is_empty() {
        key(&mut text, "repetition_s", "none");
    }
    key(&mut text, "muscle_s", &record.muscle_seconds.to_string());
    samples(&mut text, record);
    text
}

fn samples(text: &mut String, record: &TaskRecord) {
    let samples = &record.recording.samples;
    let axes = samples.iter().map(|sample| sample.axes.len()).max().unwrap_or(0);
    let buttons = samples.iter().map(|sample| sample.buttons.len()).max().unwrap_or(0);
    text.push_str("time_s");
    for axis in 0..axes {
        told(text, format_args!(",axis{axis}_share"));
    }
    for button in 0..buttons {
        told(text, format_args!(",button{button}_share"));
    }
    text.push('\n');
    for sample in samples {
        told(text, format_args!("{}", sample.arrival_seconds));
        cells(text, &sample.axes, axes);
        cells(text, &sample.buttons, buttons);
        text.push('\n');
    }
}

/// The values of one kind; what this sample has none of stays empty.
fn cells(text: &mut String, values: &[f64], columns: usize) {
    for column in 0..columns {
        match values.get(column) {
            Some(value) => told(text, format_args!(",{value}")),
            None => text.push(','),
        }
    }
}

fn asked(text: &mut String, ask: &TaskAsk) {
    key(text, "task", &name(&ask.kind()));
    let list = |values: Vec<String>| values.join(",");
    let (mut directions, mut levels, mut rounds, mut seconds) = (None, None, None, None);
    match ask {
        TaskAsk::HandsOff { seconds: asked }
        | TaskAsk::QuietRest { seconds: asked }
        | TaskAsk::FreeMovement { seconds: asked } => seconds = Some(asked),
        TaskAsk::BusyRest { seconds: asked, meanwhile } => {
            seconds = Some(asked);
            key(text, "meanwhile", &name(meanwhile));
        }
        TaskAsk::Reach { directions: asked, rounds: times } => {
            (directions, rounds) = (Some(asked), Some(times));
        }
        TaskAsk::Hold { directions: asked, levels: shares, rounds: times, seconds: long } => {
            (directions, rounds, seconds) = (Some(asked), Some(times), Some(long));
            levels = Some(shares.iter().map(f64::to_string).collect());
        }
        TaskAsk::Sustained { directions: asked, level, seconds: long } => {
            (directions, seconds) = (Some(asked), Some(long));
            levels = Some(vec![level.to_string()]);
        }
        TaskAsk::Return { directions: asked, level, rounds: times } => {
            (directions, rounds) = (Some(asked), Some(times));
            levels = Some(vec![level.to_string()]);
        }
        TaskAsk::Presses { buttons, rounds: times } => {
            rounds = Some(times);
            key(text, "buttons", &list(buttons.iter().map(usize::to_string).collect()));
        }
    }
    if let Some(directions) = directions {
        key(text, "directions", &list(directions.iter().map(name).collect()));
    }
    if let Some(levels) = levels {
        key(text, "levels_share", &list(levels));
    }
    if let Some(rounds) = rounds {
        key(text, "rounds", &rounds.to_string());
    }
    if let Some(seconds) = seconds {
        key(text, "seconds", &seconds.to_string());
    }
}

fn kind(text: &mut String, kind: StickKind) {
    let mut traits = Vec::new();
    match kind.moves {
        Moves::TwoAxes => {}
        Moves::OneAxis => traits.push("one_axis"),
        Moves::OneWay => traits.push("one_way"),
    }
    if !kind.centres_itself {
        traits.push("not_self_centring");
    }
    if kind.force {
        traits.push("force");
    }
    if kind.switches {
        traits.push("switches");
    }
    if !traits.is_empty() {
        key(text, "stick_kind", &traits.join(","));
    }
    if kind.mover != Mover::default() {
        key(text, "mover", &name(&kind.mover));
    }
}

fn done(repetition: &Repetition) -> String {
    let mut told = format!("{},{}", between(repetition.span), name(&repetition.outcome));
    let mut also = |field: &str, value: Option<String>| {
        if let Some(value) = value {
            told.push_str(&format!(",{field}={value}"));
        }
    };
    also("direction", repetition.direction.as_ref().map(name));
    also("level", repetition.level.map(|level| level.to_string()));
    also("mark", repetition.mark.as_ref().map(name));
    also("queried_degrees", repetition.queried_degrees.map(|degrees| degrees.to_string()));
    also("queried_reach", repetition.queried_short.map(|short| short.reach.to_string()));
    also("usual_reach", repetition.queried_short.map(|short| short.usual.to_string()));
    also("button", repetition.button.map(|button| button.to_string()));
    also("press", repetition.press.as_ref().map(name));
    also("effort", repetition.effort.map(|effort| effort.to_string()));
    told
}

fn key(text: &mut String, key: &str, value: &str) {
    told(text, format_args!("# {key}: {value}\n"));
}

fn told(text: &mut String, what: std::fmt::Arguments<'_>) {
    // Writing into a text cannot fail.
    let _ = text.write_fmt(what);
}

fn between(span: Span) -> String {
    format!("{},{}", span.from_seconds, span.to_seconds)
}

fn place(at: Position) -> String {
    format!("{},{}", at.right, at.up)
}

fn pick(pick: AxisPick) -> String {
    let sign = if pick.inverted { "-" } else { "" };
    if pick.index == AxisPick::NONE.index {
        format!("{sign}none")
    } else {
        format!("{sign}axis{}", pick.index)
    }
}

/// The name of one of a few, as in everything kept.
fn name(of: &impl Serialize) -> String {
    serde_json::to_value(of)
        .ok()
        .and_then(|value| value.as_str().map(str::to_owned))
        .unwrap_or_default()
}
