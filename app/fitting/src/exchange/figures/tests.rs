use super::*;
use crate::Settings;
use crate::estimate::{Basis, Estimate};
use crate::invented::{Invented, fixed_order, play};
use crate::measure::measure;
use crate::settings::{Curve, Smoothing};
use crate::suggest::{ButtonAdvice, Prepared, Wish, suggest};
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
    let raw = prepared.effect(&Settings::default());
    let effect = effect("raw", &raw, &raw);
    for line in measured(&measures)
        .iter()
        .chain(&suggested(&measures, &suggestions))
        .chain(&effect)
        .chain(&lines)
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
    // The same names as where there is a number, each with its reason.
    let typed = suggested(&measures, &suggestions);
    assert!(typed.len() >= 20, "{typed:?}");
    for line in typed {
        assert!(line.value.is_none() && line.lacking.is_some(), "{line:?}");
        let applies = line.lacking != Some(NotEnough::DoesNotApply);
        assert_eq!(line.sureness.is_some(), applies, "{line:?}");
    }
}

/// What stands on the lines to type in is what the settings hold: none is left out, none is another.
#[test]
fn the_lines_to_type_in_hold_the_settings() {
    let typed = |person: Invented| {
        let mut plan = fixed_order(30);
        plan.truncate(9);
        let records = play(person.model(), 3, &plan, 0.004);
        let measures = measure(&records);
        let suggestions = suggest(&records, &measures, Wish::default());
        (suggested(&measures, &suggestions), suggestions)
    };
    let mut smoothed = 0;
    for person in [Invented::RhythmicMovement, Invented::ShortToOneSide, Invented::SteadyHand] {
        let (lines, suggestions) = typed(person);
        let settings = &suggestions.settings;
        let all = |name: &'static str| lines.iter().filter(move |line| line.name == name);
        let line = |name: &'static str, of: &str| {
            all(name)
                .find(|line| line.of == of || of.is_empty())
                .unwrap_or_else(|| panic!("{name}"))
        };
        let value = |name: &'static str, of: &str| line(name, of).value;
        let yes = |yes: bool| Some(f64::from(u8::from(yes)));
        assert_eq!(value("centre", "right"), Some(settings.centre.right));
        assert_eq!(value("centre", "up"), Some(settings.centre.up));
        let map = settings.direction;
        assert_eq!(value("direction.swapped", ""), yes(map.swapped));
        assert_eq!(value("direction.right_inverted", ""), yes(map.right_inverted));
        assert_eq!(value("direction.up_inverted", ""), yes(map.up_inverted));
        // An offer, beside the mount.
        let turn = suggestions.direction.as_ref().unwrap().map.turn_degrees;
        assert_eq!((value("direction.turn", ""), map.turn_degrees), (Some(turn), 0.0));
        assert_eq!(value("direction.right_gain", ""), Some(map.right_gain));
        assert_eq!(value("direction.up_gain", ""), Some(map.up_gain));
        assert_eq!(value("dead_zone", ""), Some(settings.dead_zone));
        assert_eq!(value("full_throw", ""), Some(settings.full_throw));
        match settings.smoothing {
            Smoothing::Off => {
                assert_eq!(value("smoothing.used", ""), yes(false));
                assert_eq!(value("smoothing.cutoff", ""), None);
            }
            Smoothing::OneEuro { cutoff_hertz, speed_coefficient } => {
                smoothed += 1;
                assert_eq!(value("smoothing.used", ""), yes(true));
                assert_eq!(value("smoothing.cutoff", ""), Some(cutoff_hertz));
                assert_eq!(value("smoothing.speed_coefficient", ""), Some(speed_coefficient));
            }
        }
        if let Curve::Points(points) = &settings.curve {
            let outputs: Vec<f64> = points.iter().map(|point| point.1).collect();
            let told: Vec<f64> = all("curve.point").filter_map(|line| line.value).collect();
            assert_eq!(told, outputs);
        }
        for name in ["centre", "dead_zone", "full_throw"] {
            for line in all(name) {
                let (low, high) = line.low.zip(line.high).expect("an interval");
                let value = line.value.expect("a value");
                assert!(low <= value && value <= high, "{line:?}");
            }
        }
        // A turn that is offered has the width of the turn that was measured.
        if turn != 0.0 {
            let offered = turn;
            let turn = suggestions.direction.as_ref().unwrap().turn.unwrap();
            let line = line("direction.turn", "");
            let (low, high) = line.low.zip(line.high).expect("an interval");
            assert!((high - low - turn.width()).abs() < 1e-9, "{line:?}");
            assert!(low <= offered && offered <= high, "{line:?}");
        }
        assert!(lines.iter().all(|line| line.value.is_none() || line.lacking.is_none()));
    }
    assert!(smoothed > 0, "nobody was smoothed");
}

/// A time of 0 says that none is needed; where buttons disagree, or one is not known, there is none.
#[test]
fn no_time_for_all_buttons_is_not_a_time_of_nothing() {
    let estimate = |value: f64| Ok(Estimate::new(value, 0.0, 0.3, Basis::default()).unwrap());
    let button = |button: usize, shortest_press: Measured, bounce: Measured| ButtonAdvice {
        button,
        shortest_press,
        bounce,
        repeat_delay: Err(NotEnough::NothingRecorded),
        sureness: if button == 0 { Sureness::Firm } else { Sureness::Rough },
        presses: 9,
    };
    let measures = measure(&[]);
    let mut suggestions = suggest(&[], &measures, Wish::default());
    let mut all = |timing: Vec<ButtonAdvice>, shortest: f64, bounce: f64| {
        suggestions.timing = timing;
        suggestions.settings.buttons.shortest_press_seconds = shortest;
        suggestions.settings.buttons.bounce_seconds = bounce;
        let lines = suggested(&measures, &suggestions);
        let of_all = lines.into_iter().filter(|line| line.of == "all");
        of_all.map(|line| (line.value, line.sureness, line.lacking)).collect::<Vec<_>>()
    };
    let rough = |value: f64| (Some(value), Some(Sureness::Rough), None);
    let none = |why: NotEnough| (None, Some(Sureness::NotEnough), Some(why));
    let both =
        vec![button(0, estimate(0.0), estimate(0.04)), button(1, estimate(0.0), estimate(0.0))];
    let nothing = none(NotEnough::NothingRecorded);
    assert_eq!(all(both.clone(), 0.0, 0.04), [rough(0.0), rough(0.04), nothing]);
    // The window of one would swallow presses of the other: there is none for both.
    assert_eq!(all(both, 0.0, 0.0), [rough(0.0), none(NotEnough::Unsettled), nothing]);
    let unknown = vec![button(0, Err(NotEnough::NotDone), estimate(0.0))];
    assert_eq!(all(unknown, 0.0, 0.0)[0], none(NotEnough::NotDone));
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
