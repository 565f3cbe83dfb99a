//! Node and its packages: the browser runs need them, the build only profits from them.

use std::path::{Path, PathBuf};

use crate::command::{ask, command, run};
use crate::place;
use crate::setup::{NETWORK, install_system_packages};
use crate::trouble::Trouble;

/// What the driver of the browser runs asks for.
const OLDEST_NODE: u32 = 20;

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

/// A program of a package that makes what is served smaller. It runs on Node everywhere, so that no
/// binary for each system is needed.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Shrinker {
    package: &'static str,
    version: &'static str,
    /// Inside the package.
    program: &'static str,
}

/// Shrinks the program.
pub(crate) const WASM_OPT: Shrinker =
    Shrinker { package: "binaryen", version: "132.0.0", program: "bin/wasm-opt" };
/// Shrinks the scripts.
pub(crate) const TERSER: Shrinker =
    Shrinker { package: "terser", version: "5.51.4", program: "bin/terser" };

impl Shrinker {
    /// A command that runs it, or why there is none. A build without it works and is larger.
    ///
    /// # Errors
    /// Node is missing or the package could not be fetched.
    pub(crate) fn command(self) -> Result<std::process::Command, Trouble> {
        let Self { package, version, program } = self;
        let Some(node) = found() else {
            return Err(Trouble::new(
                format!(
                    "{package} needs Node {OLDEST_NODE} or later, which is not on this machine."
                ),
                "Nothing, if size does not matter to you; else install Node.",
            ));
        };
        // A folder for each: a package that is added to another one's folder takes its place.
        let folder = place::tools().join("node").join(package);
        let inside = folder.join("node_modules").join(package);
        let program = inside.join(program);
        if !(program.is_file() && has_version(&inside.join("package.json"), version)) {
            println!("Fetching the package {package} {version} into .tools/node.");
            std::fs::create_dir_all(&folder).map_err(|error| Trouble::file(&folder, &error))?;
            let mut npm = command(&node.npm);
            npm.env("npm_config_fetch_retries", "1");
            npm.args(["install", "--no-save", "--ignore-scripts", "--no-audit", "--no-fund"]);
            npm.arg("--prefix").arg(&folder).arg(format!("{package}@{version}"));
            run(&mut npm, NETWORK)?;
        }
        let mut shrinker = command(&node.node);
        shrinker.arg(program);
        Ok(shrinker)
    }
}

fn has_version(package_file: &Path, version: &str) -> bool {
    let text = std::fs::read_to_string(package_file).unwrap_or_default();
    serde_json::from_str::<serde_json::Value>(&text)
        .is_ok_and(|package| package["version"] == version)
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
