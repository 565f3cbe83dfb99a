//! What the open interface to gamepads is, checked against the standard's own text and figures.
//!
//! Source throughout: W3C, *Gamepad* (Editor's Draft of 9 August 2024): "map and normalize
//! axes", "map and normalize buttons", "Standard Gamepad". Vectors: `vectors/scripts/gamepad.py`.
#![allow(clippy::expect_used, reason = "tests")]

use device::gamepad::{
    Pace, PadState, ReportRate, WatchEvent, Watcher, normalise, normalise_button,
};
use device::layout::{STANDARD_MAPPING, StandardAxis, StandardButton};
use device::stick_finder::{AxisKind, CircleFinder};
use fitting::{Sample, StickAxes};
use serde_json::Value;

fn vectors(text: &str) -> Value {
    serde_json::from_str(text).expect("vectors in JSON")
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

fn near(found: f64, published: f64, within: f64) {
    assert!((found - published).abs() <= within, "{found} is not {published}");
}

#[test]
fn axes_are_normalised_as_the_standard_says() {
    let vectors = vectors(include_str!("../vectors/gamepad_normalize.json"));
    let cases = vectors["cases"].as_array().expect("cases");
    assert!(cases.len() > 30);
    for case in cases {
        let found = normalise(number(&case["raw"]), number(&case["min"]), number(&case["max"]));
        near(found, number(&case["axis"]), 1e-15);
    }
}

/// By hand from the formula, to nine places.
#[test]
fn an_axis_of_eight_bits_never_reads_nothing() {
    near(normalise(127.0, 0.0, 255.0), -0.003_921_569, 5e-10);
    near(normalise(128.0, 0.0, 255.0), 0.003_921_569, 5e-10);
    assert!((0..=255).all(|raw| normalise(f64::from(raw), 0.0, 255.0) != 0.0));
    near(normalise(512.0, 0.0, 1023.0), 0.000_977_517, 5e-10);
    near(normalise(16384.0, -32768.0, 32767.0), 0.500_022_889, 5e-10);
    near(normalise_button(128.0, 0.0, 255.0), 0.501_96, 5e-6);
}

/// One step of an axis of so many bits on the scale of length 2 is 2 / (2^bits − 1), and the
/// spread that rounding to it adds is that over the square root of 12 (the uniform law's).
#[test]
fn the_smallest_step_by_bits() {
    let vectors = vectors(include_str!("../vectors/gamepad_normalize.json"));
    for (bits, step, spread) in [
        (8, 0.007_843_1, 0.002_264_12),
        (10, 0.001_955_0, 0.000_564_37),
        (12, 0.000_488_40, 0.000_140_99),
        (16, 0.000_030_518, 0.000_008_809_8),
    ] {
        let top = f64::from((1_u32 << bits) - 1);
        let found = normalise(1.0, 0.0, top) - normalise(0.0, 0.0, top);
        near(found, number(&vectors["lsb"][format!("{bits}bit")]), 1e-15);
        near(found, step, 1e-7);
        // The mean square of rounding, summed over a fine grid of one step.
        let parts = 10_000;
        let mean_square = (0..parts)
            .map(|part| found * ((f64::from(part) + 0.5) / f64::from(parts) - 0.5))
            .map(|off| off * off / f64::from(parts))
            .sum::<f64>();
        near(mean_square.sqrt(), number(&vectors["quantisation_sd"][format!("{bits}bit")]), 1e-9);
        near(mean_square.sqrt(), spread, 1e-8);
    }
}

/// A hat switch told as one axis on 0..=7: at rest it lies outside −1..=1 and must get through,
/// and must not be taken for a stick.
#[test]
fn a_hat_switch_at_rest_lies_outside() {
    near(normalise(8.0, 0.0, 7.0), 9.0 / 7.0, 1e-15);
    near(normalise(15.0, 0.0, 7.0), 23.0 / 7.0, 1e-15);
    for null_state in [8.0, 15.0] {
        let value = normalise(null_state, 0.0, 7.0);
        let pad = PadState { connected: true, axes: vec![0.0, value], ..PadState::default() };
        let events = Watcher::default().observe(1.0, &[Some(pad)]);
        let Some(WatchEvent::Changed { sample, .. }) = events.last() else { panic!("a change") };
        assert_eq!(sample.axes, [0.0, value]);
        let mut finder = CircleFinder::new();
        finder.take_in(sample);
        assert_eq!(finder.finding().kinds, [AxisKind::Still, AxisKind::HatOnOneAxis]);
    }
}

/// The order of the standard layout: 17 buttons and 4 axes.
#[test]
fn the_standard_layout_in_its_order() {
    use StandardButton::{
        CentreClusterCentre, CentreClusterLeft, CentreClusterRight, LeftClusterBottom,
        LeftClusterLeft, LeftClusterRight, LeftClusterTop, LeftShoulder, LeftStickPressed,
        LeftTrigger, RightClusterBottom, RightClusterLeft, RightClusterRight, RightClusterTop,
        RightShoulder, RightStickPressed, RightTrigger,
    };
    let buttons = [
        (0, RightClusterBottom),
        (1, RightClusterRight),
        (2, RightClusterLeft),
        (3, RightClusterTop),
        (4, LeftShoulder),
        (5, RightShoulder),
        (6, LeftTrigger),
        (7, RightTrigger),
        (8, CentreClusterLeft),
        (9, CentreClusterRight),
        (10, LeftStickPressed),
        (11, RightStickPressed),
        (12, LeftClusterTop),
        (13, LeftClusterBottom),
        (14, LeftClusterLeft),
        (15, LeftClusterRight),
        (16, CentreClusterCentre),
    ];
    for (index, button) in buttons {
        assert_eq!(StandardButton::of(STANDARD_MAPPING, index), Some(button));
    }
    assert_eq!(StandardButton::ALL.len(), 17);
    let axes = [
        StandardAxis::LeftStickHorizontal,
        StandardAxis::LeftStickVertical,
        StandardAxis::RightStickHorizontal,
        StandardAxis::RightStickVertical,
    ];
    assert_eq!(StandardAxis::ALL, axes);
}

/// "−1 is forward or left, 1 is backward or right": pushed away, the vertical axis is negative,
/// and our field counts up.
#[test]
fn forward_is_negative_in_the_standard_and_up_in_the_field() {
    let sample = |axes: [f64; 2]| Sample { axes: axes.to_vec(), ..Sample::default() };
    let away = StickAxes::default().position(&sample([0.0, -1.0]));
    assert_eq!((away.right, away.up, away.degrees()), (0.0, 1.0, 90.0));
    let left = StickAxes::default().position(&sample([-1.0, 0.0]));
    assert_eq!(left.degrees().abs(), 180.0);
}

/// Stamps of 60 pictures a second with a tenth of them doubled, seen through the watcher.
#[test]
fn the_pace_of_changes() {
    let vectors = vectors(include_str!("../vectors/sampling.json"));
    let stamps = vectors["timestamps_ms"].as_array().expect("stamps");
    let (mut watcher, mut pace, mut value) = (Watcher::default(), Pace::default(), 0.0);
    let mut rate = ReportRate::default();
    for stamp in stamps.iter().map(number) {
        value += 0.001;
        let pad = PadState {
            connected: true,
            timestamp_ms: stamp,
            axes: vec![value],
            ..PadState::default()
        };
        for event in watcher.observe(stamp + 1.3, &[Some(pad.clone())]) {
            if let WatchEvent::Changed { sample, .. } = event {
                pace.note(sample.arrival_seconds);
                rate.note(sample.arrival_seconds);
            }
        }
        // The same state polled again says nothing new.
        assert!(watcher.observe(stamp + 5.0, &[Some(pad)]).is_empty());
    }
    near(pace.fastest_seconds().expect("changes") * 1000.0, 16.7, 1e-9);
    let told = rate.per_second().expect("seconds of changes");
    let mean = number(&vectors["mean_rate_hz"]);
    assert!(told.low <= mean && mean <= told.high, "{mean}: {told:?}");
}
