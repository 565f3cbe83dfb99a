use super::invented::{bytes, meant, plan, told};
use super::*;
use crate::hid::usage::{GAME_PAD, JOYSTICK, X, Y};
use proptest::prelude::*;

/// Two axes of 8 bits and two buttons, without a collection's end: to be finished by a test.
const STICK: [u8; 42] = [
    0x05, 0x01, 0x09, 0x04, 0xA1, 0x01, 0x09, 0x30, 0x09, 0x31, 0x15, 0x00, 0x26, 0xFF, 0x00, 0x75,
    0x08, 0x95, 0x02, 0x81, 0x02, 0x05, 0x09, 0x19, 0x01, 0x29, 0x02, 0x25, 0x01, 0x75, 0x01, 0x95,
    0x02, 0x81, 0x02, 0x75, 0x06, 0x95, 0x01, 0x81, 0x01, 0xC0,
];

fn fault(bytes: &[u8]) -> (usize, DescriptorFault) {
    let error = read(bytes).expect_err("it is refused");
    (error.at, error.what)
}

/// The stick with something put in front of its first field's own items.
fn with(extra: &[u8]) -> Vec<u8> {
    [&STICK[..6], extra, &STICK[6..]].concat()
}

#[test]
fn a_plain_stick_by_hand() {
    let device = read(&STICK).unwrap();
    assert_eq!(device.applications().collect::<Vec<_>>(), [JOYSTICK]);
    assert!(!device.numbered() && device.remarks.is_empty());
    let report = device.report(ReportKind::Input, 0).unwrap();
    assert_eq!((report.bits, report.bytes(), report.fields.len()), (24, 3, 3));
    let axes: Vec<_> = device.axes.iter().map(|a| (a.usage, a.bit_offset, a.bits)).collect();
    assert_eq!(axes, [(X, 0, 8), (Y, 8, 8)]);
    assert_eq!(device.axes[0].logical, LogicalRange { min: 0, max: 255 });
    assert_eq!(device.axes[0].centre(), 127.5);
    assert_eq!(device.axes[0].step(), Some(2.0 / 255.0));
    assert_eq!(device.axes[0].application, Some(JOYSTICK));
    assert_eq!(device.buttons.len(), 2);
    let decoded = device.decode(ReportKind::Input, 0, &[200, 3, 0b10]).unwrap();
    let numbers: Vec<_> = decoded.values.iter().map(|value| value.logical).collect();
    assert_eq!(numbers, [200, 3, 0, 1]);
    assert!(!decoded.cut_short);
    let short = device.decode(ReportKind::Input, 0, &[200]).unwrap();
    assert!(short.cut_short && short.values.len() == 1);
    assert_eq!(device.decode(ReportKind::Input, 1, &[200]), None);
}

#[test]
fn each_fault_is_named_with_its_place() {
    use DescriptorFault as F;
    assert_eq!(fault(&[]), (0, F::Empty));
    assert_eq!(fault(&[0; MOST_DESCRIPTOR_BYTES + 1]), (MOST_DESCRIPTOR_BYTES + 1, F::TooLong));
    assert_eq!(fault(&STICK[..4]), (4, F::NoReport));
    assert_eq!(fault(&STICK[..13]), (12, F::CutShort));
    assert_eq!(fault(&STICK[..41]), (41, F::NeverClosed));
    assert_eq!(fault(&[&STICK[..], &[0xC0]].concat()), (42, F::NothingToClose));
    assert_eq!(fault(&with(&[0xB4])), (6, F::NothingToPop));
    assert_eq!(fault(&with(&[0xA4; MOST_PUSHED + 1])), (6 + MOST_PUSHED, F::TooManyPushed));
    assert_eq!(fault(&[0xA0; MOST_DEPTH + 1]), (MOST_DEPTH, F::TooDeep));
    let many = [0xA0, 0xC0].repeat(MOST_COLLECTIONS + 1);
    assert_eq!(fault(&many), (2 * MOST_COLLECTIONS, F::TooManyCollections));
    assert_eq!(fault(&with(&[0x85, 0])), (6, F::ReportNumberZero));
    assert_eq!(fault(&with(&[0x86, 0, 1])), (6, F::ReportNumberTooLarge));
    assert_eq!(fault(&with(&[0x07, 0, 0, 1, 0])), (6, F::PageTooLarge));
    assert_eq!(fault(&with(&[0x29, 1, 0x19, 2, 0x80])), (10, F::RangeBackwards));
    let across = [0x1B, 1, 0, 9, 0, 0x2B, 2, 0, 10, 0, 0x80];
    assert_eq!(fault(&with(&across)), (16, F::RangeAcrossPages));
    assert_eq!(fault(&with(&[0xA9, 1, 0xA9, 1])), (8, F::AlternativesInAlternatives));
    assert_eq!(fault(&with(&[0xA9, 0])), (6, F::NoAlternativesOpen));
    assert_eq!(fault(&with(&[0xA9, 1, 0x09, 0x30, 0x80])), (10, F::AlternativesLeftOpen));
    // A field of 257 bits; one of four thousand million elements of as many bits.
    assert_eq!(fault(&[0x76, 1, 1, 0x95, 1, 0x81, 2]), (5, F::FieldTooWide));
    let absurd = [0x77, 255, 255, 255, 255, 0x97, 255, 255, 255, 255, 0x81, 2];
    assert_eq!(fault(&absurd), (10, F::ReportTooLong));
    let fields = [&[0x75, 1, 0x95, 1][..], &[0x80; MOST_FIELDS + 1]].concat();
    assert_eq!(fault(&fields), (4 + MOST_FIELDS, F::TooManyFields));
    let report = |id: u8, main: u8| [0x85, id, main];
    let reports: Vec<u8> =
        (1..=255).flat_map(|id| [report(id, 0x80), report(id, 0x90)].concat()).collect();
    let reports = [&[0x75, 1, 0x95, 1][..], &reports].concat();
    assert_eq!(fault(&reports), (4 + 3 * MOST_REPORTS + 2, F::TooManyReports));
}

#[test]
fn all_reports_together_are_bounded() {
    let head = [0x75, 32, 0x96, 0x00, 0x10];
    let long: Vec<u8> = (1..=16).flat_map(|id| [0x85, id, 0x80]).collect();
    assert!(read(&[&head[..], &long].concat()).is_ok());
    let more = [&head[..], &long, &[0x85, 17, 0x80]].concat();
    assert_eq!(fault(&more), (5 + 3 * 16 + 2, DescriptorFault::ReportTooLong));
}

#[test]
fn what_is_odd_is_remarked_and_passed_over() {
    let remarks = |extra: &[u8]| {
        let device = read(&with(extra)).unwrap();
        assert_eq!(device.axes.len(), 2, "{extra:x?}");
        device.remarks
    };
    let one = |at, what| vec![Remark { at, what }];
    assert_eq!(remarks(&[0xFE, 1, 0xF0, 0xC0]), one(6, RemarkKind::LongItem));
    for reserved in [0xF1, 0xC5, 0xB9, 0x1D] {
        assert_eq!(remarks(&[reserved, 7]), one(6, RemarkKind::ReservedItem), "{reserved:x}");
    }
    assert_eq!(remarks(&[0x75, 0, 0x80]), one(8, RemarkKind::EmptyField));
    assert_eq!(remarks(&[0xA4]), one(STICK.len() + 1, RemarkKind::NeverPopped));
    assert_eq!(remarks(&[0x19, 1, 0x75, 8, 0x95, 1, 0x81, 1]), one(12, RemarkKind::HalfRange));
    let wide = read(&with(&[0x75, 64, 0x95, 1, 0x81, 2])).unwrap();
    assert_eq!(wide.remarks, one(10, RemarkKind::WideField));
    let values = wide.decode(ReportKind::Input, 0, &[9; 11]).unwrap().values;
    assert_eq!(values.len(), 4, "two axes and two buttons, not the wide one");
    assert_eq!(wide.axes[0].bit_offset, 64);
    let mixed = with(&[0x75, 8, 0x95, 1, 0x81, 1, 0x85, 3]);
    assert_eq!(read(&mixed).unwrap().remarks, one(0, RemarkKind::NumbersMixed));
    let bare = [0x75, 8, 0x95, 1, 0x15, 5, 0x25, 4, 0x81, 2];
    let kinds: Vec<_> = read(&bare).unwrap().remarks.iter().map(|r| r.what).collect();
    assert_eq!(kinds, [RemarkKind::NoRange, RemarkKind::OutsideCollections]);
}

#[test]
fn of_alternatives_the_first_counts() {
    // X or Rx, then Y.
    let either = [0xA9, 1, 0x09, 0x30, 0x09, 0x33, 0x19, 1, 0x29, 9, 0xA9, 0, 0x09, 0x31];
    let device = read(&[&STICK[..6], &either, &STICK[10..]].concat()).unwrap();
    assert_eq!(device.axes.iter().map(|axis| axis.usage).collect::<Vec<_>>(), [X, Y]);
    assert_eq!(device.remarks, [Remark { at: 16, what: RemarkKind::Alternatives }]);
}

/// HID 1.11, 6.2.2.8 (from memory): the page last said before the main item holds for all short
/// usages, those said before it included; a usage of four bytes keeps its own.
#[test]
fn short_usages_lie_on_the_page_that_holds_at_the_field() {
    let bytes = [
        0x05, 0x01, 0x09, 0x30, 0x0B, 0x31, 0x00, 0x01, 0x00, 0x05, 0x09, 0x75, 8, 0x95, 2, 0x81, 2,
    ];
    let field = read(&bytes).unwrap().reports.remove(0).fields.remove(0);
    let usages: Vec<_> = (0..2).filter_map(|place| field.usages.nth(place)).collect();
    assert_eq!(usages, [Usage(0x9_0030), Y]);
    // A short end of a range lies on the page of the other.
    let bytes = [0x05, 0x07, 0x1B, 1, 0, 9, 0, 0x29, 4, 0x75, 1, 0x95, 4, 0x25, 1, 0x81, 2];
    assert_eq!(read(&bytes).unwrap().buttons.len(), 4);
}

/// What is pushed comes back whole, the number of the report included; usages are not part of it.
#[test]
fn what_was_pushed_comes_back() {
    let bytes = [
        0x05, 0x01, 0x09, 0x04, 0xA1, 0x01, 0x85, 1, 0x15, 0x81, 0x25, 0x7F, 0x75, 8, 0x95, 1,
        0xA4, 0x85, 2, 0x05, 0x09, 0x14, 0x25, 1, 0x75, 1, 0x09, 0x30, 0xB4, 0x81, 2, 0xC0,
    ];
    let device = read(&bytes).unwrap();
    let axis = device.axes[0];
    assert_eq!((axis.report_id, axis.bits, axis.usage), (1, 8, X));
    assert_eq!(axis.logical, LogicalRange { min: -127, max: 127 });
    assert_eq!(device.reports.len(), 1);
}

#[test]
fn signs_follow_the_least_value_even_when_it_comes_later() {
    let range = |items: &[u8]| {
        let tail = [0x75, 8, 0x95, 1, 0x81, 2];
        let field = read(&[items, &tail].concat()).unwrap().reports.remove(0).fields.remove(0);
        (field.logical.min, field.logical.max)
    };
    assert_eq!(range(&[0x15, 0x00, 0x25, 0xFF]), (0, 255));
    assert_eq!(range(&[0x25, 0xFF, 0x15, 0x00]), (0, 255));
    assert_eq!(range(&[0x15, 0x81, 0x25, 0x7F]), (-127, 127));
    assert_eq!(range(&[0x25, 0xFF, 0x15, 0x80]), (-128, -1));
    assert_eq!(range(&[0x16, 0x00, 0x80, 0x26, 0xFF, 0x7F]), (-32_768, 32_767));
    assert_eq!(range(&[0x14, 0x27, 0xFF, 0xFF, 0xFF, 0xFF]), (0, 4_294_967_295));
}

#[test]
fn a_field_of_huge_range_is_read_at_once_and_listed_up_to_the_cap() {
    // 131,072 buttons of one bit named by all the 65,536 usages of the button page.
    let huge =
        [0x05, 0x09, 0x18, 0x2A, 0xFF, 0xFF, 0x14, 0x25, 1, 0x75, 1, 0x97, 0, 0, 2, 0, 0x81, 2];
    let device = read(&huge).unwrap();
    assert_eq!(device.buttons.len(), MOST_LISTED);
    assert!(device.remarks.iter().any(|remark| remark.what == RemarkKind::NotAllListed));
    let decoded = device.decode(ReportKind::Input, 0, &[0xFF; 16_384]).unwrap();
    assert_eq!(decoded.values.len(), 131_072);
    assert_eq!(decoded.values[131_071].usage, Some(Usage(0x9_FFFF)));
    // An array of it.
    let array =
        [0x05, 0x09, 0x18, 0x2A, 0xFF, 0xFF, 0x14, 0x26, 0xFF, 0xFF, 0x75, 16, 0x95, 2, 0x80];
    let device = read(&array).unwrap();
    let values = device.decode(ReportKind::Input, 0, &[0x34, 0x12, 0xFE, 0xFF]).unwrap().values;
    let usages: Vec<_> = values.iter().map(|value| value.usage).collect();
    assert_eq!(usages, [Some(Usage(0x9_1234)), Some(Usage(0x9_FFFE))]);
}

#[test]
fn units_and_their_powers() {
    // Newton is system 1, length 1, mass 1, time −2 (HID 1.11, 6.2.2.7, from memory).
    let unit = Unit { code: 0xE111, exponent: 5 };
    assert_eq!((unit.system(), unit.powers()), (UnitSystem::SiLinear, [1, 1, -2, 0, 0, 0]));
    assert!(Unit { code: 0x14, exponent: 0 }.is_degrees());
    assert!(!Unit { code: 0x12, exponent: 0 }.is_degrees());
    let exponent = |item: &[u8]| {
        let tail = [0x75, 8, 0x95, 1, 0x81, 2];
        read(&[item, &tail].concat()).unwrap().reports[0].fields[0].unit.exponent
    };
    let found: Vec<i8> = [[0x55, 0x0E], [0x55, 0x07], [0x55, 0x08], [0x55, 0xFE], [0x55, 0x99]]
        .iter()
        .map(|item| exponent(item))
        .collect();
    assert_eq!(found, [-2, 7, -8, -2, -8]);
}

#[test]
fn reports_on_the_wire_are_parted() {
    let plain = read(&STICK).unwrap();
    assert_eq!(plain.part(&[1, 2, 3]), Some((0, &[1, 2, 3][..])));
    let numbered = read(&with(&[0x85, 7])).unwrap();
    assert_eq!(numbered.part(&[7, 2, 3]), Some((7, &[2, 3][..])));
    assert_eq!((plain.part(&[]), numbered.part(&[])), (None, None));
    assert_ne!(plain.applications().next(), Some(GAME_PAD));
}

/// Writes numbers into a report, bit by bit.
fn encode(report: &Report, numbers: &[i64]) -> Vec<u8> {
    let mut data = vec![0_u8; report.bytes() as usize];
    let mut numbers = numbers.iter();
    for field in report.fields.iter().filter(|field| !field.flags.constant()) {
        for element in 0..field.count {
            let Some(number) = numbers.next() else { return data };
            for bit in 0..field.element_bits {
                let at = (field.element_at(element) + bit) as usize;
                data[at / 8] |= ((number >> bit & 1) as u8) << (at % 8);
            }
        }
    }
    data
}

proptest! {
    #[test]
    fn a_written_descriptor_reads_back((nodes, numbered) in plan()) {
        let written = bytes(&nodes, numbered);
        let device = read(&written).unwrap();
        let (collections, reports) = meant(&nodes, numbered);
        prop_assert_eq!(&device.collections, &collections);
        prop_assert_eq!(&device.reports, &reports);
    }

    #[test]
    fn numbers_come_back_from_a_report((nodes, numbered) in plan(), seed in any::<u64>()) {
        let device = read(&bytes(&nodes, numbered)).unwrap();
        let mut state = seed;
        for report in &device.reports {
            let mut numbers = Vec::new();
            for field in report.fields.iter().filter(|field| !field.flags.constant()) {
                for _ in 0..field.count {
                    state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
                    let bits = i64::from((state >> 32) as u32) & ((1 << field.element_bits) - 1);
                    let top = 1_i64 << (field.element_bits - 1);
                    let below = field.logical.min < 0 && bits >= top;
                    numbers.push(if below { bits - 2 * top } else { bits });
                }
            }
            let data = encode(report, &numbers);
            let decoded = device.decode(report.kind, report.id, &data).unwrap();
            let found: Vec<i64> = decoded.values.iter().map(|value| value.logical).collect();
            prop_assert_eq!(found, numbers);
            prop_assert!(!decoded.cut_short);
        }
    }

    #[test]
    fn what_a_browser_tells_gives_the_same_device((nodes, numbered) in plan()) {
        let from_bytes = read(&bytes(&nodes, numbered)).unwrap();
        let told = told(&nodes, numbered);
        let json = serde_json::to_string(&told).unwrap();
        let told: Vec<collections::CollectionInfo> = serde_json::from_str(&json).unwrap();
        let from_told = HidDevice::from_collections(&told).unwrap();
        prop_assert_eq!(&from_told.collections, &from_bytes.collections);
        // Two equal items may change collections: which of them is the inner one is not told.
        let plain = |device: &HidDevice| {
            let mut reports = device.reports.clone();
            reports.sort_by_key(|report| (report.kind, report.id));
            reports.iter_mut().flat_map(|r| &mut r.fields).for_each(|f| f.collection = None);
            let mut axes = device.axes.clone();
            axes.sort_by_key(|axis| (axis.report_id, axis.bit_offset));
            (reports, axes, device.hats.len(), device.buttons.len())
        };
        prop_assert_eq!(plain(&from_told), plain(&from_bytes));
        prop_assert!(from_told.remarks.iter().all(|r| r.what != RemarkKind::OrderUncertain));
    }

    /// Bytes of a good descriptor changed, cut and doubled: an answer, and whatever is read holds
    /// together.
    #[test]
    fn changed_descriptors_are_answered(
        (nodes, numbered) in plan(),
        changes in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 0..6),
        cut in proptest::option::of(any::<prop::sample::Index>()),
        data in proptest::collection::vec(any::<u8>(), 0..40),
    ) {
        let mut bytes = bytes(&nodes, numbered);
        for (place, byte) in changes {
            let place = place.index(bytes.len());
            bytes[place] = byte;
        }
        if let Some(cut) = cut {
            bytes.truncate(cut.index(bytes.len()));
        }
        match read(&bytes) {
            Err(error) => prop_assert!(error.at <= bytes.len()),
            Ok(device) => {
                for report in &device.reports {
                    let bits: u32 = report.fields.iter().map(Field::bits).sum();
                    prop_assert_eq!(bits, report.bits);
                    prop_assert!(device.decode(report.kind, report.id, &data).is_some());
                }
                if let Some(mut pad) = pad::RawPad::new(&device, "", 0) {
                    for id in 0..=255 {
                        pad.take(id, &data, 1.0);
                    }
                    prop_assert!(pad.state().axes.iter().all(|value| value.is_finite()));
                }
            }
        }
    }
}
