//! The sampling itself: what happens at each poll, outside the reactive graph.

use std::{
    cell::{Cell, RefCell},
    rc::{Rc, Weak},
};

use fitting::{Sample, summary::DeviceSeen, task::TaskView};
use leptos::prelude::*;

use super::{
    Frame, Listener,
    adapter::{Adapter, Look},
    clockwork::Timers,
    live::Live,
    own::{self, Own},
    pads::Pads,
    practice::PracticeStick,
    status::{InputStatus, Interface, Source},
};
use crate::errors::{self, Trouble};

type FrameFunction = Rc<RefCell<dyn FnMut(&Frame<'_>)>>;

/// The state behind [`super::Input`].
pub(super) struct Engine {
    pub(super) signal: RwSignal<InputStatus>,
    /// The same as the signal, for polls: reading a signal a thousand times a second is no use.
    shown: RefCell<InputStatus>,
    /// Never borrowed while it calls into the browser, which may call back.
    adapter: Adapter,
    pads: RefCell<Pads>,
    /// The browser told that a device came or went; the next look is a close one.
    plugged: Cell<bool>,
    pub(super) stick: RefCell<PracticeStick>,
    own: RefCell<Option<Own>>,
    /// The newest state handed in, until it is taken.
    pub(super) fed: RefCell<Option<Sample>>,
    /// The device it is of; stays known while it is chosen and gone.
    pub(super) fed_seen: RefCell<Option<DeviceSeen>>,
    pub(super) live: RefCell<Live>,
    listener: RefCell<Option<Listener>>,
    /// Counts changes of the listener, to notice that it replaced itself while it ran.
    listener_turn: Cell<u64>,
    /// The next poll hands over the present state even if it did not change.
    owes_state: Cell<bool>,
    frames: RefCell<Vec<(u64, FrameFunction)>>,
    next_frame_id: Cell<u64>,
    pub(super) timers: RefCell<Timers>,
}

impl Engine {
    pub(super) fn new() -> Self {
        Self {
            signal: RwSignal::new(InputStatus::default()),
            shown: RefCell::default(),
            adapter: Adapter::default(),
            pads: RefCell::default(),
            plugged: Cell::new(false),
            stick: RefCell::default(),
            own: RefCell::default(),
            fed: RefCell::default(),
            fed_seen: RefCell::default(),
            live: RefCell::default(),
            listener: RefCell::new(None),
            listener_turn: Cell::new(0),
            owes_state: Cell::new(false),
            frames: RefCell::default(),
            next_frame_id: Cell::new(0),
            timers: RefCell::default(),
        }
    }

    /// One poll.
    pub(super) fn poll(&self, look: Look) {
        if self.shown.borrow().page_hidden {
            return;
        }
        let look = if self.plugged.take() { Look::Closely } else { look };
        let now_seconds = now_seconds();
        let source = self.shown.borrow().chosen;
        let pad_chosen = matches!(source, Some(Source::Pad(_)));
        let mut change = None;
        // With a source of our own, the browser's devices are looked at once a frame.
        if pad_chosen || look == Look::Closely {
            change = self.look_at_pads(now_seconds, look);
        }
        if source == Some(Source::Fed) {
            change = self.take_fed(now_seconds);
        } else if !pad_chosen {
            change = self
                .own
                .borrow_mut()
                .as_mut()
                .and_then(|own| own.advance(now_seconds, &mut self.stick.borrow_mut()));
        }
        if source.is_none() || self.shown.borrow().device_gone {
            return;
        }
        self.live.borrow_mut().poll(now_seconds, change.as_ref());
        if self.owes_state.get() {
            change = change.or_else(|| self.live.borrow().latest().cloned());
            self.owes_state.set(change.is_none());
        }
        self.tell(now_seconds, change.as_ref());
    }

    fn look_at_pads(&self, now_seconds: f64, look: Look) -> Option<Sample> {
        let reading = self.adapter.look(look);
        let news = self.pads.borrow_mut().take_in(now_seconds, reading);
        if news.chosen_gone || news.chosen_back.is_some() {
            self.live.borrow_mut().cut();
            self.owes_state.set(true);
        }
        if let Some(interface) = news.interface
            && (interface != self.shown.borrow().interface || news.devices_changed)
        {
            match &interface {
                Interface::Missing(text) => errors::note(Trouble::InputMissing, text),
                Interface::Refused => errors::note(Trouble::InputRefused, ""),
                Interface::Waiting | Interface::Showing => {}
            }
            let devices = self.pads.borrow().seen();
            self.show(|status| {
                status.interface = interface;
                status.devices = devices;
                status.device_gone |= news.chosen_gone;
                if let Some(key) = news.chosen_back {
                    status.chosen = Some(Source::Pad(key));
                    status.device_gone = false;
                }
            });
        }
        news.change
    }

    /// Changes the status, and the signal if it is another one afterwards.
    pub(super) fn show(&self, change: impl FnOnce(&mut InputStatus)) {
        let mut status = self.shown.borrow().clone();
        change(&mut status);
        if status != *self.shown.borrow() {
            self.shown.replace(status.clone());
            // Gone with its owner at the end of the page; then nobody is interested any more.
            let _ = self.signal.try_set(status);
        }
    }

    pub(super) fn shown(&self) -> InputStatus {
        self.shown.borrow().clone()
    }

    /// Takes up another source; `false` if it is not there.
    pub(super) fn choose(&self, source: Option<Source>) -> bool {
        let key = if let Some(Source::Pad(key)) = source { Some(key) } else { None };
        if !self.pads.borrow_mut().choose(key) {
            return false;
        }
        self.own.replace(match source {
            Some(Source::Practice) => Some(Own::practice()),
            Some(Source::Invented(who)) => Some(Own::person(who, now_seconds())),
            Some(Source::Pad(_) | Source::Fed) | None => None,
        });
        {
            let mut live = self.live.borrow_mut();
            live.clear();
            // A device that is still sends nothing: begin with the state it has.
            if let Some(sample) = key.and_then(|key| self.pads.borrow().latest(key)) {
                live.poll(now_seconds(), Some(&sample));
                live.cut();
            }
        }
        self.owes_state.set(true);
        let chosen_name = if source == Some(Source::Fed) {
            self.fed_seen.borrow().as_ref().map(|seen| seen.name.clone())
        } else {
            self.pads.borrow().chosen_name()
        };
        self.show(|status| {
            status.chosen = source;
            status.chosen_name = chosen_name;
            status.device_gone = false;
        });
        true
    }

    /// The next poll hands over the present state.
    pub(super) fn owes_state(&self) {
        self.owes_state.set(true);
    }

    pub(super) fn ask(&self, asked: Option<TaskView>) {
        if let Some(own) = self.own.borrow_mut().as_mut() {
            own.ask(asked);
        }
    }

    pub(super) fn effort(&self) -> Option<u8> {
        self.own.borrow().as_ref().and_then(Own::effort)
    }

    /// What is known of a source; the chosen device stays known while it is gone.
    pub(super) fn device_of(&self, source: Source) -> Option<DeviceSeen> {
        let count = |count: usize| u32::try_from(count).unwrap_or(u32::MAX);
        match source {
            Source::Pad(key) => {
                let pads = self.pads.borrow();
                let shape = pads.shape_of(key)?;
                Some(DeviceSeen {
                    name: shape.name.shown.clone().unwrap_or_default(),
                    axes: count(shape.axes),
                    buttons: count(shape.buttons),
                    standard: shape.standard,
                })
            }
            Source::Fed => self.fed_seen.borrow().clone(),
            Source::Practice | Source::Invented(_) => {
                own::controls(source).map(|(axes, buttons)| DeviceSeen {
                    axes: count(axes),
                    buttons: count(buttons),
                    ..DeviceSeen::default()
                })
            }
        }
    }

    pub(super) fn latest_of(&self, key: super::DeviceKey) -> Option<Sample> {
        self.pads.borrow().latest(key)
    }

    pub(super) fn set_listener(&self, listener: Option<Listener>) {
        self.listener_turn.set(self.listener_turn.get() + 1);
        self.owes_state.set(listener.is_some());
        // The old one is dropped outside the borrow: its drop may call in here again.
        let old = self.listener.replace(listener);
        drop(old);
    }

    /// Calls the listener, which may call everything here, also change the listener.
    fn tell(&self, now_seconds: f64, change: Option<&Sample>) {
        let taken = self.listener.borrow_mut().take();
        let Some(mut listener) = taken else { return };
        let turn = self.listener_turn.get();
        listener(now_seconds, change);
        if turn == self.listener_turn.get() {
            self.listener.replace(Some(listener));
        }
    }

    /// One animation frame: a close look, then the drawing.
    pub(super) fn frame(&self) {
        self.poll(Look::Closely);
        let sample = self.live.borrow().latest().cloned();
        let frame = Frame { now_seconds: now_seconds(), sample: sample.as_ref() };
        let functions: Vec<_> = self.frames.borrow().clone();
        for (id, function) in functions {
            // One that an earlier one of this frame removed is not called any more.
            let still = self.frames.borrow().iter().any(|(other, _)| *other == id);
            if still && let Ok(mut function) = function.try_borrow_mut() {
                function(&frame);
            }
        }
    }

    pub(super) fn on_frame(
        engine: &Rc<Self>,
        function: impl FnMut(&Frame<'_>) + 'static,
    ) -> FrameHandle {
        let id = engine.next_frame_id.get();
        engine.next_frame_id.set(id + 1);
        engine.frames.borrow_mut().push((id, Rc::new(RefCell::new(function))));
        FrameHandle { engine: Rc::downgrade(engine), id }
    }

    /// A device came or went. Only noted: the browser may tell so from within the very call by
    /// which a poll looks.
    pub(super) fn note_plugged(&self) {
        self.plugged.set(true);
    }

    /// The page was hidden or shown.
    pub(super) fn set_hidden(&self, hidden: bool) {
        if hidden == self.shown.borrow().page_hidden {
            return;
        }
        self.live.borrow_mut().cut();
        self.owes_state.set(true);
        if hidden {
            self.let_go();
        }
        self.show(|status| status.page_hidden = hidden);
    }

    /// Lets the practice stick go: the page will not see the finger or the key come up.
    pub(super) fn let_go(&self) {
        self.stick.borrow_mut().release();
    }
}

/// A function that is called at every animation frame, until this handle is dropped.
#[must_use = "the function is called only as long as the handle is held"]
pub struct FrameHandle {
    engine: Weak<Engine>,
    id: u64,
}

impl Drop for FrameHandle {
    fn drop(&mut self) {
        if let Some(engine) = self.engine.upgrade() {
            let mut removed = None;
            let mut frames = engine.frames.borrow_mut();
            if let Some(place) = frames.iter().position(|(id, _)| *id == self.id) {
                removed = Some(frames.remove(place));
            }
            // What the function held is dropped outside the borrow.
            drop(frames);
            drop(removed);
        }
    }
}

/// Seconds on the page's monotonic clock, the one that also stamps devices. 0 where there is
/// none, which no browser with WebAssembly lacks.
pub(super) fn now_seconds() -> f64 {
    thread_local! {
        static CLOCK: Option<web_sys::Performance> = window().performance();
    }
    CLOCK.with(|clock| clock.as_ref().map_or(0.0, |clock| clock.now() / 1000.0))
}
