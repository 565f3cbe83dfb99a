//! A scripted gamepad interface: plain objects in the place of the browser's own.

use std::{
    cell::{Cell, RefCell},
    rc::Rc,
};

use js_sys::{Array, Function, Object, Promise, Reflect};
use leptos::prelude::{Owner, window};
use page::input::Input;
use wasm_bindgen::{JsCast, JsValue, prelude::Closure};
use wasm_bindgen_futures::JsFuture;

/// Puts a function in the place of `navigator.getGamepads`, until it is dropped.
pub struct Scripted {
    _look: Closure<dyn FnMut() -> Result<JsValue, JsValue>>,
}

impl Scripted {
    /// The interface answers with whatever `look` gives or throws.
    pub fn answer(look: impl FnMut() -> Result<JsValue, JsValue> + 'static) -> Self {
        let look = Closure::new(look);
        put(look.as_ref());
        Self { _look: look }
    }

    /// The interface shows these devices.
    pub fn devices(devices: &Devices) -> Self {
        let devices = devices.clone();
        Self::answer(move || Ok(devices.array.borrow().clone().into()))
    }
}

impl Drop for Scripted {
    fn drop(&mut self) {
        let navigator: Object = window().navigator().unchecked_into();
        let _ = Reflect::delete_property(&navigator, &"getGamepads".into());
    }
}

/// Puts any value in the place of `navigator.getGamepads`; undone by dropping a [`Scripted`].
pub fn put(value: &JsValue) {
    let descriptor = Object::new();
    set(&descriptor, "value", value);
    set(&descriptor, "configurable", &JsValue::TRUE);
    let navigator: Object = window().navigator().unchecked_into();
    Object::define_property(&navigator, &"getGamepads".into(), &descriptor);
}

/// A list of scripted devices that can be changed while it is shown.
#[derive(Clone, Default)]
pub struct Devices {
    array: Rc<RefCell<Array>>,
}

impl Devices {
    /// Shows these slots from now on.
    pub fn show(&self, slots: &[JsValue]) {
        *self.array.borrow_mut() = slots.iter().cloned().collect();
    }
}

/// A device as a plain object.
pub fn pad(index: u32, id: &str, timestamp: f64, axes: &[f64], buttons: &[f64]) -> JsValue {
    let pad = Object::new();
    set(&pad, "id", &JsValue::from_str(id));
    set(&pad, "index", &JsValue::from(index));
    set(&pad, "mapping", &JsValue::from_str(""));
    set(&pad, "connected", &JsValue::TRUE);
    set(&pad, "timestamp", &JsValue::from(timestamp));
    set(&pad, "axes", &axes.iter().map(|axis| JsValue::from(*axis)).collect::<Array>());
    let buttons: Array = buttons
        .iter()
        .map(|value| {
            let button = Object::new();
            set(&button, "value", &JsValue::from(*value));
            set(&button, "pressed", &JsValue::from(*value > 0.5));
            JsValue::from(button)
        })
        .collect();
    set(&pad, "buttons", &buttons);
    pad.into()
}

/// Sets a property of a plain object.
pub fn set(object: &JsValue, name: &str, value: &JsValue) {
    Reflect::set(object, &name.into(), value).unwrap();
}

/// The input under an owner of its own.
pub struct Bench {
    /// The input.
    pub input: Input,
    owner: Owner,
}

impl Bench {
    /// Starts an input.
    pub fn start() -> Self {
        let owner = Owner::new();
        let input = owner.with(Input::start);
        Self { input, owner }
    }
}

impl Drop for Bench {
    fn drop(&mut self) {
        self.owner.cleanup();
    }
}

/// Waits until the input has looked: it does so once a frame, before what is asked for after it.
pub async fn looked() {
    let asked = Promise::new(&mut |done, _| {
        window().request_animation_frame(&done).unwrap();
    });
    JsFuture::from(asked).await.unwrap();
}

/// Milliseconds on the page's clock.
pub fn now_ms() -> f64 {
    window().performance().unwrap().now()
}

/// Waits.
pub async fn wait_ms(milliseconds: u32) {
    gloo_timers::future::TimeoutFuture::new(milliseconds).await;
}

/// Calls a script's function, for what is easier written there.
pub fn script(parameters: &str, body: &str) -> Function {
    Function::new_with_args(parameters, body)
}

/// A counter shared with a closure.
pub fn counter() -> (Rc<Cell<u32>>, Rc<Cell<u32>>) {
    let counter = Rc::new(Cell::new(0));
    (counter.clone(), counter)
}
