//! What of the result of the program `accuracy` is read here.

use serde::Deserialize;

/// The result; the whole form is `tests/src/accuracy/report.rs`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub(super) struct Report {
    pub(super) core_version: String,
    pub(super) people: usize,
    /// Which set of people; missing in a result from before there were two.
    #[serde(default)]
    pub(super) seeds: String,
    pub(super) bars: Vec<Bar>,
    pub(super) figures: Vec<Line>,
    pub(super) exact: Vec<Exact>,
    pub(super) dead_zone: DeadZone,
    pub(super) conventions: Conventions,
    #[serde(default)]
    pub(super) groups: Vec<Group>,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
pub(super) struct Group {
    pub(super) group: String,
    pub(super) people: usize,
    pub(super) figures: Vec<GroupLine>,
    pub(super) dead_zone: GroupDeadZone,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
pub(super) struct GroupLine {
    pub(super) figure: String,
    pub(super) covered: Share,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
pub(super) struct GroupDeadZone {
    pub(super) kept: Share,
    pub(super) firm_kept: Share,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
pub(super) struct Bar {
    pub(super) code: String,
    pub(super) name: String,
    pub(super) unit: String,
    pub(super) measured: Option<f64>,
    pub(super) wanted: Wanted,
    pub(super) of: usize,
    pub(super) met: bool,
    /// Why it is known to be missed, and the figure it had: from the list of what is waived.
    #[serde(default)]
    pub(super) known_short: Option<String>,
    #[serde(skip)]
    pub(super) floor: Option<f64>,
}

#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum Wanted {
    AtMost(f64),
    AtLeast(f64),
    Above(f64),
    Within(f64, f64),
}

#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
pub(super) struct Share {
    pub(super) count: usize,
    pub(super) of: usize,
    pub(super) share: f64,
    pub(super) low: f64,
    pub(super) high: f64,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
pub(super) struct Line {
    pub(super) figure: String,
    pub(super) name: String,
    pub(super) unit: String,
    pub(super) people: usize,
    pub(super) told: Share,
    pub(super) median_error: Option<f64>,
    pub(super) high_error: Option<f64>,
    pub(super) covered: Share,
    pub(super) covered_all: Share,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
pub(super) struct Exact {
    pub(super) what: String,
    pub(super) right: Share,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
pub(super) struct DeadZone {
    pub(super) firm: Share,
    /// Missing in a result of the first form.
    #[serde(default)]
    pub(super) firm_kept: Option<Share>,
    pub(super) kept: Share,
    pub(super) kept_at_first: Share,
    pub(super) ratio: Option<f64>,
    pub(super) ratio_high: Option<f64>,
    pub(super) asked_seconds: Option<f64>,
    pub(super) asked_seconds_high: Option<f64>,
    pub(super) asked_at_most_seconds: f64,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
pub(super) struct Conventions {
    pub(super) reach_kept: f64,
    pub(super) over_target: f64,
    pub(super) conventions: Vec<Against>,
}

#[derive(Debug, Clone, PartialEq, Deserialize)]
pub(super) struct Against {
    pub(super) convention: String,
    pub(super) factor_at_equal_reach: f64,
    pub(super) over_target: f64,
    pub(super) factor_at_equal_target: f64,
    pub(super) reach_kept: f64,
}

/// A bar that is waived; the form of `tests/src/accuracy/waived.rs`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub(super) struct Waived {
    pub(super) bar: String,
    pub(super) tuning: Option<f64>,
    pub(super) reporting: Option<f64>,
    pub(super) reason: String,
}

impl Report {
    /// Lays the list of what is waived over the bars that are missed.
    pub(super) fn waive(&mut self, list: &[Waived]) {
        for bar in self.bars.iter_mut().filter(|bar| !bar.met) {
            let Some(one) = list.iter().find(|one| one.bar == bar.code) else { continue };
            bar.floor = if self.seeds == "reporting" { one.reporting } else { one.tuning };
            bar.known_short = bar.floor.map(|_| one.reason.clone());
        }
    }
}
