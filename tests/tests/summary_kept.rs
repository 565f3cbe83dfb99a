//! What is kept is read back the same, forever, and what is wrong is told for what it is.
#![allow(clippy::expect_used, reason = "tests")]

mod kept;

use fitting::summary::{
    Answer, Body, Envelope, FittingBody, Kind, Lacking, SummaryBody, TaskBody, Unreadable, peek,
    plain_lines, read,
};
use fitting::task::{Asking, CueKind};
use fitting::visit::Host;
use kept::{
    asks, fitting, fullest_summary, golden_fitting, golden_host, golden_summary, summary, task,
};
use proptest::prelude::*;

const FITTING: &str = include_str!("../golden/fitting-4.json");
const HOST: &str = include_str!("../golden/host-1.json");
const TASK: &str = include_str!("../golden/task-4.json");
/// The last form that had the samples as a list.
const TASK_LISTED: &str = include_str!("../golden/task-3.json");
const SUMMARY: &str = include_str!("../golden/summary-2.json");

/// The golden files were written with the release of each schema and never change.
#[test]
fn golden_files_of_schema_1_are_read() {
    let kept = read::<FittingBody>(include_str!("../golden/fitting-1.json")).expect("a fitting");
    // Brought forward: what could not be said yet is what was meant then.
    assert_eq!((kept.kind, kept.schema, kept.id.as_str()), (Kind::Fitting, 4, "0f3a-77"));
    assert_eq!(kept.body.stick_kind, fitting::StickKind::default());
    assert_eq!(kept.body.wish, fitting::suggest::Wish::default());
    assert_eq!(kept.body.visit, fitting::visit::Visit::default());
    let chosen = kept.body.chosen.clone().expect("settings");
    let same = fitting::Settings {
        centre: chosen.centre,
        dead_zone: chosen.dead_zone,
        full_throw: chosen.full_throw,
        shape: chosen.shape,
        curve: chosen.curve.clone(),
        ..fitting::Settings::default()
    };
    assert_eq!(chosen, same);
    assert_eq!(kept.body.label, "Tuesday, left hand");
    assert_eq!(kept.body.notes.as_deref(), Some("Second visit.\nArm rest raised."));
    assert_eq!(kept.body.chosen.as_ref().map(|settings| settings.dead_zone), Some(0.1234567));
    let kept = read::<TaskBody>(include_str!("../golden/task-1.json")).expect("a task");
    let mut then = task().body.record;
    then.known.kind = fitting::StickKind::default();
    (then.asking, then.cue) = (Asking::Told, CueKind::AtPlace);
    for repetition in &mut then.repetitions {
        (repetition.button, repetition.press, repetition.effort) = (None, None, None);
    }
    assert_eq!((kept.schema, kept.body.record), (4, then));
    assert_eq!(kept.body.fitting, "0f3a-77");
    let kept = read::<SummaryBody>(include_str!("../golden/summary-1.json")).expect("a summary");
    assert_eq!((kept.schema, kept.made_epoch_ms), (2, 1_770_000_100_000));
    assert_eq!(kept.body.reach.len(), 8);
    assert_eq!(kept.body.map, Answer::NotEnough(Lacking::NothingRecorded));
    assert!(kept.body.buttons.is_empty() && kept.body.thinned == 0);
    let settings = kept.body.chosen.settings();
    assert_eq!(settings.direction, fitting::settings::DirectionMap::default());
    assert_eq!(settings.buttons, fitting::settings::ButtonTiming::default());
}

#[test]
fn golden_files_of_schema_2_are_read() {
    let kept = read::<FittingBody>(include_str!("../golden/fitting-2.json")).expect("a fitting");
    let mut then = golden_fitting().body;
    (then.visit, then.chosen_aside) = (fitting::visit::Visit::default(), Vec::new());
    then.stick_kind.mover = fitting::stick_kind::Mover::Limb;
    assert_eq!((kept.schema, kept.body), (4, then));
    let kept = read::<TaskBody>(include_str!("../golden/task-2.json")).expect("a task");
    let mut then = task().body;
    (then.series, then.site) = (0, None);
    (then.record.asking, then.record.cue) = (Asking::Told, CueKind::AtPlace);
    then.record.known.kind.mover = fitting::stick_kind::Mover::Limb;
    assert_eq!((kept.schema, kept.body), (4, then));
}

#[test]
fn golden_files_of_schema_3_are_read() {
    let kept = read::<FittingBody>(include_str!("../golden/fitting-3.json")).expect("a fitting");
    let mut then = golden_fitting().body;
    then.visit.wanted = fitting::visit::Wanted::default();
    then.visit.devices = fitting::visit::Devices::default();
    then.visit.set_ups.iter_mut().for_each(|set_up| set_up.device = 0);
    assert_eq!((kept.schema, kept.body), (4, then));
}

/// With `UPDATE_GOLDEN` set they are written anew: only before a schema is released.
#[test]
fn golden_files_of_today_are_read() {
    if std::env::var_os("UPDATE_GOLDEN").is_some() {
        let write = |name: &str, json: String| {
            let value: serde_json::Value = serde_json::from_str(&json).expect("json");
            let text = serde_json::to_string_pretty(&value).expect("json") + "\n";
            let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/golden/");
            std::fs::write(format!("{folder}{name}"), text).expect("written");
        };
        write("fitting-4.json", golden_fitting().to_json().expect("json"));
        write("host-1.json", golden_host().to_json().expect("json"));
        write("task-4.json", task().to_json().expect("json"));
        return;
    }
    let kept = read::<FittingBody>(FITTING).expect("the golden fitting");
    assert_eq!(kept.body, golden_fitting().body);
    assert_eq!(read::<Host>(HOST).expect("the golden host"), golden_host());
    assert_eq!(read::<TaskBody>(TASK).expect("the golden task"), task());
    assert_eq!(read::<SummaryBody>(SUMMARY).expect("the golden summary"), golden_summary());
}

/// What is written today is what was written then: the form has not drifted.
#[test]
fn golden_files_are_written_the_same_again() {
    fn again<T: Body + std::fmt::Debug + PartialEq>(golden: &str) {
        let json = read::<T>(golden).expect("golden").to_json().expect("it may be written");
        let value = |text: &str| serde_json::from_str::<serde_json::Value>(text).expect("json");
        assert!(value(&json) == value(golden), "{golden}\nis now written as\n{json}");
    }
    again::<FittingBody>(FITTING);
    again::<Host>(HOST);
    again::<TaskBody>(TASK);
    again::<SummaryBody>(SUMMARY);
}

/// A golden file with one place changed.
fn changed(golden: &str, pointer: &str, to: serde_json::Value) -> String {
    let mut value: serde_json::Value = serde_json::from_str(golden).expect("json");
    *value.pointer_mut(pointer).unwrap_or_else(|| panic!("{pointer} is there")) = to;
    value.to_string()
}

fn error<T: Body + std::fmt::Debug>(json: &str) -> Unreadable {
    read::<T>(json).expect_err("it must not be read")
}

#[test]
fn each_kind_of_wrong_file_is_told_apart() {
    assert!(matches!(error::<FittingBody>(""), Unreadable::NotJson { .. }));
    assert!(matches!(error::<FittingBody>("{\"kind\":"), Unreadable::NotJson { .. }));
    let cut = &TASK[..TASK.len() / 2];
    assert!(matches!(error::<TaskBody>(cut), Unreadable::NotJson { .. }));
    for foreign in ["3", "[]", "{}", "{\"kind\":\"song\",\"schema\":1}", "{\"kind\":\"task\"}"] {
        assert_eq!(error::<FittingBody>(foreign), Unreadable::NotOurs, "{foreign}");
    }
    assert_eq!(error::<FittingBody>(TASK), Unreadable::WrongKind { found: Kind::Task });
    let newer = changed(SUMMARY, "/schema", 3.into());
    assert_eq!(error::<SummaryBody>(&newer), Unreadable::NewerSchema { found: 3, known: 2 });
    let never = changed(SUMMARY, "/schema", 0.into());
    assert_eq!(error::<SummaryBody>(&never), Unreadable::UnknownSchema { found: 0 });
    let large = format!("{}{}", SUMMARY, " ".repeat(SummaryBody::MOST_BYTES));
    let bytes = large.len();
    let most = SummaryBody::MOST_BYTES;
    assert_eq!(error::<SummaryBody>(&large), Unreadable::TooLarge { bytes, most });
    let typed = changed(FITTING, "/body/minutes", "six".into());
    let Unreadable::Shape { detail, .. } = error::<FittingBody>(&typed) else { panic!("a shape") };
    assert!(detail.contains("invalid type"), "{detail}");
    let unknown = FITTING.replacen("\"minutes\"", "\"minuets\"", 1);
    assert!(matches!(error::<FittingBody>(&unknown), Unreadable::Shape { .. }));
    assert_eq!(peek(TASK).map(|head| head.kind), Ok(Kind::Task));
}

#[test]
fn a_field_out_of_range_is_named() {
    let many = |count: usize| serde_json::Value::from(vec![0.0; count]);
    let far = |field| Unreadable::OutOfRange { field };
    for (pointer, to, field) in [
        ("/id", "Has Spaces".into(), "id"),
        ("/core", "<b>".into(), "core"),
        ("/made", 8_640_000_000_000_001_u64.into(), "made"),
        ("/body/label", "x".repeat(81).into(), "label"),
        ("/body/label", "a\u{202e}b".into(), "label"),
        ("/body/device/name", "a\nb".into(), "device.name"),
        ("/body/device/axes", 33.into(), "device.axes"),
        ("/body/practised", "<i>".into(), "practised"),
        ("/body/wish/false_per_minute", 0.0.into(), "wish.false_per_minute"),
        ("/body/wish/most_lag_seconds", (-0.1).into(), "wish.most_lag_seconds"),
        ("/body/chosen/direction/up_gain", 0.1.into(), "chosen.direction.gain"),
        ("/body/chosen/direction/turn_degrees", 180.5.into(), "chosen.direction.turn_degrees"),
        (
            "/body/chosen/smoothing/one_euro/speed_coefficient",
            (-1.0).into(),
            "chosen.smoothing.speed_coefficient",
        ),
        ("/body/chosen/switches/off", 0.6.into(), "chosen.switches.off"),
        ("/body/chosen/buttons/bounce_seconds", 31.0.into(), "chosen.buttons.bounce_seconds"),
        ("/body/chosen/dead_zone", 0.91.into(), "chosen.dead_zone"),
        ("/body/chosen/full_throw", 0.1.into(), "chosen.full_throw"),
        (
            "/body/chosen/curve",
            serde_json::json!({ "points": [[0.5, 0.4], [1.0, 0.9]] }),
            "chosen.curve.points",
        ),
        ("/body/notes", "x".repeat(401).into(), "notes"),
    ] {
        let json = changed(FITTING, pointer, to);
        assert_eq!(error::<FittingBody>(&json), far(field), "{pointer}");
    }
    let samples = "record.recording.samples.arrival_seconds";
    for (pointer, to, field) in [
        ("/body/record/recording/samples/1/arrival_seconds", 12.25.into(), samples),
        ("/body/record/recording/samples/0/arrival_seconds", 1e300.into(), samples),
        ("/body/record/recording/samples/0/axes/0", 8.1.into(), "record.recording.samples.axes"),
        ("/body/record/recording/samples/0/axes", many(33), "record.recording.samples.axes"),
        (
            "/body/record/recording/samples/2/buttons/1",
            1.5.into(),
            "record.recording.samples.buttons",
        ),
        ("/body/record/recording/polled/1/from_seconds", 12.4.into(), "record.recording.polled"),
        ("/body/record/recording/polled/0/to_seconds", 11.0.into(), "record.recording.polled"),
        ("/body/record/repetitions/0/span/to_seconds", 11.0.into(), "record.repetitions.span"),
        ("/body/record/axes/vertical/index", 3.into(), "record.axes.vertical"),
        ("/body/record/repetitions/0/button", 32.into(), "record.repetitions.button"),
        ("/body/record/repetitions/0/effort", 11.into(), "record.repetitions.effort"),
        ("/body/record/known/quiet_radius", (-0.1).into(), "record.known.quiet_radius"),
        ("/body/record/ask/hold/seconds", (-1.0).into(), "record.ask.seconds"),
        ("/body/record/muscle_seconds", (-1.0).into(), "record.muscle_seconds"),
        ("/body/fitting", "".into(), "fitting"),
    ] {
        let json = changed(TASK_LISTED, pointer, to);
        assert_eq!(error::<TaskBody>(&json), far(field), "{pointer}");
    }
    for (pointer, to, field) in [
        ("/body/rest/known/curve/0/radius", (-0.1).into(), "rest.curve.radius"),
        ("/body/rest/known/curve/0/per_minute", 159.0.into(), "rest.curve.per_minute"),
        ("/body/reach/1/asked", "right".into(), "reach"),
        ("/body/reach/0/reach/known/high", 0.0.into(), "reach.reach"),
        ("/body/reach/0/reach/known/repetitions", 10_001.into(), "reach.reach"),
        ("/body/chosen/dead_zone", 1e18.into(), "chosen.dead_zone"),
        (
            "/body/chosen/curve",
            serde_json::json!({ "points": [[0.5, 0.4], [1.0, 0.999]] }),
            "chosen.curve.points",
        ),
        (
            "/body/chosen/curve",
            serde_json::json!({ "points": [[0.0, 0.1], [1.0, 1.0]] }),
            "chosen.curve.points",
        ),
        ("/body/dead_zone/known/weakest/eaten", 1.001.into(), "dead_zone.weakest.eaten"),
        ("/body/after/jitter_pooled", 0.9.into(), "after"),
        ("/body/minutes", 601.into(), "minutes"),
        ("/body/wish_most_lag", 61.0.into(), "wish_most_lag"),
        ("/body/thinned", 8.into(), "thinned"),
        ("/body/stick/odd_axes/0/axis", 32.into(), "stick.odd_axes"),
        ("/body/stick/gate/known/directions", 9.into(), "stick.gate.directions"),
        ("/body/busy_rest/0/meanwhile", "watching".into(), "busy_rest"),
        ("/body/busy_rest/0/rest/known/at_chosen/low", 161.0.into(), "busy_rest.at_chosen"),
        ("/body/map/known/pushes", 10_001.into(), "map.pushes"),
        ("/body/rhythm/known/resolution", (-1.0).into(), "rhythm.resolution"),
        ("/body/sustained/0/effort", 11.into(), "sustained.effort"),
        ("/body/returns/1/asked", "right".into(), "returns"),
        ("/body/buttons/0/button", 32.into(), "buttons"),
        ("/body/buttons/1/button", 33.into(), "buttons.button"),
        ("/body/direction/known/levelling_gain", 5.1.into(), "direction.levelling_gain"),
        ("/body/smoothing/known/chosen/one_euro/cutoff", 61.0.into(), "smoothing.chosen"),
        ("/body/switches/known/off", 8.1.into(), "switches.on"),
        ("/body/full_throw/known/by_direction/0/own", 8.1.into(), "full_throw.by_direction"),
        ("/body/chosen/direction/turn", 180.1.into(), "chosen.direction.turn"),
        ("/body/chosen/switches/off", 1.501.into(), "chosen.switches"),
        ("/body/chosen/buttons/bounce", 60.1.into(), "chosen.buttons"),
    ] {
        let json = changed(SUMMARY, pointer, to);
        assert_eq!(error::<SummaryBody>(&json), far(field), "{pointer}");
    }
}

/// Every field of an asked task is needed, and each kind has its own.
#[test]
fn an_ask_without_one_of_its_fields_is_refused() {
    let asks: Vec<serde_json::Value> =
        asks().iter().map(|ask| serde_json::to_value(ask).expect("json")).collect();
    assert_eq!(asks.len(), 9, "one of each kind");
    for (kind, whole) in asks.iter().flat_map(|ask| ask.as_object().expect("one kind")) {
        let ask = |fields: &serde_json::Value| {
            changed(TASK, "/body/record/ask", serde_json::json!({ kind: fields }))
        };
        let kept = read::<TaskBody>(&ask(whole)).expect("a whole one");
        let again = serde_json::to_value(&kept.body.record.ask).expect("json");
        assert_eq!(again, serde_json::json!({ kind: whole }));
        for field in whole.as_object().expect("fields").keys() {
            let mut less = whole.clone();
            less.as_object_mut().expect("fields").remove(field);
            let Unreadable::Shape { detail, .. } = error::<TaskBody>(&ask(&less)) else {
                panic!("{kind} without {field}")
            };
            assert!(detail.contains(field.as_str()), "{detail}");
        }
    }
}

#[test]
fn more_samples_than_the_most_are_refused() {
    let mut kept = task();
    let sample = kept.body.record.recording.samples[0].clone();
    kept.body.record.recording.samples = (0..=fitting::summary::MOST_TASK_SAMPLES)
        .map(|step| fitting::Sample { arrival_seconds: step as f64 * 0.004, ..sample.clone() })
        .collect();
    let far = Unreadable::OutOfRange { field: "record.recording.samples" };
    assert_eq!(kept.to_json(), Err(far));
    kept.body.record.recording.samples.pop();
    assert_eq!(kept.check(), Ok(()));
}

/// What could not be read again is not written, whatever the page hands in.
#[test]
fn what_is_not_a_number_is_not_written() {
    let mut kept = task();
    kept.body.record.recording.samples[1].axes[0] = f64::NAN;
    let far = Unreadable::OutOfRange { field: "record.recording.samples.axes" };
    assert_eq!(kept.to_json(), Err(far));
}

/// Every number of a recording comes back to the last bit.
#[test]
fn a_task_comes_back_to_the_last_bit() {
    let kept = task();
    let back = read::<TaskBody>(&kept.to_json().expect("json")).expect("it is read");
    assert_eq!(back, kept);
}

#[test]
fn the_fullest_summary_is_far_below_the_largest_file() {
    let json = fullest_summary().to_json().expect("json");
    assert!(2 * json.len() < SummaryBody::MOST_BYTES, "{} bytes", json.len());
    assert_eq!(read::<SummaryBody>(&json).expect("it is read"), fullest_summary());
}

/// However much is written, in whatever script, the fitting can be read again.
#[test]
fn the_fullest_fitting_is_below_the_largest_file() {
    let golden = golden_fitting();
    let note = |most| Some("𝄞".repeat(most));
    let body = FittingBody {
        label: "𝄞".repeat(80),
        body_part: note(400),
        notes: note(400),
        visit: kept::visit::fullest(),
        ..golden.body.clone()
    };
    let kept = Envelope { body, ..golden };
    let json = kept.to_json().expect("json");
    assert!(json.len() < FittingBody::MOST_BYTES, "{} bytes", json.len());
    assert_eq!(read::<FittingBody>(&json).expect("it is read"), kept);
}

proptest! {
    #[test]
    fn any_summary_comes_back(summary in summary()) {
        let json = summary.to_json().expect("json");
        prop_assert_eq!(read::<SummaryBody>(&json).expect("it is read"), summary);
    }

    #[test]
    fn canonical_forms_are_their_own(summary in summary(), id in "[a-z]{1,9}") {
        let canonical = summary.canonical();
        prop_assert_eq!(canonical.canonical(), canonical.clone());
        let renamed = Envelope { id, ..summary.clone() };
        prop_assert_eq!(renamed.canonical(), canonical.clone());
        let other = Envelope { made_epoch_ms: summary.made_epoch_ms ^ 1, ..summary };
        prop_assert_ne!(other.canonical(), canonical);
    }

    /// Whatever a person types, the fitting is kept, and read back as it was written.
    #[test]
    fn any_fitting_is_kept(fitting in fitting()) {
        let json = fitting.to_json().expect("json");
        let back = read::<FittingBody>(&json).expect("it is read");
        prop_assert_eq!(back.to_json().expect("json"), json);
        prop_assert_eq!(&back.body.chosen, &fitting.body.chosen);
        let notes = fitting.body.notes.map(|notes| plain_lines(&notes, 400));
        prop_assert_eq!(back.body.notes.unwrap_or_default(), notes.unwrap_or_default());
    }

    /// Any one byte of a golden file changed: an error or something that may be written.
    #[test]
    fn any_changed_byte_is_answered(place in any::<prop::sample::Index>(), to in any::<char>()) {
        fn answered<T: Body>(golden: &str, place: prop::sample::Index, to: char) {
            let mut text: Vec<char> = golden.chars().collect();
            let place = place.index(text.len());
            text[place] = to;
            let text: String = text.into_iter().collect();
            if let Ok(kept) = read::<T>(&text) {
                kept.to_json().expect("what was read may be written");
            }
        }
        answered::<FittingBody>(FITTING, place, to);
        answered::<TaskBody>(TASK, place, to);
        answered::<SummaryBody>(SUMMARY, place, to);
    }

    #[test]
    fn any_text_is_answered(text in any::<String>()) {
        prop_assert!(read::<SummaryBody>(&text).is_err());
    }
}
