//! What the page shows of its input: a coarse picture that changes seldom.

use fitting::invented::Invented;

/// A device's key within this visit: stays the same while it is plugged in, is never used again
/// for another device, and means nothing outside the visit.
pub type DeviceKey = device::gamepad::DeviceKey;

/// Where the samples come from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// A device, by its key.
    Pad(DeviceKey),
    /// A device whose states are handed in ([`super::Input::feed`]): its raw reports.
    Fed,
    /// The practice stick.
    Practice,
    /// An invented person with an invented stick.
    Invented(Invented),
}

/// What the browser's gamepad interface is good for at the moment.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Interface {
    /// This browser has none, or it answered with something else; the text is for the log.
    Missing(String),
    /// The page's permissions policy forbids it (`SecurityError`).
    Refused,
    /// It is there and shows no device: none is plugged in, or all are hidden until somebody
    /// presses a button (or, with some devices, moves far enough).
    #[default]
    Waiting,
    /// It shows at least one device.
    Showing,
}

/// A device as the browser shows it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DeviceSeen {
    /// Its key in this visit.
    pub key: DeviceKey,
    /// Its own name, capped and without control characters; empty if nothing is left of it.
    /// Untrusted: only ever shown as text.
    pub name: String,
    /// The USB vendor and product numbers, if its name string carries them.
    pub numbers: Option<(u16, u16)>,
    /// Whether the browser says that it follows the standard layout.
    pub standard: bool,
    /// How many axes it shows.
    pub axes: usize,
    /// How many buttons it shows.
    pub buttons: usize,
    /// How many axes and buttons beyond what is kept it claims; these are dropped.
    pub dropped: usize,
}

/// The state of the input, as a signal for the page.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct InputStatus {
    /// The browser's gamepad interface.
    pub interface: Interface,
    /// The devices that are there now, in the order in which they came.
    pub devices: Vec<DeviceSeen>,
    /// Where the samples come from, if that has been chosen.
    pub chosen: Option<Source>,
    /// The name of the chosen device, which stays known while it is gone.
    pub chosen_name: Option<String>,
    /// The chosen device went away and has not come back yet.
    pub device_gone: bool,
    /// The page is hidden: nothing is polled, and what happens now is missing, not still.
    pub page_hidden: bool,
}
