//! A device as its descriptor tells it.

use super::{Axis, Button, Field, Hat, Remark, Usage};

/// A whole device: collections, reports and what is to be found in them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct HidDevice {
    /// Every collection, each before those inside it.
    pub collections: Vec<Collection>,
    /// Every report, in the order of their first fields.
    pub reports: Vec<Report>,
    /// The axes of the input reports, in the order of reports and fields; at most
    /// [`super::MOST_LISTED`].
    pub axes: Vec<Axis>,
    /// Their hat switches, in that order; as many at most.
    pub hats: Vec<Hat>,
    /// Their buttons, in that order; as many at most.
    pub buttons: Vec<Button>,
    /// What is odd, at most [`super::MOST_REMARKS`].
    pub remarks: Vec<Remark>,
}

/// A group of fields.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Collection {
    /// What kind of group.
    pub kind: CollectionKind,
    /// What it is for; usage 0 where the device does not say.
    pub usage: Usage,
    /// The collection it lies in: its place in [`HidDevice::collections`], before its own.
    pub parent: Option<usize>,
}

/// Kinds of collections (HID 1.11, 6.2.2.6).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CollectionKind {
    /// One place of measuring.
    Physical,
    /// What a program knows as a whole: a mouse, a joystick.
    Application,
    /// What belongs together.
    Logical,
    /// The fields of a report.
    Report,
    /// The choices of an array.
    NamedArray,
    /// A switch of what the usages mean.
    UsageSwitch,
    /// A change of what the usages mean.
    UsageModifier,
    /// The maker's own (0x80 to 0xFF).
    Vendor(u8),
    /// Reserved numbers.
    Reserved(u8),
}

impl CollectionKind {
    /// The kind of this number.
    #[must_use]
    pub const fn of(number: u8) -> Self {
        match number {
            0 => Self::Physical,
            1 => Self::Application,
            2 => Self::Logical,
            3 => Self::Report,
            4 => Self::NamedArray,
            5 => Self::UsageSwitch,
            6 => Self::UsageModifier,
            0x80..=0xFF => Self::Vendor(number),
            _ => Self::Reserved(number),
        }
    }
}

/// Which way a report goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ReportKind {
    /// From the device.
    Input,
    /// To the device.
    Output,
    /// Both, asked for.
    Feature,
}

/// A report: fields one behind the other.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Report {
    /// Which way it goes.
    pub kind: ReportKind,
    /// Its number; 0 where the device numbers none.
    pub id: u8,
    /// Its length without the number, bits.
    pub bits: u32,
    /// Its fields, padding included.
    pub fields: Vec<Field>,
}

impl Report {
    /// Its length without the number, bytes.
    #[must_use]
    pub const fn bytes(&self) -> u32 {
        self.bits.div_ceil(8)
    }
}

impl HidDevice {
    /// Whether reports carry their number in front.
    #[must_use]
    pub fn numbered(&self) -> bool {
        self.reports.iter().any(|report| report.id != 0)
    }

    /// What the device says it is: the usages of its outermost application collections.
    pub fn applications(&self) -> impl Iterator<Item = Usage> + '_ {
        self.collections
            .iter()
            .filter(|collection| {
                collection.parent.is_none() && collection.kind == CollectionKind::Application
            })
            .map(|collection| collection.usage)
    }

    /// The report of this kind and number (0 where reports have none).
    #[must_use]
    pub fn report(&self, kind: ReportKind, id: u8) -> Option<&Report> {
        self.reports.iter().find(|report| report.kind == kind && report.id == id)
    }

    /// The innermost application collection around this one, itself included.
    #[must_use]
    pub fn application_of(&self, collection: Option<usize>) -> Option<Usage> {
        let mut place = collection;
        // A parent stands before its children, so this ends.
        while let Some(found) = place.and_then(|place| self.collections.get(place)) {
            if found.kind == CollectionKind::Application {
                return Some(found.usage);
            }
            place = found.parent.filter(|parent| Some(*parent) < place);
        }
        None
    }

    /// A report as it comes on the wire, parted into number and data; the number is 0 where the
    /// device numbers none. `None` of nothing.
    #[must_use]
    pub fn part<'a>(&self, wire: &'a [u8]) -> Option<(u8, &'a [u8])> {
        if self.numbered() {
            wire.split_first().map(|(id, data)| (*id, data))
        } else {
            (!wire.is_empty()).then_some((0, wire))
        }
    }
}
