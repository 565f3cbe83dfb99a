//! The same table for each group of people.

use super::dead_zone::DeadZoneCase;
use super::groups::Group;
use super::lines::lines;
use super::person::Person;
use super::report::{DeadZone, dead_zone};
use super::shares::Share;
use serde::{Deserialize, Serialize};
use std::fmt::Write as _;

/// One group.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct GroupTable {
    /// The group.
    pub group: String,
    /// How many people.
    pub people: usize,
    /// Every figure that anybody of them has.
    pub figures: Vec<GroupLine>,
    /// The dead zone.
    pub dead_zone: DeadZone,
}

/// One figure over one group; names and units stand with the figures of all people.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct GroupLine {
    /// The figure's name in files.
    pub figure: String,
    /// To how many people it was told.
    pub people_told: usize,
    /// How often it was told instead of "not enough yet", 0..=1.
    pub told: f64,
    /// Median error; `None` where nothing was told.
    pub median_error: Option<f64>,
    /// 95th percentile of the error.
    pub high_error: Option<f64>,
    /// How often the interval told holds the truth.
    pub covered: Share,
}

/// The tables of all groups.
#[must_use]
pub fn by_group(people: &[Person]) -> Vec<GroupTable> {
    Group::ALL.into_iter().map(|group| table(people, group)).collect()
}

fn table(people: &[Person], group: Group) -> GroupTable {
    let members: Vec<&Person> = people.iter().filter(|one| one.groups.contains(&group)).collect();
    let cases: Vec<&DeadZoneCase> = members.iter().map(|one| &one.dead_zone).collect();
    let figures = lines(&members).into_iter().map(|line| GroupLine {
        figure: line.figure,
        people_told: line.people_told,
        told: line.told.share,
        median_error: line.median_error,
        high_error: line.high_error,
        covered: line.covered,
    });
    GroupTable {
        group: group.code().to_owned(),
        people: members.len(),
        figures: figures.collect(),
        dead_zone: dead_zone(&cases),
    }
}

/// One number of a figure in a group, to be printed.
type Read = fn(&GroupLine) -> Option<f64>;
/// One share of the dead zone in a group, to be printed.
type ReadShare = fn(&DeadZone) -> Share;

/// The groups side by side, to read in a terminal: how often the interval of each figure holds its
/// truth, how often it was told, and its median error; then the dead zone.
#[must_use]
pub fn side_by_side(groups: &[GroupTable], figures: &[String]) -> String {
    let mut text = String::new();
    let reads: [(&str, Read); 3] = [
        ("holds its truth, %", |line| (line.covered.of > 0).then_some(100.0 * line.covered.share)),
        ("told, %", |line| Some(100.0 * line.told)),
        ("median error, in the unit of the figure", |line| line.median_error),
    ];
    for (name, read) in reads {
        heading(&mut text, name, groups);
        for figure in figures {
            let _ = write!(text, "  {figure:18}");
            for group in groups {
                let line = group.figures.iter().find(|line| line.figure == *figure);
                cell(&mut text, line.and_then(read));
            }
            text.push('\n');
        }
    }
    heading(&mut text, "dead zone, %", groups);
    let shares: [(&str, ReadShare); 5] = [
        ("told", |zone| zone.told),
        ("keeps the target", |zone| zone.kept),
        ("an observer's does", |zone| zone.observer_kept),
        ("told firm", |zone| zone.firm),
        ("firm, and keeps it", |zone| zone.firm_kept),
    ];
    for (name, read) in shares {
        let _ = write!(text, "  {name:18}");
        for group in groups {
            let share = read(&group.dead_zone);
            cell(&mut text, (share.of > 0).then_some(100.0 * share.share));
        }
        text.push('\n');
    }
    text
}

fn heading(text: &mut String, name: &str, groups: &[GroupTable]) {
    let _ = write!(text, "\n{name}\n  {:18}", "");
    for group in groups {
        let _ = write!(text, "{:>10}", group.group);
    }
    let _ = write!(text, "\n  {:18}", "people");
    for group in groups {
        let _ = write!(text, "{:>10}", group.people);
    }
    text.push('\n');
}

fn cell(text: &mut String, value: Option<f64>) {
    let _ = match value {
        Some(value) if value.abs() < 10.0 => write!(text, "{value:>10.2}"),
        Some(value) => write!(text, "{value:>10.1}"),
        None => write!(text, "{:>10}", "-"),
    };
}
