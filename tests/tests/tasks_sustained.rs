//! The longer hold and the question how hard it was, played by hand.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "tests")]

mod driver;

use driver::{Driver, check_view};
use fitting::task::{
    Command, Known, KnownReach, MarkReason, Outcome, PauseCause, Phase, Prompt, TaskAsk,
};
use fitting::{Direction, Position};

const SIDES: [Direction; 2] = [Direction::Right, Direction::Left];

fn begun() -> Driver {
    let ask = TaskAsk::Sustained { directions: SIDES.to_vec(), level: 0.75, seconds: 15.0 };
    let reach = SIDES
        .map(|asked| KnownReach { asked, end: Position::polar(0.8, asked.degrees() + 20.0) })
        .to_vec();
    let mut driver = Driver::knowing(ask, Known { reach, ..Known::default() });
    driver.command(Command::Begin);
    driver
}

fn ring(driver: &Driver) -> Position {
    driver.view().target.expect("a ring is shown").at
}

/// Stays in the ring for some seconds in all, and leaves it for good.
fn hold(driver: &mut Driver, seconds: f64) {
    let at = ring(driver);
    driver.stay(seconds, at);
    driver.rest(1.6);
}

fn asks_how_hard(driver: &Driver) -> bool {
    check_view(&driver.view());
    driver.phase() == Phase::Doing && driver.view().prompt == Prompt::HowHard
}

#[test]
fn the_whole_task() {
    let mut driver = begun();
    for (step, effort) in [(1, 3), (2, 200)] {
        let asked = driver.asked().expect("a cue");
        assert_eq!(driver.view().prompt, Prompt::ToRing(asked));
        assert!((ring(&driver) - Position::polar(0.6, asked.degrees() + 20.0)).radius() < 1e-9);
        driver.rest(0.8);
        let at = ring(&driver);
        driver.stay(8.0, at);
        assert_eq!(driver.view().prompt, Prompt::StayInRing(asked));
        assert!((driver.view().hold_progress - 0.5).abs() < 0.01);
        driver.stay(7.6, at);
        assert!(asks_how_hard(&driver));
        assert_eq!((driver.view().step, driver.view().of), (step, 2));
        assert_eq!((driver.view().target, driver.view().hold_progress), (None, 0.0));
        // It waits without any limit, and offers no pause for it.
        driver.rest(500.0);
        assert!(asks_how_hard(&driver) && !driver.view().silent);
        driver.command(Command::Effort(effort));
        if step == 1 {
            assert_eq!(driver.phase(), Phase::Between);
            driver.rest(4.9);
            assert_eq!(driver.phase(), Phase::Between, "a longer rest after a longer hold");
            driver.rest_between();
        }
    }
    assert_eq!(driver.phase(), Phase::Done);
    let record = driver.finish();
    let efforts: Vec<_> = record.repetitions.iter().map(|one| one.effort).collect();
    assert_eq!(efforts, [Some(3), Some(10)]);
    for one in &record.repetitions {
        assert!(one.counts() && (one.span.seconds() - 15.0).abs() < 0.01, "{one:?}");
    }
    // One is asked for longer than that only by mistake.
    let ask = TaskAsk::Sustained { directions: SIDES.to_vec(), level: 0.75, seconds: 1e9 };
    assert!(matches!(ask.sound(), TaskAsk::Sustained { seconds: 20.0, .. }));
}

#[test]
fn leaving_the_ring_ends_it_without_failing() {
    let mut driver = begun();
    hold(&mut driver, 7.5);
    assert!(asks_how_hard(&driver));
    driver.command(Command::Next);
    assert_eq!(driver.phase(), Phase::Between, "next to the question is not next to the rest");
    driver.rest_between();
    // A slip and a jerk of a second do not end it, and next does.
    let at = ring(&driver);
    driver.stay(3.0, at);
    driver.rest(1.0);
    driver.stay(2.5, at);
    driver.command(Command::Next);
    assert!(asks_how_hard(&driver));
    driver.command(Command::Skip);
    assert_eq!(driver.phase(), Phase::Done);
    let record = driver.finish();
    let seconds: Vec<f64> = record.repetitions.iter().map(|one| one.span.seconds()).collect();
    assert!((seconds[0] - 7.0).abs() < 0.01 && (seconds[1] - 6.0).abs() < 0.01, "{seconds:?}");
    assert!(record.repetitions.iter().all(|one| one.counts() && one.effort.is_none()));
}

#[test]
fn without_a_stay_nothing_is_asked_afterwards() {
    let mut driver = begun();
    // Through the ring and back, and it goes on asking.
    hold(&mut driver, 1.2);
    assert!(matches!(driver.view().prompt, Prompt::ToRing(_)));
    driver.rest(20.0);
    assert!(driver.view().silent);
    driver.command(Command::Next);
    assert_eq!(driver.phase(), Phase::Between);
    driver.rest_between();
    driver.command(Command::Skip);
    assert_eq!(driver.phase(), Phase::Done);
    let record = driver.finish();
    assert!(record.repetitions.iter().all(|one| one.outcome == Outcome::Skipped));
}

#[test]
fn the_question_survives_a_pause_and_is_answered_in_it() {
    let mut driver = begun();
    hold(&mut driver, 5.0);
    driver.command(Command::Pause(PauseCause::Asked));
    driver.now += 60.0;
    driver.command(Command::GoOn);
    assert!(asks_how_hard(&driver));
    driver.command(Command::Pause(PauseCause::PageHidden));
    driver.now += 60.0;
    driver.command(Command::Effort(4));
    assert_eq!(
        (driver.phase(), driver.view().paused),
        (Phase::Between, Some(PauseCause::PageHidden))
    );
    driver.command(Command::GoOn);
    driver.rest_between();
    hold(&mut driver, 5.0);
    driver.command(Command::Pause(PauseCause::Asked));
    driver.command(Command::Effort(6));
    assert_eq!(driver.phase(), Phase::Done);
    // An answer may be told anew as long as it is the last; a mark asks for one more.
    driver.command(Command::Effort(5));
    driver.command(Command::Mark(MarkReason::Spasm));
    driver.command(Command::GoOn);
    driver.rest_between();
    assert!(driver.asked().is_some());
    driver.command(Command::Effort(9));
    let record = driver.finish();
    let efforts: Vec<_> = record.repetitions.iter().map(|one| one.effort).collect();
    assert_eq!(efforts, [Some(4), Some(5), None]);
    assert_eq!(record.pauses.len(), 3);
}

#[test]
fn again_asks_for_the_hold_once_more_and_pain_does_not() {
    let mut driver = begun();
    let asked = driver.asked();
    hold(&mut driver, 4.0);
    driver.command(Command::Again);
    assert_eq!((driver.phase(), driver.view().step), (Phase::Between, 1));
    driver.rest_between();
    assert_eq!(driver.asked(), asked);
    hold(&mut driver, 4.0);
    driver.command(Command::Mark(MarkReason::Distracted));
    assert_eq!(driver.view().of, 3);
    assert!(asks_how_hard(&driver), "a mark leaves the question open");
    driver.command(Command::Mark(MarkReason::Pain));
    assert_eq!(driver.view().of, 2, "what hurt is not asked for again");
    driver.command(Command::Effort(8));
    driver.rest_between();
    // Stopped half-way: what was kept stays, and does not count.
    let at = ring(&driver);
    driver.stay(6.5, at);
    driver.command(Command::Stop);
    let record = driver.finish();
    let outcomes: Vec<Outcome> = record.repetitions.iter().map(|one| one.outcome).collect();
    assert_eq!(outcomes, [Outcome::AskedAgain, Outcome::Done, Outcome::CutShort]);
    assert_eq!(record.repetitions[1].effort, Some(8));
    assert!((record.repetitions[2].span.seconds() - 6.0).abs() < 0.01);
}

#[test]
fn stopping_at_the_question_leaves_the_hold() {
    let mut driver = begun();
    hold(&mut driver, 9.0);
    driver.command(Command::Stop);
    let record = driver.finish();
    assert_eq!(record.repetitions.len(), 1);
    assert!(record.repetitions[0].counts() && record.repetitions[0].effort.is_none());
}

#[test]
fn an_effort_nobody_asked_for_changes_nothing() {
    let mut driver = begun();
    driver.command(Command::Effort(5));
    assert!(driver.asked().is_some());
    let ready = TaskAsk::Sustained { directions: SIDES.to_vec(), level: 0.5, seconds: 5.0 };
    for ask in [ready, TaskAsk::QuietRest { seconds: 5.0 }] {
        let mut driver = Driver::ready(ask);
        driver.command(Command::Effort(5));
        assert_eq!(driver.phase(), Phase::Ready);
    }
    let mut driver = Driver::begun(TaskAsk::Reach { directions: SIDES.to_vec(), rounds: 1 });
    driver.push_as_asked();
    driver.command(Command::Effort(5));
    assert_eq!(driver.phase(), Phase::Between);
    assert!(driver.finish().repetitions[0].effort.is_none());
}
