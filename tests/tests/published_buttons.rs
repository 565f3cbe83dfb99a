//! The timing of buttons and the thresholds of switches, against the definitions of an open
//! standard worked by another program.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "tests")]

use checks::{number, numbers, vector};
use fitting::pipeline::buttons::{ButtonChange, ButtonFilter};
use fitting::pipeline::switches::Hysteresis;
use fitting::settings::ButtonTiming;
use serde_json::Value;

/// What a button with this timing makes of the vector's events: milliseconds, pressed or not.
fn played(timing: ButtonTiming, events: &Value) -> Vec<(f64, bool)> {
    let mut filter = ButtonFilter::new(timing);
    let mut happened = Vec::new();
    for event in events.as_array().unwrap() {
        let at = number(&event[0]) / 1000.0;
        happened.extend(filter.advance(at, event[1] == "down"));
    }
    happened
        .into_iter()
        .map(|(at, change)| ((at * 1e9).round() / 1e6, change == ButtonChange::Pressed))
        .collect()
}

fn wanted(list: &Value) -> Vec<(f64, bool)> {
    let one = |event: &Value| (number(&event[0]), event[1] == "press");
    list.as_array().unwrap().iter().map(one).collect()
}

/// *The X Keyboard Extension: Library Specification*, chapter 10 (read): a press counts
/// once it was held for the acceptance delay; after a release the key is deaf. Times to the
/// microsecond.
#[test]
fn slow_and_bouncing_presses() {
    let want = vector("key_filters");
    for (delay, list) in want["slow_keys"].as_object().unwrap() {
        let timing = ButtonTiming {
            shortest_press_seconds: delay.parse::<f64>().unwrap() / 1000.0,
            ..ButtonTiming::default()
        };
        assert_eq!(played(timing, &want["events_ms"]), wanted(list), "slow keys {delay}");
    }
    for (delay, list) in want["bounce_keys_from_release"].as_object().unwrap() {
        let timing = ButtonTiming {
            bounce_seconds: delay.parse::<f64>().unwrap() / 1000.0,
            ..ButtonTiming::default()
        };
        assert_eq!(played(timing, &want["events_ms"]), wanted(list), "bounce keys {delay}");
    }
}

/// Two thresholds (Schmitt 1938, from memory): on at one, off at the lower one.
#[test]
fn two_thresholds() {
    let want = &vector("key_filters")["hysteresis"];
    let mut switch = Hysteresis::new(number(&want["on"]), number(&want["off"]));
    let got: Vec<f64> =
        numbers(&want["x"]).iter().map(|level| f64::from(u8::from(switch.step(*level)))).collect();
    assert_eq!(got, numbers(&want["y"]));
}
