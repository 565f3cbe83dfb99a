//! Which tasks run, and which fittings are open, in a page that is open, told by the browser's locks
//! (Web Locks): a lock is let go by itself when its page goes, however it goes.

use js_sys::{Array, Function, Object, Promise, Reflect};
use leptos::prelude::window;
use wasm_bindgen::prelude::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;

/// A lock that is held as long as this lives. Where the browser has no locks it holds nothing: no function
/// stands in, as making one (`Function::default`) would evaluate a text, which the page's policy forbids.
#[derive(Debug)]
pub struct Lock {
    release: Option<Function>,
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
        release.map(|release| Self { release: Some(release) })
    }
}

/// How the lock of a fitting is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Asked {
    /// Only where no other window has it.
    IfFree,
    /// Wait for so many milliseconds, after the other window was asked to let it go.
    Wait(u32),
    /// Take it away: the other window does not answer.
    Take,
}

/// The name of the lock of an open fitting.
fn name_of_fitting(fitting: &str) -> String {
    format!("stick-fitting-room fitting {fitting}")
}

impl Lock {
    /// Holds the lock of an open fitting; nothing where another window has it. `lost` is called when
    /// it is taken away later. Where the browser has no locks everything goes on without.
    pub async fn of_fitting(
        fitting: &str,
        asked: Asked,
        lost: impl FnOnce() + 'static,
    ) -> Option<Self> {
        let Some(locks) = locks() else { return Some(Self { release: None }) };
        let mut release = None;
        let held = Promise::new(&mut |resolve, _| release = Some(resolve));
        let mut tell = None;
        let granted = Promise::new(&mut |resolve, _| tell = Some(resolve));
        let (release, tell) = (release?, tell?);
        let told = tell.clone();
        let hold = Closure::once_into_js(move |lock: JsValue| {
            let there = lock.is_object();
            // Functions of the browser's own that take anything.
            let _ = told.call1(&JsValue::NULL, &JsValue::from_bool(there));
            if there { JsValue::from(held) } else { JsValue::UNDEFINED }
        });
        let options = Object::new();
        let (option, value) = match asked {
            Asked::IfFree => ("ifAvailable", JsValue::TRUE),
            Asked::Take => ("steal", JsValue::TRUE),
            Asked::Wait(milliseconds) => ("signal", timeout(milliseconds)?),
        };
        // Refused for a sealed object only, which a fresh one is not.
        let _ = Reflect::set(&options, &option.into(), &value);
        let request: Function = Reflect::get(&locks, &"request".into()).ok()?.dyn_into().ok()?;
        let name = JsValue::from_str(&name_of_fitting(fitting));
        let ended: Promise = request.call3(&locks, &name, &options, &hold).ok()?.dyn_into().ok()?;
        wasm_bindgen_futures::spawn_local(async move {
            if JsFuture::from(ended).await.is_err() {
                let _ = tell.call1(&JsValue::NULL, &JsValue::FALSE);
                lost();
            }
        });
        let granted = JsFuture::from(granted).await.ok()?;
        granted.is_truthy().then_some(Self { release: Some(release) })
    }

    /// Whether a window has this fitting open, this one or another.
    pub async fn is_held(fitting: &str) -> bool {
        held().await.contains(&name_of_fitting(fitting))
    }
}

/// A signal that ends a wait after so long.
fn timeout(milliseconds: u32) -> Option<JsValue> {
    let signals = Reflect::get(&js_sys::global(), &"AbortSignal".into()).ok()?;
    let timeout: Function = Reflect::get(&signals, &"timeout".into()).ok()?.dyn_into().ok()?;
    timeout.call1(&signals, &JsValue::from(milliseconds)).ok()
}

impl Drop for Lock {
    fn drop(&mut self) {
        if let Some(release) = &self.release {
            // A function of the browser's own that takes anything.
            let _ = release.call0(&JsValue::NULL);
        }
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
