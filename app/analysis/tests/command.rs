//! The command as it is typed: what it reads, what it says, and how it ends.
#![allow(clippy::expect_used, reason = "tests")]

use fitting::exchange::csv;
use fitting::exchange::figures::name;
use fitting::invented::{Invented, fixed_order, play};
use fitting::summary::kept_file::{self, Row};
use fitting::summary::{Envelope, FittingBody, TaskBody};
use fitting::task::{TaskKind, TaskRecord};
use serde_json::{Value, json};
use std::io::Read;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::OnceLock;

/// A folder of its own for the files of one test.
fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::create_dir_all(&folder).expect("a folder");
    folder
}

fn file(folder: &Path, name: &str, text: &str) -> String {
    let path = folder.join(name);
    std::fs::write(&path, text).expect("a file");
    path.to_str().expect("UTF-8").to_owned()
}

fn command(words: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_analyse"));
    command.args(words);
    command
}

struct Said {
    good: bool,
    out: String,
    err: String,
}

fn analyse(words: &[&str]) -> Said {
    let Output { status, stdout, stderr } = command(words).output().expect("it runs");
    let text = |bytes| String::from_utf8(bytes).expect("UTF-8");
    Said { good: status.success(), out: text(stdout), err: text(stderr) }
}

/// A person with a trembling hand: hands off, rests, pushes, holds.
fn played() -> &'static [TaskRecord] {
    static PLAYED: OnceLock<Vec<TaskRecord>> = OnceLock::new();
    PLAYED.get_or_init(|| play(Invented::RhythmicMovement.model(), 3, &fixed_order(6), 0.004))
}

fn fitting_and_tasks() -> (String, Vec<String>) {
    let fitting = FittingBody { label: "Left hand".to_owned(), ..FittingBody::default() };
    let fitting = Envelope::new("a-fitting", 0, fitting).to_json().expect("json");
    let tasks = (0..).zip(played()).map(|(order, record)| {
        let (fitting, record) = ("a-fitting".to_owned(), record.clone());
        let body = TaskBody { fitting, order, started_epoch_ms: 0, series: 0, site: None, record };
        Envelope::new(format!("task-{order}"), 0, body).to_json().expect("json")
    });
    (fitting, tasks.collect())
}

fn kept() -> String {
    let (fitting, tasks) = fitting_and_tasks();
    kept_file::write(0, vec![fitting], tasks, Vec::new()).expect("a file")
}

/// As `public/rescue.js` writes it: the rows of the database as they stand.
fn rescued(more: &[(&str, &str)]) -> String {
    let (fitting, tasks) = fitting_and_tasks();
    let row = |id: &str, text: &str| json!({ "key": id, "value": { "id": id, "fitting": "a-fitting", "json": text } });
    let mut rows: Vec<Value> =
        (0..).zip(&tasks).map(|(order, text)| row(&format!("task-{order}"), text)).collect();
    rows.extend(more.iter().map(|(id, text)| row(id, text)));
    json!({
        "kind": "rescue", "schema": 1, "made": "2026-01-01T00:00:00.000Z",
        "database": "stick-fitting-room", "database_version": 2,
        "stores": {
            "fittings": [row("a-fitting", &fitting)], "tasks": rows, "running": [], "set_aside": [],
        },
    })
    .to_string()
}

/// All but the line that names the file.
fn figures(table: &str) -> &str {
    table.split_once('\n').expect("lines").1
}

#[test]
fn every_file_of_the_page_is_read_and_gives_the_same_figures() {
    let folder = folder("page");
    let today = file(&folder, "kept.json", &kept());
    let text = kept();
    let from = text.find("\"sum\":").expect("a sum");
    let first = text.replacen(&text[from..from + "\"sum\":\"00000000\",".len()], "", 1);
    let before = file(&folder, "kept-1.json", &first.replacen("\"schema\":2", "\"schema\":1", 1));
    let rescue = file(&folder, "rescue.json", &rescued(&[]));
    let table = analyse(&[&today]);
    assert!(table.good && table.err.is_empty(), "{}", table.err);
    assert!(table.out.contains("(Left hand)"), "{}", table.out);
    for other in [&before, &rescue] {
        let other = analyse(&[other]);
        assert!(other.good && other.err.is_empty(), "{}", other.err);
        assert_eq!(figures(&other.out), figures(&table.out));
    }
    let (_, tasks) = fitting_and_tasks();
    let alone = analyse(&[&file(&folder, "task.json", &tasks[1])]);
    assert!(alone.good && alone.out.contains("rest.wander"), "{}", alone.err);
    // Its recordings as CSV, one after another.
    let csv: Vec<String> = (0..)
        .zip(played())
        .map(|(at, record): (u32, _)| file(&folder, &format!("{at}.csv"), &csv::write(record)))
        .collect();
    let words: Vec<&str> =
        ["--together"].into_iter().chain(csv.iter().map(String::as_str)).collect();
    let together = analyse(&words);
    assert!(together.good && together.err.is_empty(), "{}", together.err);
    assert_eq!(figures(&together.out), figures(&table.out));
}

#[test]
fn quarantined_rows_in_a_file_are_named() {
    let folder = folder("aside");
    let newer = "{\"kind\":\"task\",\"schema\":99}";
    let said =
        analyse(&[&file(&folder, "rescue.json", &rescued(&[("torn", "{"), ("new", newer)]))]);
    assert!(said.good && said.out.contains("dead_zone"), "{}", said.err);
    assert!(
        said.err.contains("warning: tasks:torn: left out: not JSON, or cut off"),
        "{}",
        said.err
    );
    assert!(said.err.contains("tasks:new: left out: written by a newer version"), "{}", said.err);
    // Nothing but what a newer version kept: as the page saves it.
    let row = Row { id: "tasks:new".into(), fitting: "a".into(), json: newer.into() };
    let text = kept_file::write(0, Vec::new(), Vec::new(), vec![row]).expect("a file");
    let said = analyse(&[&file(&folder, "newer.json", &text)]);
    assert!(!said.good && said.err.contains("written by a newer version"), "{}", said.err);
}

#[test]
fn a_file_without_recordings_says_what_it_is() {
    let golden = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/golden/");
    for (file, what) in [
        ("fitting-4.json", "a fitting by itself"),
        ("summary-1.json", "a summary"),
        ("summary-2.json", "a summary"),
        ("host-1.json", "a description of what a stick is plugged into"),
    ] {
        let said = analyse(&[&format!("{golden}{file}")]);
        assert!(!said.good && said.out.is_empty(), "{}", said.out);
        assert!(said.err.contains(&format!("{file}: {what}")), "{}", said.err);
        assert!(said.err.contains("Save the fitting with its recordings"), "{}", said.err);
    }
    for number in 1..=4 {
        let said = analyse(&[&format!("{golden}task-{number}.json")]);
        assert!(said.good, "schema {number}: {}", said.err);
    }
}

#[test]
fn a_reader_that_has_enough_ends_it_quietly() {
    let path = file(&folder("pipe"), "kept.json", &kept());
    // More than any pipe holds.
    let words: Vec<&str> = ["--json"].into_iter().chain([path.as_str(); 12]).collect();
    let mut child =
        command(&words).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("it runs");
    let mut first = [0; 20];
    child.stdout.take().expect("a pipe").read_exact(&mut first).expect("the first of it");
    let ended = child.wait_with_output().expect("it ends");
    assert_eq!(String::from_utf8_lossy(&ended.stderr), "");
    assert!(ended.status.success(), "{}", ended.status);
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_reported() {
    let path = file(&folder("full"), "kept.json", &kept());
    for words in [vec![path.as_str()], vec!["--json", &path], vec!["--help"]] {
        let full = std::fs::File::options().write(true).open("/dev/full").expect("a full disk");
        let ended = command(&words).stdout(full).output().expect("it runs");
        let err = String::from_utf8_lossy(&ended.stderr);
        assert!(err.starts_with("The results could not be written"), "{err}");
        assert_eq!(ended.status.code(), Some(1), "{err}");
    }
    // Complaints that nobody can hear change nothing.
    let full = std::fs::File::options().write(true).open("/dev/full").expect("a full disk");
    let ended = command(&["no-such-file"]).stderr(full).output().expect("it runs");
    assert_eq!(ended.status.code(), Some(1));
}

#[test]
fn help_and_what_is_unknown_name_the_options() {
    for word in ["--help", "-h"] {
        let said = analyse(&[word]);
        assert!(said.good && said.err.is_empty(), "{}", said.err);
        assert!(said.out.starts_with("analyse FILE…"), "{}", said.out);
        assert!(said.out.contains("--false-movements-a-minute"), "{}", said.out);
        let all = TaskKind::ALL.map(name);
        assert!(all.iter().all(|task| said.out.contains(task)), "{}", said.out);
    }
    for (words, told) in [
        (vec!["--jsn", "a"], "There is no option --jsn. The options are: --table, --json"),
        (vec!["-x", "a"], "There is no option -x. The options are"),
        (vec!["--json=yes", "a"], "There is no option --json=yes."),
        (vec!["--task", "sleep", "a"], "There is no task \"sleep\". The tasks are: hands_off,"),
        (vec!["a", "--task"], "--task wants a value behind it."),
        (vec![], "No file was named."),
        (vec!["--false-movements-a-minute", "0", "a"], "a number above 0 and at most 160"),
        (vec!["--false-movements-a-minute=1000", "a"], "not \"1000\""),
        (vec!["--false-movements-a-minute", "often", "a"], "not \"often\""),
        (vec!["--false-movements-a-minute=NaN", "a"], "not \"NaN\""),
    ] {
        let said = analyse(&words);
        assert!(!said.good && said.err.contains(told), "{words:?}: {}", said.err);
        assert!(said.out.is_empty());
    }
}

/// The suggested figure of this name in what `--json` says.
fn suggested(json: &str, name: &str) -> Option<f64> {
    let found: Value = serde_json::from_str(json).expect("json");
    let lines = found["body"]["suggestions"].as_array().expect("lines").iter();
    let line = lines.into_iter().find(|line| line["name"] == name).expect("a line");
    line["value"].as_f64()
}

#[test]
fn the_target_can_be_said() {
    let path = file(&folder("target"), "kept.json", &kept());
    let radius = |words: &[&str]| {
        let said = analyse(&[&[path.as_str(), "--json"], words].concat());
        assert!(said.good, "{}", said.err);
        suggested(&said.out, "dead_zone.alone").expect("a dead zone")
    };
    let usual = radius(&[]);
    assert_eq!(radius(&["--false-movements-a-minute", "0.5"]).to_bits(), usual.to_bits());
    assert!(radius(&["--false-movements-a-minute=20"]) < usual);
    assert!(radius(&["--false-movements-a-minute", "0.1"]) > usual);
    let said = analyse(&[&path, "--false-movements-a-minute", "3"]);
    assert!(said.out.contains("target: at most 3 false movements a minute"), "{}", said.out);
    // A recording in CSV has no wish of its own.
    let rest = played().iter().find(|one| one.ask.kind() == TaskKind::QuietRest).expect("a rest");
    let csv = file(&folder("target"), "rest.csv", &csv::write(rest));
    let said = analyse(&[&csv, "--json", "--false-movements-a-minute=3"]);
    let found: Value = serde_json::from_str(&said.out).expect("json");
    assert_eq!(found["body"]["wish"]["false_per_minute"], 3.0);
}

/// What has to be typed in.
const TYPED: [&str; 19] = [
    "centre",
    "direction.swapped",
    "direction.right_inverted",
    "direction.up_inverted",
    "direction.turn",
    "direction.right_gain",
    "direction.up_gain",
    "smoothing.used",
    "smoothing.cutoff",
    "smoothing.speed_coefficient",
    "dead_zone",
    "full_throw",
    "curve.exponent",
    "curve.point",
    "switches.on",
    "switches.off",
    "switches.shortest",
    "timing.shortest_press",
    "timing.bounce",
];

#[test]
fn everything_to_type_in_stands_in_the_table() {
    let folder = folder("typed");
    let said = analyse(&[&file(&folder, "kept.json", &kept())]);
    let rows = |name: &str, out: &str| -> Vec<String> {
        let own = |line: &&str| line.split_whitespace().next() == Some(name);
        out.lines().filter(own).map(str::to_owned).collect()
    };
    for name in TYPED {
        let all = rows(name, &said.out);
        assert!(!all.is_empty(), "{name}: {}", said.out);
        for row in all {
            let sure = ["firm", "rough", "not enough yet", "does not apply"];
            assert!(sure.iter().any(|word| row.contains(word)), "{row}");
        }
    }
    for name in ["centre", "dead_zone", "full_throw"] {
        assert!(rows(name, &said.out).iter().all(|row| row.contains(" to ")), "{}", said.out);
    }
    // Of hands off alone: no number but the centre of the untouched stick.
    let alone = file(&folder, "hands-off.csv", &csv::write(&played()[0]));
    let said = analyse(&[&alone, "--json"]);
    let found: Value = serde_json::from_str(&said.out).expect("json");
    let lines = found["body"]["suggestions"].as_array().expect("lines");
    for name in TYPED {
        let mut own = lines.iter().filter(|line| line["name"] == name).peekable();
        assert!(own.peek().is_some(), "{name}");
        for line in own {
            let untold = line["value"].is_null() && !line["lacking"].is_null();
            assert!(untold || name == "centre", "{line}");
        }
    }
    assert!(found["body"].get("settings").is_none(), "no number where there is none");
    let table = analyse(&[&alone]).out;
    assert!(rows("dead_zone", &table)[0].contains("not enough yet: nothing recorded"), "{table}");
}

#[test]
fn set_ups_are_never_put_together() {
    let (fitting, tasks) = fitting_and_tasks();
    let other = tasks[1].replacen("\"series\":0", "\"series\":1", 1).replacen("task-1", "other", 1);
    let both = kept_file::write(0, vec![fitting], vec![tasks[1].clone(), other], Vec::new());
    let path = file(&folder("set-ups"), "kept.json", &both.expect("a file"));
    let said = analyse(&[&path]);
    assert!(said.good && said.out.contains("(Left hand, set-up 2)"), "{}", said.out);
    let said = analyse(&[&path, "--together"]);
    assert!(!said.good && said.err.contains("2 visits in it"), "{}", said.err);
}

#[test]
fn an_invented_person_is_called_one() {
    let (_, tasks) = fitting_and_tasks();
    let practised = Some("steady-hand".to_owned());
    let fitting = FittingBody { practised, ..FittingBody::default() };
    let fitting = Envelope::new("a-fitting", 0, fitting).to_json().expect("json");
    let text = kept_file::write(0, vec![fitting], tasks, Vec::new()).expect("a file");
    let said = analyse(&[&file(&folder("invented"), "kept.json", &text)]);
    assert!(said.out.contains("(invented person steady-hand)"), "{}", said.out);
}
