//! What a device says it is, as a browser shows it, and how its states become samples.
//!
//! - [`gamepad`]: the W3C Gamepad interface as plain data: [`gamepad::PadState`] is what the
//!   page copies out of the browser, [`gamepad::Watcher`] turns a run of them into devices that
//!   come and go and [`fitting::Sample`]s.
//! - [`layout`]: the words of the open standard layout for axes and buttons.
//! - [`stick_finder`]: which two axes of a device are the stick.
//! - [`choosing`]: what to look for in a stick, from the person, and what to ask its maker.
//! - [`hidden_middle`]: how a system may reshape a stick before a page sees it.
//!
//! Invariants: no browser, no clock; everything that comes from a device is untrusted: text is
//! capped and cleaned, numbers are made finite, lists are cut. Nothing here panics, whatever a
//! device claims.
#![deny(missing_docs)]
#![forbid(unsafe_code)]

pub mod choosing;
pub mod gamepad;
pub mod hidden_middle;
pub mod layout;
pub mod stick_finder;
