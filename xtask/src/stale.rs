//! Proofs that are known to be older than the source they speak of, with the day and the reason: the
//! long runs take hours, and are not made again for every change. An entry that is no longer needed
//! fails the tests.

use std::fs;
use std::path::PathBuf;

use serde::Deserialize;

use crate::proof;
use crate::trouble::Trouble;

/// One part whose proof is known to be stale.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Stale {
    /// The part of `cargo xtask prove`.
    pub(crate) part: String,
    /// Since when it is listed, a date.
    pub(crate) since: String,
    /// Why it was not made again.
    pub(crate) reason: String,
}

/// Where the list is.
pub(crate) fn path() -> PathBuf {
    proof::folder().join("stale.json")
}

/// The list; none where there is no file.
///
/// # Errors
/// The file cannot be read, or says something else.
pub(crate) fn read() -> Result<Vec<Stale>, Trouble> {
    let path = path();
    if !path.exists() {
        return Ok(Vec::new());
    }
    let text = fs::read_to_string(&path).map_err(|error| Trouble::file(&path, &error))?;
    parse(&text)
}

fn parse(text: &str) -> Result<Vec<Stale>, Trouble> {
    let list: Vec<Stale> = serde_json::from_str(text).map_err(|error| {
        Trouble::new(
            format!("The list of stale proofs cannot be read: {error}."),
            "Every entry has a `part`, a date in `since`, and a `reason`.",
        )
    })?;
    let lacks = |one: &&Stale| {
        one.since.parse::<jiff::civil::Date>().is_err() || one.reason.trim().is_empty()
    };
    match list.iter().find(lacks) {
        Some(one) => Err(Trouble::new(
            format!("The entry of `{}` in the list of stale proofs is not whole.", one.part),
            "Every entry has a `part`, a date in `since`, and a `reason`.",
        )),
        None => Ok(list),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_entry_says_since_when_and_why() {
        let entry = |since: &str, reason: &str| {
            format!(r#"[{{"part": "plans", "since": "{since}", "reason": "{reason}"}}]"#)
        };
        let list = parse(&entry("2026-11-30", "It takes eleven minutes.")).unwrap();
        assert_eq!((list.len(), list[0].part.as_str()), (1, "plans"));
        for text in [entry("soon", "Why not."), entry("2026-11-30", " "), "{}".to_owned()] {
            assert!(parse(&text).is_err(), "{text}");
        }
    }
}
