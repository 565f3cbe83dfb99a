//! What a device says it is, as a browser shows it, and how its states become samples.
//!
//! - [`gamepad`]: the W3C Gamepad interface as plain data: [`gamepad::PadState`] is what the
//!   page copies out of the browser, [`gamepad::Watcher`] turns a run of them into devices that
//!   come and go and [`fitting::Sample`]s.
//! - [`layout`]: the words of the open standard layout for axes and buttons.
//! - [`stick_finder`]: which two axes of a device are the stick.
//! - [`speaking`]: whether a device speaks as a game controller, a mouse or a keyboard.
//! - [`through`]: what of a device gets through a host, and the verdict.
//! - [`buttons`]: which button or switch does which job.
//! - [`choosing`]: what to look for in a stick, from the person, and what to ask its maker.
//! - [`hid`]: what the device itself says: its report descriptor, as bytes, pasted text or a
//!   browser's `WebHID` collections, read into a [`hid::HidDevice`]; raw reports taken apart, and as
//!   states of a pad ([`hid::pad::RawPad`]), a second source of samples for the same watcher.
//! - [`raw_and_shown`]: raw and shown positions of one axis side by side: what is hidden in the
//!   middle and before the ends, here and now.
//!
//! Invariants: no browser, no clock; everything that comes from a device is untrusted: text is
//! capped and cleaned, numbers are made finite, lists are cut. Nothing here panics, whatever a
//! device claims.
#![deny(missing_docs)]
#![forbid(unsafe_code)]

pub mod buttons;
pub mod choosing;
pub mod gamepad;
pub mod hid;
#[cfg(test)]
mod hidden_middle;
pub mod layout;
pub mod raw_and_shown;
pub mod speaking;
pub mod stick_finder;
pub mod through;
