//! `cargo xtask accuracy`: how near the truth the core comes, over invented people.
//!
//! The work is done by the program `accuracy` of the checks (`tests/src/accuracy`); this builds
//! it optimised, runs it, compares with the golden file, and writes the table of the README.

use std::fs;
use std::path::{Path, PathBuf};

use crate::command::{cargo, run};
use crate::place;
use crate::proof::{self, Side};
use crate::tally::Tally;
use crate::trouble::Trouble;
use report::{Bar, Report, Waived, Wanted};

mod readme;
mod report;

/// People in every run of the tests, of those whom everything may be set on.
const EVERY_DAY: Run = Run { people: 300, seeds: "tuning" };
/// People in the long run, of those whom nothing was set on: the reported numbers are theirs.
const LONG: Run = Run { people: 600, seeds: "reporting" };

/// How many people, and of which set of `tests/src/accuracy/seeds.rs`.
#[derive(Debug, Clone, Copy)]
struct Run {
    people: u64,
    seeds: &'static str,
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
                "--people" | "--seeds" | "--first" | "--threads" | "--json" | "--cases" => {
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
        tally += Tally::one(bar.proven().iter().all(proof::Bar::passes));
    }
    tally += Tally::one(report.is_of(EVERY_DAY));
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

/// The long run: 600 people, kept whole for the README's table, its bars for the proof.
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
    if !report.is_of(LONG) {
        return Err(Trouble::new(
            format!("The long run is of the set `{}`, not `{}`.", report.seeds, LONG.seeds),
            "What is reported comes from people whom nothing was set on.",
        ));
    }
    Ok(report.bars.iter().flat_map(Bar::proven).collect())
}

impl Report {
    /// Whether it is of the people of this run.
    fn is_of(&self, run: Run) -> bool {
        self.seeds == run.seeds
    }
}

impl Bar {
    /// For the eye.
    fn line(&self) -> String {
        let mark = match (self.met, self.proven().iter().all(proof::Bar::passes)) {
            (true, _) => "ok    ",
            (false, true) => "waived",
            (false, false) => "MISSED",
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
            floor: self.floor,
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
fn result_of(run: Run) -> Result<String, Trouble> {
    build()?;
    let folder = place::root().join("target").join("accuracy");
    let people = run.people.to_string();
    let path = folder.join(format!("{people}-people.json"));
    fs::create_dir_all(&folder).map_err(|error| Trouble::file(&folder, &error))?;
    let _ = fs::remove_file(&path);
    let mut program = program();
    program.args(["--people", &people, "--seeds", run.seeds, "--json"]).arg(&path);
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

/// A result with what is waived laid over it; one from before there were two sets of people brings
/// its own.
fn parse(text: &str, what: &str) -> Result<Report, Trouble> {
    let mut report: Report = serde_json::from_str(text).map_err(|error| {
        Trouble::new(
            format!("The result of {what} cannot be read: {error}."),
            "Run `cargo xtask prove accuracy --again`.",
        )
    })?;
    if !report.seeds.is_empty() {
        report.waive(&waived()?);
    }
    Ok(report)
}

/// The bars that are known to be missed, with their floors.
fn waived() -> Result<Vec<Waived>, Trouble> {
    let path = place::root().join("tests").join("accuracy").join("waived.json");
    let text = fs::read_to_string(&path).map_err(|error| Trouble::file(&path, &error))?;
    serde_json::from_str(&text).map_err(|error| {
        Trouble::new(
            format!("The list of waived bars cannot be read: {error}."),
            "`tests/accuracy/README.md` says what stands in it.",
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
            floor: None,
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
    fn what_is_reported_is_of_people_whom_nothing_was_set_on() {
        assert_eq!((LONG.seeds, EVERY_DAY.seeds), ("reporting", "tuning"));
        let golden = parse(&fs::read_to_string(golden()).unwrap(), "golden").unwrap();
        assert!(golden.is_of(EVERY_DAY) && !golden.is_of(LONG));
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
