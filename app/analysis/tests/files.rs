//! Files that can be read, and files that cannot: each told for what it is and where.
#![allow(clippy::expect_used, reason = "tests")]

use analysis::input::{Contents, Visit, bytes, read_csv as read_with_warnings};
use analysis::{Trouble, analysis::analyse, table::table};
use fitting::exchange::csv;
use fitting::invented::{Invented, fixed_order, play};
use fitting::measure::measure;
use fitting::summary::{Envelope, FittingBody, TaskBody, kept_file};
use fitting::task::{Asking, CueKind, TaskKind, TaskRecord};
use fitting::{Position, Span};

/// The record of a text, without what is improbable about it.
fn read_csv(text: &str, task: Option<TaskKind>) -> Result<TaskRecord, Trouble> {
    read_with_warnings(text, task).map(|(record, _)| record)
}

fn visits(text: &str) -> Vec<Visit> {
    let Contents { visits, warnings } = bytes(text.as_bytes(), None).expect("a file");
    assert_eq!(warnings, []);
    visits
}

/// A rest that circles, as a researcher would record it: a time and two axes.
fn plain_rest(rate: f64) -> String {
    let mut text = String::from("time_s,axis0_share,axis1_share\n");
    for step in 0..(30.0 * rate) as usize {
        let at = step as f64 / rate;
        let (right, down) = (0.02 + 0.03 * libm::sin(9.0 * at), 0.03 * libm::cos(9.0 * at));
        text.push_str(&format!("{at:.4},{right:.5},{down:.5}\n"));
    }
    text
}

#[test]
fn a_plain_recording_of_a_rest_is_enough() {
    let record = read_csv(&plain_rest(100.0), Some(TaskKind::QuietRest)).expect("a rest");
    assert_eq!(record.recording.polled.len(), 1);
    let rest = measure(std::slice::from_ref(&record)).rest.expect("it is long enough");
    // By hand: 30 s less the last step, less a second of settling; the circle about its middle.
    assert!((rest.seconds - 28.99).abs() < 0.02, "{}", rest.seconds);
    assert!((rest.centre.right - 0.02).abs() < 1e-3 && rest.centre.up.abs() < 1e-3);
    assert!((rest.wander.expect("a wander").value - 0.03).abs() < 1e-3);
    let same = read_csv(&format!("# task: quiet_rest\n{}", plain_rest(100.0)), None);
    assert_eq!(same.as_ref(), Ok(&record));
    let rows = plain_rest(100.0);
    let rows = rows.lines().skip(1).map(|row| {
        let numbers = row.split(',').map(|cell| cell.parse::<f64>().expect("a number"));
        let [at, right, down] = numbers.collect::<Vec<_>>()[..] else { panic!("three columns") };
        format!("{},{},{down}\n", 1000.0 * at, 100.0 * right)
    });
    let percent = format!("time_ms,axis0_percent,axis1_share\n{}", rows.collect::<String>());
    let percent = read_csv(&percent, Some(TaskKind::QuietRest)).expect("other units");
    let (one, other) = (&record.recording.samples[50], &percent.recording.samples[50]);
    assert!((other.arrival_seconds - one.arrival_seconds).abs() < 1e-12);
    assert!((other.axes[0] - one.axes[0]).abs() < 1e-12);
    let gaps = format!("# task: quiet_rest\n# gap_s: 5,6\n# gap_s: 20,29\n{}", plain_rest(100.0));
    let polled = read_csv(&gaps, None).expect("with gaps").recording.polled;
    let span = |from_seconds, to_seconds| Span { from_seconds, to_seconds };
    assert_eq!(polled, [span(0.0, 5.0), span(6.0, 20.0), span(29.0, 29.99)]);
}

/// One set-up's records never mix with another's, and a body part that was only looked at is in
/// none of the figures.
#[test]
fn each_set_up_is_a_visit_of_its_own() {
    let record = read_csv(&plain_rest(100.0), Some(TaskKind::QuietRest)).expect("a rest");
    let fitting = FittingBody { label: "Left hand".to_owned(), ..FittingBody::default() };
    let fitting = Envelope::new("a-fitting", 0, fitting).to_json().expect("json");
    let task = |order: u32, series: u32, site: Option<u8>| {
        let (fitting, record) = ("a-fitting".to_owned(), record.clone());
        let body = TaskBody { fitting, order, started_epoch_ms: 0, series, site, record };
        Envelope::new(format!("task-{order}"), 0, body).to_json().expect("json")
    };
    let tasks = [task(0, 0, None), task(1, 1, Some(0)), task(2, 1, None), task(3, 0, None)];
    let file = kept_file::write(0, vec![fitting], tasks.to_vec(), Vec::new()).expect("a file");
    let visits = visits(&file);
    let found: Vec<_> =
        visits.iter().map(|visit| (visit.label.as_str(), visit.records.len())).collect();
    assert_eq!(found, [("Left hand, set-up 1", 2), ("Left hand, set-up 2", 1)]);
}

fn played() -> Vec<TaskRecord> {
    play(Invented::RhythmicMovement.model(), 3, &fixed_order(6), 0.004)
}

fn file_of(records: &[TaskRecord]) -> String {
    let fitting = FittingBody { label: "Left hand".to_owned(), ..FittingBody::default() };
    let fitting = Envelope::new("a-fitting", 0, fitting).to_json().expect("json");
    // Written backwards: the order stands in the tasks.
    let tasks: Vec<String> = records
        .iter()
        .enumerate()
        .rev()
        .map(|(order, record)| {
            let order = u32::try_from(order).expect("a few");
            let (fitting, record) = ("a-fitting".to_owned(), record.clone());
            let body =
                TaskBody { fitting, order, started_epoch_ms: 0, series: 0, site: None, record };
            Envelope::new(format!("task-{order}"), 0, body).to_json().expect("json")
        })
        .collect();
    let text = kept_file::write(0, vec![fitting], tasks, Vec::new()).expect("a file");
    // A task a line, so that lines tell something.
    text.replacen("\"tasks\":[", "\n\"tasks\":[", 1)
        .replace("},{\"kind\":\"task\"", "},\n{\"kind\":\"task\"")
}

/// The same without its checksum, as a file changed on purpose.
fn without_sum(file: &str) -> String {
    let from = file.find("\"sum\":").expect("a sum");
    file.replacen(&file[from..from + "\"sum\":\"00000000\",".len()], "", 1)
}

/// The page's own file, single tasks and CSV give the very same figures.
#[test]
fn every_form_of_a_visit_gives_the_same_analysis() {
    let records = played();
    let visits = visits(&file_of(&records));
    assert_eq!((visits.len(), visits[0].label.as_str()), (1, "Left hand"));
    assert!(visits[0].records == records, "every number is the same");
    let by_csv: Vec<TaskRecord> = records
        .iter()
        .map(|record| read_csv(&csv::write(record), None).expect("a record"))
        .collect();
    assert!(by_csv == records, "every number is the same");
    let found = analyse(&visits[0], &["a.json".to_owned()], 0, 0);
    let json = serde_json::to_value(&found).expect("json");
    let schema: serde_json::Value =
        serde_json::from_str(include_str!("../../../public/schema/analysis-2.json")).expect("json");
    jsonschema::draft202012::meta::validate(&schema).expect("a valid schema");
    let validator = jsonschema::draft202012::new(&schema).expect("a schema");
    let errors: Vec<String> = validator.iter_errors(&json).map(|error| error.to_string()).collect();
    assert_eq!(errors, [""; 0]);
    let lines = &found.body.measures;
    let wander = lines.iter().find(|line| line.name == "rest.wander").expect("a rest");
    let rest = measure(&records).rest.expect("a rest").wander.expect("a wander");
    assert_eq!(
        (wander.value, wander.low, wander.high),
        (Some(rest.value), Some(rest.low), Some(rest.high))
    );
    let told = table(&found);
    assert!(told.contains("a.json (Left hand)") && told.contains("dead_zone"), "{told}");
    let value = format!("{:.4}", rest.value);
    let line = told.lines().find(|line| line.contains("rest.wander")).expect("a line");
    assert!(line.contains(&value) && line.contains("share of travel"), "{line}");
}

/// In which way it was asked comes back as it was; a file that does not say was told, at the place.
#[test]
fn the_way_of_asking_and_the_cue_are_carried_and_may_be_missing() {
    let told = played().pop().expect("a record");
    for asking in Asking::ALL {
        for cue in CueKind::ALL {
            let record = TaskRecord { asking, cue, ..told.clone() };
            let text = csv::write(&record);
            let read = read_csv(&text, None).expect("a record");
            assert!(read == record, "{asking:?} {cue:?}");
            let silent = |line: &&str| !line.starts_with("# asking") && !line.starts_with("# cue");
            let older: String =
                text.lines().filter(silent).map(|line| format!("{line}\n")).collect();
            assert_ne!(older, text);
            let read = read_csv(&older, None).expect("an older file");
            assert!(read == TaskRecord { asking: Asking::Told, cue: CueKind::AtPlace, ..record });
        }
    }
}

fn trouble(text: &str) -> String {
    bytes(text.as_bytes(), None).expect_err("it must not be read").to_string()
}

#[test]
fn a_bad_file_is_told_with_its_place() {
    let head = "# task: quiet_rest\ntime_s,axis0_share,axis1_share\n0,0.1,0.2\n";
    let foreign = "neither a file of this program nor a recording in CSV. Read are files that the page \
        saved with recordings in them, and CSV as in public/schema/README.md";
    let beyond = "out of range: 9. An axis goes from -1 to 1, or from -100 to 100 percent";
    let [beyond_8, beyond_4] =
        [8, 4].map(|line| format!("line {line}, column 3, axis1_share: {beyond}"));
    for (text, told) in [
        (String::new(), foreign),
        ("hello\nworld\n".into(), "line 1, column 1, header: not known: hello"),
        ("time_s,axis0_share\n0,0\n1,0\n".into(), "task: missing"),
        (
            format!("{head}0.1,left,0\n"),
            "line 4, column 2, axis0_share: a number wanted, not \"left\"",
        ),
        (
            format!("{head}0.1,NaN,0\n"),
            "line 4, column 2, axis0_share: a number wanted, not \"NaN\"",
        ),
        (format!("{head}0.1,0.2\n"), "line 4, row: 2 values in this line, 3 in the header"),
        (format!("{head}0,0.2,0\n"), "line 4, time_s: not later than the line before"),
        (format!("{head}\n\r\n# a remark\r\n\r\n0.1,0.2,9\n"), beyond_8.as_str()),
        (format!("{head}0.1,0.2,9\n"), beyond_4.as_str()),
        (
            format!("{head}1e9,0.2,0\n"),
            "line 4, column 1, time_s: out of range: 1e9. Times are within a hundred days of 0",
        ),
        (format!("{head}0.1,,0.2\n"), "line 4, axis or button: missing"),
        (
            "# task: sleep\ntime_s\n".into(),
            "line 1, task: the name of a task wanted, not \"sleep\"",
        ),
        ("#\n# colour: red\ntime_s\n".into(), "line 2, key: not known: colour"),
        (
            "# task: reach\ntime_s\n0\n1\n".into(),
            "repetition_s: missing: from,to of each push, hold or press, and what was asked in it",
        ),
        (
            "# task: reach\n# asking: sung\ntime_s\n".into(),
            "line 2, asking: told, shown, free_movement or moved_by_helper wanted, not \"sung\"",
        ),
        (
            "# cue: smell\ntime_s\n".into(),
            "line 1, cue: at_place, central or spoken wanted, not \"smell\"",
        ),
        ("# task: busy_rest\ntime_s\n0\n1\n".into(), "meanwhile: missing"),
        (
            "# task: quiet_rest\n# gap_s: 3,1\ntime_s\n".into(),
            "line 2, gap_s: an end after the beginning wanted, not \"3,1\"",
        ),
        (
            "# stick_recording: 2\ntime_s\n".into(),
            "line 1, stick_recording: written by a newer version (schema 2; 1 is known here)",
        ),
        ("# task: quiet_rest\naxis0_share\n0\n".into(), "line 2, time_s: missing"),
        ("# task: quiet_rest\ntime_s,axis1_share\n0,0\n".into(), "line 2, axis or button: missing"),
        (
            "# task: quiet_rest\n# stick_right: axis5\ntime_s,axis0_share\n0,0\n1,0\n".into(),
            "record.axes.horizontal: out of range",
        ),
        (
            "# task: presses\n# buttons: 0\n# repetition_s: 0,1,done,effort=11\ntime_s\n0\n".into(),
            "line 3, repetition_s: 0 to 10 wanted, not \"11\"",
        ),
        ("{\"kind\":\"kept\"".into(), "line 1, column 14, not JSON, or cut off"),
        ("{\"kind\":\"song\",\"schema\":1}".into(), foreign),
        (
            "{\"kind\":\"kept\",\"schema\":99}".into(),
            "written by a newer version of the page. Use the `analyse` of that version",
        ),
        (
            "{\"kind\":\"kept\",\"schema\":1,\"fittings\":[],\"tasks\":[]}".into(),
            "no recorded task in it",
        ),
    ] {
        assert_eq!(trouble(&text), told, "{text:?}");
    }
    let not_text = bytes(b"time_s\n0\n\xff\n", None).expect_err("no text").to_string();
    assert_eq!(not_text, "line 3, not text in UTF-8");
}

/// A fault inside one task of a large file is told with the line of the file.
#[test]
fn a_bad_task_in_a_file_is_told_with_its_line() {
    let file = without_sum(&file_of(&played()[..2]));
    assert!(file.contains("\"muscle_seconds\":"));
    // The last task stands on the third line.
    let at = file.rfind("\"muscle_seconds\":").expect("a field");
    let far = format!("{}\"muscle_seconds\":-1,\"was\":{}", &file[..at], &file[at + 17..]);
    assert_eq!(trouble(&far), "line 3, tasks[1].record.muscle_seconds: out of range");
    let odd = format!("{}\"muscle_seconds\":\"much\",\"was\":{}", &file[..at], &file[at + 17..]);
    let told = trouble(&odd);
    assert!(told.starts_with("line 3, column ") && told.contains("tasks[1]: "), "{told}");
    assert!(told.contains("invalid type: string"), "{told}");
    let column: usize =
        told[15..].split(',').next().and_then(|text| text.parse().ok()).expect("a column");
    let line = odd.lines().nth(2).expect("the line");
    assert!(line[..column].ends_with("\"much\""), "{told}");
}

mod round_trip {
    use super::*;
    use fitting::sample::MOST_CONTROLS;
    use fitting::stick_kind::{Mover, Moves, StickKind};
    use fitting::task::{
        Known, KnownReach, MarkReason, Meanwhile, Outcome, PressAsk, Repetition, ShortPush, TaskAsk,
    };
    use fitting::{AxisPick, Direction, Recording, Sample, StickAxes};
    use proptest::collection::vec;
    use proptest::option;
    use proptest::prelude::*;
    use proptest::sample::select;

    fn ask() -> impl Strategy<Value = TaskAsk> {
        let directions = || vec(select(Direction::EIGHT.to_vec()), 0..9);
        let seconds = || 0.0..1e4_f64;
        let level = || 0.0..1.0_f64;
        prop_oneof![
            seconds().prop_map(|seconds| TaskAsk::HandsOff { seconds }),
            seconds().prop_map(|seconds| TaskAsk::QuietRest { seconds }),
            seconds().prop_map(|seconds| TaskAsk::FreeMovement { seconds }),
            (seconds(), select(vec![Meanwhile::Talking, Meanwhile::Watching, Meanwhile::Pressing]))
                .prop_map(|(seconds, meanwhile)| TaskAsk::BusyRest { seconds, meanwhile }),
            (directions(), 0..99_usize)
                .prop_map(|(directions, rounds)| TaskAsk::Reach { directions, rounds }),
            (directions(), vec(level(), 0..5), 0..99_usize, seconds()).prop_map(
                |(directions, levels, rounds, seconds)| TaskAsk::Hold {
                    directions,
                    levels,
                    rounds,
                    seconds
                }
            ),
            (directions(), level(), seconds()).prop_map(|(directions, level, seconds)| {
                TaskAsk::Sustained { directions, level, seconds }
            }),
            (directions(), level(), 0..99_usize).prop_map(|(directions, level, rounds)| {
                TaskAsk::Return { directions, level, rounds }
            }),
            (vec(0..MOST_CONTROLS, 0..5), 0..99_usize)
                .prop_map(|(buttons, rounds)| TaskAsk::Presses { buttons, rounds }),
        ]
    }

    fn spans(most: usize) -> impl Strategy<Value = Vec<Span>> {
        vec(-3.25..1e3_f64, 0..2 * most).prop_map(|mut ends| {
            ends.sort_by(f64::total_cmp);
            let span = |pair: &[f64]| Span { from_seconds: pair[0], to_seconds: pair[1] };
            ends.chunks_exact(2).map(span).collect()
        })
    }

    fn repetition() -> impl Strategy<Value = Repetition> {
        let outcome =
            select(vec![Outcome::Done, Outcome::Skipped, Outcome::AskedAgain, Outcome::CutShort]);
        let asked = (option::of(select(Direction::EIGHT.to_vec())), option::of(0.0..1.0_f64));
        let short =
            (0.0..1.0_f64, 0.0..1.0_f64).prop_map(|(reach, usual)| ShortPush { reach, usual });
        let said = (
            option::of(select(MarkReason::ALL.to_vec())),
            option::of(-360.0..360.0_f64),
            option::of(short),
        );
        let press = option::of(select(vec![PressAsk::Once, PressAsk::Long, PressAsk::Twice]));
        let pressed = (option::of(0..MOST_CONTROLS), press, option::of(0..=10_u8));
        // Within every recording: it begins at -3.25 s.
        ((-3.5..-3.25_f64, 0.0..0.25_f64), outcome, asked, said, pressed).prop_map(
            |((from, long), outcome, (direction, level), (mark, queried, short), pressed)| {
                Repetition {
                    direction,
                    level,
                    span: Span { from_seconds: from, to_seconds: from + long },
                    outcome,
                    mark,
                    queried_degrees: queried,
                    queried_short: short,
                    button: pressed.0,
                    press: pressed.1,
                    effort: pressed.2,
                }
            },
        )
    }

    fn recording() -> impl Strategy<Value = Recording> {
        // The first two axes are those of the stick.
        let axes = |least: f64, most: f64| [least..most, least..most, -8.0..8.0, -8.0..8.0];
        let cut = |(axes, count): ([f64; 4], usize)| axes[..count].to_vec();
        let sample = ((axes(-1.0, 1.0), 0..4_usize).prop_map(cut), vec(0.0..1.0_f64, 0..3));
        // Below the middle once, so that no axis looks as if it went from 0 to 1.
        let first = ((axes(-1.0, -0.01), 2..4_usize).prop_map(cut), vec(0.0..1.0_f64, 0..3));
        ((first, vec((1e-6..9.0_f64, sample), 0..20)), spans(5)).prop_map(
            |((first, rest), polled)| {
                let mut at = -3.25;
                let mut samples =
                    vec![Sample { arrival_seconds: at, axes: first.0, buttons: first.1 }];
                for (later, (axes, buttons)) in rest {
                    at += later;
                    samples.push(Sample { arrival_seconds: at, axes, buttons });
                }
                Recording { samples, polled }
            },
        )
    }

    fn known() -> impl Strategy<Value = Known> {
        let place = || (-2.0..2.0_f64, -2.0..2.0_f64).prop_map(|(r, u)| Position::new(r, u));
        let reach = (select(Direction::EIGHT.to_vec()), place())
            .prop_map(|(asked, end)| KnownReach { asked, end });
        let moves = select(vec![Moves::TwoAxes, Moves::OneAxis, Moves::OneWay]);
        let kind = (moves, any::<[bool; 3]>(), select(Mover::ALL.to_vec())).prop_map(
            |(moves, [centres_itself, force, switches], mover)| StickKind {
                moves,
                centres_itself,
                force,
                switches,
                mover,
            },
        );
        (place(), 0.0..1.0_f64, vec(reach, 0..4), kind).prop_map(
            |(centre, quiet_radius, reach, kind)| Known { centre, quiet_radius, reach, kind },
        )
    }

    fn record() -> impl Strategy<Value = TaskRecord> {
        let pick = || {
            (select(vec![0, 1, MOST_CONTROLS]), any::<bool>())
                .prop_map(|(index, inverted)| AxisPick { index, inverted })
        };
        let axes =
            (pick(), pick()).prop_map(|(horizontal, vertical)| StickAxes { horizontal, vertical });
        (ask(), known(), axes, recording(), vec(repetition(), 0..6), spans(3), 0.0..1e3_f64)
            .prop_map(|(ask, known, axes, recording, mut repetitions, pauses, muscle_seconds)| {
                // What was done says what was asked.
                for one in repetitions.iter_mut().filter(|one| one.outcome == Outcome::Done) {
                    one.direction = one.direction.or(Some(Direction::Up));
                    one.level = one.level.or(Some(0.5));
                    one.button = one.button.or(Some(1));
                    one.press = one.press.or(Some(PressAsk::Long));
                }
                let last = recording.samples.last().map_or(0.0, |last| last.arrival_seconds);
                let within = |span: &Span| span.to_seconds <= last;
                let pauses = pauses.into_iter().filter(within).collect();
                TaskRecord {
                    known,
                    axes,
                    pauses,
                    muscle_seconds,
                    ..TaskRecord::new(ask, recording, repetitions)
                }
            })
    }

    proptest! {
        /// Whatever was recorded comes back to the last bit.
        #[test]
        fn any_record_comes_back(record in record()) {
            let text = csv::write(&record);
            let back = read_csv(&text, None);
            prop_assert_eq!(back.as_ref(), Ok(&record), "{}", text);
        }

        /// Any text, and any one character of a good one changed: an answer, never a panic.
        #[test]
        fn any_text_is_answered(
            text in any::<String>(),
            record in record(),
            place in any::<prop::sample::Index>(),
            to in any::<char>(),
        ) {
            let _: Result<_, Trouble> = bytes(text.as_bytes(), Some(TaskKind::QuietRest));
            let mut changed: Vec<char> = csv::write(&record).chars().collect();
            let place = place.index(changed.len());
            changed[place] = to;
            let changed: String = changed.into_iter().collect();
            if let Ok(record) = read_csv(&changed, None) {
                prop_assert_eq!(read_csv(&csv::write(&record), None), Ok(record));
            }
        }
    }
}
