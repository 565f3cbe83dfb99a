//! Rows of questions.

/// Yes, no, not asked.
pub const YES_NO: [&str; 3] = ["yes", "no", "not asked"];
/// Nothing was said.
pub const NOT_SAID: &str = "not said";
/// Nothing was answered in a card.
pub const NOTHING: &str = "nothing said yet; can be skipped";

/// The name of the control for a side.
pub fn side_of(name: &str) -> String {
    format!("{name}: which way")
}
