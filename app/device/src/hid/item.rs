//! Bytes into items (HID 1.11, 6.2.2.1 to 6.2.2.3).

use super::{DescriptorError, DescriptorFault};

/// One item of a descriptor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Item {
    /// Where it begins, bytes.
    pub(super) at: usize,
    /// What it is: the first byte without the two bits of its length; `None` of a long item.
    pub(super) prefix: Option<u8>,
    /// Its data without sign, least significant byte first.
    pub(super) data: u32,
    /// How many bytes of data: 0, 1, 2 or 4.
    pub(super) size: u8,
}

impl Item {
    /// The data as a two's complement number of its own size.
    pub(super) fn signed(self) -> i64 {
        match self.size {
            1 => i64::from(self.data.to_le_bytes()[0].cast_signed()),
            2 => i64::from((self.data as u16).cast_signed()),
            _ => i64::from(self.data.cast_signed()),
        }
    }
}

/// The first byte of a long item.
const LONG: u8 = 0xFE;

/// The items of a descriptor, until the end or the first that is cut short.
pub(super) struct Items<'a> {
    bytes: &'a [u8],
    at: usize,
}

impl<'a> Items<'a> {
    pub(super) fn new(bytes: &'a [u8]) -> Self {
        Self { bytes, at: 0 }
    }
}

impl Iterator for Items<'_> {
    type Item = Result<Item, DescriptorError>;

    fn next(&mut self) -> Option<Self::Item> {
        let at = self.at;
        let first = *self.bytes.get(at)?;
        let cut = DescriptorError { at, what: DescriptorFault::CutShort };
        // Whatever comes, the next call goes on behind it or ends.
        self.at = self.bytes.len();
        if first == LONG {
            let Some(size) = self.bytes.get(at + 1) else { return Some(Err(cut)) };
            let end = at + 3 + usize::from(*size);
            if end > self.bytes.len() {
                return Some(Err(cut));
            }
            self.at = end;
            return Some(Ok(Item { at, prefix: None, data: 0, size: 0 }));
        }
        let size = [0_u8, 1, 2, 4][usize::from(first & 3)];
        let end = at + 1 + usize::from(size);
        let Some(data) = self.bytes.get(at + 1..end) else { return Some(Err(cut)) };
        self.at = end;
        let data = data.iter().rev().fold(0, |sum: u32, byte| (sum << 8) | u32::from(*byte));
        Some(Ok(Item { at, prefix: Some(first & !3), data, size }))
    }
}
