//! Measures against recordings whose truth is known.

use super::device::quantisation_deviation;
use super::reach::plateau;
use super::test_records::{hands_off, hold, pushes, quiet_rest, recording};
use super::{known, measure};
use crate::estimate::NotEnough;
use crate::task::{MarkReason, Outcome};
use crate::{Direction, Position, Span, StickAxes, Trace};
use rand_core::{Rng, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// Standard normal numbers, seeded.
pub(crate) fn normals(seed: u64, count: usize) -> Vec<f64> {
    let mut source = Pcg64Mcg::seed_from_u64(seed);
    let mut share = || ((source.next_u64() >> 11) as f64 + 0.5) / (1_u64 << 53) as f64;
    (0..count)
        .map(|_| {
            let (one, two) = (share(), share());
            libm::sqrt(-2.0 * libm::log(one)) * libm::cos(std::f64::consts::TAU * two)
        })
        .collect()
}

fn still(_: f64) -> Position {
    Position::ORIGIN
}

#[test]
fn nothing_recorded_says_so() {
    let measures = measure(&[]);
    assert_eq!(measures.rest.unwrap_err(), NotEnough::NothingRecorded);
    assert_eq!(measures.device.noise.unwrap_err(), NotEnough::NothingRecorded);
    assert!(measures.reach.is_empty() && measures.hold.is_empty());
    assert_eq!(known(&[]), crate::task::Known::default());
}

#[test]
fn a_short_rest_says_how_much_is_missing() {
    let short = quiet_rest(recording(0.0, 6.0, 60.0, false, still));
    match measure(&[short]).rest.unwrap_err() {
        NotEnough::Seconds { have, need } => {
            // One second of settling is left out.
            assert!((have - 5.0).abs() < 1e-9 && need == 10.0);
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn marked_and_paused_rest_is_left_out() {
    let wild = |at: f64| {
        if (10.0..20.0).contains(&at) || (32.0..36.0).contains(&at) {
            Position::new(0.8, 0.8)
        } else {
            Position::new(0.1, -0.05)
        }
    };
    let mut rest = quiet_rest(recording(0.0, 60.0, 100.0, false, wild));
    rest.repetitions[1].mark = Some(MarkReason::Spasm);
    rest.pauses.push(Span { from_seconds: 31.0, to_seconds: 37.0 });
    rest.repetitions[5].outcome = Outcome::CutShort;
    let measures = measure(&[rest]);
    let rest = measures.rest.unwrap();
    // 10 s marked, 6 s paused, and three starts of 1 s.
    assert!((rest.seconds - 41.0).abs() < 1e-6, "{}", rest.seconds);
    assert_eq!(rest.centre, Position::new(0.1, -0.05));
    assert_eq!(rest.largest_continual, 0.0);
    assert_eq!(measures.left_out, 1);
}

#[test]
fn the_untouched_stick_shows_centre_noise_and_step() {
    let step = 2.0 / 255.0;
    let noise = normals(7, 4000);
    let told = |at: f64| {
        let i = (at * 100.0).round() as usize;
        let on_step = |value: f64| (value / step).round() * step;
        Position::new(on_step(0.05 + 0.02 * noise[2 * i]), on_step(-0.1 + 0.02 * noise[2 * i + 1]))
    };
    let device = measure(&[hands_off(recording(0.0, 20.0, 100.0, true, told))]).device;
    let centre = device.centre.unwrap();
    assert!((centre - Position::new(0.05, -0.1)).radius() < step);
    assert!((device.step.unwrap() - step).abs() < 1e-9);
    assert!((device.bits.unwrap() - 8.0).abs() < 1e-6);
    // Rounding adds its own spread.
    let truth = libm::hypot(0.02, quantisation_deviation(step));
    let spread = device.noise.unwrap();
    assert!(spread.low < truth && truth < spread.high, "{spread:?} {truth}");
    assert_eq!(device.hidden_middle, None);
    assert!((device.fastest_change_seconds.unwrap() - 0.01).abs() < 1e-9);
}

#[test]
fn noise_under_the_rounding_is_told_as_the_rounding() {
    // A step of 0.01 known from the pushes; the untouched stick stands still.
    let on_step = |at: Position| {
        Position::new((at.right * 100.0).round() / 100.0, (at.up * 100.0).round() / 100.0)
    };
    let slow = quiet_rest(recording(20.0, 20.0, 100.0, true, |at| {
        on_step(Position::new(0.3 * libm::sin(at), 0.2 * libm::sin(1.7 * at)))
    }));
    let device = measure(&[hands_off(recording(0.0, 10.0, 100.0, true, still)), slow]).device;
    assert!((device.noise.unwrap().value - quantisation_deviation(0.01)).abs() < 1e-9);
}

#[test]
fn a_hidden_middle_is_found_and_a_plain_stick_has_none() {
    let push = |at: f64| 0.6 * libm::sin(at) + 0.2 * libm::sin(2.7 * at);
    let hidden = |value: f64| if value.abs() < 0.125 { 0.0 } else { value };
    let seen = |hide: bool| {
        let path = move |at: f64| {
            let (right, up) = (push(at), push(at + 1.0));
            if hide { Position::new(hidden(right), hidden(up)) } else { Position::new(right, up) }
        };
        measure(&[quiet_rest(recording(0.0, 30.0, 100.0, true, path))]).device.hidden_middle
    };
    let band = seen(true).unwrap();
    assert!((0.125..0.14).contains(&band), "{band}");
    assert_eq!(seen(false), None);
}

#[test]
fn tremor_does_not_draw_out_a_plateau() {
    let push = |at: f64| {
        let share = (at / 0.5).min((2.0 - at) / 0.5).clamp(0.0, 1.0);
        Position::new(0.6 * share + 0.08 * libm::sin(std::f64::consts::TAU * 6.0 * at), 0.0)
    };
    let path = Trace::of(&recording(0.0, 2.0, 250.0, false, push), StickAxes::default());
    let whole = Span { from_seconds: 0.0, to_seconds: 2.0 };
    let end = plateau(&path, Position::ORIGIN, whole).unwrap();
    assert!((end.right - 0.6).abs() < 0.03, "{end:?}");
    let nowhere = Span { from_seconds: 5.0, to_seconds: 6.0 };
    assert_eq!(plateau(&path, Position::ORIGIN, nowhere), None);
    // A quick push with hardly a plateau still has one near its end.
    let quick = Trace::of(
        &recording(0.0, 1.0, 250.0, false, |at| {
            Position::new(0.0, 0.5 * (1.0 - (2.0 * at - 1.0).abs()))
        }),
        StickAxes::default(),
    );
    let end =
        plateau(&quick, Position::ORIGIN, Span { from_seconds: 0.0, to_seconds: 1.0 }).unwrap();
    assert!(end.up > 0.38 && end.up < 0.5, "{end:?}");
}

/// Pushes in four directions whose true mean ends are known: the t intervals on pooled variance
/// must hold the truth about as often as they claim.
#[test]
fn reach_intervals_hold_the_truth_as_often_as_they_claim() {
    let (mut held, mut turned, mut all) = (0, 0, 0);
    for seed in 0..150 {
        let noise = normals(seed, 24);
        let ends: Vec<(Direction, Position)> = (0..12)
            .map(|i| {
                let asked = Direction::FOUR[i % 4];
                let length = 0.6 + 0.05 * noise[2 * i];
                let angle = asked.degrees() + 8.0 + 5.0 * noise[2 * i + 1];
                (asked, Position::polar(length, angle))
            })
            .collect();
        let measures = measure(&[pushes(0.0, &ends, 100.0, false, still)]);
        assert_eq!(measures.reach.len(), 4);
        for direction in &measures.reach {
            let (reach, off) = (direction.reach.unwrap(), direction.degrees_off.unwrap());
            all += 1;
            held += usize::from(reach.low <= 0.6 && 0.6 <= reach.high);
            turned += usize::from(off.low <= 8.0 && 8.0 <= off.high);
            assert_eq!(reach.basis.repetitions, 3);
        }
    }
    // 600 intervals: four standard errors of 95 % are 3.6 %.
    for covered in [held, turned] {
        let share = f64::from(covered as u32) / f64::from(all);
        assert!((0.914..=0.986).contains(&share), "{share}");
    }
}

#[test]
fn too_few_pushes_are_not_enough() {
    let one = (Direction::Up, Position::new(0.0, 0.5));
    let other = (Direction::Left, Position::new(-0.5, 0.0));
    let two = measure(&[pushes(0.0, &[one, other], 100.0, false, still)]);
    assert_eq!(two.reach[0].reach.unwrap_err(), NotEnough::Repetitions { have: 2, need: 3 });
    assert!((two.reach[0].end.unwrap() - one.1).radius() < 0.02);
    let third = (Direction::Right, Position::new(0.5, 0.0));
    let none_repeated = measure(&[pushes(0.0, &[one, other, third], 100.0, false, still)]);
    assert_eq!(
        none_repeated.reach[0].reach.unwrap_err(),
        NotEnough::Repetitions { have: 1, need: 2 }
    );
    let mut queried = pushes(0.0, &[one, one, one, other], 100.0, false, still);
    queried.repetitions[3].queried_degrees = Some(80.0);
    let measures = measure(&[queried]);
    assert_eq!(measures.reach.len(), 1);
    assert_eq!(measures.left_out, 1);
}

/// Holds with first-order autoregressive noise of known spread: the chi-square interval on the
/// effective degrees of freedom must hold it about as often as it claims.
#[test]
fn hold_intervals_hold_the_truth() {
    let (mut held, mut all) = (0, 0);
    let keep = libm::exp(-1.0 / (0.05 * 100.0));
    for seed in 0..200 {
        let noise = normals(1000 + seed, 3 * 2 * 420);
        let records: Vec<_> = (0..3)
            .map(|index| {
                let mut path = Vec::with_capacity(420);
                let mut at = Position::ORIGIN;
                for i in 0..420 {
                    let place = 2 * (420 * index + i);
                    let fresh = Position::new(noise[place], noise[place + 1]);
                    at = at * keep + fresh * (0.02 * libm::sqrt(1.0 - keep * keep));
                    path.push(at + Position::new(0.0, 0.4));
                }
                hold(20.0 * index as f64, 4.0, 0.5, 100.0, move |at| {
                    path[(at * 100.0).round() as usize]
                })
            })
            .collect();
        let measures = measure(&records);
        assert_eq!(measures.hold.len(), 1);
        let deviation = measures.hold[0].deviation.unwrap();
        all += 1;
        held += usize::from(deviation.low <= 0.02 && 0.02 <= deviation.high);
        assert!((measures.hold[0].radius - 0.4).abs() < 0.03 && !measures.hold[0].at_gate);
    }
    // Four standard errors of 95 % of 200 are 6 %; no rest tells of slow movement here.
    assert!(held as f64 / f64::from(all) >= 0.90, "{held} of {all}");
}

#[test]
fn a_hold_at_the_end_of_travel_is_noticed() {
    let gate = hold(0.0, 4.0, 0.75, 100.0, |at| {
        Position::new(0.0, (0.98 + 0.03 * libm::sin(at * 9.0)).min(1.0))
    });
    assert!(measure(&[gate]).hold[0].at_gate);
}

#[test]
fn later_tasks_are_told_where_rest_and_reach_are() {
    let rest = quiet_rest(recording(0.0, 30.0, 100.0, false, |at| {
        Position::new(0.05 + 0.04 * libm::sin(2.0 * at), 0.02)
    }));
    let end = Position::new(0.05, 0.52);
    let reach = pushes(100.0, &[(Direction::Up, end), (Direction::Up, end)], 100.0, false, |_| {
        Position::ORIGIN
    });
    let told = known(&[rest, reach]);
    assert!((told.centre - Position::new(0.05, 0.02)).radius() < 0.005);
    // 99 % of the time a sine of 0.04 stays inside practically all of itself.
    assert!((told.quiet_radius - 0.06).abs() < 0.002, "{}", told.quiet_radius);
    assert_eq!(told.reach.len(), 1);
    assert!((told.reach[0].end - Position::new(0.0, 0.5)).radius() < 0.01);
}
