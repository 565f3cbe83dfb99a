//! The W3C Gamepad interface as plain data.
//!
//! The page copies each browser object into a [`PadState`], hole for hole, and hands the whole
//! list to a [`Watcher`] at every poll; what comes back are [`WatchEvent`]s.
//!
//! Source throughout: W3C, *Gamepad* (Editor's Draft of 9 August 2024).

mod name;
mod normalise;
mod pace;
mod report_rate;
mod watcher;

pub use name::{DeviceName, MOST_NAME_CHARACTERS, clean_id};
pub use normalise::{normalise, normalise_button};
pub use pace::Pace;
pub use report_rate::{ReportRate, ReportsPerSecond};
pub use watcher::{DeviceKey, DeviceShape, WatchEvent, Watcher};

/// One entry of the browser's list of gamepads, copied as it stands and not trusted.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PadState {
    /// The device's own name string.
    pub id: String,
    /// Its place in the browser's list. Places are used again for other devices.
    pub index: usize,
    /// The name of its layout: empty where the browser knows none.
    pub mapping: String,
    /// Whether it is still connected.
    pub connected: bool,
    /// When the browser last took in a change, milliseconds on the page's monotonic clock.
    pub timestamp_ms: f64,
    /// Every axis.
    pub axes: Vec<f64>,
    /// Every button's analogue value.
    pub buttons: Vec<f64>,
    /// Whether the browser counts each button as pressed. Used only for buttons without a
    /// value: the standard leaves the threshold to the browser.
    pub pressed: Vec<bool>,
}
