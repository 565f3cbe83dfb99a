//! The log.

use page::errors::{LONGEST_DETAIL, MOST_ENTRIES, Trouble, clear_log, entries, note};
use wasm_bindgen_test::wasm_bindgen_test;

#[wasm_bindgen_test]
fn the_log_keeps_the_last_entries_and_can_be_deleted() {
    clear_log();
    for number in 0..MOST_ENTRIES + 5 {
        note(Trouble::StoreFailed, &format!("entry {number}\n\t{}", "x".repeat(1_000)));
    }
    let log = entries();
    assert_eq!(log.len(), MOST_ENTRIES);
    assert!(log[0].detail.starts_with("entry 5  "), "{}", log[0].detail);
    assert!(log.iter().all(|entry| entry.detail.chars().count() <= LONGEST_DETAIL));
    assert!(log.iter().all(|entry| !entry.detail.contains(['\n', '\t'])));
    assert_eq!(log[0].what, "StoreFailed");
    clear_log();
    assert!(entries().is_empty());
}

#[wasm_bindgen_test]
fn every_trouble_is_in_the_list_once() {
    for (index, trouble) in Trouble::ALL.iter().enumerate() {
        assert!(!Trouble::ALL[index + 1..].contains(trouble), "{trouble:?}");
    }
}
