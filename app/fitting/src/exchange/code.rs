//! A short text as a QR code (ISO/IEC 18004), ready to be drawn.

use qrcodegen::{Mask, QrCode, QrCodeEcc, QrSegment, Version};
use std::fmt::Write;

/// The largest version: 77 modules a side, which a phone still reads from a screen and from paper.
const LARGEST: u8 = 15;

/// Modules that stay light around a code, so that it is found (ISO/IEC 18004, section 5.3.8).
pub const QUIET_MODULES: usize = 4;

/// A code.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Code {
    /// Its version, 1 to 15.
    pub version: u8,
    /// Rows of modules, from the top; `true` is dark.
    pub modules: Vec<Vec<bool>>,
}

impl Code {
    /// The code of a text of the alphanumeric mode, at error correction level M (some 15 % may be
    /// unreadable), in the smallest version; `None` where it has other characters or does not fit.
    #[must_use]
    pub fn of(text: &str) -> Option<Self> {
        Self::with(text, None)
    }

    fn with(text: &str, mask: Option<Mask>) -> Option<Self> {
        let shown = |one: u8| {
            one.is_ascii_digit() || one.is_ascii_uppercase() || b" $%*+-./:".contains(&one)
        };
        if !text.bytes().all(shown) {
            return None;
        }
        let segments = [QrSegment::make_alphanumeric(text)];
        let (smallest, largest) = (Version::new(1), Version::new(LARGEST));
        let level = QrCodeEcc::Medium;
        let made =
            QrCode::encode_segments_advanced(&segments, level, smallest, largest, mask, false);
        let code = made.ok()?;
        let row = |y| (0..code.size()).map(|x| code.get_module(x, y)).collect();
        Some(Self { version: code.version().value(), modules: (0..code.size()).map(row).collect() })
    }

    /// Modules a side, with the quiet ones.
    #[must_use]
    pub fn side(&self) -> usize {
        self.modules.len() + 2 * QUIET_MODULES
    }

    /// The dark modules as one path (SVG 2, section 9.3), a unit for a module, from the corner of the
    /// quiet zone.
    #[must_use]
    pub fn svg_path(&self) -> String {
        let mut path = String::new();
        for (y, row) in (QUIET_MODULES..).zip(&self.modules) {
            let mut x = 0;
            for run in row.chunk_by(|one, other| one == other) {
                if run.first() == Some(&true) {
                    let long = run.len();
                    // Writing into a text cannot fail.
                    let _ = write!(path, "M{} {y}h{long}v1h-{long}z", x + QUIET_MODULES);
                }
                x += run.len();
            }
        }
        path
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The matrix that an independent library (segno) makes of the same text; masks may differ,
    /// as the standard's penalties are read in more than one way.
    #[test]
    fn the_same_modules_as_another_library() {
        let vector: serde_json::Value =
            serde_json::from_str(include_str!("../../../../tests/vectors/qr_matrix.json"))
                .expect("json");
        let mask = Mask::new(vector["mask"].as_u64().expect("a mask") as u8);
        let code =
            Code::with(vector["text"].as_str().expect("a text"), Some(mask)).expect("it fits");
        let rows: Vec<String> = code
            .modules
            .iter()
            .map(|row| row.iter().map(|dark| if *dark { '1' } else { '0' }).collect())
            .collect();
        let theirs: Vec<&str> = vector["matrix"]
            .as_array()
            .expect("rows")
            .iter()
            .filter_map(|row| row.as_str())
            .collect();
        assert_eq!(rows, theirs);
        assert_eq!(Some(u64::from(code.version)), vector["version"].as_u64());
        assert_eq!(code.side(), rows.len() + 8);
    }

    /// ISO/IEC 18004, table 7: version 15 at level M holds 600 alphanumeric characters, version 10
    /// 311 (from memory; found again by bisection with segno).
    #[test]
    fn what_fits_is_what_the_standard_says() {
        assert_eq!(Code::of(&"A".repeat(600)).map(|code| code.version), Some(15));
        assert_eq!(Code::of(&"A".repeat(601)), None);
        assert_eq!(Code::of(&"A".repeat(311)).map(|code| code.version), Some(10));
        assert_eq!(Code::of(&"A".repeat(312)).map(|code| code.version), Some(11));
        assert_eq!(Code::of("small letters"), None);
    }

    #[test]
    fn the_path_draws_every_dark_module() {
        let code = Code::of("STICK").expect("it fits");
        let dark: usize =
            code.modules.iter().map(|row| row.iter().filter(|dark| **dark).count()).sum();
        let drawn: usize = code
            .svg_path()
            .split('h')
            .filter_map(|part| part.split('v').next()?.parse::<usize>().ok())
            .sum();
        assert_eq!(drawn, dark);
        assert!(code.svg_path().starts_with("M4 4h7v1h-7z"), "the corner of the finder pattern");
    }
}
