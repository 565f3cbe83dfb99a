//! What is wrong with a file, and where.
//!
//! An *error* is what cannot be right whatever the device and the person were, or what would be left
//! out of every figure without a word: the file is refused. A *warning* is what is most likely a
//! mistake but may be right (a very still stick, a slow logger, a device that goes beyond its ends):
//! the file is measured, and the warning says what to look at.

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
    /// A newer version of the page wrote it.
    Newer,
    /// Its checksum is another than that of what is in it.
    Changed,
    /// A task that belongs to none of the fittings of its file.
    WithoutFitting,
    /// A kind of file that has no recordings in it: what it is instead.
    NoRecordings(&'static str),
    /// It holds no recorded task.
    Empty,
    /// What lies aside in it: the page could not read it, or it belongs to nothing there.
    LeftOut(Option<Unreadable>),
    /// Several visits where one was wanted.
    ManyVisits(usize),
    /// A key or column that is not known.
    Unknown(String),
    /// A key or column that is needed is missing.
    Missing,
    /// Something that is needed is missing; what it would say.
    Needed(&'static str),
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
    /// No line of values.
    NoRows,
    /// One line of values, and nothing says how long it held.
    OneRow,
    /// A key that stands below the columns, where it is not read.
    KeyTooLate,
    /// A span that does not lie within the recording.
    Outside {
        /// The recording, as text: from and to, seconds.
        recording: String,
    },
    /// A value out of the range that is kept.
    OutOfRange,
    /// Numbers that cannot be, or can hardly be, what they are said to be.
    Implausible {
        /// What was found.
        found: String,
        /// What to do.
        todo: String,
    },
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
            Wrong::NotOurs => write!(
                out,
                "neither a file of this program nor a recording in CSV. Read are files that the page \
                 saved with recordings in them, and CSV as in public/schema/README.md"
            ),
            Wrong::Json(why) => json(out, why),
            Wrong::Newer => write!(
                out,
                "written by a newer version of the page. Use the `analyse` of that version"
            ),
            Wrong::Changed => write!(
                out,
                "changed after it was saved: its checksum is another. Save it again, or take \"sum\" \
                 out of it if the change was meant"
            ),
            Wrong::WithoutFitting => write!(out, "a task whose fitting is not in the file"),
            Wrong::NoRecordings(what) => write!(
                out,
                "{what}. There is no recording in it to measure: give a file that was saved with \
                 \"Save the fitting with its recordings\" or \"Save everything as a file\""
            ),
            Wrong::Empty => write!(out, "no recorded task in it"),
            Wrong::LeftOut(why) => {
                write!(out, "left out: ")?;
                match why {
                    Some(why) => json(out, why),
                    None => write!(
                        out,
                        "it has no place in the file (without its fitting, or a second of its id)"
                    ),
                }
            }
            Wrong::ManyVisits(count) => write!(
                out,
                "{count} visits in it, and --together makes one visit of all files. Leave --together \
                 out, or give files of one fitting with one set-up"
            ),
            Wrong::Unknown(what) => unknown(out, what),
            Wrong::Missing => write!(out, "missing"),
            Wrong::Needed(what) => write!(out, "missing: {what}"),
            Wrong::Value { found, wanted } => write!(out, "{wanted} wanted, not \"{found}\""),
            Wrong::Ragged { header, row } => {
                write!(out, "{row} values in this line, {header} in the header")
            }
            Wrong::NotRising => write!(out, "not later than the line before"),
            Wrong::NoRows => write!(
                out,
                "no line of values below the columns. Write one line for each state of the device"
            ),
            Wrong::OneRow => write!(
                out,
                "one line of values, and nothing says how long it held. Write more lines, or \
                 \"# polled_s: from,to\""
            ),
            Wrong::KeyTooLate => write!(
                out,
                "a key below the columns is not read. Put it above the line of column names"
            ),
            Wrong::Outside { recording } => {
                write!(out, "outside the recording, which goes from {recording} s")
            }
            Wrong::OutOfRange => write!(out, "out of range"),
            Wrong::Implausible { found, todo } => write!(out, "{found}. {todo}"),
        }
    }
}

fn unknown(out: &mut std::fmt::Formatter<'_>, what: &str) -> std::fmt::Result {
    write!(out, "not known: {what}")?;
    if what.contains([';', '\t']) {
        write!(
            out,
            ". Values have to be separated by commas, and decimals written with a full stop"
        )?;
    }
    Ok(())
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
