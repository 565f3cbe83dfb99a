//! Files into records.

mod csv;
mod json;

use crate::{Trouble, Wrong};
use fitting::suggest::Wish;
use fitting::task::{TaskKind, TaskRecord};
use std::io::Read;
use std::path::Path;

pub use csv::read as read_csv;

/// The largest file that is read, bytes: as in the page.
pub const MOST_FILE_BYTES: u64 = 1 << 28;

/// The records of one visit with one stick.
#[derive(Clone, Debug, PartialEq)]
pub struct Visit {
    /// What it is called within its file: a fitting's label, its set-up where there are several,
    /// and who played where it was nobody with a real stick; or nothing.
    pub label: String,
    /// What the person wants of the settings.
    pub wish: Wish,
    /// The recorded tasks, in order.
    pub records: Vec<TaskRecord>,
}

/// What a file holds.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Contents {
    /// The visits, at least one.
    pub visits: Vec<Visit>,
    /// What is most likely a mistake, or was left out.
    pub warnings: Vec<Trouble>,
}

impl From<Visit> for Contents {
    fn from(visit: Visit) -> Self {
        Self { visits: vec![visit], warnings: Vec::new() }
    }
}

/// The visits of a file. `task` is what a CSV recording is taken for that does not say it itself.
///
/// # Errors
/// [`Trouble`] with what is wrong and where.
pub fn file(path: &Path, task: Option<TaskKind>) -> Result<Contents, Trouble> {
    let unopened = |why: std::io::Error| Trouble::of(Wrong::Unopened(why.to_string()));
    let mut bytes = Vec::new();
    let file = std::fs::File::open(path).map_err(unopened)?;
    file.take(MOST_FILE_BYTES + 1).read_to_end(&mut bytes).map_err(unopened)?;
    self::bytes(&bytes, task)
}

/// The visits of a file's bytes; JSON or CSV, whichever it is.
///
/// # Errors
/// [`Trouble`] with what is wrong and where; never panics, whatever the bytes.
pub fn bytes(bytes: &[u8], task: Option<TaskKind>) -> Result<Contents, Trouble> {
    if bytes.len() as u64 > MOST_FILE_BYTES {
        return Err(Trouble::of(Wrong::TooLarge));
    }
    let text = std::str::from_utf8(bytes).map_err(|error| {
        let line = bytes[..error.valid_up_to()].iter().filter(|byte| **byte == b'\n').count();
        Trouble { line: Some(line as u64 + 1), ..Trouble::of(Wrong::NotText) }
    })?;
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim_start().starts_with('{') {
        json::read(text)
    } else {
        let (record, warnings) = csv::read(text, task)?;
        let visit = Visit { label: String::new(), wish: Wish::default(), records: vec![record] };
        Ok(Contents { visits: vec![visit], warnings })
    }
}
