//! What is wrong with a file, and where.

use fitting::summary::Unreadable;

/// What is wrong with a file, and where; lines and columns count from 1.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Trouble {
    /// The line, where one is to blame.
    pub line: Option<u64>,
    /// The column: of a character in JSON, of a value in CSV.
    pub column: Option<u64>,
    /// The field or key, where one is to blame.
    pub field: Option<String>,
    /// What is wrong.
    pub wrong: Wrong,
}

/// What is wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Wrong {
    /// The file cannot be read at all.
    Unopened(String),
    /// It is larger than what is read.
    TooLarge,
    /// More lines or columns than are read.
    TooMany(&'static str),
    /// It is not text in UTF-8.
    NotText,
    /// It is neither a file of this program nor a recording in CSV.
    NotOurs,
    /// It is JSON of this program that cannot be read.
    Json(Unreadable),
    /// It holds no recorded task.
    Empty,
    /// A key or column that is not known.
    Unknown(String),
    /// A key or column that is needed is missing.
    Missing,
    /// A value of the wrong form.
    Value {
        /// What stands there, cut.
        found: String,
        /// What may stand there.
        wanted: &'static str,
    },
    /// A row of another length than the header.
    Ragged {
        /// Values in the header.
        header: u64,
        /// Values in the row.
        row: u64,
    },
    /// Times that do not rise.
    NotRising,
    /// A value out of the range that is kept.
    OutOfRange,
}

impl Trouble {
    pub(crate) fn of(wrong: Wrong) -> Self {
        Self { line: None, column: None, field: None, wrong }
    }

    pub(crate) fn at(line: u64, field: &str, wrong: Wrong) -> Self {
        Self { line: Some(line), column: None, field: Some(field.to_owned()), wrong }
    }
}

impl std::fmt::Display for Trouble {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if let Some(line) = self.line {
            write!(out, "line {line}, ")?;
        }
        if let Some(column) = self.column {
            write!(out, "column {column}, ")?;
        }
        if let Some(field) = &self.field {
            write!(out, "{field}: ")?;
        }
        match &self.wrong {
            Wrong::Unopened(why) => write!(out, "cannot be opened ({why})"),
            Wrong::TooLarge => write!(out, "larger than 256 MB"),
            Wrong::TooMany(what) => write!(out, "too many {what}"),
            Wrong::NotText => write!(out, "not text in UTF-8"),
            Wrong::NotOurs => write!(out, "neither a file of this program nor a recording in CSV"),
            Wrong::Json(why) => json(out, why),
            Wrong::Empty => write!(out, "no recorded task in it"),
            Wrong::Unknown(what) => write!(out, "not known: {what}"),
            Wrong::Missing => write!(out, "missing"),
            Wrong::Value { found, wanted } => write!(out, "{wanted} wanted, not \"{found}\""),
            Wrong::Ragged { header, row } => {
                write!(out, "{row} values in this line, {header} in the header")
            }
            Wrong::NotRising => write!(out, "not later than the line before"),
            Wrong::OutOfRange => write!(out, "out of range"),
        }
    }
}

fn json(out: &mut std::fmt::Formatter<'_>, why: &Unreadable) -> std::fmt::Result {
    match why {
        Unreadable::TooLarge { .. } => write!(out, "larger than this kind of thing may be"),
        Unreadable::NotJson { .. } => write!(out, "not JSON, or cut off"),
        Unreadable::NotOurs => write!(out, "not of this program"),
        Unreadable::WrongKind { .. } => write!(out, "another kind of thing than belongs here"),
        Unreadable::NewerSchema { found, known } => {
            write!(out, "written by a newer version (schema {found}; {known} is known here)")
        }
        Unreadable::UnknownSchema { found } => write!(out, "there is no schema {found}"),
        Unreadable::Shape { detail, .. } => write!(out, "{detail}"),
        Unreadable::OutOfRange { .. } => write!(out, "out of range"),
    }
}
