//! A checksum that finds damaged links.

/// CRC-32 as in IEEE 802.3 and ISO/IEC/IEEE 8802-3 (reflected polynomial 0xEDB88320): finds
/// every burst of up to 32 damaged bits.
pub(crate) fn crc32(bytes: &[u8]) -> u32 {
    crc32_of([bytes])
}

/// The same of several stretches as if they were one.
pub(crate) fn crc32_of<'a>(stretches: impl IntoIterator<Item = &'a [u8]>) -> u32 {
    let step = |sum: u32, byte: &u8| (sum >> 8) ^ TABLE[usize::from((sum as u8) ^ byte)];
    !stretches.into_iter().flatten().fold(u32::MAX, step)
}

/// What each byte does to the sum, so that whole recordings are summed quickly.
const TABLE: [u32; 256] = {
    let mut table = [0; 256];
    let mut byte = 0;
    while byte < 256 {
        let mut sum = byte as u32;
        let mut bit = 0;
        while bit < 8 {
            sum = if sum & 1 == 1 { (sum >> 1) ^ 0xEDB8_8320 } else { sum >> 1 };
            bit += 1;
        }
        table[byte] = sum;
        byte += 1;
    }
    table
};

#[cfg(test)]
mod tests {
    use super::crc32;

    /// The check value of the CRC catalogues for this sum (from memory), and of nothing.
    #[test]
    fn check_value() {
        assert_eq!(crc32(b"123456789"), 0xCBF4_3926);
        assert_eq!(crc32(b""), 0);
    }
}
