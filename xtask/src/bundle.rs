//! Building the page into `dist/`.

use std::fs;
use std::time::Instant;

use crate::command::{command, run};
use crate::place;
use crate::setup;
use crate::trouble::Trouble;

/// How the program is compiled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    /// Small and fast; minutes.
    Release,
    /// Quick to build, large, with checks.
    Development,
}

/// The compiler's output names no features once stripped, so wasm-opt has to be told them.
const WASM_FEATURES: [&str; 6] = [
    "--enable-bulk-memory",
    "--enable-nontrapping-float-to-int",
    "--enable-sign-ext",
    "--enable-mutable-globals",
    "--enable-reference-types",
    "--enable-multivalue",
];

/// Sets up what is missing and builds the page.
///
/// # Errors
/// A tool is missing, or the program does not compile.
pub(crate) fn build(kind: Kind) -> Result<(), Trouble> {
    setup::wasm_target()?;
    setup::tools()?;
    setup::dependencies()?;
    let began = Instant::now();
    match kind {
        Kind::Release => println!(
            "Building the page into dist/ (the first time five to ten minutes on two cores, later \
             one or two)."
        ),
        Kind::Development => println!("Building a quick, large page into dist/."),
    }
    let mut trunk = command("trunk");
    // Trunk reads this variable as true or false and stops at the usual `1`.
    trunk.env_remove("NO_COLOR").env("RUST_BACKTRACE", "0");
    trunk.args(["build", "--log", "warn"]);
    if kind == Kind::Release {
        trunk.arg("--release");
    }
    run(&mut trunk, "Read the compiler's message above, mend the source, and run it again.")?;
    if kind == Kind::Release {
        shrink()?;
    }
    println!("Built dist/ in {:.0} s.", began.elapsed().as_secs_f64());
    Ok(())
}

/// Runs wasm-opt over the program. Without it the page works and is larger, which is said.
fn shrink() -> Result<(), Trouble> {
    let mut wasm_opt = match setup::wasm_opt() {
        Ok(command) => command,
        Err(trouble) => {
            println!("The page is built without wasm-opt and is larger for it: {trouble}");
            return Ok(());
        }
    };
    let program = place::dist().join("page_bg.wasm");
    let smaller = place::dist().join("page_bg.smaller.wasm");
    println!("Shrinking the program with wasm-opt.");
    wasm_opt.arg("-Oz").args(WASM_FEATURES).arg(&program).arg("-o").arg(&smaller);
    run(&mut wasm_opt, "Delete the folder .tools/node and run the same command again.")?;
    fs::rename(&smaller, &program).map_err(|error| Trouble::file(&program, &error))
}
