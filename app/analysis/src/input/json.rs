//! Files of the page, through the core's own readers: everything kept, one fitting with its tasks, a
//! rescued store, or a single task.

use super::{Contents, Visit};
use crate::{Trouble, Wrong};
use fitting::suggest::Wish;
use fitting::summary::kept_file::{FITTINGS, FileError, KeptFile, Row, TASKS, read_file};
use fitting::summary::{
    Envelope, FittingBody, TaskBody, Unreadable, plain_text, read as read_kept,
};
use serde::Deserialize;
use serde_json::value::RawValue;
use std::collections::BTreeSet;

/// So many things that lie aside are named one by one.
const MOST_NAMED: usize = 10;

#[derive(Deserialize)]
struct Outside {
    kind: String,
}

/// The visits of a JSON file.
pub(super) fn read(text: &str) -> Result<Contents, Trouble> {
    let outside: Outside = serde_json::from_str(text).map_err(|error| broken(&error))?;
    let no_recordings = |what| Err(Trouble::of(Wrong::NoRecordings(what)));
    match outside.kind.as_str() {
        "kept" | "rescue" => contents(&read_file(text).map_err(|why| refused(text, why))?),
        "task" => {
            let task: Envelope<TaskBody> =
                read_kept(text).map_err(|why| placed(text, text, "task", why))?;
            let records = vec![task.body.record];
            Ok(Visit { label: String::new(), wish: Wish::default(), records }.into())
        }
        "fitting" => no_recordings("a fitting by itself: what was chosen and said"),
        "summary" => no_recordings("a summary: the results of a fitting"),
        "host" => no_recordings("a description of what a stick is plugged into (host)"),
        "analysis" => no_recordings("an analysis: what this command wrote"),
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

/// Each fitting's visits, a set-up each: what was recorded with one never mixes with another's.
fn contents(file: &KeptFile) -> Result<Contents, Trouble> {
    let mut tasks: Vec<&TaskBody> = file.tasks.iter().map(|task| &task.body).collect();
    tasks.sort_by_key(|task| task.order);
    let mut found = Contents::default();
    for (index, fitting) in file.fittings.iter().enumerate() {
        let name = name(&fitting.body, index, file.fittings.len());
        // A body part that was only looked at is no part of the assessment.
        let of_it = |task: &&&TaskBody| task.fitting == fitting.id && task.site.is_none();
        let own: Vec<&TaskBody> = tasks.iter().filter(of_it).copied().collect();
        if own.is_empty() && file.fittings.len() > 1 {
            let field = Some(format!("{FITTINGS}[{index}] ({name})"));
            found.warnings.push(Trouble { field, ..Trouble::of(Wrong::Empty) });
        }
        let series: BTreeSet<u32> = own.iter().map(|task| task.series).collect();
        for number in &series {
            let mut label = vec![name.clone()];
            if series.len() > 1 {
                label.push(format!("set-up {}", number + 1));
            }
            label.extend(practised(&fitting.body));
            label.retain(|part| !part.is_empty());
            let with_it = own.iter().filter(|task| task.series == *number);
            let records = with_it.map(|task| task.record.clone()).collect();
            found.visits.push(Visit { label: label.join(", "), wish: fitting.body.wish, records });
        }
    }
    found.warnings.extend(file.set_aside.iter().take(MOST_NAMED).map(left_out));
    if let Some(more) = file.set_aside.len().checked_sub(MOST_NAMED).filter(|more| *more > 0) {
        let field = Some(format!("{more} more"));
        found.warnings.push(Trouble { field, ..Trouble::of(Wrong::LeftOut(None)) });
    }
    if found.visits.is_empty() {
        // One reason says more than that there is nothing.
        let why = found.warnings.into_iter().find(|one| one.wrong != Wrong::Empty);
        return Err(why.unwrap_or_else(|| Trouble::of(Wrong::Empty)));
    }
    Ok(found)
}

/// What a fitting is called: among several each has some name.
fn name(fitting: &FittingBody, index: usize, count: usize) -> String {
    match fitting.label.as_str() {
        "" if count > 1 => format!("fitting {}", index + 1),
        label => label.to_owned(),
    }
}

/// Who played, where it was nobody with a real stick.
fn practised(fitting: &FittingBody) -> Option<String> {
    fitting.practised.as_deref().map(|code| match code {
        "practice" => "practice stick".to_owned(),
        code => format!("invented person {code}"),
    })
}

/// Why something lies aside.
fn left_out(row: &Row) -> Trouble {
    let why = match row.id.split_once(':') {
        Some((FITTINGS, _)) => read_kept::<FittingBody>(&row.json).err(),
        Some((TASKS, _)) => read_kept::<TaskBody>(&row.json).err(),
        _ => None,
    };
    Trouble { field: Some(plain_text(&row.id, 80)), ..Trouble::of(Wrong::LeftOut(why)) }
}

/// Why a whole file is refused, and where.
fn refused(text: &str, why: FileError) -> Trouble {
    match why {
        FileError::TooLarge => Trouble::of(Wrong::TooLarge),
        FileError::NotJson => serde_json::from_str::<serde::de::IgnoredAny>(text)
            .err()
            .map_or_else(|| Trouble::of(Wrong::NotOurs), |error| broken(&error)),
        FileError::Foreign => Trouble::of(Wrong::NotOurs),
        FileError::Newer => Trouble::of(Wrong::Newer),
        FileError::Changed => Trouble::of(Wrong::Changed),
        FileError::Damaged { place, why: None } => {
            Trouble { field: Some(place), ..Trouble::of(Wrong::WithoutFitting) }
        }
        FileError::Damaged { place, why: Some(why) } => match at_place(text, &place) {
            Some(part) => placed(text, part, &place, why),
            None => Trouble { field: Some(place), ..Trouble::of(Wrong::Json(why)) },
        },
    }
}

/// The text at a place such as `tasks[2]`: only to say on which line it stands.
fn at_place<'a>(text: &'a str, place: &str) -> Option<&'a str> {
    #[derive(Deserialize)]
    struct Lists<'a> {
        #[serde(borrow)]
        fittings: Vec<&'a RawValue>,
        #[serde(borrow)]
        tasks: Vec<&'a RawValue>,
    }
    let lists: Lists<'_> = serde_json::from_str(text).ok()?;
    let (list, index) = place.strip_suffix(']')?.split_once('[')?;
    let list = match list {
        FITTINGS => lists.fittings,
        TASKS => lists.tasks,
        _ => return None,
    };
    list.get(index.parse::<usize>().ok()?).map(|raw| raw.get())
}

/// What is wrong with one kept thing, which stands somewhere within the file's text.
fn placed(file: &str, part: &str, place: &str, why: Unreadable) -> Trouble {
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
}
