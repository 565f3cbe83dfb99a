//! What a long run leaves behind in `tests/proof/`, and how `cargo xtask test` reads it.

use std::fs;
use std::path::PathBuf;

use serde::{Deserialize, Serialize};

use crate::mark::mark_of;
use crate::place;
use crate::size::files;
use crate::stale::{self, Stale};
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
    /// The value that such a bar had: it fails once it is worse. Missing in proofs of the first form.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) floor: Option<f64>,
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

    /// Whether nothing unknown is wrong with it: it is cleared, or known to be missed and no worse
    /// than it was.
    pub(crate) fn passes(&self) -> bool {
        let is_no_worse = |floor: f64| match self.side {
            Side::AtLeast | Side::Above => self.measured >= floor,
            Side::AtMost => self.measured <= floor,
        };
        self.met() || self.known_short.is_some() && self.floor.is_none_or(is_no_worse)
    }

    /// For the eye.
    fn line(&self) -> String {
        let mark = match (self.met(), self.passes()) {
            (true, _) => "ok    ",
            (false, true) => "waived",
            (false, false) => "MISSED",
        };
        let side = match self.side {
            Side::AtLeast => "at least",
            Side::AtMost => "at most",
            Side::Above => "above",
        };
        format!("{mark}  {}: {} ({side} {})", self.name, self.measured, self.bar)
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

    /// Whether the source that it speaks of is still as it was.
    ///
    /// # Errors
    /// The source cannot be read.
    pub(crate) fn is_fresh(
        &self,
        mark: impl Fn(&str) -> Result<String, Trouble>,
    ) -> Result<bool, Trouble> {
        Ok(self.core == mark(&self.part)?)
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
            println!("  {}", bar.line());
        }
    }

    /// Prints how many bars are met, and each value that misses its bar.
    fn print_missed(&self) {
        let (met, missed): (Vec<_>, Vec<_>) = self.bars.iter().partition(|bar| bar.met());
        println!("  {} of {} bars met", met.len(), self.bars.len());
        for bar in missed {
            println!("  {}", bar.line());
        }
    }
}

pub(crate) fn folder() -> PathBuf {
    place::root().join("tests").join("proof")
}

/// Reads every kept proof: a missed bar fails, an unreadable file fails, and so does a proof of
/// another state of the source, unless [`stale`] lists it.
///
/// # Errors
/// The source cannot be read.
pub(crate) fn check() -> Result<Tally, Trouble> {
    let mut tally = Tally::default();
    let listed = stale::read()?;
    for file in files(&folder()) {
        if file.extension().is_none_or(|ending| ending != "json") || file == stale::path() {
            continue;
        }
        let text = fs::read_to_string(&file).map_err(|error| Trouble::file(&file, &error))?;
        println!("{}", place::short(&file));
        tally += Tally::one(judge(&text, mark_of, &listed)?);
    }
    for one in &listed {
        let is_needed = match Proof::read(&one.part) {
            Some(proof) => !proof.is_fresh(mark_of)?,
            None => false,
        };
        if !is_needed {
            println!("  {} has no stale proof: its entry has to go.", one.part);
        }
        tally += Tally::one(is_needed);
    }
    if tally == Tally::default() {
        println!("Warning: no long run has been kept yet; `cargo xtask prove` makes them.");
    }
    Ok(tally)
}

fn judge(
    text: &str,
    mark: impl Fn(&str) -> Result<String, Trouble>,
    listed: &[Stale],
) -> Result<bool, Trouble> {
    let Ok(proof) = serde_json::from_str::<Proof>(text) else {
        println!("  This file is no proof, or was damaged.");
        return Ok(false);
    };
    proof.print_missed();
    if proof.is_fresh(mark)? {
        return Ok(proof.met());
    }
    let Proof { part, made, .. } = &proof;
    println!(
        "  Made {made} with another state of the source; `cargo xtask prove {part}` renews it."
    );
    let known = listed.iter().find(|one| one.part == *part);
    match known {
        Some(Stale { since, reason, .. }) => println!("  Known since {since}: {reason}"),
        None => println!("  It is not listed in {}.", place::short(&stale::path())),
    }
    Ok(known.is_some() && proof.met())
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
                floor: None,
            }],
        }
    }

    #[test]
    fn a_missed_bar_fails_and_so_does_an_older_source_that_is_not_listed() {
        let listed = |part: &str| Stale {
            part: part.to_owned(),
            since: "2026-01-02".to_owned(),
            reason: "It takes hours.".to_owned(),
        };
        let judge = |text: &str, core: &str, listed: &[Stale]| {
            judge(text, |_| Ok(core.to_owned()), listed).unwrap()
        };
        let good = serde_json::to_string(&proof(0.9995)).unwrap();
        assert!(judge(&good, "0123456789abcdef", &[]));
        assert!(!judge(&good, "another core", &[]));
        assert!(!judge(&good, "another core", &[listed("plans")]));
        assert!(judge(&good, "another core", &[listed("capture")]));
        let bad = serde_json::to_string(&proof(0.99)).unwrap();
        assert!(!judge(&bad, "0123456789abcdef", &[]));
        assert!(!judge(&bad, "another core", &[listed("capture")]), "a list waives no bar");
    }

    #[test]
    fn what_measured_nothing_proves_nothing() {
        assert_eq!(judge("{}", mark_of, &[]), Ok(false));
        assert_eq!(judge("not json", mark_of, &[]), Ok(false));
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
            floor: None,
        };
        assert!(bar(Side::AtMost, 2.0).met());
        assert!(!bar(Side::AtMost, 2.1).met());
        assert!(bar(Side::AtLeast, 2.0).met());
        assert!(!bar(Side::AtLeast, 1.9).met());
    }

    #[test]
    fn a_waived_bar_may_not_get_worse() {
        let known_short = Some("Known, and why.".to_owned());
        let waived = |measured, floor| Bar {
            name: String::new(),
            measured,
            side: Side::AtLeast,
            bar: 2.0,
            known_short: known_short.clone(),
            floor,
        };
        assert!(waived(1.8, Some(1.8)).passes() && waived(1.9, Some(1.8)).passes());
        assert!(!waived(1.7, Some(1.8)).passes());
        assert!(waived(1.9, None).passes(), "of the first form");
    }
}
