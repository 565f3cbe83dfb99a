//! What is kept in this browser: fittings and their tasks, in a database of the browser's.
//!
//! Everything kept is an envelope of the core's (kind, schema, core version, id, time, body) as
//! JSON. A save is done when its transaction is complete, with strict durability; changes that
//! belong together are made together or not at all. What cannot be read is set aside as it
//! stands, offered for export, and tried again at every start. Where the browser keeps nothing
//! (a private window), the same store works in memory, and says so: [`Store::is_lasting`].

mod backend;
mod browser;
mod deletions;
mod error;
mod exchange;
mod forget;
mod lasting;
mod lock;
mod rows;
mod set_aside;
mod under_way;

use std::{cell::RefCell, rc::Rc};

use fitting::statistics::order::sort_few;
use fitting::summary::{DeviceSeen, Envelope, FittingBody, TaskBody, Unreadable, plain_text};
use leptos::prelude::window;
use send_wrapper::SendWrapper;
use wasm_bindgen_futures::JsFuture;

use crate::errors;
use backend::{Backend, Row, Table, Tables, Write};
use browser::Browser;
pub use deletions::Stamp;
use deletions::{Deletions, EVERYTHING};
pub use error::{FileError, StoreError};
pub use exchange::{Imported, file_of};
pub use fitting::summary::kept_file::MOST_FILE_BYTES;
use fitting::summary::kept_file::read_row;
pub use forget::{Taken, is_counter, new_counter_id};
pub use lasting::{Lasting, note_saved_as_file};
pub use lock::{Asked, Lock};
use rows::{aside, aside_place, fitting_row, label_of_newer, task_row, written};
pub use under_way::Unfinished;

/// The name of the database.
pub const DATABASE: &str = "stick-fitting-room";

/// A fitting in the list.
#[derive(Clone, Debug, PartialEq)]
pub struct FittingRow {
    /// Its id.
    pub id: String,
    /// When it was made, milliseconds since 1970 UTC.
    pub made_epoch_ms: u64,
    /// What the person calls it; may be empty.
    pub label: String,
    /// The stick.
    pub device: DeviceSeen,
    /// The code of the invented person, or `practice`; `None` for a real stick.
    pub practised: Option<String>,
    /// How many tasks are kept for it.
    pub tasks: u32,
}

/// What is kept.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Listing {
    /// The fittings, the newest first.
    pub fittings: Vec<FittingRow>,
    /// How many rows could not be read and lie aside; offer to export them.
    pub set_aside: usize,
    /// The fittings that a newer version of this page wrote, by id, with what they are called as far
    /// as that can be read; they are left as they are.
    pub newer: Vec<(String, String)>,
}

/// A fitting with its tasks.
#[derive(Clone, Debug, PartialEq)]
pub struct Loaded {
    /// The fitting.
    pub fitting: Envelope<FittingBody>,
    /// Its tasks, in the order in which they were done.
    pub tasks: Vec<Envelope<TaskBody>>,
    /// How many of its tasks could not be read and were left out; they lie aside, not deleted.
    pub left_out: usize,
}

/// The store. Cheap to clone; belongs to the page's one thread.
#[derive(Clone)]
pub struct Store {
    inner: SendWrapper<Rc<Inner>>,
}

struct Inner {
    backend: Backend,
    why_not_lasting: Option<StoreError>,
    deletions: RefCell<Deletions>,
}

impl Store {
    /// Opens the store; in memory, if the browser keeps nothing.
    pub async fn open() -> Self {
        Self::open_named(DATABASE).await
    }

    /// Opens the store in a database of another name: for tests.
    pub async fn open_named(name: &str) -> Self {
        match Browser::open(name).await {
            Ok(browser) => {
                let store = Self::with(Backend::Browser(browser), None);
                // What could not be read may be readable for this version of the page.
                let _ = note(store.take_back().await);
                store
            }
            Err(error) => {
                errors::note(error.trouble(), &error.detail());
                let tables = match error {
                    StoreError::Newer => lasting::copy_of_newer(name).await.unwrap_or_default(),
                    _ => Tables::default(),
                };
                Self::with(Backend::Memory(RefCell::new(tables)), Some(error))
            }
        }
    }

    /// A store in this tab's memory, because of `why` nothing lasts.
    #[must_use]
    pub fn in_memory(why: StoreError) -> Self {
        Self::with(Backend::Memory(RefCell::default()), Some(why))
    }

    fn with(backend: Backend, why_not_lasting: Option<StoreError>) -> Self {
        let deletions = RefCell::default();
        Self { inner: SendWrapper::new(Rc::new(Inner { backend, why_not_lasting, deletions })) }
    }

    fn backend(&self) -> &Backend {
        &self.inner.backend
    }

    /// The moment that goes with what is taken now to be saved.
    #[must_use]
    pub fn stamp(&self) -> Stamp {
        self.inner.deletions.borrow().now()
    }

    /// Makes all the changes or none; none where any of it was deleted since it was taken.
    async fn write(&self, stamp: Stamp, writes: Vec<Write>) -> Result<(), StoreError> {
        let inner = &self.inner;
        let may = |writes: &[Write]| inner.deletions.borrow().allow(stamp, writes);
        inner.backend.write(writes, may).await
    }

    /// Deletes what has an id: from here on nothing of it is written that was taken before.
    async fn write_deletion(
        &self,
        id: &str,
        stamp: Stamp,
        writes: Vec<Write>,
    ) -> Result<(), StoreError> {
        let before = self.inner.deletions.borrow_mut().begin(id);
        let done = self.write(stamp, writes).await;
        self.inner.deletions.borrow_mut().end(id, done.is_ok(), before);
        done
    }

    /// Another window deleted a fitting, or everything: nothing of it is written again from here.
    pub fn note_deleted(&self, fitting: Option<&str>) {
        let id = fitting.unwrap_or(EVERYTHING);
        let mut deletions = self.inner.deletions.borrow_mut();
        let before = deletions.begin(id);
        deletions.end(id, true, before);
    }

    /// Whether what is saved outlasts this tab.
    #[must_use]
    pub fn is_lasting(&self) -> bool {
        self.inner.why_not_lasting.is_none()
    }

    /// Why it does not, if it does not.
    #[must_use]
    pub fn why_not_lasting(&self) -> Option<StoreError> {
        self.inner.why_not_lasting.clone()
    }

    /// Asks the browser not to clear the storage by itself when space runs short; whether it
    /// promises that. Call it after the first save: some browsers ask the person.
    pub async fn ask_to_last(&self) -> bool {
        if !self.is_lasting() {
            return false;
        }
        let Ok(promise) = window().navigator().storage().persist() else { return false };
        JsFuture::from(promise).await.ok().and_then(|answer| answer.as_bool()).unwrap_or(false)
    }

    /// Everything kept. Rows that cannot be read are set aside.
    ///
    /// # Errors
    /// [`StoreError`] of the storage itself.
    pub async fn list(&self) -> Result<Listing, StoreError> {
        note(self.list_rows().await)
    }

    async fn list_rows(&self) -> Result<Listing, StoreError> {
        let stamp = self.stamp();
        let mut listing = Listing::default();
        let mut aside = Vec::new();
        for row in self.backend().all(Table::Fittings).await? {
            match read_row::<FittingBody>(&row) {
                Ok(envelope) => listing.fittings.push(FittingRow {
                    id: envelope.id,
                    made_epoch_ms: envelope.made_epoch_ms,
                    label: envelope.body.label,
                    device: envelope.body.device,
                    practised: envelope.body.practised,
                    tasks: envelope.body.tasks,
                }),
                Err(Unreadable::NewerSchema { .. }) => {
                    listing.newer.push((row.id, label_of_newer(&row.json)));
                }
                Err(why) => aside.push((Table::Fittings, row, why)),
            }
        }
        self.set_rows_aside(stamp, aside).await?;
        listing.set_aside = self.backend().all(Table::SetAside).await?.len();
        sort_few(&mut listing.fittings, |one, other| {
            (other.made_epoch_ms, &one.id) < (one.made_epoch_ms, &other.id)
        });
        Ok(listing)
    }

    /// Whether there is a task of this id.
    ///
    /// # Errors
    /// [`StoreError`] of the storage.
    pub async fn has_task(&self, id: &str) -> Result<bool, StoreError> {
        Ok(self.backend().one(Table::Tasks, id).await?.is_some())
    }

    /// Keeps a fitting, in place of an older state of it.
    ///
    /// # Errors
    /// [`StoreError`]; then the older state is still there.
    pub async fn save_fitting(
        &self,
        stamp: Stamp,
        fitting: &Envelope<FittingBody>,
    ) -> Result<(), StoreError> {
        note(match fitting_row(fitting) {
            Ok((table, row)) => self.write(stamp, vec![Write::Put(table, row)]).await,
            Err(error) => Err(error),
        })
    }

    /// Keeps a fitting and a task of it together: both or neither.
    ///
    /// # Errors
    /// [`StoreError`]; then everything is as it was.
    pub async fn save_together(
        &self,
        stamp: Stamp,
        fitting: &Envelope<FittingBody>,
        task: &Envelope<TaskBody>,
    ) -> Result<(), StoreError> {
        let made = || -> Result<Vec<Write>, StoreError> {
            let rows = [fitting_row(fitting)?, task_row(task)?];
            let mut writes: Vec<Write> =
                rows.into_iter().map(|(table, row)| Write::Put(table, row)).collect();
            // What was kept of it while it ran is in it now.
            writes.push(Write::DeleteRunning(task.id.clone()));
            Ok(writes)
        };
        note(match made() {
            Ok(writes) => self.write(stamp, writes).await,
            Err(error) => Err(error),
        })
    }

    /// A fitting with its tasks. Tasks that cannot be read are set aside and counted.
    ///
    /// # Errors
    /// [`StoreError::NotFound`], [`StoreError::Unreadable`] for the fitting itself, which is then
    /// set aside, and [`StoreError`] of the storage.
    pub async fn load(&self, id: &str) -> Result<Loaded, StoreError> {
        note(self.load_rows(id).await)
    }

    async fn load_rows(&self, id: &str) -> Result<Loaded, StoreError> {
        let stamp = self.stamp();
        let row = self.backend().one(Table::Fittings, id).await?.ok_or(StoreError::NotFound)?;
        let fitting = match read_row::<FittingBody>(&row) {
            Ok(fitting) => fitting,
            Err(why) => {
                if !matches!(why, Unreadable::NewerSchema { .. }) {
                    let row = vec![(Table::Fittings, row, why.clone())];
                    self.set_rows_aside(stamp, row).await?;
                }
                return Err(StoreError::Unreadable { id: id.to_owned(), why });
            }
        };
        let mut loaded = Loaded { fitting, tasks: Vec::new(), left_out: 0 };
        let mut aside = Vec::new();
        for row in self.backend().of_fitting(Table::Tasks, id).await? {
            match read_row::<TaskBody>(&row) {
                Ok(task) => loaded.tasks.push(task),
                Err(why) => {
                    loaded.left_out += 1;
                    if !matches!(why, Unreadable::NewerSchema { .. }) {
                        aside.push((Table::Tasks, row, why));
                    }
                }
            }
        }
        self.set_rows_aside(stamp, aside).await?;
        sort_few(&mut loaded.tasks, |one, other| {
            (one.body.order, one.body.started_epoch_ms, &one.id)
                < (other.body.order, other.body.started_epoch_ms, &other.id)
        });
        Ok(loaded)
    }

    /// Deletes a fitting, its tasks, and what lies aside of them.
    ///
    /// # Errors
    /// [`StoreError`]; then all of it is still there.
    pub async fn delete(&self, id: &str) -> Result<(), StoreError> {
        let writes = vec![
            Write::Delete(Table::Fittings, id.to_owned()),
            Write::DeleteOfFitting(Table::Tasks, id.to_owned()),
            Write::DeleteOfFitting(Table::SetAside, id.to_owned()),
            Write::DeleteOfFitting(Table::Running, id.to_owned()),
        ];
        note(self.write_deletion(id, self.stamp(), writes).await)
    }

    /// Deletes everything, also what lies aside and the log.
    ///
    /// # Errors
    /// [`StoreError`]; then everything is still there.
    pub async fn delete_everything(&self) -> Result<(), StoreError> {
        let writes = Table::ALL.into_iter().map(Write::Clear).collect();
        note(self.write_deletion(EVERYTHING, self.stamp(), writes).await)?;
        errors::clear_log();
        Ok(())
    }
}

/// Writes a failure into the log on its way out.
fn note<T>(result: Result<T, StoreError>) -> Result<T, StoreError> {
    if let Err(error) = &result {
        errors::note(error.trouble(), &error.detail());
    }
    result
}

/// A new id: 32 hexadecimal digits from the browser's source of randomness.
#[must_use]
pub fn new_id() -> String {
    let mut bytes = [0_u8; 16];
    let filled = window()
        .crypto()
        .and_then(|crypto| crypto.get_random_values_with_u8_array(&mut bytes).map(drop));
    if filled.is_err() {
        // Without that source (an old browser off https) an id need only not repeat here.
        bytes.fill_with(|| (js_sys::Math::random() * 256.0) as u8);
    }
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Now, milliseconds since 1970 UTC.
#[must_use]
pub fn now_epoch_ms() -> u64 {
    js_sys::Date::now().max(0.0) as u64
}
