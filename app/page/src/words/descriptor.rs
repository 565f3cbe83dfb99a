//! A pasted report descriptor: what it says, and what is wrong with it.

use super::through::speech;
use device::hid::text::{TextError, TextFault};
use device::hid::{
    Axis, DescriptorError, DescriptorFault, Hat, HidDevice, MOST_COLLECTIONS, MOST_DEPTH,
    MOST_DESCRIPTOR_BYTES, MOST_FIELDS, MOST_PUSHED, MOST_REPORTS, Remark, RemarkKind, Report,
    ReportKind, Usage, names,
};
use device::through::Speech;

/// The option beside the connected stick.
pub const PASTED: &str = "What the maker wrote down";
/// Nothing pasted.
pub const NOTHING: &str = "nothing pasted yet";
/// Title.
pub const TITLE: &str = "Read a report descriptor";
/// What that is.
pub const WHAT: &str = "Before you buy: each USB device has a list of what it is and of every axis \
    and button, its report descriptor. The maker can send it as numbers, or somebody who has the \
    device. Paste it here; it stays on this machine.";
/// How to get one.
pub const HOW: &str = "With the device at hand, a computer with Linux shows it by";
/// The command: files of the Linux kernel's hidraw interface, through a common dump.
pub const COMMAND: &str = "xxd -p /sys/class/hidraw/hidraw0/device/report_descriptor";
/// The field.
pub const FIELD: &str = "The descriptor, as hexadecimal numbers";
/// What may be pasted.
pub const FIELD_HELP: &str = "Spaces, commas, 0x in front, line numbers and comments do no harm.";
/// Read it.
pub const READ: &str = "Read it";
/// Forget it.
pub const FORGET: &str = "Forget it";
/// A wrong text changes nothing.
pub const KEPT: &str = "What was read before is still there.";
/// What it says.
pub const SAYS: &str = "What the device says of itself";
/// The table of axes.
pub const AXES: &str = "Axes";
/// Its columns.
pub const COLUMNS: [&str; 4] = ["Axis", "Bits", "Range", "Middle"];

/// In one line.
pub fn line(device: Option<&HidDevice>) -> String {
    device.map_or_else(
        || NOTHING.to_owned(),
        |device| match device.applications().next() {
            Some(usage) => speech(Speech::of_usage(usage.0)),
            None => "it does not say what it is".to_owned(),
        },
    )
}

/// It was read.
pub fn read(bytes: usize) -> String {
    format!("Read: {}.", bytes_of(bytes))
}

fn bytes_of(count: usize) -> String {
    if count == 1 { "1 byte".to_owned() } else { format!("{count} bytes") }
}

/// What stands in the text.
pub fn text_error(error: TextError) -> String {
    match error {
        TextError::NothingFound => "There are no numbers in it yet.".to_owned(),
        TextError::TooLong => "This is far more text than any descriptor has. Paste the numbers \
            alone."
            .to_owned(),
        TextError::At { line, column, what } => {
            let what = match what {
                TextFault::NotHexadecimal => "is something that is no hexadecimal number.",
                TextFault::HalfByte => {
                    "is a number with an odd count of digits: half a byte is missing, or the \
                    numbers are decimal."
                }
                TextFault::MoreThanAByte => "is a number that is more than one byte.",
                TextFault::TooManyBytes => {
                    return format!(
                        "Line {line}, column {column}: more than {MOST_DESCRIPTOR_BYTES} bytes. No \
                         descriptor of a stick is that long."
                    );
                }
                TextFault::CommentNotClosed => "begins a comment that never ends.",
            };
            format!("Line {line}, column {column}: here {what}")
        }
    }
}

/// Why the bytes are no descriptor.
pub fn fault(error: DescriptorError) -> String {
    let at = error.at;
    let what = match error.what {
        DescriptorFault::Empty => return "There is not one byte in it.".to_owned(),
        DescriptorFault::TooLong => {
            return format!("It is longer than {MOST_DESCRIPTOR_BYTES} bytes.");
        }
        DescriptorFault::NoReport => {
            return "It declares no report at all: this is no report descriptor, or only the \
                beginning of one."
                .to_owned();
        }
        DescriptorFault::CutShort => "it ends within an item: the end is missing.".to_owned(),
        DescriptorFault::NothingToClose => {
            "a collection is closed and none is open: the beginning is missing.".to_owned()
        }
        DescriptorFault::NeverClosed => {
            "it ends and a collection is still open: the end is missing.".to_owned()
        }
        DescriptorFault::TooDeep => {
            format!("more than {MOST_DEPTH} collections lie in one another.")
        }
        DescriptorFault::TooManyCollections => format!("more than {MOST_COLLECTIONS} collections."),
        DescriptorFault::NothingToPop => {
            "a state is taken back that was never put away.".to_owned()
        }
        DescriptorFault::TooManyPushed => {
            format!("more than {MOST_PUSHED} states are put away at once.")
        }
        DescriptorFault::ReportNumberZero => {
            "a report has the number 0, which is reserved.".to_owned()
        }
        DescriptorFault::ReportNumberTooLarge => "a report has a number above 255.".to_owned(),
        DescriptorFault::TooManyReports => format!("more than {MOST_REPORTS} reports."),
        DescriptorFault::TooManyFields => format!("more than {MOST_FIELDS} fields."),
        DescriptorFault::FieldTooWide => "a value is wider than any that can be read.".to_owned(),
        DescriptorFault::ReportTooLong => "a report is longer than any that is read.".to_owned(),
        DescriptorFault::PageTooLarge => "a usage page is above 65,535.".to_owned(),
        DescriptorFault::RangeBackwards => "a range of usages ends before it begins.".to_owned(),
        DescriptorFault::RangeAcrossPages => {
            "a range of usages begins on one page and ends on another.".to_owned()
        }
        DescriptorFault::AlternativesInAlternatives => {
            "a set of alternative usages is opened within another.".to_owned()
        }
        DescriptorFault::NoAlternativesOpen => {
            "a set of alternative usages is closed and none is open.".to_owned()
        }
        DescriptorFault::AlternativesLeftOpen => {
            "a set of alternative usages is left open where a field begins.".to_owned()
        }
    };
    format!("Byte {at}: {what} Bytes are counted from 0.")
}

/// Something odd that does no harm.
pub fn remark(remark: &Remark) -> String {
    let what = match remark.what {
        RemarkKind::LongItem => "a long item, passed over: none is defined.",
        RemarkKind::ReservedItem => "an item of a reserved kind, passed over.",
        RemarkKind::EmptyField => "a field without bits, passed over.",
        RemarkKind::Alternatives => "alternative usages; the first is taken.",
        RemarkKind::WideField => "a field too wide to be read as a value.",
        RemarkKind::NoRange => "a field whose least value is above its greatest.",
        RemarkKind::OutsideCollections => "a field outside every collection.",
        RemarkKind::NumbersMixed => "a report without number beside numbered ones.",
        RemarkKind::HalfRange => "a range of usages with one end, passed over.",
        RemarkKind::NeverPopped => "a state is put away and never taken back.",
        RemarkKind::NotAllListed => "more axes, hats or buttons than are listed.",
        RemarkKind::SignDropped => "a greatest value below 0, taken without its sign.",
        RemarkKind::OrderUncertain => "the order of fields in the report is not certain.",
    };
    format!("Odd, at byte {}: {what}", remark.at)
}

/// The name of a usage in the standard's own words, or its number.
pub fn usage(usage: Usage) -> String {
    names::name(usage).map_or_else(
        || format!("page {:#06x}, usage {:#06x}", usage.page(), usage.number()),
        str::to_owned,
    )
}

/// One axis: bits, range, middle.
pub fn axis(axis: &Axis) -> [String; 4] {
    let (low, high) = (axis.logical.min, axis.logical.max);
    let name = usage(axis.usage);
    let name = if axis.relative { format!("{name}, tells movements") } else { name };
    let middle = if axis.relative { "none".to_owned() } else { axis.centre().to_string() };
    [name, axis.bits.to_string(), format!("{low} to {high}"), middle]
}

/// A hat switch.
pub fn hat(hat: &Hat) -> String {
    let directions = hat.logical.max - hat.logical.min + 1;
    let middle = if hat.null_state {
        "its middle is a value outside its range"
    } else {
        "it declares no middle"
    };
    format!("A hat switch of {directions} directions; {middle}.")
}

/// How many buttons.
pub fn buttons(count: usize) -> String {
    match count {
        0 => "No buttons.".to_owned(),
        1 => "One button.".to_owned(),
        count => format!("{count} buttons."),
    }
}

/// A report.
pub fn report(report: &Report) -> String {
    let kind = match report.kind {
        ReportKind::Input => "Report from the device",
        ReportKind::Output => "Report to the device",
        ReportKind::Feature => "Report of features",
    };
    let number = if report.id == 0 { String::new() } else { format!(" {}", report.id) };
    format!("{kind}{number}: {}.", bytes_of(report.bytes() as usize))
}
