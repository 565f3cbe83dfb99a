//! Bars that are known to be missed, why, and what was tried. An entry whose bar is cleared is
//! told too: it has to go.

/// Codes with reasons.
const KNOWN_SHORT: &[(&str, &str)] = &[];

/// Why this bar is known to fall short, if it is.
#[must_use]
pub fn known_short(code: &str) -> Option<&'static str> {
    KNOWN_SHORT.iter().find(|known| known.0 == code).map(|known| known.1)
}

/// The codes of all bars that are known to fall short.
pub fn known_codes() -> impl Iterator<Item = &'static str> {
    KNOWN_SHORT.iter().map(|known| known.0)
}
