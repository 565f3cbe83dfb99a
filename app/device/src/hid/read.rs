//! Bytes of a report descriptor into a device.

use super::builder::Builder;
use super::field::half_byte;
use super::item::{Item, Items};
use super::{
    Collection, CollectionKind, DescriptorError, DescriptorFault, Field, FieldFlags, HidDevice,
    LogicalRange, MOST_DEPTH, MOST_DESCRIPTOR_BYTES, MOST_PUSHED, RemarkKind, ReportKind, Unit,
    Usage, UsageList, UsageRange,
};

/// Reads a report descriptor.
///
/// - Least values are two's complement numbers of their item's size; the greatest one is read in
///   the same way where the least is below 0, else without sign: so `25 FF` after `15 00` is 255
///   (HID 1.11, 6.2.2.7, says that a field of two values of 0 and more is unsigned).
/// - A usage of one or two bytes belongs to the page that holds at the field or collection it is
///   for, one of four bytes brings its own page (6.2.2.8).
/// - Of alternative usages between delimiters the first is kept, which is the preferred one.
/// - Items that the standard reserves, and long items, are passed over with a remark. Texts and
///   designators (parts of a body) are passed over without.
///
/// # Errors
/// The first thing that is wrong, and where.
pub fn read(bytes: &[u8]) -> Result<HidDevice, DescriptorError> {
    let whole = |what| DescriptorError { at: bytes.len(), what };
    if bytes.is_empty() {
        return Err(whole(DescriptorFault::Empty));
    }
    if bytes.len() > MOST_DESCRIPTOR_BYTES {
        return Err(whole(DescriptorFault::TooLong));
    }
    let mut reader = Reader::default();
    for item in Items::new(bytes) {
        let item = item?;
        reader.take(item).map_err(|what| DescriptorError { at: item.at, what })?;
    }
    if !reader.open.is_empty() {
        return Err(whole(DescriptorFault::NeverClosed));
    }
    if !reader.pushed.is_empty() {
        reader.builder.remark(bytes.len(), RemarkKind::NeverPopped);
    }
    reader.builder.finish().map_err(whole)
}

/// What holds until it is said anew (HID 1.11, 6.2.2.7). Ends of ranges are kept as they were
/// written: how the greatest is read hangs on the least, which may come later.
#[derive(Clone, Copy, Default)]
struct Global {
    page: u16,
    logical: (Written, Written),
    physical: (Written, Written),
    unit: Unit,
    report_size: u32,
    report_count: u32,
    report_id: u8,
}

#[derive(Clone, Copy, Default)]
struct Written {
    signed: i64,
    unsigned: u32,
}

/// What holds for the next main item only (6.2.2.8).
#[derive(Default)]
struct Local {
    usages: Vec<Said>,
    least: Option<Half>,
    most: Option<Half>,
    /// Whether a set of alternatives is open, and whether its first was taken.
    alternatives: Option<bool>,
}

/// One end of a range: its number, and whether it brings its own page.
#[derive(Clone, Copy)]
struct Half {
    number: u32,
    own_page: bool,
}

#[derive(Clone, Copy)]
enum Said {
    One(Half),
    Range(Half, Half),
}

#[derive(Default)]
struct Reader {
    builder: Builder,
    global: Global,
    local: Local,
    pushed: Vec<Global>,
    open: Vec<usize>,
}

impl Reader {
    fn take(&mut self, item: Item) -> Result<(), DescriptorFault> {
        let Some(prefix) = item.prefix else {
            self.builder.remark(item.at, RemarkKind::LongItem);
            return Ok(());
        };
        match prefix {
            0x80 => self.field(item, ReportKind::Input),
            0x90 => self.field(item, ReportKind::Output),
            0xB0 => self.field(item, ReportKind::Feature),
            0xA0 => self.open(item),
            0xC0 => self.close(),
            _ if prefix & 0x0C == 0x04 => self.global(item, prefix),
            _ if prefix & 0x0C == 0x08 => self.local(item, prefix),
            _ => {
                self.builder.remark(item.at, RemarkKind::ReservedItem);
                Ok(())
            }
        }
    }

    fn global(&mut self, item: Item, prefix: u8) -> Result<(), DescriptorFault> {
        let written = Written { signed: item.signed(), unsigned: item.data };
        let global = &mut self.global;
        match prefix {
            0x04 => {
                global.page =
                    u16::try_from(item.data).map_err(|_| DescriptorFault::PageTooLarge)?;
            }
            0x14 => global.logical.0 = written,
            0x24 => global.logical.1 = written,
            0x34 => global.physical.0 = written,
            0x44 => global.physical.1 = written,
            0x54 => global.unit.exponent = exponent(item),
            0x64 => global.unit.code = item.data,
            0x74 => global.report_size = item.data,
            0x84 => match u8::try_from(item.data) {
                Ok(0) => return Err(DescriptorFault::ReportNumberZero),
                Ok(id) => global.report_id = id,
                Err(_) => return Err(DescriptorFault::ReportNumberTooLarge),
            },
            0x94 => global.report_count = item.data,
            0xA4 => {
                if self.pushed.len() == MOST_PUSHED {
                    return Err(DescriptorFault::TooManyPushed);
                }
                self.pushed.push(*global);
            }
            0xB4 => *global = self.pushed.pop().ok_or(DescriptorFault::NothingToPop)?,
            _ => self.builder.remark(item.at, RemarkKind::ReservedItem),
        }
        Ok(())
    }

    fn local(&mut self, item: Item, prefix: u8) -> Result<(), DescriptorFault> {
        let half = Half { number: item.data, own_page: item.size == 4 };
        match prefix {
            0x08 => self.say(Said::One(half)),
            0x18 => {
                self.local.least = Some(half);
                self.join();
            }
            0x28 => {
                self.local.most = Some(half);
                self.join();
            }
            // Designators and texts: what they point at is not in these bytes.
            0x38..=0x58 | 0x78..=0x98 => {}
            0xA8 => match (item.data, self.local.alternatives) {
                (1, None) => self.local.alternatives = Some(false),
                (1, Some(_)) => return Err(DescriptorFault::AlternativesInAlternatives),
                (0, Some(_)) => {
                    self.local.alternatives = None;
                    self.builder.remark(item.at, RemarkKind::Alternatives);
                }
                (0, None) => return Err(DescriptorFault::NoAlternativesOpen),
                _ => self.builder.remark(item.at, RemarkKind::ReservedItem),
            },
            _ => self.builder.remark(item.at, RemarkKind::ReservedItem),
        }
        Ok(())
    }

    /// Makes a range of two ends that are there, whichever came first.
    fn join(&mut self) {
        if let (Some(least), Some(most)) = (self.local.least, self.local.most) {
            (self.local.least, self.local.most) = (None, None);
            self.say(Said::Range(least, most));
        }
    }

    /// Notes usages, unless they are an alternative to those before.
    fn say(&mut self, said: Said) {
        if self.local.alternatives != Some(true) {
            self.local.usages.push(said);
        }
        self.local.alternatives = self.local.alternatives.map(|_| true);
    }

    /// What was said for this main item; the next begins with nothing.
    fn usages(&mut self, at: usize) -> Result<UsageList, DescriptorFault> {
        let local = std::mem::take(&mut self.local);
        if local.alternatives.is_some() {
            return Err(DescriptorFault::AlternativesLeftOpen);
        }
        if local.least.is_some() || local.most.is_some() {
            self.builder.remark(at, RemarkKind::HalfRange);
        }
        let page = self.global.page;
        let usage = |half: Half| {
            if half.own_page { Usage(half.number) } else { Usage::new(page, half.number as u16) }
        };
        let mut list = UsageList::default();
        for said in local.usages {
            let (first, last) = match said {
                Said::One(half) => (usage(half), usage(half)),
                // A short end next to one that brings its page lies on that page.
                Said::Range(least, most) if least.own_page && !most.own_page => {
                    (usage(least), Usage::new(usage(least).page(), most.number as u16))
                }
                Said::Range(least, most) if most.own_page && !least.own_page => {
                    (Usage::new(usage(most).page(), least.number as u16), usage(most))
                }
                Said::Range(least, most) => (usage(least), usage(most)),
            };
            list.push(range(first, last)?);
        }
        Ok(list)
    }

    fn open(&mut self, item: Item) -> Result<(), DescriptorFault> {
        let usages = self.usages(item.at)?;
        if self.open.len() == MOST_DEPTH {
            return Err(DescriptorFault::TooDeep);
        }
        let place = self.builder.collection(Collection {
            kind: CollectionKind::of(item.data as u8),
            usage: usages.nth(0).unwrap_or_default(),
            parent: self.open.last().copied(),
        })?;
        self.open.push(place);
        Ok(())
    }

    fn close(&mut self) -> Result<(), DescriptorFault> {
        // Local items end with every main item; what was said for this one is for nothing.
        self.local = Local::default();
        self.open.pop().map(|_| ()).ok_or(DescriptorFault::NothingToClose)
    }

    fn field(&mut self, item: Item, kind: ReportKind) -> Result<(), DescriptorFault> {
        let usages = self.usages(item.at)?;
        let global = self.global;
        let logical = range_of(global.logical);
        let mut physical = range_of(global.physical);
        if physical == LogicalRange::default() {
            physical = logical;
        }
        let field = Field {
            bit_offset: 0,
            element_bits: global.report_size,
            count: global.report_count,
            flags: FieldFlags(item.data),
            usages,
            logical,
            physical,
            unit: global.unit,
            collection: self.open.last().copied(),
        };
        self.builder.field(item.at, kind, global.report_id, field)
    }
}

/// A range of usages that goes forward on one page.
pub(super) fn range(first: Usage, last: Usage) -> Result<UsageRange, DescriptorFault> {
    if first.page() != last.page() {
        Err(DescriptorFault::RangeAcrossPages)
    } else if first > last {
        Err(DescriptorFault::RangeBackwards)
    } else {
        Ok(UsageRange { first, last })
    }
}

fn range_of((least, most): (Written, Written)) -> LogicalRange {
    let max = if least.signed < 0 { most.signed } else { i64::from(most.unsigned) };
    LogicalRange { min: least.signed, max }
}

/// The standard gives four bits; a negative number of a whole byte or more is met as well, and
/// means the same.
fn exponent(item: Item) -> i8 {
    if item.data > 15 { item.signed().clamp(-8, 7) as i8 } else { half_byte(item.data) }
}
