//! Where advice comes from, and the figures of the handbooks.

use device::choosing::{Advice, Figure, Source, Unit};

/// Where a piece of advice comes from, in one line.
pub fn line(advice: &Advice) -> String {
    let sources: Vec<String> = advice.sources().into_iter().map(source).collect();
    let label = if sources.len() == 1 { "Source" } else { "Sources" };
    format!("{label}: {}.", sources.join("; "))
}

fn source(source: Source) -> String {
    match source {
        Source::OwnRecordings => "this person’s own recordings".to_owned(),
        Source::Standard1472E(paragraph) => format!("MIL-STD-1472E, {}", paragraph.number()),
        Source::Standard1472FromMemory => {
            "MIL-STD-1472, finger-operated controls, from memory".to_owned()
        }
        Source::Nureg0700 => "NUREG-0700, Revision 3".to_owned(),
        Source::Rao2000 => "Rao and others 2000 (abstract)".to_owned(),
        Source::Dicianno2009 => "Dicianno and others 2009 (abstract)".to_owned(),
        Source::BjorkstenJonsson1977 => "Björkstén and Jonsson 1977 (abstract)".to_owned(),
        Source::CommonPractice => "common practice, no source".to_owned(),
    }
}

/// The figures of handbooks that go with it, in one line; nothing without any.
pub fn figures(advice: &Advice) -> Option<String> {
    if advice.figures.is_empty() {
        return None;
    }
    let figures: Vec<String> = advice.figures.iter().map(|one| figure(*one)).collect();
    Some(format!(
        "Handbooks name {}. They speak of healthy adults or trained operators: what this person’s own \
         recordings and a trial show counts more.",
        figures.join("; ")
    ))
}

fn figure(figure: Figure) -> String {
    let name = match figure {
        Figure::FingerForce => "a force for a fingertip stick of",
        Figure::FingerThrow => "a throw for a fingertip stick of",
        Figure::FingerThickness => "a fingertip stick that is thick",
        Figure::GripLength => "a grip that is long",
        Figure::GripThickness => "a grip that is thick",
        Figure::SpaceAside => "free space to the side of",
        Figure::SpaceBehind => "free space behind of",
        Figure::ForceGrip => "a force for full output of a force stick for the hand of",
        Figure::ButtonForce => "a force for a button under a fingertip of",
        Figure::KeptUpOnAndOff => "a force that can be kept up for an hour, on and off, of",
        Figure::KeptUpWithoutBreak => "without a break of",
    };
    let memory = match figure.source() {
        Source::Standard1472FromMemory => " (from memory)",
        _ => "",
    };
    let (low, high, unit) = figure.range();
    let range = match (low, high) {
        (Some(low), Some(high)) => format!("{low} to {high}"),
        (None, Some(high)) => format!("at most {high}"),
        (Some(low), None) => format!("at least {low}"),
        (None, None) => String::new(),
    };
    let unit = match unit {
        Unit::Newtons => "\u{a0}N",
        Unit::Millimetres => "\u{a0}mm",
        Unit::Degrees => "° from the middle",
        Unit::PercentOfGreatestForce => "\u{a0}% of the greatest",
    };
    format!("{name} {range}{unit}{memory}")
}
