//! `cargo xtask analyse FILE…`: recordings from files, measured by the same core as in the page.
//!
//! The work is done by the program `analyse` (`app/analysis`); building it here keeps the
//! commands themselves quick to build.

use std::process::ExitCode;

use crate::command::cargo;
use crate::place;
use crate::trouble::Trouble;

/// Builds the program and runs it with these words, in the folder of the caller.
///
/// # Errors
/// Cargo cannot be started.
pub(crate) fn analyse(words: &[String]) -> Result<ExitCode, Trouble> {
    let mut command = cargo();
    // Files are named from where the caller stands.
    if let Ok(here) = std::env::current_dir() {
        command.current_dir(here);
    }
    command.args(["run", "--quiet", "--manifest-path"]).arg(place::root().join("Cargo.toml"));
    command.args(["-p", "analysis", "--bin", "analyse", "--"]).args(words);
    let status = command.status().map_err(|error| {
        Trouble::new(format!("Cargo cannot be started: {error}."), "Install Rust with rustup.")
    })?;
    Ok(if status.success() { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}
