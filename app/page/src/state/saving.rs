//! Saving the open fitting. A save owns what was taken out of the page when it began, and is called done
//! only when the store says so.

use super::App;
use super::forget::note_used;
use super::keeping::TaskHead;
use crate::errors::Trouble;
use crate::store::{Stamp, Store, StoreError, now_epoch_ms};
use fitting::statistics::order::sort_few;
use fitting::summary::{Envelope, FittingBody, TaskBody};
use fitting::task::TaskRecord;
use fitting::visit::Visit;
use gloo_timers::future::TimeoutFuture;
use leptos::prelude::*;
use std::cell::Cell;
use std::rc::Rc;

/// Whether the newest state is kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Saved {
    /// There is nothing to keep yet.
    Nothing,
    /// It is in the page's memory alone: somebody said no to keeping.
    NotWanted,
    /// It is being kept.
    Saving,
    /// It was kept at this time, milliseconds since 1970 UTC.
    At(u64),
    /// It is in the page's memory, and gone with it: this browser keeps nothing.
    InMemory,
    /// It could not be kept; the page's memory has it.
    Failed,
}

/// How long a save on its way is waited for, milliseconds.
const WAIT_MILLISECONDS: u32 = 4_000;

thread_local! {
    /// How many saves are on their way.
    static SAVES: Cell<u32> = const { Cell::new(0) };
}

/// Everything recorded in a fitting, as it was at one moment.
struct Recordings {
    records: Rc<Vec<TaskRecord>>,
    heads: Vec<TaskHead>,
    aside: Rc<Vec<(TaskRecord, TaskHead)>>,
}

impl Recordings {
    fn all(&self) -> impl Iterator<Item = (&TaskRecord, &TaskHead)> {
        let aside = self.aside.iter().map(|(record, head)| (record, head));
        self.records.iter().zip(&self.heads).chain(aside)
    }

    fn heads(&self) -> impl Iterator<Item = &TaskHead> {
        self.all().map(|(_, head)| head)
    }

    /// Those that are wanted as they are kept with a fitting of this id, in order.
    fn as_kept(&self, fitting: &str, wanted: fn(&TaskHead) -> bool) -> Vec<Envelope<TaskBody>> {
        let as_kept = |(record, head): (&TaskRecord, &TaskHead)| {
            let body = TaskBody {
                fitting: fitting.to_owned(),
                order: head.order,
                started_epoch_ms: head.started_epoch_ms,
                series: head.series,
                site: head.site,
                record: record.clone(),
            };
            Envelope::new(head.id.clone(), head.started_epoch_ms, body)
        };
        let mut tasks: Vec<Envelope<TaskBody>> =
            self.all().filter(|(_, head)| wanted(head)).map(as_kept).collect();
        sort_few(&mut tasks, |one, other| one.body.order < other.body.order);
        tasks
    }
}

/// Keeps tasks with their fitting, one after another; one that was deleted meanwhile is left out.
pub(super) async fn save_all(
    store: &Store,
    stamp: Stamp,
    fitting: &Envelope<FittingBody>,
    tasks: &[Envelope<TaskBody>],
) -> Result<(), StoreError> {
    let mut left_out = 0;
    for task in tasks {
        match store.save_together(stamp, fitting, task).await {
            Err(StoreError::Deleted) => left_out += 1,
            done => done?,
        }
    }
    // All of them: the fitting was deleted itself.
    if left_out == tasks.len() { store.save_fitting(stamp, fitting).await } else { Ok(()) }
}

impl App {
    /// All records of this fitting as they are kept, whatever series they are of.
    pub(super) fn tasks_as_kept(self, fitting: &str) -> Vec<Envelope<TaskBody>> {
        self.recordings().as_kept(fitting, |_| true)
    }

    /// Everything recorded in this fitting, as it is now.
    fn recordings(self) -> Recordings {
        Recordings {
            records: self.records.get_untracked(),
            heads: self.task_heads.get_value(),
            aside: self.aside.get_untracked(),
        }
    }

    /// Marks records as handed over to the store, or as not: all of them, or those with these ids.
    pub(super) fn mark_handed_over(self, handed_over: bool, ids: Option<&[String]>) {
        let mark = |head: &mut TaskHead| {
            if ids.is_none_or(|ids| ids.contains(&head.id)) {
                head.handed_over = handed_over;
            }
        };
        self.task_heads.update_value(|heads| heads.iter_mut().for_each(mark));
        self.aside.update_untracked(|aside| {
            if !aside.is_empty() {
                Rc::make_mut(aside).iter_mut().for_each(|(_, head)| mark(head));
            }
        });
    }

    /// Keeps the fitting's row, and with it those of its records that are not kept yet. Nothing
    /// before anything was recorded or told, or while the store is still opening, or where somebody
    /// said no to keeping.
    pub(crate) fn keep_now(self) {
        let told = self.visit.with_untracked(|visit| *visit != Visit::default());
        let recorded = self.heads(|heads| heads.next().is_some());
        if !(told || recorded) {
            return;
        }
        if self.elsewhere.get_untracked() {
            return;
        }
        let fitting = self.fitting_row();
        if self.keeps_nothing() {
            self.saved.set(Saved::NotWanted);
            return;
        }
        if self.store.with_untracked(Option::is_none) {
            return;
        }
        let recordings = self.recordings();
        self.mark_handed_over(true, None);
        self.save(fitting, recordings);
    }

    /// Tries again to keep what could not be kept.
    pub fn keep_again(self) {
        self.keep_now();
    }

    /// Keeps a row, and with it those of the recordings that are not kept yet. All of it was taken out of
    /// the page at this moment: whatever is opened or deleted until it is kept, nothing else is written.
    fn save(self, fitting: Envelope<FittingBody>, recordings: Recordings) {
        let Some(store) = self.store_now() else { return };
        let stamp = store.stamp();
        note_used(&fitting.id);
        let new = recordings.as_kept(&fitting.id, |head| !head.handed_over);
        let known = recordings.heads().find(|head| head.handed_over).map(|head| head.id.clone());
        self.saved.set(Saved::Saving);
        SAVES.set(SAVES.get() + 1);
        leptos::task::spawn_local(async move {
            let mut done = if new.is_empty() {
                store.save_fitting(stamp, &fitting).await
            } else {
                save_all(&store, stamp, &fitting, &new).await
            };
            // Cleared behind our back ("delete site data", or by the browser itself): the page still has
            // everything, so everything is kept anew. Looked for after the save, which must not wait.
            let cleared = match known {
                Some(known) if done.is_ok() => store.has_task(&known).await == Ok(false),
                _ => false,
            };
            if cleared {
                let all = recordings.as_kept(&fitting.id, |_| true);
                done = save_all(&store, stamp, &fitting, &all).await;
            }
            SAVES.set(SAVES.get() - 1);
            let new: Vec<String> = new.into_iter().map(|task| task.id).collect();
            self.saved_as(&store, &fitting.id, &new, done);
            if !new.is_empty() && store.is_lasting() {
                // Whether the browser promises to keep it changes nothing here.
                let _ = store.ask_to_last().await;
            }
        });
    }

    /// Says what became of a save, as far as its fitting is still the open one.
    fn saved_as(self, store: &Store, id: &str, new: &[String], done: Result<(), StoreError>) {
        let is_open = self.is_open(id);
        match done {
            Err(error) => {
                // They are handed over again with the next change.
                if is_open {
                    self.mark_handed_over(false, Some(new));
                    self.saved.set(Saved::Failed);
                }
                // Of what was deleted meanwhile nothing was to be kept.
                if error != StoreError::Deleted {
                    self.tell_store(&error);
                }
            }
            Ok(()) if !is_open => {}
            Ok(()) if !store.is_lasting() => {
                self.saved.set(Saved::InMemory);
                if !self.told_memory.get_value() {
                    self.told_memory.set_value(true);
                    self.tell(Trouble::StoreUnavailable, "first task done");
                }
            }
            Ok(()) => {
                self.row_kept.set(true);
                if self.has_unsaved() {
                    // One before it failed.
                    self.saved.set(Saved::Failed);
                } else if SAVES.get() == 0 {
                    self.saved.set(Saved::At(now_epoch_ms()));
                }
            }
        }
    }

    /// Whether this fitting is the open one.
    pub(super) fn is_open(self, id: &str) -> bool {
        self.kept.with_untracked(|kept| kept.as_ref().is_some_and(|kept| kept.id == id))
    }

    /// Whether something was recorded that is not kept and not on its way.
    pub(super) fn has_unsaved(self) -> bool {
        self.heads(|heads| heads.filter(|head| !head.handed_over).count() > 0)
    }

    /// Waits until everything that is on its way to the store is there, but not for ever.
    pub(super) async fn saves_done(self) {
        let mut waited = 0;
        while SAVES.get() > 0 && waited < WAIT_MILLISECONDS {
            TimeoutFuture::new(20).await;
            waited += 20;
        }
    }

    /// Whether another fitting may take the place of the open one: what could not be kept yet must not
    /// make room. Tried once more before; if that fails, too, it is told.
    pub(super) async fn makes_room(self) -> bool {
        if self.keeps_nothing() {
            return true;
        }
        self.saves_done().await;
        if self.has_unsaved() {
            self.keep_now();
            self.saves_done().await;
        }
        let unsaved = self.has_unsaved();
        if unsaved {
            self.trouble.set(Some(Trouble::StoreFailed));
        }
        !unsaved
    }
}
