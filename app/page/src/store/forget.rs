//! Deleting one thing so that it can be put back, and fittings that erase themselves.
//!
//! What is deleted is gone from the database at once. For as long as it may be put back it is in the
//! page's memory, as it stood, and nowhere else.

use super::{Row, Store, StoreError, Table, Write, fitting_row, new_id, note, read_row};
use fitting::summary::{Envelope, FittingBody};

/// What the id of a fitting begins with that erases itself when its visitor leaves. The mark lies in
/// the id, not in the form: a file of it taken in elsewhere is a fitting like any other.
const COUNTER: &str = "counter-";

/// Whether a fitting erases itself when its visitor leaves.
#[must_use]
pub fn is_counter(fitting: &str) -> bool {
    fitting.starts_with(COUNTER)
}

/// An id of such a fitting.
#[must_use]
pub fn new_counter_id() -> String {
    format!("{COUNTER}{}", new_id())
}

/// What was deleted, as it stood.
#[derive(Debug)]
pub struct Taken {
    rows: Vec<(Table, Row)>,
    /// The fitting that lost a task.
    of: Option<String>,
}

impl Store {
    /// Deletes a fitting, its tasks, and what lies aside of them, and hands back what it was.
    ///
    /// # Errors
    /// [`StoreError`]; then all of it is still there.
    pub async fn take_out(&self, id: &str) -> Result<Taken, StoreError> {
        note(self.take_out_rows(id).await)
    }

    async fn take_out_rows(&self, id: &str) -> Result<Taken, StoreError> {
        let fitting = self.backend().one(Table::Fittings, id).await?.ok_or(StoreError::NotFound)?;
        let mut rows = vec![(Table::Fittings, fitting)];
        for table in [Table::Tasks, Table::SetAside, Table::Running] {
            let of_fitting = self.backend().of_fitting(table, id).await?;
            rows.extend(of_fitting.into_iter().map(|row| (table, row)));
        }
        self.delete(id).await?;
        Ok(Taken { rows, of: None })
    }

    /// Deletes one task of a fitting, and hands back what it was.
    ///
    /// # Errors
    /// [`StoreError`]; then it is still there.
    pub async fn take_out_task(&self, fitting: &str, task: &str) -> Result<Taken, StoreError> {
        note(self.take_out_task_row(fitting, task).await)
    }

    async fn take_out_task_row(&self, fitting: &str, task: &str) -> Result<Taken, StoreError> {
        let stamp = self.stamp();
        let row = self.backend().one(Table::Tasks, task).await?.ok_or(StoreError::NotFound)?;
        let mut writes = vec![Write::Delete(Table::Tasks, task.to_owned())];
        writes.extend(self.counted(fitting, -1).await?);
        self.write_deletion(task, stamp, writes).await?;
        Ok(Taken { rows: vec![(Table::Tasks, row)], of: Some(fitting.to_owned()) })
    }

    /// Puts back what was deleted, in one transaction.
    ///
    /// # Errors
    /// [`StoreError`]; then nothing of it is there again.
    pub async fn put_back(&self, taken: &Taken) -> Result<(), StoreError> {
        let stamp = self.stamp();
        let mut writes: Vec<Write> =
            taken.rows.iter().map(|(table, row)| Write::Add(*table, row.clone())).collect();
        if let Some(fitting) = &taken.of {
            match self.counted(fitting, 1).await {
                Ok(counted) => writes.extend(counted),
                Err(error) => return note(Err(error)),
            }
        }
        note(self.write(stamp, writes).await)
    }

    /// The fitting with so many tasks more; nothing where it cannot be read, which is no reason to
    /// keep what is to be deleted.
    async fn counted(&self, fitting: &str, more: i32) -> Result<Option<Write>, StoreError> {
        let Some(row) = self.backend().one(Table::Fittings, fitting).await? else {
            return Err(StoreError::NotFound);
        };
        let Ok(mut fitting): Result<Envelope<FittingBody>, _> = read_row(&row) else {
            return Ok(None);
        };
        fitting.body.tasks = fitting.body.tasks.saturating_add_signed(more);
        let (table, row) = fitting_row(&fitting)?;
        Ok(Some(Write::Put(table, row)))
    }
}
