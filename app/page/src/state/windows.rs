//! One fitting in two windows: only one of them keeps it.
//!
//! The window that has a fitting open holds its lock. Another one that wants it asks first; the first
//! then keeps what it has, lets go, and keeps nothing more. One that does not answer loses the lock.

use super::{App, Saved};
use crate::errors::Trouble;
use crate::errors::note;
use crate::store::{Asked, Lock};
use gloo_timers::future::TimeoutFuture;
use leptos::prelude::*;
use std::cell::{Cell, RefCell};
use wasm_bindgen::JsCast;
use web_sys::{BroadcastChannel, MessageEvent};

/// How long a window is given to keep what it has and let go, milliseconds.
const WAIT_MILLISECONDS: u32 = 4_000;

/// The channel between the windows of this page.
const CHANNEL: &str = "stick-fitting-room";

/// Please let go of a fitting; its id follows.
const LET_GO: &str = "let-go ";
/// A fitting was deleted; its id follows, nothing where everything was.
const GONE: &str = "gone ";

/// Whether the fitting of this window went on, or went away, in another one.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Elsewhere {
    /// Another window took it over.
    #[default]
    TakenOver,
    /// Another window deleted it.
    Deleted,
}

thread_local! {
    /// The lock of the open fitting, and its id.
    static HELD: RefCell<Option<(String, Lock)>> = const { RefCell::new(None) };
    /// The fitting that is wanted here and open elsewhere.
    static WANTED: ArcRwSignal<Option<String>> = ArcRwSignal::new(None);
    /// What became of the fitting of this window, when it is not its own any more.
    static HOW: Cell<Elsewhere> = const { Cell::new(Elsewhere::TakenOver) };
    static TO_OTHERS: Option<BroadcastChannel> = BroadcastChannel::new(CHANNEL).ok();
}

fn holds(id: &str) -> bool {
    HELD.with_borrow(|held| held.as_ref().is_some_and(|(of, _)| of == id))
}

/// Holds another lock, or none. The old one is let go outside the borrow: that calls the browser.
fn hold(lock: Option<(String, Lock)>) {
    drop(HELD.replace(lock));
}

impl App {
    /// The fitting that is wanted here and open in another window.
    pub fn wanted_elsewhere(self) -> ArcRwSignal<Option<String>> {
        WANTED.with(Clone::clone)
    }

    /// Asks the person whether a fitting is to be used here that is open elsewhere.
    pub(super) fn ask_for(self, id: &str) {
        WANTED.with(|wanted| wanted.set(Some(id.to_owned())));
    }

    /// Holds the lock of a fitting, if it can be had so; whether it is held.
    pub(super) async fn hold_fitting(self, id: &str, asked: Asked) -> bool {
        if holds(id) {
            return true;
        }
        let of = id.to_owned();
        let lost = move || {
            // Of a lock that was waited for in vain nothing is lost.
            if holds(&of) {
                hold(None);
                self.went_elsewhere(&of, Elsewhere::TakenOver);
            }
        };
        let lock = Lock::of_fitting(id, asked, lost).await;
        let got = lock.is_some();
        if let Some(lock) = lock {
            hold(Some((id.to_owned(), lock)));
        }
        got
    }

    /// Lets go of a fitting that is not open.
    pub(super) fn let_go(self, id: &str) {
        let open = self.kept.with_untracked(|kept| kept.as_ref().is_some_and(|kept| kept.id == id));
        if !open && holds(id) {
            hold(None);
            // The one that stays open is held again.
            if let Some(id) = self.open_id() {
                leptos::task::spawn_local(async move {
                    let _ = self.hold_fitting(&id, Asked::IfFree).await;
                });
            }
        }
    }

    /// Uses a fitting here that another window has open: that one keeps what it has first.
    pub async fn take_over(self, id: &str) {
        WANTED.with(|wanted| wanted.set(None));
        tell(LET_GO, id);
        if self.hold_fitting(id, Asked::Wait(WAIT_MILLISECONDS)).await
            || self.hold_fitting(id, Asked::Take).await
        {
            self.open_held(id).await;
        }
    }

    /// Tells the other windows that a fitting was deleted, or all were.
    pub(super) fn tell_gone(self, id: &str) {
        tell(GONE, id);
    }

    /// Whether another window has this fitting open.
    pub async fn is_open_elsewhere(self, id: &str) -> bool {
        !holds(id) && Lock::is_held(id).await
    }

    /// Holds the lock of whichever fitting is open, and answers the other windows. Called once, by the
    /// part that stands above every screen.
    pub fn watch_windows(self) {
        let open =
            Memo::new(move |_| self.kept.with(|kept| kept.as_ref().map(|kept| kept.id.clone())));
        crate::parts::live::effect(move || match open.get() {
            Some(id) if holds(&id) || self.elsewhere.get_untracked() => {}
            Some(id) => leptos::task::spawn_local(async move {
                // Its id is new, or `open` has its lock: nobody else can have it.
                let _ = self.hold_fitting(&id, Asked::IfFree).await;
            }),
            None => hold(None),
        });
        let Some(channel) = TO_OTHERS.with(Clone::clone) else { return };
        gloo_events::EventListener::new(&channel, "message", move |event| {
            let data = event.unchecked_ref::<MessageEvent>().data();
            let Some(told) = data.as_string() else { return };
            if let Some(id) = told.strip_prefix(LET_GO).filter(|id| holds(id)) {
                let id = id.to_owned();
                leptos::task::spawn_local(async move { self.hand_over(&id).await });
            } else if let Some(id) = told.strip_prefix(GONE) {
                let of = if id.is_empty() { self.open_id() } else { Some(id.to_owned()) };
                if let Some(id) = of {
                    self.went_elsewhere(&id, Elsewhere::Deleted);
                }
            }
        })
        .forget();
    }

    fn open_id(self) -> Option<String> {
        self.kept.with_untracked(|kept| kept.as_ref().map(|kept| kept.id.clone()))
    }

    /// Keeps what there is, also of a running task, and lets another window go on.
    async fn hand_over(self, id: &str) {
        self.end_task();
        self.keep_now();
        let mut waited = 0;
        while self.saved.get_untracked() == Saved::Saving && waited < WAIT_MILLISECONDS {
            TimeoutFuture::new(20).await;
            waited += 20;
        }
        hold(None);
        self.went_elsewhere(id, Elsewhere::TakenOver);
    }

    /// What became of the open fitting; nothing while it is this window's.
    pub fn went_where(self) -> Option<Elsewhere> {
        self.elsewhere.get().then(|| HOW.get())
    }

    fn went_elsewhere(self, id: &str, how: Elsewhere) {
        if self.open_id().as_deref() == Some(id) {
            note(Trouble::StoreBlocked, "open in another window");
            self.leave_task();
            HOW.set(how);
            self.elsewhere.set(true);
        }
    }
}

fn tell(what: &str, id: &str) {
    TO_OTHERS.with(|channel| {
        if let Some(channel) = channel {
            // Refused for a closed channel only, which this one never is.
            let _ = channel.post_message(&format!("{what}{id}").into());
        }
    });
}
