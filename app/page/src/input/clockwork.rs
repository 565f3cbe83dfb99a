//! What drives the polls: animation frames always, timers while a task measures.

use std::{
    cell::RefCell,
    rc::{Rc, Weak},
};

use gloo_events::EventListener;
use gloo_timers::callback::{Interval, Timeout};
use leptos::prelude::{document, window};
use wasm_bindgen::{JsCast, prelude::Closure};

use super::{adapter::Look, engine::Engine};

/// The interval asked of each timer, milliseconds. Browsers hold repeated timers at 4 ms, which
/// is also the pace at which the fastest of them refresh devices: one timer alone misses a
/// change whenever it slips past two of them.
const INTERVAL_MS: u32 = 4;

/// How far the second timer runs behind the first, milliseconds: half an interval.
const OFFSET_MS: u32 = 2;

/// The timers of a measurement.
#[derive(Debug, Default)]
pub(super) struct Timers {
    first: Option<Interval>,
    _waiting: Option<Timeout>,
    second: Option<Interval>,
}

impl Timers {
    /// Two interleaved timers: at least two looks every 4 ms, with nothing between that would
    /// keep the processor busy.
    fn running(engine: &Rc<Engine>) -> Self {
        let second_of = Rc::downgrade(engine);
        Self {
            first: Some(timer(engine)),
            _waiting: Some(Timeout::new(OFFSET_MS, move || {
                if let Some(engine) = second_of.upgrade() {
                    let second = timer(&engine);
                    let mut timers = engine.timers.borrow_mut();
                    // Unless the measurement has ended in the meantime.
                    if timers.first.is_some() {
                        timers.second = Some(second);
                    }
                }
            })),
            second: None,
        }
    }

    pub(super) fn is_running(&self) -> bool {
        self.first.is_some()
    }
}

fn timer(engine: &Rc<Engine>) -> Interval {
    let engine = Rc::downgrade(engine);
    Interval::new(INTERVAL_MS, move || {
        if let Some(engine) = engine.upgrade() {
            engine.poll(Look::IfStamped);
        }
    })
}

/// Starts or stops the timers.
pub(super) fn set_measuring(engine: &Rc<Engine>, measuring: bool) {
    if measuring == engine.timers.borrow().is_running() {
        return;
    }
    let timers = if measuring { Timers::running(engine) } else { Timers::default() };
    engine.live.borrow_mut().count_gaps(measuring);
    let old = engine.timers.replace(timers);
    drop(old);
}

/// The listeners and the frame loop; everything ends when this is dropped.
pub(super) struct Clockwork {
    _listeners: Vec<EventListener>,
    frames: Rc<FrameLoop>,
}

impl Drop for Clockwork {
    fn drop(&mut self) {
        // The closure holds the loop only weakly, but the browser may still call it once.
        self.frames.stop();
    }
}

/// Winds it up.
pub(super) fn start(engine: &Rc<Engine>) -> Clockwork {
    let on = |target: &web_sys::EventTarget, event: &'static str, f: fn(&Rc<Engine>)| {
        let engine = Rc::downgrade(engine);
        EventListener::new(target, event, move |_| {
            if let Some(engine) = engine.upgrade() {
                f(&engine);
            }
        })
    };
    let (window, document) = (window(), document());
    let listeners = vec![
        on(&window, "gamepadconnected", |engine| engine.note_plugged()),
        on(&window, "gamepaddisconnected", |engine| engine.note_plugged()),
        on(&document, "visibilitychange", |engine| engine.set_hidden(page_hidden())),
        on(&window, "pagehide", |engine| engine.set_hidden(true)),
        on(&window, "pageshow", |engine| engine.set_hidden(page_hidden())),
        on(&window, "blur", |engine| engine.let_go()),
    ];
    engine.set_hidden(page_hidden());
    engine.poll(Look::Closely);
    Clockwork { _listeners: listeners, frames: FrameLoop::start(Rc::downgrade(engine)) }
}

fn page_hidden() -> bool {
    document().hidden()
}

/// Calls [`Engine::frame`] at every animation frame.
struct FrameLoop {
    closure: RefCell<Option<Closure<dyn FnMut()>>>,
    asked: RefCell<Option<i32>>,
}

impl FrameLoop {
    fn start(engine: Weak<Engine>) -> Rc<Self> {
        let frames = Rc::new(Self { closure: RefCell::new(None), asked: RefCell::new(None) });
        let again = Rc::downgrade(&frames);
        let closure = Closure::new(move || {
            if let (Some(engine), Some(frames)) = (engine.upgrade(), again.upgrade()) {
                // Asked first: if drawing fails, the next frame comes all the same.
                frames.ask();
                engine.frame();
            }
        });
        frames.closure.replace(Some(closure));
        frames.ask();
        frames
    }

    fn ask(&self) {
        if let Some(closure) = self.closure.borrow().as_ref() {
            let function = closure.as_ref().unchecked_ref();
            self.asked.replace(window().request_animation_frame(function).ok());
        }
    }

    fn stop(&self) {
        if let Some(asked) = self.asked.take() {
            let _ = window().cancel_animation_frame(asked);
        }
    }
}
