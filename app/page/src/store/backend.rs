//! Where rows are kept: the one small interface that [`super::Store`] rests on.
//!
//! A row is `{ id, fitting, json }`: its own id, the id of the fitting it belongs to (for a
//! fitting its own), and the envelope as JSON text. The rescue script outside this program
//! copies rows as they are, and [`super::Store::import`] reads its files too.

use std::{cell::RefCell, collections::BTreeMap};

pub(super) use fitting::summary::kept_file::Row;

use super::{StoreError, browser::Browser};

/// The tables, by their names in the browser's database.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Table {
    /// One row for each fitting.
    Fittings,
    /// One row for each task's record; many to one fitting.
    Tasks,
    /// Rows that could not be read, as they were.
    SetAside,
    /// The head and the pieces of tasks that are under way.
    Running,
}

impl Table {
    /// All tables.
    pub(super) const ALL: [Self; 4] = [Self::Fittings, Self::Tasks, Self::SetAside, Self::Running];

    /// The name in the database.
    pub(super) const fn name(self) -> &'static str {
        match self {
            Self::Fittings => "fittings",
            Self::Tasks => "tasks",
            Self::SetAside => "set_aside",
            Self::Running => "running",
        }
    }
}

/// One change. Changes handed over together are made together or not at all.
#[derive(Clone, Debug)]
pub(super) enum Write {
    /// Writes a row, in place of one with the same id.
    Put(Table, Row),
    /// Writes a row; if its id is taken, none of the changes is made.
    Add(Table, Row),
    /// Deletes a row; one that is not there is no error.
    Delete(Table, String),
    /// Deletes every row that belongs to this fitting.
    DeleteOfFitting(Table, String),
    /// Deletes the head and the pieces of a task that is under way.
    DeleteRunning(String),
    /// Deletes every row of a table.
    Clear(Table),
}

/// What [`super::Store`] keeps its rows in.
#[derive(Debug)]
pub(super) enum Backend {
    /// The browser's database.
    Browser(Browser),
    /// This tab's memory; gone with it.
    Memory(RefCell<Tables>),
}

/// The tables in memory.
pub(super) type Tables = BTreeMap<(Table, String), Row>;

impl Backend {
    /// All rows of a table, in the order of their ids.
    pub(super) async fn all(&self, table: Table) -> Result<Vec<Row>, StoreError> {
        match self {
            Self::Browser(browser) => browser.all(table).await,
            Self::Memory(tables) => Ok(tables
                .borrow()
                .iter()
                .filter(|((of, _), _)| *of == table)
                .map(|(_, row)| row.clone())
                .collect()),
        }
    }

    /// One row.
    pub(super) async fn one(&self, table: Table, id: &str) -> Result<Option<Row>, StoreError> {
        match self {
            Self::Browser(browser) => browser.one(table, id).await,
            Self::Memory(tables) => Ok(tables.borrow().get(&(table, id.to_owned())).cloned()),
        }
    }

    /// The rows that belong to a fitting, in the order of their ids.
    pub(super) async fn of_fitting(
        &self,
        table: Table,
        fitting: &str,
    ) -> Result<Vec<Row>, StoreError> {
        match self {
            Self::Browser(browser) => browser.of_fitting(table, fitting).await,
            Self::Memory(tables) => Ok(tables
                .borrow()
                .iter()
                .filter(|((of, _), row)| *of == table && row.fitting == fitting)
                .map(|(_, row)| row.clone())
                .collect()),
        }
    }

    /// Makes all the changes, or none. Done only when they are kept. `may` is asked at the moment from
    /// which on no other change comes before these.
    pub(super) async fn write(
        &self,
        writes: Vec<Write>,
        may: impl FnOnce(&[Write]) -> bool,
    ) -> Result<(), StoreError> {
        match self {
            Self::Browser(browser) => browser.write(writes, may).await,
            Self::Memory(tables) => {
                if !may(&writes) {
                    return Err(StoreError::Deleted);
                }
                let mut changed = tables.borrow().clone();
                for write in writes {
                    apply(&mut changed, write)?;
                }
                *tables.borrow_mut() = changed;
                Ok(())
            }
        }
    }
}

fn apply(tables: &mut Tables, write: Write) -> Result<(), StoreError> {
    match write {
        Write::Put(table, row) => {
            tables.insert((table, row.id.clone()), row);
        }
        Write::Add(table, row) => {
            if tables.contains_key(&(table, row.id.clone())) {
                return Err(StoreError::Failed(String::from("ConstraintError")));
            }
            tables.insert((table, row.id.clone()), row);
        }
        Write::Delete(table, id) => {
            tables.remove(&(table, id));
        }
        Write::DeleteOfFitting(table, fitting) => {
            tables.retain(|(of, _), row| *of != table || row.fitting != fitting);
        }
        Write::DeleteRunning(task) => {
            let pieces = format!("{task}/");
            tables.retain(|(of, id), _| {
                *of != Table::Running || (*id != task && !id.starts_with(&pieces))
            });
        }
        Write::Clear(table) => tables.retain(|(of, _), _| *of != table),
    }
    Ok(())
}
