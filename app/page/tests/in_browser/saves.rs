//! The store: what a crash left, and saves that come too late.

use fitting::{
    Span,
    summary::{Body, TaskBody, under_way::Piece},
    task::Repetition,
};
use page::store::{Store, StoreError};
use wasm_bindgen_test::wasm_bindgen_test;

use super::store::{database, fitting, keep_one, put_row, task};

/// Rows of a running task as a crash leaves them: its head, and one piece.
async fn leave_running(database: &str, id: &str, of: &str, head: &str) {
    let samples = task(&fitting(""), 0).body.record.recording.samples;
    let piece = Piece::new(0, 0, &samples).to_json().unwrap();
    for (id, json) in [(id.to_owned(), head), (format!("{id}/00000000"), piece.as_str())] {
        let row = serde_json::json!({ "id": id, "fitting": of, "json": json });
        put_row(database, "running", &row.to_string()).await;
    }
}

#[wasm_bindgen_test]
async fn a_running_task_that_cannot_be_read_is_set_aside_and_offered_once_it_can_be() {
    let name = database();
    let store = Store::open_named(&name).await;
    let (kept, _) = keep_one(&store, "crashed").await;
    let head = |id: &str, of: &str| {
        let mut running = task(&kept, 2);
        running.id = id.to_owned();
        running.body.fitting = of.to_owned();
        running.body.record.repetitions =
            vec![Repetition::done(Span { from_seconds: 1.0, to_seconds: 1.1 })];
        running.body.record.recording.samples.clear();
        running.to_json().unwrap()
    };
    let newer =
        |json: String| json.replace(&format!("\"schema\":{}", TaskBody::SCHEMA), "\"schema\":99");
    leave_running(&name, "readable", &kept.id, &head("readable", &kept.id)).await;
    leave_running(&name, "newer", &kept.id, &newer(head("newer", &kept.id))).await;
    // Its fitting cannot be read, or was deleted.
    let row = serde_json::json!({ "id": "odd", "fitting": "odd", "json": "{" });
    put_row(&name, "fittings", &row.to_string()).await;
    leave_running(&name, "of-odd", "odd", &head("of-odd", "odd")).await;
    leave_running(&name, "of-none", "gone", &head("of-none", "gone")).await;

    let (found, unreadable) = store.unfinished().await.unwrap();
    assert_eq!(found.iter().map(|one| one.task.id.as_str()).collect::<Vec<_>>(), ["readable"]);
    assert_eq!(unreadable, 2);
    let file = store.export_all().await.unwrap();
    for id in ["running:newer", "running:newer/00000000", "running:of-odd"] {
        assert!(file.contains(&format!("\"{id}\"")), "{id}");
    }
    assert!(!file.contains("of-none"), "what was deleted is deleted");
    assert_eq!(store.unfinished().await.unwrap().1, 0, "once");

    // As another version of this page would find it.
    let row = serde_json::json!({ "id": "running:newer", "fitting": kept.id, "json": head("newer", &kept.id) });
    put_row(&name, "set_aside", &row.to_string()).await;
    let again = Store::open_named(&name).await;
    let (found, _) = again.unfinished().await.unwrap();
    assert_eq!(found.len(), 2);
    again.keep_unfinished(&found[0].task).await.unwrap();
    assert_eq!(again.load(&kept.id).await.unwrap().tasks.len(), 3);
}

/// Whatever was taken out of the page before it was deleted is not written after it.
async fn stays_deleted(store: &Store) {
    let (kept, tasks) = keep_one(store, "deleted").await;
    let stamp = store.stamp();
    let taken = store.take_out(&kept.id).await.unwrap();
    let late = store.save_fitting(stamp, &kept).await;
    assert_eq!(late, Err(StoreError::Deleted));
    let late = store.save_together(stamp, &kept, &tasks[0]).await;
    assert_eq!(late, Err(StoreError::Deleted));
    let mut running = tasks[0].clone();
    running.body.record.recording.samples.clear();
    let piece = Piece::new(0, 0, &tasks[0].body.record.recording.samples);
    let late = store.save_piece(stamp, Some(&kept), &running, &piece).await;
    assert_eq!(late, Err(StoreError::Deleted));
    assert_eq!(store.load(&kept.id).await, Err(StoreError::NotFound));
    // Put back it may be written again, and so may one of its tasks that was deleted by itself.
    store.put_back(&taken).await.unwrap();
    store.save_fitting(store.stamp(), &kept).await.unwrap();
    let stamp = store.stamp();
    store.take_out_task(&kept.id, &tasks[1].id).await.unwrap();
    let late = store.save_together(stamp, &kept, &tasks[1]).await;
    assert_eq!(late, Err(StoreError::Deleted));
    store.save_together(stamp, &kept, &tasks[0]).await.unwrap();
    assert_eq!(store.load(&kept.id).await.unwrap().tasks.len(), 1);
    let stamp = store.stamp();
    store.delete_everything().await.unwrap();
    assert_eq!(store.save_fitting(stamp, &kept).await, Err(StoreError::Deleted));
    // Another window deleted it.
    store.save_fitting(store.stamp(), &kept).await.unwrap();
    let stamp = store.stamp();
    store.note_deleted(Some(&kept.id));
    assert_eq!(store.save_fitting(stamp, &kept).await, Err(StoreError::Deleted));
}

#[wasm_bindgen_test]
async fn a_save_on_its_way_brings_nothing_back() {
    stays_deleted(&Store::open_named(&database()).await).await;
    stays_deleted(&Store::in_memory(StoreError::Unavailable)).await;
}
