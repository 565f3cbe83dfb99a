//! What cannot be read is set aside as it stands, and taken back once it can be.

use super::{
    Row, Stamp, Store, StoreError, Table, Write, aside, aside_place, errors, plain_text, read_row,
};
use crate::errors::Trouble;
use fitting::summary::{FittingBody, TaskBody, Unreadable};

impl Store {
    /// Sets rows aside as they stand, in one transaction.
    pub(super) async fn set_rows_aside(
        &self,
        stamp: Stamp,
        rows: Vec<(Table, Row, Unreadable)>,
    ) -> Result<(), StoreError> {
        if rows.is_empty() {
            return Ok(());
        }
        let mut writes = Vec::new();
        for (table, row, why) in rows {
            let unreadable = StoreError::Unreadable { id: plain_text(&row.id, 40), why };
            errors::note(Trouble::KeptUnreadable, &unreadable.detail());
            writes.push(Write::Delete(table, row.id.clone()));
            writes.push(Write::Put(Table::SetAside, aside(table, row)));
        }
        self.write(stamp, writes).await
    }

    /// Takes back what lies aside and can be read now, unless something else has its id or its
    /// fitting is not there.
    pub(super) async fn take_back(&self) -> Result<(), StoreError> {
        let stamp = self.stamp();
        let mut writes = Vec::new();
        let mut fittings = Vec::new();
        let mut running = Vec::new();
        // In the order of their ids: fittings come before tasks.
        for lying in self.backend().all(Table::SetAside).await? {
            let Some((table, id)) = aside_place(&lying.id) else { continue };
            let row = Row { id: id.to_owned(), ..lying.clone() };
            let readable = match table {
                Table::Fittings => read_row::<FittingBody>(&row).is_ok(),
                Table::Tasks => {
                    read_row::<TaskBody>(&row).is_ok_and(|task| task.body.fitting == row.fitting)
                        && (fittings.contains(&row.fitting)
                            || self.backend().one(Table::Fittings, &row.fitting).await?.is_some())
                }
                Table::Running => {
                    running.push(row);
                    continue;
                }
                Table::SetAside => false,
            };
            if readable && self.backend().one(table, &row.id).await?.is_none() {
                if table == Table::Fittings {
                    fittings.push(row.id.clone());
                }
                writes.push(Write::Delete(Table::SetAside, lying.id));
                writes.push(Write::Add(table, row));
            }
        }
        for row in self.running_again(running, &fittings).await? {
            writes.push(Write::Delete(Table::SetAside, aside(Table::Running, row.clone()).id));
            writes.push(Write::Put(Table::Running, row));
        }
        if writes.is_empty() { Ok(()) } else { self.write(stamp, writes).await }
    }
}
