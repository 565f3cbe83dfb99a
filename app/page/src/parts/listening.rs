//! Listens to every kind of event together, and holds back what they would do on the page.

use crate::input::FrameHandle;
use crate::state::App;
use device::speaking::{Event as Spoken, Key, Listening, Step};
use fitting::visit::Heard;
use gloo_events::{EventListener, EventListenerOptions, EventListenerPhase};
use leptos::prelude::*;
use std::cell::RefCell;
use std::rc::Rc;
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, KeyboardEvent, PointerEvent};

/// The mark of the controls that stay usable.
pub const CONTROL: &str = "data-listening-control";

/// What is held back: whatever a mouse or a keyboard would do on a page.
const HELD_BACK: [&str; 12] = [
    "keydown",
    "keyup",
    "keypress",
    "pointerdown",
    "pointerup",
    "mousedown",
    "mouseup",
    "click",
    "auxclick",
    "dblclick",
    "contextmenu",
    "wheel",
];

/// What a running check shows.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    /// What is asked.
    pub step: Step,
    /// What was heard so far.
    pub heard: Heard,
    /// Whole seconds until the step ends by itself.
    pub seconds_left: u32,
}

/// Held by what listens, and by no part of the screen: the part with the control that began it goes
/// away by that very press.
type Shared = Rc<RefCell<Listening>>;

/// A check that runs as long as it is held.
pub struct Ears {
    listening: Shared,
    _listeners: Vec<EventListener>,
    _frames: Option<FrameHandle>,
}

impl Ears {
    /// Begins to listen; `shown` follows.
    pub fn open(app: App, shown: RwSignal<Option<Shown>>) -> Self {
        let listening = Rc::new(RefCell::new(Listening::start(app.input.now_seconds())));
        let kinds = HELD_BACK.iter().chain(&["pointermove"]);
        let framed = Rc::clone(&listening);
        let ears = Self {
            _listeners: kinds.map(|kind| listener(app, kind, Rc::clone(&listening))).collect(),
            _frames: app.input.on_frame(move |frame| {
                look_at_pads(app, frame.now_seconds, &framed);
                show(frame.now_seconds, &framed, shown);
            }),
            listening,
        };
        show(app.input.now_seconds(), &ears.listening, shown);
        ears
    }

    /// The control for the next step was pressed.
    pub fn go_on(&self, app: App, shown: RwSignal<Option<Shown>>) {
        let now = app.input.now_seconds();
        self.listening.borrow_mut().go_on(now);
        show(now, &self.listening, shown);
    }
}

/// Shows the state, where it is another one than before.
fn show(now: f64, listening: &Shared, shown: RwSignal<Option<Shown>>) {
    let state = {
        let mut listening = listening.borrow_mut();
        Shown {
            step: listening.step(now),
            heard: listening.heard(),
            seconds_left: listening.seconds_left(now).ceil() as u32,
        }
    };
    // Gone with the screen: then nobody looks any more.
    let differs = |before: &Option<Shown>| before.as_ref() != Some(&state);
    if shown.try_with_untracked(differs).unwrap_or(false) {
        shown.set(Some(state));
    }
}

fn look_at_pads(app: App, now: f64, listening: &Shared) {
    for seen in app.input.status_now().devices {
        if let Some(sample) = app.input.latest_of(seen.key) {
            let event = Spoken::Pad { key: seen.key, name: &seen.name, sample: &sample };
            listening.borrow_mut().take(now, event);
        }
    }
}

fn listener(app: App, kind: &'static str, listening: Shared) -> EventListener {
    // Before anything of the page hears of it; and it must be able to hold it back.
    let options = EventListenerOptions { phase: EventListenerPhase::Capture, passive: false };
    let window = gloo_utils::window();
    EventListener::new_with_options(&window, kind, options, move |event| {
        // What a script made up was no device.
        if !event.is_trusted() || on_control(event) {
            return;
        }
        if let Some(spoken) = spoken(event) {
            let now = app.input.now_seconds();
            listening.borrow_mut().take(now, spoken);
        }
        if kind != "pointermove" {
            event.prevent_default();
            event.stop_immediate_propagation();
        }
    })
}

/// Whether a pointer is on one of the controls of the check. Keys are held back there, too: a
/// device that sends Enter must not end it.
fn on_control(event: &Event) -> bool {
    let pointed = event.dyn_ref::<KeyboardEvent>().is_none();
    let target = event.target().and_then(|target| target.dyn_into::<Element>().ok());
    let selector = format!("[{CONTROL}]");
    let within = |element: Element| element.closest(&selector).ok().flatten().is_some();
    pointed && event.type_() != "pointermove" && target.is_some_and(within)
}

/// What an event says; nothing where another event says the same.
fn spoken(event: &Event) -> Option<Spoken<'static>> {
    match event.type_().as_str() {
        "keydown" => {
            let key = event.dyn_ref::<KeyboardEvent>()?;
            // A key that is held repeats by itself.
            (!key.repeat()).then(|| Spoken::KeyPressed(Key::of(&key.code(), &key.key())))
        }
        "wheel" => Some(Spoken::WheelTurned),
        "pointermove" | "pointerdown" => {
            let pointer = event.dyn_ref::<PointerEvent>()?;
            // A finger or a pen on the screen is a person's.
            if pointer.pointer_type() != "mouse" {
                return None;
            }
            Some(if event.type_() == "pointerdown" {
                Spoken::PointerPressed
            } else {
                Spoken::PointerMoved {
                    right: f64::from(pointer.movement_x()),
                    down: f64::from(pointer.movement_y()),
                }
            })
        }
        _ => None,
    }
}
