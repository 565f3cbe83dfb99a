//! The browser's devices: which are there, which is the chosen one, and whether it came back.

use device::gamepad::{DeviceShape, WatchEvent, Watcher};
use fitting::Sample;

use super::{
    adapter::Reading,
    status::{DeviceKey, DeviceSeen, Interface},
};

/// The devices of the browser's gamepad interface.
#[derive(Debug, Default)]
pub(super) struct Pads {
    watcher: Watcher,
    chosen: Option<Chosen>,
}

#[derive(Clone, Debug)]
struct Chosen {
    key: DeviceKey,
    shape: DeviceShape,
    gone: bool,
}

/// What a look at the devices brought.
#[derive(Debug, Default)]
pub(super) struct News {
    /// The state of the interface; `None` when nothing was compared.
    pub(super) interface: Option<Interface>,
    /// Whether a device came or went.
    pub(super) devices_changed: bool,
    /// The chosen device went away.
    pub(super) chosen_gone: bool,
    /// The chosen device is back, under this key.
    pub(super) chosen_back: Option<DeviceKey>,
    /// The new state of the chosen device.
    pub(super) change: Option<Sample>,
}

impl Pads {
    /// Takes in what a look at the interface gave.
    pub(super) fn take_in(&mut self, now_seconds: f64, reading: Reading) -> News {
        let (list, interface) = match reading {
            Reading::Unstamped => return News::default(),
            Reading::Missing(text) => (Vec::new(), Interface::Missing(text)),
            Reading::Refused => (Vec::new(), Interface::Refused),
            Reading::Pads(list) => (list, Interface::Waiting),
        };
        let mut news = News::default();
        for event in self.watcher.observe(now_seconds * 1000.0, &list) {
            self.take(event, &mut news);
        }
        let shown = self.watcher.devices().next().is_some();
        news.interface = Some(if shown { Interface::Showing } else { interface });
        news
    }

    fn take(&mut self, event: WatchEvent, news: &mut News) {
        match event {
            WatchEvent::Gone { key } => {
                news.devices_changed = true;
                if let Some(chosen) = self.chosen.as_mut().filter(|chosen| chosen.key == key) {
                    chosen.gone = true;
                    news.chosen_gone = true;
                }
            }
            WatchEvent::Connected { key, shape } => {
                news.devices_changed = true;
                // Only a device that comes while the chosen one is gone can be it: a second one
                // of the same model, there all along, is somebody else's.
                let back = |chosen: &&mut Chosen| chosen.gone && chosen.shape == shape;
                if let Some(chosen) = self.chosen.as_mut().filter(back) {
                    chosen.gone = false;
                    chosen.key = key;
                    news.chosen_back = Some(key);
                }
            }
            WatchEvent::Changed { key, sample } => {
                if self.chosen.as_ref().is_some_and(|chosen| chosen.key == key) {
                    news.change = Some(sample);
                }
            }
        }
    }

    /// Chooses a device that is there; whether it is.
    pub(super) fn choose(&mut self, key: Option<DeviceKey>) -> bool {
        self.chosen = key.and_then(|key| {
            let (_, shape, _) = self.watcher.devices().find(|(other, _, _)| *other == key)?;
            Some(Chosen { key, shape: shape.clone(), gone: false })
        });
        self.chosen.is_some() || key.is_none()
    }

    /// The name of the chosen device, also while it is gone.
    pub(super) fn chosen_name(&self) -> Option<String> {
        self.chosen.as_ref().map(|chosen| chosen.shape.name.shown.clone().unwrap_or_default())
    }

    /// The shape of a device that is there, and of the chosen one also while it is gone.
    pub(super) fn shape_of(&self, key: DeviceKey) -> Option<&DeviceShape> {
        let there = self.watcher.devices().find(|(other, _, _)| *other == key);
        let chosen = || self.chosen.as_ref().filter(|chosen| chosen.key == key);
        there.map(|(_, shape, _)| shape).or_else(|| chosen().map(|chosen| &chosen.shape))
    }

    /// The last state of a device that is there.
    pub(super) fn latest(&self, key: DeviceKey) -> Option<Sample> {
        self.watcher
            .devices()
            .find(|(other, _, _)| *other == key)
            .map(|(_, _, sample)| sample.clone())
    }

    /// The devices that are there, in the order in which they came.
    pub(super) fn seen(&self) -> Vec<DeviceSeen> {
        self.watcher
            .devices()
            .map(|(key, shape, _)| DeviceSeen {
                key,
                name: shape.name.shown.clone().unwrap_or_default(),
                numbers: shape.name.vendor.zip(shape.name.product),
                standard: shape.standard,
                axes: shape.axes,
                buttons: shape.buttons,
                dropped: shape.dropped,
            })
            .collect()
    }
}
