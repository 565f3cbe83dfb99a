//! `cargo xtask prove`: what is too long for every day, part by part, each under half an hour.
//!
//! Stopping in the middle loses only the part under way: finished parts are kept in `tests/proof/`
//! and are not run again while the source that they speak of stays as it is.

use std::fs;
use std::time::Instant;

use crate::accuracy;
use crate::bundle::{self, Kind};
use crate::command::{cargo, run, watch};
use crate::device;
use crate::mark::mark_of;
use crate::place;
use crate::proof::{Bar, Proof, Side};
use crate::setup;
use crate::steps;
use crate::tally::Tally;
use crate::trouble::Trouble;

/// One long run.
struct Part {
    name: &'static str,
    about: &'static str,
    run: fn() -> Result<Vec<Bar>, Trouble>,
}

const PARTS: [Part; 11] = [
    Part {
        name: "properties",
        about: "every property of core and device on 5,000 cases instead of the everyday number",
        run: properties,
    },
    Part {
        name: "capture",
        about: "a scripted 4 ms stream recorded by the page for five minutes",
        run: capture,
    },
    Part {
        name: "plans",
        about: "each plan that ships, run whole by a scripted device and by keyboard",
        run: plans,
    },
    Part {
        name: "kills",
        about: "the browser killed at fifty moments of a task: at most a second of it is lost",
        run: kills,
    },
    Part {
        name: "accuracy",
        about: "every figure of 600 invented people against its truth",
        run: accuracy::long_run,
    },
    Part {
        name: "fuzz",
        about: "any bytes taken for recordings, for ten minutes: no panic, no number that is none",
        run: fuzz,
    },
    Part {
        name: "descriptors",
        about: "five million inputs taken for what a device says about itself: no panic, no cap missed",
        run: descriptors,
    },
    Part {
        name: "outside",
        about: "five million texts taken for links, rows and files: no panic, no hang, at most 64 MiB",
        run: outside,
    },
    Part {
        name: "scale",
        about: "500 fittings and 5,000 recordings: how long the list and one fitting take to open",
        run: scale,
    },
    Part {
        name: "firefox",
        about: "the main job, from a scripted device to a link, in Firefox",
        run: firefox,
    },
    Part {
        name: "device",
        about: "sticks that a kernel makes, in front of Chromium: plugged, pulled out, measured, raw",
        run: device::long_run,
    },
];

/// Cases per property in the long run.
const CASES: &str = "5000";
/// Length of the run over any bytes, in seconds.
const FUZZ_SECONDS: &str = "600";
/// Inputs taken for report descriptors, pasted text and a browser's collections.
const DESCRIPTORS: &str = "5000000";
/// Texts taken for what comes from outside.
const OUTSIDE: &str = "5000000";
/// Length of the recorded stream, in seconds.
const CAPTURE_SECONDS: &str = "300";

/// Runs the parts asked for that have no result for the present source.
///
/// # Errors
/// A word is not known, or a part could not be run. A missed bar is no error here: it is kept,
/// and fails the tests.
pub(crate) fn prove(words: &[String]) -> Result<bool, Trouble> {
    let again = words.iter().any(|word| word == "--again");
    let names: Vec<&String> = words.iter().filter(|word| *word != "--again").collect();
    if let Some(unknown) = names.iter().find(|name| PARTS.iter().all(|part| part.name != **name)) {
        let known: Vec<_> = PARTS.iter().map(|part| part.name).collect();
        return Err(Trouble::new(
            format!("There is no part `{unknown}` to prove."),
            format!("The parts are: {}.", known.join(", ")),
        ));
    }
    let mut met = true;
    for part in
        PARTS.iter().filter(|part| names.is_empty() || names.iter().any(|name| *name == part.name))
    {
        met &= one(part, again)?;
    }
    Ok(met)
}

fn one(part: &Part, again: bool) -> Result<bool, Trouble> {
    println!("\n== {}: {}", part.name, part.about);
    let core = mark_of(part.name)?;
    if let Some(kept) = Proof::read(part.name).filter(|kept| kept.core == core && !again) {
        println!("Kept from {}; --again runs it anew.", kept.made);
        kept.print();
        return Ok(kept.met());
    }
    let began = Instant::now();
    let bars = (part.run)()?;
    if mark_of(part.name)? != core {
        return Err(Trouble::new(
            "The source was changed while this part ran, so its result belongs to neither state.",
            format!("Run `cargo xtask prove {}` again.", part.name),
        ));
    }
    let proof = Proof {
        kind: "proof".to_owned(),
        part: part.name.to_owned(),
        core,
        made: jiff::Timestamp::now().strftime("%Y-%m-%dT%H:%M:%SZ").to_string(),
        seconds: began.elapsed().as_secs_f64().round(),
        bars,
    };
    proof.write()?;
    proof.print();
    println!("Kept in {}", place::short(&Proof::path(part.name)));
    Ok(proof.met())
}

fn properties() -> Result<Vec<Bar>, Trouble> {
    let mut cargo = cargo();
    cargo.args(["test", "--no-fail-fast", "-p", "fitting", "-p", "device", "-p", "checks"]);
    cargo.args(["-p", "analysis"]);
    cargo.env("PROPTEST_CASES", CASES);
    let printed = watch(&mut cargo)?;
    let Tally { passed, failed } = Tally::of_run(&printed.text, printed.success);
    Ok(vec![
        bar("tests failed", failed, Side::AtMost, 0.0),
        bar("tests passed", passed, Side::AtLeast, 1.0),
        bar("cases per property", CASES.parse().unwrap_or(0), Side::AtLeast, 5000.0),
    ])
}

fn fuzz() -> Result<Vec<Bar>, Trouble> {
    tried(&[], &[FUZZ_SECONDS], 1_000.0, 250.0)
}

fn descriptors() -> Result<Vec<Bar>, Trouble> {
    let words = ["descriptors", DESCRIPTORS];
    tried(&["--profile", "accuracy"], &words, 5_000_000.0, 1_000_000.0)
}

fn outside() -> Result<Vec<Bar>, Trouble> {
    let words = ["outside", OUTSIDE];
    tried(&["--profile", "accuracy"], &words, 5_000_000.0, 100_000.0)
}

fn scale() -> Result<Vec<Bar>, Trouble> {
    long_browser_run("scale", "SCALE_RESULT", None)
}

fn firefox() -> Result<Vec<Bar>, Trouble> {
    let path = setup::firefox()?.to_string_lossy().into_owned();
    long_browser_run("firefox", "FIREFOX_RESULT", Some(("FIREFOX", &path)))
}

/// The program ends at the first broken promise, and tells at the end how far it came.
fn tried(how: &[&str], words: &[&str], least: f64, least_read: f64) -> Result<Vec<Bar>, Trouble> {
    #[derive(serde::Deserialize, Default)]
    struct Told {
        tried: usize,
        measured: usize,
        slowest_us: usize,
        largest_bytes: usize,
    }
    let mut cargo = cargo();
    cargo.args(["run", "--quiet"]).args(how).args(["-p", "checks", "--bin", "fuzz", "--"]);
    cargo.args(words);
    let printed = watch(&mut cargo)?;
    let last = printed.text.lines().last().unwrap_or("");
    let told: Told = serde_json::from_str(last).unwrap_or_default();
    Ok(vec![
        bar("promises broken", usize::from(!printed.success), Side::AtMost, 0.0),
        bar("inputs tried", told.tried, Side::AtLeast, least),
        bar("inputs read and measured", told.measured, Side::AtLeast, least_read),
        // Bounded time: a second for the slowest, which is a stall of the machine already.
        bar("milliseconds of the slowest", told.slowest_us / 1_000, Side::AtMost, 1_000.0),
        bar("MiB of the largest", told.largest_bytes >> 20, Side::AtMost, 64.0),
    ])
}

fn capture() -> Result<Vec<Bar>, Trouble> {
    let length = ("CAPTURE_SECONDS", CAPTURE_SECONDS);
    long_browser_run("capture", "CAPTURE_RESULT", Some(length))
}

fn plans() -> Result<Vec<Bar>, Trouble> {
    long_browser_run("plans", "PLANS_RESULT", None)
}

fn kills() -> Result<Vec<Bar>, Trouble> {
    long_browser_run("kills", "KILLS_RESULT", None)
}

/// The run writes its own bars: it knows what it measured.
fn long_browser_run(
    name: &str,
    result_variable: &str,
    more: Option<(&str, &str)>,
) -> Result<Vec<Bar>, Trouble> {
    let browser = setup::browser()?;
    let node = setup::node()?;
    setup::browser_packages(&node)?;
    bundle::build(Kind::Release)?;
    let result = place::browser_runs().join("out").join(format!("{name}.json"));
    let _ = fs::remove_file(&result);
    let file = format!("long/{name}.test.mjs");
    let mut command = steps::browser_runs(Some(&node), Some(&browser), &file)?;
    command.env(result_variable, &result).envs(more);
    run(&mut command, "Read what the run printed above.")?;
    let text = fs::read_to_string(&result).map_err(|error| Trouble::file(&result, &error))?;
    serde_json::from_str(&text).map_err(|error| {
        Trouble::new(
            format!("The run left a result that cannot be read: {error}."),
            format!("Run `cargo xtask prove {name}` again."),
        )
    })
}

fn bar(name: &str, measured: usize, side: Side, bar: f64) -> Bar {
    // Counts of tests are far below what a u32 holds.
    let measured = f64::from(u32::try_from(measured).unwrap_or(u32::MAX));
    Bar { name: name.to_owned(), measured, side, bar, known_short: None, floor: None }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mark::{COVERS, covers};

    #[test]
    fn an_unknown_part_is_named_with_those_there_are() {
        let trouble = prove(&["everything".to_owned()]).unwrap_err();
        assert!(trouble.what.contains("`everything`"));
        assert!(trouble.todo.contains("properties") && trouble.todo.contains("capture"));
    }

    #[test]
    fn every_part_that_runs_the_page_speaks_of_core_device_and_page() {
        for name in ["capture", "plans", "kills", "scale", "firefox", "device"] {
            assert_eq!(covers(name), ["app/fitting", "app/device", "app/page"], "{name}");
        }
        let names: Vec<&str> = PARTS.iter().map(|part| part.name).collect();
        assert_eq!(COVERS.map(|(name, _)| name).to_vec(), names);
        for part in &PARTS {
            assert!(covers(part.name).iter().all(|folder| place::root().join(folder).is_dir()));
        }
    }

    #[test]
    fn names_of_parts_are_names_of_files() {
        for part in &PARTS {
            assert!(part.name.chars().all(|letter| letter.is_ascii_lowercase() || letter == '_'));
        }
    }
}
