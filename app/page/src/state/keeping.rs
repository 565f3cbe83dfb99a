//! Keeping and opening fittings. A thing is called kept only when the store says so.

use super::forget::note_used;
use super::{Analysis, App, ByHand};
use crate::errors::Trouble;
use crate::route::{Screen, go};
use crate::store::{Asked, Listing, Stamp, Store, StoreError, new_id, now_epoch_ms};
use fitting::statistics::order::sort_few;
use fitting::summary::{Body, Envelope, Findings, FittingBody, Summary, TaskBody};
use fitting::task::{Past, TaskRecord};
use fitting::visit::Visit;
use gloo_timers::future::TimeoutFuture;
use leptos::prelude::*;
use std::cell::Cell;
use std::rc::Rc;

/// What is kept with a task's record.
#[derive(Clone, Debug)]
pub struct TaskHead {
    /// Its id.
    pub id: String,
    /// When it was begun, milliseconds since 1970 UTC.
    pub started_epoch_ms: u64,
    /// Its place among all records of the fitting.
    pub order: u32,
    /// The set-up it was done with, as its place among those of the visit.
    pub series: u32,
    /// The body part it looked at, as its place among those of the visit; nothing for a task of
    /// the assessment itself.
    pub site: Option<u8>,
    /// Whether it is kept or on its way.
    pub handed_over: bool,
}

/// Whether the newest state is kept.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Saved {
    /// There is nothing to keep yet.
    Nothing,
    /// It is in the page's memory alone: somebody said no to keeping.
    NotWanted,
    /// It is being kept.
    Saving,
    /// It was kept at this time of day.
    At(String),
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
    /// Opens the store; where there is none, one in memory stands in and the page says so.
    pub(crate) fn open_store_now(self) {
        leptos::task::spawn_local(async move {
            let store = Store::open().await;
            match store.why_not_lasting() {
                // Told when there is something to lose.
                Some(StoreError::Unavailable) | None => {}
                Some(error) => self.tell_store(&error),
            }
            self.store.set(Some(Rc::new(store)));
            // What was recorded while it opened.
            self.keep_now();
        });
    }

    /// Computes anew what the records say.
    pub(crate) fn analyse_now(self) {
        let records = self.records.get_untracked();
        let wish = self.wish.get_untracked();
        let analysis =
            (!records.is_empty()).then(|| Rc::new(Analysis::of(Rc::clone(&records), wish)));
        self.analysis.set(analysis);
    }

    /// Plans the rest of today anew after the last record.
    pub(crate) fn plan_anew_now(self) {
        let records = self.records.get_untracked();
        let Some(last) = records.last() else { return };
        self.plan.update(|plan| {
            if let Some(old) = plan.take() {
                *plan = Some(old.after(last, &Past::of(&records)));
            }
        });
    }

    pub(super) fn store_now(self) -> Option<Rc<Store>> {
        self.store.get_untracked()
    }

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
    fn mark_handed_over(self, handed_over: bool, ids: Option<&[String]>) {
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

    /// Deletes from the store what was kept of this fitting; the page's memory keeps it.
    pub async fn forget(self) {
        let Some(store) = self.store_now() else { return };
        let Some(id) = self.kept.with_untracked(|kept| kept.as_ref().map(|kept| kept.id.clone()))
        else {
            return;
        };
        if let Err(error) = store.delete(&id).await {
            self.tell_store(&error);
            return;
        }
        self.mark_handed_over(false, None);
        self.row_kept.set(false);
    }

    /// Changes what was chosen by hand, and keeps it.
    pub fn change(self, change: impl FnOnce(&mut ByHand)) {
        self.by_hand.update(change);
        self.keep_fitting();
    }

    /// The fitting as a row to keep.
    pub(super) fn fitting_row(self) -> Envelope<FittingBody> {
        self.note_device_in_use();
        let stick = self.stick_of_fitting();
        let body = FittingBody {
            label: self.label.get_untracked(),
            device: stick.device,
            practised: stick.practised,
            wish: self.wish.get_untracked(),
            minutes: self.minutes(),
            chosen: Some(self.settings_untracked()),
            chosen_aside: self.chosen_aside.get_value(),
            tasks: self.heads(|heads| heads.count()).try_into().unwrap_or(u32::MAX),
            stick_kind: self.kind.get_untracked(),
            visit: self.visit.get_untracked(),
            ..FittingBody::default()
        }
        .tidied()
        .into_owned();
        let row = match self.kept.get_untracked() {
            Some(mut kept) => {
                let before = std::mem::take(&mut kept.body);
                kept.body =
                    FittingBody { body_part: before.body_part, notes: before.notes, ..body };
                kept
            }
            None => Envelope::new(self.new_fitting_id(), now_epoch_ms(), body),
        };
        self.kept.set(Some(row.clone()));
        row
    }

    /// The minutes of the last plan that was chosen, today or when this fitting was kept.
    fn minutes(self) -> u32 {
        let kept = || self.kept.with_untracked(|kept| kept.as_ref().map(|kept| kept.body.minutes));
        let today = self.plan.with_untracked(|plan| plan.as_ref().map(|plan| plan.wanted.minutes));
        today.or_else(kept).unwrap_or(0)
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
                    self.saved.set(Saved::At(time_of_day()));
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
    async fn makes_room(self) -> bool {
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

    /// What is kept, the newest first; tells when something could not be read. Nothing where the store
    /// could not be read, which is told.
    pub async fn list(self) -> Option<Listing> {
        let store = self.store_now()?;
        match store.list().await {
            Ok(listing) => {
                if listing.set_aside > 0 {
                    self.tell_aside();
                }
                Some(listing)
            }
            Err(error) => {
                self.tell_store(&error);
                None
            }
        }
    }

    /// Tells, once in a visit, that something kept could not be read.
    pub(super) fn tell_aside(self) {
        if !self.told_aside.get_value() {
            self.told_aside.set_value(true);
            self.tell(Trouble::KeptUnreadable, "rows set aside");
        }
    }

    /// Opens a kept fitting with live sliders; one that another window has open only after a question.
    pub async fn open(self, id: &str) {
        if self.hold_fitting(id, Asked::IfFree).await {
            self.open_held(id).await;
        } else {
            self.ask_for(id);
        }
    }

    /// Opens a kept fitting whose lock is held.
    pub(super) async fn open_held(self, id: &str) {
        if self.take_in(id).await {
            let recorded = self.records.with_untracked(|records| !records.is_empty());
            go(if recorded { &Screen::Settings } else { &Screen::Ready });
        }
    }

    /// Reads a kept fitting whose lock is held; whether it could be read.
    pub(super) async fn take_in(self, id: &str) -> bool {
        let Some(store) = self.store_now() else { return false };
        if !self.makes_room().await {
            self.let_go(id);
            return false;
        }
        let loaded = match store.load(id).await {
            Ok(loaded) => loaded,
            Err(error) => {
                self.let_go(id);
                self.tell_store(&error);
                return false;
            }
        };
        self.begin_anew();
        let fitting = loaded.fitting;
        let with_head = |(order, task): (usize, Envelope<TaskBody>)| {
            let head = TaskHead {
                id: task.id,
                started_epoch_ms: task.body.started_epoch_ms,
                order: u32::try_from(order).unwrap_or(u32::MAX),
                series: task.body.series,
                site: task.body.site,
                handed_over: true,
            };
            (task.body.record, head)
        };
        let all: Vec<(TaskRecord, TaskHead)> =
            loaded.tasks.into_iter().enumerate().map(with_head).collect();
        let series = fitting.body.visit.series();
        if let Some((last, _)) = all.iter().rfind(|(_, head)| head.series == series) {
            self.axes.set(last.axes);
        }
        self.label.set(fitting.body.label.clone());
        self.wish.set(fitting.body.wish);
        self.visit.set(fitting.body.visit.clone());
        self.kind.set(fitting.body.stick_kind);
        self.chosen_aside.set_value(fitting.body.chosen_aside.clone());
        let chosen = fitting.body.chosen.clone();
        self.kept.set(Some(fitting));
        self.row_kept.set(true);
        self.aside.set(Rc::new(all));
        self.sort_out();
        self.asked_at_muscle.set(self.muscle_seconds());
        self.take_as_chosen(chosen.as_ref());
        self.saved.set(if store.is_lasting() { Saved::At(time_of_day()) } else { Saved::InMemory });
        // Which stick is at hand now, nobody has said yet; the same one goes on with this fitting.
        self.input.choose_none();
        if loaded.left_out > 0 {
            self.tell(Trouble::KeptUnreadable, "tasks left out");
        }
        true
    }

    /// Begins a next visit of the person of a kept fitting: a new fitting with the same name, the
    /// set-up in use as its first series, and what is remembered from one visit to the next.
    pub async fn begin_next(self, id: &str) {
        let Some(store) = self.store_now() else { return };
        if !self.makes_room().await {
            return;
        }
        let before = match store.load(id).await {
            Ok(loaded) => loaded.fitting.body,
            Err(error) => {
                self.tell_store(&error);
                return;
            }
        };
        self.begin_anew();
        self.label.set(before.label);
        self.wish.set(before.wish);
        self.kind.set(before.stick_kind);
        self.visit.set(before.visit.next());
        self.input.choose_none();
        go(&Screen::Ready);
    }

    /// Deletes a fitting with its recordings.
    pub async fn delete(self, id: &str) {
        let Some(store) = self.store_now() else { return };
        if let Err(error) = store.delete(id).await {
            self.tell_store(&error);
            return;
        }
        self.tell_gone(id);
        if self.is_open(id) {
            self.begin_anew();
        }
    }

    /// Deletes everything.
    pub async fn delete_everything(self) {
        let Some(store) = self.store_now() else { return };
        if let Err(error) = store.delete_everything().await {
            self.tell_store(&error);
            return;
        }
        self.tell_gone("");
        self.begin_anew();
    }

    /// The summary of this fitting as it is now; nothing without records.
    pub fn summary(self) -> Option<Summary> {
        let chosen = self.settings_untracked();
        let fitting = self.kept.get_untracked()?;
        self.analysis.with_untracked(|analysis| {
            let analysis = analysis.as_ref()?;
            let after = analysis.effect(&chosen);
            let findings = Findings {
                measures: &analysis.measures,
                suggestions: &analysis.suggestions,
                chosen: &chosen,
                before: &analysis.before,
                after: &after,
            };
            // A summary is made of a fitting, so it carries that fitting's time: made twice
            // from the same fitting, it is the same summary.
            Some(Summary::of(&fitting, &findings, new_id(), fitting.made_epoch_ms))
        })
    }

    pub(super) fn tell_store(self, error: &StoreError) {
        self.tell(error.trouble(), &error.detail());
    }
}

/// The time of day, as the person's own language writes it.
fn time_of_day() -> String {
    let now = js_sys::Date::new_0();
    String::from(now.to_locale_time_string("default"))
}
