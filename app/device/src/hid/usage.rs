//! What a control is for, as a number of 32 bits, and lists of such numbers.
//!
//! Source: *HID Usage Tables*; HID 1.11, 6.2.2.8.

/// What a control or collection is for: the usage page in the upper 16 bits, the number on that
/// page in the lower.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Usage(pub u32);

/// The page of sticks, pointers and their axes.
pub const GENERIC_DESKTOP: u16 = 0x01;
/// The page of the controls of vehicles: throttle, rudder, steering, pedals.
pub const SIMULATION: u16 = 0x02;
/// The page of the keys of a keyboard.
pub const KEYBOARD: u16 = 0x07;
/// The page of lights.
pub const LIGHTS: u16 = 0x08;
/// The page of buttons; number n is button n, 0 is no button.
pub const BUTTON: u16 = 0x09;
/// The page of media and desktop keys.
pub const CONSUMER: u16 = 0x0C;

/// A mouse.
pub const MOUSE: Usage = Usage::new(GENERIC_DESKTOP, 0x02);
/// A joystick.
pub const JOYSTICK: Usage = Usage::new(GENERIC_DESKTOP, 0x04);
/// A game pad.
pub const GAME_PAD: Usage = Usage::new(GENERIC_DESKTOP, 0x05);
/// A keyboard.
pub const KEYS: Usage = Usage::new(GENERIC_DESKTOP, 0x06);
/// A controller of more than two axes.
pub const MULTI_AXIS: Usage = Usage::new(GENERIC_DESKTOP, 0x08);
/// Across.
pub const X: Usage = Usage::new(GENERIC_DESKTOP, 0x30);
/// Along.
pub const Y: Usage = Usage::new(GENERIC_DESKTOP, 0x31);
/// A hat switch.
pub const HAT_SWITCH: Usage = Usage::new(GENERIC_DESKTOP, 0x39);

impl Usage {
    /// The usage of this number on this page.
    #[must_use]
    pub const fn new(page: u16, number: u16) -> Self {
        Self(((page as u32) << 16) | number as u32)
    }

    /// Its page.
    #[must_use]
    pub const fn page(self) -> u16 {
        (self.0 >> 16) as u16
    }

    /// Its number on the page.
    #[must_use]
    pub const fn number(self) -> u16 {
        (self.0 & 0xFFFF) as u16
    }

    /// Whether it is a stick's or wheel's axis: X, Y, Z, Rx, Ry, Rz, slider, dial, wheel, or a
    /// simulation control.
    #[must_use]
    pub const fn is_axis(self) -> bool {
        match self.page() {
            GENERIC_DESKTOP => self.number() >= 0x30 && self.number() <= 0x38,
            SIMULATION => self.number() >= 0xB0 && self.number() <= 0xD0,
            _ => false,
        }
    }

    /// Whether it is a button: any of the button page but 0, and Start, Select and the four of a
    /// direction pad (generic desktop 3D, 3E, 90 to 93).
    #[must_use]
    pub const fn is_button(self) -> bool {
        match self.page() {
            BUTTON => self.number() > 0,
            GENERIC_DESKTOP => matches!(self.number(), 0x3D | 0x3E | 0x90..=0x93),
            _ => false,
        }
    }
}

/// The usages from `first` to `last`, both included, of one page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UsageRange {
    /// The first.
    pub first: Usage,
    /// The last; never before the first.
    pub last: Usage,
}

impl UsageRange {
    /// How many: at most 65 536.
    #[must_use]
    pub const fn count(self) -> u32 {
        self.last.0.saturating_sub(self.first.0).saturating_add(1)
    }
}

/// Usages in the order of their declaration: single ones and ranges, which are never written out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct UsageList {
    /// Each range with how many usages stand before it.
    ranges: Vec<(u32, UsageRange)>,
}

impl UsageList {
    /// Adds one range; one that goes on where the last one ended becomes part of it.
    pub(super) fn push(&mut self, range: UsageRange) {
        match self.ranges.last_mut() {
            Some((_, last))
                if last.last.0.checked_add(1) == Some(range.first.0)
                    && last.last.page() == range.first.page() =>
            {
                last.last = range.last;
            }
            _ => self.ranges.push((self.count(), range)),
        }
    }

    /// How many usages. A descriptor holds some 2,000 ranges at most, so this is below 2³².
    #[must_use]
    pub fn count(&self) -> u32 {
        self.ranges.last().map_or(0, |(before, range)| before.saturating_add(range.count()))
    }

    /// Whether there is none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.ranges.is_empty()
    }

    /// The usage in this place, counted from 0.
    #[must_use]
    pub fn nth(&self, place: u32) -> Option<Usage> {
        let after = self.ranges.partition_point(|(before, _)| *before <= place);
        let (before, range) = self.ranges.get(after.checked_sub(1)?)?;
        let within = place - before;
        (within < range.count()).then(|| Usage(range.first.0 + within))
    }

    /// The usage of the element in this place of a field: where there are more elements than
    /// usages the last one stands for the rest (HID 1.11, 6.2.2.8).
    #[must_use]
    pub fn for_element(&self, place: u32) -> Option<Usage> {
        self.nth(place.min(self.count().checked_sub(1)?))
    }

    /// Its ranges, in order.
    pub fn ranges(&self) -> impl Iterator<Item = UsageRange> + '_ {
        self.ranges.iter().map(|(_, range)| *range)
    }

    /// Whether any range touches one of these pages.
    pub(super) fn touches(&self, pages: &[u16]) -> bool {
        self.ranges.iter().any(|(_, range)| pages.contains(&range.first.page()))
    }
}

impl FromIterator<UsageRange> for UsageList {
    fn from_iter<I: IntoIterator<Item = UsageRange>>(ranges: I) -> Self {
        let mut list = Self::default();
        ranges.into_iter().for_each(|range| list.push(range));
        list
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn range(first: u32, last: u32) -> UsageRange {
        UsageRange { first: Usage(first), last: Usage(last) }
    }

    #[test]
    fn places_go_through_ranges_in_order() {
        let list: UsageList =
            [range(0x9_0001, 0x9_0003), range(0x1_0030, 0x1_0030), range(0x9_0004, 0x9_0004)]
                .into_iter()
                .collect();
        assert_eq!(list.count(), 5);
        let all: Vec<u32> = (0..5).filter_map(|place| list.nth(place)).map(|u| u.0).collect();
        assert_eq!(all, [0x9_0001, 0x9_0002, 0x9_0003, 0x1_0030, 0x9_0004]);
        assert_eq!(list.nth(5), None);
        assert_eq!(list.for_element(99), Some(Usage(0x9_0004)));
        assert_eq!(UsageList::default().for_element(0), None);
    }

    #[test]
    fn what_goes_on_is_one_range_but_never_over_the_end_of_a_page() {
        let on: UsageList =
            [range(0x1_0030, 0x1_0030), range(0x1_0031, 0x1_0031)].into_iter().collect();
        assert_eq!(on.ranges().collect::<Vec<_>>(), [range(0x1_0030, 0x1_0031)]);
        let apart: UsageList =
            [range(0x1_FFFF, 0x1_FFFF), range(0x2_0000, 0x2_0000)].into_iter().collect();
        assert_eq!(apart.ranges().count(), 2);
    }
}
