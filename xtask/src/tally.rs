//! Counting what passed and failed, from what the runners print.

use std::ops::AddAssign;

/// How many checks passed and failed.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct Tally {
    /// Passed.
    pub(crate) passed: usize,
    /// Failed, or could not be run.
    pub(crate) failed: usize,
}

impl AddAssign for Tally {
    fn add_assign(&mut self, other: Self) {
        self.passed += other.passed;
        self.failed += other.failed;
    }
}

impl Tally {
    /// A check that is one by itself.
    pub(crate) fn one(passed: bool) -> Self {
        Self { passed: usize::from(passed), failed: usize::from(!passed) }
    }

    /// What a runner printed, together with how it ended: a run that failed without a failed test
    /// (it did not compile, it crashed) counts as one failure, and so does a run of no tests at
    /// all, which would otherwise pass for success.
    pub(crate) fn of_run(text: &str, success: bool) -> Self {
        let mut tally = Self::default();
        for line in text.lines() {
            tally += cargo_line(line).or_else(|| node_line(line)).unwrap_or_default();
        }
        if (!success && tally.failed == 0) || tally == Self::default() {
            tally.failed += 1;
        }
        tally
    }
}

/// Of what a runner printed, the lines about each test that failed, at most `MOST_LINES`.
pub(crate) fn failures(text: &str) -> Vec<&str> {
    let mut is_inside = false;
    let lines = text.lines().filter(|line| {
        match line.trim_end() {
            "failures:" | "✖ failing tests:" => is_inside = true,
            line if line.starts_with("test result: ") => is_inside = false,
            _ => {}
        }
        is_inside && !line.trim().is_empty()
    });
    lines.take(MOST_LINES).collect()
}

/// Enough for a handful of tests, so that the end of the output holds why each of them failed.
const MOST_LINES: usize = 80;

/// `test result: ok. 12 passed; 0 failed; 1 ignored; …`
fn cargo_line(line: &str) -> Option<Tally> {
    let counts = line.trim().strip_prefix("test result: ")?.split_once(". ")?.1;
    let mut tally = Tally::default();
    for part in counts.split("; ") {
        match part.split_once(' ') {
            Some((number, "passed")) => tally.passed = number.parse().ok()?,
            Some((number, "failed")) => tally.failed = number.parse().ok()?,
            _ => {}
        }
    }
    Some(tally)
}

/// `ℹ pass 12`, `ℹ fail 1`, `ℹ cancelled 1`, each on a line of its own.
fn node_line(line: &str) -> Option<Tally> {
    let rest = line.strip_prefix("ℹ ").or_else(|| line.strip_prefix("# "))?;
    let (name, number) = rest.split_once(' ')?;
    let number = number.parse().ok()?;
    match name {
        "pass" => Some(Tally { passed: number, failed: 0 }),
        "fail" | "cancelled" => Some(Tally { passed: 0, failed: number }),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cargo_results_are_added_up() {
        let text = "running 3 tests\n\
            test result: ok. 3 passed; 0 failed; 0 ignored; 0 measured; 0 filtered out\n\
            test result: FAILED. 10 passed; 2 failed; 1 ignored; 0 measured; 0 filtered out\n";
        assert_eq!(Tally::of_run(text, false), Tally { passed: 13, failed: 2 });
    }

    #[test]
    fn node_results_are_added_up() {
        let text = "✔ loads (12ms)\nℹ tests 9\nℹ suites 0\nℹ pass 7\nℹ fail 1\nℹ cancelled 1\n";
        assert_eq!(Tally::of_run(text, false), Tally { passed: 7, failed: 2 });
    }

    #[test]
    fn what_failed_is_picked_out_of_the_output() {
        let cargo = "test a ... FAILED\nfailures:\n\n---- a stdout ----\nassertion failed\n\n\
            failures:\n    a\n\ntest result: FAILED. 1 passed; 1 failed;\nrunning 1 test\n";
        let wanted = ["failures:", "---- a stdout ----", "assertion failed", "failures:", "    a"];
        assert_eq!(failures(cargo), wanted);
        let node = "✔ one (1ms)\nℹ fail 1\n\n✖ failing tests:\n\ntest at a.mjs:1:1\n✖ two (2ms)\n";
        assert_eq!(failures(node), ["✖ failing tests:", "test at a.mjs:1:1", "✖ two (2ms)"]);
        assert_eq!(failures("ℹ fail 0\n"), [""; 0]);
        assert_eq!(failures(&cargo.replace("assertion", &"x\n".repeat(200))).len(), MOST_LINES);
    }

    #[test]
    fn a_run_that_failed_without_a_failed_test_is_one_failure() {
        assert_eq!(Tally::of_run("error: could not compile", false), Tally::one(false));
        let text = "test result: ok. 5 passed; 0 failed; 0 ignored";
        assert_eq!(Tally::of_run(text, false), Tally { passed: 5, failed: 1 });
    }

    #[test]
    fn a_run_of_nothing_is_no_success() {
        assert_eq!(Tally::of_run("", true), Tally::one(false));
        let text = "test result: ok. 0 passed; 0 failed; 0 ignored";
        assert_eq!(Tally::of_run(text, true), Tally::one(false));
    }
}
