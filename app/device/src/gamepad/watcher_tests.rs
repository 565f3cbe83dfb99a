use super::*;
use proptest::prelude::*;

fn pad(index: usize, stamp_ms: f64, axes: &[f64]) -> PadState {
    PadState {
        id: format!("Bench stick {index} (Vendor: 1209 Product: 0001)"),
        index,
        connected: true,
        timestamp_ms: stamp_ms,
        axes: axes.to_vec(),
        buttons: vec![0.0, 0.0],
        pressed: vec![false, false],
        ..PadState::default()
    }
}

fn samples(events: &[WatchEvent]) -> Vec<&Sample> {
    events
        .iter()
        .filter_map(|event| match event {
            WatchEvent::Changed { sample, .. } => Some(sample),
            _ => None,
        })
        .collect()
}

fn keys_of(watcher: &Watcher) -> Vec<DeviceKey> {
    watcher.devices().map(|(key, _, _)| key).collect()
}

#[test]
fn a_device_comes_moves_and_goes() {
    let mut watcher = Watcher::default();
    assert!(watcher.observe(10.0, &[None, None]).is_empty());
    let came = watcher.observe(14.0, &[None, Some(pad(1, 12.0, &[0.0, 0.0]))]);
    assert!(matches!(&came[0], WatchEvent::Connected { shape, .. }
        if shape.axes == 2 && shape.buttons == 2 && !shape.standard && shape.dropped == 0));
    assert_eq!(samples(&came)[0].arrival_seconds, 0.012);
    // Nothing changed: nothing is said.
    assert!(watcher.observe(18.0, &[None, Some(pad(1, 12.0, &[0.0, 0.0]))]).is_empty());
    let moved = watcher.observe(22.0, &[None, Some(pad(1, 21.0, &[0.5, 0.0]))]);
    assert_eq!(samples(&moved)[0].axes, [0.5, 0.0]);
    assert_eq!(samples(&moved)[0].arrival_seconds, 0.021);
    let key = keys_of(&watcher)[0];
    assert_eq!(watcher.observe(26.0, &[None, None]), [WatchEvent::Gone { key }]);
    // And it comes back, with a key of its own and the same shape.
    watcher.observe(30.0, &[None, Some(pad(1, 29.0, &[0.5, 0.0]))]);
    assert_ne!(keys_of(&watcher)[0], key);
}

#[test]
fn an_entry_that_says_it_is_not_connected_is_gone() {
    let mut watcher = Watcher::default();
    watcher.observe(1.0, &[Some(pad(0, 1.0, &[0.0]))]);
    let off = PadState { connected: false, ..pad(0, 2.0, &[0.7]) };
    let events = watcher.observe(2.0, &[Some(off)]);
    assert!(matches!(events[..], [WatchEvent::Gone { .. }]));
}

#[test]
fn another_device_in_the_same_place_is_another_device() {
    let mut watcher = Watcher::default();
    watcher.observe(1.0, &[Some(pad(0, 1.0, &[0.0, 0.0]))]);
    let before = keys_of(&watcher)[0];
    let other = PadState { id: "Another stick".into(), ..pad(0, 2.0, &[0.0, 0.0]) };
    let events = watcher.observe(2.0, &[Some(other.clone())]);
    assert_eq!(events[0], WatchEvent::Gone { key: before });
    assert!(matches!(events[1], WatchEvent::Connected { key, .. } if key != before));
    // The same name with other controls is another device as well.
    let grown = PadState { axes: vec![0.0; 4], ..other };
    assert_eq!(watcher.observe(3.0, &[Some(grown)]).len(), 3);
}

#[test]
fn several_devices_keep_their_own_keys_when_one_leaves() {
    let mut watcher = Watcher::default();
    let both = [Some(pad(0, 1.0, &[0.1])), None, Some(pad(2, 1.0, &[]))];
    assert_eq!(watcher.observe(1.0, &both).len(), 4);
    let keys = keys_of(&watcher);
    assert_ne!(keys[0], keys[1]);
    // The list may be trimmed and closed up by the page: the place counts, not the position.
    let events = watcher.observe(5.0, &[both[2].clone()]);
    assert_eq!(events, [WatchEvent::Gone { key: keys[0] }]);
    assert_eq!(keys_of(&watcher), [keys[1]]);
}

#[test]
fn stamps_that_cannot_be_true_give_way_to_the_poll() {
    let arrival = |stamp: f64| {
        let mut watcher = Watcher::default();
        watcher.observe(1000.0, &[Some(pad(0, 999.0, &[0.0]))]);
        let events = watcher.observe(1004.0, &[Some(pad(0, stamp, &[0.5]))]);
        samples(&events)[0].arrival_seconds
    };
    assert_eq!(arrival(1003.0), 1.003);
    assert_eq!(arrival(1050.0), 1.050, "a coarse clock may run ahead a little");
    for wrong in [f64::NAN, f64::INFINITY, 0.0, -5.0, 1104.1, 998.0, 999.0, 3.0] {
        assert_eq!(arrival(wrong), 1.004, "stamp {wrong}");
    }
}

#[test]
fn a_stamp_that_lags_behind_the_polls_is_not_believed() {
    let mut watcher = Watcher::default();
    watcher.observe(5000.0, &[Some(pad(0, 10.0, &[0.0]))]);
    let events = watcher.observe(5004.0, &[Some(pad(0, 14.0, &[0.5]))]);
    assert_eq!(samples(&events)[0].arrival_seconds, 5.004);
}

#[test]
fn values_that_are_no_numbers_hold_the_last_one() {
    let mut watcher = Watcher::default();
    watcher.observe(1.0, &[Some(pad(0, 1.0, &[f64::NAN, 0.25]))]);
    let events = watcher.observe(2.0, &[Some(pad(0, 2.0, &[0.5, f64::NEG_INFINITY]))]);
    // An infinite value is no number either, and must not be mistaken for the cap.
    assert_eq!(samples(&events)[0].axes, [0.5, 0.25]);
    assert!(watcher.observe(3.0, &[Some(pad(0, 3.0, &[f64::NAN, 0.25]))]).is_empty());
}

#[test]
fn values_outside_the_range_are_kept_up_to_a_cap() {
    let mut watcher = Watcher::default();
    let state = PadState { buttons: vec![0.37, 4.0], ..pad(0, 1.0, &[9.0 / 7.0, -1e300]) };
    let events = watcher.observe(1.0, &[Some(state)]);
    assert_eq!(samples(&events)[0].axes, [9.0 / 7.0, -8.0]);
    assert_eq!(samples(&events)[0].buttons, [0.37, 1.0]);
}

#[test]
fn controls_beyond_the_most_are_dropped_and_told() {
    let mut watcher = Watcher::default();
    let state = PadState { buttons: vec![0.0; 40], ..pad(0, 1.0, &[0.0; 33]) };
    let events = watcher.observe(1.0, &[Some(state)]);
    assert!(matches!(&events[0], WatchEvent::Connected { shape, .. }
        if (shape.axes, shape.buttons, shape.dropped) == (32, 32, 9)));
}

#[test]
fn a_button_without_a_value_counts_as_pressed_or_not() {
    let mut watcher = Watcher::default();
    let state = PadState { buttons: vec![], pressed: vec![true, false], ..pad(0, 1.0, &[]) };
    let events = watcher.observe(1.0, &[Some(state)]);
    assert_eq!(samples(&events)[0].buttons, [1.0, 0.0]);
}

fn any_pad() -> impl Strategy<Value = Option<PadState>> {
    let number = || prop_oneof![any::<f64>(), -1.5..1.5f64, Just(0.0)];
    proptest::option::of(
        (
            prop_oneof![any::<String>(), Just("stick".to_owned())],
            prop_oneof![any::<usize>(), 0..4usize],
            prop_oneof![Just(String::new()), Just("standard".to_owned()), any::<String>()],
            any::<bool>(),
            prop_oneof![any::<f64>(), 0.0..1e4f64],
            proptest::collection::vec(number(), 0..40),
            proptest::collection::vec(number(), 0..40),
            proptest::collection::vec(any::<bool>(), 0..40),
        )
            .prop_map(
                |(id, index, mapping, connected, timestamp_ms, axes, buttons, pressed)| PadState {
                    id,
                    index,
                    mapping,
                    connected,
                    timestamp_ms,
                    axes,
                    buttons,
                    pressed,
                },
            ),
    )
}

proptest! {
    /// Whatever devices claim: samples are finite and in order, keys are never used again, and
    /// nothing changes or goes that did not come.
    #[test]
    fn any_states_give_well_formed_events(
        polls in proptest::collection::vec(
            (prop_oneof![any::<f64>(), 0.0..1e4f64], proptest::collection::vec(any_pad(), 0..6)),
            0..12,
        ),
    ) {
        let mut watcher = Watcher::default();
        let mut here: Vec<(DeviceKey, f64)> = Vec::new();
        let mut ever = Vec::new();
        for (now_ms, list) in polls {
            for event in watcher.observe(now_ms, &list) {
                match event {
                    WatchEvent::Connected { key, .. } => {
                        prop_assert!(!ever.contains(&key));
                        ever.push(key);
                        here.push((key, f64::NEG_INFINITY));
                    }
                    WatchEvent::Changed { key, sample } => {
                        let known = here.iter_mut().find(|(other, _)| *other == key);
                        let (_, last) = known.expect("a change of a device that is there");
                        prop_assert!(sample.arrival_seconds.is_finite());
                        prop_assert!(sample.arrival_seconds >= *last);
                        prop_assert!(sample.axes.len() <= 32 && sample.buttons.len() <= 32);
                        prop_assert!(sample.axes.iter().all(|v| v.abs() <= 8.0));
                        prop_assert!(sample.buttons.iter().all(|v| (0.0..=1.0).contains(v)));
                        *last = sample.arrival_seconds;
                    }
                    WatchEvent::Gone { key } => {
                        prop_assert!(here.iter().any(|(other, _)| *other == key));
                        here.retain(|(other, _)| *other != key);
                    }
                }
            }
            prop_assert_eq!(watcher.devices().count(), here.len());
        }
    }
}
