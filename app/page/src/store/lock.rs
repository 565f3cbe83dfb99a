//! Which tasks run in a page that is open, told by the browser's locks (Web Locks): a lock is let go
//! by itself when its page goes, however it goes.

use js_sys::{Array, Function, Object, Promise, Reflect};
use leptos::prelude::window;
use wasm_bindgen::prelude::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;

/// A lock that is held as long as this lives. Where the browser has no locks it holds nothing.
#[derive(Debug)]
pub struct Lock {
    release: Function,
}

/// The name of the lock of a running task.
pub(super) fn name_of(task: &str) -> String {
    format!("stick-fitting-room task {task}")
}

impl Lock {
    /// Holds the lock of a running task.
    #[must_use]
    pub fn of_task(task: &str) -> Option<Self> {
        let locks = locks()?;
        let mut release = None;
        let held = Promise::new(&mut |resolve, _| release = Some(resolve));
        let hold = Closure::once_into_js(move |_: JsValue| held);
        let request: Function = Reflect::get(&locks, &"request".into()).ok()?.dyn_into().ok()?;
        // The answer comes when the lock is let go; nobody waits for it.
        let _ = request.call2(&locks, &JsValue::from_str(&name_of(task)), &hold).ok()?;
        release.map(|release| Self { release })
    }
}

impl Drop for Lock {
    fn drop(&mut self) {
        // A function of the browser's own that takes anything.
        let _ = self.release.call0(&JsValue::NULL);
    }
}

/// The names of all locks that are held now, by any page of this place; none where the browser has
/// no locks.
pub(super) async fn held() -> Vec<String> {
    match query().await {
        Some(snapshot) => {
            let held = Reflect::get(&snapshot, &"held".into()).unwrap_or_default();
            let name = |lock: JsValue| Reflect::get(&lock, &"name".into()).ok()?.as_string();
            Array::from(&held).iter().filter_map(name).collect()
        }
        None => Vec::new(),
    }
}

async fn query() -> Option<Object> {
    let locks = locks()?;
    let query: Function = Reflect::get(&locks, &"query".into()).ok()?.dyn_into().ok()?;
    let answer: Promise = query.call0(&locks).ok()?.dyn_into().ok()?;
    JsFuture::from(answer).await.ok()?.dyn_into().ok()
}

fn locks() -> Option<JsValue> {
    let navigator = window().navigator();
    let locks = Reflect::get(&navigator, &"locks".into()).ok()?;
    locks.is_object().then_some(locks)
}
