//! How safe what is kept is: whether the browser promises to keep it, how much room there is, and when
//! a copy was last saved as a file.

use super::backend::Tables;
use super::{Browser, Row, Store, StoreError, Table, now_epoch_ms};
use js_sys::Reflect;
use leptos::prelude::window;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;

/// Where the browser keeps when everything was last saved as a file.
const SAVED_AT: &str = "stick-fitting-room:saved-at";

/// How safe what is kept is.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Lasting {
    /// Whether the browser promises not to clear it by itself; nothing where it does not say.
    pub promised: Option<bool>,
    /// Bytes taken by this page.
    pub used_bytes: Option<f64>,
    /// Bytes it may still take.
    pub free_bytes: Option<f64>,
    /// Whole days since everything was last saved as a file; nothing where it never was.
    pub saved_days_ago: Option<u64>,
}

impl Store {
    /// How safe what is kept is.
    pub async fn lasting(&self) -> Lasting {
        let storage = window().navigator().storage();
        let mut lasting = Lasting { saved_days_ago: saved_days_ago(), ..Lasting::default() };
        // Off https there is no such thing.
        if JsValue::from(&storage).is_undefined() || !self.is_lasting() {
            return lasting;
        }
        if let Ok(promise) = storage.persisted() {
            lasting.promised = JsFuture::from(promise).await.ok().and_then(|is| is.as_bool());
        }
        if let Ok(promise) = storage.estimate()
            && let Ok(estimate) = JsFuture::from(promise).await
        {
            let number = |name: &str| Reflect::get(&estimate, &name.into()).ok()?.as_f64();
            lasting.used_bytes = number("usage");
            lasting.free_bytes = number("quota")
                .zip(lasting.used_bytes)
                .map(|(quota, used)| (quota - used).max(0.0));
        }
        lasting
    }
}

fn saved_days_ago() -> Option<u64> {
    let storage = window().local_storage().ok().flatten()?;
    let at: u64 = storage.get_item(SAVED_AT).ok().flatten()?.parse().ok()?;
    // A clock that was set back makes it today.
    Some(now_epoch_ms().saturating_sub(at) / 86_400_000)
}

/// Remembers that everything was saved as a file now.
pub fn note_saved_as_file() {
    if let Some(storage) = window().local_storage().ok().flatten() {
        // Where it cannot be written, the reminder comes sooner than it had to.
        let _ = storage.set_item(SAVED_AT, &now_epoch_ms().to_string());
    }
}

/// Everything in a database that a newer version of the page laid out, as it stands: to be looked at
/// and saved as a file. The database itself is not touched.
pub(super) async fn copy_of_newer(name: &str) -> Result<Tables, StoreError> {
    let browser = Browser::open_as_it_is(name).await?;
    let mut tables = Tables::new();
    for table in Table::ALL {
        // A newer layout may have no such table.
        let rows: Vec<Row> = browser.all(table).await.unwrap_or_default();
        tables.extend(rows.into_iter().map(|row| ((table, row.id.clone()), row)));
    }
    Ok(tables)
}
