//! The table in the README, between two marks.

use std::fmt::Write as _;
use std::fs;
use std::path::PathBuf;

use super::report::{Line, Report, Share};
use super::with_unit;
use crate::place;
use crate::trouble::Trouble;

const BEGINS: &str = "<!-- accuracy table: written by `cargo xtask accuracy --readme` -->";
const ENDS: &str = "<!-- end of the accuracy table -->";

fn path() -> PathBuf {
    place::root().join("README.md")
}

/// Writes the table of this result.
///
/// # Errors
/// The README cannot be read or written, or lacks the marks.
pub(super) fn write(report: &Report) -> Result<(), Trouble> {
    let text = renewed(&read()?, report)?;
    fs::write(path(), text).map_err(|error| Trouble::file(&path(), &error))
}

/// Whether the table in the README is that of this result.
///
/// # Errors
/// The README cannot be read, or lacks the marks.
pub(super) fn stands(report: &Report) -> Result<bool, Trouble> {
    let text = read()?;
    Ok(renewed(&text, report)? == text)
}

fn read() -> Result<String, Trouble> {
    fs::read_to_string(path()).map_err(|error| Trouble::file(&path(), &error))
}

fn renewed(text: &str, report: &Report) -> Result<String, Trouble> {
    let missing = || {
        Trouble::new(
            "README.md has no place for the accuracy table.",
            format!("Write the two lines `{BEGINS}` and `{ENDS}` where it shall stand."),
        )
    };
    let (before, rest) = text.split_once(BEGINS).ok_or_else(missing)?;
    let (_, after) = rest.split_once(ENDS).ok_or_else(missing)?;
    Ok(format!("{before}{BEGINS}\n\n{}\n{ENDS}{after}", table(report)))
}

fn table(report: &Report) -> String {
    let mut text = String::new();
    let _ = writeln!(
        text,
        "{} invented people, core {}. *Told*: how often a figure was told instead of \"not enough \
         yet\". *Holds*: how often its 95 % interval holds the truth, with the 95 % interval of \
         this share; *of all*: the same over everybody, where who is told \"not enough yet\" is \
         not misled.\n",
        report.people, report.core_version
    );
    let _ = writeln!(
        text,
        "| figure | unit of the error | told | median error | 95th percentile | holds | of all |"
    );
    let _ = writeln!(text, "|---|---|---|---|---|---|---|");
    for line in &report.figures {
        figure(line, &mut text);
    }
    let _ = writeln!(text, "\n| bar | measured | wanted | of | |\n|---|---|---|---|---|");
    for bar in &report.bars {
        let floor = bar.floor.map_or(String::new(), |floor| format!(", no worse than {floor}"));
        let met = match (bar.met, &bar.known_short) {
            (true, _) => "met".to_owned(),
            (false, Some(_)) => format!("**short**{floor}, see below"),
            (false, None) => "**missed**".to_owned(),
        };
        let (value, wanted) = (bar.value(), bar.wanted.words());
        let _ = writeln!(text, "| {} | {value} | {wanted} | {} | {met} |", bar.name, bar.of);
    }
    for bar in &report.bars {
        if let (false, Some(why)) = (bar.met, &bar.known_short) {
            let _ = writeln!(text, "\n- **{}**: {why}", bar.name);
        }
    }
    let _ = writeln!(text, "\n| known exactly or at the stop | told rightly |\n|---|---|");
    for exact in &report.exact {
        let _ = writeln!(text, "| {} | {} |", exact.what, share(exact.right));
    }
    dead_zone(report, &mut text);
    groups(report, &mut text);
    text
}

/// How often the intervals hold, and the dead zone keeps what it promises, by group of people.
fn groups(report: &Report, text: &mut String) {
    if report.groups.is_empty() {
        return;
    }
    let row = |name: &str, cells: &mut dyn Iterator<Item = String>| {
        let cells: Vec<String> = cells.collect();
        format!("| {name} | {} |", cells.join(" | "))
    };
    let names = row("holds, % of", &mut report.groups.iter().map(|group| group.group.clone()));
    let people = row("people", &mut report.groups.iter().map(|group| group.people.to_string()));
    let _ = writeln!(text, "\n{names}\n|{}\n{people}", "---|".repeat(report.groups.len() + 1));
    let percent_of = |share: Share| {
        if share.of == 0 { "–".to_owned() } else { percent(share.share) }
    };
    for line in &report.figures {
        let mut cells = report.groups.iter().map(|group| {
            let own = group.figures.iter().find(|own| own.figure == line.figure);
            own.map_or("–".to_owned(), |own| percent_of(own.covered))
        });
        let _ = writeln!(text, "{}", row(&line.name, &mut cells));
    }
    let kept = report.groups.iter().map(|group| percent_of(group.dead_zone.kept));
    let _ = writeln!(text, "{}", row("dead zone keeps its target", &mut kept.into_iter()));
    let firm = report.groups.iter().map(|group| percent_of(group.dead_zone.firm_kept));
    let _ = writeln!(text, "{}", row("the same of those told firm", &mut firm.into_iter()));
}

fn figure(line: &Line, text: &mut String) {
    let error = |value: Option<f64>| value.map_or("–".to_owned(), |value| format!("{value}"));
    let _ = writeln!(
        text,
        "| {} | {} | {} % | {} | {} | {} | {} % |",
        line.name,
        line.unit,
        percent(line.told.share),
        error(line.median_error),
        error(line.high_error),
        share(line.covered),
        percent(line.covered_all.share),
    );
}

fn dead_zone(report: &Report, text: &mut String) {
    let zone = &report.dead_zone;
    let minutes = |seconds: Option<f64>| {
        seconds.map_or("–".to_owned(), |seconds| with_unit((seconds / 6.0).round() / 10.0, "min"))
    };
    let times = |ratio: Option<f64>| ratio.map_or("–".to_owned(), |ratio| format!("{ratio}"));
    let _ = writeln!(
        text,
        "\nDead zone, all people: the target is kept over an hour in {} ({} with the plan's own \
         rest alone); the radius is {} times the smallest that would do (95th percentile {}); told \
         firm in {}{}; rest asked for {} (95th percentile {}, never more than {}).\n",
        share(zone.kept),
        share(zone.kept_at_first),
        times(zone.ratio),
        times(zone.ratio_high),
        share(zone.firm),
        zone.firm_kept
            .map_or(String::new(), |kept| format!(", of whom it is kept in {}", share(kept))),
        minutes(zone.asked_seconds),
        minutes(zone.asked_seconds_high),
        minutes(Some(zone.asked_at_most_seconds)),
    );
    let all = &report.conventions;
    let _ = writeln!(
        text,
        "| dead zone | people over target at equal reach kept | reach kept at equal share over \
         target |\n|---|---|---|\n| suggested | {} % | {} % |",
        percent(all.over_target),
        percent(all.reach_kept)
    );
    for one in &all.conventions {
        let _ = writeln!(
            text,
            "| {} | {} % (× {}) | {} % (× {}) |",
            one.convention,
            percent(one.over_target),
            one.factor_at_equal_reach,
            percent(one.reach_kept),
            one.factor_at_equal_target
        );
    }
}

fn percent(share: f64) -> String {
    format!("{:.1}", 100.0 * share)
}

fn share(share: Share) -> String {
    if share.of == 0 {
        return "–".to_owned();
    }
    let Share { low, high, count, of, .. } = share;
    format!("{} % ({}–{}; {count} of {of})", percent(share.share), percent(low), percent(high))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::accuracy::report::{Conventions, DeadZone};

    fn report() -> Report {
        let none = Share { count: 0, of: 0, share: 0.0, low: 0.0, high: 0.0 };
        Report {
            core_version: "1.2.3".to_owned(),
            people: 4,
            seeds: "reporting".to_owned(),
            bars: Vec::new(),
            figures: Vec::new(),
            exact: Vec::new(),
            dead_zone: DeadZone {
                firm: none,
                firm_kept: None,
                kept: none,
                kept_at_first: none,
                ratio: None,
                ratio_high: None,
                asked_seconds: None,
                asked_seconds_high: None,
                asked_at_most_seconds: 600.0,
            },
            conventions: Conventions {
                reach_kept: 0.9,
                over_target: 0.05,
                conventions: Vec::new(),
            },
            groups: Vec::new(),
        }
    }

    #[test]
    fn only_what_stands_between_the_marks_is_renewed() {
        let text = format!("before\n{BEGINS}\nstale\n{ENDS}\nafter\n");
        let new = renewed(&text, &report()).unwrap();
        assert!(
            new.starts_with("before\n") && new.ends_with("\nafter\n") && !new.contains("stale")
        );
        assert!(new.contains("4 invented people, core 1.2.3"));
        assert_eq!(renewed(&new, &report()).unwrap(), new);
        assert!(renewed("no marks", &report()).unwrap_err().what.contains("README"));
    }
}
