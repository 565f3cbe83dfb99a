//! Recordings as comma-separated values: see `public/schema/README.md`.

mod keys;

use crate::{Trouble, Wrong};
use fitting::exchange::csv::VERSION;
use fitting::sample::MOST_CONTROLS;
use fitting::summary::{Body, Envelope, MOST_TASK_SAMPLES, TaskBody, Unreadable, plain_text};
use fitting::task::{TaskKind, TaskRecord};
use fitting::{Recording, Sample};
use keys::Keys;

/// The most lines of keys.
const MOST_KEYS: usize = 200_000;

/// What one column holds.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Column {
    Time,
    Axis(usize),
    Button(usize),
}

/// A column with the factor that brings it to seconds or shares.
type Scaled = (Column, f64);

/// The record of a text. `task` is what it is taken for when it does not say so itself.
///
/// # Errors
/// [`Trouble`] with what is wrong and where; never panics, whatever the text.
pub fn read(text: &str, task: Option<TaskKind>) -> Result<TaskRecord, Trouble> {
    let mut keys = Keys::default();
    for (line, told) in (1..).zip(text.lines()) {
        let Some(told) = told.strip_prefix('#') else { break };
        if line > MOST_KEYS as u64 {
            return Err(Trouble::of(Wrong::TooMany("lines of keys")));
        }
        keys.take(line, told)?;
    }
    if keys.version.is_some_and(|version| version > VERSION) {
        let found = keys.version.unwrap_or(0);
        let newer = Unreadable::NewerSchema { found, known: VERSION };
        return Err(Trouble::at(1, "stick_recording", Wrong::Json(newer)));
    }
    let samples = samples(text)?;
    let record = keys.record(Recording { samples, polled: Vec::new() }, task)?;
    // The same check that everything kept has to pass.
    let body = TaskBody {
        fitting: "csv".to_owned(),
        order: 0,
        started_epoch_ms: 0,
        series: 0,
        site: None,
        record,
    };
    let kept = Envelope::new("csv", 0, body);
    kept.body.check().map_err(|why| match why {
        Unreadable::OutOfRange { field } => {
            Trouble { field: Some(field.to_owned()), ..Trouble::of(Wrong::OutOfRange) }
        }
        other => Trouble::of(Wrong::Json(other)),
    })?;
    Ok(kept.body.record)
}

fn samples(text: &str) -> Result<Vec<Sample>, Trouble> {
    let mut reader = csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .flexible(true)
        .has_headers(false)
        .from_reader(text.as_bytes());
    let mut row = csv::StringRecord::new();
    let mut columns: Option<Vec<Scaled>> = None;
    let mut samples: Vec<Sample> = Vec::new();
    loop {
        match reader.read_record(&mut row) {
            Ok(true) => {}
            Ok(false) => break,
            Err(error) => {
                let line = error.position().map(csv::Position::line);
                return Err(Trouble { line, ..Trouble::of(Wrong::NotText) });
            }
        }
        let line = row.position().map_or(0, |start| line_of(text, start));
        // Keys before the columns were read already; elsewhere they are remarks.
        if row.get(0).is_some_and(|first| first.starts_with('#')) {
            continue;
        }
        let Some(columns) = &columns else {
            columns = Some(header(&row, line)?);
            continue;
        };
        if samples.len() == MOST_TASK_SAMPLES {
            return Err(Trouble::at(line, "time_s", Wrong::TooMany("lines")));
        }
        let sample = sample(&row, columns, line)?;
        if samples.last().is_some_and(|last| sample.arrival_seconds <= last.arrival_seconds) {
            return Err(Trouble::at(line, "time_s", Wrong::NotRising));
        }
        samples.push(sample);
    }
    if columns.is_some() { Ok(samples) } else { Err(Trouble::of(Wrong::NotOurs)) }
}

/// The line on which a row stands that was looked for from `start` on: empty lines are passed.
fn line_of(text: &str, start: &csv::Position) -> u64 {
    let from = usize::try_from(start.byte()).unwrap_or(usize::MAX);
    let passed = text.as_bytes().get(from..).unwrap_or_default().iter();
    let passed = passed.take_while(|byte| matches!(byte, b'\n' | b'\r'));
    start.line() + passed.filter(|byte| **byte == b'\n').count() as u64
}

/// What the columns are, by their names: each axis and button once, from 0 without a gap.
fn header(row: &csv::StringRecord, line: u64) -> Result<Vec<Scaled>, Trouble> {
    if row.len() > 1 + 2 * MOST_CONTROLS {
        return Err(Trouble::at(line, "header", Wrong::TooMany("columns")));
    }
    let mut columns = Vec::with_capacity(row.len());
    for (place, name) in (1..).zip(row) {
        let column = column(name).ok_or_else(|| Trouble {
            line: Some(line),
            column: Some(place),
            field: Some("header".to_owned()),
            wrong: Wrong::Unknown(plain_text(name, 40)),
        })?;
        columns.push(column);
    }
    let mut seen: Vec<Column> = columns.iter().map(|column| column.0).collect();
    seen.sort_unstable();
    let twice = seen.windows(2).any(|pair| pair[0] == pair[1]);
    if twice {
        return Err(Trouble::at(line, "header", Wrong::TooMany("columns of one name")));
    }
    if seen.first() != Some(&Column::Time) {
        return Err(Trouble::at(line, "time_s", Wrong::Missing));
    }
    let count = |is: fn(&Column) -> bool| seen.iter().filter(|column| is(column)).count();
    let axes = count(|column| matches!(column, Column::Axis(_)));
    let buttons = count(|column| matches!(column, Column::Button(_)));
    let whole = seen.iter().all(|column| match column {
        Column::Time => true,
        Column::Axis(index) => *index < axes,
        Column::Button(index) => *index < buttons,
    });
    if whole { Ok(columns) } else { Err(Trouble::at(line, "axis or button", Wrong::Missing)) }
}

fn column(name: &str) -> Option<Scaled> {
    let (what, unit) = name.rsplit_once('_')?;
    let numbered = |prefix: &str| {
        let index = what.strip_prefix(prefix)?.parse::<usize>().ok()?;
        (index < MOST_CONTROLS).then_some(index)
    };
    let column = match what {
        "time" => Column::Time,
        _ => {
            numbered("axis").map(Column::Axis).or_else(|| numbered("button").map(Column::Button))?
        }
    };
    let factor = match (column, unit) {
        (Column::Time, "s") | (Column::Axis(_) | Column::Button(_), "share") => 1.0,
        (Column::Time, "ms") => 0.001,
        (Column::Axis(_) | Column::Button(_), "percent") => 0.01,
        _ => return None,
    };
    Some((column, factor))
}

fn sample(row: &csv::StringRecord, columns: &[Scaled], line: u64) -> Result<Sample, Trouble> {
    if row.len() != columns.len() {
        let ragged = Wrong::Ragged { header: columns.len() as u64, row: row.len() as u64 };
        return Err(Trouble::at(line, "row", ragged));
    }
    let mut sample = Sample::default();
    let mut axes = [None; MOST_CONTROLS];
    let mut buttons = [None; MOST_CONTROLS];
    for (place, ((column, factor), text)) in (1..).zip(columns.iter().zip(row)) {
        let at = |field: String, wrong| Trouble {
            line: Some(line),
            column: Some(place),
            field: Some(field),
            wrong,
        };
        let (field, low, high) = match column {
            Column::Time => ("time_s".to_owned(), -8.64e6, 8.64e6),
            Column::Axis(index) => (format!("axis{index}_share"), -8.0, 8.0),
            Column::Button(index) => (format!("button{index}_share"), 0.0, 1.0),
        };
        if text.is_empty() && *column != Column::Time {
            continue;
        }
        let Some(number) = text.parse::<f64>().ok().filter(|number| number.is_finite()) else {
            let found = plain_text(text, 40);
            return Err(at(field, Wrong::Value { found, wanted: "a number" }));
        };
        let value = if *factor == 1.0 { number } else { number * factor };
        if !(low..=high).contains(&value) {
            return Err(at(field, Wrong::OutOfRange));
        }
        match column {
            Column::Time => sample.arrival_seconds = value,
            Column::Axis(index) => axes[*index] = Some(value),
            Column::Button(index) => buttons[*index] = Some(value),
        }
    }
    // Empty from some column on: the device had no more of them then.
    for (values, kept) in [(&axes, &mut sample.axes), (&buttons, &mut sample.buttons)] {
        let count = values.iter().position(Option::is_none).unwrap_or(MOST_CONTROLS);
        if values[count..].iter().any(Option::is_some) {
            return Err(Trouble::at(line, "axis or button", Wrong::Missing));
        }
        kept.extend(values.iter().flatten());
    }
    Ok(sample)
}
