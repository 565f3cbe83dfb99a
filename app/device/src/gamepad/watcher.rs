//! Devices that come and go in the browser's list, and their changes as samples.

use super::{DeviceName, PadState, clean_id};
use crate::layout::STANDARD_MAPPING;
use fitting::Sample;
use fitting::sample::MOST_CONTROLS;
use fitting::summary::at_most_bytes;

/// The most devices watched at once.
const MOST_DEVICES: usize = 32;

/// Values are kept outside −1..=1 (a hat switch at rest lies there) up to this size.
const LARGEST_AXIS: f64 = 8.0;

/// A browser's stamp may run this far ahead of the page's clock, or behind the poll that did
/// not have the change yet, milliseconds: clocks are coarsened, and lists are copied between
/// processes.
const STAMP_LEEWAY_MS: f64 = 100.0;

/// Bytes of a device's name string that are compared to tell devices apart.
const COMPARED_ID_BYTES: usize = 1024;

/// A device's own key: never used again, also when another device takes its place in the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct DeviceKey(u32);

/// What a device looks like, apart from its state.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DeviceShape {
    /// Its name, made fit to show.
    pub name: DeviceName,
    /// Axes kept, at most [`MOST_CONTROLS`].
    pub axes: usize,
    /// Buttons kept, at most [`MOST_CONTROLS`].
    pub buttons: usize,
    /// Axes and buttons beyond that, which are dropped.
    pub dropped: usize,
    /// Whether it follows the standard layout.
    pub standard: bool,
}

/// What one poll brought.
#[derive(Clone, Debug, PartialEq)]
pub enum WatchEvent {
    /// A device is there that was not there before. A change with its first state follows.
    Connected {
        /// The device's key from now on.
        key: DeviceKey,
        /// What it looks like. A device that comes back has a new key and an equal shape; two
        /// devices of one model cannot be told apart (W3C Gamepad forbids serial numbers).
        shape: DeviceShape,
    },
    /// A device's state changed.
    Changed {
        /// Which device.
        key: DeviceKey,
        /// Its new state.
        sample: Sample,
    },
    /// A device went away.
    Gone {
        /// Which device.
        key: DeviceKey,
    },
}

#[derive(Clone, Debug)]
struct Watched {
    key: DeviceKey,
    index: usize,
    id: String,
    shape: DeviceShape,
    sample: Sample,
    stamp_ms: f64,
}

/// Turns the browser's list of gamepads, poll by poll, into events.
#[derive(Clone, Debug, Default)]
pub struct Watcher {
    devices: Vec<Watched>,
    next_key: u32,
    /// The page's clock at the last poll, milliseconds.
    last_poll_ms: f64,
}

impl Watcher {
    /// One poll of the browser's list at `now_ms` on the page's monotonic clock.
    ///
    /// Events come in this order: devices gone, then for each device in the list its connection
    /// and its change. A sample comes only when a value changed. Its arrival is the browser's
    /// stamp where that can be true, else `now_ms`, and never before the sample before.
    /// Values that are no numbers become the last one that was (at first 0) and are counted.
    pub fn observe(&mut self, now_ms: f64, list: &[Option<PadState>]) -> Vec<WatchEvent> {
        let now_ms = if now_ms.is_finite() { now_ms } else { self.last_poll_ms };
        let pads = first_of_each_place(list);
        let mut events = Vec::new();
        self.devices.retain(|device| {
            let stays = pads.iter().any(|(pad, shape)| device.is(pad, shape));
            if !stays {
                events.push(WatchEvent::Gone { key: device.key });
            }
            stays
        });
        for (pad, shape) in pads {
            let place = self.devices.iter().position(|device| device.is(pad, &shape));
            if let Some(device) = place.and_then(|place| self.devices.get_mut(place)) {
                if let Some(sample) = device.take_in(pad, now_ms, self.last_poll_ms) {
                    events.push(WatchEvent::Changed { key: device.key, sample });
                }
            } else {
                let key = DeviceKey(self.next_key);
                self.next_key = self.next_key.wrapping_add(1);
                let device = Watched::new(key, pad, shape, now_ms);
                events.push(WatchEvent::Connected { key, shape: device.shape.clone() });
                events.push(WatchEvent::Changed { key, sample: device.sample.clone() });
                self.devices.push(device);
            }
        }
        self.last_poll_ms = now_ms;
        events
    }

    /// The devices that are there now, in the order in which they came.
    pub fn devices(&self) -> impl Iterator<Item = (DeviceKey, &DeviceShape, &Sample)> {
        self.devices.iter().map(|device| (device.key, &device.shape, &device.sample))
    }
}

/// The connected entries with their shapes. Of two that claim one place the first counts.
fn first_of_each_place(list: &[Option<PadState>]) -> Vec<(&PadState, DeviceShape)> {
    let mut pads: Vec<(&PadState, DeviceShape)> = Vec::new();
    for pad in list.iter().flatten().filter(|pad| pad.connected) {
        if pads.len() < MOST_DEVICES && !pads.iter().any(|(other, _)| other.index == pad.index) {
            pads.push((pad, shape_of(pad)));
        }
    }
    pads
}

fn shape_of(pad: &PadState) -> DeviceShape {
    let buttons = pad.buttons.len().max(pad.pressed.len());
    DeviceShape {
        name: clean_id(compared(&pad.id)),
        axes: pad.axes.len().min(MOST_CONTROLS),
        buttons: buttons.min(MOST_CONTROLS),
        dropped: pad.axes.len().saturating_sub(MOST_CONTROLS)
            + buttons.saturating_sub(MOST_CONTROLS),
        standard: pad.mapping == STANDARD_MAPPING,
    }
}

/// The part of a name string that is looked at.
fn compared(id: &str) -> &str {
    at_most_bytes(id, COMPARED_ID_BYTES)
}

impl Watched {
    fn new(key: DeviceKey, pad: &PadState, shape: DeviceShape, now_ms: f64) -> Self {
        let stamped = plausible(pad.timestamp_ms) && pad.timestamp_ms <= now_ms + STAMP_LEEWAY_MS;
        let arrival_ms = if stamped { pad.timestamp_ms } else { now_ms };
        let mut device = Self {
            key,
            index: pad.index,
            id: compared(&pad.id).to_owned(),
            sample: Sample {
                arrival_seconds: arrival_ms / 1000.0,
                axes: vec![0.0; shape.axes],
                buttons: vec![0.0; shape.buttons],
            },
            shape,
            stamp_ms: pad.timestamp_ms,
        };
        device.take_values(pad);
        device
    }

    fn is(&self, pad: &PadState, shape: &DeviceShape) -> bool {
        self.index == pad.index && self.id == compared(&pad.id) && self.shape == *shape
    }

    fn take_in(&mut self, pad: &PadState, now_ms: f64, last_poll_ms: f64) -> Option<Sample> {
        if !self.take_values(pad) {
            return None;
        }
        // A stamp that did not move did not stamp this change; one older than the poll that did
        // not have the change yet counts from some other start.
        let stamp = pad.timestamp_ms;
        let stamped = plausible(stamp)
            && stamp != self.stamp_ms
            && stamp <= now_ms + STAMP_LEEWAY_MS
            && stamp >= last_poll_ms - STAMP_LEEWAY_MS
            && stamp / 1000.0 >= self.sample.arrival_seconds;
        self.stamp_ms = stamp;
        let arrival_seconds = if stamped { stamp } else { now_ms } / 1000.0;
        self.sample.arrival_seconds = self.sample.arrival_seconds.max(arrival_seconds);
        Some(self.sample.clone())
    }

    /// Copies the values; whether any changed.
    fn take_values(&mut self, pad: &PadState) -> bool {
        let mut changed = false;
        let mut take = |kept: &mut f64, value: f64, least: f64, most: f64| {
            let capped = value.clamp(least, most);
            if value.is_finite() && *kept != capped {
                *kept = capped;
                changed = true;
            }
        };
        for (kept, value) in self.sample.axes.iter_mut().zip(&pad.axes) {
            take(kept, *value, -LARGEST_AXIS, LARGEST_AXIS);
        }
        for (index, kept) in self.sample.buttons.iter_mut().enumerate() {
            let pressed = pad.pressed.get(index).copied().unwrap_or(false);
            let value = pad.buttons.get(index).copied();
            take(kept, value.unwrap_or(f64::from(u8::from(pressed))), 0.0, 1.0);
        }
        changed
    }
}

fn plausible(stamp_ms: f64) -> bool {
    stamp_ms.is_finite() && stamp_ms > 0.0
}

#[cfg(test)]
#[path = "watcher_tests.rs"]
mod tests;
