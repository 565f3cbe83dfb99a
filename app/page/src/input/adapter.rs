//! The one place that reads the browser's gamepad interface (W3C Gamepad).
//!
//! Every property is read by name, and nothing is asked for its class: plain objects that a test
//! or another program puts in the interface's place work the same. Whatever is thrown on the way
//! is caught: `SecurityError` means that the page's policy forbids the interface.
//!
//! A browser may dispatch `gamepadconnected` and `gamepaddisconnected` from within `getGamepads()`
//! (observed, Chromium 156 on Linux). So nothing is borrowed while the browser is called.

use std::cell::RefCell;

use device::gamepad::PadState;
use js_sys::{Function, Reflect};
use leptos::prelude::window;
use wasm_bindgen::{JsCast, JsValue};

use crate::errors::{thrown_name, thrown_text};

/// The most slots of the interface's array that are looked at.
const MOST_SLOTS: u32 = 64;

/// The most axes or buttons that are read; the core keeps fewer and says how many it dropped.
const MOST_READ: u32 = 128;

/// The most characters taken over of a device's name; the core caps further.
const LONGEST_ID: usize = 1_000;

/// What one look at the interface gave.
#[derive(Debug)]
pub(super) enum Reading {
    /// Every slot, with its device's state if there is one.
    Pads(Vec<Option<PadState>>),
    /// No time stamp has changed since the look before. Only for [`Look::IfStamped`].
    Unstamped,
    /// There is no such interface, or it did not behave like one.
    Missing(String),
    /// The page's policy forbids it.
    Refused,
}

/// How closely to look.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Look {
    /// Copy everything.
    Closely,
    /// Compare the time stamps first and copy only when one has changed. A browser that changes
    /// values under an old stamp is caught by the next close look.
    IfStamped,
}

/// The names of the properties, made once: a look has to be cheap.
#[derive(Debug)]
pub(super) struct Adapter {
    get_gamepads: JsValue,
    length: JsValue,
    timestamp: JsValue,
    connected: JsValue,
    id: JsValue,
    mapping: JsValue,
    axes: JsValue,
    buttons: JsValue,
    value: JsValue,
    pressed: JsValue,
    index: JsValue,
    /// The slots' stamps at the last look; NaN for a slot without a device.
    stamps: RefCell<Vec<f64>>,
}

impl Default for Adapter {
    fn default() -> Self {
        Self {
            get_gamepads: "getGamepads".into(),
            length: "length".into(),
            timestamp: "timestamp".into(),
            connected: "connected".into(),
            id: "id".into(),
            mapping: "mapping".into(),
            axes: "axes".into(),
            buttons: "buttons".into(),
            value: "value".into(),
            pressed: "pressed".into(),
            index: "index".into(),
            stamps: RefCell::default(),
        }
    }
}

impl Adapter {
    /// Looks at the interface once.
    pub(super) fn look(&self, look: Look) -> Reading {
        let slots = match self.slots() {
            Ok(slots) => slots,
            Err(thrown) if thrown_name(&thrown) == "SecurityError" => return Reading::Refused,
            Err(thrown) => return Reading::Missing(thrown_text(&thrown)),
        };
        let stamps: Vec<f64> = slots
            .iter()
            .map(|slot| slot.as_ref().map_or(f64::NAN, |pad| self.number(pad, &self.timestamp)))
            .collect();
        let before = self.stamps.replace(stamps.clone());
        let same = stamps.len() == before.len()
            && stamps.iter().zip(&before).all(|(a, b)| a.to_bits() == b.to_bits());
        if same && look == Look::IfStamped {
            return Reading::Unstamped;
        }
        let pads = slots
            .iter()
            .zip(&stamps)
            .enumerate()
            .map(|(slot, (pad, stamp))| pad.as_ref().map(|pad| self.state(pad, slot, *stamp)))
            .collect();
        Reading::Pads(pads)
    }

    /// The devices by slot, holes kept.
    fn slots(&self) -> Result<Vec<Option<JsValue>>, JsValue> {
        let navigator = window().navigator();
        let function = Reflect::get(&navigator, &self.get_gamepads)?;
        if !function.is_function() {
            return Err(JsValue::from_str("no getGamepads"));
        }
        let array = function.unchecked_ref::<Function>().call0(&navigator)?;
        if array.is_null() || array.is_undefined() {
            return Ok(Vec::new());
        }
        let length = self.count(&array, MOST_SLOTS);
        Ok((0..length)
            .map(|index| {
                let pad = Reflect::get_u32(&array, index).ok()?;
                pad.is_object().then_some(pad)
            })
            .collect())
    }

    fn state(&self, pad: &JsValue, slot: usize, stamp: f64) -> PadState {
        let connected = Reflect::get(pad, &self.connected).ok().and_then(|value| value.as_bool());
        let index = self.number(pad, &self.index);
        let mut pressed = Vec::new();
        let buttons = self.list(pad, &self.buttons, |button| {
            // An old form of the interface gave plain numbers.
            let value = button.as_f64().unwrap_or_else(|| self.number(&button, &self.value));
            let down = Reflect::get(&button, &self.pressed).ok().and_then(|down| down.as_bool());
            pressed.push(down.unwrap_or(value > 0.5));
            value
        });
        PadState {
            id: self.text(pad, &self.id),
            // The place the device itself names; where it names none, the one it stands in.
            index: if index >= 0.0 { index as usize } else { slot },
            mapping: self.text(pad, &self.mapping),
            connected: connected.unwrap_or(true),
            timestamp_ms: stamp,
            axes: self.list(pad, &self.axes, |axis| axis.as_f64().unwrap_or(f64::NAN)),
            buttons,
            pressed,
        }
    }

    fn list(
        &self,
        pad: &JsValue,
        name: &JsValue,
        mut read: impl FnMut(JsValue) -> f64,
    ) -> Vec<f64> {
        let Ok(list) = Reflect::get(pad, name) else { return Vec::new() };
        (0..self.count(&list, MOST_READ))
            .map(|index| Reflect::get_u32(&list, index).map_or(f64::NAN, &mut read))
            .collect()
    }

    /// The length of a list, at most `most`; 0 for what has none.
    fn count(&self, list: &JsValue, most: u32) -> u32 {
        let length = self.number(list, &self.length);
        if length > 0.0 { length.min(f64::from(most)) as u32 } else { 0 }
    }

    fn number(&self, of: &JsValue, name: &JsValue) -> f64 {
        Reflect::get(of, name).ok().and_then(|value| value.as_f64()).unwrap_or(f64::NAN)
    }

    fn text(&self, of: &JsValue, name: &JsValue) -> String {
        let text = Reflect::get(of, name).ok().and_then(|v| v.as_string()).unwrap_or_default();
        text.chars().take(LONGEST_ID).collect()
    }
}
