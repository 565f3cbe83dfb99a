use super::*;
use crate::hid;
use fitting::Sample;
use fitting::Settings;
use fitting::measure::{AxisOddity, OddAxis};
use fitting::settings::{Curve, DirectionMap, Shape, Smoothing};
use fitting::summary::DeviceSeen;
use fitting::visit::{
    Accepts, Hat, Heard, Host, HostSets, KeysHeard, PointerHeard, Port, ShippedHost, Slider,
    SliderRange,
};
use proptest::prelude::*;

fn seen(axes: u32, buttons: u32, standard: bool) -> DeviceFacts {
    let seen = DeviceSeen { name: String::from("Bench"), axes, buttons, standard };
    DeviceFacts::of_shown(&seen, None)
}

fn against(device: &DeviceFacts, host: ShippedHost, settings: Option<&Settings>) -> Verdict {
    verdict(device, &Asked { host: &host.host(), port: 0, settings })
}

fn verdict_of(device: &DeviceFacts, host: &Host) -> Verdict {
    verdict(device, &Asked { host, port: 0, settings: None })
}

#[test]
fn a_standard_pad_works_in_a_web_page() {
    let verdict = against(&seen(4, 17, true), ShippedHost::WebPage, Some(&Settings::default()));
    assert_eq!(verdict.word, VerdictWord::Works);
    assert!(verdict.reasons.contains(&Reason::FollowsLayout));
    assert!(verdict.reasons.contains(&Reason::AllButtons(17)));
    assert_eq!(verdict.passes.axes, [0, 1, 2, 3]);
    // One that the browser does not lay out has numbers and no jobs there.
    let bare = against(&seen(4, 12, false), ShippedHost::WebPage, None);
    assert_eq!(bare.word, VerdictWord::WorksWithLimits);
    assert_eq!(bare.next[0], NextStep::AssignByHand);
}

#[test]
fn a_hub_passes_two_axes_and_the_first_eight_buttons() {
    let verdict = against(&seen(4, 12, false), ShippedHost::HubTwoPorts, None);
    assert_eq!(verdict.word, VerdictWord::WorksWithLimits);
    assert_eq!((verdict.passes.buttons, verdict.passes.buttons_lost), (8, 4));
    assert!(verdict.reasons.contains(&Reason::ButtonsLost { through: 8, lost: 4 }));
    assert!(verdict.reasons.contains(&Reason::OtherAxesLost(2)));
    assert!(verdict.next.contains(&NextStep::PressToFindOut));
    // A stick on the third and fourth axis is not what the port takes.
    let second = DeviceFacts { stick: Some([2, 3]), ..seen(4, 8, false) };
    let lost = against(&second, ShippedHost::HubTwoPorts, None);
    assert_eq!(lost.word, VerdictWord::WillNotWork);
    assert!(lost.reasons.contains(&Reason::StickAxisLost(2)));
    let swapped = DeviceFacts { stick: Some([1, 0]), ..seen(2, 8, false) };
    let swapped = against(&swapped, ShippedHost::HubTwoPorts, None);
    assert!(swapped.reasons.contains(&Reason::AxesOutOfOrder));
}

/// HID Usage Tables, Generic Desktop: X is 0x30, Y 0x31, Z 0x32.
#[test]
fn a_port_that_goes_by_usages_finds_x_and_y() {
    let axis = |usage: u32| AxisFacts { usage: Some(0x1_0000 | usage), ..AxisFacts::default() };
    let device = DeviceFacts {
        speaks: vec![Speech::of_usage(0x1_0004)],
        axes: Some(vec![axis(0x32), axis(0x31), axis(0x30)]),
        buttons: Some(2),
        stick: Some([2, 1]),
        ..DeviceFacts::default()
    };
    let verdict = against(&device, ShippedHost::OnePort, None);
    assert_eq!(verdict.passes.axes, [2, 1]);
    assert_eq!(verdict.word, VerdictWord::Works);
    let first = Host { ports: vec![Port::default()], ..ShippedHost::OnePort.host() };
    let in_order = super::verdict(&device, &Asked { host: &first, port: 0, settings: None });
    assert_eq!(in_order.word, VerdictWord::WillNotWork);
}

#[test]
fn mice_and_keyboards_are_caught() {
    let pointer = PointerHeard { moves: 40, pixels: 300, ..PointerHeard::default() };
    let mouse = DeviceFacts::of_heard(&Heard { pointer: Some(pointer), ..Heard::default() });
    let keys = KeysHeard { arrows: 3, ..KeysHeard::default() };
    let keyboard = DeviceFacts::of_heard(&Heard { keys: Some(keys), ..Heard::default() });
    for (device, speech) in [(&mouse, Speech::Mouse), (&keyboard, Speech::Keyboard)] {
        let refused = against(device, ShippedHost::HubTwoPorts, None);
        assert_eq!(refused.word, VerdictWord::WillNotWork);
        assert_eq!(refused.reasons, [Reason::NotAccepted(speech)]);
        assert_eq!(refused.next, [NextStep::AskForAnotherMode]);
        let taken = against(device, ShippedHost::AnythingGoes, None);
        assert_eq!(taken.word, VerdictWord::Works);
    }
    let nothing = against(&DeviceFacts::default(), ShippedHost::WebPage, None);
    assert_eq!(nothing.word, VerdictWord::CannotTell);
    assert_eq!(nothing.next[0], NextStep::ListenOrPaste);
    // One that is heard as a controller, and no more known of it.
    let controller = DeviceFacts { speaks: vec![Speech::Controller], ..DeviceFacts::default() };
    assert_eq!(against(&controller, ShippedHost::OnePort, None).word, VerdictWord::CannotTell);
}

#[test]
fn the_sort_of_controller_matters_where_the_host_cares() {
    let joysticks = Host {
        accepts: Accepts { joystick: true, ..Accepts::default() },
        ..ShippedHost::OnePort.host()
    };
    let asked = Asked { host: &joysticks, port: 0, settings: None };
    let verdict_of =
        |speech| verdict(&DeviceFacts { speaks: vec![speech], ..seen(2, 4, false) }, &asked);
    assert_eq!(verdict_of(Speech::Joystick).word, VerdictWord::Works);
    assert_eq!(verdict_of(Speech::GamePad).word, VerdictWord::WillNotWork);
    let unknown = verdict_of(Speech::Controller);
    assert!(unknown.reasons.contains(&Reason::ControllerOfUnknownSort));
    assert!(unknown.next.contains(&NextStep::ReadReports));
}

/// W3C Gamepad's formula gives a hat of 0..7 with null state 8 as 1.2857.
#[test]
fn a_hat_that_comes_as_an_axis_is_told_by_its_rest() {
    let device = DeviceSeen { axes: 3, buttons: 4, ..DeviceSeen::default() };
    let rest = Sample { axes: vec![0.0, 0.0, 9.0 / 7.0], ..Sample::default() };
    let device = DeviceFacts::of_shown(&device, Some(&rest));
    assert!(device.axes.as_ref().unwrap()[2].is_hat);
    let lost = against(&device, ShippedHost::OnePort, None);
    assert!(lost.reasons.contains(&Reason::HatLost));
    assert_eq!(lost.passes.axes, [0, 1]);
    let shown = against(&device, ShippedHost::WebPage, None);
    assert!(shown.reasons.contains(&Reason::HatAsAxis(2, 9.0 / 7.0)));
    let unknown = Host {
        ports: vec![Port { hat: Hat::Unknown, ..Port::default() }],
        ..ShippedHost::OnePort.host()
    };
    let unknown = verdict(&device, &Asked { host: &unknown, port: 0, settings: None });
    assert_eq!(unknown.word, VerdictWord::Works);
    assert!(unknown.reasons.contains(&Reason::HatUnknown));
}

#[test]
fn few_axes_or_none_that_centre_are_told() {
    assert_eq!(
        against(&seen(1, 2, false), ShippedHost::OnePort, None).word,
        VerdictWord::WillNotWork
    );
    let odd = OddAxis { axis: 1, what: AxisOddity::NeverCentres };
    let device = DeviceFacts { odd_axes: vec![odd], ..seen(2, 2, false) };
    let verdict = against(&device, ShippedHost::OnePort, None);
    assert_eq!(verdict.word, VerdictWord::WorksWithLimits);
    assert_eq!(verdict.reasons[0], Reason::OddAxis(odd));
    // A throttle that is no part of the stick may stand where it likes.
    let other = DeviceFacts {
        odd_axes: vec![OddAxis { axis: 3, what: AxisOddity::Stuck }],
        ..seen(4, 2, false)
    };
    let verdict = against(&other, ShippedHost::OnePort, None);
    assert!(!verdict.reasons.iter().any(|reason| matches!(reason, Reason::OddAxis(_))));
}

#[test]
fn coarse_and_slow_sticks_are_limits() {
    // 8 bits: a step is 0.00784 (checks: 2 / 255).
    let axis = AxisFacts { bits: Some(8.0), ..AxisFacts::default() };
    let device = DeviceFacts { axes: Some(vec![axis; 2]), ..seen(2, 4, false) };
    assert!((device.step_of_stick().unwrap() - 2.0 / 255.0).abs() < 1e-12);
    let fine = against(&device, ShippedHost::OnePort, None);
    assert!(fine.reasons.contains(&Reason::FineEnough(127)));
    // Between a dead zone of 30 % and a full throw of 50 % of a 7-bit axis: 0.2 / (2/127) = 12.
    let axis = AxisFacts { bits: Some(7.0), ..AxisFacts::default() };
    let device = DeviceFacts { axes: Some(vec![axis; 2]), ..seen(2, 4, false) };
    let settings = Settings { dead_zone: 0.3, full_throw: 0.5, ..Settings::default() };
    let coarse = against(&device, ShippedHost::AnythingGoes, Some(&settings));
    assert!(coarse.reasons.contains(&Reason::TooCoarse { steps: 12, step: 2.0 / 127.0 }));
    let slow = DeviceFacts { fastest_change_seconds: Some(0.05), ..seen(2, 4, false) };
    let slow = against(&slow, ShippedHost::OnePort, None);
    assert_eq!(slow.reasons[0], Reason::Slow(0.05));
}

#[test]
fn a_host_that_cannot_take_the_settings_says_which() {
    let settings = Settings {
        dead_zone: 0.12,
        full_throw: 0.6,
        curve: Curve::Exponent(1.5),
        direction: DirectionMap { swapped: true, turn_degrees: 25.0, ..DirectionMap::default() },
        smoothing: Smoothing::OneEuro { cutoff_hertz: 2.0, speed_coefficient: 0.5 },
        ..Settings::default()
    };
    let page = against(&seen(4, 17, true), ShippedHost::WebPage, Some(&settings));
    assert_eq!(page.word, VerdictWord::WorksWithLimits);
    for reason in [
        Reason::NoDeadZone(0.12),
        Reason::NoFullThrow(0.6),
        Reason::NoCurve,
        Reason::CannotSwap,
        Reason::CannotTurn(25.0),
        Reason::CannotSmooth,
    ] {
        assert!(page.reasons.contains(&reason), "{reason:?} in {:?}", page.reasons);
    }
    assert!(page.next.contains(&NextStep::SetElsewhere));
    let anything = against(&seen(4, 17, true), ShippedHost::AnythingGoes, Some(&settings));
    assert!(anything.reasons.contains(&Reason::TakesSettings));
    assert_eq!(anything.word, VerdictWord::Works);
}

#[test]
fn a_slider_is_held_against_the_dead_zone() {
    let with = |shape, low, high, step| Host {
        sets: HostSets {
            dead_zone: Some(Slider { shape, range: SliderRange { low, high, step } }),
            ..HostSets::default()
        },
        ..ShippedHost::OnePort.host()
    };
    let reasons = |host: &Host, dead_zone| {
        let settings = Settings { dead_zone, ..Settings::default() };
        let asked = Asked { host, port: 0, settings: Some(&settings) };
        verdict(&seen(2, 4, false), &asked).reasons
    };
    let small = with(Shape::Radial, 0.0, 0.1, 0.01);
    let most = Reason::DeadZoneBeyond { wanted: 0.2, most: 0.1 };
    assert!(reasons(&small, 0.2).contains(&most));
    let from = with(Shape::Radial, 0.15, 0.4, 0.01);
    assert!(reasons(&from, 0.05).contains(&Reason::DeadZoneBelow { wanted: 0.05, least: 0.15 }));
    // From 0.12 in steps of a tenth the next is 0.2: two thirds more than wanted.
    let coarse = with(Shape::Radial, 0.0, 0.5, 0.1);
    assert!(reasons(&coarse, 0.12).contains(&Reason::StepTooLarge { wanted: 0.12, step: 0.1 }));
    assert!(reasons(&coarse, 0.1).contains(&Reason::TakesSettings));
    assert!(reasons(&coarse, 0.19).contains(&Reason::TakesSettings));
}

prop_compose! {
    fn any_device()(
        speaks in proptest::collection::vec(
            prop_oneof![
                Just(Speech::Joystick), Just(Speech::GamePad), Just(Speech::Controller),
                Just(Speech::Mouse), Just(Speech::Keyboard), any::<u32>().prop_map(Speech::of_usage),
            ], 0..4),
        axes in proptest::option::of(proptest::collection::vec(
            (proptest::option::of(0x1_0030..0x1_003Au32), any::<bool>(), any::<f64>()), 0..8)),
        buttons in proptest::option::of(any::<u32>()),
        standard in any::<Option<bool>>(),
        stick in proptest::option::of([0..10usize, 0..10usize]),
        figures in [any::<Option<f64>>(), any::<Option<f64>>(), any::<Option<f64>>()],
    ) -> DeviceFacts {
        let axis = |(usage, is_hat, bits): (Option<u32>, bool, f64)| AxisFacts {
            usage, is_hat, bits: Some(bits), rests_at: is_hat.then_some(bits), is_relative: false,
        };
        DeviceFacts {
            speaks,
            axes: axes.map(|axes| axes.into_iter().map(axis).collect()),
            buttons,
            standard,
            stick,
            step: figures[0],
            fastest_change_seconds: figures[1],
            hidden_middle: figures[2],
            ..DeviceFacts::default()
        }
    }
}

proptest! {
    /// Whatever is known of a device: the word follows from the reasons, the heaviest stands first,
    /// what gets through and what is lost add up, and every limit has something to do about it.
    #[test]
    fn verdicts_hang_together(
        device in any_device(),
        host in proptest::sample::select(ShippedHost::ALL.to_vec()),
        port in 0..4usize,
        dead_zone in 0.0..0.9f64,
        settled in any::<bool>(),
    ) {
        let settings = Settings { dead_zone, full_throw: 0.95, ..Settings::default() };
        let host = host.host();
        let asked = Asked { host: &host, port, settings: settled.then_some(&settings) };
        let verdict = verdict(&device, &asked);
        let weights: Vec<Weight> = verdict.reasons.iter().map(Reason::weight).collect();
        prop_assert!(!weights.is_empty());
        prop_assert!(weights.windows(2).all(|pair| pair[0] >= pair[1]));
        let word = match weights[0] {
            Weight::Blocks => VerdictWord::WillNotWork,
            Weight::Unknown => VerdictWord::CannotTell,
            Weight::Limits => VerdictWord::WorksWithLimits,
            Weight::Note | Weight::Fine => VerdictWord::Works,
        };
        prop_assert_eq!(verdict.word, word);
        for reason in &verdict.reasons {
            if reason.weight() >= Weight::Limits {
                prop_assert!(reason.next_step().is_some(), "{:?}", reason);
            }
        }
        let all = device.axes.as_ref().map_or(0, Vec::len);
        let mut seen = verdict.passes.axes.clone();
        seen.extend(&verdict.passes.axes_lost);
        seen.sort_unstable();
        prop_assert!(seen.windows(2).all(|pair| pair[0] < pair[1]));
        prop_assert!(seen.iter().all(|index| *index < all));
        let buttons = device.buttons.unwrap_or(0);
        prop_assert_eq!(verdict.passes.buttons + verdict.passes.buttons_lost, buttons);
    }
}

/// Bytes of a descriptor, written as in HID 1.11, 6.2.2: prefix, then data.
fn told(hex: &str) -> DeviceFacts {
    let bytes = hid::text::bytes(hex).expect("hex");
    DeviceFacts::of_hid(&hid::read(&bytes).expect("a descriptor"))
}

/// A joystick (Generic Desktop 4) whose report has Y before X with 10 bits each, a hat of eight
/// directions with a null state, and nine buttons.
const STICK: &str = "
    05 01  09 04  A1 01
      15 00  26 FF 03  75 0A  95 02  09 31  09 30  81 02
      25 07  46 3B 01  65 14  75 04  95 01  09 39  81 42
      45 00  65 00  05 09  19 01  29 09  25 01  75 01  95 09  81 02
      75 07  95 01  81 03
    C0";

#[test]
fn a_descriptor_tells_usage_axes_bits_hat_and_buttons() {
    let facts = told(STICK);
    assert_eq!(facts.speaks, [Speech::Joystick]);
    assert_eq!((facts.buttons, facts.stick, facts.standard), (Some(9), Some([1, 0]), None));
    let axes = facts.axes.as_deref().expect("axes");
    assert_eq!(axes.iter().map(|axis| axis.is_hat).collect::<Vec<_>>(), [false, false, true, true]);
    // 1,024 values are 10 bits, and one step of them is 2 / 1,023 of the range from -1 to 1.
    assert_eq!(axes[0].bits, Some(10.0));
    let step = facts.step_of_stick().expect("a step");
    assert!((step - 2.0 / 1_023.0).abs() < 1e-15, "{step}");
    let verdict = against(&facts, ShippedHost::HubTwoPorts, None);
    assert_eq!(verdict.word, VerdictWord::WorksWithLimits);
    assert!(verdict.reasons.contains(&Reason::SpeaksAs(Speech::Joystick)));
    assert!(verdict.reasons.contains(&Reason::StickGetsThrough), "by usage");
    assert!(verdict.reasons.contains(&Reason::ButtonsLost { through: 8, lost: 1 }));
    let by_order = Host {
        accepts: Accepts { joystick: true, ..Accepts::default() },
        ports: vec![Port::default()],
        ..Host::default()
    };
    let by_order = verdict_of(&facts, &by_order);
    assert!(by_order.reasons.contains(&Reason::AxesOutOfOrder), "as they come");
}

#[test]
fn of_a_stick_that_is_a_mouse_too_only_the_stick_counts() {
    let mouse =
        "05 01 09 02 A1 01 85 02 09 01 A1 00 05 09 19 01 29 03 15 00 25 01 75 01 95 03 81 02
        75 05 95 01 81 03 05 01 09 30 09 31 15 81 25 7F 75 08 95 02 81 06 C0 C0";
    let alone = told(mouse);
    assert_eq!((alone.speaks.as_slice(), alone.buttons), ([Speech::Mouse].as_slice(), Some(3)));
    assert!(alone.axes.as_deref().expect("axes").iter().all(|axis| axis.is_relative));
    let both = told(&format!("{mouse} {}", STICK.replace("A1 01", "A1 01 85 01")));
    assert_eq!(both.speaks, [Speech::Mouse, Speech::Joystick]);
    assert_eq!((both.buttons, both.stick), (Some(9), Some([1, 0])));
    assert!(both.axes.as_deref().expect("axes").iter().all(|axis| !axis.is_relative));
    let verdict = against(&alone, ShippedHost::OnePort, None);
    assert_eq!(verdict.word, VerdictWord::WillNotWork);
    assert!(verdict.reasons.contains(&Reason::NotAccepted(Speech::Mouse)));
}
