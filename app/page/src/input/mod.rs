//! Input: devices, the practice stick and invented people as one stream of samples.
//!
//! ```text
//! browser gamepads --adapter--> PadState --Watcher--> Sample --+
//! practice stick / invented person -> PadState --Watcher------+--> listener, live view
//! raw reports (`crate::hid`) --------> PadState --Watcher------+
//! ```
//!
//! All of it runs outside the reactive graph: at every animation frame, and while a task
//! measures at least twice every 4 ms. Only [`InputStatus`], which changes seldom, is a signal.
//! [`Input`] is a `Copy` handle; the page's root calls [`Input::start`] once and provides it as
//! context. It lives as long as the root's owner.

mod adapter;
mod clockwork;
mod engine;
mod fed;
mod live;
mod own;
mod pads;
mod practice;
mod status;

use std::rc::Rc;

use fitting::{Direction, Position, Sample, StickAxes, task::TaskView};
use leptos::prelude::*;

use clockwork::Clockwork;
use engine::Engine;
pub use engine::FrameHandle;
pub use live::{KEPT_SECONDS, LiveStatistics};
pub use own::INVENTED_SEED;
pub use practice::{PRACTICE_BUTTONS, PracticeStick};
pub use status::{DeviceKey, DeviceSeen, InputStatus, Interface, Source};

/// Called at each poll with the time on the page's monotonic clock in seconds, and the chosen
/// source's state if it changed since the poll before.
pub type Listener = Box<dyn FnMut(f64, Option<&Sample>)>;

/// What is handed to those who draw, once every animation frame.
#[derive(Clone, Copy, Debug)]
pub struct Frame<'a> {
    /// The time on the page's monotonic clock, seconds.
    pub now_seconds: f64,
    /// The chosen source's last state, if there was one.
    pub sample: Option<&'a Sample>,
}

/// A handle on the page's input.
#[derive(Clone, Copy)]
pub struct Input {
    engine: StoredValue<Rc<Engine>, LocalStorage>,
}

impl Input {
    /// Begins to listen and to poll, at frame pace, until the present owner is cleaned up.
    #[must_use]
    pub fn start() -> Self {
        let engine = Rc::new(Engine::new());
        let clockwork: StoredValue<Clockwork, LocalStorage> =
            StoredValue::new_local(clockwork::start(&engine));
        on_cleanup(move || clockwork.dispose());
        Self { engine: StoredValue::new_local(engine) }
    }

    /// Runs `f` on the engine; with the input gone, nothing happens.
    fn with<T>(self, f: impl FnOnce(&Rc<Engine>) -> T) -> Option<T> {
        self.engine.try_get_value().map(|engine| f(&engine))
    }

    /// The coarse state, as a signal.
    #[must_use]
    pub fn status(self) -> Signal<InputStatus> {
        self.with(|engine| engine.signal.into()).unwrap_or_default()
    }

    /// Seconds on the clock all times here are on.
    #[must_use]
    pub fn now_seconds(self) -> f64 {
        engine::now_seconds()
    }

    /// Takes up another source. The listener gets its present state at the next poll. A device
    /// that is not there is not taken up: then nothing changes, and this is `false`.
    pub fn choose(self, source: Source) -> bool {
        self.with(|engine| engine.choose(Some(source))).unwrap_or(false)
    }

    /// Lets the source go.
    pub fn choose_none(self) {
        self.with(|engine| engine.choose(None));
    }

    /// The source, not tracked. While its device is gone it stays chosen.
    #[must_use]
    pub fn chosen(self) -> Option<Source> {
        self.with(|engine| engine.shown().chosen).flatten()
    }

    /// The status, not tracked.
    #[must_use]
    pub fn status_now(self) -> InputStatus {
        self.with(|engine| engine.shown()).unwrap_or_default()
    }

    /// Polls at least twice every 4 ms from now on, or at frame pace again.
    pub fn measuring(self, measuring: bool) {
        self.with(|engine| clockwork::set_measuring(engine, measuring));
    }

    /// Sets who is told of each poll, in place of the one before. A new listener gets the present
    /// state with the first poll. While the device is gone or the page is hidden it is not
    /// called: what happens then is missing, not still. It may call everything here.
    pub fn set_listener(self, listener: Option<Listener>) {
        self.with(|engine| engine.set_listener(listener));
    }

    /// The chosen source's last state.
    #[must_use]
    pub fn latest(self) -> Option<Sample> {
        self.with(|engine| engine.live.borrow().latest().cloned()).flatten()
    }

    /// A source as it is kept with a fitting, with how many axes and buttons it has. The one place
    /// that knows: every screen asks here. The name of one of our own is left empty. The chosen
    /// device stays known while it is gone.
    #[must_use]
    pub fn device_of(self, source: Source) -> Option<fitting::summary::DeviceSeen> {
        self.with(|engine| engine.device_of(source)).flatten()
    }

    /// The last state of any device that is there, chosen or not.
    #[must_use]
    pub fn latest_of(self, key: DeviceKey) -> Option<Sample> {
        self.with(|engine| engine.latest_of(key)).flatten()
    }

    /// Where the stick was in the last `seconds` (at most [`KEPT_SECONDS`]), in order of time:
    /// each position with the time from which it held, beginning with the one that held at the
    /// start of that time.
    #[must_use]
    pub fn trail(self, seconds: f64, axes: StickAxes) -> Vec<(f64, Position)> {
        let mut trail = Vec::new();
        self.visit_trail(seconds, axes, |at, position| trail.push((at, position)));
        trail
    }

    /// The same, without making a list.
    pub fn visit_trail(self, seconds: f64, axes: StickAxes, visit: impl FnMut(f64, Position)) {
        self.with(|engine| {
            engine.live.borrow().trail(engine::now_seconds(), seconds, axes, visit);
        });
    }

    /// Figures about the stream of samples, for the live view. Sorts up to a thousand numbers:
    /// ask a few times a second, not every frame.
    #[must_use]
    pub fn statistics(self) -> LiveStatistics {
        self.with(|engine| engine.live.borrow().statistics()).unwrap_or_default()
    }

    /// Says that there is a device whose states are handed in, with its name and what it has, or
    /// that there is none any more. The one that was chosen may come back; another one in its place
    /// is not it.
    pub fn offer(self, seen: Option<fitting::summary::DeviceSeen>) {
        self.with(|engine| engine.offer(seen));
    }

    /// Hands in a state of that device, with its arrival on the clock of all times here.
    pub fn feed(self, sample: Sample) {
        self.with(|engine| engine.feed(sample));
    }

    /// Calls `f` at every animation frame until the handle is dropped. A component that draws
    /// as long as it is shown uses [`Input::each_frame`].
    pub fn on_frame(self, f: impl FnMut(&Frame<'_>) + 'static) -> Option<FrameHandle> {
        self.with(|engine| Engine::on_frame(engine, f))
    }

    /// Calls `f` at every animation frame until the present owner is cleaned up.
    pub fn each_frame(self, f: impl FnMut(&Frame<'_>) + 'static) {
        let handle = StoredValue::new_local(self.on_frame(f));
        on_cleanup(move || handle.dispose());
    }

    /// Tells an invented person what is asked; `None` when nothing is. Others do not hear it.
    pub fn ask(self, asked: Option<TaskView>) {
        self.with(|engine| engine.ask(asked));
    }

    /// What an invented person answers when asked how hard a hold was, 0 to 10; `None` from
    /// everybody else, and while the person still thinks.
    #[must_use]
    pub fn effort(self) -> Option<u8> {
        self.with(|engine| engine.effort()).flatten()
    }

    /// The practice stick.
    #[must_use]
    pub fn practice(self) -> Practice {
        Practice { input: self }
    }
}

/// A handle on the practice stick: see [`PracticeStick`] for what each command does. The model
/// moves only while [`Source::Practice`] is chosen.
#[derive(Clone, Copy)]
pub struct Practice {
    input: Input,
}

impl Practice {
    fn with<T>(self, f: impl FnOnce(&mut PracticeStick) -> T) -> Option<T> {
        self.input.with(|engine| f(&mut engine.stick.borrow_mut()))
    }

    /// The hand takes the stick here, shares of travel, up positive.
    pub fn push(self, to: Position) {
        self.with(|stick| stick.push(to));
    }

    /// The hand and all keys let go.
    pub fn release(self) {
        self.with(PracticeStick::release);
    }

    /// A key for a direction goes down or up.
    pub fn key(self, direction: Direction, down: bool) {
        self.with(|stick| stick.key(direction, down));
    }

    /// Moves the stick by one step and lets it stay there.
    pub fn step(self, by: Position) {
        self.with(|stick| stick.step(by));
    }

    /// Whether the stick stays where it is when it is let go.
    pub fn stay(self, stays: bool) {
        self.with(|stick| stick.stay(stays));
    }

    /// Whether the stick stays where it is when it is let go.
    #[must_use]
    pub fn stays(self) -> bool {
        self.with(|stick| stick.stays()).unwrap_or(false)
    }

    /// The spring takes the stick to the middle, also when it stays.
    pub fn centre(self) {
        self.with(PracticeStick::centre);
    }

    /// A button goes down or up.
    pub fn button(self, index: usize, down: bool) {
        self.with(|stick| stick.button(index, down));
    }
}
