//! The whole result, as a file and as a table.

use super::bars::{Bar, Wanted, bars};
use super::by_group::{GroupTable, by_group, side_by_side};
use super::conventions::{Comparison, compare};
use super::dead_zone::{DeadZoneCase, MOST_REST_SECONDS};
use super::lines::{Line, Miss, Rightness, lines, misses, rightness};
use super::person::Person;
use super::seeds::Seeds;
use super::shares::{Share, quantile_of, rounded};
use super::waived::waived_codes;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// The whole result. Numbers are rounded to four significant digits; shares are 0..=1; units
/// stand beside the lines and bars. It depends on the core and the number of people alone.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Report {
    /// Always "accuracy".
    pub kind: String,
    /// The version of this form.
    pub schema: u32,
    /// The version of the core.
    pub core_version: String,
    /// How many people.
    pub people: usize,
    /// Which people: whether anything was set on them.
    pub seeds: Seeds,
    /// The seed of the first; the others follow it.
    pub first_seed: u64,
    /// People by the minutes of their plan.
    pub plans: BTreeMap<u32, usize>,
    /// Every bar.
    pub bars: Vec<Bar>,
    /// Every figure.
    pub figures: Vec<Line>,
    /// What is known exactly or at the stop.
    pub exact: Vec<Rightness>,
    /// The dead zone.
    pub dead_zone: DeadZone,
    /// The dead zone against conventions.
    pub conventions: Comparison,
    /// Every figure for each group of people.
    pub groups: Vec<GroupTable>,
    /// Every interval that does not hold its truth, by figure: seed, of what, truth, low, value,
    /// high.
    pub misses: BTreeMap<String, Vec<Miss>>,
    /// Everyone whose target the suggested dead zone does not keep: seed, radius, smallest radius
    /// that would do, false movements a minute.
    pub over_target: Vec<(u64, f64, f64, f64)>,
}

/// The dead zone over all people.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct DeadZone {
    /// To how many one was suggested.
    pub told: Share,
    /// How many of them were told firm.
    pub firm: Share,
    /// How many of those told firm keep their target over an hour: "not enough yet" and rough
    /// are no wrong firm.
    pub firm_kept: Share,
    /// The same of all who were told any.
    pub kept: Share,
    /// Of those whose posture drifts, how many would keep it with the radius of an observer who is told
    /// exactly what is needed while the posture stays.
    pub observer_kept: Share,
    /// The same with what was suggested after the plan's own rest.
    pub kept_at_first: Share,
    /// Radius over the smallest that would do: median.
    pub ratio: Option<f64>,
    /// The same, 95th percentile.
    pub ratio_high: Option<f64>,
    /// Rest asked for until told firm, the plan's own included, seconds: median.
    pub asked_seconds: Option<f64>,
    /// The same, 95th percentile.
    pub asked_seconds_high: Option<f64>,
    /// Nobody is asked for more than this, seconds.
    pub asked_at_most_seconds: f64,
}

/// The result over these people of one set.
#[must_use]
pub fn report(people: &[Person], seeds: Seeds) -> Report {
    let everybody: Vec<&Person> = people.iter().collect();
    let lines = lines(&everybody);
    let groups = by_group(people);
    let cases: Vec<&DeadZoneCase> = people.iter().map(|one| &one.dead_zone).collect();
    let comparison = compare(&cases);
    let mut plans = BTreeMap::new();
    for one in people {
        *plans.entry(one.minutes).or_default() += 1;
    }
    Report {
        kind: "accuracy".to_owned(),
        schema: 2,
        core_version: fitting::CORE_VERSION.to_owned(),
        people: people.len(),
        seeds,
        first_seed: people.first().map_or(0, |one| one.seed),
        plans,
        bars: bars(people, &lines, &groups, &comparison),
        figures: lines,
        exact: rightness(people),
        dead_zone: dead_zone(&cases),
        conventions: short(comparison),
        groups,
        misses: misses(people),
        over_target: people
            .iter()
            .filter_map(|one| {
                let case = &one.dead_zone;
                let radius = case.radius.filter(|radius| !case.keeps(*radius))?;
                let numbers = (rounded(radius), rounded(case.needed), rounded(case.realised));
                Some((one.seed, numbers.0, numbers.1, numbers.2))
            })
            .collect(),
    }
}

/// The dead zone over these people.
#[must_use]
pub fn dead_zone(cases: &[&DeadZoneCase]) -> DeadZone {
    let share = |held: &dyn Fn(&DeadZoneCase) -> bool, of: &dyn Fn(&DeadZoneCase) -> bool| {
        let counts: Vec<(usize, usize)> =
            cases.iter().filter(|case| of(case)).map(|case| (usize::from(held(case)), 1)).collect();
        Share::of_people(&counts)
    };
    let told = |case: &DeadZoneCase| case.radius.is_some();
    let ratios: Vec<f64> = cases
        .iter()
        .filter_map(|case| case.radius.map(|radius| radius / case.needed.max(1e-3)))
        .collect();
    let asked: Vec<f64> = cases.iter().map(|case| case.asked_seconds).collect();
    let kept = |radius: Option<f64>, case: &DeadZoneCase| radius.is_some_and(|r| case.keeps(r));
    DeadZone {
        told: share(&told, &|_| true),
        firm: share(&|case| case.firm, &told),
        firm_kept: share(&|case| kept(case.radius, case), &|case| told(case) && case.firm),
        kept: share(&|case| kept(case.radius, case), &told),
        observer_kept: share(&|case| case.observer_keeps == Some(true), &|case| {
            case.observer_keeps.is_some()
        }),
        kept_at_first: share(&|case| kept(case.first_radius, case), &|case| {
            case.first_radius.is_some()
        }),
        ratio: quantile_of(&ratios, 0.5),
        ratio_high: quantile_of(&ratios, 0.95),
        asked_seconds: quantile_of(&asked, 0.5),
        asked_seconds_high: quantile_of(&asked, 0.95),
        asked_at_most_seconds: MOST_REST_SECONDS,
    }
}

/// The comparison with its numbers rounded.
fn short(mut comparison: Comparison) -> Comparison {
    comparison.reach_kept = rounded(comparison.reach_kept);
    comparison.over_target = rounded(comparison.over_target);
    for one in &mut comparison.conventions {
        one.factor_at_equal_reach = rounded(one.factor_at_equal_reach);
        one.over_target = rounded(one.over_target);
        one.factor_at_equal_target = rounded(one.factor_at_equal_target);
        one.reach_kept = rounded(one.reach_kept);
    }
    comparison
}

impl Report {
    /// Whether every bar is cleared, or waived and no worse than its floor.
    #[must_use]
    pub fn holds(&self) -> bool {
        !self.bars.is_empty() && self.bars.iter().all(|bar| bar.passes(self.seeds))
    }

    /// As a table to read in a terminal.
    #[must_use]
    pub fn table(&self) -> String {
        let mut text = String::new();
        let _ = writeln!(
            text,
            "{} people ({}, from seed {}), core {}",
            self.people,
            self.seeds.code(),
            self.first_seed,
            self.core_version
        );
        for line in &self.figures {
            let error = |value: Option<f64>| value.map_or("-".to_owned(), |v| format!("{v}"));
            let _ = writeln!(
                text,
                "  {:40} told {:5.1} %  error {:>8} {:>8} {:22} holds {:5.1} % ({:.1} to {:.1} of {})",
                line.name,
                100.0 * line.told.share,
                error(line.median_error),
                error(line.high_error),
                line.unit,
                100.0 * line.covered.share,
                100.0 * line.covered.low,
                100.0 * line.covered.high,
                line.covered.of,
            );
        }
        for one in &self.exact {
            let Rightness { what, right, .. } = one;
            let _ = writeln!(text, "  {what}: right in {} of {}", right.count, right.of);
        }
        let codes: Vec<String> = self.figures.iter().map(|line| line.figure.clone()).collect();
        text += &side_by_side(&self.groups, &codes);
        let _ = writeln!(text, "\n  {:?}", self.dead_zone);
        let _ = writeln!(text, "  {:?}", self.conventions);
        for bar in &self.bars {
            let mark = match (bar.met, bar.passes(self.seeds)) {
                (true, _) => "ok    ",
                (false, true) => "waived",
                (false, false) => "MISSED",
            };
            let value = bar.measured.map_or("nothing".to_owned(), |value| format!("{value}"));
            let observer = bar
                .observer
                .map_or(String::new(), |told| format!(", {told} told more than can be known"));
            let _ = writeln!(
                text,
                "  {mark}  {}: {value} {} ({}, of {}{observer})",
                bar.name,
                bar.unit,
                wanted(bar.wanted),
                bar.of
            );
        }
        for code in waived_codes(self.seeds) {
            if self.bars.iter().any(|bar| bar.code == code && bar.met) {
                let _ = writeln!(text, "  {code} is cleared here, and still waived");
            }
        }
        text
    }

    /// As a file: one line for each list or entry, so that changes can be read.
    #[must_use]
    pub fn file(&self) -> String {
        let mut text = String::new();
        if let Ok(value) = serde_json::to_value(self) {
            written(&value, 0, &mut text);
            text.push('\n');
        }
        text
    }
}

fn wanted(wanted: Wanted) -> String {
    match wanted {
        Wanted::AtMost(most) => format!("at most {most}"),
        Wanted::AtLeast(least) => format!("at least {least}"),
        Wanted::Above(bound) => format!("above {bound}"),
        Wanted::Within(low, high) => format!("{low} to {high}"),
    }
}

/// JSON whose upper levels have a line of their own.
fn written(value: &serde_json::Value, depth: usize, text: &mut String) {
    const DEEP: usize = 2;
    let indent = "  ".repeat(depth + 1);
    match value {
        serde_json::Value::Object(fields) if depth < DEEP && !fields.is_empty() => {
            text.push('{');
            for (index, (name, field)) in fields.iter().enumerate() {
                let comma = if index > 0 { "," } else { "" };
                let name = serde_json::Value::from(name.as_str());
                let _ = write!(text, "{comma}\n{indent}{name}: ");
                written(field, depth + 1, text);
            }
            let _ = write!(text, "\n{}}}", "  ".repeat(depth));
        }
        serde_json::Value::Array(items) if depth <= DEEP && !items.is_empty() => {
            text.push('[');
            for (index, item) in items.iter().enumerate() {
                let comma = if index > 0 { "," } else { "" };
                let _ = write!(text, "{comma}\n{indent}{item}");
            }
            let _ = write!(text, "\n{}]", "  ".repeat(depth));
        }
        other => {
            let _ = write!(text, "{other}");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_file_is_the_report() {
        let report = report(&[], Seeds::Tuning);
        assert!(!report.holds(), "nothing measured is no success");
        let read: Report = serde_json::from_str(&report.file()).expect("what was written");
        assert_eq!(read, report);
    }
}
