//! Splits the built program: what the first screens need, and the rest (`app/page/src/later.rs`).
//!
//! The compiler leaves its relocations in, the splitter cuts along the calls, wasm-bindgen makes
//! the bridge to the browser for the first part, and wasm-opt shrinks each part by itself, terser the
//! scripts.

use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

use crate::command::{command, run};
use crate::place;
use crate::setup;
use crate::trouble::Trouble;

/// For the compiler, in a build that is going to be split: keep what the splitter reads, mark
/// the page's split, and let the framework forget the types of views (smaller, measured).
pub(crate) const COMPILER_FLAGS: &str =
    "--cfg erase_components --cfg split_program -Clink-args=--emit-relocs";

/// How the splitter names the later part.
const SPLIT_OFF: &str = "split_later.wasm";
/// How the splitter names the script that fetches it.
const LINK: &str = "__wasm_split.js";
/// What the later part's name in `dist/` begins with; everything else is the first load.
const LATER: &str = "later-";

/// The compiler's output names no features once stripped, so wasm-opt has to be told them.
const WASM_FEATURES: [&str; 6] = [
    "--enable-bulk-memory",
    "--enable-nontrapping-float-to-int",
    "--enable-sign-ext",
    "--enable-mutable-globals",
    "--enable-reference-types",
    "--enable-multivalue",
];

/// What is small after brotli, which is what is sent, is not what is small before: `-Oz` gives a
/// later part of 830 kB, `-Os` 828, `-O2` 823, and without a second inlining, which repeats what the
/// compiler kept apart, 818. The first part is smallest with `-Os`: 176.4 kB against 177.4.
const LATER_PASSES: [&str; 3] = ["-O2", "--skip-pass=inlining", "--skip-pass=inlining-optimizing"];

const MEND: &str = "Run `cargo clean -p page` and build again; if it stays, delete .tools.";

/// Puts the split program into `dist/`, in place of the whole one.
///
/// # Errors
/// A tool is missing or fails, or a file cannot be written.
pub(crate) fn split() -> Result<(), Trouble> {
    let target = target_folder();
    let program = target.join("wasm32-unknown-unknown/release/page.wasm");
    let parts = target.join("split");
    let bridge = target.join("split-bridge");
    for folder in [&parts, &bridge] {
        // Not there the first time.
        let _ = fs::remove_dir_all(folder);
        fs::create_dir_all(folder).map_err(|error| Trouble::file(folder, &error))?;
    }
    println!("Splitting the program.");
    let mut splitter = command("wasm-split-cli");
    splitter.args(["--target", "web", "--out-name", "page"]).arg(&program).arg(&parts);
    run(splitter.env("RUST_LOG", "error"), MEND)?;
    let mut bindgen = command("wasm-bindgen");
    bindgen.args(["--target", "web", "--no-typescript", "--keep-lld-exports"]);
    bindgen.args(["--out-name", "page", "--out-dir"]).arg(&bridge).arg(parts.join("page.wasm"));
    run(&mut bindgen, MEND)?;

    let dist = place::dist();
    shrink(&["-Os"], &bridge.join("page_bg.wasm"), &dist.join("page_bg.wasm"))?;
    copy(&bridge.join("page.js"), &dist.join("page.js"))?;
    let whole = fs::read(&program).map_err(|error| Trouble::file(&program, &error))?;
    let later = later_name(&whole);
    shrink(&LATER_PASSES, &parts.join(SPLIT_OFF), &dist.join(&later))?;
    let link = parts.join(LINK);
    let text = fs::read_to_string(&link).map_err(|error| Trouble::file(&link, &error))?;
    let text = renamed(&text, &later).ok_or_else(|| {
        Trouble::new(format!("{LINK} of the splitter names no {SPLIT_OFF}."), MEND)
    })?;
    let link = dist.join(LINK);
    fs::write(&link, text).map_err(|error| Trouble::file(&link, &error))?;
    for (script, is_module) in [
        (LINK, true),
        ("page.js", true),
        ("boot.js", true),
        ("offline.js", true),
        ("rescue.js", false),
    ] {
        shrink_script(&dist.join(script), is_module)?;
    }
    Ok(())
}

/// Whether a file of `dist/` is the later part.
pub(crate) fn is_later(name: &str) -> bool {
    name.starts_with(LATER) && name.ends_with(".wasm")
}

/// The later part's name carries a mark of the program it was cut from. Code and memory of the
/// two parts fit together only if they were cut from the same program: a page that is open while
/// a new version is put up must find no later part rather than a foreign one. (The splitter's
/// own guard against that, an import that nothing uses, does not survive wasm-opt.)
fn later_name(program: &[u8]) -> String {
    let digits: String =
        Sha256::digest(program).iter().take(8).map(|byte| format!("{byte:02x}")).collect();
    format!("{LATER}{digits}.wasm")
}

/// The link script with the later part under its new name; none where it does not name it.
fn renamed(link: &str, later: &str) -> Option<String> {
    link.contains(SPLIT_OFF).then(|| link.replace(SPLIT_OFF, later))
}

fn target_folder() -> PathBuf {
    std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| place::root().join("target"), PathBuf::from)
}

/// Runs wasm-opt over one part.
fn shrink(passes: &[&str], from: &Path, to: &Path) -> Result<(), Trouble> {
    let flags = passes.iter().chain(&WASM_FEATURES);
    let mut arguments: Vec<&OsStr> = flags.map(OsStr::new).collect();
    arguments.extend([from.as_os_str(), "-o".as_ref(), to.as_os_str()]);
    run_shrinker(setup::WASM_OPT, &arguments, || copy(from, to))
}

/// Takes out of a script what only its readers need, in place.
fn shrink_script(script: &Path, is_module: bool) -> Result<(), Trouble> {
    let mut arguments: Vec<&OsStr> = vec![script.as_os_str(), "-c".as_ref(), "-m".as_ref()];
    if is_module {
        arguments.push("--module".as_ref());
    }
    arguments.extend(["-o".as_ref(), script.as_os_str()]);
    run_shrinker(setup::TERSER, &arguments, || Ok(()))
}

/// Without a shrinker the page works and is larger, which is said.
fn run_shrinker(
    shrinker: setup::Shrinker,
    arguments: &[&OsStr],
    without: impl FnOnce() -> Result<(), Trouble>,
) -> Result<(), Trouble> {
    let mut command = match shrinker.command() {
        Ok(command) => command,
        Err(trouble) => {
            println!("The page is larger than it could be: {trouble}");
            return without();
        }
    };
    run(command.args(arguments), "Delete the folder .tools/node and run the same command again.")
}

fn copy(from: &Path, to: &Path) -> Result<(), Trouble> {
    fs::copy(from, to).map(|_| ()).map_err(|error| Trouble::file(from, &error))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_later_part_is_named_after_its_program() {
        let name = later_name(b"one program");
        assert_eq!(name, later_name(b"one program"));
        assert_ne!(name, later_name(b"another program"));
        assert!(is_later(&name), "{name}");
        assert!(!is_later("page_bg.wasm"));
        assert!(!is_later("later-styles.css"));
    }

    #[test]
    fn the_link_script_asks_for_the_new_name() {
        let link = r#"fetch(new URL("./split_later.wasm", import.meta.url))"#;
        let new = r#"fetch(new URL("./later-1.wasm", import.meta.url))"#;
        assert_eq!(renamed(link, "later-1.wasm").as_deref(), Some(new));
        assert_eq!(renamed("no name here", "later-1.wasm"), None);
    }
}
