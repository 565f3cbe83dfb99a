//! What can go wrong, the log of what did, and the last resort.
//!
//! The core and the store return enums; [`Trouble`] is the page's one list of them, and the table
//! of words turns each into an [`ErrorMessage`]. No error text of a browser or a library reaches
//! a person except in the log.

use std::{cell::RefCell, collections::VecDeque};

use leptos::prelude::window;
use wasm_bindgen::JsValue;

/// What a person is told about a trouble: the words table has one for each [`Trouble`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ErrorMessage {
    /// What happened.
    pub happened: &'static str,
    /// What is safe: what was not lost.
    pub safe: &'static str,
    /// What to do.
    pub to_do: &'static str,
}

/// Everything that can go wrong and that a person may have to be told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Trouble {
    /// This browser has no gamepad interface.
    InputMissing,
    /// The page's permissions policy forbids the gamepad interface.
    InputRefused,
    /// The chosen device is gone.
    DeviceGone,
    /// Nothing can be kept in this browser: no storage, or it does not open.
    StoreUnavailable,
    /// The browser's storage is full.
    StoreFull,
    /// Another tab holds the storage in an older form.
    StoreBlocked,
    /// A newer version of this page has laid the storage out.
    StoreNewer,
    /// The storage failed for another reason; the log has its name.
    StoreFailed,
    /// Kept data could not be read; it was set aside, not deleted.
    KeptUnreadable,
    /// What was to be opened is not there any more.
    NotFound,
    /// A file is not one of ours.
    FileForeign,
    /// A file is damaged.
    FileDamaged,
    /// A file comes from a newer version of this page.
    FileNewer,
    /// A file is larger than any we write.
    FileTooLarge,
    /// A link is not one of ours.
    LinkForeign,
    /// A link is damaged or cut short.
    LinkDamaged,
    /// A link comes from a newer version of this page.
    LinkNewer,
    /// Copying to the clipboard was refused.
    ClipboardRefused,
    /// The later part of the program could not be fetched.
    LaterMissing,
    /// A recording is as long as any that may be kept; it was ended.
    RecordingFull,
    /// Something that should not happen.
    Unexpected,
}

impl Trouble {
    /// All of them, so that a test can ask the words table for each.
    pub const ALL: [Self; 21] = [
        Self::InputMissing,
        Self::InputRefused,
        Self::DeviceGone,
        Self::StoreUnavailable,
        Self::StoreFull,
        Self::StoreBlocked,
        Self::StoreNewer,
        Self::StoreFailed,
        Self::KeptUnreadable,
        Self::NotFound,
        Self::FileForeign,
        Self::FileDamaged,
        Self::FileNewer,
        Self::FileTooLarge,
        Self::LinkForeign,
        Self::LinkDamaged,
        Self::LinkNewer,
        Self::ClipboardRefused,
        Self::LaterMissing,
        Self::RecordingFull,
        Self::Unexpected,
    ];
}

/// How many entries the log holds.
pub const MOST_ENTRIES: usize = 200;

/// How long the detail of an entry may be, characters.
pub const LONGEST_DETAIL: usize = 200;

/// Where the log is kept between visits, in the browser's small storage.
const LOG_KEY: &str = "stick-fitting-room.log";

/// One entry of the log.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// When, as the browser writes a date (ISO 8601, UTC).
    pub at: String,
    /// What, by the name of its [`Trouble`].
    pub what: String,
    /// More of it, for somebody who looks into it; at most [`LONGEST_DETAIL`] characters, one line.
    pub detail: String,
}

thread_local! {
    static LOG: RefCell<Option<VecDeque<Entry>>> = const { RefCell::new(None) };
}

/// Writes an entry into the log. Never put a recording or a person's label into `detail`.
pub fn note(trouble: Trouble, detail: &str) {
    let entry = Entry {
        at: String::from(js_sys::Date::new_0().to_iso_string()),
        what: format!("{trouble:?}"),
        detail: one_line(detail, LONGEST_DETAIL),
    };
    with_log(|log| {
        while log.len() >= MOST_ENTRIES {
            log.pop_front();
        }
        log.push_back(entry);
        let text = as_text(log);
        if let Some(storage) = small_storage() {
            // A full or refused storage costs only that the log ends with the visit.
            let _ = storage.set_item(LOG_KEY, &text);
        }
    });
}

/// The entries, the oldest first.
#[must_use]
pub fn entries() -> Vec<Entry> {
    with_log(|log| log.iter().cloned().collect()).unwrap_or_default()
}

/// Deletes the log, here and in the browser's storage.
pub fn clear_log() {
    with_log(VecDeque::clear);
    if let Some(storage) = small_storage() {
        let _ = storage.remove_item(LOG_KEY);
    }
}

/// Runs `f` on the log, which is read from the browser's storage the first time. Does nothing
/// while the log is already in use (an error while writing an error).
fn with_log<T>(f: impl FnOnce(&mut VecDeque<Entry>) -> T) -> Option<T> {
    LOG.with(|log| {
        let mut log = log.try_borrow_mut().ok()?;
        Some(f(log.get_or_insert_with(read_kept)))
    })
}

fn small_storage() -> Option<web_sys::Storage> {
    window().local_storage().ok().flatten()
}

/// One line each: time, what, detail, parted by tabs.
fn as_text(log: &VecDeque<Entry>) -> String {
    log.iter().map(|entry| format!("{}\t{}\t{}\n", entry.at, entry.what, entry.detail)).collect()
}

fn read_kept() -> VecDeque<Entry> {
    let text = small_storage()
        .and_then(|storage| storage.get_item(LOG_KEY).ok().flatten())
        .unwrap_or_default();
    let mut log: VecDeque<Entry> = text
        .lines()
        .filter_map(|line| {
            let mut parts = line.splitn(3, '\t');
            Some(Entry {
                at: one_line(parts.next()?, 40),
                what: one_line(parts.next()?, 40),
                detail: one_line(parts.next()?, LONGEST_DETAIL),
            })
        })
        .collect();
    while log.len() > MOST_ENTRIES {
        log.pop_front();
    }
    log
}

/// At most `most` characters, with every control character as a space.
fn one_line(text: &str, most: usize) -> String {
    text.chars().take(most).map(|c| if c.is_control() { ' ' } else { c }).collect()
}

/// The name and message of whatever a browser threw.
#[must_use]
pub fn thrown_text(thrown: &JsValue) -> String {
    let part = |name: &str| {
        js_sys::Reflect::get(thrown, &JsValue::from_str(name)).ok().and_then(|v| v.as_string())
    };
    match (part("name"), part("message")) {
        (Some(name), Some(message)) => format!("{name}: {message}"),
        (Some(text), None) | (None, Some(text)) => text,
        (None, None) => thrown.as_string().unwrap_or_else(|| String::from("something was thrown")),
    }
}

/// The name of whatever a browser threw, such as `SecurityError`; empty if it has none.
#[must_use]
pub fn thrown_name(thrown: &JsValue) -> String {
    js_sys::Reflect::get(thrown, &JsValue::from_str("name"))
        .ok()
        .and_then(|name| name.as_string())
        .unwrap_or_default()
}

/// The event that tells the plain rescue script that this program is dead.
pub const PANIC_EVENT: &str = "fitting-room:panic";

/// Installs the last resort: after a panic the program is dead, so the hook only writes the log
/// and dispatches [`PANIC_EVENT`] on the window, with the message as its detail. A plain script
/// outside this program shows the panic page and can export the store.
pub fn install_panic_hook() {
    std::panic::set_hook(Box::new(|info| {
        let message = info.to_string();
        note(Trouble::Unexpected, &message);
        let init = web_sys::CustomEventInit::new();
        init.set_detail(&JsValue::from_str(&message));
        if let Ok(event) = web_sys::CustomEvent::new_with_event_init_dict(PANIC_EVENT, &init) {
            let _ = window().dispatch_event(&event);
        }
    }));
}
