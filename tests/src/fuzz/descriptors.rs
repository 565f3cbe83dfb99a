//! Any bytes, taken for what a device says about itself: read, listed and taken apart, without a
//! panic, within the caps, and without a number that is none.

use super::Came;
use super::chance::Chance;
use crate::vector;
use device::hid::collections::{CollectionInfo, ItemInfo, ReportInfo};
use device::hid::pad::RawPad;
use device::hid::text::{self, MOST_TEXT_BYTES, TextError};
use device::hid::{
    ButtonPlace, CollectionKind, HidDevice, MOST_COLLECTIONS, MOST_DESCRIPTOR_BYTES,
    MOST_DEVICE_BITS, MOST_FIELDS, MOST_LISTED, MOST_REMARKS, MOST_REPORT_BITS, MOST_REPORTS,
    ReportKind, Standing, read,
};

/// Checks what the reader makes of any bytes. The first byte says whether the rest is a
/// descriptor, pasted text, or the making of a browser's collections.
///
/// # Panics
/// Where the reader breaks a promise: that is what is looked for.
pub fn descriptors(data: &[u8]) -> Came {
    let Some((way, data)) = data.split_first() else { return Came::Refused };
    match way % 3 {
        0 => as_bytes(data),
        1 => as_text(&String::from_utf8_lossy(data)),
        _ => {
            let mut rest = data.iter().copied();
            let told: Vec<_> = (0..=next(&mut rest) % 3).map(|_| told(&mut rest, 0)).collect();
            HidDevice::from_collections(&told).map_or(Came::Refused, |device| held(&device, data))
        }
    }
}

fn as_bytes(data: &[u8]) -> Came {
    match read(data) {
        Ok(device) => held(&device, data),
        Err(error) => {
            assert!(error.at <= data.len(), "a place inside: {error:?}");
            Came::Refused
        }
    }
}

fn as_text(given: &str) -> Came {
    match text::bytes(given) {
        Ok(bytes) => {
            assert!((1..=MOST_DESCRIPTOR_BYTES).contains(&bytes.len()));
            let again: String = bytes.iter().map(|byte| format!("0x{byte:02X}, ")).collect();
            assert_eq!(text::bytes(&again).as_ref(), Ok(&bytes), "it comes back");
            as_bytes(&bytes)
        }
        Err(TextError::At { line, column, what }) => {
            let there = given.split('\n').nth(line.wrapping_sub(1));
            let there = there.and_then(|line| line.chars().nth(column.wrapping_sub(1)));
            assert!(there.is_some(), "{what:?} at {line}:{column} of {given:?}");
            Came::Refused
        }
        Err(TextError::TooLong) => {
            assert!(given.len() > MOST_TEXT_BYTES);
            Came::Refused
        }
        Err(TextError::NothingFound) => Came::Refused,
    }
}

/// What is read holds together.
fn held(device: &HidDevice, data: &[u8]) -> Came {
    let fields: usize = device.reports.iter().map(|report| report.fields.len()).sum();
    assert!((1..=MOST_REPORTS).contains(&device.reports.len()) && fields <= MOST_FIELDS);
    assert!(device.collections.len() <= MOST_COLLECTIONS && device.remarks.len() <= MOST_REMARKS);
    for (place, collection) in device.collections.iter().enumerate() {
        assert!(collection.parent.is_none_or(|parent| parent < place), "a parent comes first");
        let application = device.application_of(Some(place));
        let own = collection.kind == CollectionKind::Application;
        assert!(!own || application == Some(collection.usage), "it is in itself");
    }
    let mut all = 0;
    for report in &device.reports {
        let mut end = 0;
        for field in &report.fields {
            assert_eq!(field.bit_offset, end, "fields follow each other");
            assert!(field.element_bits > 0 && field.count > 0);
            assert!(field.collection.is_none_or(|place| place < device.collections.len()));
            end += field.bits();
        }
        assert_eq!(report.bits, end);
        assert!(end <= MOST_REPORT_BITS);
        all += end;
    }
    assert!(all <= MOST_DEVICE_BITS);
    listed(device);
    for report in device.reports.iter().take(4) {
        let decoded = device.decode(report.kind, report.id, data).expect("it is declared");
        for value in &decoded.values {
            let field = &report.fields[value.field];
            let inside = field.logical.holds(value.logical);
            assert_eq!(inside, value.standing == Standing::Inside);
            assert!(value.logical.unsigned_abs() < 1 << 32 && !field.flags.constant());
            assert!(
                value.element < field.count
                    && (inside || !field.is_array() || value.usage.is_none())
            );
        }
    }
    if let Some(mut pad) = RawPad::new(device, "", 0) {
        for id in device.reports.iter().map(|report| report.id).take(4) {
            pad.take(id, data, 1.0);
        }
        let state = pad.state();
        assert!(state.axes.iter().all(|value| value.is_finite()));
        assert!(state.buttons.iter().all(|value| (0.0..=1.0).contains(value)));
    }
    Came::Measured
}

fn listed(device: &HidDevice) {
    let bits = |id: u8| device.report(ReportKind::Input, id).expect("it is declared").bits;
    for axis in &device.axes {
        assert!(axis.bit_offset + axis.bits <= bits(axis.report_id));
        assert!(axis.usage.is_axis() && axis.centre().is_finite());
        assert!(axis.step().is_none_or(|step| step > 0.0));
    }
    for hat in &device.hats {
        assert!(hat.bit_offset + hat.bits <= bits(hat.report_id));
        for value in [hat.logical.min, hat.logical.max, 0, -1, 1 << 32] {
            assert!(hat.degrees(value).is_none_or(f64::is_finite));
            let (across, along) = hat.pushes(value);
            assert!([across, along].iter().all(|push| [-1.0, 0.0, 1.0].contains(push)));
        }
    }
    for button in &device.buttons {
        let end = match button.place {
            ButtonPlace::Bits { bit_offset, bits, .. } => bit_offset + bits,
            ButtonPlace::Array { bit_offset, element_bits, count, .. } => {
                bit_offset + element_bits * count
            }
        };
        assert!(end <= bits(button.report_id));
    }
    let lengths = [device.axes.len(), device.hats.len(), device.buttons.len()];
    assert!(lengths.iter().all(|length| *length <= MOST_LISTED));
}

/// Bytes to make something of; 0 behind their end.
type Rest<'a> = std::iter::Copied<std::slice::Iter<'a, u8>>;

fn next(rest: &mut Rest<'_>) -> u8 {
    rest.next().unwrap_or(0)
}

fn number(rest: &mut Rest<'_>) -> u32 {
    let one = next(rest);
    // Most numbers are small, as in true ones.
    if one < 200 { u32::from(one) } else { u32::from_le_bytes([0; 4].map(|_| next(rest))) }
}

fn told(rest: &mut Rest<'_>, depth: u8) -> CollectionInfo {
    let reports = |rest: &mut Rest<'_>| {
        (0..next(rest) % 3)
            .map(|_| ReportInfo {
                report_id: next(rest) % 4,
                items: (0..next(rest) % 6).map(|_| item(rest)).collect(),
            })
            .collect::<Vec<_>>()
    };
    let input_reports = reports(rest);
    let output_reports = reports(rest);
    let inner = if depth < 40 { next(rest) % 3 } else { 0 };
    let mut children: Vec<CollectionInfo> = Vec::new();
    for _ in 0..inner {
        let mut child = told(rest, depth + 1);
        if next(rest).is_multiple_of(2) {
            // As browsers do: what is inside stands outside as well.
            child.input_reports.clone_from(&input_reports);
        }
        children.push(child);
    }
    CollectionInfo {
        usage_page: u16::from(next(rest) % 13),
        usage: u16::from(next(rest) % 64),
        kind: next(rest),
        children,
        input_reports,
        output_reports,
        ..CollectionInfo::default()
    }
}

fn item(rest: &mut Rest<'_>) -> ItemInfo {
    let flags = next(rest);
    let flag = |place: u8| flags >> place & 1 == 1;
    let pages = [0x1_0000_u32, 0x2_0000, 0x9_0000, 0x7_0000];
    let page = pages[usize::from(next(rest) % 4)];
    let usages = (0..next(rest) % 4).map(|_| page | number(rest)).collect();
    let (usage_minimum, usage_maximum) = (page | number(rest), page | number(rest));
    ItemInfo {
        is_absolute: flag(0),
        is_array: flag(1),
        is_constant: flag(2) && flag(3),
        has_null: flag(4),
        is_range: flag(5) && usage_minimum <= usage_maximum,
        usages,
        usage_minimum,
        usage_maximum,
        report_size: number(rest) % 40,
        report_count: number(rest),
        unit_exponent: next(rest).cast_signed(),
        unit_factor_length_exponent: next(rest).cast_signed(),
        logical_minimum: number(rest).cast_signed(),
        logical_maximum: number(rest).cast_signed(),
        physical_maximum: number(rest).cast_signed(),
        ..ItemInfo::default()
    }
}

/// Makes inputs: random ones, and good descriptors with changes.
#[derive(Clone, Debug)]
pub struct Maker {
    good: Vec<Vec<u8>>,
    chance: Chance,
}

/// First bytes of items, with and without data, and what stands at the edges of numbers.
const ODD: [u8; 32] = [
    0x00, 0x01, 0x7F, 0x80, 0x81, 0xFF, 0xFE, 0x05, 0x09, 0x0B, 0x15, 0x17, 0x19, 0x1B, 0x25, 0x27,
    0x29, 0x2B, 0x35, 0x45, 0x55, 0x65, 0x75, 0x85, 0x91, 0x95, 0x97, 0xA1, 0xA4, 0xA9, 0xB4, 0xC0,
];

impl Maker {
    /// Begins with the good descriptors of `tests/vectors/hid/descriptors.json`.
    ///
    /// # Panics
    /// Where they cannot be read.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        let vectors = vector("hid/descriptors");
        let all = vectors["descriptors"].as_object().expect("descriptors");
        let bytes = |one: &serde_json::Value| text::bytes(one["bytes"].as_str().unwrap_or(""));
        let good = all.values().map(|one| bytes(one).expect("hexadecimal")).collect();
        Self { good, chance: Chance(seed) }
    }

    /// The next input for [`descriptors`].
    pub fn make(&mut self) -> Vec<u8> {
        let chance = &mut self.chance;
        let way = chance.below(8);
        if way == 0 {
            // Anything at all, in all three ways.
            let long = chance.below(300);
            return (0..=long).map(|_| chance.below(256) as u8).collect();
        }
        if way == 1 {
            // Items one after the other, with data of their own length.
            let mut data = vec![0];
            for _ in 0..chance.below(60) {
                let prefix = ODD[chance.below(ODD.len())];
                data.push(prefix);
                let long = [0, 1, 2, 4][usize::from(prefix & 3)];
                let low = chance.below(3) > 0;
                let least = if low { 16 } else { 256 };
                data.extend((0..long).map(|_| chance.below(least) as u8));
            }
            return data;
        }
        if way == 2 {
            let mut data: Vec<u8> = (0..200).map(|_| chance.below(256) as u8).collect();
            data[0] = 2;
            return data;
        }
        let mut data = self.good[chance.below(self.good.len())].clone();
        for _ in 0..chance.below(5) {
            self.change(&mut data);
        }
        if way == 3 { self.dressed(&data) } else { [&[0], &data[..]].concat() }
    }

    fn change(&mut self, data: &mut Vec<u8>) {
        let chance = &mut self.chance;
        let at = chance.below(data.len());
        match chance.below(8) {
            0 | 1 => {
                if let Some(byte) = data.get_mut(at) {
                    *byte = chance.below(256) as u8;
                }
            }
            2 => {
                if let Some(byte) = data.get_mut(at) {
                    *byte = ODD[chance.below(ODD.len())];
                }
            }
            3 => data.insert(at.min(data.len()), ODD[chance.below(ODD.len())]),
            4 => {
                let end = (at + chance.below(12)).min(data.len());
                data.drain(at.min(end)..end);
            }
            5 if chance.below(4) == 0 => data.truncate(at),
            6 if chance.below(4) == 0 => {
                // A piece many times over: as deep, as many and as long as can be.
                let end = (at + 1 + chance.below(40)).min(data.len());
                let piece = data[at.min(end)..end].repeat(chance.below(120));
                data.splice(at.min(end)..at.min(end), piece);
            }
            _ => {
                let other = &self.good[chance.below(self.good.len())];
                let from = chance.below(other.len());
                let to = (from + chance.below(40)).min(other.len());
                data.splice(at..at, other[from..to].iter().copied());
            }
        }
    }

    /// As pasted text, with a change or two of its letters.
    fn dressed(&mut self, data: &[u8]) -> Vec<u8> {
        let chance = &mut self.chance;
        let dress = chance.below(5);
        let mut text = String::from(if dress == 0 { "const char d[] = {\n" } else { "" });
        for (place, byte) in data.iter().enumerate() {
            text += &match dress {
                0 => format!("0x{byte:02X}, // {place}\n"),
                1 => format!("{byte:02x} "),
                2 => format!("0x{byte:x},"),
                3 => format!("/* {place} */ {byte:02X}h"),
                _ => format!("{byte:02x}"),
            };
        }
        text += if dress == 0 { "};" } else { "" };
        let mut text = text.into_bytes();
        const LETTERS: &[u8] = b"0xX,/*#{};: \n\\gF7\xC3\xA4";
        for _ in 0..chance.below(4) {
            let at = chance.below(text.len());
            let letter = LETTERS[chance.below(LETTERS.len())];
            match (text.get_mut(at), chance.below(2)) {
                (Some(byte), 0) => *byte = letter,
                _ => text.insert(at.min(text.len()), letter),
            }
        }
        text.insert(0, 1);
        text
    }
}
