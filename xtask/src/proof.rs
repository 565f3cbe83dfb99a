//! What a long run leaves behind in `tests/proof/`, and how `cargo xtask test` reads it.

use std::fs;
use std::path::PathBuf;

use serde::{Deserialize, Serialize};

use crate::mark::mark_of;
use crate::place;
use crate::size::files;
use crate::tally::Tally;
use crate::trouble::Trouble;

/// Which side of a bar is the good one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(crate) enum Side {
    /// The measured value must be the bar or more.
    AtLeast,
    /// The measured value must be the bar or less.
    AtMost,
    /// The measured value must be more than the bar.
    Above,
}

/// One measured value against the bar it has to clear.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Bar {
    /// What was measured, with its unit.
    pub(crate) name: String,
    /// The value.
    pub(crate) measured: f64,
    /// Which side of `bar` is good.
    pub(crate) side: Side,
    /// The bar.
    pub(crate) bar: f64,
    /// Why it is known to be missed, and what was tried; such a bar fails nothing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) known_short: Option<String>,
}

impl Bar {
    /// Whether the bar is cleared. A value that is no number clears nothing.
    pub(crate) fn met(&self) -> bool {
        match self.side {
            Side::AtLeast => self.measured >= self.bar,
            Side::AtMost => self.measured <= self.bar,
            Side::Above => self.measured > self.bar,
        }
    }

    /// Whether nothing unknown is wrong with it.
    pub(crate) fn passes(&self) -> bool {
        self.met() || self.known_short.is_some()
    }
}

/// The result of one long run.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Proof {
    /// Always "proof".
    pub(crate) kind: String,
    /// The part of `cargo xtask prove` that made it.
    pub(crate) part: String,
    /// The mark of the source it was made with.
    pub(crate) core: String,
    /// When, as an RFC 3339 time.
    pub(crate) made: String,
    /// How long it took, in seconds.
    pub(crate) seconds: f64,
    /// What was measured.
    pub(crate) bars: Vec<Bar>,
}

impl Proof {
    /// Whether every bar is cleared or known to be missed; a proof that measured nothing proves
    /// nothing.
    pub(crate) fn met(&self) -> bool {
        !self.bars.is_empty() && self.bars.iter().all(Bar::passes)
    }

    /// Where the proof of a part is kept.
    pub(crate) fn path(part: &str) -> PathBuf {
        folder().join(format!("{part}.json"))
    }

    /// The kept proof of a part, if there is one that can be read.
    pub(crate) fn read(part: &str) -> Option<Self> {
        serde_json::from_str(&fs::read_to_string(Self::path(part)).ok()?).ok()
    }

    /// Keeps it.
    ///
    /// # Errors
    /// It cannot be written.
    pub(crate) fn write(&self) -> Result<(), Trouble> {
        let path = Self::path(&self.part);
        let write = || -> std::io::Result<()> {
            fs::create_dir_all(folder())?;
            let mut text = serde_json::to_string_pretty(self)?;
            text.push('\n');
            // Whole or not at all: a run that is stopped here leaves the old proof.
            let half = path.with_extension("half");
            fs::write(&half, text)?;
            fs::rename(&half, &path)
        };
        write().map_err(|error| Trouble::file(&path, &error))
    }

    /// Prints each value beside its bar.
    pub(crate) fn print(&self) {
        for bar in &self.bars {
            let mark = match (bar.met(), &bar.known_short) {
                (true, _) => "ok    ",
                (false, Some(_)) => "short ",
                (false, None) => "MISSED",
            };
            let side = match bar.side {
                Side::AtLeast => "at least",
                Side::AtMost => "at most",
                Side::Above => "above",
            };
            println!("  {mark}  {}: {} ({side} {})", bar.name, bar.measured, bar.bar);
        }
    }
}

fn folder() -> PathBuf {
    place::root().join("tests").join("proof")
}

/// Reads every kept proof: a missed bar fails, an unreadable file fails, an older source is
/// warned of.
///
/// # Errors
/// The source cannot be read.
pub(crate) fn check() -> Result<Tally, Trouble> {
    let mut tally = Tally::default();
    for file in files(&folder()) {
        if file.extension().is_none_or(|ending| ending != "json") {
            continue;
        }
        let text = fs::read_to_string(&file).map_err(|error| Trouble::file(&file, &error))?;
        println!("{}", place::short(&file));
        tally += Tally::one(judge(&text, mark_of)?);
    }
    if tally == Tally::default() {
        println!("Warning: no long run has been kept yet; `cargo xtask prove` makes them.");
    }
    Ok(tally)
}

fn judge(text: &str, mark: impl Fn(&str) -> Result<String, Trouble>) -> Result<bool, Trouble> {
    let Ok(proof) = serde_json::from_str::<Proof>(text) else {
        println!("  This file is no proof, or was damaged.");
        return Ok(false);
    };
    proof.print();
    if proof.core != mark(&proof.part)? {
        let Proof { part, made, .. } = &proof;
        println!(
            "  Warning: made {made} with another state of the source; `cargo xtask prove {part}` \
             renews it."
        );
    }
    Ok(proof.met())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn proof(measured: f64) -> Proof {
        Proof {
            kind: "proof".to_owned(),
            part: "capture".to_owned(),
            core: "0123456789abcdef".to_owned(),
            made: "2026-01-01T00:00:00Z".to_owned(),
            seconds: 1.0,
            bars: vec![Bar {
                name: "share caught".to_owned(),
                measured,
                side: Side::AtLeast,
                bar: 0.999,
                known_short: None,
            }],
        }
    }

    #[test]
    fn a_missed_bar_fails_and_an_older_source_only_warns() {
        let judge = |text: &str, core: &str| judge(text, |_| Ok(core.to_owned())).unwrap();
        let good = serde_json::to_string(&proof(0.9995)).unwrap();
        assert!(judge(&good, "0123456789abcdef"));
        assert!(judge(&good, "another core"));
        let bad = serde_json::to_string(&proof(0.99)).unwrap();
        assert!(!judge(&bad, "0123456789abcdef"));
    }

    #[test]
    fn what_measured_nothing_proves_nothing() {
        assert_eq!(judge("{}", mark_of), Ok(false));
        assert_eq!(judge("not json", mark_of), Ok(false));
        assert!(!Proof { bars: vec![], ..proof(1.0) }.met());
        assert!(!proof(f64::NAN).met());
    }

    #[test]
    fn both_sides_of_a_bar() {
        let bar = |side, measured| Bar {
            name: String::new(),
            measured,
            side,
            bar: 2.0,
            known_short: None,
        };
        assert!(bar(Side::AtMost, 2.0).met());
        assert!(!bar(Side::AtMost, 2.1).met());
        assert!(bar(Side::AtLeast, 2.0).met());
        assert!(!bar(Side::AtLeast, 1.9).met());
    }
}
