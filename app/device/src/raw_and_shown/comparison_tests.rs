use super::*;
use crate::hid::usage::{X, Y};
use crate::hid::{LogicalRange, Unit, Usage};
use crate::hidden_middle::observed_reshaping;
use fitting::measure::OBSERVED_CUT;
use proptest::prelude::*;

fn axis(usage: Usage) -> Axis {
    Axis {
        report_id: 0,
        bit_offset: 0,
        bits: 16,
        usage,
        application: None,
        logical: LogicalRange::default(),
        physical: LogicalRange::default(),
        unit: Unit::default(),
        relative: false,
        null_state: false,
    }
}

/// From end to end and back every 24 seconds.
fn sweep(at_ms: f64) -> f64 {
    let gone = (at_ms / 12000.0).rem_euclid(2.0);
    if gone < 1.0 { 2.0 * gone - 1.0 } else { 3.0 - 2.0 * gone }
}

/// A minute and a half of frames, raw reports every 8 ms in between; the shown ones are what `show` makes of
/// the raw ones.
fn play(one: &mut Comparison, raw: fn(f64) -> Vec<f64>, show: fn(&[f64]) -> Vec<f64>) {
    for frame in 0..5600 {
        let now = 1000.0 + f64::from(frame) * 16.0;
        for part in [0.0, 8.0] {
            one.raw(now + part, &raw(now + part));
        }
        one.shown(now + 10.0, &show(&raw(now)));
    }
}

#[test]
fn the_first_guess_goes_by_the_order_of_usages() {
    let z = Usage::new(1, 0x32);
    let one = Comparison::new(&[axis(Y), axis(z), axis(X), axis(X)]);
    let places: Vec<_> = (0..5).map(|place| one.pair_of(place)).collect();
    let guess = |place| Some((place, PairedBy::Order));
    assert_eq!(places, [guess(2), guess(3), guess(0), guess(1), None]);
    assert_eq!(one.hidden_middle(), None);
}

#[test]
fn movement_tells_which_is_which_and_the_hidden_middle_is_found_on_both() {
    let mut one = Comparison::new(&[axis(X), axis(Y)]);
    // Shown the other way round, the second one turned; the hat beside them never moves.
    play(
        &mut one,
        |at| vec![sweep(at), 0.9 * sweep(at * 1.37)],
        |raw| vec![-observed_reshaping(raw[1]), observed_reshaping(raw[0]), 9.0 / 7.0],
    );
    assert_eq!(one.pair_of(0), Some((1, PairedBy::Movement)));
    assert_eq!(one.pair_of(1), Some((0, PairedBy::Movement)));
    let hidden = one.hidden_middle().unwrap();
    assert!((hidden - OBSERVED_CUT).abs() < 0.01, "{hidden}");
    let course = one.course(1);
    assert!(course.len() > 300 && course.is_sorted_by(|a, b| a.0 < b.0), "{}", course.len());
    for (raw, shown) in course {
        assert!((shown + observed_reshaping(raw)).abs() < 0.03, "{raw}: {shown}");
    }
}

/// The reports of a device come in one queue. Axis 1 moves only after the queue was seen on axis 0.
#[test]
fn what_is_late_on_one_axis_is_late_on_each() {
    let mut one = Comparison::new(&[axis(X), axis(Y)]);
    let shown = |raw: &[f64]| raw.iter().map(|raw| observed_reshaping(*raw)).collect();
    play(&mut one, |at| vec![sweep(2.0 * (at - 500.0)), 0.0], |_| Vec::new());
    assert_eq!(one.late(0), None);
    for frame in 0..2500 {
        let now = 100_000.0 + f64::from(frame) * 16.0;
        one.raw(now, &[sweep(2.0 * (now - 500.0)), 0.0]);
        let seen: Vec<f64> = shown(&[sweep(2.0 * now), 0.0]);
        one.shown(now + 4.0, &seen);
    }
    let late = one.late(0).expect("it is late");
    assert!((late.late_seconds - 0.75).abs() < 0.04, "{late:?}");
    assert_eq!(one.late(1), Some(late));
    assert_eq!(one.late(2), None);
}

/// Held to be the same by the order of usages alone, a circle is a quarter of its time late.
#[test]
fn a_pair_that_is_only_guessed_makes_no_other_axis_late() {
    let mut one = Comparison::new(&[axis(X), axis(Y), axis(Y)]);
    play(
        &mut one,
        |at| vec![sweep(3.0 * at), sweep(3.0 * (at - 2000.0)), sweep(at * 1.37)],
        |raw| vec![raw[1], 0.0, observed_reshaping(raw[2])],
    );
    assert_eq!(one.pair_of(2), Some((2, PairedBy::Movement)));
    assert_eq!(one.late(2), None);
}

#[test]
fn a_hand_has_the_last_word_and_nothing_moved_tells_nothing() {
    let mut one = Comparison::new(&[axis(X), axis(Y)]);
    play(&mut one, |at| vec![sweep(at), 0.01], |raw| raw.to_vec());
    assert_eq!(one.pair_of(0), Some((0, PairedBy::Movement)));
    assert_eq!(one.pair_of(1), Some((1, PairedBy::Order)));
    one.pair_by_hand(0, 1);
    one.pair_by_hand(7, 1);
    one.pair_by_hand(1, 700);
    play(&mut one, |at| vec![sweep(at), 0.01], |raw| raw.to_vec());
    assert_eq!(one.pair_of(0), Some((1, PairedBy::Hand)));
    assert_eq!(one.pair_of(1), Some((1, PairedBy::Order)));
}

#[test]
fn two_that_move_as_one_are_not_told_apart() {
    let mut one = Comparison::new(&[axis(X), axis(Y)]);
    play(&mut one, |at| vec![sweep(at), sweep(at)], |raw| raw.to_vec());
    assert_eq!(one.pair_of(1), Some((1, PairedBy::Order)));
}

proptest! {
    #[test]
    fn any_numbers_are_taken(
        looks in proptest::collection::vec(
            (any::<f64>(), proptest::collection::vec(any::<f64>(), 0..20), any::<bool>()), 0..200),
    ) {
        let mut one = Comparison::new(&[axis(X); 20]);
        for (at, axes, is_raw) in looks {
            if is_raw { one.raw(at, &axes) } else { one.shown(at, &axes) }
        }
        one.pause(f64::NAN);
        for place in 0..25 {
            for (raw, shown) in one.course(place) {
                prop_assert!(raw.is_finite() && !shown.is_nan());
            }
        }
        prop_assert!(one.hidden_middle().is_none_or(f64::is_finite));
    }
}
