//! How much of a scripted 4 ms stream is caught, and how polls, frames and timers behave.
//!
//! A browser refreshes devices at most every 4.1 ms (observed, Chromium 156 on Linux). The
//! scripted device has a new state every 4 ms, by the page's clock, whether or not anybody looks;
//! a state nobody looked at is lost.

use std::{cell::RefCell, rc::Rc};

use js_sys::Array;
use page::input::Source;
use wasm_bindgen::JsValue;
use wasm_bindgen_test::{console_log, wasm_bindgen_test};

use super::script::{Bench, Devices, Scripted, counter, looked, now_ms, pad, wait_ms};

const PERIOD_MS: f64 = 4.0;

/// A device whose first axis numbers its states, 1000 to a whole.
fn stream(phase_ms: f64) -> Scripted {
    Scripted::answer(move || {
        let number = ((now_ms() - phase_ms) / PERIOD_MS).floor();
        let value = (number.rem_euclid(1000.0)) / 1000.0;
        let stamp = number * PERIOD_MS + phase_ms;
        Ok(Array::of1(&pad(0, "Stream", stamp, &[value, 0.0], &[])).into())
    })
}

/// Of the states in `seconds`, the share that was caught, while measuring or not.
async fn caught(seconds: f64, phase_ms: f64, measuring: bool) -> f64 {
    let _scripted = stream(phase_ms);
    let bench = Bench::start();
    let input = bench.input;
    let key = input.status_now().devices[0].key;
    assert!(input.choose(Source::Pad(key)));
    input.measuring(measuring);
    wait_ms(300).await;
    let stamps = Rc::new(RefCell::new(Vec::new()));
    let into = stamps.clone();
    input.set_listener(Some(Box::new(move |_, change| {
        if let Some(change) = change {
            into.borrow_mut().push(change.arrival_seconds);
        }
    })));
    wait_ms((seconds * 1000.0) as u32).await;
    input.set_listener(None);
    let statistics = input.statistics();
    let stamps = stamps.borrow();
    let all = ((stamps[stamps.len() - 1] - stamps[0]) * 1000.0 / PERIOD_MS).round();
    let share = (stamps.len() - 1) as f64 / all;
    console_log!(
        "phase {phase_ms} ms, measuring {measuring}: {:.4} of {all}; {statistics:?}",
        share
    );
    assert!(share <= 1.0);
    input.measuring(false);
    share
}

#[wasm_bindgen_test]
async fn nearly_all_of_a_stream_is_caught_while_measuring() {
    let mut least = 1.0_f64;
    for phase_ms in [0.3, 1.9, 3.1] {
        least = least.min(caught(2.0, phase_ms, true).await);
    }
    // The full figure is taken over 60 s in the browser runs; here, where other programs may
    // hold the processor, only what no single timer could reach.
    assert!(least > 0.9, "{least}");
}

#[wasm_bindgen_test]
async fn at_frame_pace_a_part_is_caught_and_no_gaps_are_claimed() {
    let share = caught(1.0, 0.7, false).await;
    assert!(share < 0.5, "{share}");
}

#[wasm_bindgen_test]
async fn stopping_from_inside_the_listener_stops_the_timers() {
    let _scripted = stream(0.0);
    let bench = Bench::start();
    let input = bench.input;
    assert!(input.choose(Source::Pad(input.status_now().devices[0].key)));
    let (calls, count) = counter();
    input.set_listener(Some(Box::new(move |_, _| {
        count.set(count.get() + 1);
        if count.get() == 10 {
            input.measuring(false);
            input.set_listener(None);
        }
    })));
    input.measuring(true);
    wait_ms(300).await;
    assert_eq!(calls.get(), 10);
    input.measuring(true);
    wait_ms(100).await;
    assert!(input.statistics().polls_per_second > 0.0);
    input.measuring(false);
}

#[wasm_bindgen_test]
async fn values_that_change_under_an_old_stamp_are_caught_at_frame_pace() {
    let devices = Devices::default();
    let stamp = now_ms();
    devices.show(&[pad(0, "Still stamp", stamp, &[0.0, 0.0], &[])]);
    let _scripted = Scripted::devices(&devices);
    let bench = Bench::start();
    let input = bench.input;
    assert!(input.choose(Source::Pad(input.status_now().devices[0].key)));
    input.measuring(true);
    wait_ms(50).await;
    devices.show(&[pad(0, "Still stamp", stamp, &[0.5, 0.0], &[])]);
    wait_ms(100).await;
    assert_eq!(input.latest().unwrap().axes, [0.5, 0.0]);
    input.measuring(false);
}

#[wasm_bindgen_test]
async fn frames_are_called_until_their_handle_is_dropped() {
    let bench = Bench::start();
    assert!(bench.input.choose(Source::Practice));
    let (calls, count) = counter();
    let handle = bench.input.on_frame(move |frame| {
        assert!(frame.now_seconds > 0.0);
        count.set(count.get() + 1);
    });
    wait_ms(200).await;
    let called = calls.get();
    assert!(called > 2, "{called}");
    drop(handle);
    wait_ms(100).await;
    assert_eq!(calls.get(), called);
}

#[wasm_bindgen_test]
async fn a_hidden_page_is_not_polled() {
    let hide = |hidden: bool| {
        let body = format!(
            "Object.defineProperty(document, 'hidden', {{ value: {hidden}, configurable: true }}); \
             document.dispatchEvent(new Event('visibilitychange'))"
        );
        super::script::script("", &body).call0(&JsValue::NULL).unwrap();
    };
    let _scripted = stream(0.0);
    let bench = Bench::start();
    let input = bench.input;
    assert!(input.choose(Source::Pad(input.status_now().devices[0].key)));
    let (calls, count) = counter();
    input.set_listener(Some(Box::new(move |_, _| count.set(count.get() + 1))));
    input.measuring(true);
    wait_ms(50).await;
    assert!(calls.get() > 0);
    hide(true);
    assert!(input.status_now().page_hidden);
    let called = calls.get();
    wait_ms(500).await;
    looked().await;
    assert_eq!(calls.get(), called);
    hide(false);
    wait_ms(50).await;
    assert!(!input.status_now().page_hidden);
    assert!(calls.get() > called);
    let longest = input.statistics().longest_gap_seconds;
    assert!(longest < 0.4, "a pause that was asked for is no gap: {longest} s");
    super::script::script("", "delete document.hidden").call0(&JsValue::NULL).unwrap();
    input.measuring(false);
}
