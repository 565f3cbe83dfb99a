//! A report taken apart.

use super::{Field, HidDevice, LogicalRange, MOST_VALUE_BITS, ReportKind, Usage};

/// What one report says.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Decoded {
    /// One value for each element of each field, padding and fields wider than
    /// [`super::MOST_VALUE_BITS`] left out.
    pub values: Vec<Value>,
    /// Whether the report was shorter than declared; elements beyond its end are left out.
    pub cut_short: bool,
}

/// The value of one element.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Value {
    /// The place of its field in the report's fields.
    pub field: usize,
    /// Its place in the field.
    pub element: u32,
    /// Of a variable field: what the element is for. Of an array: the usage that its number names.
    /// `None` where the device declares none.
    pub usage: Option<Usage>,
    /// The number, with its sign.
    pub logical: i64,
    /// Whether the number means something.
    pub standing: Standing,
}

/// Whether a number lies in its field's range.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// It does.
    Inside,
    /// It does not, and the device said that this means nothing is reported; in an array it always
    /// means that (HID 1.11, 6.2.2.5).
    Null,
    /// It does not, and the device said nothing about that.
    Outside,
}

impl HidDevice {
    /// Takes a report apart. `data` is the report **without** its number, as `WebHID` gives it
    /// (`HIDInputReportEvent.data`); [`HidDevice::part`] parts what comes on the wire. `id` is its
    /// number, 0 where the device numbers none. Bytes beyond the declared length are passed over.
    ///
    /// `None` where no such report is declared.
    #[must_use]
    pub fn decode(&self, kind: ReportKind, id: u8, data: &[u8]) -> Option<Decoded> {
        let report = self.report(kind, id)?;
        let mut decoded =
            Decoded { cut_short: data.len() < report.bytes() as usize, ..Decoded::default() };
        for (place, field) in report.fields.iter().enumerate() {
            if field.flags.constant() || field.element_bits > MOST_VALUE_BITS {
                continue;
            }
            for element in 0..field.count {
                let Some(bits) = bits(data, field.element_at(element), field.element_bits) else {
                    break;
                };
                decoded.values.push(value(field, place, element, bits));
            }
        }
        Some(decoded)
    }
}

fn value(field: &Field, place: usize, element: u32, bits: u32) -> Value {
    let logical = number(bits, field.element_bits, field.logical);
    let inside = field.logical.holds(logical);
    let (usage, standing) = if field.is_array() {
        // Numbers name usages in order, from the least one on (HID 1.11, 6.2.2.5).
        let named = logical.checked_sub(field.logical.min).filter(|_| inside);
        let named = named.and_then(|number| field.usages.nth(u32::try_from(number).ok()?));
        (named, if inside { Standing::Inside } else { Standing::Null })
    } else {
        let standing = match (inside, field.flags.null_state()) {
            (true, _) => Standing::Inside,
            (false, true) => Standing::Null,
            (false, false) => Standing::Outside,
        };
        (field.usages.for_element(element), standing)
    };
    Value { field: place, element, usage, logical, standing }
}

/// So many bits, at most 32, from this bit on: the lowest bit of a byte is its first, and the first
/// byte holds the lowest bits. `None` where the data end before.
pub(super) fn bits(data: &[u8], from: u32, count: u32) -> Option<u32> {
    let first = (from / 8) as usize;
    let last = (from.checked_add(count)?.checked_sub(1)? / 8) as usize;
    let bytes = data.get(first..=last)?;
    // Five bytes at most.
    let all = bytes.iter().take(5).rev().fold(0_u64, |sum, byte| (sum << 8) | u64::from(*byte));
    Some(((all >> (from % 8)) & ((1_u64 << count.min(32)) - 1)) as u32)
}

/// The bits as a number: two's complement where the range goes below 0.
pub(super) fn number(bits: u32, count: u32, range: LogicalRange) -> i64 {
    let number = i64::from(bits);
    let top = 1_i64 << (count.clamp(1, 32) - 1);
    if range.signed() && number & top != 0 { number - 2 * top } else { number }
}
