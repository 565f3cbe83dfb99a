//! Files of the page: everything kept, one fitting with its tasks, or a single task.

use super::Visit;
use crate::{Trouble, Wrong};
use fitting::suggest::Wish;
use fitting::summary::{Body, Envelope, FittingBody, TaskBody, Unreadable, read as read_kept};
use serde::Deserialize;
use serde_json::value::RawValue;
use std::collections::BTreeSet;
use std::fmt::Write;

/// The most things in one file.
const MOST_ROWS: usize = 100_000;

#[derive(Deserialize)]
struct Outside {
    kind: String,
    schema: u32,
}

#[derive(Deserialize)]
struct Kept<'a> {
    #[serde(borrow)]
    fittings: Vec<&'a RawValue>,
    #[serde(borrow)]
    tasks: Vec<&'a RawValue>,
}

/// The visits of a JSON file.
pub(super) fn read(text: &str) -> Result<Vec<Visit>, Trouble> {
    let outside: Outside = serde_json::from_str(text).map_err(|error| broken(&error))?;
    match outside.kind.as_str() {
        "kept" if outside.schema == 1 => kept(text),
        "kept" => {
            let newer = Unreadable::NewerSchema { found: outside.schema, known: 1 };
            Err(Trouble::of(Wrong::Json(newer)))
        }
        "task" => {
            let task: Envelope<TaskBody> = one(text, text, "task")?;
            let records = vec![task.body.record];
            Ok(vec![Visit { label: String::new(), wish: Wish::default(), records }])
        }
        _ => Err(Trouble::of(Wrong::NotOurs)),
    }
}

fn broken(error: &serde_json::Error) -> Trouble {
    let wrong = match error.classify() {
        serde_json::error::Category::Data => Wrong::NotOurs,
        _ => Wrong::Json(Unreadable::NotJson { line: error.line(), column: error.column() }),
    };
    Trouble {
        line: Some(error.line() as u64),
        column: Some(error.column() as u64),
        ..Trouble::of(wrong)
    }
}

fn kept(text: &str) -> Result<Vec<Visit>, Trouble> {
    let kept: Kept<'_> = serde_json::from_str(text).map_err(|error| broken(&error))?;
    if kept.fittings.len() > MOST_ROWS || kept.tasks.len() > MOST_ROWS {
        return Err(Trouble::of(Wrong::TooMany("things")));
    }
    let mut tasks = Vec::with_capacity(kept.tasks.len());
    for (index, raw) in kept.tasks.iter().enumerate() {
        let task: Envelope<TaskBody> = one(text, raw.get(), &format!("tasks[{index}]"))?;
        tasks.push(task.body);
    }
    tasks.sort_by_key(|task| task.order);
    let mut visits = Vec::new();
    for (index, raw) in kept.fittings.iter().enumerate() {
        let fitting: Envelope<FittingBody> = one(text, raw.get(), &format!("fittings[{index}]"))?;
        // A body part that was only looked at is no part of the assessment.
        let own: Vec<&TaskBody> =
            tasks.iter().filter(|task| task.fitting == fitting.id && task.site.is_none()).collect();
        let series: BTreeSet<u32> = own.iter().map(|task| task.series).collect();
        // What was recorded with one set-up never mixes with another's.
        for number in &series {
            let with_it = own.iter().filter(|task| task.series == *number);
            let records = with_it.map(|task| task.record.clone()).collect();
            let mut label = fitting.body.label.clone();
            if series.len() > 1 {
                let between = if label.is_empty() { "" } else { ", " };
                let _ = write!(label, "{between}set-up {}", number + 1);
            }
            visits.push(Visit { label, wish: fitting.body.wish, records });
        }
    }
    if visits.is_empty() { Err(Trouble::of(Wrong::Empty)) } else { Ok(visits) }
}

/// One kept thing, which stands somewhere within the file's text.
fn one<T: Body>(file: &str, part: &str, place: &str) -> Result<Envelope<T>, Trouble> {
    read_kept::<T>(part).map_err(|why| {
        // Both are slices of one text, so that the difference of their places is an offset.
        let offset = (part.as_ptr() as usize).saturating_sub(file.as_ptr() as usize);
        let before = file.get(..offset).unwrap_or("");
        let first = before.matches('\n').count() as u64 + 1;
        let indent = before.rsplit('\n').next().map_or(0, str::len) as u64;
        let (line, column, field) = match &why {
            Unreadable::NotJson { line, column } | Unreadable::Shape { line, column, .. } => {
                let column = *column as u64 + if *line == 1 { indent } else { 0 };
                (first + *line as u64 - 1, Some(column), place.to_owned())
            }
            Unreadable::OutOfRange { field } => (first, None, format!("{place}.{field}")),
            _ => (first, None, place.to_owned()),
        };
        Trouble { line: Some(line), column, field: Some(field), wrong: Wrong::Json(why) }
    })
}
