//! The return task, played by hand.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "tests")]

mod driver;

use driver::{Driver, check_view};
use fitting::task::{
    Command, Known, KnownReach, MarkReason, Outcome, PauseCause, Phase, Prompt, TaskAsk,
};
use fitting::{Direction, Position};

fn begun() -> Driver {
    let directions = vec![Direction::Up, Direction::Left];
    let reach = directions
        .iter()
        .map(|asked| KnownReach { asked: *asked, end: Position::polar(0.8, asked.degrees()) })
        .collect();
    let ask = TaskAsk::Return { directions, level: 0.5, rounds: 2 };
    let centre = Position::new(0.02, -0.01);
    let mut driver = Driver::knowing(ask, Known { reach, centre, ..Known::default() });
    driver.command(Command::Begin);
    driver
}

/// Out into the ring until letting go is asked; the way back.
fn out(driver: &mut Driver) -> Position {
    driver.rest(0.3);
    let at = driver.view().target.expect("a ring is shown").at;
    driver.stay(0.6, at);
    assert!(matches!(driver.view().prompt, Prompt::StayInRing(_)));
    driver.stay(0.42, at);
    let asked = driver.asked().expect("a cue");
    assert_eq!(driver.view().prompt, Prompt::LetGo(asked));
    check_view(&driver.view());
    assert_eq!((driver.view().target, driver.view().hold_progress), (None, 0.0));
    at
}

/// Lets go after a reaction time, comes back to `rests` in 0.3 s and rests for 1.4 s.
fn back(driver: &mut Driver, from: Position, rests: Position) {
    driver.stay(0.4, from);
    for step in 1..=75 {
        driver.poll(from + (rests - from) * (f64::from(step) / 75.0));
    }
    driver.stay(1.4, rests);
}

#[test]
fn the_whole_task() {
    let mut driver = begun();
    for step in 1..=4 {
        assert_eq!((driver.view().step, driver.view().of), (step, 4));
        let asked = driver.asked().expect("a cue");
        assert_eq!(driver.view().prompt, Prompt::ToRing(asked));
        let at = out(&mut driver);
        back(&mut driver, at, Position::new(0.02, -0.01));
        driver.rest_between();
    }
    assert_eq!(driver.phase(), Phase::Done);
    let record = driver.finish();
    assert!((record.muscle_seconds / 4.0 - 1.7).abs() < 0.1, "{}", record.muscle_seconds);
    for one in &record.repetitions {
        assert!(one.counts() && one.direction.is_some() && one.level == Some(0.5));
        // 0.4 s of reaction, 0.3 s of the way (the last of which is little), a second of rest.
        assert!((1.5..1.71).contains(&one.span.seconds()), "{one:?}");
    }
}

#[test]
fn a_sagging_spring_ends_it_off_centre_and_says_where() {
    let mut driver = begun();
    let at = out(&mut driver);
    let rests = at * 0.45;
    back(&mut driver, at, rests);
    assert_eq!(driver.phase(), Phase::Doing);
    driver.stay(0.6, rests);
    assert_eq!(driver.phase(), Phase::Between);
    let record = driver.finish();
    let span = record.repetitions[0].span;
    let trace = fitting::Trace::of(&record.recording, record.axes);
    let last = trace.within(span).pieces.last().expect("a path").at;
    assert!((last - rests).radius() < 1e-9);
    assert!((2.3..2.71).contains(&span.seconds()), "{span:?}");
}

#[test]
fn nothing_fails_for_being_slow_and_next_takes_it() {
    let mut driver = begun();
    let at = out(&mut driver);
    // The hand does not open for half a minute; a pause is offered.
    driver.stay(30.0, at);
    assert_eq!(driver.phase(), Phase::Doing);
    assert!(driver.view().silent);
    back(&mut driver, at, Position::ORIGIN);
    assert_eq!(driver.phase(), Phase::Between);
    driver.rest_between();
    // One who rocks too much ever to be at rest: next takes what there was.
    out(&mut driver);
    for tick in 0..5000 {
        let swing = 0.25 * libm::sin(0.1 * f64::from(tick));
        driver.poll(Position::new(swing, 0.0));
    }
    assert_eq!(driver.phase(), Phase::Doing);
    driver.command(Command::Next);
    driver.rest_between();
    // One that stays in the ring was no way back.
    let stays = out(&mut driver);
    driver.stay(1.0, stays);
    driver.command(Command::Next);
    driver.rest_between();
    // And one that never got there neither.
    driver.rest(3.0);
    driver.command(Command::Next);
    let outcomes: Vec<Outcome> =
        driver.finish().repetitions.iter().map(|one| one.outcome).collect();
    use Outcome::{Done, Skipped};
    assert_eq!(outcomes, [Done, Done, Skipped, Skipped]);
}

#[test]
fn again_skip_mark_pause_and_stop() {
    let mut driver = begun();
    let asked = driver.asked().expect("a cue");
    let at = out(&mut driver);
    driver.command(Command::Again);
    driver.rest_between();
    assert_eq!(driver.asked(), Some(asked));
    out(&mut driver);
    driver.command(Command::Pause(PauseCause::Asked));
    driver.now += 20.0;
    driver.command(Command::GoOn);
    driver.rest_between();
    assert!(matches!(driver.view().prompt, Prompt::ToRing(way) if way == asked));
    out(&mut driver);
    driver.command(Command::Mark(MarkReason::Spasm));
    back(&mut driver, at, Position::ORIGIN);
    assert_eq!(driver.view().of, 5, "a marked one is asked once more");
    driver.rest_between();
    driver.command(Command::Skip);
    driver.rest_between();
    out(&mut driver);
    driver.command(Command::Stop);
    let record = driver.finish();
    let outcomes: Vec<Outcome> = record.repetitions.iter().map(|one| one.outcome).collect();
    use Outcome::{AskedAgain, CutShort, Done, Skipped};
    assert_eq!(outcomes, [AskedAgain, CutShort, Done, Skipped, CutShort]);
    assert_eq!(record.repetitions.iter().filter(|one| one.counts()).count(), 0);
}
