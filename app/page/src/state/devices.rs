//! What is known of the device, the host that is chosen, and what gets through.

use super::{App, stick};
use crate::input::Source;
use device::hid::{self, HidDevice};
use device::through::{Asked, DeviceFacts, Verdict, verdict};
use fitting::summary::DeviceSeen;
use fitting::visit::{Host, HostChosen};
use leptos::prelude::*;

/// Of which device the verdict is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Judged {
    /// The stick that is chosen, or the one this fitting was recorded with.
    Chosen,
    /// The one that was heard.
    Heard,
    /// The one whose report descriptor was pasted.
    Pasted,
    /// The one whose raw reports are or were read.
    Raw,
}

impl App {
    /// Of which device the verdict is: what somebody chose, else the stick, else what was heard.
    pub fn judged_now(self) -> Judged {
        self.judged.get().unwrap_or_else(|| {
            let (heard, pasted) = self.visit.with(|visit| {
                (visit.devices.heard.is_some(), !visit.devices.descriptor.is_empty())
            });
            match self.device_seen() {
                None if heard => Judged::Heard,
                None if pasted => Judged::Pasted,
                _ => Judged::Chosen,
            }
        })
    }

    /// The stick that is chosen, or, where none is, the one this fitting was recorded with.
    pub fn device_seen(self) -> Option<DeviceSeen> {
        let chosen = self.input.status().with(|status| status.chosen.is_some());
        if chosen {
            return Some(stick::of_input(self.input).device);
        }
        let recorded = self.records.with(|records| !records.is_empty());
        self.kept.with(|kept| {
            let body = &kept.as_ref().filter(|_| recorded)?.body;
            let practised = body.practised.as_deref().map(stick::practised_source);
            let own = practised.map(|source| stick::of_source(self.input, Some(source)).device);
            Some(own.unwrap_or_else(|| body.device.clone()))
        })
    }

    /// What is known of it; nothing where nothing is.
    pub fn device_facts(self, judged: Judged) -> Option<DeviceFacts> {
        match judged {
            Judged::Chosen => self.facts_of_chosen(),
            Judged::Heard => {
                self.visit.with(|visit| visit.devices.heard.as_ref().map(DeviceFacts::of_heard))
            }
            Judged::Pasted => self.pasted_device().as_ref().map(DeviceFacts::of_hid),
            Judged::Raw => self.facts_of_raw(),
        }
    }

    /// What the pasted report descriptor says; nothing where none was pasted, or where a file
    /// brought one that cannot be read.
    pub fn pasted_device(self) -> Option<HidDevice> {
        let bytes = self.visit.with(|visit| hid::text::bytes(&visit.devices.descriptor).ok())?;
        hid::read(&bytes).ok()
    }

    /// What the device says of itself, with what was seen missing between its reports and what the
    /// browser shows, and with what was measured where it is the stick of the fitting.
    fn facts_of_raw(self) -> Option<DeviceFacts> {
        let mut facts = DeviceFacts::of_hid(&self.raw_device()?);
        let is_chosen = self.input.status().with(|status| status.chosen == Some(Source::Fed));
        if is_chosen {
            let axes = self.axes.get();
            facts.stick = Some([axes.horizontal.index, axes.vertical.index]);
            facts = self.measured(facts);
        }
        facts.hidden_middle = self.raw_hidden_middle().or(facts.hidden_middle);
        Some(facts)
    }

    fn measured(self, facts: DeviceFacts) -> DeviceFacts {
        self.analysis.with(|analysis| match analysis {
            Some(analysis) => facts.with_measures(&analysis.measures.device),
            None => facts,
        })
    }

    fn facts_of_chosen(self) -> Option<DeviceFacts> {
        let seen = self.device_seen()?;
        let axes = self.axes.get();
        let mut facts = DeviceFacts::of_shown(&seen, self.input.latest().as_ref());
        facts.stick = Some([axes.horizontal.index, axes.vertical.index]);
        Some(self.measured(facts))
    }

    /// The host that is chosen, with what it accepts and lets through.
    pub fn host(self) -> Option<(HostChosen, Host)> {
        self.visit.with(|visit| {
            let chosen = visit.devices.host?;
            let host = match chosen {
                HostChosen::Shipped(host) => host.host(),
                HostChosen::Own(_) => visit.devices.own_host()?.clone(),
            };
            Some((chosen, host))
        })
    }

    /// Whether the device works with a host, and what of it gets through.
    pub fn verdict_with(self, judged: Judged, host: &Host) -> Verdict {
        let facts = self.device_facts(judged).unwrap_or_default();
        let settings = self.analysis.with(Option::is_some).then(|| self.settings());
        let port = self.port() as usize;
        verdict(&facts, &Asked { host, port, settings: settings.as_ref() })
    }

    /// The port of the host into which the device in use goes, by its place.
    pub fn port(self) -> u32 {
        self.visit.with(|visit| visit.used_now().map_or(visit.devices.port, |used| used.port))
    }

    /// Puts a device of the fitting, or the only one, into another port.
    pub fn set_port(self, device: u32, port: u32) {
        self.change_visit(|visit| match visit.devices.used.get_mut(device as usize) {
            Some(used) => used.port = port,
            None => visit.devices.port = port,
        });
    }
}
