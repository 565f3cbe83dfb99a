//! Why something could not be kept, found or taken in.

use fitting::summary::Unreadable;
pub use fitting::summary::kept_file::FileError;

use crate::errors::Trouble;

/// Why the store could not do what was asked. Whatever it says, nothing that was kept before is
/// lost: every change is made whole or not at all.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum StoreError {
    /// The browser has no storage for this page, or it does not open (a private window).
    Unavailable,
    /// The storage is full.
    Full,
    /// Another tab, or a newer version of this page, holds the storage.
    Blocked,
    /// A newer version of this page laid the storage out; it is read and not written.
    Newer,
    /// The browser refused for another reason: the name it gave.
    Failed(String),
    /// What is kept could not be read and was set aside; or what was to be kept could not have
    /// been read again, and was not written.
    Unreadable {
        /// The id of the row.
        id: String,
        /// What is wrong with it.
        why: Unreadable,
    },
    /// There is nothing with this id.
    NotFound,
    /// It was deleted after it was taken to be saved, so it was not written.
    Deleted,
    /// A file could not be taken in. Nothing of it was.
    File(FileError),
}

impl StoreError {
    /// The trouble a person is told about.
    #[must_use]
    pub const fn trouble(&self) -> Trouble {
        match self {
            Self::Unavailable => Trouble::StoreUnavailable,
            Self::Full => Trouble::StoreFull,
            Self::Blocked => Trouble::StoreBlocked,
            Self::Newer => Trouble::StoreNewer,
            Self::Failed(_) => Trouble::StoreFailed,
            Self::Unreadable { .. } => Trouble::KeptUnreadable,
            Self::NotFound | Self::Deleted => Trouble::NotFound,
            Self::File(FileError::TooLarge) => Trouble::FileTooLarge,
            Self::File(FileError::Foreign) => Trouble::FileForeign,
            Self::File(FileError::Newer) => Trouble::FileNewer,
            Self::File(FileError::NotJson | FileError::Changed | FileError::Damaged { .. }) => {
                Trouble::FileDamaged
            }
        }
    }

    /// What the log keeps of it: no recording, and nothing a person typed.
    #[must_use]
    pub fn detail(&self) -> String {
        match self {
            Self::Failed(name) => name.clone(),
            Self::Unreadable { id, why } => format!("{id}: {}", why_text(why)),
            Self::File(FileError::Damaged { place, why }) => {
                format!("{place}: {}", why.as_ref().map_or_else(String::new, why_text))
            }
            _ => String::new(),
        }
    }
}

/// Names of fields and numbers only.
fn why_text(why: &Unreadable) -> String {
    match why {
        Unreadable::Shape { line, column, .. } => format!("Shape at {line}:{column}"),
        other => format!("{other:?}"),
    }
}
