//! A device's raw reports, where the browser has `WebHID` and the person agrees: what the device says
//! of itself, and a second source of samples beside the Gamepad interface.
//!
//! ```text
//! collections --> CollectionInfo --> HidDevice          (what the device says)
//! inputreport --> RawPad --> PadState --Watcher--> Sample --> Input::feed
//!                    +-----> Comparison <-- what the Gamepad interface shows
//! ```
//!
//! Reading only: nothing is ever sent to a device. All of it lies in the later part of the program
//! and outlives the screens, so its signals belong to no screen.

mod collections;
mod interface;
mod link;

use crate::input::{DeviceSeen, Source};
use crate::route::Screen;
use crate::state::App;
use device::gamepad::ReportsPerSecond;
use device::hid::{Axis, Button, Hat, HidDevice};
use device::raw_and_shown::{LateReports, PairedBy, RawShownFindings};
use leptos::prelude::*;
use leptos::task::spawn_local;
use link::Link;
use std::cell::RefCell;
use std::sync::Arc;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;

/// How it stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// This browser has no such interface.
    Missing,
    /// Nothing is open.
    Closed,
    /// The browser asks, or the device is being opened.
    Asking,
    /// Nothing was chosen.
    Cancelled,
    /// The browser or a policy said no.
    Refused,
    /// What was chosen says nothing that a stick says, or cannot be read.
    Unusable,
    /// It did not open.
    CannotOpen,
    /// Reports are read.
    Open,
    /// It went away.
    Gone,
}

/// A device that is or was open.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Opened {
    /// Its own name, made fit to show; empty where nothing is left of it.
    pub name: String,
    /// Its USB vendor and product numbers.
    pub numbers: Option<(u16, u16)>,
    /// What it says of itself.
    pub device: HidDevice,
    /// Those axes that count: see [`device::hid::pad::RawPad`].
    pub axes: Vec<Axis>,
    /// The hats that count.
    pub hats: Vec<Hat>,
    /// The buttons that count.
    pub buttons: Vec<Button>,
}

/// What is drawn of one axis a few times a second.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// How many reports come a second; nothing where that cannot be told.
    pub rate: Option<ReportsPerSecond>,
    /// Where the axis is now, raw.
    pub raw: f64,
    /// Which shown axis it is held to be, and why.
    pub pair: (usize, PairedBy),
    /// Raw beside shown.
    pub findings: RawShownFindings,
    /// Whether the reports come later than what is shown.
    pub late: Option<LateReports>,
    /// What was shown along the axis.
    pub course: Vec<(f64, f64)>,
}

struct Hid {
    standing: ArcRwSignal<Standing>,
    opened: ArcRwSignal<Option<Arc<Opened>>>,
    hidden_middle: ArcRwSignal<Option<f64>>,
    /// Names of the devices that were allowed before.
    allowed: ArcRwSignal<Vec<String>>,
    allowed_devices: RefCell<Vec<JsValue>>,
    link: RefCell<Option<Link>>,
}

thread_local! {
    static HID: Hid = Hid {
        standing: ArcRwSignal::new(Standing::Closed),
        opened: ArcRwSignal::new(None),
        hidden_middle: ArcRwSignal::new(None),
        allowed: ArcRwSignal::new(Vec::new()),
        allowed_devices: RefCell::default(),
        link: RefCell::default(),
    };
}

/// How it stands, tracked.
pub fn standing() -> Standing {
    HID.with(|hid| hid.standing.get())
}

/// The device that is or was open, tracked.
pub fn opened() -> Option<Arc<Opened>> {
    HID.with(|hid| hid.opened.get())
}

/// Names of the devices that were allowed before and are there, tracked.
pub fn allowed() -> Vec<String> {
    HID.with(|hid| hid.allowed.get())
}

fn stand(standing: Standing) {
    HID.with(|hid| hid.standing.set(standing));
}

/// Looks whether there is such an interface, and what was allowed before.
pub fn look() {
    if HID.with(|hid| hid.link.borrow().is_some()) {
        return;
    }
    let Some(hid) = interface::interface() else { return stand(Standing::Missing) };
    if HID.with(|hid| hid.standing.get_untracked()) == Standing::Missing {
        stand(Standing::Closed);
    }
    spawn_local(async move {
        let mut devices = interface::allowed(&hid).await;
        devices.retain(|device| link::read(device).is_some());
        let names = devices.iter().map(link::shown_name).collect();
        HID.with(|hid| {
            hid.allowed_devices.replace(devices);
            hid.allowed.set(names);
        });
    });
}

/// Has the browser ask the person for a device. Call it while a press is handled.
pub fn ask(app: App, any: bool) {
    let Some(hid) = interface::interface() else { return stand(Standing::Missing) };
    let Ok(answer) = interface::request(&hid, any) else { return stand(Standing::Refused) };
    stand(Standing::Asking);
    spawn_local(async move {
        match JsFuture::from(answer).await {
            Err(_) => stand(Standing::Refused),
            Ok(list) => match interface::devices(&list) {
                devices if devices.is_empty() => stand(Standing::Cancelled),
                devices => take_up(app, devices).await,
            },
        }
    });
}

/// Opens a device that was allowed before, by its place among [`allowed`].
pub fn open_allowed(app: App, place: usize) {
    let device = HID.with(|hid| hid.allowed_devices.borrow().get(place).cloned());
    let Some(device) = device else { return };
    stand(Standing::Asking);
    spawn_local(take_up(app, vec![device]));
}

/// Opens the device that has most of a stick: one device may come as several.
async fn take_up(app: App, devices: Vec<JsValue>) {
    close(app);
    let read = devices.into_iter().filter_map(|device| Some((link::read(&device)?, device)));
    let best = read.max_by_key(|((opened, _), _)| (opened.axes.len(), opened.buttons.len()));
    let Some(((opened, pad), device)) = best else { return stand(Standing::Unusable) };
    stand(Standing::Asking);
    if interface::open(&device).await.is_err() {
        return stand(Standing::CannotOpen);
    }
    app.input.offer(Some(link::as_source(&opened)));
    let link = Link::new(app, device, pad);
    HID.with(|hid| {
        hid.link.replace(Some(link));
        hid.opened.set(Some(Arc::new(opened)));
        hid.hidden_middle.set(None);
    });
    stand(Standing::Open);
}

/// Stops reading.
pub fn close(app: App) {
    leave(app, Standing::Closed);
}

fn leave(app: App, standing: Standing) {
    let link = HID.with(|hid| hid.link.take());
    if let Some(link) = link {
        link.close();
        app.input.offer(None);
        stand(standing);
        look();
    }
}

/// Whether anybody still wants the reports: the two screens that show them, or a measurement.
fn wanted(app: App) -> bool {
    matches!(app.screen.get_untracked(), Screen::Through | Screen::Stick)
        || app.input.chosen() == Some(Source::Fed)
}

/// Stops reading if nobody wants it any more. For the cleaning up of a screen.
pub fn close_unless_wanted(app: App) {
    if !wanted(app) {
        close(app);
    }
}

/// The device of the Gamepad interface that is held to be the open one: one of the same numbers, the
/// chosen one first; else the chosen one; else the only one.
pub fn shown_device(app: App) -> Option<DeviceSeen> {
    let status = app.input.status_now();
    let numbers = HID.with(|hid| hid.opened.with_untracked(|one| one.as_ref()?.numbers));
    let chosen = status.devices.iter().find(|one| status.chosen == Some(Source::Pad(one.key)));
    let is_same = |one: &&DeviceSeen| one.numbers.is_some() && one.numbers == numbers;
    let same = chosen.filter(is_same).or_else(|| status.devices.iter().find(is_same));
    let only = || status.devices.first().filter(|_| status.devices.len() == 1);
    same.or(chosen).or_else(only).cloned()
}

/// Whether this device of the Gamepad interface has the numbers of the open one.
pub fn is_open(seen: &DeviceSeen) -> bool {
    let numbers = HID.with(|hid| hid.opened.with_untracked(|one| one.as_ref()?.numbers));
    seen.numbers.is_some() && seen.numbers == numbers
}

/// Takes in what the Gamepad interface shows now. Once a frame, while somebody looks.
pub fn look_at_shown(app: App) {
    let Some(seen) = shown_device(app) else { return };
    if let Some(sample) = app.input.latest_of(seen.key) {
        let now_ms = app.input.now_seconds() * 1000.0;
        with_link(|link| link.shown(now_ms, seen.key, &sample));
    }
}

/// What can be said of an axis now.
pub fn figures(axis: usize) -> Option<Figures> {
    let found = HID.with(|hid| hid.link.borrow().as_ref().and_then(|link| link.figures(axis)));
    let hidden = HID.with(|hid| hid.link.borrow().as_ref().map(Link::hidden_middle));
    if let Some(hidden) = hidden {
        HID.with(|hid| {
            if hid.hidden_middle.get_untracked() != hidden {
                hid.hidden_middle.set(hidden);
            }
        });
    }
    found
}

/// Hands in the present state once more: the source was chosen, and a still stick reports nothing.
pub fn feed_again(app: App) {
    if let Some(sample) = with_link(|link| link.latest()).flatten() {
        app.input.feed(sample);
    }
}

/// A person says which shown axis a raw one is.
pub fn pair_by_hand(raw: usize, shown: usize) {
    with_link(|link| link.pair_by_hand(raw, shown));
}

fn with_link<T>(f: impl FnOnce(&mut Link) -> T) -> Option<T> {
    HID.with(|hid| hid.link.borrow_mut().as_mut().map(f))
}

impl App {
    /// What the device says of itself whose raw reports are or were read; tracked.
    pub fn raw_device(self) -> Option<HidDevice> {
        opened().map(|opened| opened.device.clone())
    }

    /// The hidden middle found by raw and shown positions side by side, share of travel to each
    /// side: system or browser, not the stick. Tracked.
    pub fn raw_hidden_middle(self) -> Option<f64> {
        HID.with(|hid| hid.hidden_middle.get())
    }
}
