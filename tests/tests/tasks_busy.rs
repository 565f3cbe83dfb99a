//! Busy rest and free movement, played by hand.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "tests")]

mod driver;

use driver::{Driver, check_view};
use fitting::Position;
use fitting::task::{
    Command, MarkReason, Meanwhile, Outcome, PauseCause, Phase, Prompt, TaskAsk, TaskRecord,
};

const FREE: TaskAsk = TaskAsk::FreeMovement { seconds: 30.0 };

fn busy(meanwhile: Meanwhile) -> TaskAsk {
    TaskAsk::BusyRest { seconds: 25.0, meanwhile }
}

fn counted(record: &TaskRecord) -> f64 {
    record.repetitions.iter().filter(|one| one.counts()).map(|one| one.span.seconds()).sum()
}

/// Moves in a circle of this radius for some seconds.
fn circle(driver: &mut Driver, seconds: f64, radius: f64) {
    for tick in 0..(seconds / driver::POLL_SECONDS) as usize {
        driver.poll(Position::polar(radius, tick as f64));
    }
}

#[test]
fn a_busy_rest_says_what_to_do_beside_it_and_comes_in_stretches() {
    for meanwhile in [Meanwhile::Talking, Meanwhile::Watching, Meanwhile::Pressing] {
        let mut driver = Driver::ready(busy(meanwhile));
        assert_eq!(driver.view().prompt, Prompt::RestWhile(meanwhile));
        driver.command(Command::Begin);
        // What comes along is no work and asks for no pause, and pressing ends nothing.
        circle(&mut driver, 6.0, 0.5);
        driver.press(1, 3.0);
        driver.rest(6.0);
        let view = driver.view();
        check_view(&view);
        assert_eq!((view.prompt, view.step, view.of), (Prompt::RestWhile(meanwhile), 2, 3));
        assert!((view.left_seconds - 10.0).abs() < 0.1 && !view.silent, "{view:?}");
        driver.rest(10.1);
        assert_eq!(driver.phase(), Phase::Done);
        let record = driver.finish();
        assert_eq!((record.repetitions.len(), record.muscle_seconds), (3, 0.0));
        assert!((counted(&record) - 25.0).abs() < 0.02);
    }
}

#[test]
fn a_busy_rest_stopped_half_way_keeps_what_there_was() {
    let mut driver = Driver::begun(busy(Meanwhile::Talking));
    driver.rest(14.0);
    driver.command(Command::Stop);
    assert!(driver.run.is_over());
    let record = driver.finish();
    assert!((counted(&record) - 13.0).abs() < 0.02, "all but the last moment");
}

#[test]
fn free_movement_counts_as_work_and_offers_a_rest() {
    let mut driver = Driver::ready(FREE);
    assert_eq!(driver.view().prompt, Prompt::MoveFreely);
    driver.command(Command::Begin);
    circle(&mut driver, 12.0, 0.6);
    let view = driver.view();
    check_view(&view);
    assert_eq!((view.step, view.of), (2, 3));
    assert!((view.muscle_seconds - 12.0).abs() < 0.1, "{}", view.muscle_seconds);
    driver.command(Command::More);
    circle(&mut driver, 25.0, 0.6);
    assert!(driver.view().offer_rest);
    circle(&mut driver, 23.1, 0.6);
    assert_eq!(driver.phase(), Phase::Done);
    let record = driver.finish();
    assert_eq!(record.repetitions.len(), 6);
    assert!(record.repetitions.iter().all(|one| one.span.seconds() < 10.01));
}

#[test]
fn a_pause_is_offered_when_nothing_moves_where_movement_is_asked() {
    let mut driver = Driver::begun(TaskAsk::FreeMovement { seconds: 90.0 });
    driver.rest(19.0);
    assert!(!driver.view().silent);
    driver.rest(2.0);
    assert!(driver.view().silent);
    circle(&mut driver, 0.1, 0.5);
    assert!(!driver.view().silent);
    driver.rest(21.0);
    driver.command(Command::Pause(PauseCause::Asked));
    assert!(!driver.view().silent);
    driver.command(Command::GoOn);
    assert!(!driver.view().silent, "silence counts from when it goes on");
    driver.rest(20.1);
    assert!(driver.view().silent);
    // In a quiet or busy rest, stillness is what is wanted.
    let mut driver =
        Driver::begun(TaskAsk::BusyRest { seconds: 90.0, meanwhile: Meanwhile::Watching });
    driver.rest(40.0);
    assert!(!driver.view().silent);
}

#[test]
fn free_movement_is_marked_paused_skipped_and_asked_again() {
    let mut driver = Driver::begun(FREE);
    circle(&mut driver, 4.0, 0.5);
    driver.command(Command::Again);
    circle(&mut driver, 4.0, 0.5);
    driver.command(Command::Mark(MarkReason::Helped));
    circle(&mut driver, 6.1, 0.5);
    assert_eq!((driver.view().marked, driver.view().mark), (1, None));
    driver.command(Command::Pause(PauseCause::DeviceGone));
    driver.now += 50.0;
    driver.command(Command::GoOn);
    circle(&mut driver, 5.0, 0.5);
    driver.command(Command::Skip);
    assert_eq!(driver.phase(), Phase::Done);
    driver.command(Command::Next);
    assert!(driver.run.is_over());
    let record = driver.finish();
    let outcomes: Vec<Outcome> = record.repetitions.iter().map(|one| one.outcome).collect();
    use Outcome::{AskedAgain, CutShort, Done, Skipped};
    assert_eq!(outcomes, [AskedAgain, Done, CutShort, Skipped]);
    assert_eq!(record.repetitions[1].mark, Some(MarkReason::Helped));
    assert_eq!((counted(&record), record.pauses.len()), (0.0, 1));
}
