//! `cargo xtask accuracy`: how near the truth the core comes, over invented people.
//!
//! The work is done by the program `accuracy` of the checks (`tests/src/accuracy`); this builds
//! it optimised, runs it, compares with the golden file, and writes the table of the README.

use std::fs;
use std::path::{Path, PathBuf};

use serde::Deserialize;

use crate::command::{cargo, run};
use crate::place;
use crate::proof::{self, Side};
use crate::tally::Tally;
use crate::trouble::Trouble;

mod readme;

/// People in every run of the tests.
const EVERY_DAY: u64 = 300;
/// People in the long run.
const LONG: u64 = 2000;

/// What of the result is read here; the whole form is `tests/src/accuracy/report.rs`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
struct Report {
    core_version: String,
    people: usize,
    bars: Vec<Bar>,
    figures: Vec<Line>,
    exact: Vec<Exact>,
    dead_zone: DeadZone,
    conventions: Conventions,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
struct Bar {
    code: String,
    name: String,
    unit: String,
    measured: Option<f64>,
    wanted: Wanted,
    of: usize,
    met: bool,
    known_short: Option<String>,
}

#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(rename_all = "snake_case")]
enum Wanted {
    AtMost(f64),
    AtLeast(f64),
    Above(f64),
    Within(f64, f64),
}

#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
struct Share {
    count: usize,
    of: usize,
    share: f64,
    low: f64,
    high: f64,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
struct Line {
    figure: String,
    name: String,
    unit: String,
    people: usize,
    told: Share,
    median_error: Option<f64>,
    high_error: Option<f64>,
    covered: Share,
    covered_all: Share,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
struct Exact {
    what: String,
    right: Share,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
struct DeadZone {
    firm: Share,
    kept: Share,
    kept_at_first: Share,
    ratio: Option<f64>,
    ratio_high: Option<f64>,
    asked_seconds: Option<f64>,
    asked_seconds_high: Option<f64>,
    asked_at_most_seconds: f64,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
struct Conventions {
    reach_kept: f64,
    over_target: f64,
    conventions: Vec<Against>,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
struct Against {
    convention: String,
    factor_at_equal_reach: f64,
    over_target: f64,
    factor_at_equal_target: f64,
    reach_kept: f64,
}

/// The result that every run of the tests compares with.
fn golden() -> PathBuf {
    place::root().join("tests").join("golden").join("accuracy.json")
}

/// The result of the long run; the table of the README is written from it.
fn long_result() -> PathBuf {
    place::root().join("tests").join("accuracy").join("people.json")
}

/// What was asked for on the command line.
#[derive(Debug, Default, PartialEq, Eq)]
struct Wish {
    /// Words for the program.
    program: Vec<String>,
    /// Write the golden file anew.
    update: bool,
    /// Write the table of the README.
    readme: bool,
}

impl Wish {
    fn read(words: &[String]) -> Result<Self, Trouble> {
        let mut wish = Self::default();
        let mut words = words.iter();
        while let Some(word) = words.next() {
            match word.as_str() {
                "--update" => wish.update = true,
                "--readme" => wish.readme = true,
                "--people" | "--first" | "--threads" | "--json" => {
                    let value = words.next().ok_or_else(|| {
                        Trouble::new(format!("`{word}` wants a value."), "Say one after it.")
                    })?;
                    wish.program.extend([word.clone(), value.clone()]);
                }
                other => {
                    return Err(Trouble::new(
                        format!("`{other}` is not known to `cargo xtask accuracy`."),
                        "`cargo xtask help` lists what is.",
                    ));
                }
            }
        }
        Ok(wish)
    }
}

/// Obeys `cargo xtask accuracy`. False when a bar was missed.
///
/// # Errors
/// The program cannot be built, or a file cannot be read or written.
pub(crate) fn accuracy(words: &[String]) -> Result<bool, Trouble> {
    let wish = Wish::read(words)?;
    if wish.update {
        let text = result_of(EVERY_DAY)?;
        fs::write(golden(), text).map_err(|error| Trouble::file(&golden(), &error))?;
        println!("Written: {}", place::short(&golden()));
    }
    if wish.readme {
        readme::write(&read(&long_result())?)?;
        println!("Written: the table of README.md from {}", place::short(&long_result()));
    }
    if wish.update || wish.readme {
        return Ok(true);
    }
    build()?;
    let mut program = program();
    program.args(&wish.program);
    println!("  $ accuracy {}", wish.program.join(" "));
    let status = program.status().map_err(|error| {
        Trouble::new(format!("The program could not be started: {error}."), "Try again.")
    })?;
    Ok(status.success())
}

/// The step of `cargo xtask test`: the golden figure, every bar, and the README's table.
///
/// # Errors
/// The program cannot be built or run, or a file cannot be read.
pub(crate) fn test() -> Result<Tally, Trouble> {
    let text = result_of(EVERY_DAY)?;
    let report = parse(&text, "the present run")?;
    let mut tally = Tally::default();
    for bar in &report.bars {
        if !bar.met {
            println!("  {}", bar.line());
        }
        tally += Tally::one(bar.met || bar.known_short.is_some());
    }
    let kept = fs::read_to_string(golden()).map_err(|error| Trouble::file(&golden(), &error))?;
    let same = kept == text;
    if !same {
        println!("  The result is not the golden one; the first lines that differ:");
        let differing = kept.lines().zip(text.lines()).filter(|(kept, now)| kept != now);
        for (kept, now) in differing.take(20) {
            println!("  - {}\n  + {}", kept.trim(), now.trim());
        }
        println!("  After a wanted change of the core: `cargo xtask accuracy --update`.");
    }
    tally += Tally::one(same);
    let stands = readme::stands(&read(&long_result())?)?;
    if !stands {
        println!("  The README's table is not that of {};", place::short(&long_result()));
        println!("  `cargo xtask accuracy --readme` writes it.");
    }
    tally += Tally::one(stands);
    Ok(tally)
}

/// The long run: 2,000 people, kept whole for the README's table, its bars for the proof.
///
/// # Errors
/// The program cannot be built or run, or a file cannot be written.
pub(crate) fn long_run() -> Result<Vec<proof::Bar>, Trouble> {
    let text = result_of(LONG)?;
    let path = long_result();
    let write = || -> std::io::Result<()> {
        if let Some(folder) = path.parent() {
            fs::create_dir_all(folder)?;
        }
        fs::write(&path, &text)
    };
    write().map_err(|error| Trouble::file(&path, &error))?;
    let report = parse(&text, "the long run")?;
    Ok(report.bars.iter().flat_map(Bar::proven).collect())
}

impl Bar {
    /// For the eye.
    fn line(&self) -> String {
        let mark = match (self.met, &self.known_short) {
            (true, _) => "ok    ",
            (false, Some(_)) => "short ",
            (false, None) => "MISSED",
        };
        let why = self.known_short.as_ref().map_or(String::new(), |why| format!(" Known: {why}"));
        format!("{mark}  {}: {} ({}).{why}", self.name, self.value(), self.wanted.words())
    }

    fn value(&self) -> String {
        self.measured.map_or("nothing".to_owned(), |value| with_unit(value, &self.unit))
    }

    /// As bars with one side each.
    fn proven(&self) -> Vec<proof::Bar> {
        let bar = |side, bar| proof::Bar {
            name: format!("{}, {}", self.name, self.unit),
            // What nobody could be measured on clears no bar.
            measured: self
                .measured
                .unwrap_or(f64::MAX * if side == Side::AtMost { 1.0 } else { -1.0 }),
            side,
            bar,
            known_short: self.known_short.clone(),
            floor: None,
        };
        match self.wanted {
            Wanted::AtMost(most) => vec![bar(Side::AtMost, most)],
            Wanted::AtLeast(least) => vec![bar(Side::AtLeast, least)],
            Wanted::Above(bound) => vec![bar(Side::Above, bound)],
            Wanted::Within(low, high) => vec![bar(Side::AtLeast, low), bar(Side::AtMost, high)],
        }
    }
}

impl Wanted {
    fn words(self) -> String {
        match self {
            Self::AtMost(most) => format!("at most {most}"),
            Self::AtLeast(least) => format!("at least {least}"),
            Self::Above(bound) => format!("above {bound}"),
            Self::Within(low, high) => format!("{low} to {high}"),
        }
    }
}

/// A number with its unit as it is written: degrees without a space.
fn with_unit(value: f64, unit: &str) -> String {
    if unit == "°" { format!("{value}°") } else { format!("{value} {unit}") }
}

fn build() -> Result<(), Trouble> {
    let mut cargo = cargo();
    cargo.args(["build", "--profile", "accuracy", "-p", "checks", "--bin", "accuracy"]);
    run(&mut cargo, "Read what the compiler said above.")
}

fn program() -> std::process::Command {
    // Cargo knows where it puts what it builds.
    let mut cargo = cargo();
    cargo.args([
        "run",
        "--quiet",
        "--profile",
        "accuracy",
        "-p",
        "checks",
        "--bin",
        "accuracy",
        "--",
    ]);
    cargo
}

/// The result of so many people, as a file would hold it.
fn result_of(people: u64) -> Result<String, Trouble> {
    build()?;
    let folder = place::root().join("target").join("accuracy");
    let path = folder.join(format!("{people}-people.json"));
    fs::create_dir_all(&folder).map_err(|error| Trouble::file(&folder, &error))?;
    let _ = fs::remove_file(&path);
    let mut program = program();
    program.args(["--people", &people.to_string(), "--json"]).arg(&path);
    // A missed bar ends it with a failure, and the result is there all the same.
    program.status().map_err(|error| {
        Trouble::new(format!("The program could not be started: {error}."), "Try again.")
    })?;
    fs::read_to_string(&path).map_err(|error| Trouble::file(&path, &error))
}

fn read(path: &Path) -> Result<Report, Trouble> {
    let text = fs::read_to_string(path).map_err(|error| Trouble::file(path, &error))?;
    parse(&text, &place::short(path))
}

fn parse(text: &str, what: &str) -> Result<Report, Trouble> {
    serde_json::from_str(text).map_err(|error| {
        Trouble::new(
            format!("The result of {what} cannot be read: {error}."),
            "Run `cargo xtask prove accuracy --again`.",
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bar(wanted: Wanted, measured: Option<f64>) -> Bar {
        Bar {
            code: "code".to_owned(),
            name: "name".to_owned(),
            unit: "%".to_owned(),
            measured,
            wanted,
            of: 1,
            met: false,
            known_short: None,
        }
    }

    #[test]
    fn bars_of_two_sides_are_proven_as_two() {
        let proven = bar(Wanted::Within(92.0, 98.0), Some(99.0)).proven();
        assert!(proven[0].met() && !proven[1].met());
        for wanted in [Wanted::AtMost(1.0), Wanted::AtLeast(1.0), Wanted::Above(1.0)] {
            assert!(bar(wanted, None).proven().iter().all(|bar| !bar.met()));
        }
    }

    #[test]
    fn words_are_read_or_named() {
        let words =
            |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect::<Vec<_>>();
        let wish = Wish::read(&words(&["--people", "20", "--readme"])).unwrap();
        assert!(wish.readme && wish.program == ["--people", "20"]);
        assert!(Wish::read(&words(&["--people"])).unwrap_err().what.contains("--people"));
        assert!(Wish::read(&words(&["--many"])).unwrap_err().what.contains("--many"));
    }
}
