//! The browser's database (`IndexedDB`) behind [`super::backend::Backend`].
//!
//! A thin layer of our own over web-sys, because two things matter here that general wrappers
//! leave out: a transaction asks for strict durability and counts as done only when the browser
//! says `complete`; and when it is aborted, the reason is asked for, so that a full disk is told
//! apart from everything else.

use std::{cell::RefCell, rc::Rc};

use gloo_events::EventListener;
use js_sys::{Array, Function, Object, Promise, Reflect};
use leptos::prelude::window;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    EventTarget, IdbDatabase, IdbIndexParameters, IdbKeyRange, IdbObjectStore,
    IdbObjectStoreParameters, IdbOpenDbRequest, IdbRequest, IdbTransaction, IdbTransactionMode,
};

use super::{
    StoreError,
    backend::{Row, Table, Write},
};
use crate::errors::thrown_name;

/// The index of every table over the fitting its rows belong to.
const BY_FITTING: &str = "fitting";

/// The version of the database's layout (not of what is in the rows).
const LAYOUT: u32 = 2;

/// An open database, reopened by itself when the browser or another tab closed it.
#[derive(Debug)]
pub(super) struct Browser {
    name: String,
    open: Rc<RefCell<Option<Open>>>,
}

/// The connection with the listeners that see it closed.
#[derive(Debug)]
struct Open {
    database: IdbDatabase,
    _listeners: [EventListener; 2],
}

impl Browser {
    /// Opens the database of this name, and makes it if it is not there.
    pub(super) async fn open(name: &str) -> Result<Self, StoreError> {
        let browser = Self { name: name.to_owned(), open: Rc::default() };
        browser.connected().await?;
        Ok(browser)
    }

    /// Opens the database of this name in whichever layout it has, only to read it.
    pub(super) async fn open_as_it_is(name: &str) -> Result<Self, StoreError> {
        let factory = window().indexed_db().ok().flatten().ok_or(StoreError::Unavailable)?;
        let request = factory.open(name).map_err(|_| StoreError::Unavailable)?;
        let _ = finished(Ok(request.clone().unchecked_into())).await?;
        let database = request.result().map_err(|thrown| failed(&thrown))?.unchecked_into();
        let browser = Self { name: name.to_owned(), open: Rc::default() };
        browser.hold(database);
        Ok(browser)
    }

    /// All rows of a table.
    pub(super) async fn all(&self, table: Table) -> Result<Vec<Row>, StoreError> {
        let transaction = self.transaction(IdbTransactionMode::Readonly).await?;
        let request = transaction.object_store(table.name()).and_then(|store| store.get_all());
        Ok(rows(&finished(request).await?))
    }

    /// One row.
    pub(super) async fn one(&self, table: Table, id: &str) -> Result<Option<Row>, StoreError> {
        let transaction = self.transaction(IdbTransactionMode::Readonly).await?;
        let request = transaction
            .object_store(table.name())
            .and_then(|store| store.get(&JsValue::from_str(id)));
        let found = finished(request).await?;
        Ok((!found.is_undefined()).then(|| row(&found)))
    }

    /// The rows that belong to a fitting.
    pub(super) async fn of_fitting(
        &self,
        table: Table,
        fitting: &str,
    ) -> Result<Vec<Row>, StoreError> {
        let transaction = self.transaction(IdbTransactionMode::Readonly).await?;
        let request = transaction
            .object_store(table.name())
            .and_then(|store| store.index(BY_FITTING))
            .and_then(|index| index.get_all_with_key(&JsValue::from_str(fitting)));
        Ok(rows(&finished(request).await?))
    }

    /// Makes all the changes in one transaction; done when it is complete.
    pub(super) async fn write(
        &self,
        writes: Vec<Write>,
        may: impl FnOnce(&[Write]) -> bool,
    ) -> Result<(), StoreError> {
        let transaction = self.transaction(IdbTransactionMode::Readwrite).await?;
        // Transactions come in the order in which they were begun.
        if !may(&writes) {
            return Err(StoreError::Deleted);
        }
        let end = first_event(&transaction, &["complete", "abort"]);
        let made = request_all(&transaction, writes).await;
        if let Err(error) = made {
            // A change that could not even be asked for takes the others back. If one of them
            // has failed already, the transaction is gone and its own reason is the better one.
            let _ = transaction.abort();
            end.await?;
            return Err(transaction.error().map_or(error, |reason| failed(&reason)));
        }
        if end.await? == "complete" {
            Ok(())
        } else {
            Err(transaction
                .error()
                .map_or_else(|| StoreError::Failed(String::from("abort")), |e| failed(&e)))
        }
    }

    async fn transaction(&self, mode: IdbTransactionMode) -> Result<IdbTransaction, StoreError> {
        let database = self.connected().await?;
        if let Ok(transaction) = begin(&database, mode) {
            return Ok(transaction);
        }
        // Closed behind our back without an event: open again, once.
        self.open.replace(None);
        begin(&self.connected().await?, mode)
    }

    async fn connected(&self) -> Result<IdbDatabase, StoreError> {
        if let Some(open) = self.open.borrow().as_ref() {
            return Ok(open.database.clone());
        }
        let database = open_database(&self.name).await?;
        self.hold(database.clone());
        Ok(database)
    }

    fn hold(&self, database: IdbDatabase) {
        // Another tab with a newer layout, or "delete site data": let go, so as not to block it.
        let listener = |event: &'static str| {
            let open = Rc::downgrade(&self.open);
            let closing = database.clone();
            EventListener::new(&database, event, move |_| {
                closing.close();
                if let Some(open) = open.upgrade() {
                    // The listener that runs now is in there: drop it after it has run.
                    wasm_bindgen_futures::spawn_local(async move {
                        open.replace(None);
                    });
                }
            })
        };
        let listeners = [listener("versionchange"), listener("close")];
        self.open.replace(Some(Open { database, _listeners: listeners }));
    }
}

/// Begins a transaction over all tables. web-sys has the durability option only behind an
/// unstable flag, so it is called by name.
fn begin(database: &IdbDatabase, mode: IdbTransactionMode) -> Result<IdbTransaction, StoreError> {
    let there = database.object_store_names();
    let names: Array = Table::ALL
        .iter()
        .filter(|table| there.contains(table.name()))
        .map(|table| JsValue::from_str(table.name()))
        .collect();
    let options = Object::new();
    let mode = JsValue::from(mode);
    Reflect::set(&options, &"durability".into(), &"strict".into())
        .and_then(|_| Reflect::get(database, &"transaction".into()))
        .and_then(|call| call.unchecked_ref::<Function>().call3(database, &names, &mode, &options))
        .map(JsCast::unchecked_into)
        .map_err(|thrown| failed(&thrown))
}

async fn open_database(name: &str) -> Result<IdbDatabase, StoreError> {
    let factory = window().indexed_db().ok().flatten().ok_or(StoreError::Unavailable)?;
    let request = factory.open_with_u32(name, LAYOUT).map_err(|_| StoreError::Unavailable)?;
    let laying_out = request.clone();
    let _layout = EventListener::once(&request, "upgradeneeded", move |_| {
        // A table that cannot be made aborts the request, which is reported below.
        if lay_out(&laying_out).is_err()
            && let Some(transaction) = laying_out.transaction()
        {
            let _ = transaction.abort();
        }
    });
    match first_event(&request, &["success", "error", "blocked"]).await? {
        "success" => request.result().map(JsCast::unchecked_into).map_err(|thrown| failed(&thrown)),
        "blocked" => Err(StoreError::Blocked),
        _ => Err(match request.error() {
            // A newer version of the page has been here: its rows must not be touched.
            Ok(Some(error)) if error.name() == "VersionError" => StoreError::Newer,
            Ok(Some(error)) if error.name() == "QuotaExceededError" => StoreError::Full,
            _ => StoreError::Unavailable,
        }),
    }
}

/// Makes the tables that are not there yet: layout 1 had none of running tasks.
fn lay_out(request: &IdbOpenDbRequest) -> Result<(), JsValue> {
    let database: IdbDatabase = request.result()?.unchecked_into();
    for table in Table::ALL {
        if database.object_store_names().contains(table.name()) {
            continue;
        }
        let by_id = IdbObjectStoreParameters::new();
        by_id.set_key_path(&"id".into());
        let store = database.create_object_store_with_optional_parameters(table.name(), &by_id)?;
        store.create_index_with_str_and_optional_parameters(
            BY_FITTING,
            "fitting",
            &IdbIndexParameters::new(),
        )?;
    }
    Ok(())
}

/// Asks for every change; the transaction's own end tells whether they were made.
async fn request_all(transaction: &IdbTransaction, writes: Vec<Write>) -> Result<(), StoreError> {
    let store = |table: Table| -> Result<IdbObjectStore, StoreError> {
        transaction.object_store(table.name()).map_err(|thrown| failed(&thrown))
    };
    for write in writes {
        let asked = match write {
            Write::Put(table, row) => store(table)?.put(&value(&row)).map(drop),
            Write::Add(table, row) => store(table)?.add(&value(&row)).map(drop),
            Write::Delete(table, id) => store(table)?.delete(&JsValue::from_str(&id)).map(drop),
            Write::Clear(table) => store(table)?.clear().map(drop),
            Write::DeleteRunning(task) => {
                // The head and whatever begins with its id and a slash: a slash is followed by 0.
                let range = IdbKeyRange::bound_with_lower_open_and_upper_open(
                    &JsValue::from_str(&task),
                    &JsValue::from_str(&format!("{task}0")),
                    false,
                    true,
                );
                let range = range.map_err(|thrown| failed(&thrown))?;
                store(Table::Running)?.delete(&range).map(drop)
            }
            Write::DeleteOfFitting(table, fitting) => {
                let store = store(table)?;
                let keys = store
                    .index(BY_FITTING)
                    .and_then(|index| index.get_all_keys_with_key(&JsValue::from_str(&fitting)));
                let keys: Array = finished(keys).await?.unchecked_into();
                keys.iter().try_for_each(|key| store.delete(&key).map(drop))
            }
        };
        asked.map_err(|thrown| failed(&thrown))?;
    }
    Ok(())
}

/// The result of a request, once it is there.
async fn finished(request: Result<IdbRequest, JsValue>) -> Result<JsValue, StoreError> {
    let request = request.map_err(|thrown| failed(&thrown))?;
    if first_event(&request, &["success", "error"]).await? == "success" {
        request.result().map_err(|thrown| failed(&thrown))
    } else {
        Err(match request.error() {
            Ok(Some(error)) => failed(&error),
            _ => StoreError::Failed(String::from("request")),
        })
    }
}

/// The first of these events at the target. Listens from the call on, not from the first poll.
fn first_event(
    target: &EventTarget,
    names: &[&'static str],
) -> impl Future<Output = Result<&'static str, StoreError>> + use<> {
    let names = names.to_vec();
    let mut listeners = Vec::new();
    let promise = Promise::new(&mut |resolve, _| {
        for (index, name) in (0_u32..).zip(&names) {
            let resolve = resolve.clone();
            listeners.push(EventListener::once(target, *name, move |_| {
                let _ = resolve.call1(&JsValue::NULL, &JsValue::from(index));
            }));
        }
    });
    async move {
        let index = JsFuture::from(promise).await.map_err(|thrown| failed(&thrown))?;
        drop(listeners);
        names
            .iter()
            .zip(0_u32..)
            .find(|(_, number)| index.as_f64() == Some(f64::from(*number)))
            .map(|(name, _)| *name)
            .ok_or_else(|| StoreError::Failed(String::from("event")))
    }
}

fn failed(thrown: &JsValue) -> StoreError {
    match thrown_name(thrown).as_str() {
        "QuotaExceededError" => StoreError::Full,
        "" => StoreError::Failed(String::from("unknown")),
        name => StoreError::Failed(name.chars().take(60).collect()),
    }
}

fn value(row: &Row) -> JsValue {
    let object = Object::new();
    for (name, text) in [("id", &row.id), ("fitting", &row.fitting), ("json", &row.json)] {
        // Setting a property of a fresh plain object cannot fail.
        let _ = Reflect::set(&object, &name.into(), &JsValue::from_str(text));
    }
    object.into()
}

/// A row as it stands there. Where the text is missing, the whole value takes its place: it
/// cannot be read, but it is not lost either when it is set aside.
fn row(value: &JsValue) -> Row {
    let text = |name: &str| Reflect::get(value, &name.into()).ok().and_then(|v| v.as_string());
    let whole = || js_sys::JSON::stringify(value).map(String::from).unwrap_or_default();
    Row {
        id: text("id").unwrap_or_default(),
        fitting: text("fitting").unwrap_or_default(),
        json: text("json").unwrap_or_else(whole),
    }
}

fn rows(values: &JsValue) -> Vec<Row> {
    Array::from(values).iter().map(|value| row(&value)).collect()
}
