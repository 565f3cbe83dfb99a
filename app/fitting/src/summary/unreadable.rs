//! Why something kept or handed over cannot be read.

use super::{Kind, plain_text};

/// Why something kept or handed over cannot be read, or must not be written because it could
/// not be read again. Nothing is dropped for it: the page sets the text aside.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unreadable {
    /// It is larger than anything this program writes.
    TooLarge {
        /// Its size in bytes.
        bytes: usize,
        /// The largest size that is read.
        most: usize,
    },
    /// It is not JSON, or was cut off.
    NotJson {
        /// Line where reading stopped, from 1.
        line: usize,
        /// Column where reading stopped, from 1.
        column: usize,
    },
    /// It is JSON, but nothing of this program's.
    NotOurs,
    /// It is this program's, but another kind of thing.
    WrongKind {
        /// What it is.
        found: Kind,
    },
    /// A newer version of this program wrote it.
    NewerSchema {
        /// Its schema.
        found: u32,
        /// The newest schema that is read here.
        known: u32,
    },
    /// There never was such a schema.
    UnknownSchema {
        /// Its schema.
        found: u32,
    },
    /// A field is missing, is unknown or has the wrong type.
    Shape {
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// What the reader said, plain and cut: for a report, not for the person.
        detail: String,
    },
    /// A field holds a value outside what it may hold.
    OutOfRange {
        /// The field, as a path from the body.
        field: &'static str,
    },
}

impl Unreadable {
    /// What a failed read of JSON means.
    pub(super) fn from_json(error: &serde_json::Error) -> Self {
        let (line, column) = (error.line(), error.column());
        match error.classify() {
            serde_json::error::Category::Data => {
                Self::Shape { line, column, detail: plain_text(&error.to_string(), 160) }
            }
            _ => Self::NotJson { line, column },
        }
    }
}

/// `Ok` when it holds, else the field that is out of range.
pub(super) fn hold(holds: bool, field: &'static str) -> Result<(), Unreadable> {
    if holds { Ok(()) } else { Err(Unreadable::OutOfRange { field }) }
}
