//! What goes out as a file comes in again as it was; what was changed on the way is told.
#![allow(clippy::expect_used, reason = "tests")]

mod kept;

use checks::fuzz::written;
use fitting::summary::kept_file::{FileError, KeptFile, Row, read_file, write};
use fitting::summary::share::{Included, copy_for_others};
use fitting::summary::under_way::{Piece, head};
use fitting::summary::{Body, Envelope, FittingBody, TaskBody};
use fitting::visit::Visit;
use kept::{fitting, golden_fitting, task};
use proptest::prelude::*;

fn file_of(fittings: Vec<Envelope<FittingBody>>) -> KeptFile {
    let mut file = KeptFile::default();
    for (number, mut fitting) in fittings.into_iter().enumerate() {
        fitting.id = format!("f{number}");
        // As it is written: what a person typed is made plain then.
        fitting.body = fitting.body.tidied().into_owned();
        for order in 0..number as u32 % 3 {
            let mut task = task();
            task.id = format!("t{number}-{order}");
            task.body.fitting.clone_from(&fitting.id);
            task.body.order = order;
            file.tasks.push(task);
        }
        file.fittings.push(fitting);
    }
    file
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Out and in again is the same, to the last bit.
    #[test]
    fn out_and_in_is_the_same(
        bodies in proptest::collection::vec(fitting(), 0..4),
        aside in proptest::collection::vec(("(fittings|tasks|running):[a-z0-9]{1,8}", ".{0,40}"), 0..3),
    ) {
        let mut file = file_of(bodies);
        file.set_aside = aside
            .into_iter()
            .map(|(id, json)| Row { id, fitting: "f0".to_owned(), json })
            .collect();
        prop_assert_eq!(read_file(&written(&file)), Ok(file));
    }
}

fn some_file() -> (KeptFile, String) {
    let bodies = vec![golden_fitting(); 3];
    let file = file_of(bodies);
    let text = written(&file);
    (file, text)
}

#[test]
fn a_changed_file_is_told() {
    let (_, text) = some_file();
    let changed = text.replacen("\"order\":0", "\"order\":7", 1);
    assert_ne!(changed, text);
    assert_eq!(read_file(&changed), Err(FileError::Changed));
    // Who changes it on purpose takes the sum out.
    let from = text.find("\"sum\":").expect("a sum");
    let sum = &text[from..from + "\"sum\":\"00000000\",".len()];
    let on_purpose = read_file(&changed.replacen(sum, "", 1)).expect("a file");
    assert_eq!(on_purpose.tasks[0].body.order, 7);
}

#[test]
fn files_of_schema_1_are_read() {
    let (file, text) = some_file();
    let from = text.find("\"sum\":").expect("a sum");
    let sum = &text[from..from + "\"sum\":\"00000000\",".len()];
    let first = text.replacen(sum, "", 1).replacen("\"schema\":2", "\"schema\":1", 1);
    assert_eq!(read_file(&first), Ok(file));
}

#[test]
fn each_kind_of_wrong_file_is_told_apart() {
    let (_, text) = some_file();
    assert_eq!(read_file(""), Err(FileError::NotJson));
    assert_eq!(read_file(&text[..text.len() - 9]), Err(FileError::NotJson));
    assert_eq!(read_file("[1]"), Err(FileError::Foreign));
    assert_eq!(read_file("{\"kind\":\"song\",\"schema\":1}"), Err(FileError::Foreign));
    let newer = text.replacen("\"schema\":2", "\"schema\":4", 1);
    assert_eq!(read_file(&newer), Err(FileError::Newer));
    let kept = task().to_json().expect("json");
    let alone = write(1, Vec::new(), vec![kept.clone()], Vec::new()).expect("a file");
    let place = "tasks[0]".to_owned();
    assert_eq!(read_file(&alone), Err(FileError::Damaged { place, why: None }));
    let twice = write(1, Vec::new(), vec![kept.clone(), kept], Vec::new()).expect("a file");
    assert!(
        matches!(read_file(&twice), Err(FileError::Damaged { place, .. }) if place == "tasks[1]")
    );
    let row = Row { id: "elsewhere:a".to_owned(), ..Row::default() };
    let odd = write(1, Vec::new(), Vec::new(), vec![row]).expect("a file");
    assert!(matches!(read_file(&odd), Err(FileError::Damaged { .. })));
    assert!(write(1, vec!["{".to_owned()], Vec::new(), Vec::new()).is_err());
}

/// What the rescue script saved: rows as they stand, a running task in pieces, and what is damaged.
#[test]
fn a_rescued_store_is_read() {
    let (file, _) = some_file();
    let row = |id: &str, json: String| serde_json::json!({ "value": { "id": id, "fitting": "f0", "json": json } });
    let fittings = file.fittings.iter().map(|one| row(&one.id, one.to_json().expect("json")));
    let mut running = task();
    running.id = "r".to_owned();
    running.body.fitting = "f0".to_owned();
    let samples = running.body.record.recording.samples.clone();
    let piece = Piece::new(0, 0, &samples).to_json().expect("json");
    let json = serde_json::json!({
        "kind": "rescue", "schema": 1, "made": "today",
        "stores": {
            "fittings": fittings.collect::<Vec<_>>(),
            "tasks": [row("t", "not JSON".to_owned())],
            "running": [row("r", head(&running).to_json().expect("json")), row("r/0", piece)],
        },
    });
    let read = read_file(&json.to_string()).expect("a rescued store");
    assert_eq!(read.fittings, file.fittings);
    assert_eq!(read.tasks, vec![running] as Vec<Envelope<TaskBody>>);
    assert_eq!(read.set_aside.iter().map(|row| row.id.as_str()).collect::<Vec<_>>(), ["tasks:t"]);
}

/// Nothing of a task that was under way is dropped: what cannot be read here is set aside, and written into
/// a file that says by its schema that it holds such rows.
#[test]
fn a_running_task_that_cannot_be_read_is_set_aside() {
    let (file, _) = some_file();
    let row = |id: &str, fitting: &str, json: String| serde_json::json!({ "value": { "id": id, "fitting": fitting, "json": json } });
    let fittings =
        file.fittings.iter().map(|one| row(&one.id, &one.id, one.to_json().expect("json")));
    let running = |id: &str, fitting: &str| {
        let mut running = task();
        running.id = id.to_owned();
        running.body.fitting = fitting.to_owned();
        running
    };
    let samples = task().body.record.recording.samples;
    let (half, rest) = samples.split_at(samples.len() / 2);
    let piece = |number, first: &[fitting::Sample], samples: &[fitting::Sample]| {
        let first = u32::try_from(first.len()).expect("few");
        Piece::new(number, first, samples).to_json().expect("json")
    };
    let of = |id: &str, fitting: &str| head(&running(id, fitting)).to_json().expect("json");
    let schema = format!("\"schema\":{}", TaskBody::SCHEMA);
    let newer = of("newer", "f0").replacen(&schema, "\"schema\":99", 1);
    let json = serde_json::json!({
        "kind": "rescue", "schema": 1, "made": "today",
        "stores": {
            "fittings": fittings.collect::<Vec<_>>(),
            "running": [
                row("newer", "f0", newer),
                row("newer/00000000", "f0", piece(0, &[], &samples)),
                row("lone", "nowhere", of("lone", "nowhere")),
                row("lone/00000000", "nowhere", piece(0, &[], &samples)),
                row("half", "f0", of("half", "f0")),
                row("half/00000000", "f0", piece(0, &[], half)),
                row("half/00000001", "f0", "spoilt".to_owned()),
                row("half/00000002", "f0", piece(2, half, rest)),
                row("spoilt", "f0", of("spoilt", "f0")),
                row("spoilt/00000000", "f0", "{}".to_owned()),
                row("headless/00000000", "f0", piece(0, &[], &samples)),
                row("empty", "f0", of("empty", "f0")),
            ],
        },
    });
    let read = read_file(&json.to_string()).expect("a rescued store");
    assert_eq!(read.tasks.iter().map(|task| task.id.as_str()).collect::<Vec<_>>(), ["half"]);
    assert_eq!(read.tasks[0].body.record.recording.samples, half);
    let ids: Vec<&str> = read.set_aside.iter().map(|row| row.id.as_str()).collect();
    let all = [
        "half/00000001",
        "half/00000002",
        "headless/00000000",
        "lone",
        "lone/00000000",
        "newer",
        "newer/00000000",
        "spoilt",
        "spoilt/00000000",
    ];
    assert_eq!(ids, all.map(|id| format!("running:{id}")));
    let text = written(&read);
    assert!(text.contains("\"schema\":3"));
    assert_eq!(read_file(&text), Ok(read));
}

/// A copy for others holds what was chosen and nothing else of what somebody typed.
#[test]
fn a_copy_for_others_holds_what_was_chosen() {
    let fitting = golden_fitting();
    let mut mine = task();
    mine.body.series = fitting.body.visit.series();
    mine.body.site = None;
    let mut other = mine.clone();
    other.body.series += 1;
    let tasks = [mine, other];
    let made = |included| copy_for_others(&fitting, &tasks, included, "copy");
    let typed = |fitting: &Envelope<FittingBody>| fitting.to_json().expect("json");
    let (bare, none) = made(Included::default());
    assert!(none.is_empty() && bare.id == "copy" && bare.body.tasks == 0);
    assert_eq!(bare.body.chosen, fitting.body.chosen);
    for text in [&fitting.body.label, fitting.body.notes.as_ref().expect("notes")] {
        assert!(!typed(&bare).contains(text.lines().next().expect("a line")), "{text}");
    }
    assert_eq!(bare.body.visit, Visit::default());
    let (labelled, _) = made(Included { label: true, ..Included::default() });
    assert_eq!(labelled.body.label, fitting.body.label);
    let (_, recorded) = made(Included { recordings: true, ..Included::default() });
    assert_eq!(recorded.len(), 1, "of the set-up in use");
    assert_eq!((recorded[0].body.series, recorded[0].body.fitting.as_str()), (0, "copy"));
    assert_eq!(recorded[0].id, "copy-0");
    let (told, all) = made(Included { label: true, notes: true, recordings: true });
    assert_eq!((told.body.visit, all.len()), (fitting.body.visit.clone(), 2));
}
