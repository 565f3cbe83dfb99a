//! Deleting with a way back, and fittings at a counter.

use super::App;
use super::saving::save_all;
use crate::store::{FittingRow, Lock, Taken, is_counter, new_counter_id, new_id, now_epoch_ms};
use fitting::summary::{Envelope, TaskBody};
use leptos::prelude::*;

/// A counter fitting that was left is offered to go on with for so long, then erased: half an hour,
/// the length of a long talk at a counter (common practice, no source).
const LEFT_MILLISECONDS: u64 = 30 * 60 * 1_000;

/// Where the browser keeps that fittings are made at a counter.
const AT_COUNTER: &str = "stick-fitting-room:counter";

/// How often it is noted that a counter fitting is in use, milliseconds.
const USE_MILLISECONDS: u32 = 30_000;

/// Where the browser keeps when a counter fitting was last in use; its id follows. Beside the database, as
/// no form of what is kept has a place for it.
const USED_AT: &str = "stick-fitting-room:used-at:";

/// Notes that a fitting is in use now, if it is one of a counter.
pub(super) fn note_used(id: &str) {
    if let Some(storage) = local_storage().filter(|_| is_counter(id)) {
        // Where it cannot be written, it counts as left when it is found again.
        let _ = storage.set_item(&format!("{USED_AT}{id}"), &now_epoch_ms().to_string());
    }
}

/// When a counter fitting was last in use, milliseconds since 1970 UTC, as far as that is known.
fn used_at(id: &str) -> Option<u64> {
    local_storage()?.get_item(&format!("{USED_AT}{id}")).ok().flatten()?.parse().ok()
}

/// Forgets it of a fitting that was deleted, or of all where `id` is empty.
pub(super) fn forget_use(id: &str) {
    let Some(storage) = local_storage() else { return };
    let names = (0..storage.length().unwrap_or(0)).filter_map(|at| storage.key(at).ok().flatten());
    let of =
        |name: &String| name.strip_prefix(USED_AT).is_some_and(|used| id.is_empty() || used == id);
    for name in names.filter(of).collect::<Vec<_>>() {
        let _ = storage.remove_item(&name);
    }
}

thread_local! {
    static COUNTER: ArcRwSignal<bool> = ArcRwSignal::new(
        local_storage().is_some_and(|storage| storage.get_item(AT_COUNTER).ok().flatten().is_some()),
    );
}

fn local_storage() -> Option<web_sys::Storage> {
    window().local_storage().ok().flatten()
}

impl App {
    /// Whether fittings are made at a counter: new ones erase themselves when their visitor leaves.
    pub fn at_counter(self) -> ArcRwSignal<bool> {
        COUNTER.with(Clone::clone)
    }

    /// Says whether they are, from the next fitting on.
    pub fn set_at_counter(self, is: bool) {
        self.at_counter().set(is);
        if let Some(storage) = local_storage() {
            // Where it cannot be written it holds for this window only.
            let _ = if is {
                storage.set_item(AT_COUNTER, "1")
            } else {
                storage.remove_item(AT_COUNTER)
            };
        }
    }

    /// The id of a new fitting.
    pub(super) fn new_fitting_id(self) -> String {
        if self.at_counter().get_untracked() { new_counter_id() } else { new_id() }
    }

    /// Whether the open fitting erases itself.
    pub fn erases_itself(self) -> bool {
        self.kept.with(|kept| kept.as_ref().is_some_and(|kept| is_counter(&kept.id)))
    }

    /// Deletes a fitting with its recordings; what it was, to put it back.
    pub async fn take_out(self, id: &str) -> Option<Taken> {
        let store = self.store_now()?;
        match store.take_out(id).await {
            Ok(taken) => {
                self.tell_gone(id);
                if self.is_open(id) {
                    self.begin_anew();
                }
                Some(taken)
            }
            Err(error) => {
                self.tell_store(&error);
                None
            }
        }
    }

    /// Deletes one task of a fitting; what it was, to put it back.
    pub async fn take_out_task(self, fitting: &str, task: &str) -> Option<Taken> {
        let store = self.store_now()?;
        if self.is_open_elsewhere(fitting).await {
            // That window would keep it anew.
            self.ask_for(fitting);
            return None;
        }
        match store.take_out_task(fitting, task).await {
            Ok(taken) => {
                if self.is_open(fitting) {
                    self.forget_record(task);
                }
                Some(taken)
            }
            Err(error) => {
                self.tell_store(&error);
                None
            }
        }
    }

    /// Puts back what was deleted; whether it is there again. `fitting` is the one that lost a task.
    pub async fn put_back(self, taken: &Taken, fitting: Option<&str>) -> bool {
        let Some(store) = self.store_now() else { return false };
        match store.put_back(taken).await {
            Ok(()) => {
                if let Some(fitting) = fitting {
                    self.read_again(fitting).await;
                }
                true
            }
            Err(error) => {
                self.tell_store(&error);
                false
            }
        }
    }

    /// The tasks of a fitting, in order.
    pub async fn tasks_of(self, fitting: &str) -> Vec<Envelope<TaskBody>> {
        let Some(store) = self.store_now() else { return Vec::new() };
        match store.load(fitting).await {
            Ok(loaded) => loaded.tasks,
            Err(error) => {
                self.tell_store(&error);
                Vec::new()
            }
        }
    }

    /// Reads the open fitting anew, when it is this one.
    async fn read_again(self, fitting: &str) {
        if self.is_open(fitting) {
            self.take_in(fitting).await;
        }
    }

    /// Erases the open fitting; the next visitor begins anew.
    pub async fn erase_open(self) {
        let open = self.kept.with_untracked(|kept| kept.as_ref().map(|kept| kept.id.clone()));
        self.drop_task();
        if let Some(id) = open {
            self.delete(&id).await;
        }
        self.begin_anew();
    }

    /// Keeps the open fitting for good: it gets an id like any other.
    pub async fn keep_for_good(self) {
        let Some(store) = self.store_now() else { return };
        let Some(mut fitting) = self.kept.get_untracked() else { return };
        let old = std::mem::replace(&mut fitting.id, new_id());
        let stamp = store.stamp();
        let tasks = self.tasks_as_kept(&fitting.id);
        match save_all(&store, stamp, &fitting, &tasks).await {
            // Its tasks are the new one's by now.
            Ok(()) => {
                if self.is_open(&old) {
                    // What was changed meanwhile is kept with the next change.
                    self.kept.update(|kept| {
                        if let Some(kept) = kept {
                            kept.id.clone_from(&fitting.id);
                        }
                    });
                }
                let _ = store.delete(&old).await;
                self.keep_fitting();
            }
            Err(error) => self.tell_store(&error),
        }
    }

    /// Erases a counter fitting that is not open any more, unless another window has it.
    pub async fn erase_left(self, id: &str) {
        let Some(store) = self.store_now() else { return };
        if is_counter(id) && !Lock::is_held(id).await {
            // After a failure it is erased at a later start.
            match store.delete(id).await {
                Ok(()) => forget_use(id),
                Err(error) => self.tell_store(&error),
            }
        }
    }

    /// The counter fittings that were left, apart from those that are open in a window: those to go on
    /// with, and those that were erased now because nobody did for long.
    pub async fn left_at_counter(self) -> (Vec<FittingRow>, Vec<FittingRow>) {
        let Some(store) = self.store_now() else { return Default::default() };
        let listing = match store.list().await {
            Ok(listing) => listing,
            Err(error) => {
                self.tell_store(&error);
                return Default::default();
            }
        };
        let open = self.kept.with_untracked(|kept| kept.as_ref().map(|kept| kept.id.clone()));
        let (mut left, mut erased) = (Vec::new(), Vec::new());
        for row in listing.fittings.into_iter().filter(|row| is_counter(&row.id)) {
            if open.as_ref() == Some(&row.id) || Lock::is_held(&row.id).await {
                continue;
            }
            // One whose last use is not known, of an older version of this page, is left from now on. A clock
            // that was set back makes it young: then somebody is asked.
            let used = used_at(&row.id).unwrap_or_else(|| {
                note_used(&row.id);
                now_epoch_ms()
            });
            if now_epoch_ms().saturating_sub(used) < LEFT_MILLISECONDS {
                left.push(row);
            } else if store.delete(&row.id).await.is_ok() {
                forget_use(&row.id);
                erased.push(row);
            }
        }
        (left, erased)
    }

    /// Erases the open counter fitting when another fitting begins or it is closed. Called once, by the
    /// part that stands above every screen.
    pub fn watch_counter(self) {
        let open =
            Memo::new(move |_| self.kept.with(|kept| kept.as_ref().map(|kept| kept.id.clone())));
        let before = StoredValue::new(None::<String>);
        let taken = StoredValue::new(false);
        // So that a crash at any moment finds when it was last in use.
        gloo_timers::callback::Interval::new(USE_MILLISECONDS, move || {
            self.kept.with_untracked(|kept| {
                if let Some(kept) = kept {
                    note_used(&kept.id);
                }
            });
        })
        .forget();
        crate::parts::live::effect(move || {
            let now = open.get();
            if let Some(id) = &now {
                note_used(id);
            }
            let left = before.try_update_value(|before| std::mem::replace(before, now.clone()));
            let left = left.flatten().filter(|left| Some(left) != now.as_ref());
            if let Some(id) = left.filter(|id| is_counter(id) && !taken.get_value()) {
                leptos::task::spawn_local(async move {
                    // The lock of the one that was left is let go first.
                    gloo_timers::future::TimeoutFuture::new(50).await;
                    self.erase_left(&id).await;
                });
            }
            taken.set_value(self.elsewhere.get());
        });
    }
}
