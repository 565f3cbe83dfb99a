//! Where things are: the project's folders, and programs on this machine.

use std::env;
use std::ffi::OsString;
use std::path::{Path, PathBuf};

/// The project's folder: as Cargo says at run time, so that a moved checkout with a kept target
/// folder is right too; else as it was when this was compiled.
pub(crate) fn root() -> PathBuf {
    let here = env::var_os("CARGO_MANIFEST_DIR")
        .map_or_else(|| PathBuf::from(env!("CARGO_MANIFEST_DIR")), PathBuf::from);
    here.parent().unwrap_or(&here).to_path_buf()
}

/// Tools that are the project's own, kept out of git.
pub(crate) fn tools() -> PathBuf {
    root().join(".tools")
}

/// The built page.
pub(crate) fn dist() -> PathBuf {
    root().join("dist")
}

/// The browser runs.
pub(crate) fn browser_runs() -> PathBuf {
    root().join("tests").join("browser")
}

/// The search path with the project's own tools first.
pub(crate) fn search_path() -> OsString {
    let own = tools().join("bin");
    let old = env::var_os("PATH").unwrap_or_default();
    let all = std::iter::once(own).chain(env::split_paths(&old));
    env::join_paths(all).unwrap_or(old)
}

/// The first program of one of these names on the search path.
pub(crate) fn find(names: &[&str]) -> Option<PathBuf> {
    let path = search_path();
    names.iter().find_map(|name| {
        env::split_paths(&path)
            .flat_map(|folder| candidates(&folder, name))
            .find(|file| file.is_file())
    })
}

fn candidates(folder: &Path, name: &str) -> Vec<PathBuf> {
    if cfg!(windows) {
        ["exe", "cmd"].iter().map(|ending| folder.join(format!("{name}.{ending}"))).collect()
    } else {
        vec![folder.join(name)]
    }
}

/// A path of the project as a person reads it: short, with forward slashes.
pub(crate) fn short(path: &Path) -> String {
    path.strip_prefix(root()).unwrap_or(path).to_string_lossy().replace('\\', "/")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_root_holds_the_workspace_file() {
        let text = std::fs::read_to_string(root().join("Cargo.toml")).unwrap();
        assert!(text.contains("[workspace]"));
    }

    #[test]
    fn own_tools_come_first_on_the_search_path() {
        let first = env::split_paths(&search_path()).next();
        assert_eq!(first, Some(tools().join("bin")));
    }

    #[test]
    fn a_program_nobody_has_is_not_found() {
        assert_eq!(find(&["no-program-has-this-name-4711"]), None);
    }

    #[test]
    fn paths_are_shown_without_the_machine() {
        assert_eq!(short(&dist().join("index.html")), "dist/index.html");
    }
}
