//! Building the page into `dist/`.

use std::time::Instant;

use crate::command::{command, run};
use crate::offline;
use crate::place;
use crate::setup;
use crate::split;
use crate::trouble::Trouble;

/// How the program is compiled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    /// Small and fast; minutes.
    Release,
    /// Quick to build, large, with checks.
    Development,
}

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
        trunk.arg("--release").env("RUSTFLAGS", split::COMPILER_FLAGS);
    }
    run(&mut trunk, "Read the compiler's message above, mend the source, and run it again.")?;
    if kind == Kind::Release {
        split::split()?;
        // Last, for it marks the files as they are. A quick build keeps the empty list: nothing of
        // it is cached, and a worker of an earlier build takes itself away.
        offline::list(&place::dist())?;
    }
    println!("Built dist/ in {:.0} s.", began.elapsed().as_secs_f64());
    Ok(())
}
