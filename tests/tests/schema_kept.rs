//! The published JSON Schemas (draft 2020-12) say what is kept: every golden file and whatever
//! the program writes is valid, and what it refuses for its form is not.
#![allow(clippy::expect_used, reason = "tests")]

mod kept;

use fitting::summary::kept_file;
use fitting::summary::{Envelope, FittingBody, SummaryBody, TaskBody, read};
use fitting::task::ShortPush;
use fitting::visit::Host;
use jsonschema::Validator;
use kept::{asks, fitting, fullest_summary, summary, task};
use proptest::prelude::*;
use serde_json::Value;
use std::sync::LazyLock;

static FITTING: LazyLock<Validator> =
    LazyLock::new(|| validator(include_str!("../../public/schema/fitting-4.json")));
static TASK: LazyLock<Validator> =
    LazyLock::new(|| validator(include_str!("../../public/schema/task-4.json")));
static HOST: LazyLock<Validator> =
    LazyLock::new(|| validator(include_str!("../../public/schema/host-1.json")));
static SUMMARY: LazyLock<Validator> =
    LazyLock::new(|| validator(include_str!("../../public/schema/summary-2.json")));

/// The released schemas of before: their golden files stay valid.
static BEFORE: LazyLock<[Validator; 7]> = LazyLock::new(|| {
    [
        validator(include_str!("../../public/schema/fitting-1.json")),
        validator(include_str!("../../public/schema/task-1.json")),
        validator(include_str!("../../public/schema/summary-1.json")),
        validator(include_str!("../../public/schema/fitting-2.json")),
        validator(include_str!("../../public/schema/task-2.json")),
        validator(include_str!("../../public/schema/fitting-3.json")),
        validator(include_str!("../../public/schema/task-3.json")),
    ]
});

fn validator(schema: &str) -> Validator {
    let schema: Value = serde_json::from_str(schema).expect("a schema in JSON");
    assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
    jsonschema::draft202012::meta::validate(&schema).expect("a valid schema");
    jsonschema::draft202012::new(&schema).expect("a schema")
}

fn errors(validator: &Validator, json: &str) -> Vec<String> {
    let value: Value = serde_json::from_str(json).expect("json");
    validator
        .iter_errors(&value)
        .map(|error| format!("{}: {error}", error.instance_path()))
        .collect()
}

#[test]
fn golden_files_are_valid() {
    for (validator, golden) in [
        (&BEFORE[0], include_str!("../golden/fitting-1.json")),
        (&BEFORE[1], include_str!("../golden/task-1.json")),
        (&BEFORE[3], include_str!("../golden/fitting-2.json")),
        (&BEFORE[4], include_str!("../golden/task-2.json")),
        (&BEFORE[5], include_str!("../golden/fitting-3.json")),
        (&*FITTING, include_str!("../golden/fitting-4.json")),
        (&*HOST, include_str!("../golden/host-1.json")),
        (&BEFORE[6], include_str!("../golden/task-3.json")),
        (&*TASK, include_str!("../golden/task-4.json")),
        (&BEFORE[2], include_str!("../golden/summary-1.json")),
        (&*SUMMARY, include_str!("../golden/summary-2.json")),
    ] {
        assert_eq!(errors(validator, golden), [""; 0]);
    }
}

/// A file of everything: fittings and tasks in it are held against their own schemas.
#[test]
fn a_file_of_kept_things_is_valid() {
    let json = |text: &str| serde_json::from_str::<Value>(text).expect("a schema in JSON");
    let (fitting, task) = (
        json(include_str!("../../public/schema/fitting-4.json")),
        json(include_str!("../../public/schema/task-4.json")),
    );
    let registry = jsonschema::Registry::new()
        .add("json-schema:///fitting-4.json", fitting)
        .and_then(|registry| registry.add("json-schema:///task-4.json", task))
        .and_then(|registry| registry.prepare())
        .expect("schemas");
    let one = |golden: &str| vec![golden.to_owned()];
    let two = (2, "tasks:a", include_str!("../../public/schema/kept-2.json"));
    // With rows of a task that was under way.
    let three = (3, "running:a/00000000", include_str!("../../public/schema/kept-3.json"));
    for (schema, row, form) in [two, three] {
        let validator = jsonschema::options()
            .with_base_uri(format!("json-schema:///kept-{schema}.json"))
            .with_registry(&registry)
            .build(&json(form))
            .expect("a schema");
        let file = kept_file::write(
            1,
            one(include_str!("../golden/fitting-4.json")),
            one(include_str!("../golden/task-4.json")),
            vec![kept_file::Row { id: row.to_owned(), ..kept_file::Row::default() }],
        )
        .expect("a file");
        assert_eq!(errors(&validator, &file), [""; 0]);
        for (from, to) in [
            (&*format!("\"schema\":{schema}"), "\"schema\":1"),
            ("\"sum\":\"", "\"sum\":\"x"),
            ("\"order\": 3", "\"order\": -3"),
            ("\"minutes\": ", "\"minutes\": 1000"),
            (row, "elsewhere:a"),
        ] {
            let changed = file.replacen(from, to, 1);
            assert_ne!(changed, file, "{from}");
            assert!(!errors(&validator, &changed).is_empty(), "{to}");
        }
    }
}

#[test]
fn the_fullest_things_are_valid() {
    for ask in asks() {
        let mut kept = task();
        kept.body.record.ask = ask;
        for repetition in &mut kept.body.record.repetitions {
            repetition.queried_short = Some(ShortPush { reach: 0.25, usual: 0.68 });
        }
        assert_eq!(errors(&TASK, &kept.to_json().expect("json")), [""; 0]);
    }
    assert_eq!(errors(&SUMMARY, &fullest_summary().to_json().expect("json")), [""; 0]);
}

/// Every object of the schemas is closed, so that nothing unsaid can be kept.
#[test]
fn every_object_is_closed() {
    fn closed(value: &Value, objects: &mut usize) {
        if value["type"] == "object" {
            *objects += 1;
            assert_eq!(value["additionalProperties"], false, "{value}");
            let properties = value["properties"].as_object().expect("properties");
            let required = value["required"].as_array().expect("required");
            // What was added to a released form is left out where there is none of it, so that
            // older pages can read the rest.
            let added = usize::from(properties.contains_key("queried_short"));
            assert_eq!(properties.len() - added, required.len(), "every field is always written");
        }
        match value {
            Value::Object(fields) => fields.values().for_each(|field| closed(field, objects)),
            Value::Array(items) => items.iter().for_each(|item| closed(item, objects)),
            _ => {}
        }
    }
    for schema in [
        include_str!("../../public/schema/fitting-1.json"),
        include_str!("../../public/schema/fitting-2.json"),
        include_str!("../../public/schema/fitting-3.json"),
        include_str!("../../public/schema/fitting-4.json"),
        include_str!("../../public/schema/host-1.json"),
        include_str!("../../public/schema/task-1.json"),
        include_str!("../../public/schema/task-2.json"),
        include_str!("../../public/schema/task-3.json"),
        include_str!("../../public/schema/task-4.json"),
        include_str!("../../public/schema/summary-1.json"),
        include_str!("../../public/schema/summary-2.json"),
    ] {
        let mut objects = 0;
        closed(&serde_json::from_str(schema).expect("json"), &mut objects);
        assert!(objects > 4);
    }
}

/// Each of these is refused by the reader and by the schema alike.
#[test]
fn what_the_reader_refuses_the_schema_refuses() {
    let fitting = include_str!("../golden/fitting-4.json");
    let host = include_str!("../golden/host-1.json");
    let task = include_str!("../golden/task-4.json");
    let summary = include_str!("../golden/summary-2.json");
    for (golden, pointer, to) in [
        (fitting, "/schema", Value::from(5)),
        (fitting, "/id", "A".into()),
        (fitting, "/body/label", "x".repeat(81).into()),
        (fitting, "/body/chosen/dead_zone", 1.0.into()),
        (fitting, "/body/chosen_aside/0/series", 12.into()),
        (fitting, "/body/chosen_aside/0/settings/dead_zone", 1.0.into()),
        (fitting, "/body/notes", 3.into()),
        (fitting, "/body/stick_kind/moves", "sideways".into()),
        (fitting, "/body/wish/most_lag_seconds", 1.5.into()),
        (fitting, "/body/chosen/direction/turn_degrees", 181.0.into()),
        (fitting, "/body/chosen/smoothing/one_euro/cutoff_hertz", 0.0.into()),
        (fitting, "/body/chosen/switches/shortest_seconds", (-0.1).into()),
        (fitting, "/body/chosen/buttons/repeat_delay_seconds", "soon".into()),
        (fitting, "/body/visit/safety/holds/0", "bored".into()),
        (fitting, "/body/visit/today/pain", 11.into()),
        (fitting, "/body/visit/set_ups/1/forward_mm", 3_001.into()),
        (fitting, "/body/visit/set_ups/1/seat", "x".repeat(81).into()),
        (fitting, "/body/visit/path/layers/0/dead_zone", 0.96.into()),
        (fitting, "/body/visit/papers/edits/0/part", "poem".into()),
        (fitting, "/body/visit/papers/edits/1/text", "x".repeat(1_201).into()),
        (fitting, "/body/visit/papers/edits/1/instead_of", 4_294_967_296_u64.into()),
        (fitting, "/body/visit/papers/diary/0/comfort", 11.into()),
        (fitting, "/body/visit/papers/diary/1/minutes", 1_441.into()),
        (fitting, "/body/visit/wanted/grasp", "iron".into()),
        (fitting, "/body/visit/devices/heard/pad/axes/0", 32.into()),
        (fitting, "/body/visit/devices/heard/keys/tab", (-1).into()),
        (fitting, "/body/visit/devices/host", "hub".into()),
        (fitting, "/body/visit/devices/port", 4.into()),
        (host, "/body/name", "x".repeat(81).into()),
        (host, "/body/ports", Value::Array(Vec::new())),
        (host, "/body/ports/0/buttons", 33.into()),
        (host, "/body/sets/dead_zone/range/high", 1.5.into()),
        (task, "/body/series", 12.into()),
        (task, "/body/site", 3.into()),
        (task, "/body/record/asking", "sung".into()),
        (task, "/body/record/known/kind/force", 1.into()),
        (task, "/body/record/repetitions/0/press", "thrice".into()),
        (task, "/body/record/repetitions/0/button", 32.into()),
        (task, "/body/record/repetitions/0/effort", 11.into()),
        (task, "/body/record/recording/count", 400_001.into()),
        (task, "/body/record/recording/packed", "+".into()),
        (task, "/body/record/ask", "hold".into()),
        (task, "/body/record/repetitions/0/mark", "bored".into()),
        (summary, "/body/curve", "none".into()),
        (summary, "/body/reach/0/asked", "sideways".into()),
        (summary, "/body/minutes", 1.5.into()),
        (summary, "/body/stick/step", 0.9.into()),
        (summary, "/body/thinned", 8.into()),
        (summary, "/body/buttons/0/length", 3.into()),
        (summary, "/body/stick/odd_axes/0/what", "bent".into()),
        (summary, "/body/sustained/0/effort", 11.into()),
        (summary, "/body/chosen/smoothing/one_euro/cutoff", 0.0.into()),
    ] {
        let mut value: Value = serde_json::from_str(golden).expect("json");
        *value.pointer_mut(pointer).expect("the place") = to;
        let json = value.to_string();
        let (validator, refused) = match value["kind"].as_str() {
            Some("fitting") => (&FITTING, read::<FittingBody>(&json).is_err()),
            Some("host") => (&HOST, read::<Host>(&json).is_err()),
            Some("task") => (&TASK, read::<TaskBody>(&json).is_err()),
            _ => (&SUMMARY, read::<SummaryBody>(&json).is_err()),
        };
        assert!(refused, "the reader takes {pointer}");
        assert!(!errors(validator, &json).is_empty(), "the schema takes {pointer}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    #[test]
    fn any_summary_written_is_valid(summary in summary()) {
        prop_assert_eq!(errors(&SUMMARY, &summary.to_json().expect("json")), [""; 0]);
    }

    #[test]
    fn any_host_written_is_valid(host in kept::devices::host()) {
        let kept = Envelope::new("a", 1, host);
        let json = kept.to_json().expect("json");
        prop_assert_eq!(errors(&HOST, &json), [""; 0]);
        prop_assert_eq!(read::<Host>(&json).expect("it is read"), kept);
    }

    #[test]
    fn any_fitting_written_is_valid(fitting in fitting()) {
        prop_assert_eq!(errors(&FITTING, &fitting.to_json().expect("json")), [""; 0]);
    }
}
