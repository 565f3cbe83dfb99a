//! What is kept in this browser.

mod backend;
mod browser;

/// Why the store could not do what was asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum StoreError {
    /// The browser has no storage for this page, or it does not open.
    Unavailable,
    /// The storage is full.
    Full,
    /// Another tab, or a newer version of this page, holds the storage.
    Blocked,
    /// The browser refused for another reason: the name it gave.
    Failed(String),
    /// What is kept could not be read; it is set aside, not deleted.
    Unreadable {
        /// The id of the row.
        id: String,
    },
    /// There is nothing with this id.
    NotFound,
}
