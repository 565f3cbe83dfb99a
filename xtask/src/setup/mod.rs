//! Everything a fresh machine lacks, fetched or named.
//!
//! What can live in the project's own git-ignored `.tools/` lives there. What cannot (a browser,
//! Node) is looked for on the machine, installed with the system's package manager where that is
//! possible without asking, and otherwise named in one sentence.

mod browser;
mod node;
mod rust;

pub(crate) use browser::{Browser, browser, firefox};
pub(crate) use node::{Node, Shrinker, TERSER, WASM_OPT, browser_packages, node};
pub(crate) use rust::{components, dependencies, tools, wasm_target};

use crate::command::{command, run};
use crate::place;
use crate::trouble::Trouble;

/// What to do when a fetch failed: by far the most likely cause is the network.
pub(crate) const NETWORK: &str = "If this machine has no network at the moment, connect it and \
     run the same command again: what is there already is kept.";

/// Installs system packages where this can be done without asking: as root, with apt.
///
/// # Errors
/// It cannot be done here, or it failed.
fn install_system_packages(packages: &[&str], for_what: &str) -> Result<(), Trouble> {
    let wanted = packages.join(" ");
    let by_hand = format!(
        "Install {for_what} with your system's package manager (on Debian: `apt-get install \
         {wanted}`), then run the same command again."
    );
    let Some(apt) = place::find(&["apt-get"]).filter(|_| is_root()) else {
        return Err(Trouble::new(format!("{for_what} is not on this machine."), by_hand));
    };
    println!("Installing {for_what} on this machine with apt-get: {wanted}");
    let mut update = command(&apt);
    run(update.args(["update", "-q"]), NETWORK)?;
    let mut install = command(&apt);
    install.env("DEBIAN_FRONTEND", "noninteractive");
    run(install.args(["install", "-y", "-q", "--no-install-recommends"]).args(packages), &by_hand)
}

fn is_root() -> bool {
    cfg!(unix) && crate::command::ask(command("id").arg("-u")).as_deref() == Some("0")
}
