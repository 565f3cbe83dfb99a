//! The lines of the table: one figure over all people.

use super::figure::{Case, Figure};
use super::person::Person;
use super::shares::{Share, quantile_of, rounded};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// One figure over all people.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Line {
    /// The figure's name in files.
    pub figure: String,
    /// The figure's name in the table.
    pub name: String,
    /// The unit of the errors.
    pub unit: String,
    /// People who have it.
    pub people: usize,
    /// How often a figure was told instead of "not enough yet".
    pub told: Share,
    /// To how many people one was told.
    pub people_told: usize,
    /// Median error; `None` where nothing was told.
    pub median_error: Option<f64>,
    /// 95th percentile of the error.
    pub high_error: Option<f64>,
    /// How often the interval told holds the truth.
    pub covered: Share,
    /// The same over everybody: who is told "not enough yet" is not misled.
    pub covered_all: Share,
}

/// The lines of all figures that anybody has.
#[must_use]
pub fn lines(people: &[&Person]) -> Vec<Line> {
    Figure::ALL.into_iter().filter_map(|figure| line(people, figure)).collect()
}

fn line(people: &[&Person], figure: Figure) -> Option<Line> {
    let by_person: Vec<Vec<&Case>> = people
        .iter()
        .map(|one| one.cases.iter().filter(|case| case.figure == figure).collect::<Vec<_>>())
        .filter(|cases| !cases.is_empty())
        .collect();
    if by_person.is_empty() {
        return None;
    }
    let share = |held: &dyn Fn(&Case) -> bool, of: &dyn Fn(&Case) -> bool| {
        let counts: Vec<(usize, usize)> = by_person
            .iter()
            .map(|cases| {
                let all = cases.iter().filter(|case| of(case));
                (all.clone().filter(|case| held(case)).count(), all.count())
            })
            .collect();
        Share::of_people(&counts)
    };
    let errors: Vec<f64> = by_person.iter().flatten().filter_map(|case| case.error()).collect();
    Some(Line {
        figure: figure.code().to_owned(),
        name: figure.name().to_owned(),
        unit: figure.unit().to_owned(),
        people: by_person.len(),
        people_told: by_person
            .iter()
            .filter(|cases| cases.iter().any(|case| case.told.is_ok()))
            .count(),
        told: share(&|case| case.told.is_ok(), &|_| true),
        median_error: quantile_of(&errors, 0.5),
        high_error: quantile_of(&errors, 0.95),
        covered: share(&|case| case.covered() == Some(true), &|case| case.told.is_ok()),
        covered_all: share(&|case| case.covered() != Some(false), &|_| true),
    })
}

/// How often something that is known exactly was told rightly.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Rightness {
    /// What.
    pub what: String,
    /// How often.
    pub right: Share,
    /// The seeds of the people who were told wrongly.
    pub wrong: Vec<u64>,
}

/// How often one thing was told rightly, of once each, and the seeds of those told wrongly.
type Told = (Vec<(usize, usize)>, Vec<u64>);

/// What is known exactly, over all people.
#[must_use]
pub fn rightness(people: &[Person]) -> Vec<Rightness> {
    let mut by_what: BTreeMap<&str, Told> = BTreeMap::new();
    for one in people {
        for exact in &one.exact {
            let (counts, wrong) = by_what.entry(exact.what).or_default();
            counts.push((usize::from(exact.right), 1));
            if !exact.right && wrong.last() != Some(&one.seed) {
                wrong.push(one.seed);
            }
        }
    }
    by_what
        .into_iter()
        .map(|(what, (counts, wrong))| Rightness {
            what: what.to_owned(),
            right: Share::of_people(&counts),
            wrong,
        })
        .collect()
}

/// One interval that does not hold the truth: seed, of what, truth, low, value, high.
pub type Miss = (u64, String, f64, f64, f64, f64);

/// Every interval that does not hold the truth, by figure.
#[must_use]
pub fn misses(people: &[Person]) -> BTreeMap<String, Vec<Miss>> {
    let mut found: BTreeMap<String, Vec<Miss>> = BTreeMap::new();
    for one in people {
        for case in &one.cases {
            if let (Some(false), Ok(told)) = (case.covered(), case.told) {
                found.entry(case.figure.code().to_owned()).or_default().push((
                    one.seed,
                    case.of.clone(),
                    rounded(case.truth),
                    rounded(told.low),
                    rounded(told.value),
                    rounded(told.high),
                ));
            }
        }
    }
    found
}
