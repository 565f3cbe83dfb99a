use super::*;
use crate::gamepad::normalise;
use crate::hidden_middle::observed_reshaping;
use fitting::measure::OBSERVED_CUT;
use proptest::prelude::*;

/// A stick whose raw reports come every 8 ms, and a browser that looks every 4 ms and shows what
/// was reported some time before.
struct Bench {
    bits: u32,
    lag_ms: f64,
    /// The raw reports come later than they were made.
    raw_late_ms: f64,
    /// Now and then the browser is late by this much more.
    late_ms: f64,
    /// A change smaller than this, share of travel, is not taken in (observed for 16 bits, Chromium
    /// 156 on Linux: 127 counts, which is 0.004).
    sticky: f64,
    reshape: fn(f64, f64, f64) -> f64,
    middle: f64,
    end: f64,
}

fn plain(push: f64, middle: f64, end: f64) -> f64 {
    let shown = ((push.abs() - middle) / (1.0 - middle - end)).clamp(0.0, 1.0);
    shown.copysign(push)
}

impl Bench {
    fn new(bits: u32, middle: f64, end: f64) -> Self {
        Self {
            bits,
            lag_ms: 12.0,
            raw_late_ms: 0.0,
            late_ms: 0.0,
            sticky: 0.0,
            reshape: plain,
            middle,
            end,
        }
    }

    fn raw_at(&self, path: &dyn Fn(f64) -> f64, at_ms: f64) -> f64 {
        let top = f64::from((1_u32 << self.bits) - 1);
        let report_ms = (at_ms / 8.0).floor() * 8.0;
        let code = ((path(report_ms).clamp(-1.0, 1.0) + 1.0) / 2.0 * top).round();
        normalise(code, 0.0, top)
    }

    fn run(&self, path: &dyn Fn(f64) -> f64, long_ms: f64) -> RawAndShown {
        let mut pairs = RawAndShown::default();
        let (mut last_raw, mut last_shown, mut held) = (f64::NAN, f64::NAN, f64::NAN);
        for step in 0..(long_ms / 4.0) as usize {
            let now = 1000.0 + step as f64 * 4.0;
            let raw = self.raw_at(path, now - self.raw_late_ms);
            if step % 2 == 0 && raw != last_raw {
                pairs.raw(now, raw);
                last_raw = raw;
            }
            let late = if step % 97 < 5 { self.late_ms } else { 0.0 };
            // The lag changes from look to look.
            let lag = self.lag_ms * (0.25 + 0.75 * ((step * 7919 % 13) as f64 / 12.0)) + late;
            let seen = self.raw_at(path, now - lag);
            if held.is_nan() || (seen - held).abs() >= self.sticky {
                held = seen;
            }
            let shown = (self.reshape)(held, self.middle, self.end);
            if shown != last_shown {
                pairs.shown(now, shown);
                last_shown = shown;
            }
        }
        pairs
    }
}

/// From end to end and back, again and again, at this pace: share of the travel to one side in a
/// second.
fn sweep(pace: f64) -> impl Fn(f64) -> f64 {
    move |at_ms: f64| {
        let gone = (at_ms * pace / 1000.0).rem_euclid(4.0);
        if gone < 2.0 { gone - 1.0 } else { 3.0 - gone }
    }
}

fn holds(found: Result<Hidden, Lack>, truth: f64, within: f64) {
    let Ok(Hidden::Band { share, least, most }) = found else { panic!("{found:?}, not {truth}") };
    assert!((share - truth).abs() <= within, "{found:?}, not {truth}");
    assert!(least - 1e-9 <= truth && truth <= most + 1e-9, "{found:?} leaves out {truth}");
}

fn none(found: Result<Hidden, Lack>) {
    assert!(matches!(found, Ok(Hidden::None { most }) if most <= 0.04), "{found:?}");
}

/// The figures observed (Chromium 156 on Linux): an eighth in the middle, an eighth at each end.
#[test]
fn the_observed_reshaping_is_found() {
    for bits in [8, 10, 12, 16] {
        let bench =
            Bench { reshape: |push, _, _| observed_reshaping(push), ..Bench::new(bits, 0.0, 0.0) };
        let findings = bench.run(&sweep(0.25), 40_000.0).findings();
        for side in [findings.negative, findings.positive] {
            holds(side.middle, OBSERVED_CUT, 0.01);
            holds(side.end, OBSERVED_CUT, 0.01);
        }
        let step = 2.0 / (f64::from(1_u32 << bits) - 1.0);
        if bits == 8 {
            let side = findings.positive;
            assert!((side.raw_step.unwrap() - step).abs() < 1e-9, "{:?}", side.raw_step);
            assert!((side.shown_step.unwrap() - step / 0.75).abs() < 1e-9);
        }
    }
}

#[test]
fn a_stick_shown_as_it_is_has_nothing_hidden() {
    for bits in [8, 16] {
        let findings = Bench::new(bits, 0.0, 0.0).run(&sweep(0.25), 40_000.0).findings();
        for side in [findings.negative, findings.positive] {
            none(side.middle);
            none(side.end);
            assert_eq!(side.raw_step.is_ok(), side.shown_step.is_ok());
        }
    }
}

#[test]
fn too_little_is_not_enough_and_says_what_is_missing() {
    let nothing = RawAndShown::default().findings();
    for side in [nothing.negative, nothing.positive] {
        assert_eq!(side.middle, Err(Lack::NothingSteady));
        assert_eq!(side.end, Err(Lack::NothingSteady));
        assert_eq!(side.raw_step, Err(Lack::TooFewValues { seen: 0 }));
    }
    let bench = Bench::new(10, 0.125, 0.125);
    // Within the hidden middle only.
    let inside = bench.run(&|at| 0.1 * sweep(1.0)(at), 20_000.0).findings().positive;
    assert!(matches!(inside.middle, Err(Lack::NotFarEnough { needed, .. }) if needed > 0.19));
    // Hardly out of it.
    let hardly = bench.run(&|at| 0.17 * sweep(1.0)(at), 20_000.0).findings().positive;
    assert!(matches!(hardly.middle, Err(Lack::NotFarEnough { swept, .. }) if swept > 0.15));
    // To a third: the middle is known, the end is not.
    let third = bench.run(&|at| 0.33 * sweep(1.0)(at), 20_000.0).findings().positive;
    holds(third.middle, 0.125, 0.015);
    assert!(matches!(third.end, Err(Lack::NotFarEnough { needed: 0.98, swept }) if swept < 0.34));
    // To one side only.
    let one = bench.run(&|at| sweep(0.25)(at).abs(), 40_000.0).findings();
    holds(one.positive.end, 0.125, 0.015);
    assert!(one.negative.end.is_err());
    // Held in the middle and at the end, and thrown from one to the other.
    let thrown = bench.run(&|at| f64::from(at % 2000.0 > 1000.0), 20_000.0).findings().positive;
    assert!(matches!(thrown.middle, Err(Lack::PassedTooFast { to, .. }) if to > 0.9), "{thrown:?}");
    assert!(matches!(thrown.end, Err(Lack::PassedTooFast { from, .. }) if from < 0.1));
    // Never slow.
    let fast = bench.run(&sweep(4.0), 20_000.0).findings().positive;
    assert!(fast.middle.is_err() && fast.end.is_err(), "{fast:?}");
}

#[test]
fn late_values_a_long_rest_and_pauses_move_no_edge() {
    let bench = Bench { late_ms: 90.0, ..Bench::new(8, 0.125, 0.125) };
    let path = |at: f64| if at < 61_000.0 { 0.004 } else { sweep(0.2)(at) };
    let mut pairs = bench.run(&path, 110_000.0);
    holds(pairs.findings().positive.middle, 0.125, 0.015);
    holds(pairs.findings().negative.end, 0.125, 0.015);
    let before = pairs.findings();
    // Ten minutes in which nobody looked, then another place.
    pairs.pause(111_100.0);
    pairs.raw(711_000.0, 0.9);
    pairs.shown(711_004.0, 0.0);
    let after = pairs.findings();
    assert_eq!(after.positive.middle, before.positive.middle);
    pairs.raw(f64::NAN, 0.5);
    pairs.shown(712_000.0, f64::INFINITY);
    assert_eq!(pairs.findings(), after);
}

#[test]
fn overtaken_values_are_put_in_order() {
    let path = sweep(0.25);
    let bench = Bench::new(8, 0.2, 0.1);
    let mut shuffled = RawAndShown::default();
    let mut events = Vec::new();
    for step in 0..4000_u32 {
        let now = f64::from(step) * 8.0;
        let raw = bench.raw_at(&path, now);
        events.push((now + f64::from(step % 3) * 15.0, now, true, raw));
        events.push((now + 2.0, now + 1.0, false, plain(raw, 0.2, 0.1)));
    }
    events.sort_by(|one, other| one.0.total_cmp(&other.0));
    for (_, stamp, is_raw, share) in events {
        if is_raw { shuffled.raw(stamp, share) } else { shuffled.shown(stamp, share) }
    }
    holds(shuffled.findings().positive.middle, 0.2, 0.015);
    holds(shuffled.findings().negative.end, 0.1, 0.015);
}

/// From end to end and back as `sweep`, then out in small steps to both sides, each held for so long.
fn steps_after_sweeps(hold_ms: f64) -> impl Fn(f64) -> f64 {
    move |at_ms: f64| {
        let gone = at_ms - 20_000.0;
        if gone < 0.0 {
            return sweep(0.25)(at_ms);
        }
        let step = (gone / hold_ms).floor() % 80.0;
        let side = if step < 40.0 { 1.0 } else { -1.0 };
        side * 0.01 * (step % 40.0)
    }
}

/// Observed on a slow machine: the raw reports queued up for 0.2 to 1.4 s, and 3 % to 17 % was read where
/// 12.5 % was hidden.
#[test]
fn reports_that_come_late_are_noticed_and_move_no_edge() {
    for raw_late_ms in [0.0, 60.0, 120.0, 240.0, 520.0, 1140.0, 1400.0] {
        let bench = Bench { raw_late_ms, ..Bench::new(8, 0.125, 0.125) };
        let swept = bench.run(&sweep(0.25), 60_000.0);
        let late_ms = swept.late().map_or(0.0, |late| late.late_seconds * 1000.0);
        assert!((late_ms - 1.5 * raw_late_ms).abs() <= 31.0, "{late_ms} found, {raw_late_ms} late");
        for side in [swept.findings().negative, swept.findings().positive] {
            if let Ok(Hidden::Band { .. }) = side.middle {
                holds(side.middle, 0.125, 0.03);
            }
        }
        let hold_ms = 2.0 * late_ms.max(50.0) + 400.0;
        let stepped = bench.run(&steps_after_sweeps(hold_ms), 20_000.0 + 80.0 * hold_ms).findings();
        for side in [stepped.negative, stepped.positive] {
            holds(side.middle, 0.125, 0.02);
        }
    }
}

/// A queue that comes and goes, within the minute and after it.
#[test]
fn a_machine_that_is_busy_for_a_while_is_late_no_longer_than_a_minute_after() {
    let mut pairs = RawAndShown::default();
    let late_at = |at_ms: f64| if (20_000.0..40_000.0).contains(&at_ms) { 480.0 } else { 0.0 };
    let path = sweep(0.25);
    let late_after = |pairs: &mut RawAndShown, from_ms: f64, to_ms: f64| {
        let mut at_ms = from_ms;
        while at_ms < to_ms {
            pairs.raw(at_ms, path(at_ms - late_at(at_ms)));
            pairs.shown(at_ms + 1.0, plain(path(at_ms - 12.0), 0.125, 0.125));
            at_ms += 8.0;
        }
        pairs.late()
    };
    assert_eq!(late_after(&mut pairs, 0.0, 20_000.0), None);
    let busy = late_after(&mut pairs, 20_000.0, 40_000.0).expect("it is late");
    assert!((busy.late_seconds - 0.72).abs() < 0.04, "{busy:?}");
    // 40 ms and twice 720 ms before it counts, half a second counted.
    assert_eq!(busy.stay_seconds, 2.0);
    let edge = |pairs: &RawAndShown| pairs.findings().positive.middle;
    assert_eq!(late_after(&mut pairs, 40_000.0, 80_000.0), Some(busy));
    assert_eq!(late_after(&mut pairs, 80_000.0, 130_000.0), None);
    holds(edge(&pairs), 0.125, 0.02);
}

/// Who hardly moves sees nothing of a queue, and has to go on holding still.
#[test]
fn that_reports_are_late_no_longer_has_to_show() {
    let mut pairs = RawAndShown::default();
    let swept = sweep(0.25);
    let path = |at_ms: f64| {
        if at_ms < 40_000.0 { swept(at_ms) } else { 0.3 + 0.01 * libm::sin(at_ms / 900.0) }
    };
    let mut at_ms = 0.0;
    while at_ms < 160_000.0 {
        pairs.raw(at_ms, path(at_ms - 480.0));
        pairs.shown(at_ms + 1.0, plain(path(at_ms - 12.0), 0.125, 0.125));
        at_ms += 8.0;
    }
    let late = pairs.late().expect("it is late");
    assert!((late.late_seconds - 0.72).abs() < 0.04, "{late:?}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, ..ProptestConfig::default() })]

    #[test]
    fn any_reshaping_is_found_whatever_the_lag(
        bits in 7..17_u32,
        middle in 0.04..0.4_f64,
        end in 0.04..0.3_f64,
        lag_ms in 0.0..20.0_f64,
        late_ms in 0.0..18.0_f64,
        pace in 0.1..0.4_f64,
        sticky in 0.0..0.005_f64,
    ) {
        let bench = Bench { lag_ms, late_ms, sticky, ..Bench::new(bits, middle, end) };
        let findings = bench.run(&sweep(pace), 60_000.0).findings();
        for side in [findings.negative, findings.positive] {
            holds(side.middle, middle, 0.02);
            holds(side.end, end, 0.02);
        }
    }

    #[test]
    fn any_numbers_are_taken(
        numbers in proptest::collection::vec((any::<f64>(), any::<f64>(), 0..3_u8), 0..200),
    ) {
        let mut pairs = RawAndShown::default();
        for (at, share, what) in numbers {
            match what {
                0 => pairs.raw(at, share),
                1 => pairs.shown(at, share),
                _ => pairs.pause(at),
            }
        }
        for side in [pairs.findings().negative, pairs.findings().positive] {
            for found in [side.middle, side.end] {
                if let Ok(Hidden::Band { share, least, most }) = found {
                    prop_assert!(least <= share && share <= most && most.is_finite());
                }
            }
        }
    }
}
