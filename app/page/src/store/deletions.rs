//! What was deleted is not written again by a save that was on its way.
//!
//! Whatever is saved was taken out of the page at some moment, and carries it ([`Stamp`]). A deletion is
//! a moment, too: nothing that was taken before it is written after it.

use std::collections::BTreeMap;

use super::backend::{Row, Write};

/// The moment at which something was taken to be saved, in the order of the deletions of this page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stamp(u64);

/// While a deletion is under way nothing of it is written, whenever it was taken.
const UNDER_WAY: u64 = u64::MAX;

/// Stands for everything.
pub(super) const EVERYTHING: &str = "";

/// When what was deleted.
#[derive(Debug, Default)]
pub(super) struct Deletions {
    count: u64,
    /// By the id of a fitting or a task.
    of: BTreeMap<String, u64>,
}

impl Deletions {
    pub(super) const fn now(&self) -> Stamp {
        Stamp(self.count)
    }

    /// A deletion begins; what to hand to [`Self::end`].
    pub(super) fn begin(&mut self, id: &str) -> u64 {
        self.of.insert(id.to_owned(), UNDER_WAY).unwrap_or(0)
    }

    /// It was done, or it failed and nothing is changed by it.
    pub(super) fn end(&mut self, id: &str, done: bool, before: u64) {
        self.count += u64::from(done);
        self.of.insert(id.to_owned(), if done { self.count } else { before });
    }

    /// Whether everything that is to be written may be.
    pub(super) fn allow(&self, stamp: Stamp, writes: &[Write]) -> bool {
        let at = |id: &str| self.of.get(id).copied().unwrap_or(0);
        let of_row = |row: &Row| {
            // A piece of a running task has its id before a slash; what lies aside its table before a colon.
            let id = row.id.split_once(':').map_or(row.id.as_str(), |(_, id)| id);
            let id = id.split_once('/').map_or(id, |(task, _)| task);
            at(id).max(at(&row.fitting)).max(at(EVERYTHING))
        };
        writes.iter().all(|write| match write {
            Write::Put(_, row) | Write::Add(_, row) => of_row(row) <= stamp.0,
            _ => true,
        })
    }
}
