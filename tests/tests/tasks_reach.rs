//! The reach task, played by hand.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "tests")]

mod driver;

use driver::Driver;
use fitting::task::{
    Command, MarkReason, Outcome, PauseCause, Phase, Prompt, Query, TaskAsk, TaskRecord,
};
use fitting::{Direction, Position};

fn ask(rounds: usize) -> TaskAsk {
    TaskAsk::Reach { directions: Direction::FOUR.to_vec(), rounds }
}

fn outcomes(record: &TaskRecord) -> Vec<Outcome> {
    record.repetitions.iter().map(|one| one.outcome).collect()
}

#[test]
fn the_whole_task_at_a_middling_pace() {
    let mut driver = Driver::begun(ask(2));
    let first = driver.asked().expect("the first cue comes at once");
    assert_eq!((driver.view().step, driver.view().of), (1, 8));
    driver.push_as_asked();
    assert_eq!(driver.phase(), Phase::Between);
    let push = driver.view().push.expect("the last push is shown");
    assert!((push.reach - 0.7).abs() < 0.02 && push.degrees_off.unwrap().abs() < 0.01);
    let left = driver.view().left_seconds;
    driver.rest(0.5);
    assert_eq!(driver.phase(), Phase::Between);
    driver.rest(0.4);
    assert_ne!(driver.asked().expect("the next cue comes by itself"), first);
    for _ in 0..7 {
        driver.push_as_asked();
        driver.rest_between();
    }
    assert!(driver.view().left_seconds < left);
    assert_eq!((driver.phase(), driver.view().progress), (Phase::Done, 1.0));
    let record = driver.finish();
    for direction in Direction::FOUR {
        let counts =
            |one: &&fitting::task::Repetition| one.direction == Some(direction) && one.counts();
        assert_eq!(record.repetitions.iter().filter(counts).count(), 2);
    }
    assert!(record.repetitions.windows(2).all(|pair| pair[0].direction != pair[1].direction));
    // Eight pushes, each some 1.2 s beyond a tenth of the travel.
    assert!((record.muscle_seconds - 8.0 * 1.186).abs() < 0.2, "{}", record.muscle_seconds);
}

#[test]
fn nothing_fails_for_being_slow() {
    let mut driver = Driver::begun(ask(1));
    let asked = driver.asked().expect("a cue");
    driver.rest(19.0);
    assert!(!driver.view().silent);
    driver.rest(900.0);
    assert!(driver.view().silent, "a pause is offered");
    assert_eq!(driver.asked(), Some(asked));
    for step in 0..50 {
        driver.stay(2.0, Position::polar(0.6 * f64::from(step) / 50.0, asked.degrees()));
    }
    assert!(!driver.view().silent);
    driver.rest(0.4);
    assert_eq!(driver.phase(), Phase::Between);
    assert!(driver.finish().repetitions[0].counts());
}

#[test]
fn the_prompt_says_push_until_it_is_clearly_coming_back() {
    let mut driver = Driver::begun(ask(1));
    let degrees = driver.asked().expect("a cue").degrees();
    driver.stay(0.2, Position::polar(0.3, degrees));
    driver.stay(0.5, Position::polar(0.6, degrees));
    driver.stay(0.2, Position::polar(0.5, degrees));
    assert!(matches!(driver.view().prompt, Prompt::Push(_)));
    // A slip, which may be made good, and more than that.
    driver.stay(0.1, Position::polar(0.3, degrees));
    assert!(matches!(driver.view().prompt, Prompt::Push(_)));
    driver.stay(0.4, Position::polar(0.3, degrees));
    assert_eq!(driver.view().prompt, Prompt::ComeBack);
}

#[test]
fn a_push_the_wrong_way_is_queried_and_asked_once_more() {
    let mut driver = Driver::begun(ask(1));
    let asked = driver.asked().expect("a cue");
    driver.push(0.6, asked.degrees() + 80.0, 0.5);
    assert!(
        matches!(driver.view().query, Some(Query::Off(degrees)) if (degrees - 80.0).abs() < 0.5)
    );
    assert_eq!(driver.view().of, 5);
    driver.rest(2.0);
    assert_eq!(driver.phase(), Phase::Between, "time to answer");
    driver.rest(2.5);
    assert_eq!(driver.phase(), Phase::Doing, "but the task goes on");
    assert!(driver.view().query.is_some(), "and the question stays");
    for _ in 0..3 {
        driver.push_as_asked();
        driver.rest_between();
    }
    assert_eq!(driver.asked(), Some(asked));
    driver.push(0.6, asked.degrees() - 80.0, 0.5);
    assert_eq!(driver.phase(), Phase::Done, "only once more");
    let record = driver.finish();
    assert_eq!(record.repetitions.iter().filter(|one| one.counts()).count(), 3);
    assert_eq!(record.repetitions.len(), 5);
}

fn short_of(driver: &Driver) -> Option<(f64, f64)> {
    match driver.view().query {
        Some(Query::Short(short)) => Some((short.reach, short.usual)),
        _ => None,
    }
}

#[test]
fn a_push_that_goes_far_less_than_the_others_is_queried_and_asked_once_more() {
    let up = || Driver::begun(TaskAsk::Reach { directions: vec![Direction::Up], rounds: 3 });
    let push = |driver: &mut Driver, reach: f64| {
        driver.push(reach, 90.0, 0.5);
        let short = short_of(driver);
        driver.rest_between();
        short
    };
    let mut driver = up();
    assert_eq!([0.7, 0.45].map(|reach| push(&mut driver, reach)), [None, None], "they only vary");
    driver.push(0.2, 90.0, 0.5);
    let (reach, usual) = short_of(&driver).expect("queried");
    assert!((reach - 0.2).abs() < 0.02 && usual > 0.39, "{reach} {usual}");
    assert_eq!(driver.view().of, 4);
    driver.command(Command::KeepQueried);
    assert_eq!((driver.view().query, driver.view().of), (None, 3));
    assert!(driver.finish().repetitions.iter().all(|one| one.counts()));

    // The first one is the odd one, as the second shows.
    let mut driver = up();
    assert_eq!(push(&mut driver, 0.2), None);
    driver.push(0.7, 90.0, 0.5);
    let (reach, usual) = short_of(&driver).expect("queried");
    assert!((reach - 0.2).abs() < 0.02 && (usual - 0.7).abs() < 0.02, "{reach} {usual}");
    driver.command(Command::Again);
    let record = driver.finish();
    assert_eq!(outcomes(&record), [Outcome::AskedAgain, Outcome::Done]);
    assert!(record.repetitions[1].counts());
}

#[test]
fn a_query_is_answered_by_keep_again_or_next() {
    let queried = || {
        let mut driver = Driver::begun(ask(1));
        let asked = driver.asked().expect("a cue");
        driver.push(0.6, asked.degrees() + 90.0, 0.5);
        assert!(driver.view().query.is_some());
        (driver, asked)
    };
    let (mut driver, _) = queried();
    driver.command(Command::KeepQueried);
    assert_eq!((driver.view().query, driver.view().of), (None, 4));
    assert!(driver.finish().repetitions[0].counts());

    let (mut driver, asked) = queried();
    driver.command(Command::Again);
    assert_eq!((driver.view().query, driver.view().of), (None, 4));
    driver.rest_between();
    assert_eq!(driver.asked(), Some(asked), "the same again");
    driver.push_as_asked();
    assert_eq!(outcomes(&driver.finish()), [Outcome::AskedAgain, Outcome::Done]);

    let (mut driver, _) = queried();
    driver.command(Command::Next);
    assert_eq!((driver.view().query, driver.view().of), (None, 5));
    assert_eq!(driver.phase(), Phase::Doing);
    let record = driver.finish();
    assert!(!record.repetitions[0].counts() && record.repetitions[0].outcome == Outcome::Done);
}

#[test]
fn the_last_push_queried_can_be_kept_or_repeated_after_the_end() {
    for keep in [true, false] {
        let ask = TaskAsk::Reach { directions: vec![Direction::Up], rounds: 1 };
        let mut driver = Driver::begun(ask);
        driver.push(0.6, 0.0, 0.5);
        driver.command(if keep { Command::KeepQueried } else { Command::Again });
        driver.rest(1.0);
        if keep {
            driver.rest_between();
            assert_eq!(driver.phase(), Phase::Done);
        } else {
            assert_eq!(driver.asked(), Some(Direction::Up));
        }
    }
}

#[test]
fn again_skip_and_next_in_the_middle() {
    let mut driver = Driver::begun(ask(1));
    let asked = driver.asked().expect("a cue");
    driver.stay(0.3, Position::polar(0.5, 10.0));
    driver.command(Command::Again);
    driver.rest_between();
    assert_eq!((driver.asked(), driver.view().of), (Some(asked), 4));
    driver.command(Command::Skip);
    driver.rest_between();
    assert_eq!((driver.view().step, driver.view().of), (2, 4));
    // A stick that does not come back by itself: next ends the push.
    let degrees = driver.asked().expect("a cue").degrees();
    driver.rest(0.1);
    driver.stay(1.0, Position::polar(0.7, degrees));
    driver.command(Command::Next);
    assert_eq!(driver.phase(), Phase::Between);
    driver.command(Command::Next);
    assert_eq!(driver.phase(), Phase::Doing, "the next one at once");
    // Left where it is, the stick starts nothing; from there it may go on.
    driver.stay(3.0, Position::polar(0.7, degrees));
    assert!(matches!(driver.view().prompt, Prompt::Push(_)));
    driver.command(Command::Next);
    let expected = [Outcome::AskedAgain, Outcome::Skipped, Outcome::Done, Outcome::Skipped];
    assert_eq!(outcomes(&driver.finish()), expected);
}

#[test]
fn a_mark_keeps_leaves_out_and_asks_once_more() {
    let mut driver = Driver::begun(ask(1));
    let asked = driver.asked().expect("a cue");
    driver.command(Command::Mark(MarkReason::Helped));
    driver.push_as_asked();
    assert_eq!((driver.view().mark, driver.view().of), (Some(MarkReason::Helped), 5));
    for _ in 0..4 {
        driver.rest_between();
        if driver.view().step == 5 {
            assert_eq!(driver.asked(), Some(asked));
        }
        driver.push_as_asked();
    }
    assert_eq!(driver.phase(), Phase::Done);
    // Marking the one that was asked once more asks for no third.
    driver.command(Command::Mark(MarkReason::Spasm));
    assert_eq!((driver.phase(), driver.view().marked), (Phase::Done, 2));
    let record = driver.finish();
    assert_eq!(record.repetitions.iter().filter(|one| one.mark.is_some()).count(), 2);
    assert_eq!(record.repetitions.iter().filter(|one| one.counts()).count(), 3);
}

#[test]
fn a_mark_after_the_end_asks_once_more_and_unmark_takes_that_back() {
    let ask = TaskAsk::Reach { directions: vec![Direction::Up], rounds: 1 };
    let mut driver = Driver::begun(ask);
    driver.push_as_asked();
    assert_eq!(driver.phase(), Phase::Done);
    driver.rest(5.0);
    driver.command(Command::Mark(MarkReason::Pain));
    assert_eq!((driver.phase(), driver.view().of), (Phase::Between, 2));
    driver.rest(1.0);
    driver.push_as_asked();
    assert_eq!(driver.phase(), Phase::Done);
    let record = driver.finish();
    assert_eq!(record.repetitions.iter().filter(|one| one.counts()).count(), 1);

    let mut driver = Driver::begun(self::ask(1));
    driver.push_as_asked();
    driver.command(Command::Mark(MarkReason::Pain));
    assert_eq!(driver.view().of, 5);
    driver.command(Command::Unmark);
    assert_eq!((driver.view().of, driver.view().mark), (4, None));
}

#[test]
fn a_pause_begins_the_repetition_afresh() {
    for cause in [PauseCause::Asked, PauseCause::DeviceGone, PauseCause::PageHidden] {
        let mut driver = Driver::begun(ask(1));
        let asked = driver.asked().expect("a cue");
        driver.stay(0.4, Position::polar(0.5, asked.degrees()));
        driver.command(Command::Pause(cause));
        driver.now += 300.0;
        driver.rest(1.0);
        assert_eq!(driver.view().paused, Some(cause));
        driver.command(Command::GoOn);
        driver.rest_between();
        assert_eq!((driver.asked(), driver.view().step), (Some(asked), 1));
        driver.push_as_asked();
        let record = driver.finish();
        assert_eq!(outcomes(&record), [Outcome::CutShort, Outcome::Done]);
        assert!((record.pauses[0].seconds() - 301.0).abs() < 0.01);
    }
}

#[test]
fn a_device_that_is_gone_is_not_talked_over() {
    let mut driver = Driver::ready(ask(1));
    driver.command(Command::Pause(PauseCause::DeviceGone));
    driver.command(Command::Begin);
    assert_eq!(driver.phase(), Phase::Ready);
    driver.command(Command::Pause(PauseCause::Asked));
    assert_eq!(driver.view().paused, Some(PauseCause::DeviceGone));
    driver.command(Command::GoOn);
    driver.command(Command::Begin);
    assert_eq!(driver.phase(), Phase::Doing);
    assert!(driver.finish().pauses.is_empty(), "no pause before the beginning");
}

#[test]
fn a_rest_that_was_asked_for_outlasts_a_device_that_goes_and_comes() {
    use PauseCause::{Asked, DeviceGone, PageHidden};
    for (causes, beside) in [
        (vec![Asked, DeviceGone], Asked),
        (vec![DeviceGone, Asked], Asked),
        (vec![PageHidden, DeviceGone, DeviceGone], PageHidden),
        (vec![DeviceGone, PageHidden], PageHidden),
    ] {
        let mut driver = Driver::begun(ask(1));
        for cause in causes {
            driver.command(Command::Pause(cause));
            driver.rest(1.0);
        }
        assert_eq!(driver.view().paused, Some(DeviceGone));
        // The device is back; nobody has said that the person is.
        driver.command(Command::GoOn);
        driver.rest(5.0);
        assert_eq!(driver.view().paused, Some(beside));
        driver.command(Command::GoOn);
        assert_eq!(driver.view().paused, None);
        driver.rest_between();
        driver.push_as_asked();
        assert_eq!(outcomes(&driver.finish()).last(), Some(&Outcome::Done));
    }
}

#[test]
fn rest_is_offered_after_half_a_minute_of_work() {
    let mut driver = Driver::begun(ask(1));
    driver.rest(0.1);
    driver.stay(29.0, Position::new(0.5, 0.0));
    assert!(!driver.view().offer_rest);
    driver.stay(1.5, Position::new(0.5, 0.0));
    assert!(driver.view().offer_rest);
    driver.command(Command::Pause(PauseCause::Asked));
    assert!(!driver.view().offer_rest);
    driver.command(Command::GoOn);
    driver.rest(1.0);
    assert!(!driver.view().offer_rest);
    assert!((driver.view().muscle_seconds - 30.5).abs() < 0.02);
}

#[test]
fn left_seconds_follow_the_persons_own_pace() {
    let mut driver = Driver::begun(ask(3));
    let guess = driver.view().left_seconds;
    for _ in 0..4 {
        driver.rest(10.0);
        driver.push_as_asked();
        driver.rest_between();
    }
    let left = driver.view().left_seconds;
    // Eight more at some 12.5 s, drawn a little towards the first guess.
    assert!(left > guess && (60.0..100.0).contains(&left), "{guess} {left}");
}

#[test]
fn stopping_anywhere_leaves_a_record() {
    for ticks in (0..4000).step_by(37) {
        let mut driver = Driver::begun(ask(1));
        for tick in 0..ticks {
            let phase = f64::from(tick % 500) / 500.0;
            let radius = if phase < 0.5 { phase } else { 0.0 };
            let degrees = driver.asked().map_or(0.0, Direction::degrees);
            driver.poll(Position::polar(radius, degrees));
        }
        driver.command(Command::Stop);
        let over = driver.run.is_over();
        let record = driver.finish();
        assert!(over && !record.repetitions.is_empty());
        let cut = record.repetitions.iter().filter(|one| one.outcome == Outcome::CutShort).count();
        assert!(cut <= 1);
    }
}

#[test]
fn nothing_asked_is_done_at_once() {
    let mut driver = Driver::begun(TaskAsk::Reach { directions: vec![], rounds: 3 });
    assert_eq!(driver.phase(), Phase::Done);
    driver.command(Command::Again);
    driver.command(Command::Mark(MarkReason::Pain));
    driver.command(Command::Next);
    assert!(driver.run.is_over());
}
