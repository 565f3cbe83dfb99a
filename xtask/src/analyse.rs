//! `cargo xtask analyse FILE…`: recordings from files, measured by the same core as in the page.
//!
//! The work is done by the program `analyse` (`app/analysis`); building it here keeps the
//! commands themselves quick to build.

use std::env;
use std::path::PathBuf;
use std::process::ExitCode;

use crate::command::{cargo, run};
use crate::place;
use crate::trouble::Trouble;

/// Builds the program and runs it with these words, in the folder of the caller.
///
/// # Errors
/// Cargo cannot be started.
pub(crate) fn analyse(words: &[String]) -> Result<ExitCode, Trouble> {
    let mut command = cargo();
    // Files are named from where the caller stands.
    if let Ok(here) = env::current_dir() {
        command.current_dir(here);
    }
    command.args(["run", "--quiet", "--manifest-path"]).arg(place::root().join("Cargo.toml"));
    command.args(["-p", "analysis", "--bin", "analyse", "--"]).args(words);
    let status = command.status().map_err(|error| {
        Trouble::new(format!("Cargo cannot be started: {error}."), "Install Rust with rustup.")
    })?;
    Ok(if status.success() { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

/// Builds the program and says where it lies: beside this one, as both are of one workspace and
/// profile.
///
/// # Errors
/// It does not compile, or lies elsewhere.
pub(crate) fn build() -> Result<PathBuf, Trouble> {
    let mut command = cargo();
    command.args(["build", "--quiet", "-p", "analysis", "--bin", "analyse"]);
    run(&mut command, "Read the compiler's message above, mend the source, and run it again.")?;
    let name = format!("analyse{}", env::consts::EXE_SUFFIX);
    let program = env::current_exe().ok().map(|own| own.with_file_name(name));
    program.filter(|program| program.is_file()).ok_or_else(|| {
        Trouble::new(
            "The program `analyse` was built and does not lie beside `xtask`.",
            "Start this as `cargo xtask`, so that both are built alike.",
        )
    })
}
