//! A task that is under way, kept piece by piece while it runs.
//!
//! In the table of running tasks lie its head, under the id that the task will have, and its pieces
//! behind it, under that id, a slash and their number. When the task is kept they go, in the same
//! transaction. What is found there at a start and belongs to no page that is open is what a crash
//! left.

use super::{
    Backend, Row, Store, StoreError, Table, Write, fitting_row, lock, note, read_row, task_row,
    written,
};
use fitting::summary::under_way::{Piece, head, put_together};
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
            Ok(writes) => self.backend().write(writes).await,
            Err(error) => Err(error),
        };
        note(made)
    }

    /// Drops what was kept of a running task.
    ///
    /// # Errors
    /// [`StoreError`]; then it is still there.
    pub async fn drop_running(&self, task: &str) -> Result<(), StoreError> {
        note(self.backend().write(vec![Write::DeleteRunning(task.to_owned())]).await)
    }

    /// The tasks that a crash left. Those of pages that are open are not among them.
    ///
    /// # Errors
    /// [`StoreError`] of the storage itself.
    pub async fn unfinished(&self) -> Result<Vec<Unfinished>, StoreError> {
        note(self.unfinished_rows().await)
    }

    async fn unfinished_rows(&self) -> Result<Vec<Unfinished>, StoreError> {
        let rows = self.backend().all(Table::Running).await?;
        if rows.is_empty() {
            return Ok(Vec::new());
        }
        let open = lock::held().await;
        let mut found = Vec::new();
        for top in rows.iter().filter(|row| !row.id.contains('/')) {
            if open.contains(&lock::name_of(&top.id)) {
                continue;
            }
            let prefix = format!("{}/", top.id);
            // In the order of their ids, which is that of their numbers.
            let pieces = rows.iter().filter(|row| row.id.starts_with(&prefix));
            let pieces = pieces.map(|row| Piece::read(&row.json));
            let made = read_row::<TaskBody>(top).ok().and_then(|top| put_together(top, pieces));
            let label = label_of(self.backend(), &top.fitting).await?;
            let kept = self.backend().one(Table::Tasks, &top.id).await?.is_some();
            match (made, label) {
                (Some(task), Some(label)) if !kept => found.push(Unfinished { task, label }),
                // Nothing began in it, it is kept, or its fitting was deleted: nothing to ask about.
                _ => self.backend().write(vec![Write::DeleteRunning(top.id.clone())]).await?,
            }
        }
        Ok(found)
    }

    /// Keeps a task that a crash left with its fitting, in one transaction.
    ///
    /// # Errors
    /// [`StoreError`]; then everything is as it was.
    pub async fn keep_unfinished(&self, task: &Envelope<TaskBody>) -> Result<(), StoreError> {
        note(self.keep_unfinished_rows(task).await)
    }

    async fn keep_unfinished_rows(&self, task: &Envelope<TaskBody>) -> Result<(), StoreError> {
        let row = self.backend().one(Table::Fittings, &task.body.fitting).await?;
        let row = row.ok_or(StoreError::NotFound)?;
        let mut fitting = read_row::<FittingBody>(&row)
            .map_err(|why| StoreError::Unreadable { id: row.id.clone(), why })?;
        fitting.body.tasks = fitting.body.tasks.saturating_add(1);
        let rows = [fitting_row(&fitting)?, task_row(task)?];
        let mut writes: Vec<Write> =
            rows.into_iter().map(|(table, row)| Write::Put(table, row)).collect();
        writes.push(Write::DeleteRunning(task.id.clone()));
        self.backend().write(writes).await
    }
}

async fn label_of(backend: &Backend, fitting: &str) -> Result<Option<String>, StoreError> {
    let row = backend.one(Table::Fittings, fitting).await?;
    Ok(row.and_then(|row| read_row::<FittingBody>(&row).ok()).map(|fitting| fitting.body.label))
}

/// Where a piece lies.
fn place(task: &str, number: u32) -> String {
    format!("{task}/{number:08}")
}
