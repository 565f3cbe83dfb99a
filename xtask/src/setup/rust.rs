//! The Rust side: components, the wasm target, Trunk, and the wasm-bindgen tools.

use std::fs;
use std::path::Path;

use crate::command::{ask, cargo, command, run};
use crate::place;
use crate::setup::NETWORK;
use crate::trouble::Trouble;

/// The newest Trunk that the stable compiler named in Cargo.toml can build.
const TRUNK: &str = "0.21.14";
/// What splits the program in two; it has to fit `wasm_split_helpers` in Cargo.lock.
const SPLITTER: &str = "wasm_split_cli_support";
const SPLITTER_VERSION: &str = "0.2.4";
const TARGET: &str = "wasm32-unknown-unknown";

/// rustfmt and clippy, for the checks.
///
/// # Errors
/// One is missing and cannot be added.
pub(crate) fn components() -> Result<(), Trouble> {
    for (name, question) in [("rustfmt", "fmt"), ("clippy", "clippy")] {
        if ask(cargo().args([question, "--version"])).is_none() {
            println!("Adding {name} to the Rust toolchain of this machine.");
            let rustup = rustup(&format!("the component {name}"))?;
            run(command(rustup).args(["component", "add", name]), NETWORK)?;
        }
    }
    Ok(())
}

/// The standard library for WebAssembly.
///
/// # Errors
/// It is missing and cannot be added.
pub(crate) fn wasm_target() -> Result<(), Trouble> {
    let here = ask(command("rustc").args(["--print", "sysroot"]))
        .is_some_and(|root| Path::new(&root).join("lib/rustlib").join(TARGET).join("lib").is_dir());
    if here {
        return Ok(());
    }
    println!("Adding the WebAssembly target ({TARGET}) to the Rust toolchain of this machine.");
    let rustup = rustup(&format!("the target {TARGET}"))?;
    run(command(rustup).args(["target", "add", TARGET]), NETWORK)
}

fn rustup(wanted: &str) -> Result<std::path::PathBuf, Trouble> {
    place::find(&["rustup"]).ok_or_else(|| {
        Trouble::new(
            format!(
                "The Rust toolchain lacks {wanted}, and rustup, which could add it, is not here."
            ),
            "Install Rust through rustup, or add it with the package manager your Rust came from; \
             then run the same command again.",
        )
    })
}

/// Every crate of Cargo.lock, so that Trunk can build without the network.
///
/// # Errors
/// A crate is missing and could not be fetched.
pub(crate) fn dependencies() -> Result<(), Trouble> {
    run(cargo().args(["fetch", "--quiet", "--locked"]), NETWORK)
}

/// Trunk, the splitter and the wasm-bindgen tools, of exactly the versions that fit, in
/// `.tools/bin` unless the machine has them already.
///
/// # Errors
/// One is missing and could not be built.
pub(crate) fn tools() -> Result<(), Trouble> {
    let lock = place::root().join("Cargo.lock");
    let lock = fs::read_to_string(&lock).map_err(|error| Trouble::file(&lock, &error))?;
    let bindgen = locked_version(&lock, "wasm-bindgen").ok_or_else(|| {
        Trouble::new("Cargo.lock names no wasm-bindgen.", "Restore Cargo.lock from git.")
    })?;

    let mut installed = false;
    if !is_here("trunk", TRUNK) {
        let features = ["--locked", "--no-default-features", "--features", "rustls"];
        install("trunk", TRUNK, &features, "about ten minutes")?;
        installed = true;
    }
    let both = ["wasm-bindgen", "wasm-bindgen-test-runner"];
    if !both.iter().all(|name| is_here(name, &bindgen)) {
        // Without `--locked`: the lock file it ships can name versions that are no longer served.
        install("wasm-bindgen-cli", &bindgen, &[], "about six minutes")?;
        installed = true;
    }
    if !splitter_is_here() {
        let features = ["--locked", "--features", "build-binary"];
        install(SPLITTER, SPLITTER_VERSION, &features, "about two minutes")?;
        installed = true;
    }
    if installed {
        // Some hundred megabytes that nothing needs again; a failure to delete them is harmless.
        let _ = fs::remove_dir_all(place::tools().join("build"));
    }
    Ok(())
}

fn install(name: &str, version: &str, more: &[&str], how_long: &str) -> Result<(), Trouble> {
    println!(
        "Installing {name} {version} into .tools/ (this project only; {how_long} on two cores, \
         once)."
    );
    let mut cargo = cargo();
    cargo.args(["install", name, "--version", version, "--force"]).args(more);
    cargo.arg("--root").arg(place::tools()).env("CARGO_TARGET_DIR", place::tools().join("build"));
    run(&mut cargo, NETWORK)
}

/// Whether a program of exactly this version answers on the search path.
fn is_here(name: &str, version: &str) -> bool {
    place::find(&[name])
        .and_then(|program| ask(command(program).arg("--version")))
        .is_some_and(|answer| names_version(&answer, version))
}

/// The splitter does not tell its version, so Cargo's own note of what it installed is asked.
fn splitter_is_here() -> bool {
    let note = place::tools().join(".crates2.json");
    let installed = fs::read_to_string(note)
        .is_ok_and(|note| note.contains(&format!("{SPLITTER} {SPLITTER_VERSION} ")));
    installed && place::find(&["wasm-split-cli"]).is_some()
}

fn names_version(answer: &str, version: &str) -> bool {
    answer.split_whitespace().any(|word| word.trim_start_matches('v') == version)
}

/// The version a lock file gives a package.
fn locked_version(lock: &str, package: &str) -> Option<String> {
    let wanted = format!("name = \"{package}\"");
    let mut lines = lock.lines().skip_while(|line| *line != wanted);
    lines.next()?;
    Some(lines.next()?.strip_prefix("version = \"")?.strip_suffix('"')?.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    const LOCK: &str = "[[package]]\nname = \"wasm-bindgen-futures\"\nversion = \"0.4.80\"\n\n\
                        [[package]]\nname = \"wasm-bindgen\"\nversion = \"0.2.130\"\n";

    #[test]
    fn the_locked_version_is_of_the_whole_name() {
        assert_eq!(locked_version(LOCK, "wasm-bindgen").as_deref(), Some("0.2.130"));
        assert_eq!(locked_version(LOCK, "wasm-bindgen-futures").as_deref(), Some("0.4.80"));
        assert_eq!(locked_version(LOCK, "wasm"), None);
    }

    #[test]
    fn the_projects_own_lock_names_wasm_bindgen() {
        let lock = fs::read_to_string(place::root().join("Cargo.lock")).unwrap();
        let version = locked_version(&lock, "wasm-bindgen").unwrap();
        assert_eq!(version.split('.').count(), 3);
    }

    #[test]
    fn versions_are_compared_whole() {
        assert!(names_version("trunk 0.21.14", "0.21.14"));
        assert!(names_version("v20.20.2", "20.20.2"));
        assert!(!names_version("trunk 0.21.14", "0.21.1"));
        assert!(!names_version("trunk 0.21.1", "0.21.14"));
        assert!(!names_version("", "0.21.14"));
    }
}
