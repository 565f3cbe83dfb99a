//! What is heard of devices, and hosts: whatever they can be, and some with everything in use.

use fitting::settings::Shape;
use fitting::summary::DeviceSeen;
use fitting::visit::{
    Accepts, AddedSwitch, AxesTaken, ButtonNote, CurveSet, DeviceRole, DeviceUsed, Devices, Ease,
    Hat, Heard, Host, HostChosen, HostSets, Job, KeysHeard, MOST_DESCRIPTOR_CHARACTERS,
    MOST_DEVICES, MOST_JOBS, MOST_OWN_HOSTS, MOST_PORTS, MOST_SWITCHES, PadHeard, PointerHeard,
    Port, ShippedHost, Slider, SliderRange,
};
use fitting::{AxisPick, StickAxes};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use proptest::sample::select;

/// Anything, not yet brought into the form that is kept.
pub(crate) fn any() -> impl Strategy<Value = Devices> {
    let chosen = prop_oneof![
        select(ShippedHost::ALL.to_vec()).prop_map(HostChosen::Shipped),
        (0..9_u32).prop_map(HostChosen::Own),
    ];
    let hosts = (option::of(chosen), proptest::num::u32::ANY, vec(host(), 0..3));
    let switch = (".*", ease()).prop_map(|(name, ease)| AddedSwitch { name, ease });
    let buttons = (vec(note(), 0..6), vec(job(), 0..6), vec(switch, 0..3));
    (option::of(heard()), ".{0,40}", hosts, buttons, vec(used(), 0..6)).prop_map(
        |(heard, descriptor, (host, port, own_hosts), (buttons, jobs, switches), used)| Devices {
            used,
            heard,
            descriptor,
            host,
            port,
            own_hosts,
            buttons,
            jobs,
            switches,
        },
    )
}

fn ease() -> impl Strategy<Value = Ease> {
    select(vec![Ease::Easy, Ease::NotSaid, Ease::WithEffort, Ease::OutOfReach])
}

fn note() -> impl Strategy<Value = ButtonNote> {
    (0..6_u32, 0..40_u32, ".*", ease()).prop_map(|(device, button, name, ease)| ButtonNote {
        device,
        button,
        name,
        ease,
    })
}

fn used() -> impl Strategy<Value = DeviceUsed> {
    let role = (select(DeviceRole::ALL.to_vec()), ".*", proptest::num::u32::ANY);
    let device = (".*", proptest::num::u32::ANY, 0..40_u32, proptest::bool::ANY)
        .prop_map(|(name, axes, buttons, standard)| DeviceSeen { name, axes, buttons, standard });
    let pick = || {
        (0..40_usize, proptest::bool::ANY)
            .prop_map(|(index, inverted)| AxisPick { index, inverted })
    };
    let axes =
        (pick(), pick()).prop_map(|(horizontal, vertical)| StickAxes { horizontal, vertical });
    (device, option::of(".{0,30}"), role, super::stick_kind(), axes).prop_map(
        |(device, practised, (role, who, port), kind, axes)| DeviceUsed {
            device,
            practised,
            role,
            who,
            port,
            kind,
            axes,
        },
    )
}

fn job() -> impl Strategy<Value = Job> {
    prop_oneof![proptest::num::u8::ANY.prop_map(Job::Position), ".*".prop_map(Job::Own)]
}

fn heard() -> impl Strategy<Value = Heard> {
    let count = proptest::num::u32::ANY;
    let pad = (".*", vec(0..40_u32, 0..5), vec(0..40_u32, 0..5))
        .prop_map(|(name, axes, buttons)| PadHeard { name, axes, buttons });
    let pointer = [count; 4].prop_map(|[moves, pixels, presses, wheel]| PointerHeard {
        moves,
        pixels,
        presses,
        wheel,
    });
    let keys = [count; 6].prop_map(|[arrows, letters, space_and_enter, escape, tab, others]| {
        KeysHeard { arrows, letters, space_and_enter, escape, tab, others }
    });
    (option::of(pad), option::of(pointer), option::of(keys), proptest::bool::ANY)
        .prop_map(|(pad, pointer, keys, unasked)| Heard { pad, pointer, keys, unasked })
}

/// A host in the form that is kept.
pub(crate) fn host() -> impl Strategy<Value = Host> {
    let ticks = [proptest::bool::ANY; 12];
    (".*", ticks, vec(port(), 0..6), (range(), option::of(range())), curve()).prop_map(
        |(name, ticks, ports, (zone, full_throw), curve)| {
            let [joystick, game_pad, multi_axis, mouse, keyboard, layout, joins, rest @ ..] = ticks;
            let [inverts, swaps, turns, smooths, times_buttons] = rest;
            let dead_zone = joins.then_some(Slider { shape: Shape::PerAxis, range: zone });
            Host {
                name,
                accepts: Accepts { joystick, game_pad, multi_axis, mouse, keyboard },
                wants_standard_layout: layout,
                ports,
                joins_two: joins,
                sets: HostSets {
                    dead_zone,
                    full_throw,
                    curve,
                    inverts,
                    swaps,
                    turns,
                    smooths,
                    times_buttons,
                },
            }
            .tidied()
        },
    )
}

fn curve() -> impl Strategy<Value = CurveSet> {
    select(vec![CurveSet::None, CurveSet::OneNumber, CurveSet::Points])
}

fn range() -> impl Strategy<Value = SliderRange> {
    let share = || prop_oneof![0.0..=1.0_f64, proptest::num::f64::ANY];
    (share(), share(), share()).prop_map(|(low, high, step)| SliderRange { low, high, step })
}

fn port() -> impl Strategy<Value = Port> {
    let taken = select(vec![AxesTaken::FirstInOrder, AxesTaken::XAndYFirst]);
    let hat = select(vec![Hat::Dropped, Hat::Through, Hat::AsAxes, Hat::Unknown]);
    let count = || proptest::num::u32::ANY;
    let again = option::of(proptest::bool::ANY);
    (".*", count(), taken, count(), hat, vec(job(), 0..4), again).prop_map(
        |(name, axes, axes_taken, buttons, hat, jobs, can_be_reassigned)| Port {
            name,
            axes,
            axes_taken,
            buttons,
            hat,
            jobs,
            can_be_reassigned,
        },
    )
}

/// A host with everything in use.
pub(crate) fn golden_host() -> Host {
    let range = SliderRange { low: 0.05, high: 0.5, step: 0.05 };
    let jobs = vec![Job::Position(0), Job::Own(String::from("Open the map")), Job::Position(7)];
    Host {
        name: String::from("The box under the television"),
        ports: vec![
            Port { name: String::from("left"), jobs, ..Port::default() },
            Port {
                axes: 1,
                axes_taken: AxesTaken::XAndYFirst,
                hat: Hat::AsAxes,
                can_be_reassigned: Some(true),
                ..Port::default()
            },
        ],
        sets: HostSets {
            dead_zone: Some(Slider { shape: Shape::Radial, range }),
            full_throw: Some(range),
            curve: CurveSet::OneNumber,
            swaps: true,
            ..HostSets::default()
        },
        ..ShippedHost::HubTwoPorts.host()
    }
}

/// Devices with everything in use.
pub(crate) fn golden() -> Devices {
    let device =
        |name: &str| DeviceSeen { name: name.to_owned(), axes: 2, buttons: 4, standard: false };
    let across_is_second = StickAxes {
        horizontal: AxisPick { index: 1, inverted: false },
        vertical: AxisPick { index: 0, inverted: true },
    };
    Devices {
        used: vec![
            DeviceUsed {
                device: device("Bench stick"),
                role: DeviceRole::LeftStick,
                axes: across_is_second,
                ..DeviceUsed::default()
            },
            DeviceUsed {
                practised: Some(String::from("practice")),
                role: DeviceRole::Shared,
                who: String::from("Brother"),
                port: 1,
                kind: super::odd_kind(),
                ..DeviceUsed::default()
            },
        ],
        descriptor: String::from("05010904A101C0"),
        heard: Some(Heard {
            pad: Some(PadHeard {
                name: String::from("Bench stick"),
                axes: vec![0, 1],
                buttons: vec![4, 0],
            }),
            pointer: Some(PointerHeard { moves: 12, pixels: 340, presses: 1, wheel: 2 }),
            keys: Some(KeysHeard { arrows: 3, tab: 1, ..KeysHeard::default() }),
            unasked: true,
        }),
        host: Some(HostChosen::Own(0)),
        port: 1,
        own_hosts: vec![golden_host()],
        buttons: vec![
            ButtonNote {
                device: 0,
                button: 2,
                name: String::from("Under the thumb"),
                ease: Ease::Easy,
            },
            ButtonNote { device: 1, button: 0, name: String::new(), ease: Ease::OutOfReach },
        ],
        jobs: vec![Job::Own(String::from("Jump")), Job::Position(9)],
        switches: vec![AddedSwitch {
            name: String::from("Flat one by the right knee"),
            ease: Ease::WithEffort,
        }],
    }
}

/// As much as there may be, with `text` everywhere.
pub(crate) fn fullest(text: &str) -> Devices {
    let job = || Job::Own(text.to_owned());
    let port = Port {
        name: text.to_owned(),
        jobs: std::iter::repeat_with(job).take(32).collect(),
        ..Port::default()
    };
    let host = Host { name: text.to_owned(), ports: vec![port; MOST_PORTS], ..golden_host() };
    let used = DeviceUsed {
        device: DeviceSeen { name: text.to_owned(), axes: 32, buttons: 32, standard: true },
        practised: Some("a".repeat(24)),
        who: text.to_owned(),
        ..golden().used[0].clone()
    };
    let note = |button| ButtonNote { name: text.to_owned(), button, ..ButtonNote::default() };
    let own = |number: usize| Job::Own(format!("{number}{text}"));
    Devices {
        used: vec![used; MOST_DEVICES],
        descriptor: "A5".repeat(MOST_DESCRIPTOR_CHARACTERS / 2),
        own_hosts: vec![host; MOST_OWN_HOSTS],
        buttons: (0..32).map(note).collect(),
        jobs: (0..MOST_JOBS).map(own).collect(),
        switches: vec![AddedSwitch { name: text.to_owned(), ease: Ease::Easy }; MOST_SWITCHES],
        ..golden()
    }
}
