use super::*;
use crate::StickAxes;
use crate::measure::slow::Memory;
use crate::measure::test_records::recording;

/// A hold of 2.5 s whose place is off by `off`, on a ripple of 0.01 to each side on both axes.
fn rippling(direction: Option<Direction>, off: f64) -> OneHold {
    let path = |since: f64| {
        let (sin, cos) = libm::sincos(std::f64::consts::TAU * 2.0 * since);
        Position::new(0.4 + off + 0.01 * cos, 0.01 * sin)
    };
    let seen = recording(0.0, 2.5, 100.0, false, path);
    OneHold { direction, level: 0.5, path: Trace::of(&seen, StickAxes::default()) }
}

fn deviation(holds: &[OneHold]) -> Estimate {
    // The rest wanders by far more than the holds, for longer than they last.
    let memory = Memory { seconds: 3.0, smooth: true };
    let rest = SlowRest { memory, variance: Some(0.05 * 0.05) };
    hold(holds, Position::ORIGIN, rest, None, 0.0).remove(0).deviation.unwrap()
}

/// Slow wander of the rest that whoever sees the ring takes back is no unsteadiness of the hold.
#[test]
fn what_holds_miss_is_no_more_than_their_places_differ() {
    let ripple = 0.01 / std::f64::consts::SQRT_2;
    let asked = |offs: [f64; 6]| offs.map(|off| rippling(Some(Direction::Right), off));
    let same = deviation(&asked([0.0; 6]));
    assert!((same.value / ripple - 1.0).abs() < 0.02, "{same:?}");
    // The places differ by 0.02 on one of two axes, a mean square of 0.0004 x 6 / 10 on each.
    let apart = deviation(&asked([0.02, -0.02, 0.02, -0.02, 0.02, -0.02]));
    let want = libm::sqrt(ripple * ripple + 0.000_24);
    assert!((apart.value / want - 1.0).abs() < 0.02, "{apart:?} {want}");
    // Where no way was asked nobody knows where they should have been.
    let anywhere = deviation(&[0.0; 6].map(|off| rippling(None, off)));
    assert!(anywhere.value > 2.0 * ripple, "{anywhere:?}");
}
