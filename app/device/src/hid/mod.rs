//! What a USB device says about its reports, read to the end.
//!
//! A *report descriptor* is a short program in bytes that lists every control of a device: where
//! its bits lie in which report, from what least to what greatest value, and what it is for.
//!
//! - [`text`]: the bytes out of pasted text.
//! - [`read`]: bytes into a [`HidDevice`]; refused with a [`DescriptorError`].
//! - [`collections`]: the same out of what a browser's `WebHID` interface tells, which gives no
//!   bytes.
//! - [`HidDevice`]: collections, reports and fields, and from them the [`Axis`]es, [`Hat`]s and
//!   [`Button`]s; [`HidDevice::decode`] takes a report apart.
//! - [`pad`]: reports as [`crate::gamepad::PadState`]s, so that they become samples on the same
//!   way as those of the Gamepad interface.
//! - [`usage`]: numbers that say what a control is for; [`names`]: what the tables call them.
//!
//! Source throughout: USB Implementers' Forum, *Device Class Definition for Human Interface
//! Devices (HID)*, version 1.11, 2001 (from memory, checked against two open libraries in
//! `tests/tests/published_hid.rs`); *HID Usage Tables* (as shipped with the package hid-tools).
//!
//! Everything here is untrusted and capped by the constants below. Time and memory are bounded by
//! them whatever the bytes say: no range of usages and no count is ever written out in full.

mod builder;
pub mod collections;
mod controls;
mod decode;
mod device;
mod error;
mod field;
mod item;
pub mod names;
pub mod pad;
mod read;
pub mod text;
pub mod usage;

#[cfg(test)]
mod invented;
#[cfg(test)]
mod tests;

pub use controls::{Axis, Button, ButtonPlace, Hat};
pub use decode::{Decoded, Standing, Value};
pub use device::{Collection, CollectionKind, HidDevice, Report, ReportKind};
pub use error::{DescriptorError, DescriptorFault, Remark, RemarkKind};
pub use field::{Field, FieldFlags, LogicalRange, Unit, UnitSystem};
pub use read::read;
pub use usage::{Usage, UsageList, UsageRange};

/// The most bytes of a report descriptor that are read. Those of sticks have some 50 to 500.
pub const MOST_DESCRIPTOR_BYTES: usize = 4096;
/// The most reports, of all kinds together.
pub const MOST_REPORTS: usize = 256;
/// The most fields (Input, Output and Feature items), of all reports together.
pub const MOST_FIELDS: usize = 1024;
/// The most bits of one report: 16 384 bytes.
pub const MOST_REPORT_BITS: u32 = 131_072;
/// The most bits of all reports together.
pub const MOST_DEVICE_BITS: u32 = 2_097_152;
/// The widest field that is no padding, bits. Values are read from fields of up to 32 bits (HID
/// 1.11, 8.4); wider ones are placed but not read.
pub const MOST_FIELD_BITS: u32 = 256;
/// The widest field that is read as a value, bits.
pub const MOST_VALUE_BITS: u32 = 32;
/// The most collections.
pub const MOST_COLLECTIONS: usize = 256;
/// The deepest collection: so many are open at once.
pub const MOST_DEPTH: usize = 32;
/// The most states pushed at once.
pub const MOST_PUSHED: usize = 16;
/// The most axes, hats and buttons listed, each. The fields themselves are all kept.
pub const MOST_LISTED: usize = 256;
/// The most remarks kept.
pub const MOST_REMARKS: usize = 64;
