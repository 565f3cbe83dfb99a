//! The hold task, played by hand.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "tests")]

mod driver;

use driver::Driver;
use fitting::task::{
    Command, Known, KnownReach, MarkReason, Outcome, PauseCause, Phase, Prompt, TaskAsk,
};
use fitting::{Direction, Position};

fn ask() -> TaskAsk {
    TaskAsk::Hold {
        directions: vec![Direction::Right, Direction::Left],
        levels: vec![0.25, 0.5],
        rounds: 1,
        seconds: 3.0,
    }
}

/// A person who reaches 0.8 to both sides, turned by 20 degrees, about a centre off the middle.
fn known() -> Known {
    let end = |asked: Direction| Position::polar(0.8, asked.degrees() + 20.0);
    Known {
        centre: Position::new(0.05, 0.0),
        quiet_radius: 0.08,
        reach: [Direction::Right, Direction::Left]
            .map(|asked| KnownReach { asked, end: end(asked) })
            .to_vec(),
        ..Known::default()
    }
}

fn begun() -> Driver {
    let mut driver = Driver::knowing(ask(), known());
    driver.command(Command::Begin);
    driver
}

fn ring(driver: &Driver) -> Position {
    driver.view().target.expect("a ring is shown").at
}

#[test]
fn the_whole_task() {
    let mut driver = begun();
    assert!(matches!(driver.view().prompt, Prompt::ToRing(_)));
    for step in 1..=4 {
        let asked = driver.asked().expect("a cue");
        let level = if step <= 2 { 0.25 } else { 0.5 };
        let expected = known().centre + Position::polar(0.8 * level, asked.degrees() + 20.0);
        assert!((ring(&driver) - expected).radius() < 1e-9, "{step}");
        driver.rest(0.5);
        let at = ring(&driver);
        driver.stay(2.0, at);
        assert!(matches!(driver.view().prompt, Prompt::StayInRing(_)));
        assert!((driver.view().hold_progress - 0.5).abs() < 0.02);
        driver.stay(1.6, at);
        assert_ne!(driver.phase(), Phase::Doing);
        assert_eq!((driver.view().prompt, driver.view().target), (Prompt::ComeBack, None));
        driver.rest_between();
    }
    assert_eq!(driver.phase(), Phase::Done);
    let record = driver.finish();
    assert_eq!(record.repetitions.len(), 4);
    for repetition in &record.repetitions {
        assert!(repetition.counts());
        assert!((repetition.span.seconds() - 3.0).abs() < 0.01, "{repetition:?}");
    }
}

#[test]
fn without_any_reach_known_it_still_works() {
    let mut driver = Driver::begun(ask());
    let at = ring(&driver);
    assert!((at.radius() - 0.125).abs() < 1e-9);
    driver.stay(3.7, at);
    assert_eq!(driver.phase(), Phase::Between);
    assert!(driver.finish().repetitions[0].counts());
}

#[test]
fn slow_people_keep_trying_and_next_takes_the_longest_stay() {
    let mut driver = begun();
    for _ in 0..40 {
        let at = ring(&driver);
        driver.stay(1.0, at);
        driver.rest(3.0);
    }
    let at = ring(&driver);
    driver.stay(2.2, at);
    driver.rest(1.0);
    assert_eq!(driver.phase(), Phase::Doing);
    driver.command(Command::Next);
    driver.rest_between();
    // The second: never long enough.
    let at = ring(&driver);
    driver.stay(1.0, at);
    driver.rest(1.0);
    driver.command(Command::Next);
    driver.rest_between();
    // The third: nothing at all.
    driver.rest(1.0);
    driver.command(Command::Next);
    let record = driver.finish();
    assert_eq!(record.repetitions[0].outcome, Outcome::Done);
    assert!((record.repetitions[0].span.seconds() - 1.7).abs() < 0.01);
    assert_eq!(record.repetitions[1].outcome, Outcome::Skipped);
    assert!((record.repetitions[1].span.seconds() - 0.5).abs() < 0.01);
    assert_eq!(record.repetitions[2].outcome, Outcome::Skipped);
}

#[test]
fn again_skip_mark_and_pause() {
    let mut driver = begun();
    let asked = driver.asked().expect("a cue");
    driver.rest(0.5);
    driver.command(Command::Again);
    driver.rest_between();
    assert_eq!(driver.asked(), Some(asked));
    let at = ring(&driver);
    driver.stay(2.0, at);
    driver.command(Command::Pause(PauseCause::DeviceGone));
    driver.rest(10.0);
    driver.command(Command::GoOn);
    driver.rest_between();
    assert_eq!((driver.asked(), driver.view().hold_progress), (Some(asked), 0.0));
    driver.command(Command::Mark(MarkReason::Distracted));
    driver.stay(3.7, ring(&driver));
    assert_eq!(driver.view().of, 5);
    driver.rest_between();
    driver.command(Command::Skip);
    assert_eq!(driver.phase(), Phase::Between);
    let outcomes: Vec<Outcome> =
        driver.finish().repetitions.iter().map(|one| one.outcome).collect();
    assert_eq!(outcomes, [Outcome::AskedAgain, Outcome::CutShort, Outcome::Done, Outcome::Skipped]);
}

#[test]
fn silence_is_noticed_only_while_a_push_is_asked() {
    let mut driver = begun();
    driver.rest(21.0);
    assert!(driver.view().silent);
    driver.stay(1.0, ring(&driver));
    assert!(!driver.view().silent);
}

#[test]
fn stopping_in_a_hold_cuts_it_short() {
    let mut driver = begun();
    let at = ring(&driver);
    driver.stay(2.5, at);
    driver.command(Command::Stop);
    let record = driver.finish();
    assert_eq!(record.repetitions[0].outcome, Outcome::CutShort);
    assert!((record.repetitions[0].span.seconds() - 2.0).abs() < 0.01);
}
