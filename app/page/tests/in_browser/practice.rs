//! The practice stick, as a model and through the input.

use fitting::{Direction, Position, StickAxes};
use page::input::{PracticeStick, Source};
use wasm_bindgen_test::wasm_bindgen_test;

use super::script::{Bench, counter, wait_ms};

/// One step of a 10-bit converter on −1..=1.
const STEP: f64 = 2.0 / 1023.0;

/// The path of the stick at 4 ms from `from`, for `seconds`.
fn path(stick: &mut PracticeStick, from: f64, seconds: f64) -> Vec<[f64; 2]> {
    let mut path = Vec::new();
    let mut at = from;
    while at < from + seconds {
        stick.advance(at);
        path.push(stick.axes());
        at += 0.004;
    }
    path
}

#[wasm_bindgen_test]
fn values_come_in_steps_of_ten_bits_and_rest_is_no_exact_zero() {
    // W3C Gamepad normalisation of 512 in 0..=1023: 2 × 512 / 1023 − 1 = 0.000977517.
    let stick = PracticeStick::default();
    assert!((stick.axes()[0] - 0.000_977_517).abs() < 1e-9);
    let mut stick = PracticeStick::default();
    for number in -60..=60 {
        stick.push(Position::new(f64::from(number) / 50.0, 0.0));
        stick.advance(f64::from(number + 60) * 0.01);
        for axis in stick.axes() {
            let code = (axis + 1.0) / STEP;
            assert!((code - code.round()).abs() < 1e-9, "{axis}");
            assert!((-1.0..=1.0).contains(&axis));
        }
    }
}

#[wasm_bindgen_test]
fn a_push_goes_where_it_is_put_inside_a_round_gate() {
    let mut stick = PracticeStick::default();
    stick.push(Position::new(0.5, 0.25));
    stick.advance(1.0);
    let [right, down] = stick.axes();
    assert!((right - 0.5).abs() <= STEP / 2.0 && (down + 0.25).abs() <= STEP / 2.0);
    stick.push(Position::new(3.0, -3.0));
    stick.advance(1.1);
    let [right, down] = stick.axes();
    let diagonal = std::f64::consts::FRAC_1_SQRT_2;
    assert!((right - diagonal).abs() <= STEP && (down - diagonal).abs() <= STEP);
    stick.push(Position::new(f64::NAN, 0.0));
    assert!(path(&mut stick, 1.1, 1.0).iter().flatten().all(|axis| axis.is_finite()));
}

#[wasm_bindgen_test]
fn held_keys_move_it_smoothly_and_letting_go_springs_back() {
    let mut stick = PracticeStick::default();
    stick.advance(0.0);
    stick.key(Direction::Right, true);
    let out = path(&mut stick, 0.0, 1.0);
    assert!(out.windows(2).all(|pair| pair[1][0] - pair[0][0] < 0.02), "no jump");
    assert!((0.2..0.6).contains(&out[50][0]), "on its way after 0.2 s: {}", out[50][0]);
    assert_eq!(out[out.len() - 1][0], 1.0, "at the end of its travel");
    stick.release();
    let back = path(&mut stick, 1.0, 0.5);
    let first_home = back.iter().position(|axes| axes[0] < 0.02).unwrap();
    assert!((20..100).contains(&first_home), "a natural return takes 0.1 to 0.4 s");
    assert!(back.iter().all(|axes| axes[0] > -0.01), "critically damped: no overshoot");
    assert!(back[back.len() - 1][0].abs() < STEP);
    // Opposite keys hold it where it is; a diagonal is two keys.
    stick.key(Direction::UpLeft, true);
    let [right, down] = path(&mut stick, 1.5, 1.0).pop().unwrap();
    assert!(right < -0.7 && down < -0.7);
}

#[wasm_bindgen_test]
fn it_can_be_told_to_stay_so_that_one_key_at_a_time_is_enough() {
    let mut stick = PracticeStick::default();
    stick.advance(0.0);
    stick.stay(true);
    stick.step(Position::new(0.0, 0.25));
    stick.step(Position::new(0.0, 0.25));
    let stayed = path(&mut stick, 0.0, 1.0).pop().unwrap();
    assert!((stayed[1] + 0.5).abs() <= STEP);
    stick.centre();
    let home = path(&mut stick, 1.0, 1.0).pop().unwrap();
    assert!(home[1].abs() < STEP);
}

#[wasm_bindgen_test]
async fn through_the_input_it_is_a_device_like_another() {
    let bench = Bench::start();
    let input = bench.input;
    assert!(input.choose(Source::Practice));
    let (changes, count) = counter();
    input.set_listener(Some(Box::new(move |_, change| {
        count.set(count.get() + u32::from(change.is_some()));
    })));
    input.measuring(true);
    wait_ms(60).await;
    assert_eq!(changes.get(), 1, "at rest it sends its state once and then nothing");
    input.practice().push(Position::new(0.6, 0.0));
    wait_ms(60).await;
    let axes = StickAxes::default();
    let at = axes.position(&input.latest().unwrap());
    assert!((at.right - 0.6).abs() <= STEP && at.up.abs() <= STEP);
    input.practice().release();
    wait_ms(500).await;
    assert!(axes.position(&input.latest().unwrap()).radius() < 2.0 * STEP);
    assert!(changes.get() > 20, "the return is a movement: {}", changes.get());
    let trail = input.trail(2.0, axes);
    assert!(trail.windows(2).all(|pair| pair[0].0 <= pair[1].0));
    assert!(trail.iter().any(|(_, at)| (at.right - 0.6).abs() <= STEP));
    input.measuring(false);
}
