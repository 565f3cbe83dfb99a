//! Axes, hats and buttons among the fields of the input reports.

use super::usage::{BUTTON, GENERIC_DESKTOP, HAT_SWITCH, SIMULATION};
use super::{
    Field, HidDevice, LogicalRange, MOST_LISTED, MOST_VALUE_BITS, Report, ReportKind, Unit, Usage,
};

/// An axis: a number that says where something is, or how far it went.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Axis {
    /// The number of its report.
    pub report_id: u8,
    /// Its first bit, counted behind the report number.
    pub bit_offset: u32,
    /// Its length, bits.
    pub bits: u32,
    /// Which axis.
    pub usage: Usage,
    /// The application collection it lies in, if any.
    pub application: Option<Usage>,
    /// From which to which value it goes.
    pub logical: LogicalRange,
    /// What the ends stand for.
    pub physical: LogicalRange,
    /// In which unit.
    pub unit: Unit,
    /// Whether it tells a change since the last report instead of a place.
    pub relative: bool,
    /// Whether values outside the range say that nothing is reported.
    pub null_state: bool,
}

impl Axis {
    /// Half-way between its ends, logical; not a whole number where the count of values is even.
    #[must_use]
    pub fn centre(&self) -> f64 {
        self.logical.centre()
    }

    /// One step on the −1..1 scale of the Gamepad interface: 2 / (max − min). `None` without range.
    #[must_use]
    pub fn step(&self) -> Option<f64> {
        let span = self.logical.max - self.logical.min;
        (span > 0).then(|| 2.0 / span as f64)
    }
}

/// A hat switch: directions as numbers, clockwise from up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hat {
    /// The number of its report.
    pub report_id: u8,
    /// Its first bit, counted behind the report number.
    pub bit_offset: u32,
    /// Its length, bits.
    pub bits: u32,
    /// The application collection it lies in, if any.
    pub application: Option<Usage>,
    /// From which to which value it goes; anything else is the middle.
    pub logical: LogicalRange,
    /// What the ends stand for.
    pub physical: LogicalRange,
    /// In which unit.
    pub unit: Unit,
    /// Whether the device says that it has a middle.
    pub null_state: bool,
}

impl Hat {
    /// The direction of a value, degrees clockwise from up; `None` in the middle.
    ///
    /// By the physical range where it is given in degrees (HID 1.11, D.1: 0 to 3 stand for 0 to
    /// 270), else its directions are taken for evenly spread.
    #[must_use]
    pub fn degrees(&self, value: i64) -> Option<f64> {
        if !self.logical.holds(value) {
            return None;
        }
        let place = (value - self.logical.min) as f64;
        let span = (self.logical.max - self.logical.min) as f64;
        let physical = (self.physical.max - self.physical.min) as f64;
        if self.unit.is_degrees() && self.unit.exponent == 0 && physical > 0.0 && span > 0.0 {
            return Some(self.physical.min as f64 + place * physical / span);
        }
        Some(360.0 * place / (span + 1.0))
    }

    /// Where a value points, across and along, each −1, 0 or 1; up is −1 (observed, Chromium 156
    /// on Linux). Rounded to the nearest of eight directions.
    #[must_use]
    pub fn pushes(&self, value: i64) -> (f64, f64) {
        let Some(degrees) = self.degrees(value) else { return (0.0, 0.0) };
        const EIGHT: [(f64, f64); 8] = [
            (0.0, -1.0),
            (1.0, -1.0),
            (1.0, 0.0),
            (1.0, 1.0),
            (0.0, 1.0),
            (-1.0, 1.0),
            (-1.0, 0.0),
            (-1.0, -1.0),
        ];
        let eighth = (degrees / 45.0).round().rem_euclid(8.0) as usize;
        EIGHT.get(eighth).copied().unwrap_or((0.0, 0.0))
    }
}

/// A button.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Button {
    /// The number of its report.
    pub report_id: u8,
    /// Which button: on the button page the number of the usage is that of the button.
    pub usage: Usage,
    /// The application collection it lies in, if any.
    pub application: Option<Usage>,
    /// Where it is found.
    pub place: ButtonPlace,
}

/// Where a button is found in its report.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ButtonPlace {
    /// A number of its own, most often of one bit.
    Bits {
        /// Its first bit, counted behind the report number.
        bit_offset: u32,
        /// Its length, bits.
        bits: u32,
        /// Not pressed to pressed.
        logical: LogicalRange,
    },
    /// Named by one of these numbers while it is pressed.
    Array {
        /// The first bit of the first number.
        bit_offset: u32,
        /// The length of each.
        element_bits: u32,
        /// How many there are.
        count: u32,
        /// The range of the numbers.
        logical: LogicalRange,
        /// The number that names this button.
        number: i64,
    },
}

impl HidDevice {
    /// Finds the controls of the input reports; whether there are more than are listed.
    pub(super) fn list_controls(&mut self) -> bool {
        let (mut axes, mut hats, mut buttons) = (Vec::new(), Vec::new(), Vec::new());
        let mut more = false;
        let pages = [GENERIC_DESKTOP, SIMULATION, BUTTON];
        for report in self.reports.iter().filter(|report| report.kind == ReportKind::Input) {
            for field in &report.fields {
                let readable = field.element_bits <= MOST_VALUE_BITS;
                if !readable || field.flags.constant() || !field.usages.touches(&pages) {
                    continue;
                }
                let application = self.application_of(field.collection);
                if field.is_array() {
                    more |= in_array(report, field, application, &mut buttons);
                    continue;
                }
                for place in 0..field.count {
                    let Some(usage) = field.usages.for_element(place) else { break };
                    let found = In { report, field, application, place, usage };
                    let full = if usage.is_axis() && found.wide_enough() {
                        put(&mut axes, found.axis())
                    } else if usage == HAT_SWITCH {
                        put(&mut hats, found.hat())
                    } else if usage.is_button() || usage.is_axis() {
                        put(&mut buttons, found.button())
                    } else {
                        false
                    };
                    if full {
                        more = true;
                        break;
                    }
                }
            }
        }
        (self.axes, self.hats, self.buttons) = (axes, hats, buttons);
        more
    }
}

/// Whether there was no room.
fn put<T>(list: &mut Vec<T>, one: T) -> bool {
    let full = list.len() == MOST_LISTED;
    if !full {
        list.push(one);
    }
    full
}

fn in_array(
    report: &Report,
    field: &Field,
    application: Option<Usage>,
    buttons: &mut Vec<Button>,
) -> bool {
    let mut before = 0_i64;
    for range in field.usages.ranges() {
        let count = i64::from(range.count());
        // Only where buttons can be: a range may be as long as its page.
        let (first, last) = match range.first.page() {
            BUTTON => (range.first.0, range.last.0),
            GENERIC_DESKTOP => (
                range.first.0.max(Usage::new(GENERIC_DESKTOP, 0x3D).0),
                range.last.0.min(Usage::new(GENERIC_DESKTOP, 0x93).0),
            ),
            _ => (1, 0),
        };
        if first <= last {
            let skipped = before.saturating_add(i64::from(first - range.first.0));
            for (place, usage) in (skipped..).zip(first..=last) {
                let (usage, number) = (Usage(usage), field.logical.min.saturating_add(place));
                if !field.logical.holds(number) {
                    break;
                }
                if !usage.is_button() {
                    continue;
                }
                let place = ButtonPlace::Array {
                    bit_offset: field.bit_offset,
                    element_bits: field.element_bits,
                    count: field.count,
                    logical: field.logical,
                    number,
                };
                if put(buttons, Button { report_id: report.id, usage, application, place }) {
                    return true;
                }
            }
        }
        before = before.saturating_add(count);
    }
    false
}

/// One element of a variable field.
struct In<'a> {
    report: &'a Report,
    field: &'a Field,
    application: Option<Usage>,
    place: u32,
    usage: Usage,
}

impl In<'_> {
    /// A simulation control of one bit is a switch, whatever it is called.
    fn wide_enough(&self) -> bool {
        self.usage.page() != SIMULATION || self.field.element_bits > 1
    }

    fn axis(&self) -> Axis {
        Axis {
            report_id: self.report.id,
            bit_offset: self.field.element_at(self.place),
            bits: self.field.element_bits,
            usage: self.usage,
            application: self.application,
            logical: self.field.logical,
            physical: self.field.physical,
            unit: self.field.unit,
            relative: self.field.flags.relative(),
            null_state: self.field.flags.null_state(),
        }
    }

    fn hat(&self) -> Hat {
        Hat {
            report_id: self.report.id,
            bit_offset: self.field.element_at(self.place),
            bits: self.field.element_bits,
            application: self.application,
            logical: self.field.logical,
            physical: self.field.physical,
            unit: self.field.unit,
            null_state: self.field.flags.null_state(),
        }
    }

    fn button(&self) -> Button {
        Button {
            report_id: self.report.id,
            usage: self.usage,
            application: self.application,
            place: ButtonPlace::Bits {
                bit_offset: self.field.element_at(self.place),
                bits: self.field.element_bits,
                logical: self.field.logical,
            },
        }
    }
}
