//! What was heard of a device, and the host it is held against.
//!
//! What is kept here was told or heard; what follows from it (whether a device works with a host)
//! is computed by the crate `device`.

mod heard;
mod host;
mod job;
mod shipped;

pub use heard::{Heard, KeysHeard, MOST_HEARD, PadHeard, PointerHeard};
pub use host::{
    Accepts, AxesTaken, CurveSet, Hat, Host, HostSets, MOST_PORTS, Port, Slider, SliderRange,
};
pub use job::Job;
pub use shipped::ShippedHost;

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

/// What was heard of a device, and the host.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Devices {
    /// What spoke when somebody listened.
    pub heard: Option<Heard>,
    /// The host, once one was chosen.
    pub host: Option<HostChosen>,
    /// The port of the host, by its place.
    pub port: u32,
    /// The hosts a person described.
    pub own_hosts: Vec<Host>,
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
        Self {
            heard: self.heard.as_ref().map(Heard::tidied),
            host,
            port: self.port.min(MOST_PORTS as u32 - 1),
            own_hosts,
        }
    }
}
