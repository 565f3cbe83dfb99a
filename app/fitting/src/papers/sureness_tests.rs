//! One figure has one word, wherever it is shown, and firm is never said of an interval without width.

use super::tests::summary;
use super::*;
use crate::exchange::figures::{Line, Unit, measured, suggested};
use crate::invented::{Invented, Model, fixed_order, play};
use crate::measure::measure;
use crate::suggest::{Wish, suggest};
use crate::task::TaskRecord;

/// A figure with its word, and where it was said.
#[derive(Clone, Debug)]
struct Said {
    place: String,
    what: &'static str,
    figure: Option<Estimate>,
    word: Sureness,
}

fn said(what: &'static str, place: &str, figure: Option<Estimate>, word: Sureness) -> Said {
    Said { place: place.to_owned(), what, figure, word }
}

fn of_letter(summary: &SummaryBody) -> Vec<Said> {
    let limits = limits(summary).into_iter().filter_map(|limit| match limit {
        Limit::Reach { shortest, sureness, .. } => {
            Some(said("reach", "limit", Some(shortest.1), sureness))
        }
        Limit::Wander { inside, sureness } => Some(said("wander", "limit", Some(inside), sureness)),
        Limit::KeptUp { kept, sureness, .. } => Some(said("kept", "limit", Some(kept), sureness)),
        _ => None,
    });
    let needs = needs(summary).into_iter().map(|need| match need.feature {
        Feature::FullThrow { at, .. } => said("full throw", "need", Some(at), need.sureness),
        Feature::DeadZone { radius, .. } => said("dead zone", "need", Some(radius), need.sureness),
        Feature::Sensitivity { .. } => said("curve", "need", None, need.sureness),
        Feature::Turn { degrees } => said("direction", "need", Some(degrees), need.sureness),
        Feature::Axes { .. } => said("direction", "need", None, need.sureness),
        Feature::Smoothing { left, .. } => said("smoothing", "need", Some(left), need.sureness),
        Feature::ShortestPress { shortest, .. } => {
            said("press", "need", Some(shortest), need.sureness)
        }
        Feature::Switches { .. } => said("switches", "need", None, need.sureness),
    });
    limits.chain(needs).collect()
}

/// What the summary says of each setting.
fn of_summary(summary: &SummaryBody) -> Vec<Said> {
    let mut all = Vec::new();
    let mut add = |what, figure, word| all.push(said(what, "summary", figure, word));
    if let Ok(one) = summary.dead_zone.result() {
        add("dead zone", Some(one.radius.estimate()), one.sureness);
    }
    if let Ok(one) = summary.full_throw.result() {
        add("full throw", Some(one.radius.estimate()), one.sureness);
    }
    if let Ok(one) = summary.curve.result() {
        add("curve", None, one.sureness);
    }
    if let Ok(one) = summary.direction.result() {
        add("direction", None, one.sureness);
    }
    if let Ok(one) = summary.smoothing.result() {
        add("smoothing", None, one.sureness);
    }
    all
}

fn of_lines(lines: &[Line]) -> Vec<Said> {
    let word = |line: &Line| {
        let what = match line.name.as_str() {
            "dead_zone" => "dead zone",
            "full_throw" => "full throw",
            "curve.exponent" | "curve.point" => "curve",
            "smoothing.used" | "smoothing.jitter_left" => "smoothing",
            name if name.starts_with("direction.") => "direction",
            "timing.shortest_press" if line.of == "all" => "press",
            name if name.starts_with("timing.") => "of a button",
            _ => "other",
        };
        let figure = line.value.zip(line.low).zip(line.high);
        let figure = figure.and_then(|((value, low), high)| {
            Estimate::new(value, low, high, crate::estimate::Basis::default())
        });
        Some(said(what, &format!("{} {}", line.name, line.of), figure, line.sureness?))
    };
    lines.iter().filter(|line| line.value.is_some()).filter_map(word).collect()
}

/// Two shares of travel with the same ends as they are kept are one figure, whatever it is called.
fn is_same(one: &Estimate, other: &Estimate) -> bool {
    let near = |one: f64, other: f64| (one - other).abs() < 6e-4;
    near(one.value, other.value) && near(one.low, other.low) && near(one.high, other.high)
}

fn check(who: &str, records: &[TaskRecord]) {
    let measures = measure(records);
    let suggestions = suggest(records, &measures, Wish::default());
    let summary = summary(records);
    let lines: Vec<Line> =
        measured(&measures).into_iter().chain(suggested(&measures, &suggestions)).collect();
    let all = [of_letter(&summary), of_summary(&summary), of_lines(&lines)].concat();
    assert!(all.len() > 5, "{who}: {all:?}");
    for one in &all {
        let is_exact = one.figure.is_some_and(|figure| figure.width() <= 0.0);
        assert!(one.word != Sureness::Firm || !is_exact, "{who}: firm without width: {one:?}");
        let same_kind = |other: &&Said| {
            let settings = one.what == other.what && !["of a button", "other"].contains(&one.what);
            let travel = ["kept", "full throw", "reach", "dead zone"];
            let both = travel.contains(&one.what) && travel.contains(&other.what);
            let figures = one.figure.zip(other.figure);
            settings || both && figures.is_some_and(|(one, other)| is_same(&one, &other))
        };
        for other in all.iter().filter(same_kind) {
            let places = (&one.place, &other.place);
            assert_eq!(one.word, other.word, "{who}: {places:?}: {one:?} and {other:?}");
        }
    }
    // Few pushes are called rough, however near together they lie.
    let few = measures.reach.iter().filter(|one| one.ends.len() < 3);
    for reach in few.filter_map(|one| one.reach.ok()) {
        assert_ne!(sureness_of(&reach), Sureness::Firm, "{who}: {reach:?}");
    }
    for line in lines.iter().filter(|line| line.unit != Unit::YesNo) {
        let is_exact = line.low.is_some() && line.low == line.high;
        assert!(line.sureness != Some(Sureness::Firm) || !is_exact, "{who}: {line:?}");
    }
}

#[test]
fn one_figure_has_one_word_everywhere() {
    for person in Invented::ALL {
        for minutes in [6, 15] {
            let records = play(person.model(), 11, &fixed_order(minutes), 0.004);
            check(&format!("{person:?} in {minutes} minutes"), &records);
        }
    }
    for seed in 0..12 {
        let records = play(Model::varied(seed), seed, &fixed_order(15), 0.004);
        check(&format!("varied {seed}"), &records);
    }
}
