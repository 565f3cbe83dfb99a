//! Node and its packages: the browser runs need them, the build only profits from them.

use std::path::{Path, PathBuf};

use crate::command::{ask, command, run};
use crate::place;
use crate::setup::{NETWORK, install_system_packages};
use crate::trouble::Trouble;

/// What the driver of the browser runs asks for.
const OLDEST_NODE: u32 = 20;
/// Shrinks the program; runs on Node everywhere, so that no binary per system is needed.
const BINARYEN: &str = "132.0.0";

/// Node and its package manager.
pub(crate) struct Node {
    /// `node`.
    pub(crate) node: PathBuf,
    /// `npm`.
    pub(crate) npm: PathBuf,
}

/// Node of a fitting version, if it is on this machine.
fn found() -> Option<Node> {
    let node = place::find(&["node"])?;
    let npm = place::find(&["npm"])?;
    let major = major_version(&ask(command(&node).arg("--version"))?)?;
    (major >= OLDEST_NODE).then_some(Node { node, npm })
}

/// Node, installed where that can be done.
///
/// # Errors
/// There is none of a fitting version and none could be installed.
pub(crate) fn node() -> Result<Node, Trouble> {
    if let Some(node) = found() {
        return Ok(node);
    }
    if place::find(&["node"]).is_none() || place::find(&["npm"]).is_none() {
        install_system_packages(&["nodejs", "npm"], "Node with npm")?;
    }
    found().ok_or_else(|| {
        Trouble::new(
            format!("Node {OLDEST_NODE} or later is needed; the one on this machine is older."),
            format!("Install Node {OLDEST_NODE} or later, then run the same command again."),
        )
    })
}

/// The packages of the browser runs, exactly as their lock file names them.
///
/// # Errors
/// They could not be fetched.
pub(crate) fn browser_packages(node: &Node) -> Result<(), Trouble> {
    let folder = place::browser_runs();
    let wanted = std::fs::read_to_string(folder.join("package-lock.json")).unwrap_or_default();
    // npm leaves its own copy of the lock beside what it put there; ours is cheaper to compare.
    let mark = folder.join("node_modules").join(".fetched-for");
    if std::fs::read_to_string(&mark).is_ok_and(|there| there == wanted) {
        return Ok(());
    }
    println!("Fetching the packages of the browser runs into tests/browser/node_modules.");
    let mut npm = command(&node.npm);
    npm.env("npm_config_fetch_retries", "1"); // without a network, say so within the minute
    npm.current_dir(&folder).args(["ci", "--ignore-scripts", "--no-audit", "--no-fund"]);
    run(&mut npm, NETWORK)?;
    std::fs::write(&mark, wanted).map_err(|error| Trouble::file(&mark, &error))
}

/// A command that runs wasm-opt, or why there is none. A build without it works and is larger.
///
/// # Errors
/// Node is missing or the package could not be fetched.
pub(crate) fn wasm_opt() -> Result<std::process::Command, Trouble> {
    let Some(node) = found() else {
        return Err(Trouble::new(
            format!("wasm-opt needs Node {OLDEST_NODE} or later, which is not on this machine."),
            "Nothing, if size does not matter to you; else install Node.",
        ));
    };
    let folder = place::tools().join("node");
    let program = folder.join("node_modules/binaryen/bin/wasm-opt");
    if !(program.is_file() && has_version(&folder.join("node_modules/binaryen/package.json"))) {
        println!("Fetching wasm-opt (package binaryen {BINARYEN}) into .tools/node.");
        std::fs::create_dir_all(&folder).map_err(|error| Trouble::file(&folder, &error))?;
        let mut npm = command(&node.npm);
        npm.env("npm_config_fetch_retries", "1");
        npm.args(["install", "--no-save", "--ignore-scripts", "--no-audit", "--no-fund"]);
        npm.arg("--prefix").arg(&folder).arg(format!("binaryen@{BINARYEN}"));
        run(&mut npm, NETWORK)?;
    }
    let mut wasm_opt = command(&node.node);
    wasm_opt.arg(program);
    Ok(wasm_opt)
}

fn has_version(package_file: &Path) -> bool {
    let text = std::fs::read_to_string(package_file).unwrap_or_default();
    serde_json::from_str::<serde_json::Value>(&text)
        .is_ok_and(|package| package["version"] == BINARYEN)
}

fn major_version(answer: &str) -> Option<u32> {
    answer.trim().trim_start_matches('v').split('.').next()?.parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_major_version_is_read() {
        assert_eq!(major_version("v20.20.2\n"), Some(20));
        assert_eq!(major_version("18.1.0"), Some(18));
        assert_eq!(major_version("none"), None);
    }
}
