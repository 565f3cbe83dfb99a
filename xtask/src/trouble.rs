//! What can go wrong, said in one sentence with what to do about it.

use std::fmt;

/// A failure for a person to read: what happened, and what to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Trouble {
    /// What happened, one sentence.
    pub(crate) what: String,
    /// What to do about it, one sentence; empty where the text above it says so already.
    pub(crate) todo: String,
}

impl Trouble {
    /// A trouble with its way out.
    pub(crate) fn new(what: impl Into<String>, todo: impl Into<String>) -> Self {
        Self { what: what.into(), todo: todo.into() }
    }

    /// A file could not be read or written.
    pub(crate) fn file(path: &std::path::Path, error: &std::io::Error) -> Self {
        Self::new(
            format!("{} could not be read or written: {error}.", path.display()),
            "Check that the folder is there, is yours, and that the disk is not full.",
        )
    }
}

impl fmt::Display for Trouble {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{}", self.what)?;
        if !self.todo.is_empty() {
            write!(out, "\nWhat to do: {}", self.todo)?;
        }
        Ok(())
    }
}
