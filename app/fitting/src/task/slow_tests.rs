//! Slow people and slow machines, from the cue to the figure.

use super::{Command, Known, Outcome, Phase, Prompt, TaskAsk, TaskRecord, TaskRun};
use crate::measure::measure;
use crate::{Direction, Sample, StickAxes};

/// Three pushes upwards of somebody who goes `way` (seconds since the cue to share of travel), and
/// comes back as soon as it is said. `looks_after` is how long after a moment of a push (seconds
/// since the cue, and which push) the machine looks next.
fn play(way: impl Fn(f64) -> f64, looks_after: impl Fn(f64, usize) -> f64) -> TaskRecord {
    let sample = |arrival_seconds: f64, up: f64| Sample {
        arrival_seconds,
        axes: vec![0.0, -up],
        buttons: Vec::new(),
    };
    let ask = TaskAsk::Reach { directions: vec![Direction::Up], rounds: 3 };
    let first = sample(0.0, 0.0);
    let mut run = TaskRun::start(ask, StickAxes::default(), Known::default(), 0.0, &first);
    run.command(0.0, Command::Begin);
    let (mut now, mut cue, mut push) = (0.0, 0.0, 0);
    let mut back: Option<(f64, f64)> = None;
    let mut is_out = false;
    while run.view().phase != Phase::Done {
        assert!(now < 600.0, "it never ends");
        let asked = run.view().prompt == Prompt::Push(Direction::Up);
        if asked && !is_out {
            (cue, push, back, is_out) = (now, push + 1, None, true);
        }
        let out = way(now - cue);
        if !asked && is_out {
            (back, is_out) = (Some((now, out)), false);
        }
        let at = match back {
            Some((since, from)) => from * (1.0 - (now - since) / 0.4).max(0.0),
            None if is_out => out,
            None => 0.0,
        };
        run.poll(now, Some(&sample(now, at)));
        now += looks_after(now - cue, push);
    }
    run.finish()
}

/// Minimum jerk (Flash and Hogan 1985) over so many seconds.
fn smooth(now: f64, seconds: f64) -> f64 {
    let time = (now / seconds).clamp(0.0, 1.0);
    time * time * time * (10.0 + time * (-15.0 + 6.0 * time))
}

/// The reach that is told of these pushes.
fn told(way: impl Fn(f64) -> f64) -> f64 {
    let record = play(way, |_, _| 0.004);
    assert_eq!(record.counting().count(), 3);
    measure(&[record]).reach.remove(0).reach.expect("a reach").value
}

#[test]
fn slow_pushes_lose_no_reach() {
    for radius in [0.3, 0.8] {
        let is_near = |name: &str, reach: f64| {
            assert!((reach / radius - 1.0).abs() < 0.03, "{name}: {reach} of {radius}");
        };
        for seconds in [0.5, 1.0, 2.0, 4.0, 8.0, 12.0] {
            is_near("smooth", told(|now| radius * smooth(now, seconds)));
        }
        for (size, hertz) in [(0.04, 3.0), (0.06, 5.0), (0.06, 8.0)] {
            let tremor = |now: f64| size * libm::sin(std::f64::consts::TAU * hertz * now);
            is_near(
                "trembling",
                told(|now| radius * ((now / 2.0).min(1.0) + tremor(now)).max(0.0)),
            );
        }
        let in_parts =
            |now: f64| (0..4).map(|i| smooth(now - 1.4 * f64::from(i), 0.7)).sum::<f64>();
        is_near("in parts", told(|now| radius * 0.25 * in_parts(now)));
        let spasm =
            |now: f64| libm::sin(std::f64::consts::PI * ((now - 1.2) / 0.3).clamp(0.0, 1.0));
        is_near("a spasm", told(|now| radius * (smooth(now, 4.0) + 0.5 * spasm(now))));
        let sags = |now: f64| 1.0 - 0.02 * (now - 1.0).clamp(0.0, 2.0);
        is_near("sags", told(|now| radius * smooth(now, 1.0) * sags(now)));
    }
}

/// Out at 0.5 s, and there until it is called back.
fn usual(now: f64) -> f64 {
    0.7 * smooth(now, 0.5)
}

#[test]
fn a_push_that_nobody_saw_is_asked_again() {
    // The first push lies in a gap of two seconds.
    let record = play(
        usual,
        |since, push| {
            if push == 1 && (0.25..0.3).contains(&since) { 2.0 } else { 0.004 }
        },
    );
    let outcomes: Vec<Outcome> = record.repetitions.iter().map(|one| one.outcome).collect();
    assert_eq!(outcomes, [Outcome::AskedAgain, Outcome::Done, Outcome::Done, Outcome::Done]);
    let up = measure(&[record]).reach.remove(0);
    let reach = up.reach.expect("a reach");
    assert!(up.ends.len() == 3 && (reach.value - 0.7).abs() < 0.02, "{up:?}");
}

#[test]
fn a_machine_that_is_too_slow_counts_no_push_and_says_so() {
    for between in [0.02, 0.1, 0.4] {
        let record = play(usual, |_, _| between);
        assert_eq!(record.counting().count(), 0, "{between}");
        // Nobody pushes in vain for ever.
        assert_eq!(record.repetitions.len(), 6, "{between}");
        let measures = measure(&[record]);
        assert!(measures.reach.is_empty());
        assert!(measures.little_watched[0].share < 0.01, "{:?}", measures.little_watched);
    }
    assert!(measure(&[play(usual, |_, _| 0.004)]).little_watched.is_empty());
}
