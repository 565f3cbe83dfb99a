//! Everything kept as one file, and such files taken in again. The form of the file, and everything
//! that is checked of one, lies in [`fitting::summary::kept_file`].

use std::collections::BTreeMap;

use fitting::summary::kept_file::{self, KeptFile, read_file};
use fitting::summary::{Envelope, FittingBody, TaskBody};

use super::{
    Store, StoreError, aside,
    backend::{Row, Table, Write},
    fitting_row, is_counter, new_id, note, now_epoch_ms, read_row, task_row, written,
};

/// What was taken in from a file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Imported {
    /// Fittings that are new here.
    pub fittings: usize,
    /// Tasks that are new here, of all fittings.
    pub tasks: usize,
    /// Of these fittings, how many came under a new id because another state of them is kept
    /// here already, which stays as it is.
    pub renamed: usize,
    /// Fittings that were here already and got tasks that were not.
    pub completed: usize,
    /// Fittings that were here already with all that the file has of them.
    pub already_here: usize,
    /// Things that cannot be read and were set aside.
    pub set_aside: usize,
}

/// What becomes of a fitting of the file.
enum Place {
    /// It comes, under this id.
    New(String),
    /// It is here; those of its tasks that are not, come.
    Here,
}

impl Store {
    /// Everything kept, also what lies aside, as the text of one JSON file.
    ///
    /// # Errors
    /// [`StoreError`] of the storage.
    pub async fn export_all(&self) -> Result<String, StoreError> {
        note(self.export_rows().await)
    }

    async fn export_rows(&self) -> Result<String, StoreError> {
        let mut fittings = BTreeMap::new();
        let mut tasks = Vec::new();
        let mut lying = Vec::new();
        // What this version cannot read must not make the file unreadable for it: such rows, and
        // tasks without their fitting, go as they stand among those that lie aside.
        for row in self.backend().all(Table::Fittings).await? {
            match read_row::<FittingBody>(&row) {
                Ok(fitting) => drop(fittings.insert(fitting.id, row.json)),
                Err(_) => lying.push(aside(Table::Fittings, row)),
            }
        }
        for row in self.backend().all(Table::Tasks).await? {
            match read_row::<TaskBody>(&row) {
                Ok(task) if fittings.contains_key(&task.body.fitting) => tasks.push(row.json),
                _ => lying.push(aside(Table::Tasks, row)),
            }
        }
        lying.extend(self.backend().all(Table::SetAside).await?);
        file(fittings.into_values().collect(), tasks, lying)
    }

    /// One fitting with its tasks as it stands, unread: of a newer version of this page.
    ///
    /// # Errors
    /// [`StoreError`] of the storage.
    pub async fn export_unread(&self, id: &str) -> Result<String, StoreError> {
        note(self.export_unread_rows(id).await)
    }

    async fn export_unread_rows(&self, id: &str) -> Result<String, StoreError> {
        let row = self.backend().one(Table::Fittings, id).await?.ok_or(StoreError::NotFound)?;
        let mut lying = vec![aside(Table::Fittings, row)];
        for table in [Table::Tasks, Table::Running] {
            let of_it = self.backend().of_fitting(table, id).await?;
            lying.extend(of_it.into_iter().map(|row| aside(table, row)));
        }
        file(Vec::new(), Vec::new(), lying)
    }

    /// Takes a file in: everything in it is read and checked first, then all of it is written in
    /// one transaction. It is merged by id and nothing kept is overwritten: tasks that are not here
    /// come to their fitting; a fitting of which another state is kept comes under a new id, with its
    /// tasks.
    ///
    /// # Errors
    /// [`StoreError::File`] or [`StoreError`] of the storage; then nothing was taken in.
    pub async fn import(&self, json: &str) -> Result<Imported, StoreError> {
        note(self.import_file(json).await)
    }

    async fn import_file(&self, json: &str) -> Result<Imported, StoreError> {
        let KeptFile { fittings, tasks, set_aside } = read_file(json).map_err(StoreError::File)?;
        let stamp = self.stamp();
        let mut imported = Imported::default();
        let mut writes = Vec::new();
        let mut of_fitting: BTreeMap<String, Vec<Envelope<TaskBody>>> = BTreeMap::new();
        for task in tasks {
            of_fitting.entry(task.body.fitting.clone()).or_default().push(task);
        }
        for mut fitting in fittings {
            let mut coming = of_fitting.remove(&fitting.id).unwrap_or_default();
            if is_counter(&fitting.id) {
                // Whoever takes in a file wants to keep it: only here it would have been erased.
                fitting.id = new_id();
            }
            match self.place(&fitting, &mut coming).await? {
                Place::New(id) => {
                    imported.fittings += 1;
                    imported.renamed += usize::from(id != fitting.id);
                    fitting.id = id;
                    let (table, row) = fitting_row(&fitting)?;
                    writes.push(Write::Add(table, row));
                }
                Place::Here if coming.is_empty() => imported.already_here += 1,
                Place::Here => {
                    imported.completed += 1;
                    let here = self.backend().of_fitting(Table::Tasks, &fitting.id).await?.len();
                    fitting.body.tasks = u32::try_from(here + coming.len()).unwrap_or(u32::MAX);
                    let (table, row) = fitting_row(&fitting)?;
                    writes.push(Write::Put(table, row));
                }
            }
            for mut task in coming {
                let renamed = task.body.fitting != fitting.id;
                if renamed || self.backend().one(Table::Tasks, &task.id).await?.is_some() {
                    task.id = new_id();
                }
                task.body.fitting.clone_from(&fitting.id);
                let (table, row) = task_row(&task)?;
                imported.tasks += 1;
                writes.push(Write::Add(table, row));
            }
        }
        for row in set_aside {
            let kept = self.backend().one(Table::SetAside, &row.id).await?;
            if kept.as_ref() != Some(&row) {
                let id = if kept.is_some() { format!("{}-{}", row.id, new_id()) } else { row.id };
                imported.set_aside += 1;
                writes.push(Write::Put(Table::SetAside, Row { id, ..row }));
            }
        }
        if !writes.is_empty() {
            self.write(stamp, writes).await?;
        }
        Ok(imported)
    }

    /// What becomes of a fitting; of its tasks, those stay in `coming` that are not here yet.
    async fn place(
        &self,
        fitting: &Envelope<FittingBody>,
        coming: &mut Vec<Envelope<TaskBody>>,
    ) -> Result<Place, StoreError> {
        let Some(kept) = self.backend().one(Table::Fittings, &fitting.id).await? else {
            return Ok(Place::New(fitting.id.clone()));
        };
        // What an older version kept is brought forward, as the file's things were when read. How
        // many tasks there are is counted anew.
        let alike = |kept: Envelope<FittingBody>| {
            let same = |one: &Envelope<FittingBody>| {
                let mut one = one.clone();
                (one.body.tasks, one.core) = (0, String::new());
                one
            };
            same(&kept) == same(fitting)
        };
        if !read_row::<FittingBody>(&kept).is_ok_and(alike) {
            return Ok(Place::New(new_id()));
        }
        let mut here = BTreeMap::new();
        for row in self.backend().of_fitting(Table::Tasks, &fitting.id).await? {
            if let Ok(task) = read_row::<TaskBody>(&row) {
                here.insert(task.id.clone(), task.body);
            }
        }
        let differs =
            |task: &Envelope<TaskBody>| here.get(&task.id).is_some_and(|body| *body != task.body);
        if coming.iter().any(differs) {
            return Ok(Place::New(new_id()));
        }
        coming.retain(|task| !here.contains_key(&task.id));
        Ok(Place::Here)
    }
}

fn file(
    fittings: Vec<String>,
    tasks: Vec<String>,
    set_aside: Vec<Row>,
) -> Result<String, StoreError> {
    kept_file::write(now_epoch_ms(), fittings, tasks, set_aside)
        .map_err(|why| StoreError::Unreadable { id: String::new(), why })
}

/// One fitting with its tasks as the text of a file, in the same form as everything kept. Made
/// of what the page holds in memory, so that it works also where the storage has failed.
///
/// # Errors
/// [`StoreError::Unreadable`] for what could not be read again.
pub fn file_of(
    fitting: &Envelope<FittingBody>,
    tasks: &[Envelope<TaskBody>],
) -> Result<String, StoreError> {
    let tasks = tasks.iter().map(written).collect::<Result<_, _>>()?;
    file(vec![written(fitting)?], tasks, Vec::new())
}
