//! Recordings as comma-separated values: see `public/schema/README.md`.

mod asked;
mod keys;
mod plausible;

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

/// The columns, and the line on which they are named.
type Header = (u64, Vec<Scaled>);

/// The record of a text, and what is improbable about it. `task` is what it is taken for when it does
/// not say so itself.
///
/// # Errors
/// [`Trouble`] with what is wrong and where; never panics, whatever the text.
pub fn read(text: &str, task: Option<TaskKind>) -> Result<(TaskRecord, Vec<Trouble>), Trouble> {
    let mut keys = Keys::default();
    for (line, told) in (1..).zip(text.lines()) {
        if told.trim().is_empty() {
            continue;
        }
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
    let (header, samples) = samples(text)?;
    if samples.is_empty() {
        return Err(Trouble::at(header.0, "header", Wrong::NoRows));
    }
    if samples.len() == 1 && !keys.says_when() {
        return Err(Trouble::at(header.0, "header", Wrong::OneRow));
    }
    let asked_seconds = keys.seconds();
    let record = keys.record(Recording { samples, polled: Vec::new() }, task)?;
    let warnings = plausible::check(&header, &record, asked_seconds)?;
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
    Ok((kept.body.record, warnings))
}

fn samples(text: &str) -> Result<(Header, Vec<Sample>), Trouble> {
    let mut reader = csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .flexible(true)
        .has_headers(false)
        .from_reader(text.as_bytes());
    let mut row = csv::StringRecord::new();
    let mut header: Option<Header> = None;
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
        if let Some(remark) = row.get(0).and_then(|first| first.strip_prefix('#')) {
            if header.is_some() && Keys::knows(remark) {
                return Err(Trouble::at(line, "key", Wrong::KeyTooLate));
            }
            continue;
        }
        let Some((_, columns)) = &header else {
            header = Some((line, columns_of(&row, line)?));
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
    header.map(|header| (header, samples)).ok_or_else(|| Trouble::of(Wrong::NotOurs))
}

/// The line on which a row stands that was looked for from `start` on: empty lines are passed.
fn line_of(text: &str, start: &csv::Position) -> u64 {
    let from = usize::try_from(start.byte()).unwrap_or(usize::MAX);
    let passed = text.as_bytes().get(from..).unwrap_or_default().iter();
    let passed = passed.take_while(|byte| matches!(byte, b'\n' | b'\r'));
    start.line() + passed.filter(|byte| **byte == b'\n').count() as u64
}

/// What the columns are, by their names: each axis and button once, from 0 without a gap.
fn columns_of(row: &csv::StringRecord, line: u64) -> Result<Vec<Scaled>, Trouble> {
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

/// The name of a column, as it stands in the header.
fn column_name(column: Column, factor: f64) -> String {
    let whole = factor == 1.0;
    let share = if whole { "share" } else { "percent" };
    match column {
        Column::Time => if whole { "time_s" } else { "time_ms" }.to_owned(),
        Column::Axis(index) => format!("axis{index}_{share}"),
        Column::Button(index) => format!("button{index}_{share}"),
    }
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
        let at = |wrong| Trouble {
            line: Some(line),
            column: Some(place),
            field: Some(column_name(*column, *factor)),
            wrong,
        };
        // An axis of a hat switch goes beyond its ends (observed: up to 3.3); those of the stick are
        // held to less.
        let (low, high, todo) = match column {
            Column::Time => (-8.64e6, 8.64e6, "Times are within a hundred days of 0"),
            Column::Axis(_) => {
                (-8.0, 8.0, "An axis goes from -1 to 1, or from -100 to 100 percent")
            }
            Column::Button(_) => (0.0, 1.0, "A button goes from 0 to 1, or from 0 to 100 percent"),
        };
        if text.is_empty() && *column != Column::Time {
            continue;
        }
        let Some(number) = text.parse::<f64>().ok().filter(|number| number.is_finite()) else {
            let found = plain_text(text, 40);
            return Err(at(Wrong::Value { found, wanted: "a number" }));
        };
        let value = if *factor == 1.0 { number } else { number * factor };
        if !(low..=high).contains(&value) {
            let found = format!("out of range: {}", plain_text(text, 40));
            return Err(at(Wrong::Implausible { found, todo: todo.to_owned() }));
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
