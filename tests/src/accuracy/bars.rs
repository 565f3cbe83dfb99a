//! The bars, and which of them are cleared.

use super::by_group::GroupTable;
use super::conventions::Comparison;
use super::dead_zone::DeadZoneCase;
use super::figure::Figure;
use super::lines::Line;
use super::person::{Person, ReachCase};
use super::report::dead_zone as shares_of;
use super::seeds::Seeds;
use super::shares::{Share, quantile_of, rounded};
use super::waived::{is_no_worse, waived};
use serde::{Deserialize, Serialize};

/// Which values clear a bar.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Wanted {
    /// This or less.
    AtMost(f64),
    /// This or more.
    AtLeast(f64),
    /// More than this.
    Above(f64),
    /// Between these two, both included.
    Within(f64, f64),
}

/// One measured value against its bar.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Bar {
    /// Its name in files.
    pub code: String,
    /// Its name in the table.
    pub name: String,
    /// The unit.
    pub unit: String,
    /// The value; `None` where there was nobody to measure it on.
    pub measured: Option<f64>,
    /// What clears it.
    pub wanted: Wanted,
    /// How many cases it rests on.
    pub of: usize,
    /// Whether it is cleared.
    pub met: bool,
    /// What an observer measures from the same visits who is told more than a page can know
    /// (`observers.rs`); only where the bar is a hard one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub observer: Option<f64>,
}

impl Bar {
    /// Whether it is cleared, or waived for these people and no worse than its floor.
    #[must_use]
    pub fn passes(&self, seeds: Seeds) -> bool {
        let floor = waived(&self.code, seeds).and_then(|known| known.floor(seeds));
        let holds =
            |measured: f64| floor.is_some_and(|floor| is_no_worse(measured, floor, self.wanted));
        self.met || self.measured.is_some_and(holds)
    }
}

/// Fewer cases than this say nothing of a coverage.
const FEWEST_CASES: usize = 20;

/// A group is judged by a figure that was told to so many of its people or more.
const FEWEST_OF_GROUP: usize = 200;

/// All bars.
#[must_use]
pub fn bars(
    people: &[Person],
    lines: &[Line],
    groups: &[GroupTable],
    comparison: &Comparison,
) -> Vec<Bar> {
    let mut found = Vec::new();
    reach(people, &mut found);
    turn(people, &mut found);
    rhythm(people, &mut found);
    let hold = lines.iter().find(|line| line.figure == Figure::HoldDeviation.code());
    let observer: Vec<f64> = people.iter().flat_map(|one| &one.hold_observer).copied().collect();
    found.push(Bar {
        observer: quantile_of(&observer, 0.5).map(|error| rounded(100.0 * error)),
        ..bar(
            "hold_median",
            "hold steadiness: median error",
            "% of the truth",
            hold.and_then(|line| line.median_error),
            Wanted::AtMost(10.0),
            hold.map_or(0, |line| line.told.count),
        )
    });
    for line in lines.iter().filter(|line| line.covered.of >= FEWEST_CASES) {
        let count = Figure::ALL.iter().any(|one| one.code() == line.figure && one.is_count());
        // No drift is told closer than one step of the stick, so of a quiet stick it holds always.
        let stepped = line.figure == Figure::DeviceDrift.code();
        let wanted =
            if count || stepped { Wanted::AtLeast(92.0) } else { Wanted::Within(92.0, 98.0) };
        found.push(bar(
            &format!("covered_{}", line.figure),
            &format!("{}: intervals that hold the truth", line.name),
            "%",
            Some(100.0 * line.covered.share),
            wanted,
            line.covered.of,
        ));
    }
    dead_zone(people, &mut found);
    conventions(comparison, &mut found);
    worst_groups(lines, groups, &mut found);
    found
}

/// A share of the dead zone in a group.
type ReadShare = fn(&GroupTable) -> Share;

/// What the worst of the groups has to clear.
fn worst_groups(lines: &[Line], groups: &[GroupTable], found: &mut Vec<Bar>) {
    for line in lines {
        let told = groups.iter().filter_map(|group| {
            let own = group.figures.iter().find(|one| one.figure == line.figure)?;
            (own.people_told >= FEWEST_OF_GROUP).then_some((group, own.covered))
        });
        if let Some((group, covered)) =
            told.min_by(|one, other| one.1.share.total_cmp(&other.1.share))
        {
            found.push(bar(
                &format!("worst_covered_{}", line.figure),
                &format!(
                    "{}: intervals that hold the truth, worst group ({})",
                    line.name, group.group
                ),
                "%",
                Some(100.0 * covered.share),
                Wanted::AtLeast(90.0),
                covered.of,
            ));
        }
    }
    let zones: [(&str, &str, ReadShare); 2] = [
        ("kept", "people whose target is kept over an hour", |group| group.dead_zone.kept),
        ("firm_kept", "the same of those told firm", |group| group.dead_zone.firm_kept),
    ];
    for (code, what, read) in zones {
        let shares = groups.iter().map(|group| (group, read(group)));
        let judged = shares.filter(|(_, share)| share.of >= FEWEST_OF_GROUP);
        if let Some((group, share)) =
            judged.min_by(|one, other| one.1.share.total_cmp(&other.1.share))
        {
            found.push(bar(
                &format!("worst_dead_zone_{code}"),
                &format!("dead zone: {what}, worst group ({})", group.group),
                "%",
                Some(100.0 * share.share),
                Wanted::AtLeast(88.0),
                share.of,
            ));
        }
    }
}

fn bar(
    code: &str,
    name: &str,
    unit: &str,
    measured: Option<f64>,
    wanted: Wanted,
    of: usize,
) -> Bar {
    let measured = measured.filter(|value| value.is_finite()).map(rounded);
    // A bar that nobody could be measured on is not cleared.
    let met = measured.is_some_and(|value| match wanted {
        Wanted::AtMost(most) => value <= most,
        Wanted::AtLeast(least) => value >= least,
        Wanted::Above(bound) => value > bound,
        Wanted::Within(low, high) => low <= value && value <= high,
    });
    Bar {
        code: code.to_owned(),
        name: name.to_owned(),
        unit: unit.to_owned(),
        measured,
        wanted,
        of,
        met,
        observer: None,
    }
}

/// Repetitions that vary by this much or less count as steady, share of full scale.
const STEADY_DEVIATION: f64 = 0.04;

fn reach(people: &[Person], found: &mut Vec<Bar>) {
    let (steady, varied): (Vec<&ReachCase>, Vec<&ReachCase>) = people
        .iter()
        .flat_map(|one| &one.reach)
        .partition(|case| case.deviation <= STEADY_DEVIATION);
    let errors: Vec<f64> = steady.iter().map(|case| 100.0 * case.error).collect();
    for (code, name, share, most) in [
        ("reach_median", "reach, repetitions within 4 %: median error", 0.5, 2.0),
        ("reach_high", "reach, repetitions within 4 %: 95th percentile of the error", 0.95, 5.0),
    ] {
        let measured = quantile_of(&errors, share);
        found.push(bar(
            code,
            name,
            "% of full scale",
            measured,
            Wanted::AtMost(most),
            errors.len(),
        ));
    }
    let own: Vec<f64> = varied.iter().map(|case| case.error).collect();
    let oracle: Vec<f64> = varied.iter().map(|case| case.oracle_error).collect();
    let observed = varied.iter().filter_map(|case| Some((case.observer_error?, case.oracle_error)));
    let (observer, observed_oracle): (Vec<f64>, Vec<f64>) = observed.unzip();
    for (code, name, share) in [
        ("reach_varied_median", "reach, elsewhere: median error against the oracle's", 0.5),
        ("reach_varied_high", "reach, elsewhere: 95th percentile against the oracle's", 0.95),
    ] {
        let times = |errors: &[f64], oracle: &[f64]| {
            let both = quantile_of(errors, share).zip(quantile_of(oracle, share));
            both.map(|(own, oracle)| own / oracle.max(1e-9))
        };
        let measured = times(&own, &oracle);
        let mut bar = bar(code, name, "times", measured, Wanted::AtMost(1.25), own.len());
        bar.observer = times(&observer, &observed_oracle).map(rounded);
        found.push(bar);
    }
}

fn turn(people: &[Person], found: &mut Vec<Bar>) {
    let errors: Vec<f64> = people
        .iter()
        .filter_map(|one| one.turn)
        .filter(|case| case.pushes >= 24 && case.deviation_degrees <= 7.0)
        .map(|case| case.error)
        .collect();
    found.push(bar(
        "turn_median",
        "rotation, 24 reaches and directions within 7°: median error",
        "°",
        quantile_of(&errors, 0.5),
        Wanted::AtMost(1.0),
        errors.len(),
    ));
}

fn rhythm(people: &[Person], found: &mut Vec<Bar>) {
    // Where it stands out and was not found, nothing is nearer than everything.
    let errors: Vec<f64> = people
        .iter()
        .filter_map(|one| one.rhythm)
        .filter(|case| case.over_wander >= 2.0)
        .map(|case| case.error_hertz.unwrap_or(1e3))
        .collect();
    found.push(bar(
        "rhythm_median",
        "rhythm, twice the wander in its band: median error of its frequency",
        "Hz",
        quantile_of(&errors, 0.5),
        Wanted::AtMost(0.3),
        errors.len(),
    ));
}

fn dead_zone(people: &[Person], found: &mut Vec<Bar>) {
    for (jerky, code, name) in [
        (false, "dead_zone", "dead zone, continual movement only"),
        (true, "dead_zone_sudden", "dead zone, continual part beside sudden movements"),
    ] {
        let told: Vec<(f64, bool)> = people
            .iter()
            .map(|one| &one.dead_zone)
            .filter(|case| case.jerky == jerky)
            .filter_map(|case| {
                let radius = case.radius?;
                Some((radius / case.needed.max(1e-3), case.keeps(radius)))
            })
            .collect();
        let ratios: Vec<f64> = told.iter().map(|case| case.0).collect();
        let kept = told.iter().filter(|case| case.1).count();
        found.push(bar(
            &format!("{code}_kept"),
            &format!("{name}: people whose target is kept over an hour"),
            "%",
            (!told.is_empty()).then(|| 100.0 * kept as f64 / told.len() as f64),
            Wanted::AtLeast(90.0),
            told.len(),
        ));
        found.push(bar(
            &format!("{code}_radius"),
            &format!("{name}: median radius against the smallest that would do"),
            "times",
            quantile_of(&ratios, 0.5),
            Wanted::AtMost(1.3),
            told.len(),
        ));
    }
    let cases: Vec<&DeadZoneCase> = people.iter().map(|one| &one.dead_zone).collect();
    let all = shares_of(&cases);
    for (code, what, share) in [
        ("all", "people whose target is kept over an hour", all.kept),
        ("firm", "the same of those told firm", all.firm_kept),
    ] {
        found.push(bar(
            &format!("dead_zone_{code}_kept"),
            &format!("dead zone, everybody: {what}"),
            "%",
            (share.of > 0).then_some(100.0 * share.share),
            Wanted::AtLeast(90.0),
            share.of,
        ));
    }
    let asked: Vec<f64> = people.iter().map(|one| one.dead_zone.asked_seconds / 60.0).collect();
    found.push(bar(
        "rest_asked",
        "rest asked for until firm: median",
        "minutes",
        quantile_of(&asked, 0.5),
        Wanted::AtMost(2.0),
        asked.len(),
    ));
}

fn conventions(comparison: &Comparison, found: &mut Vec<Bar>) {
    let least = |of: &dyn Fn(&super::conventions::Against) -> f64| {
        comparison.conventions.iter().map(of).min_by(f64::total_cmp)
    };
    found.push(bar(
        "fewer_over_target",
        "people over target at equal reach kept: the best convention's share less ours",
        "percentage points",
        least(&|one| 100.0 * (one.over_target - comparison.over_target)),
        Wanted::Above(0.0),
        comparison.people,
    ));
    found.push(bar(
        "more_reach_kept",
        "reach kept at equal share over target: ours less the best convention's",
        "percentage points",
        least(&|one| 100.0 * (comparison.reach_kept - one.reach_kept)),
        Wanted::Above(0.0),
        comparison.people,
    ));
}
