use super::*;
use crate::gamepad::{WatchEvent, Watcher};
use crate::hid::read;

/// Report 1: X, Y of 8 bits and a hat of 4 with its middle; report 2: two buttons, and an array
/// of two numbers that name buttons 3 to 6. Report 3 is a mouse in the same device.
const PARTED: [u8; 117] = [
    0x05, 0x01, 0x09, 0x05, 0xA1, 0x01, 0x85, 0x01, 0x09, 0x30, 0x09, 0x31, 0x15, 0x00, 0x26, 0xFF,
    0x00, 0x75, 0x08, 0x95, 0x02, 0x81, 0x02, 0x09, 0x39, 0x15, 0x01, 0x25, 0x08, 0x75, 0x04, 0x95,
    0x01, 0x81, 0x42, 0x81, 0x01, 0x85, 0x02, 0x05, 0x09, 0x19, 0x01, 0x29, 0x02, 0x15, 0x00, 0x25,
    0x01, 0x75, 0x01, 0x95, 0x02, 0x81, 0x02, 0x75, 0x06, 0x95, 0x01, 0x81, 0x01, 0x19, 0x03, 0x29,
    0x06, 0x15, 0x01, 0x25, 0x04, 0x75, 0x08, 0x95, 0x02, 0x81, 0x00, 0xC0, 0x05, 0x01, 0x09, 0x02,
    0xA1, 0x01, 0x85, 0x03, 0x09, 0x30, 0x09, 0x31, 0x15, 0x81, 0x25, 0x7F, 0x75, 0x08, 0x95, 0x02,
    0x81, 0x06, 0x05, 0x09, 0x09, 0x01, 0x15, 0x00, 0x25, 0x01, 0x75, 0x01, 0x95, 0x01, 0x81, 0x02,
    0x75, 0x07, 0x81, 0x01, 0xC0,
];

fn pad() -> RawPad {
    RawPad::new(&read(&PARTED).unwrap(), "Bench stick", 3).unwrap()
}

#[test]
fn each_report_changes_its_own_part() {
    let mut pad = pad();
    assert_eq!((pad.axes().len(), pad.hats().len(), pad.buttons().len()), (2, 1, 6));
    assert_eq!(pad.state().axes, [0.0; 4]);
    let state = pad.take(1, &[255, 0, 3], 10.0).unwrap();
    assert_eq!(state.axes, [1.0, -1.0, 1.0, 0.0], "the third of eight directions is right");
    assert_eq!(state.timestamp_ms, 10.0);
    let state = pad.take(2, &[0b10, 4, 1], 12.0).unwrap();
    assert_eq!(state.axes, [1.0, -1.0, 1.0, 0.0]);
    assert_eq!(state.buttons, [0.0, 1.0, 1.0, 0.0, 0.0, 1.0]);
    assert_eq!(state.pressed, [false, true, true, false, false, true]);
    // The hat's middle; the array empty.
    assert_eq!(
        pad.take(1, &[51, 204, 0], 14.0).unwrap().axes,
        [-0.6, 0.6000000000000001, 0.0, 0.0]
    );
    assert_eq!(pad.take(2, &[0, 0, 9], 15.0).unwrap().buttons, [0.0; 6]);
    // The mouse is none of it, nor is a report that is not declared; a short one changes what it
    // reaches.
    assert_eq!(pad.take(3, &[5, 5, 1], 16.0), None);
    assert_eq!(pad.take(9, &[5, 5, 1], 16.0), None);
    assert_eq!(pad.take(1, &[], 16.0), None);
    assert_eq!(pad.take(1, &[0], 16.0).unwrap().axes[..2], [-1.0, 0.6000000000000001]);
}

#[test]
fn eight_directions_and_four() {
    let hat = *pad().hats().first().unwrap();
    let around: Vec<_> = (1..=8).map(|value| hat.pushes(value)).collect();
    assert_eq!(around[0], (0.0, -1.0));
    assert_eq!(around[2], (1.0, 0.0));
    assert_eq!(around[3], (1.0, 1.0));
    assert_eq!(around[7], (-1.0, -1.0));
    assert_eq!((hat.pushes(0), hat.pushes(9)), ((0.0, 0.0), (0.0, 0.0)));
    // Twelve directions: each goes to the nearest of eight.
    let mut twelve = hat;
    (twelve.logical.min, twelve.logical.max) = (0, 11);
    assert_eq!(
        [1, 2, 4, 11].map(|v| twelve.pushes(v)),
        [(1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, -1.0),]
    );
    let mut four = hat;
    (four.logical.min, four.logical.max) = (0, 3);
    assert_eq!([0, 1, 2, 3].map(|v| four.degrees(v)), [0.0, 90.0, 180.0, 270.0].map(Some));
}

#[test]
fn raw_reports_become_samples_by_the_watcher() {
    let (mut pad, mut watcher) = (pad(), Watcher::default());
    let came = watcher.observe(5.0, &[Some(pad.state().clone())]);
    assert!(matches!(&came[0], WatchEvent::Connected { shape, .. }
        if shape.axes == 4 && shape.buttons == 6));
    let state = pad.take(1, &[0, 255, 5], 9.0).unwrap().clone();
    let events = watcher.observe(9.5, &[Some(state)]);
    let [WatchEvent::Changed { sample, .. }] = &events[..] else { panic!("{events:?}") };
    assert_eq!(sample.axes, [-1.0, 1.0, 0.0, 1.0]);
    assert_eq!(sample.arrival_seconds, 0.009);
}

#[test]
fn a_device_without_controls_is_no_pad() {
    let lamp = [0x05, 0x08, 0x09, 0x01, 0xA1, 0x01, 0x75, 0x08, 0x95, 0x01, 0x91, 0x02, 0xC0];
    assert_eq!(RawPad::new(&read(&lamp).unwrap(), "", 0), None);
}

#[test]
fn an_axis_that_reports_nothing_keeps_its_place() {
    // X of 8 bits, 0 to 200: with null state, then without.
    let stick = |flags: u8| {
        let bytes = [0x05, 0x01, 0x09, 0x30, 0x15, 0, 0x26, 200, 0, 0x75, 8, 0x95, 1, 0x81, flags];
        RawPad::new(&read(&bytes).unwrap(), "", 0).unwrap()
    };
    let mut pad = stick(0x42);
    assert_eq!(pad.take(0, &[150], 1.0).unwrap().axes, [0.5]);
    assert_eq!(pad.take(0, &[250], 2.0).unwrap().axes, [0.5]);
    assert_eq!(stick(0x02).take(0, &[250], 2.0).unwrap().axes, [1.5]);
}

#[test]
fn motion_is_no_place() {
    let mouse = [0x05, 0x01, 0x09, 0x30, 0x15, 0x81, 0x25, 0x7F, 0x75, 8, 0x95, 1, 0x81, 6];
    let device = read(&mouse).unwrap();
    assert!(device.axes[0].relative);
    assert_eq!(RawPad::new(&device, "", 0), None);
}
