//! Everything kept as one file, and such files taken in again.
//!
//! The file: `{ "kind": "kept", "schema": 1, "core", "made", "fittings": [envelope…], "tasks":
//! [envelope…], "set_aside": [{ "id", "fitting", "json" }…] }`. Files of the rescue script
//! (`"kind": "rescue"`, rows as they stand in the database) are taken in too.

use std::collections::{BTreeMap, BTreeSet};

use fitting::{
    CORE_VERSION,
    summary::{Body, Envelope, FittingBody, MOST_ID_CHARACTERS, TaskBody, Unreadable, read},
};
use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;

use super::{
    FileError, Store, StoreError, aside, aside_place,
    backend::{Row, Table, Write},
    fitting_row, new_id, note, now_epoch_ms, read_row, task_row,
};

/// The largest file that is taken in, bytes: some hours of recordings.
pub const MOST_FILE_BYTES: usize = 1 << 28;

/// The most things in one file.
const MOST_ROWS: usize = 100_000;

/// The schema of the file.
const SCHEMA: u32 = 1;

/// What was taken in from a file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Imported {
    /// Fittings that are new here.
    pub fittings: usize,
    /// Tasks that are new here.
    pub tasks: usize,
    /// Of these fittings, how many came under a new id because another state of them is kept
    /// here already, which stays as it is.
    pub renamed: usize,
    /// Fittings that were here already, the same in every respect.
    pub already_here: usize,
    /// Things that cannot be read and were set aside.
    pub set_aside: usize,
}

#[derive(Serialize)]
struct KeptOut<'a> {
    kind: &'a str,
    schema: u32,
    core: &'a str,
    made: u64,
    fittings: Vec<Box<RawValue>>,
    tasks: Vec<Box<RawValue>>,
    set_aside: Vec<RowText>,
}

#[derive(Deserialize)]
struct Outside {
    kind: String,
    schema: u32,
}

#[derive(Deserialize)]
struct KeptIn {
    fittings: Vec<Box<RawValue>>,
    tasks: Vec<Box<RawValue>>,
    #[serde(default)]
    set_aside: Vec<RowText>,
}

#[derive(Deserialize)]
struct RescueIn {
    stores: RescueStores,
}

#[derive(Deserialize)]
struct RescueStores {
    #[serde(default)]
    fittings: Vec<RescueRecord>,
    #[serde(default)]
    tasks: Vec<RescueRecord>,
    #[serde(default)]
    set_aside: Vec<RescueRecord>,
}

#[derive(Deserialize)]
struct RescueRecord {
    value: RowText,
}

/// A row in a file.
#[derive(Default, Serialize, Deserialize)]
#[serde(default)]
struct RowText {
    id: String,
    fitting: String,
    json: String,
}

impl From<Row> for RowText {
    fn from(row: Row) -> Self {
        Self { id: row.id, fitting: row.fitting, json: row.json }
    }
}

impl From<RowText> for Row {
    fn from(row: RowText) -> Self {
        Self { id: row.id, fitting: row.fitting, json: row.json }
    }
}

/// What a file holds, read and checked.
#[derive(Default)]
struct Contents {
    fittings: Vec<Envelope<FittingBody>>,
    tasks: Vec<Envelope<TaskBody>>,
    /// Rows with the ids they have while they lie aside.
    aside: Vec<Row>,
}

impl Store {
    /// Everything kept, also what lies aside, as the text of one JSON file.
    ///
    /// # Errors
    /// [`StoreError`] of the storage.
    pub async fn export_all(&self) -> Result<String, StoreError> {
        note(self.export_rows().await)
    }

    async fn export_rows(&self) -> Result<String, StoreError> {
        let mut out = KeptOut {
            kind: "kept",
            schema: SCHEMA,
            core: CORE_VERSION,
            made: now_epoch_ms(),
            fittings: Vec::new(),
            tasks: Vec::new(),
            set_aside: Vec::new(),
        };
        let mut fittings = BTreeSet::new();
        // What this version cannot read must not make the file unreadable for it: such rows, and
        // tasks without their fitting, go as they stand among those that lie aside.
        for row in self.backend().all(Table::Fittings).await? {
            match (read_row::<FittingBody>(&row), RawValue::from_string(row.json.clone())) {
                (Ok(fitting), Ok(json)) => {
                    fittings.insert(fitting.id);
                    out.fittings.push(json);
                }
                _ => out.set_aside.push(aside(Table::Fittings, row).into()),
            }
        }
        for row in self.backend().all(Table::Tasks).await? {
            match (read_row::<TaskBody>(&row), RawValue::from_string(row.json.clone())) {
                (Ok(task), Ok(json)) if fittings.contains(&task.body.fitting) => {
                    out.tasks.push(json);
                }
                _ => out.set_aside.push(aside(Table::Tasks, row).into()),
            }
        }
        out.set_aside
            .extend(self.backend().all(Table::SetAside).await?.into_iter().map(RowText::from));
        serde_json::to_string(&out).map_err(|error| StoreError::Failed(error.to_string()))
    }

    /// Takes a file in: everything in it is read and checked first, then all of it is written in
    /// one transaction. Nothing kept is overwritten: a fitting whose id is taken by another
    /// state of it comes under a new id, with its tasks.
    ///
    /// # Errors
    /// [`StoreError::File`] or [`StoreError`] of the storage; then nothing was taken in.
    pub async fn import(&self, json: &str) -> Result<Imported, StoreError> {
        note(self.import_file(json).await)
    }

    async fn import_file(&self, json: &str) -> Result<Imported, StoreError> {
        let contents = contents(json).map_err(StoreError::File)?;
        let mut imported = Imported::default();
        let mut writes = Vec::new();
        // The ids of the file's fittings, and what they are here; `None` for those here already.
        let mut ids: BTreeMap<String, Option<String>> = BTreeMap::new();
        for mut fitting in contents.fittings {
            let id = fitting.id.clone();
            let (table, mut row) = fitting_row(&fitting)?;
            match self.backend().one(table, &id).await? {
                None => {
                    ids.insert(id.clone(), Some(id));
                }
                Some(kept) if self.is_same(&kept, &row, &contents.tasks).await? => {
                    imported.already_here += 1;
                    ids.insert(id, None);
                    continue;
                }
                Some(_) => {
                    imported.renamed += 1;
                    fitting.id = new_id();
                    (_, row) = fitting_row(&fitting)?;
                    ids.insert(id, Some(fitting.id));
                }
            }
            imported.fittings += 1;
            writes.push(Write::Add(table, row));
        }
        for (index, mut task) in contents.tasks.into_iter().enumerate() {
            let here = match ids.get(&task.body.fitting) {
                Some(Some(here)) => here.clone(),
                Some(None) => continue,
                None => return Err(StoreError::File(damaged("tasks", index, None))),
            };
            let renamed = here != task.body.fitting;
            if renamed || self.backend().one(Table::Tasks, &task.id).await?.is_some() {
                task.id = new_id();
            }
            task.body.fitting = here;
            let (table, row) = task_row(&task)?;
            imported.tasks += 1;
            writes.push(Write::Add(table, row));
        }
        for row in contents.aside {
            let kept = self.backend().one(Table::SetAside, &row.id).await?;
            if kept.as_ref() != Some(&row) {
                let id = if kept.is_some() { format!("{}-{}", row.id, new_id()) } else { row.id };
                imported.set_aside += 1;
                writes.push(Write::Put(Table::SetAside, Row { id, ..row }));
            }
        }
        if !writes.is_empty() {
            self.backend().write(writes).await?;
        }
        Ok(imported)
    }

    /// Whether a fitting and its tasks are kept here exactly as in the file.
    async fn is_same(
        &self,
        kept: &Row,
        row: &Row,
        tasks: &[Envelope<TaskBody>],
    ) -> Result<bool, StoreError> {
        // What an older version kept is brought forward, as the file's things were when read.
        let forward = |kept: &Row| read_row::<FittingBody>(kept).ok();
        match forward(kept).as_ref().map(fitting_row) {
            Some(Ok((_, kept))) if kept.json == row.json => {}
            _ => return Ok(false),
        }
        let here: Vec<Row> = self
            .backend()
            .of_fitting(Table::Tasks, &row.id)
            .await?
            .iter()
            .filter_map(|kept| task_row(&read_row::<TaskBody>(kept).ok()?).ok())
            .map(|(_, row)| row)
            .collect();
        for task in tasks.iter().filter(|task| task.body.fitting == row.id) {
            let (_, task) = task_row(task)?;
            if !here.contains(&task) {
                return Ok(false);
            }
        }
        Ok(true)
    }
}

/// Reads and checks a whole file.
fn contents(json: &str) -> Result<Contents, FileError> {
    if json.len() > MOST_FILE_BYTES {
        return Err(FileError::TooLarge);
    }
    let outside: Outside = parsed(json)?;
    match outside.kind.as_str() {
        "kept" if outside.schema > SCHEMA => Err(FileError::Newer),
        "kept" => kept_contents(parsed(json)?),
        "rescue" if outside.schema > 1 => Err(FileError::Newer),
        "rescue" => rescue_contents(parsed(json)?),
        _ => Err(FileError::Foreign),
    }
}

fn parsed<'a, T: Deserialize<'a>>(json: &'a str) -> Result<T, FileError> {
    serde_json::from_str(json).map_err(|error| match error.classify() {
        serde_json::error::Category::Data => FileError::Foreign,
        _ => FileError::NotJson,
    })
}

fn kept_contents(file: KeptIn) -> Result<Contents, FileError> {
    let mut contents = Contents {
        fittings: read_all("fittings", &file.fittings)?,
        tasks: read_all("tasks", &file.tasks)?,
        aside: Vec::new(),
    };
    check_ids("fittings", contents.fittings.iter().map(|fitting| &fitting.id))?;
    check_ids("tasks", contents.tasks.iter().map(|task| &task.id))?;
    for row in file.set_aside.into_iter().map(Row::from) {
        contents.aside.push(checked_aside(row, contents.aside.len())?);
    }
    Ok(contents)
}

/// A rescued database may hold anything: what cannot be read, or has no place, is set aside.
fn rescue_contents(file: RescueIn) -> Result<Contents, FileError> {
    let stores = file.stores;
    let mut contents = Contents::default();
    for row in stores.fittings.into_iter().map(|record| Row::from(record.value)) {
        match read_row(&row) {
            Ok(fitting) => contents.fittings.push(fitting),
            Err(_) => contents.aside.push(aside(Table::Fittings, row)),
        }
    }
    for row in stores.tasks.into_iter().map(|record| Row::from(record.value)) {
        let fittings = &contents.fittings;
        match read_row::<TaskBody>(&row) {
            Ok(task) if fittings.iter().any(|fitting| fitting.id == task.body.fitting) => {
                contents.tasks.push(task);
            }
            _ => contents.aside.push(aside(Table::Tasks, row)),
        }
    }
    contents.aside.extend(stores.set_aside.into_iter().map(|record| Row::from(record.value)));
    let rows = std::mem::take(&mut contents.aside);
    for (index, row) in rows.into_iter().enumerate() {
        contents.aside.push(checked_aside(row, index)?);
    }
    Ok(contents)
}

/// What lies aside is not read, but its ids are: they tell where it lay.
fn checked_aside(row: Row, index: usize) -> Result<Row, FileError> {
    let short = |id: &str| id.len() <= 3 * MOST_ID_CHARACTERS;
    if index < MOST_ROWS && aside_place(&row.id).is_some() && short(&row.id) && short(&row.fitting)
    {
        Ok(row)
    } else {
        Err(damaged("set_aside", index, Some(Unreadable::OutOfRange { field: "id" })))
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

/// One fitting with its tasks as the text of a file, in the same form as everything kept. Made
/// of what the page holds in memory, so that it works also where the storage has failed.
///
/// # Errors
/// [`StoreError::Failed`] or [`StoreError::Unreadable`] for what could not be read again.
pub fn file_of(
    fitting: &Envelope<FittingBody>,
    tasks: &[Envelope<TaskBody>],
) -> Result<String, StoreError> {
    let raw = |json: String| {
        RawValue::from_string(json).map_err(|error| StoreError::Failed(error.to_string()))
    };
    let (_, row) = fitting_row(fitting)?;
    let mut out = KeptOut {
        kind: "kept",
        schema: SCHEMA,
        core: CORE_VERSION,
        made: now_epoch_ms(),
        fittings: vec![raw(row.json)?],
        tasks: Vec::new(),
        set_aside: Vec::new(),
    };
    for task in tasks {
        let (_, row) = task_row(task)?;
        out.tasks.push(raw(row.json)?);
    }
    serde_json::to_string(&out).map_err(|error| StoreError::Failed(error.to_string()))
}
