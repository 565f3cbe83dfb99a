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
        aside in proptest::collection::vec(("(fittings|tasks):[a-z0-9]{1,8}", ".{0,40}"), 0..3),
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
    let newer = text.replacen("\"schema\":2", "\"schema\":3", 1);
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
