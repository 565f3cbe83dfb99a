//! Keeping and opening fittings. A thing is called kept only when the store says so.

use super::{Analysis, App, ByHand, Saved};
use crate::errors::Trouble;
use crate::route::{Screen, go};
use crate::store::{Asked, Listing, Store, StoreError, new_id, now_epoch_ms};
use fitting::summary::{Body, Envelope, Findings, FittingBody, Summary, TaskBody};
use fitting::task::{Past, TaskRecord};
use gloo_timers::future::TimeoutFuture;
use leptos::prelude::*;
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

    /// The store, as soon as it has opened: somebody may be quicker than it.
    pub(super) async fn store_when_open(self) -> Rc<Store> {
        loop {
            if let Some(store) = self.store_now() {
                return store;
            }
            TimeoutFuture::new(20).await;
        }
    }

    pub(super) fn store_now(self) -> Option<Rc<Store>> {
        self.store.get_untracked()
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
        self.saved.set(if store.is_lasting() {
            Saved::At(now_epoch_ms())
        } else {
            Saved::InMemory
        });
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
        let store = self.store_when_open().await;
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
