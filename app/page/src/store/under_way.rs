//! A task that is under way, kept piece by piece while it runs.
//!
//! In the table of running tasks lie its head, under the id that the task will have, and its pieces
//! behind it, under that id, a slash and their number. When the task is kept they go, in the same
//! transaction. What is found there at a start and belongs to no page that is open is what a crash
//! left.

use super::{
    Row, Stamp, Store, StoreError, Table, Write, aside, fitting_row, lock, note, read_row,
    task_row, written,
};
use crate::errors::{self, Trouble};
use fitting::summary::under_way::{Journal, Piece, Recovered, head};
use fitting::summary::{Envelope, FittingBody, TaskBody};

/// A task that a crash left, as far as it was kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Unfinished {
    /// The task.
    pub task: Envelope<TaskBody>,
    /// What its fitting is called; may be empty.
    pub label: String,
}

impl Store {
    /// Keeps a piece of a running task with its head, and with its fitting where that is handed
    /// over: all or nothing.
    ///
    /// # Errors
    /// [`StoreError`]; then nothing of this piece is kept, and it can be handed over again.
    pub async fn save_piece(
        &self,
        stamp: Stamp,
        fitting: Option<&Envelope<FittingBody>>,
        task: &Envelope<TaskBody>,
        piece: &Piece,
    ) -> Result<(), StoreError> {
        let row = |id: String, json: String| Row { id, fitting: task.body.fitting.clone(), json };
        let unreadable = |why| StoreError::Unreadable { id: task.id.clone(), why };
        let made = || -> Result<Vec<Write>, StoreError> {
            let mut writes = Vec::new();
            if let Some(fitting) = fitting {
                let (table, row) = fitting_row(fitting)?;
                writes.push(Write::Put(table, row));
            }
            writes.push(Write::Put(Table::Running, row(task.id.clone(), written(&head(task))?)));
            let json = piece.to_json().map_err(unreadable)?;
            writes.push(Write::Put(Table::Running, row(place(&task.id, piece.number), json)));
            Ok(writes)
        };
        let made = match made() {
            Ok(writes) => self.write(stamp, writes).await,
            Err(error) => Err(error),
        };
        note(made)
    }

    /// Drops what was kept of a running task.
    ///
    /// # Errors
    /// [`StoreError`]; then it is still there.
    pub async fn drop_running(&self, task: &str) -> Result<(), StoreError> {
        let writes = vec![Write::DeleteRunning(task.to_owned())];
        note(self.write_deletion(task, self.stamp(), writes).await)
    }

    /// The tasks that a crash left, and how many more lie there that cannot be read: those are set aside.
    /// Those of pages that are open are not among them.
    ///
    /// # Errors
    /// [`StoreError`] of the storage itself.
    pub async fn unfinished(&self) -> Result<(Vec<Unfinished>, usize), StoreError> {
        note(self.unfinished_rows().await)
    }

    async fn unfinished_rows(&self) -> Result<(Vec<Unfinished>, usize), StoreError> {
        let stamp = self.stamp();
        let mut found = Vec::new();
        let mut unreadable = 0;
        let rows = self.backend().all(Table::Running).await?;
        if rows.is_empty() {
            return Ok((found, unreadable));
        }
        let open = lock::held().await;
        for (id, journal) in Journal::of_rows(rows) {
            if open.contains(&lock::name_of(&id)) {
                continue;
            }
            let kept = self.backend().one(Table::Tasks, &id).await?.is_some();
            match (journal.read(), self.owner(&journal).await?) {
                (Recovered::Task(task, _), Owner::Readable(label)) if !kept => {
                    found.push(Unfinished { task: *task, label });
                }
                // It is kept, its fitting was deleted, or nothing began in it: nothing to ask about.
                (_, Owner::Deleted) | (Recovered::Nothing, _) => {
                    self.write(stamp, vec![Write::DeleteRunning(id)]).await?;
                }
                _ if kept => self.write(stamp, vec![Write::DeleteRunning(id)]).await?,
                (Recovered::Task(..) | Recovered::Unreadable(_), _) => {
                    errors::note(Trouble::KeptUnreadable, &format!("{id}: task under way"));
                    unreadable += 1;
                    let mut writes = vec![Write::DeleteRunning(id)];
                    writes.extend(journal.into_rows().map(set_aside));
                    self.write(stamp, writes).await?;
                }
            }
        }
        Ok((found, unreadable))
    }

    /// Of journals that were set aside, the rows of those that can be read by now with their fitting, which
    /// is there or among `fittings`.
    pub(super) async fn running_again(
        &self,
        rows: Vec<Row>,
        fittings: &[String],
    ) -> Result<Vec<Row>, StoreError> {
        let mut again = Vec::new();
        for (_, journal) in Journal::of_rows(rows) {
            let Recovered::Task(task, _) = journal.read() else { continue };
            let of = &task.body.fitting;
            let readable = matches!(self.owner(&journal).await?, Owner::Readable(_));
            if readable || fittings.contains(of) {
                again.extend(journal.into_rows());
            }
        }
        Ok(again)
    }

    /// What became of the fitting of a task that was under way.
    async fn owner(&self, journal: &Journal) -> Result<Owner, StoreError> {
        let Some(row) = journal.head.as_ref().or(journal.pieces.first()) else {
            return Ok(Owner::Deleted);
        };
        let of = &row.fitting;
        Ok(match self.backend().one(Table::Fittings, of).await? {
            Some(row) => match read_row::<FittingBody>(&row) {
                Ok(fitting) => Owner::Readable(fitting.body.label),
                Err(_) => Owner::Unreadable,
            },
            None => {
                let lies = self.backend().of_fitting(Table::SetAside, of).await?;
                let prefix = format!("{}:", Table::Fittings.name());
                if lies.iter().any(|row| row.id.starts_with(&prefix)) {
                    Owner::Unreadable
                } else {
                    Owner::Deleted
                }
            }
        })
    }

    /// Keeps a task that a crash left with its fitting, in one transaction.
    ///
    /// # Errors
    /// [`StoreError`]; then everything is as it was.
    pub async fn keep_unfinished(&self, task: &Envelope<TaskBody>) -> Result<(), StoreError> {
        note(self.keep_unfinished_rows(task).await)
    }

    async fn keep_unfinished_rows(&self, task: &Envelope<TaskBody>) -> Result<(), StoreError> {
        let stamp = self.stamp();
        let row = self.backend().one(Table::Fittings, &task.body.fitting).await?;
        let row = row.ok_or(StoreError::NotFound)?;
        let mut fitting = read_row::<FittingBody>(&row)
            .map_err(|why| StoreError::Unreadable { id: row.id.clone(), why })?;
        fitting.body.tasks = fitting.body.tasks.saturating_add(1);
        let rows = [fitting_row(&fitting)?, task_row(task)?];
        let mut writes: Vec<Write> =
            rows.into_iter().map(|(table, row)| Write::Put(table, row)).collect();
        writes.push(Write::DeleteRunning(task.id.clone()));
        // What lies behind a damaged piece is in nothing that is kept.
        let rows = self.backend().of_fitting(Table::Running, &fitting.id).await?;
        if let Some(mut journal) = Journal::of_rows(rows).remove(&task.id)
            && let Recovered::Task(_, used) = journal.read()
        {
            writes.extend(journal.pieces.drain(used..).map(set_aside));
        }
        self.write(stamp, writes).await
    }
}

/// What became of the fitting of a task that was under way.
enum Owner {
    /// It is there, and is called so.
    Readable(String),
    /// It is there or lies aside, and cannot be read.
    Unreadable,
    /// It was deleted.
    Deleted,
}

fn set_aside(row: Row) -> Write {
    Write::Put(Table::SetAside, aside(Table::Running, row))
}

/// Where a piece lies.
fn place(task: &str, number: u32) -> String {
    format!("{task}/{number:08}")
}
