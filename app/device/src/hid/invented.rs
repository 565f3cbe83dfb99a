//! Invented devices for tests: a plan, the bytes it makes, the collections a browser would tell of
//! it, and the reports it means, each worked out on its own.

use super::collections::{CollectionInfo, ItemInfo, ReportInfo, UnitSystemInfo};
use super::field::half_byte;
use super::{
    Collection, CollectionKind, Field, FieldFlags, LogicalRange, Report, ReportKind, Unit, Usage,
    UsageRange,
};
use proptest::prelude::*;

#[derive(Clone, Debug)]
pub(super) enum Node {
    Field(Planned),
    Group(u8, Usage, Vec<Node>),
}

#[derive(Clone, Debug)]
pub(super) struct Planned {
    kind: ReportKind,
    id: u8,
    flags: u32,
    usages: Usages,
    logical: (i32, i32),
    physical: (i32, i32),
    unit: (u32, i8),
    size: u32,
    count: u32,
    /// Write usages with four bytes.
    long_usages: bool,
    /// Write numbers longer than needed.
    long_numbers: bool,
    /// Write what is said for this field only between a push and a pop.
    pushed: bool,
    /// Put a long item and a reserved one in front.
    odd: bool,
}

#[derive(Clone, Debug)]
enum Usages {
    Single(Vec<Usage>),
    Range(Usage, Usage),
}

fn usage() -> impl Strategy<Value = Usage> {
    prop_oneof![
        (0x30..0x3A_u16).prop_map(|n| Usage::new(1, n)),
        (0xB0..0xD1_u16).prop_map(|n| Usage::new(2, n)),
        (0..40_u16).prop_map(|n| Usage::new(9, n)),
        any::<u32>().prop_map(Usage),
    ]
}

fn usages() -> impl Strategy<Value = Usages> {
    prop_oneof![
        proptest::collection::vec(usage(), 0..6).prop_map(Usages::Single),
        (any::<u16>(), any::<u16>(), any::<u16>())
            .prop_map(|(page, a, b)| (Usage::new(page, a.min(b)), Usage::new(page, a.max(b))))
            .prop_map(|(first, last)| Usages::Range(first, last)),
        (0..3_u16, 1..40_u16)
            .prop_map(|(first, last)| Usages::Range(Usage::new(9, first), Usage::new(9, last + 2))),
    ]
}

fn ends() -> impl Strategy<Value = (i32, i32)> {
    prop_oneof![
        Just((0, 1)),
        Just((0, 255)),
        Just((-127, 127)),
        Just((0, 65_535)),
        Just((-32_768, 32_767)),
        Just((0, 0)),
        (any::<i32>(), any::<i32>()).prop_map(|(a, b)| (a.min(b), a.max(b))),
        (-300..300_i32, 0..70_000_i32).prop_map(|(min, span)| (min, min + span)),
    ]
}

fn field() -> impl Strategy<Value = Planned> {
    let kind = prop_oneof![
        4 => Just(ReportKind::Input),
        1 => Just(ReportKind::Output),
        1 => Just(ReportKind::Feature),
    ];
    let flags = prop_oneof![Just(2_u32), Just(0), Just(1), Just(3), Just(0x42), 0..512_u32];
    let codes = (0..0x0100_0000_u32, prop_oneof![0..6_u32, Just(15)]);
    // The highest half-byte is reserved, and the interface tells nothing of it.
    let unit = (codes.prop_map(|(powers, system)| powers << 4 | system), -8..8_i8);
    let shape = (1..33_u32, 1..5_u32);
    let dress = (any::<bool>(), any::<bool>(), any::<bool>(), any::<bool>());
    (kind, 1..4_u8, flags, usages(), ends(), ends(), prop_oneof![Just((0, 0)), unit], shape, dress)
        .prop_map(|(kind, id, flags, usages, logical, physical, unit, shape, dress)| Planned {
            kind,
            id,
            flags,
            usages,
            logical,
            physical,
            unit,
            size: shape.0,
            count: shape.1,
            long_usages: dress.0,
            long_numbers: dress.1,
            pushed: dress.2,
            odd: dress.3,
        })
}

/// Outermost collections with fields and collections inside; `numbered` of the second.
pub(super) fn plan() -> impl Strategy<Value = (Vec<Node>, bool)> {
    let node = field().prop_map(Node::Field).prop_recursive(3, 20, 5, |inner| {
        let kind = prop_oneof![Just(0_u8), Just(2), Just(3), Just(0x80)];
        (kind, usage(), proptest::collection::vec(inner, 0..5))
            .prop_map(|(kind, usage, nodes)| Node::Group(kind, usage, nodes))
    });
    let top = (usage(), field(), proptest::collection::vec(node, 0..6)).prop_map(
        |(usage, first, mut nodes)| {
            nodes.push(Node::Field(first));
            Node::Group(1, usage, nodes)
        },
    );
    (proptest::collection::vec(top, 1..4), any::<bool>())
}

impl Planned {
    fn number(&self, numbered: bool) -> u8 {
        if numbered { self.id } else { 0 }
    }

    fn ranges(&self) -> Vec<UsageRange> {
        match &self.usages {
            Usages::Single(usages) => {
                usages.iter().map(|u| UsageRange { first: *u, last: *u }).collect()
            }
            Usages::Range(first, last) => vec![UsageRange { first: *first, last: *last }],
        }
    }

    fn means(&self, bit_offset: u32, collection: usize) -> Field {
        let range =
            |(min, max): (i32, i32)| LogicalRange { min: i64::from(min), max: i64::from(max) };
        let physical = if self.physical == (0, 0) { self.logical } else { self.physical };
        Field {
            bit_offset,
            element_bits: self.size,
            count: self.count,
            flags: FieldFlags(self.flags),
            usages: self.ranges().into_iter().collect(),
            logical: range(self.logical),
            physical: range(physical),
            unit: Unit { code: self.unit.0, exponent: self.unit.1 },
            collection: Some(collection),
        }
    }

    fn info(&self) -> ItemInfo {
        let flag = |bit: u32| self.flags >> bit & 1 == 1;
        let power = |place: u32| half_byte(self.unit.0 >> (4 * place));
        let (usage_minimum, usage_maximum, is_range) = match self.usages {
            Usages::Range(first, last) => (first.0, last.0, true),
            Usages::Single(_) => (0, 0, false),
        };
        ItemInfo {
            is_constant: flag(0),
            is_array: !flag(1),
            is_absolute: !flag(2),
            wrap: flag(3),
            is_linear: !flag(4),
            has_preferred_state: !flag(5),
            has_null: flag(6),
            is_volatile: flag(7),
            is_buffered_bytes: flag(8),
            is_range,
            usages: match &self.usages {
                Usages::Single(usages) => usages.iter().map(|u| u.0).collect(),
                Usages::Range(..) => vec![],
            },
            usage_minimum,
            usage_maximum,
            report_size: self.size,
            report_count: self.count,
            unit_exponent: self.unit.1,
            unit_system: match self.unit.0 & 15 {
                0 => UnitSystemInfo::None,
                1 => UnitSystemInfo::SiLinear,
                2 => UnitSystemInfo::SiRotation,
                3 => UnitSystemInfo::EnglishLinear,
                4 => UnitSystemInfo::EnglishRotation,
                15 => UnitSystemInfo::VendorDefined,
                _ => UnitSystemInfo::Reserved,
            },
            unit_factor_length_exponent: power(1),
            unit_factor_mass_exponent: power(2),
            unit_factor_time_exponent: power(3),
            unit_factor_temperature_exponent: power(4),
            unit_factor_current_exponent: power(5),
            unit_factor_luminous_intensity_exponent: power(6),
            logical_minimum: self.logical.0,
            logical_maximum: self.logical.1,
            physical_minimum: self.physical.0,
            physical_maximum: self.physical.1,
        }
    }

    fn write(&self, numbered: bool, out: &mut Vec<u8>) {
        if self.odd {
            out.extend([0xFE, 2, 0xF0, 0xA1, 0xC0, 0xF4]);
        }
        if self.pushed {
            out.push(0xA4);
        }
        let long = self.long_numbers;
        for (tags, (min, max)) in [([0x14, 0x24], self.logical), ([0x34, 0x44], self.physical)] {
            signed(tags[0], min, long, out);
            if min < 0 {
                signed(tags[1], max, long, out);
            } else {
                unsigned(tags[1], max.cast_unsigned(), long, out);
            }
        }
        out.extend([0x55, self.unit.1.cast_unsigned() & 15]);
        unsigned(0x64, self.unit.0, long, out);
        unsigned(0x74, self.size, long, out);
        unsigned(0x94, self.count, long, out);
        if numbered {
            unsigned(0x84, u32::from(self.id), long, out);
        }
        let page = match &self.usages {
            Usages::Single(usages) => usages.last().map_or(7, |usage| usage.page()),
            Usages::Range(first, _) => first.page(),
        };
        unsigned(0x04, u32::from(page), false, out);
        let mut one = |tag: u8, usage: Usage| {
            if self.long_usages || usage.page() != page {
                out.push(tag | 3);
                out.extend(usage.0.to_le_bytes());
            } else {
                unsigned(tag, u32::from(usage.number()), false, out);
            }
        };
        match &self.usages {
            Usages::Single(usages) => usages.iter().for_each(|usage| one(0x08, *usage)),
            Usages::Range(first, last) => {
                one(0x18, *first);
                one(0x28, *last);
            }
        }
        let tag = match self.kind {
            ReportKind::Input => 0x80,
            ReportKind::Output => 0x90,
            ReportKind::Feature => 0xB0,
        };
        unsigned(tag, self.flags, false, out);
        if self.pushed {
            out.push(0xB4);
        }
    }
}

fn signed(tag: u8, value: i32, long: bool, out: &mut Vec<u8>) {
    if let (Ok(byte), false) = (i8::try_from(value), long) {
        out.extend([tag | 1, byte.cast_unsigned()]);
    } else if let (Ok(short), false) = (i16::try_from(value), long) {
        out.push(tag | 2);
        out.extend(short.to_le_bytes());
    } else {
        out.push(tag | 3);
        out.extend(value.to_le_bytes());
    }
}

fn unsigned(tag: u8, value: u32, long: bool, out: &mut Vec<u8>) {
    match value {
        0 if !long => out.push(tag),
        0..=0xFF if !long => out.extend([tag | 1, value as u8]),
        0..=0xFFFF if !long => {
            out.push(tag | 2);
            out.extend((value as u16).to_le_bytes());
        }
        _ => {
            out.push(tag | 3);
            out.extend(value.to_le_bytes());
        }
    }
}

pub(super) fn bytes(nodes: &[Node], numbered: bool) -> Vec<u8> {
    let mut out = Vec::new();
    write(nodes, numbered, &mut out);
    out
}

fn write(nodes: &[Node], numbered: bool, out: &mut Vec<u8>) {
    for node in nodes {
        match node {
            Node::Field(field) => field.write(numbered, out),
            Node::Group(kind, usage, inner) => {
                unsigned(0x04, u32::from(usage.page()), false, out);
                unsigned(0x08, u32::from(usage.number()), false, out);
                out.extend([0xA1, *kind]);
                write(inner, numbered, out);
                out.push(0xC0);
            }
        }
    }
}

/// What a browser tells: inner items stand in the outer collections, too.
pub(super) fn told(nodes: &[Node], numbered: bool) -> Vec<CollectionInfo> {
    nodes.iter().filter_map(|node| group(node, numbered)).collect()
}

fn group(node: &Node, numbered: bool) -> Option<CollectionInfo> {
    let Node::Group(kind, usage, inner) = node else { return None };
    let mut info = CollectionInfo {
        usage_page: usage.page(),
        usage: usage.number(),
        kind: *kind,
        children: told(inner, numbered),
        ..CollectionInfo::default()
    };
    items(inner, numbered, &mut info);
    Some(info)
}

fn items(nodes: &[Node], numbered: bool, info: &mut CollectionInfo) {
    for node in nodes {
        match node {
            Node::Group(_, _, inner) => items(inner, numbered, info),
            Node::Field(field) => {
                let reports = match field.kind {
                    ReportKind::Input => &mut info.input_reports,
                    ReportKind::Output => &mut info.output_reports,
                    ReportKind::Feature => &mut info.feature_reports,
                };
                let report_id = field.number(numbered);
                let item = field.info();
                match reports.iter_mut().find(|report| report.report_id == report_id) {
                    Some(report) => report.items.push(item),
                    None => reports.push(ReportInfo { report_id, items: vec![item] }),
                }
            }
        }
    }
}

/// The collections and reports that the plan means.
pub(super) fn meant(nodes: &[Node], numbered: bool) -> (Vec<Collection>, Vec<Report>) {
    let (mut collections, mut reports) = (Vec::new(), Vec::new());
    walk(nodes, None, numbered, &mut collections, &mut reports);
    (collections, reports)
}

fn walk(
    nodes: &[Node],
    parent: Option<usize>,
    numbered: bool,
    collections: &mut Vec<Collection>,
    reports: &mut Vec<Report>,
) {
    for node in nodes {
        match node {
            Node::Group(kind, usage, inner) => {
                let place = collections.len();
                let kind = CollectionKind::of(*kind);
                collections.push(Collection { kind, usage: *usage, parent });
                walk(inner, Some(place), numbered, collections, reports);
            }
            Node::Field(field) => {
                let (kind, id) = (field.kind, field.number(numbered));
                let place = reports.iter().position(|r: &Report| (r.kind, r.id) == (kind, id));
                let place = place.unwrap_or_else(|| {
                    reports.push(Report { kind, id, bits: 0, fields: vec![] });
                    reports.len() - 1
                });
                let report = &mut reports[place];
                report.fields.push(field.means(report.bits, parent.unwrap_or(0)));
                report.bits += field.size * field.count;
            }
        }
    }
}
