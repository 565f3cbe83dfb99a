//! One field of a report: where it lies and what its values mean.

use super::UsageList;

/// A field: the elements that one Input, Output or Feature item declares.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Field {
    /// Its first bit, counted from 0 at the first byte behind the report number.
    pub bit_offset: u32,
    /// Bits of each element, at least 1. Elements follow each other without gaps.
    pub element_bits: u32,
    /// How many elements, at least 1.
    pub count: u32,
    /// What kind of data it is.
    pub flags: FieldFlags,
    /// Of a variable field: what each element is for. Of an array: what each number stands for.
    pub usages: UsageList,
    /// The values that mean something.
    pub logical: LogicalRange,
    /// What least and greatest logical value stand for, in [`Field::unit`]; the logical range where
    /// none is given (HID 1.11, 6.2.2.7).
    pub physical: LogicalRange,
    /// The unit of the physical range.
    pub unit: Unit,
    /// The innermost collection it lies in: its place in [`super::HidDevice::collections`].
    pub collection: Option<usize>,
}

impl Field {
    /// All its bits.
    #[must_use]
    pub const fn bits(&self) -> u32 {
        self.element_bits.saturating_mul(self.count)
    }

    /// Whether its elements name usages, as the keys of a keyboard do, and are no padding.
    #[must_use]
    pub const fn is_array(&self) -> bool {
        !self.flags.variable() && !self.flags.constant()
    }

    /// The first bit of an element.
    #[must_use]
    pub const fn element_at(&self, place: u32) -> u32 {
        self.bit_offset.saturating_add(self.element_bits.saturating_mul(place))
    }
}

/// The values from `min` to `max`, both included. `max` may lie below `min` where a device says so.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct LogicalRange {
    /// The least.
    pub min: i64,
    /// The greatest.
    pub max: i64,
}

impl LogicalRange {
    /// Whether a value lies inside.
    #[must_use]
    pub const fn holds(self, value: i64) -> bool {
        self.min <= value && value <= self.max
    }

    /// Whether values are two's complement numbers: when an end is below 0 (HID 1.11, 6.2.2.7).
    #[must_use]
    pub const fn signed(self) -> bool {
        self.min < 0 || self.max < 0
    }

    /// Half-way between the ends; not a whole number where the count of values is even.
    #[must_use]
    pub fn centre(self) -> f64 {
        (self.min as f64 + self.max as f64) / 2.0
    }
}

/// The bits of an Input, Output or Feature item (HID 1.11, 6.2.2.5).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct FieldFlags(pub u32);

impl FieldFlags {
    const fn bit(self, place: u32) -> bool {
        self.0 >> place & 1 == 1
    }

    /// Padding, or a value that never changes.
    #[must_use]
    pub const fn constant(self) -> bool {
        self.bit(0)
    }

    /// Each element is a number of its own; else the field is an array of usages.
    #[must_use]
    pub const fn variable(self) -> bool {
        self.bit(1)
    }

    /// A change since the last report, not a position.
    #[must_use]
    pub const fn relative(self) -> bool {
        self.bit(2)
    }

    /// Goes from the greatest value on to the least, as a dial that turns round does.
    #[must_use]
    pub const fn wrap(self) -> bool {
        self.bit(3)
    }

    /// Values outside the range say that nothing is reported.
    #[must_use]
    pub const fn null_state(self) -> bool {
        self.bit(6)
    }
}

/// The unit of a physical range (HID 1.11, 6.2.2.7).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Unit {
    /// The code: eight half-bytes, the system in the lowest. 0 is no unit.
    pub code: u32,
    /// The range counts in this power of ten of the unit, −8 to 7.
    pub exponent: i8,
}

/// The system of a unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum UnitSystem {
    /// No unit.
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
    Vendor,
    /// Not defined.
    Reserved,
}

impl Unit {
    /// The system.
    #[must_use]
    pub const fn system(self) -> UnitSystem {
        match self.code & 15 {
            0 => UnitSystem::None,
            1 => UnitSystem::SiLinear,
            2 => UnitSystem::SiRotation,
            3 => UnitSystem::EnglishLinear,
            4 => UnitSystem::EnglishRotation,
            15 => UnitSystem::Vendor,
            _ => UnitSystem::Reserved,
        }
    }

    /// The powers, −8 to 7, of length or angle, mass, time, temperature, current and luminous
    /// intensity.
    #[must_use]
    pub fn powers(self) -> [i8; 6] {
        [1, 2, 3, 4, 5, 6].map(|place| half_byte((self.code >> (4 * place)) & 15))
    }

    /// Whether it is an angle in degrees.
    #[must_use]
    pub fn is_degrees(self) -> bool {
        self.system() == UnitSystem::EnglishRotation && self.powers() == [1, 0, 0, 0, 0, 0]
    }
}

/// A two's complement number of four bits.
pub(super) const fn half_byte(bits: u32) -> i8 {
    let bits = (bits & 15) as i8;
    if bits > 7 { bits - 16 } else { bits }
}
