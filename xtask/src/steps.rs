//! `cargo xtask test`: every check in order, each with its time, one plain line at the end.
//!
//! A step that fails does not hide the later ones; a step that needs something missing is counted
//! as failed and says what it lacks.

use std::cell::RefCell;
use std::path::Path;
use std::process::Command;
use std::time::{Duration, Instant};

use crate::accuracy;
use crate::analyse;
use crate::bundle::{self, Kind};
use crate::command::{cargo, command, watch};
use crate::place;
use crate::proof;
use crate::serve;
use crate::setup::{self, Browser, Node};
use crate::size;
use crate::tally::{self, Tally};
use crate::trouble::Trouble;

const WASM: [&str; 2] = ["--target", "wasm32-unknown-unknown"];

/// The steps done so far.
struct Steps(Vec<Step>);

struct Step {
    name: &'static str,
    took: Duration,
    tally: Tally,
}

impl Steps {
    /// Does one step, times it, and keeps how it went.
    fn step(&mut self, name: &'static str, work: impl FnOnce() -> Result<Tally, Trouble>) -> bool {
        println!("\n== {name}");
        let began = Instant::now();
        let tally = work().unwrap_or_else(|trouble| {
            println!("{trouble}");
            Tally::one(false)
        });
        let took = began.elapsed();
        let Tally { passed, failed } = tally;
        println!("-- {name}: {passed} passed, {failed} failed, {:.0} s", took.as_secs_f64());
        self.0.push(Step { name, took, tally });
        failed == 0
    }

    /// A step of set-up: gives what it found, and counts only where it failed.
    fn set_up<T>(
        &mut self,
        name: &'static str,
        work: impl FnOnce() -> Result<T, Trouble>,
    ) -> Option<T> {
        let mut found = None;
        self.step(name, || {
            found = Some(work()?);
            Ok(Tally::default())
        });
        found
    }

    fn close(&self) -> Tally {
        println!("\n== Time of each step");
        let mut total = Tally::default();
        let mut whole = Duration::ZERO;
        for step in &self.0 {
            let mark = if step.tally.failed == 0 { "ok    " } else { "FAILED" };
            println!("{:>7.0} s  {mark}  {}", step.took.as_secs_f64(), step.name);
            total += step.tally;
            whole += step.took;
        }
        println!("{:>7.0} s  in all", whole.as_secs_f64());
        total
    }
}

/// Runs everything; the tally decides the exit code.
pub(crate) fn test() -> Tally {
    let mut steps = Steps(Vec::new());
    let failures = RefCell::new(Vec::new());

    let components = steps.set_up("Set-up: format and lints", setup::components).is_some();
    let target = steps.set_up("Set-up: WebAssembly target", setup::wasm_target).is_some();
    let tools =
        steps.set_up("Set-up: Trunk, the splitter and wasm-bindgen", setup::tools).is_some();
    steps.set_up("Set-up: crates of Cargo.lock", setup::dependencies);
    let browser = steps.set_up("Set-up: browser", setup::browser);
    let node = steps.set_up("Set-up: Node and packages", || {
        let node = setup::node()?;
        setup::browser_packages(&node)?;
        Ok(node)
    });

    steps.step("Format", || {
        need(components, "rustfmt")?;
        passes(cargo().args(["fmt", "--all", "--check"]))
    });
    steps.step("Lints, native", || {
        need(components, "clippy")?;
        let native = ["clippy", "--workspace", "--exclude", "page", "--all-targets"];
        passes(cargo().args(native).args(["--", "-D", "warnings"]))
    });
    steps.step("Lints, page", || {
        need(components && target, "clippy or the WebAssembly target")?;
        let page = ["clippy", "-p", "page", "--all-targets"];
        passes(cargo().args(page).args(WASM).args(["--", "-D", "warnings"]))
    });
    steps.step("Native tests", || counts(cargo().args(["test", "--no-fail-fast"]), &failures));

    steps.step("Accuracy on invented people", accuracy::test);

    let ready = target && tools;
    steps.step("Tests in a browser: pieces of the page", || {
        in_browser(ready, browser.as_ref(), &["-p", "page"], &failures)
    });
    steps.step("Tests in a browser: same bits as native", || {
        in_browser(ready, browser.as_ref(), &["-p", "checks", "--test", "bits"], &failures)
    });
    let built = steps.step("Build of the page", || {
        need(ready, "Trunk or the WebAssembly target")?;
        bundle::build(Kind::Release)?;
        Ok(Tally::one(true))
    });
    steps.step("Size of the first load and the later part", || {
        need(built, "the built page")?;
        Ok(Tally::one(size::print()?))
    });
    steps.step("Browser runs", || {
        need(built, "the built page")?;
        counts(&mut browser_runs(node.as_ref(), browser.as_ref(), "runs")?, &failures)
    });
    steps.step("Proofs of the long runs", proof::check);

    let failures = failures.into_inner();
    if !failures.is_empty() {
        println!("\n== What failed\n{}", failures.join("\n"));
    }
    steps.close()
}

fn need(there: bool, what: &str) -> Result<(), Trouble> {
    if there {
        return Ok(());
    }
    Err(Trouble::new(format!("Not run: {what} is missing, see the steps above."), ""))
}

/// A command that is one check: it passes or not.
fn passes(command: &mut Command) -> Result<Tally, Trouble> {
    Ok(Tally::one(watch(command)?.success))
}

/// A command that runs tests and prints how many; what it says of those that fail is kept, because
/// the steps after it print much.
fn counts(command: &mut Command, failures: &RefCell<Vec<String>>) -> Result<Tally, Trouble> {
    let printed = watch(command)?;
    let lines = tally::failures(&printed.text);
    failures.borrow_mut().extend(lines.into_iter().map(str::to_owned));
    Ok(Tally::of_run(&printed.text, printed.success))
}

/// Rust tests compiled to WebAssembly and run inside the browser.
fn in_browser(
    ready: bool,
    browser: Option<&Browser>,
    which: &[&str],
    failures: &RefCell<Vec<String>>,
) -> Result<Tally, Trouble> {
    need(ready, "wasm-bindgen or the WebAssembly target")?;
    let Some(Browser { driver, .. }) = browser else {
        need(false, "the browser")?;
        return Ok(Tally::one(false));
    };
    let mut cargo = cargo();
    cargo.args(["test", "--no-fail-fast"]).args(which).args(WASM);
    cargo.env("CHROMEDRIVER", driver);
    cargo.env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUNNER", "wasm-bindgen-test-runner");
    // Ten whole analyses take their time in an unoptimised program on two cores.
    cargo.env("WASM_BINDGEN_TEST_TIMEOUT", "300");
    counts(&mut cargo, failures)
}

/// A command that runs the tests of a folder, or of one file, below tests/browser against the built
/// page.
///
/// # Errors
/// Node or the browser is missing, or the page cannot be served.
pub(crate) fn browser_runs(
    node: Option<&Node>,
    browser: Option<&Browser>,
    what: &str,
) -> Result<Command, Trouble> {
    let (Some(node), Some(browser)) = (node, browser) else {
        return Err(Trouble::new("Not run: Node or the browser is missing, see above.", ""));
    };
    // Here, so that no run waits for a compiler.
    let analyse = analyse::build()?;
    let address = serve::serve_in_background()?;
    let runs = place::browser_runs();
    let what = runs.join(what);
    let mut files = if what.is_file() { vec![what] } else { size::files(&what) };
    files.retain(|file| file.to_string_lossy().ends_with(".test.mjs"));
    let mut run = command(&node.node);
    run.current_dir(&runs).args(["--test", "--test-reporter=spec", "--test-concurrency=1"]);
    run.args(files.iter().map(|file| file.strip_prefix(&runs).unwrap_or(Path::new(file))));
    run.env("PAGE_ADDRESS", format!("http://{address}/")).env("CHROMIUM", &browser.chromium);
    run.env("ANALYSE", analyse);
    Ok(run)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_failed_step_is_counted_and_does_not_stop_the_next() {
        let mut steps = Steps(Vec::new());
        assert!(!steps.step("first", || Err(Trouble::new("It broke.", "Mend it."))));
        assert!(steps.step("second", || Ok(Tally { passed: 4, failed: 0 })));
        assert_eq!(steps.close(), Tally { passed: 4, failed: 1 });
    }

    #[test]
    fn set_up_counts_only_where_it_fails() {
        let mut steps = Steps(Vec::new());
        assert_eq!(steps.set_up("there", || Ok(7)), Some(7));
        let missing: Option<i32> = steps.set_up("missing", || Err(Trouble::new("No.", "")));
        assert_eq!(missing, None);
        assert_eq!(steps.close(), Tally { passed: 0, failed: 1 });
    }

    #[test]
    fn what_is_missing_is_named() {
        assert_eq!(need(true, "the browser"), Ok(()));
        assert!(need(false, "the browser").unwrap_err().what.contains("the browser is missing"));
    }
}
