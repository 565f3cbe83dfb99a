//! `cargo xtask prove device`: sticks that a kernel makes of report descriptors, in front of a real
//! Chromium with the built page, moved by a scripted hand (`tests/rig`).

use std::fs;
use std::path::{Path, PathBuf};

use crate::bundle::{self, Kind};
use crate::command::{ask, command, run, watch};
use crate::place;
use crate::proof::{Bar, Side};
use crate::trouble::Trouble;

/// The scenarios of `tests/rig/guest/scenarios.py`, in the order in which they are played.
const SCENARIOS: [&str; 6] =
    ["another_one", "unplugged_in_tasks", "two", "measure", "raw_8", "raw_16"];

/// Plays every scenario, each in a small Linux of its own.
///
/// # Errors
/// The images cannot be built here, or the page cannot be.
pub(crate) fn long_run() -> Result<Vec<Bar>, Trouble> {
    let images = images()?;
    bundle::build(Kind::Release)?;
    let mut bars = Vec::new();
    for scenario in SCENARIOS {
        println!("\n-- {scenario}");
        bars.extend(play(&images, scenario)?);
    }
    Ok(bars)
}

fn rig() -> PathBuf {
    place::root().join("tests").join("rig")
}

/// What one scenario measured; a small Linux that gave nothing has missed a bar, too.
fn play(images: &Path, scenario: &str) -> Result<Vec<Bar>, Trouble> {
    let out = place::browser_runs().join("out").join("device").join(scenario);
    let mut command = command(rig().join("run.sh"));
    command.arg(images).arg(place::dist()).arg(scenario).arg(&out);
    let played = watch(&mut command)?.success;
    let mut bars: Vec<Bar> = fs::read_to_string(out.join("bars.json"))
        .ok()
        .and_then(|text| serde_json::from_str(&text).ok())
        .unwrap_or_default();
    let problems = fs::read_to_string(out.join("problems.txt")).unwrap_or_default();
    if !problems.is_empty() {
        println!("{problems}\nMore in {}", place::short(&out));
    }
    bars.push(Bar {
        name: format!("{scenario}: played to its end"),
        measured: f64::from(u8::from(played && !bars.is_empty())),
        side: Side::AtLeast,
        bar: 1.0,
        known_short: None,
        floor: None,
    });
    Ok(bars)
}

/// The folder with the kernel and the file system, built if they are missing.
fn images() -> Result<PathBuf, Trouble> {
    let folder = place::tools().join("rig").join("img");
    if ["linux-uml", "root.img"].iter().all(|name| folder.join(name).is_file()) {
        return Ok(folder);
    }
    let is = |program: &str, word: &str, said: &str| {
        ask(command(program).arg(word)).is_some_and(|told| told == said)
    };
    if !is("id", "-u", "0") || !is("uname", "-m", "x86_64") || !Path::new(DEBIAN).is_file() {
        return Err(Trouble::new(
            "The sticks of this proof are made by a small Linux, which can only be built as root on \
             Debian on x86-64.",
            "Run `cargo xtask prove device` there, or leave this part out.",
        ));
    }
    println!(
        "Building a small Linux with Chromium into {} (once, some ten minutes on two cores and 6 GB; \
         installs mmdebstrap, a C compiler and what a kernel needs to be built).",
        place::short(&folder)
    );
    let mut build = command(rig().join("build.sh"));
    run(build.arg(&folder), "Read its own words above, mend what they name, and run it again.")?;
    Ok(folder)
}

/// Where a machine says that it runs Debian.
const DEBIAN: &str = "/etc/debian_version";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_scenario_of_the_rig_is_played() {
        let text = fs::read_to_string(rig().join("guest").join("scenarios.py")).unwrap();
        let (_, listed) = text.split_once("SCENARIOS = {").unwrap();
        let (listed, _) = listed.split_once('}').unwrap();
        let mut names: Vec<_> = listed.split('"').skip(1).step_by(2).collect();
        let mut played = SCENARIOS.to_vec();
        names.sort_unstable();
        played.sort_unstable();
        assert_eq!(names, played);
    }
}
