//! The commands of the project: `cargo xtask serve`, `test`, `build`, `list-files`, `size`, `prove`,
//! `accuracy`, `analyse`, `help`.
//!
//! A plain program instead of scripts, so that it runs wherever Rust does and its parts are tested
//! like any other. Each command sets up what the machine lacks and says so (`setup`).

#![forbid(unsafe_code)]

mod accuracy;
mod analyse;
mod bundle;
mod command;
mod device;
mod http;
mod mark;
mod offline;
mod place;
mod proof;
mod prove;
mod serve;
mod setup;
mod size;
mod split;
mod stale;
mod steps;
mod tally;
mod trouble;

use std::path::PathBuf;
use std::process::ExitCode;

use bundle::Kind;
use trouble::Trouble;

const HELP: &str = "\
The commands of the Stick Fitting Room

  cargo xtask serve [--port N] [--dev] [--no-build] [--bare]
      Builds the page and serves it on this machine (http://127.0.0.1:8080/).
      --dev builds in seconds instead of minutes, larger and slower; --no-build serves dist/ as it is;
      --bare sends none of the headers that protect the page, as a host that cannot.
  cargo xtask test
      Every check: format, lints, native tests, tests in a browser, size, browser runs.
  cargo xtask build
      Builds the page, small and fast, into dist/.
  cargo xtask list-files [DIR]
      Writes the list of files for use offline anew, after a file of dist/ (or DIR) was changed.
  cargo xtask size
      Prints what a first visit costs, compressed.
  cargo xtask prove [PART] [--again]
      The long runs; each part under half an hour, kept in tests/proof/. Parts with a result for
      the present source are not run again unless --again is said.
  cargo xtask accuracy [--people N] [--first SEED] [--json FILE] [--update] [--readme]
      How near the truth the core comes, over N invented people (300). --update writes the golden
      file anew, --readme the table of the README from the long run's result.
  cargo xtask analyse FILE… [--json | --table] [--together] [--task NAME]
      Measures recordings from files (saved by the page, or CSV) with the core of the page;
      `cargo xtask analyse --help` says everything that it takes.
  cargo xtask help
      This text.

Needed: Rust with Cargo (through rustup). Fetched into .tools/ when missing: Trunk, the splitter
and the wasm-bindgen tools. The tests also need Node 20 or later and Chromium with its driver.";

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let (name, rest) = words.split_first().map_or(("help", &[][..]), |(name, rest)| (name, rest));
    match obey(name, rest) {
        Ok(code) => code,
        Err(trouble) => {
            eprintln!("\n{trouble}");
            ExitCode::FAILURE
        }
    }
}

fn obey(name: &str, rest: &[String]) -> Result<ExitCode, Trouble> {
    match name {
        "serve" => serve::serve(serve::Wish::read(rest)?)?,
        "build" => bundle::build(Kind::Release)?,
        "list-files" => {
            let folder = rest.first().map_or_else(place::dist, PathBuf::from);
            offline::list(&folder)?;
        }
        "size" => return Ok(code(size::print()?)),
        "test" => {
            let tally = steps::test();
            // The closing line, alone on its line, last of all.
            println!("\n{} passed, {} failed", tally.passed, tally.failed);
            return Ok(code(tally.failed == 0));
        }
        "accuracy" => return Ok(code(accuracy::accuracy(rest)?)),
        "prove" => return Ok(code(prove::prove(rest)?)),
        "analyse" => return analyse::analyse(rest),
        "help" | "--help" | "-h" => println!("{HELP}"),
        other => {
            return Err(Trouble::new(
                format!("There is no command `{other}`."),
                "`cargo xtask help` lists them.",
            ));
        }
    }
    Ok(ExitCode::SUCCESS)
}

fn code(good: bool) -> ExitCode {
    if good { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
