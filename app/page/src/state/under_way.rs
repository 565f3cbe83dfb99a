//! Keeping the running task piece by piece, and what a crash left of one.

use super::{App, Saved};
use crate::route::{Screen, go};
use crate::store::{Lock, Unfinished, new_id};
use fitting::summary::under_way::next_piece;
use fitting::summary::{Envelope, TaskBody};
use fitting::task::Phase;
use fitting::visit::Visit;
use leptos::prelude::*;

/// The longest that samples of a running task stay in the page's memory alone, seconds. A frame and
/// the transaction come on top, so that it stays below half a second.
const PIECE_SECONDS: f64 = 0.35;

/// What is kept of the running task while it runs.
#[derive(Debug)]
pub struct UnderWay {
    /// The id that its record will have.
    pub task: String,
    /// The number of the next piece.
    number: u32,
    /// The place of its first sample.
    first: usize,
    /// When the last piece was handed over, seconds.
    handed_over: f64,
    /// Whether a piece is on its way.
    busy: bool,
    _lock: Option<Lock>,
}

impl UnderWay {
    fn begin() -> Self {
        let task = new_id();
        Self {
            _lock: Lock::of_task(&task),
            task,
            number: 0,
            first: 0,
            handed_over: f64::NEG_INFINITY,
            busy: false,
        }
    }
}

impl App {
    /// Keeps what the running task recorded since the last piece, when it is time to. Nothing where
    /// nothing lasts, or somebody said no to keeping, or nothing began yet.
    pub(super) fn keep_under_way(self, now_seconds: f64) {
        let Some(store) = self.store.get_untracked().filter(|store| store.is_lasting()) else {
            return;
        };
        let records =
            |view: &fitting::task::TaskView| view.paused.is_none() && view.phase != Phase::Ready;
        let began = self.session.view.with_untracked(|view| view.as_ref().is_some_and(records));
        if !began || self.keeps_nothing() {
            return;
        }
        let due = self.under_way.try_update_value(|one| {
            let one = one.get_or_insert_with(UnderWay::begin);
            let due = !one.busy && now_seconds - one.handed_over >= PIECE_SECONDS;
            due.then(|| (one.task.clone(), one.number, one.first))
        });
        let Some((id, number, first)) = due.flatten() else { return };
        let made =
            self.session.run.try_update_value(|run| next_piece(run.as_mut()?, number, first));
        let Some((piece, record, next)) = made.flatten() else { return };
        let started_epoch_ms = self.session.begun_epoch_ms.get_value();
        let stamp = store.stamp();
        // With the first piece its fitting is kept, too: it may be the first of its fitting.
        let fitting = (number == 0).then(|| self.fitting_row());
        let Some(of) = self.kept.with_untracked(|kept| kept.as_ref().map(|kept| kept.id.clone()))
        else {
            return;
        };
        let last = self.heads(|heads| heads.map(|head| head.order).max());
        let body = TaskBody {
            fitting: of,
            order: last.map_or(0, |last| last.saturating_add(1)),
            started_epoch_ms,
            series: self.visit.with_untracked(Visit::series),
            site: self.looking_at.get_value(),
            record,
        };
        let task = Envelope::new(id.clone(), started_epoch_ms, body);
        self.change_under_way(&id, |one| {
            one.busy = true;
            one.handed_over = now_seconds;
        });
        leptos::task::spawn_local(async move {
            let done = store.save_piece(stamp, fitting.as_ref(), &task, &piece).await.is_ok();
            self.change_under_way(&id, |one| {
                one.busy = false;
                if done {
                    one.number = number + 1;
                    one.first = next;
                }
            });
            if !done {
                self.saved.set(Saved::Failed);
            }
        });
    }

    /// Changes what is known of the task of this id, while it is the running one.
    fn change_under_way(self, id: &str, change: impl FnOnce(&mut UnderWay)) {
        self.under_way
            .try_update_value(|one| one.as_mut().filter(|one| one.task == id).map(change));
    }

    /// Drops what was kept of a task while it ran: nothing of it is wanted.
    pub(crate) fn drop_under_way_now(self) {
        let Some(one) = self.under_way.try_update_value(Option::take).flatten() else { return };
        let Some(store) = self.store.get_untracked() else { return };
        leptos::task::spawn_local(async move {
            // Changes come in the order in which they are handed over: behind a piece that is on
            // its way. After a failure it is asked about at the next start.
            if let Err(error) = store.drop_running(&one.task).await {
                self.tell_store(&error);
            }
        });
    }

    /// What a crash left.
    pub async fn unfinished(self) -> Vec<Unfinished> {
        let Some(store) = self.store.get_untracked() else { return Vec::new() };
        match store.unfinished().await {
            Ok((unfinished, unreadable)) => {
                if unreadable > 0 {
                    self.tell_aside();
                }
                unfinished
            }
            Err(error) => {
                self.tell_store(&error);
                Vec::new()
            }
        }
    }

    /// Keeps what a crash left, and opens its fitting.
    pub async fn keep_unfinished(self, task: &Envelope<TaskBody>) {
        let Some(store) = self.store.get_untracked() else { return };
        match store.keep_unfinished(task).await {
            Ok(()) => {
                self.open(&task.body.fitting).await;
                go(&Screen::Measure);
            }
            Err(error) => self.tell(error.trouble(), &error.detail()),
        }
    }

    /// Throws away what a crash left.
    pub async fn drop_unfinished(self, task: &Envelope<TaskBody>) {
        let Some(store) = self.store.get_untracked() else { return };
        if let Err(error) = store.drop_running(&task.id).await {
            self.tell(error.trouble(), &error.detail());
        }
    }
}
