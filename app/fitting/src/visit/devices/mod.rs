//! The devices of a visit, the host they are held against, and which button is to do what.
//!
//! What is kept here was told, seen or heard; what follows from it (whether a device works with a
//! host, which button does which job) is computed by the crate `device`.

mod buttons;
mod heard;
mod host;
mod job;
mod shipped;
mod together;
mod used;

pub use buttons::{AddedSwitch, ButtonNote, Ease, MOST_JOBS, MOST_SWITCHES};
pub use heard::{Heard, KeysHeard, MOST_HEARD, PadHeard, PointerHeard};
pub use host::{
    Accepts, AxesTaken, CurveSet, Hat, Host, HostSets, MOST_PORTS, Port, Slider, SliderRange,
};
pub use job::Job;
pub use shipped::ShippedHost;
pub use used::{DeviceRole, DeviceUsed, MOST_DESCRIPTOR_CHARACTERS, MOST_DEVICES, is_same_stick};

use serde::{Deserialize, Serialize};

/// The most hosts a person may describe in one fitting.
pub const MOST_OWN_HOSTS: usize = 6;

/// Which host is meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum HostChosen {
    /// One that comes with the program.
    Shipped(ShippedHost),
    /// One that the person described, by its place.
    Own(u32),
}

impl Default for HostChosen {
    fn default() -> Self {
        Self::Shipped(ShippedHost::WebPage)
    }
}

/// The devices of a visit, the host, and the plan of the buttons.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Devices {
    /// The devices used together, each with its role. A set-up names one of them by its place;
    /// without any, the fitting has the one stick it was recorded with.
    pub used: Vec<DeviceUsed>,
    /// What spoke when somebody listened.
    pub heard: Option<Heard>,
    /// The report descriptor that somebody pasted, as hex digits; empty where nobody did.
    pub descriptor: String,
    /// The host, once one was chosen.
    pub host: Option<HostChosen>,
    /// The port of the host, by its place.
    pub port: u32,
    /// The hosts a person described.
    pub own_hosts: Vec<Host>,
    /// What the person knows of each button.
    pub buttons: Vec<ButtonNote>,
    /// The jobs that are needed, the most needed first, each once.
    pub jobs: Vec<Job>,
    /// Switches beside the stick.
    pub switches: Vec<AddedSwitch>,
}

impl Devices {
    /// The host a person described that is chosen, if one is.
    #[must_use]
    pub fn own_host(&self) -> Option<&Host> {
        match self.host {
            Some(HostChosen::Own(place)) => self.own_hosts.get(place as usize),
            _ => None,
        }
    }

    pub(super) fn tidied(&self) -> Self {
        let own_hosts: Vec<Host> =
            self.own_hosts.iter().take(MOST_OWN_HOSTS).map(Host::tidied).collect();
        let host = self.host.filter(|chosen| match chosen {
            HostChosen::Shipped(_) => true,
            HostChosen::Own(place) => (*place as usize) < own_hosts.len(),
        });
        let mut jobs: Vec<Job> = Vec::new();
        for job in self.jobs.iter().map(Job::tidied) {
            if !jobs.contains(&job) && job.is_known() && jobs.len() < MOST_JOBS {
                jobs.push(job);
            }
        }
        let mut used: Vec<DeviceUsed> =
            self.used.iter().take(MOST_DEVICES).map(DeviceUsed::tidied).collect();
        if used.len() == 1 {
            // One alone is the fitting's own.
            used.clear();
        }
        Self {
            used,
            heard: self.heard.as_ref().map(Heard::tidied),
            descriptor: used::hex_digits(&self.descriptor),
            host,
            port: self.port.min(MOST_PORTS as u32 - 1),
            own_hosts,
            buttons: buttons::tidied_notes(&self.buttons),
            jobs,
            switches: self.switches.iter().take(MOST_SWITCHES).map(AddedSwitch::tidied).collect(),
        }
    }
}
