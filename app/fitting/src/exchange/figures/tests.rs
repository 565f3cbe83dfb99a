use super::*;
use crate::Settings;
use crate::invented::{Invented, fixed_order, play};
use crate::measure::measure;
use crate::suggest::{Prepared, Wish, suggest};
use crate::task::{MarkReason, Outcome};

/// Every figure of the measures is on some line: each number that a person's summary shows, and
/// the whole of the curves behind them.
#[test]
fn an_invented_person_fills_the_tables() {
    let mut plan = fixed_order(15);
    plan.truncate(6);
    let mut records = play(Invented::RhythmicMovement.model(), 3, &plan, 0.004);
    let reach = records.iter_mut().find(|record| record.ask.kind() == crate::task::TaskKind::Reach);
    let pushes = &mut reach.unwrap().repetitions;
    pushes[0].mark = Some(MarkReason::Talking);
    pushes[1].mark = Some(MarkReason::Talking);
    pushes[2].queried_degrees = Some(70.0);
    pushes[3].outcome = Outcome::Skipped;
    let measures = measure(&records);
    let suggestions = suggest(&records, &measures, Wish::default());
    let lines = more(&measures, &suggestions);
    let of = |name: &str| lines.iter().filter(|line| line.name == name).count();
    let rest = measures.rest.as_ref().unwrap();
    assert_eq!(of("events.per_minute"), rest.curve.len());
    assert!(rest.curve.len() > 3);
    for (line, point) in
        lines.iter().filter(|line| line.name == "events.per_minute").zip(&rest.curve)
    {
        assert_eq!(
            (line.value, line.low, line.high),
            (Some(point.per_minute), Some(point.low), Some(point.high))
        );
    }
    assert_eq!(of("map.matrix"), 4);
    assert_eq!(
        of("reach.end_up"),
        measures.reach.iter().map(|reach| reach.ends.len()).sum::<usize>()
    );
    // The rhythm stands out in the spectrum where it was found.
    let rhythm = measures.rhythm.as_ref().unwrap();
    let hertz = rhythm.hertz.unwrap().value;
    let top = measures.spectrum.iter().filter(|point| point.hertz > 2.0);
    let top = top.max_by(|one, other| one.density.total_cmp(&other.density)).unwrap();
    assert!((top.hertz - hertz).abs() < 0.5, "{} and {hertz}", top.hertz);
    // The power of the rhythm is the area of its peak.
    let near = |point: &&crate::measure::SpectrumPoint| (point.hertz - hertz).abs() < 1.5;
    let area: f64 = measures.spectrum.iter().filter(near).map(|point| point.density * 0.125).sum();
    let amplitude = rhythm.amplitude.unwrap().value;
    let share = 0.5 * amplitude * amplitude / area;
    assert!((0.4..1.6).contains(&share), "{share} of the area");

    let all = asked(&records);
    assert_eq!(all.len(), records.len());
    let reach = all.iter().find(|one| one.kind == crate::task::TaskKind::Reach).unwrap();
    assert_eq!(reach.marked, [(MarkReason::Talking, 2)]);
    assert_eq!((reach.queried, reach.not_done), (1, 1));
    assert_eq!(reach.counted, reach.repetitions - 4);
    let left_out = all.iter().flat_map(|one| &one.marked).map(|one| one.1).sum::<usize>() + 1;
    assert_eq!(left_out, measures.left_out);

    // Everything is a number, or says why it is none.
    let prepared = Prepared::new(&records, &measures);
    let effect = effect("raw", &prepared.effect(&Settings::default()));
    for line in
        measured(&measures).iter().chain(&suggested(&suggestions)).chain(&effect).chain(&lines)
    {
        let numbers = [line.value, line.low, line.high, line.seconds];
        assert!(numbers.iter().flatten().all(|number| number.is_finite()), "{line:?}");
        assert!(line.value.is_none_or(|_| line.lacking.is_none()), "{line:?}");
        assert!(!line.about().is_empty() && !line.about().contains('.'), "{line:?}");
    }
}

#[test]
fn nothing_recorded_gives_reasons_and_no_numbers() {
    let measures = measure(&[]);
    let suggestions = suggest(&[], &measures, Wish::default());
    let lines = more(&measures, &suggestions);
    assert!(lines.iter().all(|line| line.value.is_none()), "{lines:?}");
    assert_eq!(asked(&[]), []);
}

#[test]
fn columns_are_aligned() {
    let row = |cells: [&str; 6]| cells.map(str::to_owned);
    let rows = vec![
        row(["wander", "", "0.1", "", "", ""]),
        row(["x", "right", "10.25", "1 to 2", "s", "y"]),
    ];
    let text = aligned(
        &row(["what", "of", "value", "95 %", "unit", "rests on"]),
        &[("part".to_owned(), rows)],
    );
    assert_eq!(
        text,
        "  what    of     value  95 %    unit  rests on\n\npart\n  \
         wander           0.1\n  x       right  10.25  1 to 2  s     y\n"
    );
}

#[test]
fn numbers_are_told_by_their_unit() {
    assert_eq!(Unit::Travel.number(0.1234567), "0.1235");
    assert_eq!(Unit::Travel.number(-0.0), "0.0000");
    assert_eq!(Unit::Travel.number(0.0001234), "0.000123");
    assert_eq!(Unit::Count.number(3.0), "3");
    assert_eq!(Unit::TravelSquaredPerHertz.number(0.00001234), "1.234e-5");
}
