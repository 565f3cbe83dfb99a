//! Several devices in one fitting: which of them a source is, and going on with another.

use super::App;
use super::stick::{self, StickInUse};
use crate::errors::Trouble;
use crate::input::{DeviceSeen, Source};
use device::through::DeviceFacts;
use fitting::visit::{DeviceUsed, Visit};
use leptos::prelude::*;

impl App {
    /// Takes up a source that is one of several devices of this fitting, with its own series.
    /// Whether it is one of them.
    pub(crate) fn take_up_now(self, source: Source) -> bool {
        let Some(place) = self.place_of(source) else { return false };
        self.note_device_in_use();
        if !self.input.choose(source) {
            self.trouble.set(Some(Trouble::DeviceGone));
            return true;
        }
        if self.visit.with_untracked(Visit::device_in_use) == place {
            self.take_device_in_use();
        } else {
            let recorded = self.recorded();
            self.use_series(|visit| {
                visit.use_device(place, &recorded);
            });
        }
        true
    }

    /// Takes a source into the fitting beside the device it has. Whether there was room.
    pub fn add_device(self, source: Source) -> bool {
        let now = |stick: StickInUse| DeviceUsed {
            device: stick.device,
            practised: stick.practised,
            ..DeviceUsed::default()
        };
        let present = DeviceUsed {
            port: self.visit.with_untracked(|visit| visit.devices.port),
            axes: self.axes.get_untracked(),
            kind: self.kind.get_untracked(),
            ..now(self.stick_of_fitting())
        };
        let added = now(stick::of_source(self.input, Some(source)));
        let mut place = None;
        self.change_visit(|visit| place = visit.add_device(&present, &added));
        place.is_some()
    }

    /// Goes on with another device of this fitting, whether it is connected or not.
    pub fn use_device(self, place: u32) {
        self.leave_task();
        let recorded = self.recorded();
        self.use_series(|visit| {
            visit.use_device(place, &recorded);
        });
    }

    /// Takes a device out of the fitting with which nothing was recorded.
    pub fn remove_device(self, place: u32) {
        let recorded = self.recorded();
        self.change_visit(|visit| {
            visit.remove_device(place, &recorded);
        });
    }

    /// Whether it can be taken out.
    pub fn can_remove_device(self, place: u32) -> bool {
        let recorded = self.recorded();
        self.visit.with(|visit| visit.clone().remove_device(place, &recorded))
    }

    /// Which device of the fitting a source is, where there are several. Devices of one name and
    /// shape are told apart by the order in which they were connected, for lack of anything else.
    fn place_of(self, source: Source) -> Option<u32> {
        let seen = stick::of_source(self.input, Some(source));
        let rank = match source {
            Source::Pad(key) => self.like(&seen).iter().position(|one| one.key == key)?,
            _ => 0,
        };
        self.visit.with_untracked(|visit| {
            let used = &visit.devices.used;
            let is = |one: &DeviceUsed| one.is(&seen.device, seen.practised.as_deref());
            let mut places = (0_u32..).zip(used).filter(|(_, one)| is(one)).map(|(place, _)| place);
            places.nth(rank)
        })
    }

    /// The source of a device of the fitting; nothing where it is not connected.
    pub fn source_of(self, place: u32) -> Option<Source> {
        let (one, rank) = self.visit.with(|visit| {
            let used = &visit.devices.used;
            let one = used.get(place as usize)?.clone();
            let is = |other: &&DeviceUsed| other.is(&one.device, one.practised.as_deref());
            let before = used.iter().take(place as usize).filter(is).count();
            Some((one, before))
        })?;
        match one.practised.as_deref() {
            None => {
                self.input.status().track();
                let stick = StickInUse { device: one.device, practised: None };
                self.like(&stick).get(rank).map(|seen| Source::Pad(seen.key))
            }
            Some(code) => Some(stick::practised_source(code)),
        }
    }

    /// The connected devices of this name and shape, in order.
    fn like(self, stick: &StickInUse) -> Vec<DeviceSeen> {
        let mut devices = self.input.status_now().devices;
        devices.retain(|one| stick::of_source(self.input, Some(Source::Pad(one.key))) == *stick);
        devices
    }

    /// Sources that are there and not of this fitting yet.
    pub fn sources_to_add(self) -> Vec<Source> {
        let status = self.input.status().get();
        self.visit.track();
        let alone = self.visit.with(|visit| visit.devices.used.is_empty());
        let present = |source: &Source| {
            if alone {
                status.chosen == Some(*source)
                    || !matches!(source, Source::Pad(_)) && self.is_of_this_fitting(*source)
            } else {
                self.place_of(*source).is_some()
            }
        };
        let pads = status.devices.iter().map(|seen| Source::Pad(seen.key));
        pads.chain([Source::Practice]).filter(|source| !present(source)).collect()
    }

    /// The name of a source.
    pub fn name_of(self, source: Source) -> String {
        stick::of_source(self.input, Some(source)).device.name
    }

    /// The stick a fitting is of: of several that in use, else the one it was first recorded
    /// with, else the one that is chosen.
    pub(super) fn stick_of_fitting(self) -> StickInUse {
        let used = self.visit.with_untracked(|visit| visit.used_now().cloned());
        if let Some(used) = used {
            return StickInUse { device: used.device, practised: used.practised };
        }
        self.kept.with_untracked(|kept| match kept {
            Some(kept) if kept.body.tasks > 0 => StickInUse {
                device: kept.body.device.clone(),
                practised: kept.body.practised.clone(),
            },
            _ => stick::of_input(self.input),
        })
    }

    /// Writes down which axes are the stick of the device in use, and what kind it is.
    pub(super) fn note_device_in_use(self) {
        let place = self.visit.with_untracked(Visit::device_in_use);
        let chosen = self.input.chosen().and_then(|source| self.place_of(source));
        if chosen != Some(place) {
            return;
        }
        let (axes, kind) = (self.axes.get_untracked(), self.kind.get_untracked());
        let noted = |visit: &Visit| {
            visit.used_now().is_none_or(|used| (used.axes, used.kind) == (axes, kind))
        };
        if self.visit.with_untracked(noted) {
            return;
        }
        self.visit.update(|visit| {
            if let Some(used) = visit.devices.used.get_mut(place as usize) {
                (used.axes, used.kind) = (axes, kind);
            }
        });
    }

    /// Another device of the fitting is in use: its axes, its kind, its source where it is
    /// connected, and a plan of its own.
    pub(super) fn device_changed(self) {
        self.take_device_in_use();
        self.plan.set(None);
        self.judged.set(None);
        let place = self.visit.with_untracked(Visit::device_in_use);
        match untrack(|| self.source_of(place)) {
            Some(source) if self.input.chosen() == Some(source) => {}
            Some(source) if self.input.choose(source) => {}
            _ => self.input.choose_none(),
        }
    }

    fn take_device_in_use(self) {
        let used = self.visit.with_untracked(|visit| visit.used_now().cloned());
        if let Some(used) = used {
            self.axes.set(used.axes);
            self.kind.set(used.kind);
        }
    }

    /// What is known of a device of the fitting that may not be in use.
    pub fn facts_of(self, place: u32) -> Option<DeviceFacts> {
        if self.visit.with(Visit::device_in_use) == place {
            return self.device_facts(super::Judged::Chosen);
        }
        let used = self.visit.with(|visit| visit.devices.used.get(place as usize).cloned())?;
        let latest = match untrack(|| self.source_of(place)) {
            Some(Source::Pad(key)) => self.input.latest_of(key),
            _ => None,
        };
        let mut facts = DeviceFacts::of_shown(&used.device, latest.as_ref());
        facts.stick = Some([used.axes.horizontal.index, used.axes.vertical.index]);
        let analysis = self.series_of(place).and_then(|series| self.analysis_of(series));
        Some(match analysis {
            Some(analysis) => facts.with_measures(&analysis.measures.device),
            None => facts,
        })
    }

    /// The last series told of a device.
    pub fn series_of(self, place: u32) -> Option<u32> {
        self.visit.with(|visit| {
            let series = visit.set_ups.iter().rposition(|set_up| set_up.device == place)?;
            u32::try_from(series).ok()
        })
    }
}
