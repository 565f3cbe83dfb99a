//! A device's collections, copied out of the browser within the core's caps: whatever the object
//! claims, only so much of it is looked at.

use super::interface::{get, length, number};
use device::hid::collections::{CollectionInfo, ItemInfo, ReportInfo, UnitSystemInfo};
use device::hid::{
    DescriptorFault, MOST_COLLECTIONS, MOST_DEPTH, MOST_DESCRIPTOR_BYTES, MOST_FIELDS, MOST_REPORTS,
};
use js_sys::Reflect;
use wasm_bindgen::JsValue;

/// What may still be read. Nested collections repeat what is in them (observed, Chromium 156 on
/// Linux), so there is room for four times what a device may have.
struct Room {
    collections: usize,
    reports: usize,
    items: usize,
    usages: usize,
}

/// The collections of a device, with their input reports: what it takes is not asked for.
///
/// # Errors
/// There is more of it than any stick has.
pub(super) fn read(device: &JsValue) -> Result<Vec<CollectionInfo>, DescriptorFault> {
    let mut room = Room {
        collections: MOST_COLLECTIONS,
        reports: 4 * MOST_REPORTS,
        items: 4 * MOST_FIELDS,
        usages: 4 * MOST_DESCRIPTOR_BYTES,
    };
    collections(&get(device, "collections"), 1, &mut room)
}

fn take(room: &mut usize, fault: DescriptorFault) -> Result<(), DescriptorFault> {
    *room = room.checked_sub(1).ok_or(fault)?;
    Ok(())
}

/// The entries of a list; one more than there is room for, so that too many are noticed.
fn entries(list: &JsValue, room: usize) -> impl Iterator<Item = JsValue> + use<> {
    let count = length(list, u32::try_from(room).unwrap_or(u32::MAX).saturating_add(1));
    let list = list.clone();
    (0..count).map(move |place| Reflect::get_u32(&list, place).unwrap_or(JsValue::UNDEFINED))
}

fn collections(
    list: &JsValue,
    depth: usize,
    room: &mut Room,
) -> Result<Vec<CollectionInfo>, DescriptorFault> {
    let mut read = Vec::new();
    for one in entries(list, room.collections) {
        if depth > MOST_DEPTH {
            return Err(DescriptorFault::TooDeep);
        }
        take(&mut room.collections, DescriptorFault::TooManyCollections)?;
        read.push(CollectionInfo {
            usage_page: whole(&one, "usagePage") as u16,
            usage: whole(&one, "usage") as u16,
            kind: whole(&one, "type") as u8,
            children: collections(&get(&one, "children"), depth + 1, room)?,
            input_reports: reports(&get(&one, "inputReports"), room)?,
            ..CollectionInfo::default()
        });
    }
    Ok(read)
}

fn reports(list: &JsValue, room: &mut Room) -> Result<Vec<ReportInfo>, DescriptorFault> {
    let mut read = Vec::new();
    for one in entries(list, room.reports) {
        take(&mut room.reports, DescriptorFault::TooManyReports)?;
        let mut items = Vec::new();
        for item in entries(&get(&one, "items"), room.items) {
            take(&mut room.items, DescriptorFault::TooManyFields)?;
            items.push(read_item(&item, room)?);
        }
        read.push(ReportInfo { report_id: whole(&one, "reportId") as u8, items });
    }
    Ok(read)
}

fn read_item(item: &JsValue, room: &mut Room) -> Result<ItemInfo, DescriptorFault> {
    let is = |name: &str| get(item, name).as_bool().unwrap_or(false);
    let signed = |name: &str| number(item, name) as i32;
    let power = |name: &str| number(item, name) as i8;
    let is_range = is("isRange");
    let mut usages = Vec::new();
    if !is_range {
        for usage in entries(&get(item, "usages"), room.usages) {
            take(&mut room.usages, DescriptorFault::TooManyFields)?;
            usages.push(usage.as_f64().unwrap_or(0.0) as u32);
        }
    }
    Ok(ItemInfo {
        is_absolute: is("isAbsolute"),
        is_array: is("isArray"),
        is_buffered_bytes: is("isBufferedBytes"),
        is_constant: is("isConstant"),
        is_linear: is("isLinear"),
        is_range,
        is_volatile: is("isVolatile"),
        has_null: is("hasNull"),
        has_preferred_state: is("hasPreferredState"),
        wrap: is("wrap"),
        usages,
        usage_minimum: whole(item, "usageMinimum"),
        usage_maximum: whole(item, "usageMaximum"),
        report_size: whole(item, "reportSize"),
        report_count: whole(item, "reportCount"),
        unit_exponent: power("unitExponent"),
        unit_system: unit_system(item),
        unit_factor_length_exponent: power("unitFactorLengthExponent"),
        unit_factor_mass_exponent: power("unitFactorMassExponent"),
        unit_factor_time_exponent: power("unitFactorTimeExponent"),
        unit_factor_temperature_exponent: power("unitFactorTemperatureExponent"),
        unit_factor_current_exponent: power("unitFactorCurrentExponent"),
        unit_factor_luminous_intensity_exponent: power("unitFactorLuminousIntensityExponent"),
        logical_minimum: signed("logicalMinimum"),
        logical_maximum: signed("logicalMaximum"),
        physical_minimum: signed("physicalMinimum"),
        physical_maximum: signed("physicalMaximum"),
    })
}

/// A whole number; 0 where there is none.
fn whole(of: &JsValue, name: &str) -> u32 {
    number(of, name) as u32
}

fn unit_system(item: &JsValue) -> UnitSystemInfo {
    match get(item, "unitSystem").as_string().as_deref() {
        None | Some("none") => UnitSystemInfo::None,
        Some("si-linear") => UnitSystemInfo::SiLinear,
        Some("si-rotation") => UnitSystemInfo::SiRotation,
        Some("english-linear") => UnitSystemInfo::EnglishLinear,
        Some("english-rotation") => UnitSystemInfo::EnglishRotation,
        Some("vendor-defined") => UnitSystemInfo::VendorDefined,
        Some(_) => UnitSystemInfo::Reserved,
    }
}
