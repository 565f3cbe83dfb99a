//! Any bytes, taken for recordings: read, measured, suggested from and judged, without a panic
//! and without a number that is none.

mod chance;
mod descriptors;
mod kept;

pub use chance::Chance;
pub use descriptors::{Maker, descriptors};
pub use kept::{Outside, kept, written};

use analysis::analysis::analyse;
use analysis::input::{Visit, bytes};
use fitting::exchange::csv;
use fitting::measure::{known, measure};
use fitting::suggest::{HostForm, Prepared, Wish, suggest};
use fitting::summary::{Envelope, SummaryBody};
use fitting::summary::{Findings, FittingBody, Summary, TaskBody, link, read};
use fitting::task::{TaskKind, TaskRecord};
use fitting::{AxisPick, Position, Recording, Sample, Settings, Span, StickAxes};

/// What came of some bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Came {
    /// They were refused.
    Refused,
    /// They were read, and measured or taken apart.
    Measured,
}

/// Checks what the core and its readers make of any bytes: as a file, as a kept thing, as a
/// link, and, whatever they are, as raw numbers of a recording.
///
/// # Panics
/// Where the core breaks a promise: that is what is looked for.
pub fn recordings(data: &[u8]) -> Came {
    let mut came = Came::Refused;
    // The first byte says how the rest is taken.
    let Some((way, data)) = data.split_first() else { return came };
    let text = std::str::from_utf8(data).unwrap_or("");
    match way % 4 {
        0 => {
            if let Ok(contents) = bytes(data, Some(TaskKind::QuietRest)) {
                came = Came::Measured;
                for visit in contents.visits.iter().take(3) {
                    judged(visit);
                    for record in visit.records.iter().take(3) {
                        let back = bytes(csv::write(record).as_bytes(), None)
                            .map(|mut all| all.visits.pop().map(|visit| visit.records));
                        // Of what the page kept, not all could be a plain recording.
                        let may_be_refused = text.trim_start().starts_with('{');
                        if back.is_ok() || !may_be_refused {
                            assert_eq!(back, Ok(Some(vec![record.clone()])), "it comes back");
                        }
                    }
                }
            }
        }
        1 => {
            if let Ok(kept) = read::<TaskBody>(text) {
                assert!(kept.to_json().is_ok(), "what was read may be written");
                let records = vec![kept.body.record];
                judged(&Visit { label: String::new(), wish: Wish::default(), records });
                came = Came::Measured;
            }
            if let Ok(kept) = read::<FittingBody>(text) {
                assert!(kept.to_json().is_ok(), "what was read may be written");
            }
            if let Ok(kept) = read::<SummaryBody>(text) {
                assert!(kept.to_json().is_ok(), "what was read may be written");
                linked(&kept);
            }
        }
        2 => {
            if let Ok(summary) = link::decode(text) {
                linked(&summary);
                came = Came::Measured;
            }
        }
        _ => {
            judged(&raw(data));
            came = Came::Measured;
        }
    }
    came
}

fn linked(summary: &Summary) {
    let text = link::encode(summary, true);
    // A thinned one may still be too full when it was not made by the program.
    if let Ok(text) = text {
        let back = link::decode(&text).map(|back| back.body.chosen);
        assert_eq!(back, Ok(summary.body.chosen.clone()));
    }
}

/// Records of numbers as they stand in the bytes: any bits, in any order.
fn raw(data: &[u8]) -> Visit {
    let mut numbers = data.chunks_exact(4).map(|chunk| {
        let bits = u32::from_le_bytes([chunk[0], chunk[1], chunk[2], chunk[3]]);
        // A quarter as they stand, the rest near what a stick reports.
        if bits % 4 == 0 {
            f64::from(f32::from_bits(bits))
        } else {
            f64::from(bits) / 4e9 * 2.4 - 1.2
        }
    });
    let kinds = data.first().copied().unwrap_or(0);
    let mut next = || numbers.next().unwrap_or(0.0);
    // Times without end are slow to measure: they come now and then only.
    let wild = data.get(1).is_some_and(|byte| byte.is_multiple_of(64));
    let time = |at: f64| if wild { at } else { at.clamp(-6.0, 6.0) };
    let mut records = Vec::new();
    for ask in 0..4_u8 {
        let mut at = time(next());
        let mut samples = Vec::new();
        for _ in 0..60 {
            at += time(next()).abs() * 0.1;
            samples.push(Sample {
                arrival_seconds: at,
                axes: vec![next(), next()],
                buttons: vec![next(), next()],
            });
        }
        let span = Span { from_seconds: time(next()), to_seconds: at };
        records.push(record(ask.wrapping_add(kinds) % 9, span, samples, &mut next));
    }
    Visit {
        label: String::new(),
        wish: Wish { false_per_minute: next(), most_lag_seconds: next() },
        records,
    }
}

fn record(
    kind: u8,
    span: Span,
    samples: Vec<Sample>,
    next: &mut impl FnMut() -> f64,
) -> TaskRecord {
    use fitting::Direction::{Left, Right, Up};
    use fitting::task::{Known, Meanwhile, Outcome, PressAsk, Repetition, TaskAsk};
    let seconds = 20.0;
    let directions = vec![Right, Up, Left];
    let ask = match kind {
        0 => TaskAsk::HandsOff { seconds },
        1 => TaskAsk::QuietRest { seconds },
        2 => TaskAsk::BusyRest { seconds, meanwhile: Meanwhile::Talking },
        3 => TaskAsk::FreeMovement { seconds },
        4 => TaskAsk::Reach { directions, rounds: 2 },
        5 => TaskAsk::Hold { directions, levels: vec![0.25, 0.5], rounds: 2, seconds: 3.0 },
        6 => TaskAsk::Sustained { directions, level: 0.5, seconds },
        7 => TaskAsk::Return { directions, level: 0.5, rounds: 2 },
        _ => TaskAsk::Presses { buttons: vec![0, 1], rounds: 2 },
    };
    let long = (span.to_seconds - span.from_seconds) / 6.0;
    let repetitions = (0..6_u8)
        .map(|index| {
            let from_seconds = span.from_seconds + long * f64::from(index);
            Repetition {
                direction: Some([Right, Up, Left][usize::from(index % 3)]),
                level: Some(if index < 3 { 0.25 } else { 0.5 }),
                span: Span { from_seconds, to_seconds: from_seconds + long },
                outcome: Outcome::Done,
                mark: None,
                queried_degrees: None,
                queried_short: None,
                button: Some(usize::from(index % 2)),
                press: Some(
                    [PressAsk::Once, PressAsk::Long, PressAsk::Twice][usize::from(index % 3)],
                ),
                effort: Some(index),
            }
        })
        .collect();
    TaskRecord {
        known: Known {
            centre: Position::new(next() * 0.1, next() * 0.1),
            quiet_radius: next(),
            ..Known::default()
        },
        axes: StickAxes {
            vertical: AxisPick { index: 1, inverted: kind.is_multiple_of(2) },
            ..StickAxes::default()
        },
        muscle_seconds: next(),
        ..TaskRecord::new(ask, Recording { samples, polled: vec![span] }, repetitions)
    }
}

/// Reads nothing more: measures, suggests, applies and sums up, all of it in numbers.
fn judged(visit: &Visit) {
    let records = &visit.records;
    let measures = measure(records);
    number(&measures);
    number(&known(records));
    let suggestions = suggest(records, &measures, visit.wish);
    number(&suggestions);
    number(&HostForm::of(&suggestions.settings));
    let prepared = Prepared::new(records, &measures);
    let before = prepared.effect(&Settings::default());
    let after = prepared.effect(&suggestions.settings);
    number(&before);
    number(&after);
    let findings = Findings {
        measures: &measures,
        suggestions: &suggestions,
        chosen: &suggestions.settings,
        before: &before,
        after: &after,
    };
    let fitting =
        Envelope::new("fuzz", 0, FittingBody { wish: visit.wish, ..FittingBody::default() });
    let summary = Summary::of(&fitting, &findings, "fuzz", 0);
    assert!(summary.to_json().is_ok(), "a summary may always be written: {:?}", summary.check());
    assert!(link::encode(&summary, true).is_ok(), "and linked");
    assert_eq!(analyse(visit, &[], 0, 0).kind, "analysis");
}

/// Nothing that leaves the core is not a number or without end.
fn number(what: &impl std::fmt::Debug) {
    let told = format!("{what:?}");
    assert!(!told.contains("NaN") && !told.contains("inf"), "{told}");
}
