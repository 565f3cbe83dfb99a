//! Several kept things as one file, and such files read again.
//!
//! The file: `{ "kind": "kept", "schema": 2, "core", "made", "sum", "fittings": [envelope…], "tasks":
//! [envelope…], "set_aside": [{ "id", "fitting", "json" }…] }`, where `sum` is the CRC-32 of all the
//! texts in these lists as they stand, one after another. Schema 1 had no sum. A file without one
//! is read, too: somebody may have changed it by hand and taken it out, so as to say so. Schema 3 is
//! written only where rows of a task that was under way are set aside, which schema 2 does not know.
//!
//! Files of the rescue script (`"kind": "rescue"`, rows as they stand in the database) are read too.

use super::checksum::crc32_of;
use super::under_way::{Journal, Recovered};
use super::unreadable::hold;
use super::{Body, Envelope, FittingBody, MOST_ID_CHARACTERS, TaskBody, Unreadable, read};
use crate::CORE_VERSION;
use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;
use std::collections::BTreeSet;

/// The largest file that is read, bytes: a day of recordings.
pub const MOST_FILE_BYTES: usize = 1 << 28;

/// The most things in one file.
const MOST_ROWS: usize = 100_000;

/// The newest schema of the file.
const SCHEMA: u32 = 3;
/// The schema of a file without rows of tasks that were under way.
const USUAL_SCHEMA: u32 = 2;

/// The tables in which things lie that can be set aside.
pub const FITTINGS: &str = "fittings";
/// See [`FITTINGS`].
pub const TASKS: &str = "tasks";
/// See [`FITTINGS`]; heads and pieces of tasks that were under way.
pub const RUNNING: &str = "running";

/// A row that cannot be read, or has no fitting, as it stands.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Row {
    /// The table it lay in, a colon, and its id there.
    pub id: String,
    /// The id of its fitting.
    pub fitting: String,
    /// Its text.
    pub json: String,
}

/// What a file holds.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct KeptFile {
    /// Fittings, each with an id of its own.
    pub fittings: Vec<Envelope<FittingBody>>,
    /// Tasks, each with an id of its own; in a file that was read, each of one of the fittings.
    pub tasks: Vec<Envelope<TaskBody>>,
    /// What lies aside.
    pub set_aside: Vec<Row>,
}

/// Why a file cannot be taken in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FileError {
    /// It is larger than any that is read.
    TooLarge,
    /// It is not JSON, or was cut off.
    NotJson,
    /// It is not one of this page's files.
    Foreign,
    /// A newer version of this page wrote it.
    Newer,
    /// It was changed after it was written: its checksum is another.
    Changed,
    /// It is one of this page's files, and something in it cannot be read.
    Damaged {
        /// What, by its place in the file: `fittings[2]`.
        place: String,
        /// What is wrong with it; `None` for a task that belongs to no fitting.
        why: Option<Unreadable>,
    },
}

#[derive(Serialize, Deserialize)]
struct Written {
    kind: String,
    schema: u32,
    #[serde(default)]
    core: String,
    #[serde(default)]
    made: u64,
    #[serde(default)]
    sum: Option<String>,
    fittings: Vec<Box<RawValue>>,
    tasks: Vec<Box<RawValue>>,
    #[serde(default)]
    set_aside: Vec<Row>,
}

#[derive(Deserialize)]
struct Outside {
    kind: String,
    schema: u32,
}

#[derive(Deserialize)]
struct Rescued {
    stores: RescuedStores,
}

#[derive(Deserialize)]
struct RescuedStores {
    #[serde(default)]
    fittings: Vec<Record>,
    #[serde(default)]
    tasks: Vec<Record>,
    #[serde(default)]
    running: Vec<Record>,
    #[serde(default)]
    set_aside: Vec<Record>,
}

#[derive(Deserialize)]
struct Record {
    value: Row,
}

/// The texts of fittings and tasks as one file, with what lies aside. The texts are those of
/// [`Envelope::to_json`]; they are not looked into.
///
/// # Errors
/// [`Unreadable::NotJson`] for a text that is none.
pub fn write(
    made_epoch_ms: u64,
    fittings: Vec<String>,
    tasks: Vec<String>,
    set_aside: Vec<Row>,
) -> Result<String, Unreadable> {
    let raw = |texts: Vec<String>| -> Result<Vec<Box<RawValue>>, Unreadable> {
        let one = |text| RawValue::from_string(text).map_err(|why| Unreadable::from_json(&why));
        texts.into_iter().map(one).collect()
    };
    let journals = set_aside.iter().any(|row| row.id.split(':').next() == Some(RUNNING));
    let mut written = Written {
        kind: "kept".to_owned(),
        schema: if journals { SCHEMA } else { USUAL_SCHEMA },
        core: CORE_VERSION.to_owned(),
        made: made_epoch_ms,
        sum: None,
        fittings: raw(fittings)?,
        tasks: raw(tasks)?,
        set_aside,
    };
    written.sum = Some(sum_of(&written));
    serde_json::to_string(&written).map_err(|error| Unreadable::from_json(&error))
}

fn sum_of(file: &Written) -> String {
    let texts = file.fittings.iter().chain(&file.tasks).map(|text| text.get());
    let aside = file.set_aside.iter().flat_map(|row| [&row.id, &row.fitting, &row.json]);
    let all = texts.chain(aside.map(String::as_str));
    format!("{:08x}", crc32_of(all.map(str::as_bytes)))
}

/// Reads and checks a whole file.
///
/// # Errors
/// [`FileError`] with what is wrong and where; never panics, whatever the text.
pub fn read_file(json: &str) -> Result<KeptFile, FileError> {
    if json.len() > MOST_FILE_BYTES {
        return Err(FileError::TooLarge);
    }
    let outside: Outside = parsed(json)?;
    match outside.kind.as_str() {
        "kept" if outside.schema > SCHEMA => Err(FileError::Newer),
        "kept" => kept(&parsed(json)?),
        "rescue" if outside.schema > 1 => Err(FileError::Newer),
        "rescue" => rescued(parsed(json)?),
        _ => Err(FileError::Foreign),
    }
}

fn parsed<'a, T: Deserialize<'a>>(json: &'a str) -> Result<T, FileError> {
    serde_json::from_str(json).map_err(|error| match error.classify() {
        serde_json::error::Category::Data => FileError::Foreign,
        _ => FileError::NotJson,
    })
}

fn kept(file: &Written) -> Result<KeptFile, FileError> {
    if file.sum.as_ref().is_some_and(|sum| *sum != sum_of(file)) {
        return Err(FileError::Changed);
    }
    let contents = KeptFile {
        fittings: read_all(FITTINGS, &file.fittings)?,
        tasks: read_all(TASKS, &file.tasks)?,
        set_aside: file.set_aside.clone(),
    };
    check_ids(FITTINGS, contents.fittings.iter().map(|fitting| &fitting.id))?;
    check_ids(TASKS, contents.tasks.iter().map(|task| &task.id))?;
    let known: BTreeSet<&String> = contents.fittings.iter().map(|fitting| &fitting.id).collect();
    if let Some(at) = contents.tasks.iter().position(|task| !known.contains(&task.body.fitting)) {
        return Err(damaged(TASKS, at, None));
    }
    check_aside(&contents.set_aside)?;
    Ok(contents)
}

/// A rescued database may hold anything: what cannot be read, or has no place, is set aside. A task
/// that ran when the program died is there as far as it was kept.
fn rescued(file: Rescued) -> Result<KeptFile, FileError> {
    let stores = file.stores;
    let mut contents = KeptFile::default();
    let mut seen = BTreeSet::new();
    let aside = |table: &str, row: Row| Row { id: format!("{table}:{}", row.id), ..row };
    for Record { value: row } in stores.fittings {
        match read_row::<FittingBody>(&row) {
            Ok(fitting) if seen.insert(fitting.id.clone()) => contents.fittings.push(fitting),
            _ => contents.set_aside.push(aside(FITTINGS, row)),
        }
    }
    let fittings: BTreeSet<String> = contents.fittings.iter().map(|one| one.id.clone()).collect();
    let mut tasks = BTreeSet::new();
    for Record { value: row } in stores.tasks {
        match read_row::<TaskBody>(&row) {
            Ok(task) if fittings.contains(&task.body.fitting) && tasks.insert(task.id.clone()) => {
                contents.tasks.push(task);
            }
            _ => contents.set_aside.push(aside(TASKS, row)),
        }
    }
    let rows = stores.running.into_iter().map(|record| record.value).collect();
    for (id, mut journal) in Journal::of_rows(rows) {
        let unread = match journal.read() {
            // Kept by the time the program died: then all of it is in the task.
            _ if tasks.contains(&id) => continue,
            Recovered::Nothing => continue,
            Recovered::Task(task, used) if fittings.contains(&task.body.fitting) => {
                tasks.insert(id);
                contents.tasks.push(*task);
                Journal { head: None, pieces: journal.pieces.split_off(used) }
            }
            Recovered::Task(..) | Recovered::Unreadable(_) => journal,
        };
        contents.set_aside.extend(unread.into_rows().map(|row| aside(RUNNING, row)));
    }
    contents.set_aside.extend(stores.set_aside.into_iter().map(|record| record.value));
    check_aside(&contents.set_aside)?;
    Ok(contents)
}

/// Reads a row; it must hold what its id says.
///
/// # Errors
/// [`Unreadable`] of its text, or of an id that is another.
pub fn read_row<T: Body>(row: &Row) -> Result<Envelope<T>, Unreadable> {
    let envelope = read::<T>(&row.json)?;
    hold(envelope.id == row.id, "id")?;
    Ok(envelope)
}

/// What lies aside is not read, but its ids are: they tell where it lay.
fn check_aside(rows: &[Row]) -> Result<(), FileError> {
    let short = |id: &str| id.len() <= 3 * MOST_ID_CHARACTERS;
    let place = |id: &str| {
        id.split_once(':').is_some_and(|(table, _)| [FITTINGS, TASKS, RUNNING].contains(&table))
    };
    let right = |row: &Row| place(&row.id) && short(&row.id) && short(&row.fitting);
    match rows
        .iter()
        .take(MOST_ROWS + 1)
        .enumerate()
        .find(|(at, row)| *at == MOST_ROWS || !right(row))
    {
        None => Ok(()),
        Some((at, _)) => {
            Err(damaged("set_aside", at, Some(Unreadable::OutOfRange { field: "id" })))
        }
    }
}

fn read_all<T: Body>(list: &str, texts: &[Box<RawValue>]) -> Result<Vec<Envelope<T>>, FileError> {
    if texts.len() > MOST_ROWS {
        return Err(FileError::TooLarge);
    }
    texts
        .iter()
        .enumerate()
        .map(|(index, text)| {
            read::<T>(text.get()).map_err(|why| match why {
                Unreadable::NewerSchema { .. } => FileError::Newer,
                why => damaged(list, index, Some(why)),
            })
        })
        .collect()
}

/// No id stands for two things.
fn check_ids<'a>(list: &str, ids: impl Iterator<Item = &'a String>) -> Result<(), FileError> {
    let mut seen = BTreeSet::new();
    for (index, id) in ids.enumerate() {
        if !seen.insert(id) {
            return Err(damaged(list, index, Some(Unreadable::OutOfRange { field: "id" })));
        }
    }
    Ok(())
}

fn damaged(list: &str, index: usize, why: Option<Unreadable>) -> FileError {
    FileError::Damaged { place: format!("{list}[{index}]"), why }
}
