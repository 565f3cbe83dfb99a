//! Whole numbers as bytes: seven bits in each, the lowest first (as DWARF and protocol buffers have
//! them); numbers with a sign in zigzag, so that small ones of either sign stay short.

pub(super) fn put_unsigned(out: &mut Vec<u8>, mut number: u64) {
    while number >= 0x80 {
        out.push((number & 0x7F) as u8 | 0x80);
        number >>= 7;
    }
    out.push(number as u8);
}

pub(super) fn put_signed(out: &mut Vec<u8>, number: i64) {
    put_unsigned(out, zigzag(number));
}

/// 0, -1, 1, -2, 2 … as 0, 1, 2, 3, 4 …
pub(super) const fn zigzag(number: i64) -> u64 {
    ((number << 1) ^ (number >> 63)).cast_unsigned()
}

pub(super) const fn unzigzag(number: u64) -> i64 {
    (number >> 1).cast_signed() ^ -(number & 1).cast_signed()
}

/// Reads from bytes; `None` where they end too early or say something impossible.
#[derive(Debug)]
pub(super) struct Reader<'a> {
    left: &'a [u8],
}

impl<'a> Reader<'a> {
    pub(super) const fn new(bytes: &'a [u8]) -> Self {
        Self { left: bytes }
    }

    pub(super) const fn is_at_end(&self) -> bool {
        self.left.is_empty()
    }

    pub(super) fn take(&mut self, count: usize) -> Option<&'a [u8]> {
        let (taken, left) = self.left.split_at_checked(count)?;
        self.left = left;
        Some(taken)
    }

    pub(super) fn some<const BYTES: usize>(&mut self) -> Option<[u8; BYTES]> {
        self.take(BYTES)?.try_into().ok()
    }

    pub(super) fn byte(&mut self) -> Option<u8> {
        self.some::<1>().map(|[byte]| byte)
    }

    pub(super) fn unsigned(&mut self) -> Option<u64> {
        let mut number = 0_u64;
        for shift in (0..64).step_by(7) {
            let byte = self.byte()?;
            let bits = u64::from(byte & 0x7F);
            // The tenth byte has room for one bit.
            if shift == 63 && bits > 1 {
                return None;
            }
            number |= bits << shift;
            if byte < 0x80 {
                return Some(number);
            }
        }
        None
    }

    pub(super) fn signed(&mut self) -> Option<i64> {
        self.unsigned().map(unzigzag)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The examples of DWARF 5, section 7.6, table 7.7 (unsigned LEB128; from memory).
    #[test]
    fn published_numbers() {
        for (number, bytes) in
            [(2, vec![2]), (127, vec![127]), (128, vec![0x80, 1]), (12_857, vec![0xB9, 0x64])]
        {
            let mut out = Vec::new();
            put_unsigned(&mut out, number);
            assert_eq!(out, bytes);
        }
    }

    #[test]
    fn too_long_a_number_is_refused() {
        assert_eq!(Reader::new(&[0xFF; 11]).unsigned(), None);
        assert_eq!(Reader::new(&[0x80]).unsigned(), None);
        let mut most = vec![0xFF; 9];
        most.push(1);
        assert_eq!(Reader::new(&most).unsigned(), Some(u64::MAX));
    }

    proptest! {
        #[test]
        fn numbers_come_back(signed: i64, unsigned: u64) {
            let mut out = Vec::new();
            put_signed(&mut out, signed);
            put_unsigned(&mut out, unsigned);
            let mut reader = Reader::new(&out);
            prop_assert_eq!(reader.signed(), Some(signed));
            prop_assert_eq!(reader.unsigned(), Some(unsigned));
            prop_assert!(reader.is_at_end());
        }
    }
}
