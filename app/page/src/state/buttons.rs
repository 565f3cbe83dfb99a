//! The plan of the buttons, from what the visit knows.

use super::App;
use device::buttons::{Asked, Plan, Source, plan, sources};
use fitting::visit::{ButtonNote, Visit};
use leptos::prelude::*;

impl App {
    /// How many buttons the device has of which the verdict is; 0 where nobody knows.
    pub fn button_count(self) -> u32 {
        self.device_facts(self.judged_now()).and_then(|facts| facts.buttons).unwrap_or(0)
    }

    /// Everything that can be pressed.
    pub fn button_sources(self) -> Vec<Source> {
        let buttons = self.button_count();
        self.analysis.with(|analysis| {
            let recorded = analysis.as_ref().map(|analysis| analysis.measures.presses.as_slice());
            self.visit.with(|visit| {
                let device = visit.device_in_use();
                let notes: Vec<ButtonNote> = visit
                    .devices
                    .buttons
                    .iter()
                    .filter(|one| one.device == device)
                    .cloned()
                    .collect();
                sources(buttons, &notes, recorded.unwrap_or_default(), &visit.devices.switches)
            })
        })
    }

    /// The plan with what it is made of; nothing where no job is named.
    pub fn button_plan(self) -> Option<(Vec<Source>, Plan)> {
        if self.visit.with(|visit| visit.devices.jobs.is_empty()) {
            return None;
        }
        let sources = self.button_sources();
        let host = self.host();
        let standard = self.device_facts(self.judged_now()).and_then(|facts| facts.standard);
        let port = self.port() as usize;
        let made = self.visit.with(|visit| {
            plan(&Asked {
                jobs: &visit.devices.jobs,
                sources: &sources,
                host: host.as_ref().map(|(_, host)| (host, port)),
                standard,
                devices: visit.devices.used.len().max(1),
            })
        });
        Some((sources, made))
    }

    /// What is known of a button of the device in use.
    pub fn button_note(self, button: u32) -> ButtonNote {
        self.visit.with(|visit| {
            let device = visit.device_in_use();
            let is = |note: &&ButtonNote| (note.device, note.button) == (device, button);
            visit.devices.buttons.iter().find(is).cloned().unwrap_or_default()
        })
    }

    /// Changes what is known of a button of the device in use.
    pub fn note_button(self, button: u32, change: impl FnOnce(&mut ButtonNote)) {
        let device = self.visit.with_untracked(Visit::device_in_use);
        let mut note = untrack(|| self.button_note(button));
        change(&mut note);
        note = ButtonNote { device, button, ..note };
        self.change_visit(|visit| {
            visit.devices.buttons.retain(|one| (one.device, one.button) != (device, button));
            visit.devices.buttons.push(note);
            *visit = visit.tidied();
        });
    }
}
