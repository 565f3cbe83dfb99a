//! What the page knows: one fitting at a time, its records, what they say, what was chosen.

mod analysis;
mod buttons;
mod by_hand;
mod decided;
mod devices;
mod files;
mod forget;
mod keeping;
mod pushes;
mod saving;
mod series;
mod session;
mod stick;
mod together;
mod under_way;
mod windows;

pub use analysis::Analysis;
pub use by_hand::ByHand;
pub use decided::Decided;
pub use devices::Judged;
pub use keeping::TaskHead;
pub use saving::Saved;
pub use session::{Session, is_rest};
pub use under_way::UnderWay;
pub use windows::Elsewhere;

use crate::errors::Trouble;
use crate::input::{Input, Source};
use crate::later::Later;
use crate::parts::live::effect;
use crate::route::Screen;
use crate::store::{Store, new_id};
use fitting::Settings;
use fitting::suggest::Wish;
use fitting::summary::{ChosenFor, Envelope, FittingBody};
use fitting::task::{Plan, TaskRecord};
use fitting::visit::{ConsentTo, Rise, Visit, is_same_stick};
use fitting::{StickAxes, StickKind, StickTrait};
use leptos::prelude::*;
use std::rc::Rc;

/// The page's state: a handful of handles, copied freely.
#[derive(Clone, Copy)]
pub struct App {
    /// Devices, practice stick, invented people.
    pub input: Input,
    /// The later part of the program, once it is there.
    pub later: RwSignal<Option<&'static Later>>,
    /// Whether it could not be fetched.
    pub later_missing: RwSignal<bool>,
    /// Where things are kept; nothing until it is open.
    pub store: RwSignal<Option<Rc<Store>>, LocalStorage>,
    /// Which screen is shown.
    pub screen: RwSignal<Screen>,
    /// The label the person typed for this fitting.
    pub label: RwSignal<String>,
    /// The row of this fitting; nothing before anything was told or done.
    pub kept: RwSignal<Option<Envelope<FittingBody>>, LocalStorage>,
    /// Which axes are the stick.
    pub axes: RwSignal<StickAxes>,
    /// What kind of stick it is.
    pub kind: RwSignal<StickKind>,
    /// The plan of today, once minutes were chosen.
    pub plan: RwSignal<Option<Plan>, LocalStorage>,
    /// The records of the tasks of the series in use, in order.
    pub records: RwSignal<Rc<Vec<TaskRecord>>, LocalStorage>,
    /// What is kept with each of the records, in the same order.
    pub task_heads: StoredValue<Vec<TaskHead>>,
    /// What else was recorded, in order: with another set-up, or of a body part that was only
    /// looked at. It is kept with the fitting, and in none of its figures.
    pub aside: RwSignal<Rc<Vec<(TaskRecord, TaskHead)>>, LocalStorage>,
    /// The body part that is being looked at, as its place among those of the visit.
    pub looking_at: StoredValue<Option<u8>>,
    /// What is kept of the running task while it runs.
    pub under_way: StoredValue<Option<UnderWay>, LocalStorage>,
    /// The settings chosen for the other series.
    pub chosen_aside: StoredValue<Vec<ChosenFor>, LocalStorage>,
    /// Whether a row of this fitting is in the store.
    pub row_kept: RwSignal<bool>,
    /// The muscle work done when fatigue and pain were last asked, seconds.
    pub asked_at_muscle: RwSignal<f64>,
    /// The rise of fatigue or pain with which somebody went on all the same.
    pub went_on_at: RwSignal<Option<Rise>>,
    /// What the records say; nothing without records.
    pub analysis: RwSignal<Option<Rc<Analysis>>, LocalStorage>,
    /// How often it may move by itself.
    pub wish: RwSignal<Wish>,
    /// What was changed by hand.
    pub by_hand: RwSignal<ByHand>,
    /// The running task.
    pub session: Session,
    /// Whether the rest window is open.
    pub resting: RwSignal<bool>,
    /// What went wrong last, until it was read.
    pub trouble: RwSignal<Option<Trouble>>,
    /// Whether the newest state is kept.
    pub saved: RwSignal<Saved>,
    /// Whether the person was told in this visit that something lies aside.
    pub told_aside: StoredValue<bool>,
    /// Whether the person was told that this browser keeps nothing.
    pub told_memory: StoredValue<bool>,
    /// Whether a button of another connected device means stop.
    pub other_device_stops: RwSignal<bool>,
    /// What belongs to the visit and is no measurement.
    pub visit: RwSignal<Visit>,
    /// Of which device the verdict is; nothing until somebody chose.
    pub judged: RwSignal<Option<Judged>>,
    /// Proposals about the kind of stick that were answered with no.
    pub declined: RwSignal<Vec<StickTrait>>,
    /// Whether this fitting went on, or went away, in another window.
    pub elsewhere: RwSignal<bool>,
}

impl App {
    /// The state of a fresh page. Input starts at once; the store opens on the way.
    pub fn start() -> Self {
        let app = Self {
            input: Input::start(),
            later: RwSignal::new(None),
            later_missing: RwSignal::new(false),
            store: RwSignal::new_local(None),
            screen: crate::route::use_route(),
            label: RwSignal::new(String::new()),
            kept: RwSignal::new_local(None),
            axes: RwSignal::new(StickAxes::default()),
            kind: RwSignal::new(StickKind::default()),
            plan: RwSignal::new_local(None),
            records: RwSignal::new_local(Rc::new(Vec::new())),
            task_heads: StoredValue::new(Vec::new()),
            aside: RwSignal::new_local(Rc::default()),
            looking_at: StoredValue::new(None),
            under_way: StoredValue::new_local(None),
            chosen_aside: StoredValue::new_local(Vec::new()),
            row_kept: RwSignal::new(false),
            asked_at_muscle: RwSignal::new(0.0),
            went_on_at: RwSignal::new(None),
            analysis: RwSignal::new_local(None),
            wish: RwSignal::new(Wish::default()),
            by_hand: RwSignal::new(ByHand::default()),
            session: Session::new(),
            resting: RwSignal::new(false),
            trouble: RwSignal::new(None),
            saved: RwSignal::new(Saved::Nothing),
            told_aside: StoredValue::new(false),
            told_memory: StoredValue::new(false),
            other_device_stops: RwSignal::new(false),
            visit: RwSignal::new(Visit::default()),
            judged: RwSignal::new(None),
            declined: RwSignal::new(Vec::new()),
            elsewhere: RwSignal::new(false),
        };
        app.open_store_when_needed();
        request_animation_frame(move || app.load_later());
        app.watch_input();
        app
    }

    /// The state that the root of the page provides.
    pub fn of_context() -> Self {
        expect_context()
    }

    /// The settings: as suggested, with what was changed by hand.
    pub fn settings(self) -> Settings {
        self.analysis.with(|analysis| self.by_hand.with(|by_hand| laid_over(analysis, by_hand)))
    }

    /// Which of them have a number.
    pub fn decided(self) -> Decided {
        self.analysis.with(|analysis| {
            self.by_hand.with(|by_hand| match analysis {
                Some(analysis) => Decided::of(&analysis.suggestions, by_hand),
                None => Decided::NOTHING,
            })
        })
    }

    /// The same as [`App::settings`], not tracked.
    pub fn settings_untracked(self) -> Settings {
        self.analysis.with_untracked(|analysis| {
            self.by_hand.with_untracked(|by_hand| laid_over(analysis, by_hand))
        })
    }

    /// Fetches the later part of the program. What was recorded before it came is kept then.
    pub fn load_later(self) {
        self.later_missing.set(false);
        leptos::task::spawn_local(async move {
            match crate::later::load().await {
                Ok(later) => {
                    self.later.set(Some(later));
                    (later.analyse)(self);
                }
                Err(error) => {
                    crate::errors::note(Trouble::LaterMissing, &format!("{error:?}"));
                    self.later_missing.set(true);
                }
            }
        });
    }

    /// Opens the store, but not for somebody who only reads a shared link: nothing is written on
    /// their machine.
    fn open_store_when_needed(self) {
        let opened = StoredValue::new(false);
        effect(move || {
            let reads_only = self.screen.with(|screen| matches!(screen, Screen::Shared(_)));
            let Some(later) = self.later.get() else { return };
            if !reads_only && !opened.get_value() {
                opened.set_value(true);
                (later.open_store)(self);
            }
        });
    }

    /// Computes anew what the records say, as soon as the later part is there.
    pub fn analyse(self) {
        if let Some(later) = self.later.get_untracked() {
            (later.analyse)(self);
        }
    }

    /// Takes a finished task's record into the fitting and keeps both, as soon as the later part
    /// is there.
    pub(crate) fn keep_record(self, record: TaskRecord) {
        let last = self.heads(|heads| heads.map(|head| head.order).max());
        let head = TaskHead {
            // Under the id under which it was kept while it ran.
            id: self
                .under_way
                .try_update_value(Option::take)
                .flatten()
                .map_or_else(new_id, |one| one.task),
            started_epoch_ms: self.session.begun_epoch_ms.get_value(),
            order: last.map_or(0, |last| last.saturating_add(1)),
            series: self.visit.with_untracked(Visit::series),
            site: self.looking_at.get_value(),
            handed_over: false,
        };
        if head.site.is_some() {
            self.aside.update(|aside| Rc::make_mut(aside).push((record, head)));
        } else {
            let mut records = self.records.with_untracked(|records| records.as_ref().clone());
            records.push(record);
            self.task_heads.update_value(|heads| heads.push(head));
            self.records.set(Rc::new(records));
            if let Some(later) = self.later.get_untracked() {
                (later.plan_anew)(self);
            }
            self.analyse();
        }
        self.keep_fitting();
    }

    /// Looks at what is kept with each record of this fitting, whatever series it is of.
    pub(crate) fn heads<T>(self, look: impl FnOnce(&mut dyn Iterator<Item = &TaskHead>) -> T) -> T {
        self.task_heads.with_value(|heads| {
            self.aside.with_untracked(|aside| {
                look(&mut heads.iter().chain(aside.iter().map(|(_, head)| head)))
            })
        })
    }

    /// Keeps the fitting after a change of label, wish or settings; nothing before the first
    /// task.
    pub fn keep_fitting(self) {
        if let Some(later) = self.later.get_untracked() {
            (later.keep)(self);
        }
    }

    /// Changes what belongs to the visit, and keeps it.
    pub fn change_visit(self, change: impl FnOnce(&mut Visit)) {
        self.visit.update(change);
        self.keep_fitting();
    }

    /// Begins a new fitting; what was kept stays kept.
    pub fn begin_anew(self) {
        self.session.leave(self.input);
        self.label.set(String::new());
        self.visit.set(Visit::default());
        self.judged.set(None);
        self.declined.set(Vec::new());
        self.kept.set(None);
        self.plan.set(None);
        self.records.set(Rc::new(Vec::new()));
        self.task_heads.set_value(Vec::new());
        self.aside.set(Rc::default());
        self.chosen_aside.set_value(Vec::new());
        self.row_kept.set(false);
        self.asked_at_muscle.set(0.0);
        self.went_on_at.set(None);
        self.analysis.set(None);
        self.by_hand.set(ByHand::default());
        self.saved.set(Saved::Nothing);
        self.elsewhere.set(false);
    }

    /// Takes up a source. A stick other than the one this fitting was recorded with begins a new
    /// fitting, so that the recordings of two never mix; the same one goes on with it.
    pub fn choose(self, source: Source) {
        if self.input.chosen() == Some(source) {
            return;
        }
        self.leave_task();
        // Of several devices of this fitting, each goes on with its own series.
        if self.later.get_untracked().is_some_and(|later| (later.take_up)(self, source)) {
            return;
        }
        let count = self.heads(|heads| heads.count());
        let not_kept = self.heads(|heads| heads.filter(|head| !head.handed_over).count());
        if not_kept > 0 && !self.keeps_nothing() {
            // What could not be kept yet must not make room for another fitting.
            let fetched = self.later.with_untracked(Option::is_some);
            self.trouble.set(Some(if fetched {
                Trouble::StoreFailed
            } else {
                Trouble::LaterMissing
            }));
            return;
        }
        if !self.input.choose(source) {
            self.trouble.set(Some(Trouble::DeviceGone));
            return;
        }
        if count > 0 && self.is_of_this_fitting(source) {
            return;
        }
        if count > 0 {
            let visit = self.visit.with_untracked(Visit::with_another_stick);
            self.begin_anew();
            self.visit.set(visit);
        }
        self.axes.set(StickAxes::default());
        // What moves the stick is the person's, whichever stick it is.
        self.kind.update(|kind| *kind = StickKind { mover: kind.mover, ..StickKind::default() });
    }

    /// Whether a stick that shows itself may be taken without being chosen: none is in use, and it does
    /// not contradict what this fitting was recorded with.
    pub fn may_take(self, source: Source) -> bool {
        let recorded = self.heads(|heads| heads.next().is_some());
        self.input.chosen().is_none()
            && !self.session.runs()
            && self.visit.with_untracked(|visit| visit.devices.used.is_empty())
            && (!recorded || self.is_of_this_fitting(source))
    }

    /// Whether somebody said no to keeping, or another window has this fitting now: then nothing is.
    pub fn keeps_nothing(self) -> bool {
        self.elsewhere.get_untracked()
            || self.visit.with_untracked(|visit| visit.consent.refuses(ConsentTo::Keeping))
    }

    /// Whether a source is what this fitting was recorded with, as far as its name and
    /// shape tell: a device has no serial number here.
    fn is_of_this_fitting(self, source: Source) -> bool {
        let now = stick::of_source(self.input, Some(source));
        self.kept.with_untracked(|kept| {
            kept.as_ref().is_some_and(|kept| {
                let of_kept = (&kept.body.device, kept.body.practised.as_deref());
                is_same_stick(of_kept, (&now.device, now.practised.as_deref()))
            })
        })
    }

    /// Tells of a trouble and writes it into the log.
    pub fn tell(self, trouble: Trouble, detail: &str) {
        crate::errors::note(trouble, detail);
        self.trouble.set(Some(trouble));
    }

    /// Pauses a running task when the device goes or the page is hidden.
    fn watch_input(self) {
        let status = self.input.status();
        Effect::new(move || {
            let (gone, hidden) = status.with(|status| (status.device_gone, status.page_hidden));
            self.session.watch(self.input, gone, hidden);
        });
    }
}

fn laid_over(analysis: &Option<Rc<Analysis>>, by_hand: &ByHand) -> Settings {
    match analysis {
        Some(analysis) => by_hand.over(&analysis.suggestions),
        None => Settings::default(),
    }
}
