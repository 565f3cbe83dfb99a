//! A checksum that finds damaged links.

/// CRC-32 as in IEEE 802.3 and ISO/IEC/IEEE 8802-3 (reflected polynomial 0xEDB88320): finds
/// every burst of up to 32 damaged bits. Bit by bit, as links are short.
pub(crate) fn crc32(bytes: &[u8]) -> u32 {
    let mut sum = u32::MAX;
    for byte in bytes {
        sum ^= u32::from(*byte);
        for _ in 0..8 {
            sum = if sum & 1 == 1 { (sum >> 1) ^ 0xEDB8_8320 } else { sum >> 1 };
        }
    }
    !sum
}

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
