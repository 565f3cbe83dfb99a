//! A device out of what a browser's `WebHID` interface tells.
//!
//! The interface gives no bytes but what it read from them: for each outermost collection a
//! [`CollectionInfo`] (`HIDDevice.collections`; WICG, *`WebHID`*, `HIDCollectionInfo`). The items of
//! a report come in order, padding included, so that places follow by adding up size × count.
//!
//! Observed, Chromium 156 on Linux: nested collections repeat. The items of an inner collection
//! stand in the outer one, too. So what an outer one lists counts wherever its inner ones list
//! nothing that is not already there; where they do, theirs are added behind.

use serde::{Deserialize, Serialize};

use super::builder::Builder;
use super::read::range;
use super::{
    Collection, CollectionKind, DescriptorFault, Field, FieldFlags, HidDevice, LogicalRange,
    MOST_COLLECTIONS, MOST_DEPTH, MOST_FIELDS, RemarkKind, ReportKind, Unit, Usage, UsageList,
};

/// A collection (`HIDCollectionInfo`).
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "camelCase", default)]
pub struct CollectionInfo {
    /// The page of what it is for.
    pub usage_page: u16,
    /// The number of what it is for.
    pub usage: u16,
    /// Its kind, as in a descriptor.
    #[serde(rename = "type")]
    pub kind: u8,
    /// The collections inside.
    pub children: Vec<CollectionInfo>,
    /// Reports from the device.
    pub input_reports: Vec<ReportInfo>,
    /// Reports to the device.
    pub output_reports: Vec<ReportInfo>,
    /// Reports both ways.
    pub feature_reports: Vec<ReportInfo>,
}

/// What a collection says of a report (`HIDReportInfo`).
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "camelCase", default)]
pub struct ReportInfo {
    /// The number of the report, 0 where there are no numbers.
    pub report_id: u8,
    /// Its items, in order.
    pub items: Vec<ItemInfo>,
}

/// One item (`HIDReportItem`). The texts (`strings`) are not kept: nothing here shows them.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "camelCase", default)]
pub struct ItemInfo {
    /// A place, not a change since the last report.
    pub is_absolute: bool,
    /// Elements name usages.
    pub is_array: bool,
    /// A stream of bytes.
    pub is_buffered_bytes: bool,
    /// Padding.
    pub is_constant: bool,
    /// In proportion to what is measured.
    pub is_linear: bool,
    /// Usages are given by their ends.
    pub is_range: bool,
    /// May change without the host.
    pub is_volatile: bool,
    /// Values outside the range mean nothing.
    pub has_null: bool,
    /// Goes back to a middle by itself.
    pub has_preferred_state: bool,
    /// Goes round.
    pub wrap: bool,
    /// Usages of 32 bits, one by one; empty where there is a range.
    pub usages: Vec<u32>,
    /// The first usage of the range.
    pub usage_minimum: u32,
    /// The last usage of the range.
    pub usage_maximum: u32,
    /// Bits of each element.
    pub report_size: u32,
    /// How many elements.
    pub report_count: u32,
    /// The power of ten of the unit.
    pub unit_exponent: i8,
    /// The system of the unit.
    pub unit_system: UnitSystemInfo,
    /// The power of length or angle.
    pub unit_factor_length_exponent: i8,
    /// The power of mass.
    pub unit_factor_mass_exponent: i8,
    /// The power of time.
    pub unit_factor_time_exponent: i8,
    /// The power of temperature.
    pub unit_factor_temperature_exponent: i8,
    /// The power of current.
    pub unit_factor_current_exponent: i8,
    /// The power of luminous intensity.
    pub unit_factor_luminous_intensity_exponent: i8,
    /// The least value.
    pub logical_minimum: i32,
    /// The greatest value.
    pub logical_maximum: i32,
    /// What the least value stands for.
    pub physical_minimum: i32,
    /// What the greatest value stands for.
    pub physical_maximum: i32,
}

/// The system of a unit (`HIDUnitSystem`).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum UnitSystemInfo {
    /// No unit.
    #[default]
    None,
    /// Centimetre, gram.
    SiLinear,
    /// Radian, gram.
    SiRotation,
    /// Inch, slug.
    EnglishLinear,
    /// Degree, slug.
    EnglishRotation,
    /// The maker's own.
    VendorDefined,
    /// Not defined, and whatever else a browser may say.
    #[serde(other)]
    Reserved,
}

impl HidDevice {
    /// The device that a browser's collections describe. Equal to what its descriptor would give,
    /// but for remarks, for the order of reports, and for what the interface does not tell.
    ///
    /// # Errors
    /// What is wrong, or beyond the caps. There are no bytes to point at.
    pub fn from_collections(outermost: &[CollectionInfo]) -> Result<Self, DescriptorFault> {
        let mut builder = Builder::default();
        for collection in outermost {
            let mut reports = Vec::new();
            gather(collection, None, 1, &mut builder, &mut reports)?;
            for report in reports {
                for placed in report.items {
                    let collection = Some(placed.collection);
                    let (field, sign_dropped) = field(placed.item, collection)?;
                    if sign_dropped {
                        builder.remark(0, RemarkKind::SignDropped);
                    }
                    builder.field(0, report.kind, report.id, field)?;
                }
            }
        }
        builder.finish()
    }
}

/// An item and the innermost collection that lists it.
#[derive(Clone, Copy)]
struct Placed<'a> {
    item: &'a ItemInfo,
    collection: usize,
}

struct Gathered<'a> {
    kind: ReportKind,
    id: u8,
    items: Vec<Placed<'a>>,
}

/// Adds this collection and those inside it; the items of their reports, each once.
fn gather<'a>(
    info: &'a CollectionInfo,
    parent: Option<usize>,
    depth: usize,
    builder: &mut Builder,
    gathered: &mut Vec<Gathered<'a>>,
) -> Result<(), DescriptorFault> {
    if depth > MOST_DEPTH {
        return Err(DescriptorFault::TooDeep);
    }
    if info.children.len() > MOST_COLLECTIONS {
        return Err(DescriptorFault::TooManyCollections);
    }
    let kind = CollectionKind::of(info.kind);
    let usage = Usage::new(info.usage_page, info.usage);
    let place = builder.collection(Collection { kind, usage, parent })?;
    let mut inner = Vec::new();
    for child in &info.children {
        gather(child, Some(place), depth + 1, builder, &mut inner)?;
    }
    for (kind, reports) in [
        (ReportKind::Input, &info.input_reports),
        (ReportKind::Output, &info.output_reports),
        (ReportKind::Feature, &info.feature_reports),
    ] {
        for report in reports {
            if report.items.len() > MOST_FIELDS {
                return Err(DescriptorFault::TooManyFields);
            }
            let id = report.report_id;
            let mut own: Vec<Placed<'a>> =
                report.items.iter().map(|item| Placed { item, collection: place }).collect();
            if let Some(at) = inner.iter().position(|g| g.kind == kind && g.id == id) {
                let theirs = inner.remove(at).items;
                if !settle(&mut own, &theirs) {
                    builder.remark(0, RemarkKind::OrderUncertain);
                    own.extend(theirs);
                }
            }
            add(gathered, Gathered { kind, id, items: own })?;
        }
    }
    for rest in inner {
        add(gathered, rest)?;
    }
    Ok(())
}

/// Puts items behind those that the report has so far.
fn add<'a>(gathered: &mut Vec<Gathered<'a>>, one: Gathered<'a>) -> Result<(), DescriptorFault> {
    let items: usize = gathered.iter().map(|report| report.items.len()).sum();
    if items + one.items.len() > MOST_FIELDS {
        return Err(DescriptorFault::TooManyFields);
    }
    match gathered.iter_mut().find(|report| report.kind == one.kind && report.id == one.id) {
        Some(report) => report.items.extend(one.items),
        None => gathered.push(one),
    }
    Ok(())
}

/// Where the inner items stand among the outer ones in the same order, gives each its inner
/// collection; else leaves all as it is and says so.
fn settle(own: &mut [Placed<'_>], theirs: &[Placed<'_>]) -> bool {
    let mut places = Vec::with_capacity(theirs.len());
    let mut from = 0;
    for inner in theirs {
        let found = own.iter().skip(from).position(|outer| outer.item == inner.item);
        let Some(found) = found else { return false };
        places.push((from + found, inner.collection));
        from += found + 1;
    }
    for (place, collection) in places {
        if let Some(outer) = own.get_mut(place) {
            outer.collection = collection;
        }
    }
    true
}

/// The item as a field, and whether a sign was dropped.
fn field(item: &ItemInfo, collection: Option<usize>) -> Result<(Field, bool), DescriptorFault> {
    let mut usages = UsageList::default();
    if item.is_range {
        usages.push(range(Usage(item.usage_minimum), Usage(item.usage_maximum))?);
    } else {
        // A descriptor that fits holds no more; each takes two bytes there.
        for usage in item.usages.iter().take(super::MOST_DESCRIPTOR_BYTES / 2) {
            usages.push(range(Usage(*usage), Usage(*usage))?);
        }
    }
    let (logical, dropped) =
        unsigned_above(item.logical_minimum, item.logical_maximum, item.report_size);
    let (mut physical, _) = unsigned_above(item.physical_minimum, item.physical_maximum, 0);
    if physical == LogicalRange::default() {
        physical = logical;
    }
    let field = Field {
        bit_offset: 0,
        element_bits: item.report_size,
        count: item.report_count,
        flags: flags(item),
        usages,
        logical,
        physical,
        unit: Unit { code: unit_code(item), exponent: item.unit_exponent.clamp(-8, 7) },
        collection,
    };
    Ok((field, dropped))
}

/// A greatest value below 0 with a least one of 0 or more is one that lost its place above the sign
/// bit. Where that was is not told: at the field's own width if it can be, else at that of the
/// shortest item that can hold it.
fn unsigned_above(min: i32, max: i32, width: u32) -> (LogicalRange, bool) {
    let (min, max) = (i64::from(min), i64::from(max));
    let shortest = match max {
        -128..=-1 => 8,
        -32_768..=-129 => 16,
        _ => 32,
    };
    let bits = if (shortest..=32).contains(&width) { width } else { shortest };
    let dropped = min >= 0 && max < 0;
    let max = if dropped { max + (1_i64 << bits) } else { max };
    (LogicalRange { min, max }, dropped)
}

fn flags(item: &ItemInfo) -> FieldFlags {
    let bits = [
        item.is_constant,
        !item.is_array,
        !item.is_absolute,
        item.wrap,
        !item.is_linear,
        !item.has_preferred_state,
        item.has_null,
        item.is_volatile,
        item.is_buffered_bytes,
    ];
    FieldFlags(bits.iter().rev().fold(0, |sum, bit| (sum << 1) | u32::from(*bit)))
}

fn unit_code(item: &ItemInfo) -> u32 {
    let system = match item.unit_system {
        UnitSystemInfo::None => 0,
        UnitSystemInfo::SiLinear => 1,
        UnitSystemInfo::SiRotation => 2,
        UnitSystemInfo::EnglishLinear => 3,
        UnitSystemInfo::EnglishRotation => 4,
        UnitSystemInfo::Reserved => 5,
        UnitSystemInfo::VendorDefined => 15,
    };
    let powers = [
        item.unit_factor_length_exponent,
        item.unit_factor_mass_exponent,
        item.unit_factor_time_exponent,
        item.unit_factor_temperature_exponent,
        item.unit_factor_current_exponent,
        item.unit_factor_luminous_intensity_exponent,
    ];
    let power = |power: i8| u32::from(power.clamp(-8, 7).cast_unsigned() & 15);
    powers.iter().rev().fold(0, |sum, one| (sum << 4) | power(*one)) << 4 | system
}

#[cfg(test)]
#[path = "collections_tests.rs"]
mod tests;
