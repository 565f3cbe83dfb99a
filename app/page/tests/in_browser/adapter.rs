//! The adapter on scripted plain objects: holes, numbers that are none, devices that come and go.

use std::{cell::RefCell, rc::Rc};

use fitting::Sample;
use page::input::{Interface, Source};
use wasm_bindgen::JsValue;
use wasm_bindgen_test::wasm_bindgen_test;

use super::script::{Bench, Devices, Scripted, looked, now_ms, pad, put, script, set};

const NAME: &str = "Bench stick (Vendor: 1209 Product: 0001)";

type Heard = Rc<RefCell<Vec<(f64, Option<Sample>)>>>;

fn listen(bench: &Bench) -> Heard {
    let heard = Heard::default();
    let into = heard.clone();
    bench.input.set_listener(Some(Box::new(move |now, change| {
        into.borrow_mut().push((now, change.cloned()));
    })));
    heard
}

/// Chooses the only device that is there.
fn choose_only(bench: &Bench) -> page::input::DeviceKey {
    let devices = bench.input.status_now().devices;
    assert_eq!(devices.len(), 1, "{devices:?}");
    assert!(bench.input.choose(Source::Pad(devices[0].key)));
    devices[0].key
}

#[wasm_bindgen_test]
fn an_array_with_holes_of_any_length() {
    let devices = Devices::default();
    let mut slots = vec![JsValue::NULL; 40];
    slots[2] = JsValue::UNDEFINED;
    slots[37] = pad(37, NAME, now_ms(), &[0.25, -0.5], &[0.0, 0.37]);
    devices.show(&slots);
    let _scripted = Scripted::devices(&devices);
    let bench = Bench::start();
    let status = bench.input.status_now();
    assert_eq!(status.interface, Interface::Showing);
    assert_eq!(status.devices.len(), 1);
    assert_eq!(status.devices[0].name, "Bench stick");
    assert_eq!(status.devices[0].numbers, Some((0x1209, 1)));
    assert_eq!((status.devices[0].axes, status.devices[0].buttons), (2, 2));
    choose_only(&bench);
    let sample = bench.input.latest().unwrap();
    assert_eq!(sample.axes, [0.25, -0.5]);
    assert_eq!(sample.buttons, [0.0, 0.37]);
}

#[wasm_bindgen_test]
async fn an_empty_list_waits_and_a_device_then_shows() {
    let devices = Devices::default();
    let _scripted = Scripted::devices(&devices);
    let bench = Bench::start();
    assert_eq!(bench.input.status_now().interface, Interface::Waiting);
    devices.show(&[JsValue::NULL, pad(1, NAME, now_ms(), &[], &[0.0])]);
    looked().await;
    let status = bench.input.status_now();
    assert_eq!(status.interface, Interface::Showing);
    assert_eq!(status.devices[0].axes, 0, "a device without axes is a device");
}

#[wasm_bindgen_test]
async fn numbers_that_are_none_and_numbers_out_of_range() {
    let devices = Devices::default();
    let odd = pad(0, NAME, now_ms(), &[f64::NAN, 9.0 / 7.0, f64::NEG_INFINITY], &[1.5, f64::NAN]);
    devices.show(std::slice::from_ref(&odd));
    let _scripted = Scripted::devices(&devices);
    let bench = Bench::start();
    choose_only(&bench);
    let sample = bench.input.latest().unwrap();
    assert_eq!(sample.axes, [0.0, 9.0 / 7.0, 0.0], "a hat at rest lies outside and is kept");
    assert_eq!(sample.buttons, [1.0, 0.0]);
    // Lists that are none, entries that are no numbers.
    set(&odd, "axes", &js_sys::Array::of2(&"left".into(), &JsValue::from(0.5)));
    set(&odd, "buttons", &JsValue::from_str("none"));
    set(&odd, "id", &JsValue::from(7));
    looked().await;
    let status = bench.input.status_now();
    assert_eq!(status.devices.len(), 1);
    assert_eq!(status.devices[0].name, "");
    assert_eq!(bench.input.latest_of(status.devices[0].key).unwrap().axes, [0.0, 0.5]);
}

#[wasm_bindgen_test]
fn a_pad_whose_properties_throw_is_held_out_and_others_are_not() {
    let devices = Devices::default();
    let throwing = script(
        "",
        "return new Proxy({}, { get() { throw new Error('mine'); }, \
                                has() { throw new Error('mine'); } })",
    )
    .call0(&JsValue::NULL)
    .unwrap();
    devices.show(&[throwing, pad(1, NAME, now_ms(), &[0.5], &[])]);
    let _scripted = Scripted::devices(&devices);
    let bench = Bench::start();
    let status = bench.input.status_now();
    let named: Vec<_> = status.devices.iter().filter(|seen| seen.name == "Bench stick").collect();
    assert_eq!(named.len(), 1);
    assert!(bench.input.choose(Source::Pad(named[0].key)));
    assert_eq!(bench.input.latest().unwrap().axes, [0.5]);
}

#[wasm_bindgen_test]
async fn refused_by_policy_and_missing_are_told_apart() {
    let refuse = script("", "throw new DOMException('not allowed', 'SecurityError')");
    let scripted = Scripted::answer(move || refuse.call0(&JsValue::NULL));
    let bench = Bench::start();
    assert_eq!(bench.input.status_now().interface, Interface::Refused);
    put(&JsValue::UNDEFINED);
    looked().await;
    assert!(matches!(bench.input.status_now().interface, Interface::Missing(_)));
    let fail = script("", "throw new TypeError('broken')");
    put(&fail);
    looked().await;
    let Interface::Missing(text) = bench.input.status_now().interface else {
        panic!("a broken interface counts as missing");
    };
    assert!(text.contains("broken"), "{text}");
    // It may come back, and be of no use: null in the place of a list.
    put(&script("", "return null"));
    looked().await;
    assert_eq!(bench.input.status_now().interface, Interface::Waiting);
    drop(scripted);
}

#[wasm_bindgen_test]
async fn two_devices_are_kept_apart() {
    let devices = Devices::default();
    devices.show(&[
        pad(0, NAME, now_ms(), &[0.1, 0.1], &[]),
        pad(1, NAME, now_ms(), &[0.2, 0.2], &[]),
    ]);
    let _scripted = Scripted::devices(&devices);
    let bench = Bench::start();
    let seen = bench.input.status_now().devices;
    assert_eq!(seen.len(), 2);
    assert!(bench.input.choose(Source::Pad(seen[1].key)));
    let heard = listen(&bench);
    looked().await;
    // Only the other one moves.
    devices.show(&[
        pad(0, NAME, now_ms(), &[0.9, 0.9], &[]),
        pad(1, NAME, now_ms(), &[0.2, 0.2], &[]),
    ]);
    looked().await;
    let changes: Vec<_> = heard.borrow().iter().filter_map(|(_, change)| change.clone()).collect();
    assert_eq!(changes.len(), 1, "the present state, once");
    assert_eq!(changes[0].axes, [0.2, 0.2]);
    assert_eq!(bench.input.latest_of(seen[0].key).unwrap().axes, [0.9, 0.9]);
}

/// As a browser does it that tells of devices from within the look (observed, Chromium 156 on Linux).
#[wasm_bindgen_test]
async fn what_is_told_from_within_a_look_is_taken_up_by_the_next() {
    let tell = script("name", "window.dispatchEvent(new Event(name))");
    let list = Rc::new(RefCell::new(vec![JsValue::NULL]));
    let (shown, told) = (list.clone(), Rc::new(RefCell::new(list.borrow().clone())));
    let _scripted = Scripted::answer(move || {
        let slots = shown.borrow().clone();
        if *told.borrow() != slots {
            told.replace(slots.clone());
            tell.call1(&JsValue::NULL, &"gamepaddisconnected".into())?;
            tell.call1(&JsValue::NULL, &"gamepadconnected".into())?;
        }
        Ok(slots.into_iter().collect::<js_sys::Array>().into())
    });
    let bench = Bench::start();
    bench.input.measuring(true);
    for place in 0..3 {
        list.replace(vec![JsValue::NULL; 3]);
        looked().await;
        assert_eq!(bench.input.status_now().interface, Interface::Waiting);
        list.borrow_mut()[place] = pad(place as u32, NAME, now_ms(), &[0.5, 0.0], &[]);
        looked().await;
        assert_eq!(bench.input.status_now().devices.len(), 1);
        choose_only(&bench);
        assert_eq!(bench.input.latest().unwrap().axes, [0.5, 0.0]);
    }
}

#[wasm_bindgen_test]
async fn a_place_used_again_by_another_device_is_not_taken_for_the_chosen_one() {
    let devices = Devices::default();
    devices.show(&[pad(0, NAME, now_ms(), &[0.1, 0.1], &[])]);
    let _scripted = Scripted::devices(&devices);
    let bench = Bench::start();
    let key = choose_only(&bench);
    devices.show(&[pad(0, "Another stick", now_ms(), &[0.7, 0.7], &[])]);
    looked().await;
    let status = bench.input.status_now();
    assert!(status.device_gone);
    assert_eq!(status.chosen, Some(Source::Pad(key)));
    assert_eq!(status.chosen_name.as_deref(), Some("Bench stick"));
    assert_eq!(status.devices[0].name, "Another stick");
    assert!(!bench.input.choose(Source::Pad(key)), "what is gone cannot be chosen");
}

#[wasm_bindgen_test]
async fn unplugged_in_the_middle_and_taken_up_again_in_another_place() {
    let devices = Devices::default();
    let twin = || pad(0, NAME, now_ms(), &[0.0, 0.0], &[]);
    devices.show(&[twin(), pad(1, NAME, now_ms(), &[0.1, 0.1], &[])]);
    let _scripted = Scripted::devices(&devices);
    let bench = Bench::start();
    let seen = bench.input.status_now().devices;
    assert!(bench.input.choose(Source::Pad(seen[1].key)));
    let heard = listen(&bench);
    looked().await;
    devices.show(&[twin(), JsValue::NULL]);
    looked().await;
    assert!(bench.input.status_now().device_gone);
    let before = heard.borrow().len();
    looked().await;
    assert_eq!(heard.borrow().len(), before, "nobody looks at a device that is gone");
    assert_eq!(
        bench.input.chosen(),
        Some(Source::Pad(seen[1].key)),
        "its twin, there all along, is somebody else's"
    );
    let mut back = vec![twin()];
    back.resize(5, JsValue::NULL);
    back.push(pad(5, NAME, now_ms(), &[0.3, 0.3], &[]));
    devices.show(&back);
    looked().await;
    let status = bench.input.status_now();
    assert!(!status.device_gone);
    assert_ne!(status.chosen, Some(Source::Pad(seen[1].key)));
    let (_, change) = heard.borrow().last().cloned().unwrap();
    assert_eq!(change.unwrap().axes, [0.3, 0.3], "it begins with the state it has");
}

#[wasm_bindgen_test]
async fn stamps_are_the_arrival_where_they_can_be_true() {
    let devices = Devices::default();
    devices.show(&[pad(0, NAME, now_ms(), &[0.0, 0.0], &[])]);
    let _scripted = Scripted::devices(&devices);
    let bench = Bench::start();
    choose_only(&bench);
    let stamp = now_ms();
    devices.show(&[pad(0, NAME, stamp, &[0.5, 0.0], &[])]);
    looked().await;
    assert_eq!(bench.input.latest().unwrap().arrival_seconds, stamp / 1000.0);
    // No stamp at all: the moment of the look.
    let bare = pad(0, NAME, f64::NAN, &[0.6, 0.0], &[]);
    set(&bare, "timestamp", &JsValue::UNDEFINED);
    devices.show(&[bare]);
    let before = now_ms();
    looked().await;
    let arrival_ms = bench.input.latest().unwrap().arrival_seconds * 1000.0;
    assert!((before..=now_ms()).contains(&arrival_ms));
}

#[wasm_bindgen_test]
async fn a_listener_may_replace_and_remove_itself() {
    let devices = Devices::default();
    devices.show(&[pad(0, NAME, now_ms(), &[0.0, 0.0], &[])]);
    let _scripted = Scripted::devices(&devices);
    let bench = Bench::start();
    choose_only(&bench);
    let calls = Rc::new(RefCell::new(Vec::new()));
    let (first, second) = (calls.clone(), calls.clone());
    let input = bench.input;
    input.set_listener(Some(Box::new(move |_, _| {
        first.borrow_mut().push("first");
        let second = second.clone();
        input.set_listener(Some(Box::new(move |_, _| {
            second.borrow_mut().push("second");
            input.set_listener(None);
        })));
    })));
    for _ in 0..3 {
        looked().await;
    }
    assert_eq!(*calls.borrow(), ["first", "second"]);
}
