//! A device that is open.

use super::interface::{self, Listener};
use super::{Figures, Opened, Standing, collections};
use crate::input::DeviceKey;
use crate::state::App;
use crate::words::raw as words;
use device::gamepad::{ReportRate, WatchEvent, Watcher, clean_id};
use device::hid::HidDevice;
use device::hid::pad::RawPad;
use device::raw_and_shown::Comparison;
use fitting::Sample;
use fitting::summary::DeviceSeen;
use wasm_bindgen::JsValue;

/// The browser's stamp counts where it lies no farther back than this, milliseconds.
const OLDEST_STAMP_MS: f64 = 1000.0;
/// Nobody looked at the Gamepad interface for so long: what it showed holds no longer, milliseconds.
/// Frames are some 17 apart.
const UNSEEN_MS: f64 = 150.0;

/// What is held while reports are read.
pub(super) struct Link {
    device: JsValue,
    pad: RawPad,
    watcher: Watcher,
    rate: ReportRate,
    comparison: Comparison,
    /// Which device is compared with, and when it was last looked at.
    shown: Option<(DeviceKey, f64)>,
    _listeners: Vec<Listener>,
}

/// Its name made fit to show, or the words for one without.
pub(super) fn shown_name(device: &JsValue) -> String {
    clean_id(&interface::name(device).0).shown.unwrap_or_else(|| words::UNNAMED.to_owned())
}

/// What a device says, and the pad it makes; `None` where it says nothing that a stick says, or
/// more than can be read.
pub(super) fn read(device: &JsValue) -> Option<(Opened, RawPad)> {
    let collections = collections::read(device).ok()?;
    let read = HidDevice::from_collections(&collections).ok()?;
    let pad = RawPad::new(&read, "raw reports", 0)?;
    let opened = Opened {
        name: shown_name(device),
        numbers: interface::name(device).1,
        device: read,
        axes: pad.axes().to_vec(),
        hats: pad.hats().to_vec(),
        buttons: pad.buttons().to_vec(),
    };
    Some((opened, pad))
}

/// As it is kept with a fitting: never to be mixed with the same stick through the Gamepad interface.
pub(super) fn as_source(opened: &Opened) -> DeviceSeen {
    let count = |count: usize| u32::try_from(count).unwrap_or(u32::MAX);
    DeviceSeen {
        name: words::source_name(&opened.name),
        axes: count(opened.axes.len() + 2 * opened.hats.len()),
        buttons: count(opened.buttons.len()),
        standard: false,
    }
}

impl Link {
    /// Begins to listen to an open device.
    pub(super) fn new(app: App, device: JsValue, pad: RawPad) -> Self {
        let reports = Listener::new(&device, "inputreport", move |event| take(app, &event));
        let mut listeners = vec![reports];
        if let Some(hid) = interface::interface() {
            let own = device.clone();
            listeners.push(Listener::new(&hid, "disconnect", move |event| {
                if interface::get(&event, "device") == own {
                    // Not while this listener runs: leaving takes it away.
                    leptos::task::spawn_local(async move { super::leave(app, Standing::Gone) });
                }
            }));
        }
        Self {
            device,
            comparison: Comparison::new(pad.axes()),
            pad,
            watcher: Watcher::default(),
            rate: ReportRate::default(),
            shown: None,
            _listeners: listeners,
        }
    }

    /// Stops listening.
    pub(super) fn close(self) {
        interface::close(&self.device);
    }

    /// A report; the new state, if one changed.
    fn report(&mut self, now_ms: f64, id: u8, data: &[u8], stamp_ms: f64) -> Option<Sample> {
        let recent = stamp_ms <= now_ms && stamp_ms >= now_ms - OLDEST_STAMP_MS;
        let arrival_ms = if recent { stamp_ms } else { now_ms };
        self.pad.take(id, data, arrival_ms)?;
        self.rate.note(arrival_ms / 1000.0);
        let state = self.pad.state();
        let axes = state.axes.get(..self.pad.axes().len()).unwrap_or_default();
        match self.shown {
            Some((_, looked_ms)) if now_ms - looked_ms < UNSEEN_MS => {
                self.comparison.raw(arrival_ms, axes);
            }
            _ => self.comparison.pause(arrival_ms),
        }
        let events = self.watcher.observe(now_ms, &[Some(state.clone())]);
        events.into_iter().rev().find_map(|event| match event {
            WatchEvent::Changed { sample, .. } => Some(sample),
            WatchEvent::Connected { .. } | WatchEvent::Gone { .. } => None,
        })
    }

    /// The newest state, if there was a report.
    pub(super) fn latest(&self) -> Option<Sample> {
        self.watcher.devices().next().map(|(_, _, sample)| sample.clone())
    }

    /// What the Gamepad interface shows at this moment.
    pub(super) fn shown(&mut self, now_ms: f64, key: DeviceKey, sample: &Sample) {
        if self.shown.is_some_and(|(before, _)| before != key) {
            self.comparison = Comparison::new(self.pad.axes());
        }
        self.shown = Some((key, now_ms));
        self.comparison.shown(sample.arrival_seconds * 1000.0, &sample.axes);
    }

    pub(super) fn pair_by_hand(&mut self, raw: usize, shown: usize) {
        self.comparison.pair_by_hand(raw, shown);
    }

    pub(super) fn hidden_middle(&self) -> Option<f64> {
        self.comparison.hidden_middle()
    }

    pub(super) fn figures(&self, axis: usize) -> Option<Figures> {
        let late = self.comparison.late(axis);
        Some(Figures {
            // A queue that is worked off counts too many, one that grows too few.
            rate: self.rate.per_second().filter(|_| late.is_none()),
            raw: self.pad.state().axes.get(axis).copied()?,
            pair: self.comparison.pair_of(axis)?,
            findings: self.comparison.findings(axis)?,
            late,
            course: self.comparison.course(axis),
        })
    }
}

/// A report came.
fn take(app: App, event: &JsValue) {
    let Some((id, data, stamp_ms)) = interface::report(event) else { return };
    let now_ms = app.input.now_seconds() * 1000.0;
    let sample = super::with_link(|link| link.report(now_ms, id, &data, stamp_ms)).flatten();
    if let Some(sample) = sample {
        app.input.feed(sample);
    }
    if !super::wanted(app) {
        // Not while this listener runs: closing takes it away.
        leptos::task::spawn_local(async move { super::close_unless_wanted(app) });
    }
}
