//! Kept things as rows, and rows as kept things.

use super::StoreError;
use super::backend::{Row, Table};
use fitting::summary::{Body, Envelope, FittingBody, MOST_LABEL_CHARACTERS, TaskBody, plain_text};

/// What a fitting of a newer form is called, where it still says so in the same place.
pub(super) fn label_of_newer(json: &str) -> String {
    let value: serde_json::Value = serde_json::from_str(json).unwrap_or_default();
    plain_text(value["body"]["label"].as_str().unwrap_or_default(), MOST_LABEL_CHARACTERS)
}

/// A row as it is set aside: its id tells where it lay.
pub(super) fn aside(table: Table, row: Row) -> Row {
    Row { id: format!("{}:{}", table.name(), row.id), ..row }
}

/// Where a row lay that was set aside.
pub(super) fn aside_place(id: &str) -> Option<(Table, &str)> {
    let (name, id) = id.split_once(':')?;
    Table::ALL.into_iter().find(|table| table.name() == name).map(|table| (table, id))
}

pub(super) fn fitting_row(fitting: &Envelope<FittingBody>) -> Result<(Table, Row), StoreError> {
    let json = written(fitting)?;
    Ok((Table::Fittings, Row { id: fitting.id.clone(), fitting: fitting.id.clone(), json }))
}

pub(super) fn task_row(task: &Envelope<TaskBody>) -> Result<(Table, Row), StoreError> {
    let json = written(task)?;
    Ok((Table::Tasks, Row { id: task.id.clone(), fitting: task.body.fitting.clone(), json }))
}

pub(super) fn written<T: Body>(envelope: &Envelope<T>) -> Result<String, StoreError> {
    envelope
        .to_json()
        .map_err(|why| StoreError::Unreadable { id: plain_text(&envelope.id, 40), why })
}
