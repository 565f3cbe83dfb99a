//! The store, in the browser's own database and in memory.

use fitting::{
    Recording, Sample, Span,
    summary::{Body, Envelope, FittingBody, TaskBody, Unreadable},
    task::{TaskAsk, TaskRecord},
};
use js_sys::{Function, Promise};
use page::store::{
    Asked, FileError, Lock, Store, StoreError, is_counter, new_counter_id, new_id, now_epoch_ms,
};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use wasm_bindgen_test::wasm_bindgen_test;

use super::script::script;

/// A name no other test has.
pub(super) fn database() -> String {
    format!("test-{}", new_id())
}

pub(super) fn fitting(label: &str) -> Envelope<FittingBody> {
    let body = FittingBody { label: label.into(), minutes: 6, ..FittingBody::default() };
    Envelope::new(new_id(), now_epoch_ms(), body)
}

pub(super) fn task(of: &Envelope<FittingBody>, order: u32) -> Envelope<TaskBody> {
    let sample = |index: u32| Sample {
        arrival_seconds: 1.0 + 0.004 * f64::from(index),
        axes: vec![0.1 / 3.0 * f64::from(index), -0.25],
        buttons: vec![0.0],
    };
    let recording = Recording {
        samples: (0..25).map(sample).collect(),
        polled: vec![Span { from_seconds: 1.0, to_seconds: 1.1 }],
    };
    let record = TaskRecord::new(TaskAsk::QuietRest { seconds: 1.0 }, recording, Vec::new());
    let started_epoch_ms = of.made_epoch_ms;
    let body =
        TaskBody { fitting: of.id.clone(), order, started_epoch_ms, series: 0, site: None, record };
    Envelope::new(new_id(), of.made_epoch_ms, body)
}

/// Puts a row into the database behind the store's back.
pub(super) async fn put_row(database: &str, table: &str, row: &str) {
    let body = "return new Promise((resolve, reject) => {
        const request = indexedDB.open(database);
        request.onerror = () => reject(request.error);
        request.onsuccess = () => {
            const open = request.result;
            const transaction = open.transaction(table, 'readwrite');
            transaction.objectStore(table).put(JSON.parse(row));
            transaction.oncomplete = () => { open.close(); resolve(); };
            transaction.onabort = () => reject(transaction.error);
        };
    })";
    let put: Function = script("database, table, row", body);
    let promise: Promise = put
        .call3(&JsValue::NULL, &database.into(), &table.into(), &row.into())
        .unwrap()
        .unchecked_into();
    JsFuture::from(promise).await.unwrap();
}

/// A fitting with two tasks, kept.
pub(super) async fn keep_one(
    store: &Store,
    label: &str,
) -> (Envelope<FittingBody>, [Envelope<TaskBody>; 2]) {
    let mut kept = fitting(label);
    kept.body.tasks = 2;
    let tasks = [task(&kept, 0), task(&kept, 1)];
    store.save_together(store.stamp(), &kept, &tasks[1]).await.unwrap();
    store.save_together(store.stamp(), &kept, &tasks[0]).await.unwrap();
    (kept, tasks)
}

/// What any store must do, lasting or not.
async fn does_its_work(store: &Store) {
    let (kept, tasks) = keep_one(store, "blue mount").await;
    let mut later = fitting("later");
    later.made_epoch_ms += 1_000;
    store.save_fitting(store.stamp(), &later).await.unwrap();

    let listing = store.list().await.unwrap();
    assert_eq!((listing.set_aside, listing.newer.len()), (0, 0));
    let labels: Vec<_> = listing.fittings.iter().map(|row| row.label.as_str()).collect();
    assert_eq!(labels, ["later", "blue mount"], "the newest first");
    assert_eq!(listing.fittings[1].tasks, 2);

    let loaded = store.load(&kept.id).await.unwrap();
    assert_eq!(loaded.fitting, kept);
    assert_eq!(loaded.tasks, tasks, "in the order in which they were done, to the bit");

    // A newer state takes the place of the older one.
    let mut changed = kept.clone();
    changed.body.label = "red mount".into();
    store.save_fitting(store.stamp(), &changed).await.unwrap();
    assert_eq!(store.load(&kept.id).await.unwrap().fitting, changed);

    let nowhere = fitting("nowhere");
    // What could not be read again is not written.
    let mut odd = task(&kept, 2);
    odd.body.record.muscle_seconds = f64::NAN;
    let together = store.save_together(store.stamp(), &nowhere, &odd).await;
    assert!(matches!(together, Err(StoreError::Unreadable { .. })));
    assert_eq!(store.load(&nowhere.id).await, Err(StoreError::NotFound), "both or neither");

    store.delete(&kept.id).await.unwrap();
    assert_eq!(store.load(&kept.id).await, Err(StoreError::NotFound));
    assert!(!store.export_all().await.unwrap().contains(&tasks[0].id), "its tasks are gone too");
    assert_eq!(store.list().await.unwrap().fittings.len(), 1);
    store.delete_everything().await.unwrap();
    assert!(store.list().await.unwrap().fittings.is_empty());
}

#[wasm_bindgen_test]
async fn the_browsers_database_does_its_work_and_lasts() {
    let name = database();
    let store = Store::open_named(&name).await;
    assert!(store.is_lasting(), "{:?}", store.why_not_lasting());
    does_its_work(&store).await;
    let (kept, tasks) = keep_one(&store, "over night").await;
    drop(store);
    let again = Store::open_named(&name).await;
    let loaded = again.load(&kept.id).await.unwrap();
    assert_eq!((loaded.fitting, loaded.tasks), (kept, tasks.to_vec()));
}

#[wasm_bindgen_test]
async fn memory_does_the_same_work_and_says_that_it_does_not_last() {
    let store = Store::in_memory(StoreError::Unavailable);
    assert!(!store.is_lasting());
    assert_eq!(store.why_not_lasting(), Some(StoreError::Unavailable));
    assert!(!store.ask_to_last().await);
    does_its_work(&store).await;
}

#[wasm_bindgen_test]
async fn a_database_that_does_not_open_gives_a_store_in_memory() {
    let name = database();
    let newer = "return new Promise((resolve) => {
        const request = indexedDB.open(database, 7);
        request.onsuccess = () => { request.result.close(); resolve(); };
    })";
    let made = script("database", newer).call1(&JsValue::NULL, &name.as_str().into()).unwrap();
    JsFuture::from(made.unchecked_into::<Promise>()).await.unwrap();
    let store = Store::open_named(&name).await;
    assert_eq!(store.why_not_lasting(), Some(StoreError::Newer), "a newer page was here");
    does_its_work(&store).await;
}

#[wasm_bindgen_test]
async fn it_opens_again_after_another_tab_closed_it() {
    let name = database();
    let store = Store::open_named(&name).await;
    let (kept, _) = keep_one(&store, "kept").await;
    let gone = "return new Promise((resolve) => {
        const request = indexedDB.deleteDatabase(database);
        request.onsuccess = () => resolve('gone');
        request.onblocked = () => resolve('blocked');
    })";
    let deleted = script("database", gone).call1(&JsValue::NULL, &name.as_str().into()).unwrap();
    let answer = JsFuture::from(deleted.unchecked_into::<Promise>()).await.unwrap();
    assert_eq!(answer.as_string().as_deref(), Some("gone"), "it stands in nobody's way");
    assert_eq!(store.load(&kept.id).await, Err(StoreError::NotFound));
    store.save_fitting(store.stamp(), &kept).await.unwrap();
    assert_eq!(store.list().await.unwrap().fittings.len(), 1);
}

#[wasm_bindgen_test]
async fn rows_that_cannot_be_read_are_set_aside_and_not_lost() {
    let name = database();
    let store = Store::open_named(&name).await;
    let (kept, tasks) = keep_one(&store, "whole").await;
    put_row(&name, "fittings", r#"{"id":"cut","fitting":"cut","json":"{\"kind\":\"fit"}"#).await;
    put_row(&name, "fittings", r#"{"id":"odd","fitting":"odd","what":"is this"}"#).await;
    let written = kept.to_json().unwrap();
    let newer = written.replace(&format!("\"schema\":{}", FittingBody::SCHEMA), "\"schema\":99");
    assert_ne!(newer, written);
    let newer = newer.replace(&kept.id, "newer");
    let row = serde_json::json!({ "id": "newer", "fitting": "newer", "json": newer });
    put_row(&name, "fittings", &row.to_string()).await;
    let row = serde_json::json!({ "id": "bad-task", "fitting": kept.id, "json": "[]" });
    put_row(&name, "tasks", &row.to_string()).await;

    let listing = store.list().await.unwrap();
    assert_eq!(listing.fittings.len(), 1);
    assert_eq!((listing.set_aside, listing.newer.len()), (2, 1));
    let loaded = store.load(&kept.id).await.unwrap();
    assert_eq!((loaded.tasks.len(), loaded.left_out), (2, 1));
    assert_eq!(store.list().await.unwrap().set_aside, 3, "once each");
    assert!(matches!(
        store.load("newer").await,
        Err(StoreError::Unreadable { why: Unreadable::NewerSchema { found: 99, .. }, .. })
    ));

    // All of it is in the file, and the file can be taken in elsewhere.
    let file = store.export_all().await.unwrap();
    for part in ["{\\\"kind\\\":\\\"fit", "is this", "tasks:bad-task", "fittings:newer"] {
        assert!(file.contains(part), "{part} in {file}");
    }
    let other = Store::open_named(&database()).await;
    let imported = other.import(&file).await.unwrap();
    assert_eq!((imported.fittings, imported.tasks, imported.set_aside), (1, 2, 4));
    assert_eq!(other.load(&kept.id).await.unwrap().tasks, tasks);

    // Deleting the fitting takes what lies aside of it along.
    store.delete(&kept.id).await.unwrap();
    assert_eq!(store.list().await.unwrap().set_aside, 2);
}

#[wasm_bindgen_test]
async fn what_lies_aside_is_taken_back_once_it_can_be_read() {
    let name = database();
    let store = Store::open_named(&name).await;
    let lost = fitting("found again");
    let lost_task = task(&lost, 0);
    let row = |id: String, json: String| {
        serde_json::json!({ "id": id, "fitting": lost.id, "json": json }).to_string()
    };
    let fitting_row = row(format!("fittings:{}", lost.id), lost.to_json().unwrap());
    let task_row = row(format!("tasks:{}", lost_task.id), lost_task.to_json().unwrap());
    put_row(&name, "set_aside", &task_row).await;
    let again = Store::open_named(&name).await;
    assert_eq!(again.list().await.unwrap().set_aside, 1, "a task waits for its fitting");
    put_row(&name, "set_aside", &fitting_row).await;
    let again = Store::open_named(&name).await;
    let listing = again.list().await.unwrap();
    assert_eq!((listing.fittings.len(), listing.set_aside), (1, 0));
    let loaded = again.load(&lost.id).await.unwrap();
    assert_eq!((loaded.fitting, loaded.tasks), (lost, vec![lost_task]));
    drop(store);
}

#[wasm_bindgen_test]
async fn out_and_in_again_is_the_same_and_never_overwrites() {
    let store = Store::open_named(&database()).await;
    let (kept, tasks) = keep_one(&store, "Füße „links“ \u{1f9b6}").await;
    let file = store.export_all().await.unwrap();

    let other = Store::open_named(&database()).await;
    let imported = other.import(&file).await.unwrap();
    assert_eq!((imported.fittings, imported.tasks, imported.renamed), (1, 2, 0));
    let loaded = other.load(&kept.id).await.unwrap();
    assert_eq!((&loaded.fitting, &loaded.tasks[..]), (&kept, &tasks[..]));

    // The same again: nothing to do.
    let again = other.import(&file).await.unwrap();
    assert_eq!((again.fittings, again.tasks, again.already_here), (0, 0, 1));

    // One of its tasks is not here: it comes to its fitting.
    let half = Store::open_named(&database()).await;
    half.save_together(half.stamp(), &kept, &tasks[0]).await.unwrap();
    let completed = half.import(&file).await.unwrap();
    assert_eq!((completed.fittings, completed.tasks, completed.completed), (0, 1, 1));
    assert_eq!(half.load(&kept.id).await.unwrap().tasks, tasks);

    // Another state of it is here: both are kept.
    let mut changed = kept.clone();
    changed.body.label = "changed here".into();
    other.save_fitting(other.stamp(), &changed).await.unwrap();
    let third = other.import(&file).await.unwrap();
    assert_eq!((third.fittings, third.tasks, third.renamed), (1, 2, 1));
    let listing = other.list().await.unwrap();
    assert_eq!(listing.fittings.len(), 2);
    assert_eq!(other.load(&kept.id).await.unwrap().fitting.body.label, "changed here");
    let renamed = listing.fittings.iter().find(|row| row.id != kept.id).unwrap();
    let copy = other.load(&renamed.id).await.unwrap();
    assert_eq!(copy.fitting.body, kept.body);
    assert_eq!(copy.tasks.len(), 2);
    assert_eq!(copy.tasks[0].body.record, tasks[0].body.record);
}

#[wasm_bindgen_test]
async fn what_was_deleted_comes_back_as_it_stood() {
    let store = Store::open_named(&database()).await;
    let (kept, tasks) = keep_one(&store, "gone and back").await;
    let taken = store.take_out(&kept.id).await.unwrap();
    assert!(store.list().await.unwrap().fittings.is_empty());
    assert_eq!(store.take_out(&kept.id).await.err(), Some(StoreError::NotFound));
    store.put_back(&taken).await.unwrap();
    let loaded = store.load(&kept.id).await.unwrap();
    assert_eq!((&loaded.fitting, &loaded.tasks[..]), (&kept, &tasks[..]));
    // Twice it does not come back: what is there stays.
    assert!(store.put_back(&taken).await.is_err());

    let one = store.take_out_task(&kept.id, &tasks[0].id).await.unwrap();
    let loaded = store.load(&kept.id).await.unwrap();
    assert_eq!((loaded.tasks.len(), loaded.fitting.body.tasks), (1, 1));
    store.put_back(&one).await.unwrap();
    let loaded = store.load(&kept.id).await.unwrap();
    assert_eq!((&loaded.tasks[..], loaded.fitting.body.tasks), (&tasks[..], 2));
    // Without its fitting a task does not come back alone.
    let one = store.take_out_task(&kept.id, &tasks[0].id).await.unwrap();
    store.delete(&kept.id).await.unwrap();
    assert_eq!(store.put_back(&one).await, Err(StoreError::NotFound));
}

#[wasm_bindgen_test]
async fn a_counter_fitting_from_a_file_is_one_to_keep() {
    let store = Store::open_named(&database()).await;
    let mut kept = fitting("at a counter");
    kept.id = new_counter_id();
    assert!(is_counter(&kept.id) && fitting::summary::is_id(&kept.id));
    store.save_together(store.stamp(), &kept, &task(&kept, 0)).await.unwrap();
    let file = store.export_all().await.unwrap();
    let other = Store::open_named(&database()).await;
    let imported = other.import(&file).await.unwrap();
    assert_eq!((imported.fittings, imported.tasks, imported.renamed), (1, 1, 0));
    let listing = other.list().await.unwrap();
    assert!(!is_counter(&listing.fittings[0].id));
    assert_eq!(other.load(&listing.fittings[0].id).await.unwrap().tasks.len(), 1);
}

#[wasm_bindgen_test]
async fn the_lock_of_a_fitting_is_held_once_and_can_be_taken() {
    let id = new_id();
    let lost = std::rc::Rc::new(std::cell::Cell::new(false));
    let sees = std::rc::Rc::clone(&lost);
    let first = Lock::of_fitting(&id, Asked::IfFree, move || sees.set(true)).await;
    assert!(first.is_some() && Lock::is_held(&id).await);
    assert!(Lock::of_fitting(&id, Asked::IfFree, || {}).await.is_none());
    assert!(Lock::of_fitting(&id, Asked::Wait(50), || {}).await.is_none());
    let second = Lock::of_fitting(&id, Asked::Take, || {}).await;
    assert!(second.is_some());
    gloo_timers::future::TimeoutFuture::new(50).await;
    assert!(lost.get(), "who had it knows");
    drop(first);
    assert!(Lock::is_held(&id).await, "it is the second one's");
    drop(second);
    gloo_timers::future::TimeoutFuture::new(50).await;
    assert!(!Lock::is_held(&id).await);
}

#[wasm_bindgen_test]
async fn a_file_of_the_rescue_script_is_taken_in() {
    let lost = fitting("rescued");
    let lost_task = task(&lost, 0);
    let record = |id: &str, json: &str| serde_json::json!({ "key": id, "value": { "id": id, "fitting": lost.id, "json": json } });
    let file = serde_json::json!({
        "kind": "rescue", "schema": 1, "made": "2026-11-25T00:00:00.000Z",
        "database": "stick-fitting-room", "database_version": 1,
        "stores": {
            "fittings": [record(&lost.id, &lost.to_json().unwrap()), record("broken", "{")],
            "tasks": [record(&lost_task.id, &lost_task.to_json().unwrap())],
        },
    });
    let store = Store::in_memory(StoreError::Unavailable);
    let imported = store.import(&file.to_string()).await.unwrap();
    assert_eq!((imported.fittings, imported.tasks, imported.set_aside), (1, 1, 1));
    assert_eq!(store.load(&lost.id).await.unwrap().tasks, [lost_task]);
}

#[wasm_bindgen_test]
async fn a_file_with_one_fault_is_refused_whole_and_told_apart() {
    let store = Store::open_named(&database()).await;
    keep_one(&store, "source").await;
    let file = store.export_all().await.unwrap();
    let target = Store::open_named(&database()).await;
    let refused = async |text: &str| match target.import(text).await {
        Err(StoreError::File(error)) => error,
        other => panic!("taken in or another error: {other:?}"),
    };
    assert_eq!(refused("").await, FileError::NotJson);
    assert_eq!(refused(&file[..file.len() - 20]).await, FileError::NotJson);
    assert_eq!(refused("{}").await, FileError::Foreign);
    assert_eq!(refused("[1, 2]").await, FileError::Foreign);
    assert_eq!(refused(r#"{"kind":"other","schema":1}"#).await, FileError::Foreign);
    let newer = file.replacen("\"schema\":2", "\"schema\":4", 1);
    assert_eq!(refused(&newer).await, FileError::Newer);
    // One value of the last task's recording is out of range.
    let at = file.rfind("\"muscle_seconds\":0.0").unwrap();
    let changed = format!("{}\"muscle_seconds\":-1.0{}", &file[..at], &file[at + 20..]);
    assert_eq!(refused(&changed).await, FileError::Changed);
    let sum = changed.find("\"sum\":").unwrap();
    let broken = format!("{}{}", &changed[..sum], &changed[sum + 17..]);
    let FileError::Damaged { place, why } = refused(&broken).await else {
        panic!("damaged");
    };
    assert_eq!(place, "tasks[1]");
    assert!(matches!(why, Some(Unreadable::OutOfRange { .. })));
    assert!(target.list().await.unwrap().fittings.is_empty(), "nothing of it was taken in");
}

#[wasm_bindgen_test]
fn ids_are_ids_and_do_not_repeat() {
    let mut ids: Vec<String> = (0..1_000).map(|_| new_id()).collect();
    assert!(ids.iter().all(|id| fitting::summary::is_id(id)));
    ids.sort();
    ids.dedup();
    assert_eq!(ids.len(), 1_000);
}
