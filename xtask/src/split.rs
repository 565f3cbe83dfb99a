//! Splits the built program: what the first screens need, and the rest (`app/page/src/later.rs`).
//!
//! The compiler leaves its relocations in, the splitter cuts along the calls, wasm-bindgen makes
//! the bridge to the browser for the first part, and wasm-opt shrinks each part by itself.

use std::fs;
use std::path::{Path, PathBuf};

use crate::command::{command, run};
use crate::place;
use crate::setup;
use crate::trouble::Trouble;

/// For the compiler, in a build that is going to be split: keep what the splitter reads, mark
/// the page's split, and let the framework forget the types of views (smaller, measured).
pub(crate) const COMPILER_FLAGS: &str =
    "--cfg erase_components --cfg split_program -Clink-args=--emit-relocs";

/// The files of the later part: everything but these is the first load.
pub(crate) const LATER_PROGRAM: &str = "split_later.wasm";

/// The compiler's output names no features once stripped, so wasm-opt has to be told them.
const WASM_FEATURES: [&str; 6] = [
    "--enable-bulk-memory",
    "--enable-nontrapping-float-to-int",
    "--enable-sign-ext",
    "--enable-mutable-globals",
    "--enable-reference-types",
    "--enable-multivalue",
];

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
    shrink(&bridge.join("page_bg.wasm"), &dist.join("page_bg.wasm"))?;
    shrink(&parts.join(LATER_PROGRAM), &dist.join(LATER_PROGRAM))?;
    copy(&bridge.join("page.js"), &dist.join("page.js"))?;
    copy(&parts.join("__wasm_split.js"), &dist.join("__wasm_split.js"))
}

fn target_folder() -> PathBuf {
    std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| place::root().join("target"), PathBuf::from)
}

/// Runs wasm-opt over one part. Without it the page works and is larger, which is said.
fn shrink(from: &Path, to: &Path) -> Result<(), Trouble> {
    let mut wasm_opt = match setup::wasm_opt() {
        Ok(command) => command,
        Err(trouble) => {
            println!("The page is built without wasm-opt and is larger for it: {trouble}");
            return copy(from, to);
        }
    };
    wasm_opt.arg("-Oz").args(WASM_FEATURES).arg(from).arg("-o").arg(to);
    run(&mut wasm_opt, "Delete the folder .tools/node and run the same command again.")
}

fn copy(from: &Path, to: &Path) -> Result<(), Trouble> {
    fs::copy(from, to).map(|_| ()).map_err(|error| Trouble::file(from, &error))
}
