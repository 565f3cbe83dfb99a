//! The one place that speaks to the browser's `WebHID` interface (WICG, *`WebHID`*).
//!
//! As with gamepads, every property is read by name, nothing is asked for its class, and whatever
//! is thrown on the way is caught. Nothing is ever written to a device: no output report, no
//! feature report.

use js_sys::{Array, DataView, Function, Object, Promise, Reflect, Uint8Array};
use leptos::prelude::window;
use wasm_bindgen::prelude::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::EventTarget;

/// The most devices of one answer that are looked at.
const MOST_DEVICES: u32 = 16;
/// The most bytes of a report that are copied: those of sticks have some 2 to 64.
const MOST_REPORT_BYTES: f64 = 16_384.0;
/// The most characters of a device's name that are taken over; the core caps further.
const LONGEST_NAME: usize = 1_000;
/// What is asked for by itself: joystick, game pad, multi-axis controller (HID Usage Tables, Generic
/// Desktop page).
const STICK_USAGES: [u32; 3] = [0x04, 0x05, 0x08];

/// A property; `undefined` where it cannot be had.
pub(super) fn get(of: &JsValue, name: &str) -> JsValue {
    Reflect::get(of, &JsValue::from_str(name)).unwrap_or(JsValue::UNDEFINED)
}

/// A property that is a number; NaN where it is none.
pub(super) fn number(of: &JsValue, name: &str) -> f64 {
    get(of, name).as_f64().unwrap_or(f64::NAN)
}

/// The length of a list, at most `most`; 0 for what has none.
pub(super) fn length(list: &JsValue, most: u32) -> u32 {
    let length = number(list, "length");
    if length > 0.0 { length.min(f64::from(most)) as u32 } else { 0 }
}

/// A device's own name, cut; and its USB numbers.
pub(super) fn name(device: &JsValue) -> (String, Option<(u16, u16)>) {
    let name = get(device, "productName").as_string().unwrap_or_default();
    let whole = |name: &str| {
        let number = number(device, name);
        (0.0..=65_535.0).contains(&number).then_some(number as u16)
    };
    let numbers = whole("vendorId").zip(whole("productId"));
    (name.chars().take(LONGEST_NAME).collect(), numbers)
}

/// The interface; `None` where this browser has none.
pub(super) fn interface() -> Option<JsValue> {
    let hid = get(&window().navigator(), "hid");
    (hid.is_object() && get(&hid, "requestDevice").is_function()).then_some(hid)
}

/// Calls a method that gives a promise.
fn call(of: &JsValue, name: &str, argument: Option<&JsValue>) -> Result<Promise, JsValue> {
    let function = Reflect::get(of, &JsValue::from_str(name))?;
    let function = function.dyn_ref::<Function>().ok_or(JsValue::UNDEFINED)?;
    let answer = match argument {
        Some(argument) => function.call1(of, argument)?,
        None => function.call0(of)?,
    };
    Ok(Promise::resolve(&answer))
}

/// Opens the browser's window in which a person chooses a device. Must be called while a press is
/// handled. Without `any`, only what says that it is a stick is offered.
pub(super) fn request(hid: &JsValue, any: bool) -> Result<Promise, JsValue> {
    let filters = Array::new();
    for usage in STICK_USAGES.into_iter().filter(|_| !any) {
        let filter = Object::new();
        Reflect::set(&filter, &"usagePage".into(), &1.into())?;
        Reflect::set(&filter, &"usage".into(), &usage.into())?;
        filters.push(&filter);
    }
    let options = Object::new();
    Reflect::set(&options, &"filters".into(), &filters)?;
    call(hid, "requestDevice", Some(&options))
}

/// The devices that were allowed before.
pub(super) async fn allowed(hid: &JsValue) -> Vec<JsValue> {
    match call(hid, "getDevices", None) {
        Ok(promise) => JsFuture::from(promise).await.map(|list| devices(&list)).unwrap_or_default(),
        Err(_) => Vec::new(),
    }
}

/// The devices of an answer.
pub(super) fn devices(list: &JsValue) -> Vec<JsValue> {
    (0..length(list, MOST_DEVICES))
        .filter_map(|place| Reflect::get_u32(list, place).ok())
        .filter(JsValue::is_object)
        .collect()
}

/// Opens a device, unless it is open.
pub(super) async fn open(device: &JsValue) -> Result<(), JsValue> {
    if get(device, "opened").as_bool() != Some(true) {
        JsFuture::from(call(device, "open", None)?).await?;
    }
    Ok(())
}

/// Closes it. What comes of it is nobody's business any more.
pub(super) fn close(device: &JsValue) {
    if let Ok(promise) = call(device, "close", None) {
        leptos::task::spawn_local(async move {
            let _ = JsFuture::from(promise).await;
        });
    }
}

/// An input report: its number, its bytes, and when the browser says that it came, milliseconds.
pub(super) fn report(event: &JsValue) -> Option<(u8, Vec<u8>, f64)> {
    let id = number(event, "reportId");
    let id = if (0.0..=255.0).contains(&id) { id as u8 } else { return None };
    let data = get(event, "data").dyn_into::<DataView>().ok()?;
    let (offset, length) = (number(&data, "byteOffset"), number(&data, "byteLength"));
    if !(offset >= 0.0 && length >= 0.0) {
        return None;
    }
    let length = length.min(MOST_REPORT_BYTES) as u32;
    let bytes =
        Uint8Array::new_with_byte_offset_and_length(&data.buffer(), offset as u32, length).to_vec();
    Some((id, bytes, number(event, "timeStamp")))
}

/// A listener that is taken away when it is dropped. It is no error where there is nothing to
/// listen to: then nothing is heard.
pub(super) struct Listener {
    target: EventTarget,
    kind: &'static str,
    closure: Closure<dyn Fn(JsValue)>,
}

impl Listener {
    pub(super) fn new(target: &JsValue, kind: &'static str, f: impl Fn(JsValue) + 'static) -> Self {
        let closure = Closure::<dyn Fn(JsValue)>::new(f);
        let target: EventTarget = target.clone().unchecked_into();
        let _ = target.add_event_listener_with_callback(kind, closure.as_ref().unchecked_ref());
        Self { target, kind, closure }
    }
}

impl Drop for Listener {
    fn drop(&mut self) {
        let function = self.closure.as_ref().unchecked_ref();
        let _ = self.target.remove_event_listener_with_callback(self.kind, function);
    }
}
