//! The rest tasks, played by hand.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "tests")]

mod driver;

use driver::{Driver, sample};
use fitting::Position;
use fitting::task::{Command, MarkReason, Outcome, PauseCause, Phase, Prompt, TaskAsk};

const REST: TaskAsk = TaskAsk::QuietRest { seconds: 30.0 };

fn counted(record: &fitting::task::TaskRecord) -> f64 {
    record.repetitions.iter().filter(|one| one.counts()).map(|one| one.span.seconds()).sum()
}

#[test]
fn waits_for_the_person_and_records_nothing_before() {
    let mut driver = Driver::ready(REST);
    driver.rest(500.0);
    assert_eq!((driver.phase(), driver.view().prompt), (Phase::Ready, Prompt::Rest));
    let record = driver.finish();
    assert!(record.recording.samples.is_empty() && record.repetitions.is_empty());
}

#[test]
fn thirty_seconds_come_in_three_stretches() {
    let mut driver = Driver::begun(REST);
    driver.rest(15.0);
    let view = driver.view();
    assert_eq!((view.phase, view.step, view.of), (Phase::Doing, 2, 3));
    assert!((view.progress - 0.5).abs() < 0.01 && (view.left_seconds - 15.0).abs() < 0.1);
    driver.rest(15.1);
    assert_eq!(driver.phase(), Phase::Done);
    assert!(!driver.run.is_over());
    driver.command(Command::Next);
    assert!(driver.run.is_over());
    let record = driver.finish();
    assert_eq!(record.repetitions.len(), 3);
    assert!(record.repetitions.iter().all(|one| (one.span.seconds() - 10.0).abs() < 0.01));
    assert!(record.repetitions.iter().all(|one| one.counts() && one.direction.is_none()));
    // The state that held when recording began is its first sample.
    assert_eq!(record.recording.samples.len(), 1);
    assert_eq!(record.recording.samples[0].arrival_seconds, 100.0);
    assert!((record.recording.watched_seconds() - 30.0).abs() < 0.01);
    assert_eq!(record.muscle_seconds, 0.0, "a rest is no muscle work");
}

#[test]
fn more_adds_thirty_seconds_before_and_after_the_end() {
    let mut driver = Driver::begun(REST);
    driver.rest(5.0);
    driver.command(Command::More);
    driver.rest(26.0);
    assert_eq!(driver.phase(), Phase::Doing);
    driver.rest(30.0);
    assert_eq!(driver.phase(), Phase::Done);
    driver.command(Command::More);
    assert_eq!(driver.phase(), Phase::Doing);
    driver.rest(31.0);
    assert_eq!(driver.phase(), Phase::Done);
    let record = driver.finish();
    assert!((counted(&record) - 90.0).abs() < 0.05, "{}", counted(&record));
}

#[test]
fn a_mark_leaves_one_stretch_out_and_it_is_made_up_for() {
    let mut driver = Driver::begun(REST);
    driver.rest(12.0);
    driver.command(Command::Mark(MarkReason::Spasm));
    assert_eq!(driver.view().mark, Some(MarkReason::Spasm));
    driver.rest(18.5);
    assert_eq!(driver.phase(), Phase::Doing, "ten seconds do not count");
    assert_eq!((driver.view().mark, driver.view().marked), (None, 1));
    driver.rest(10.0);
    assert_eq!(driver.phase(), Phase::Done);
    let record = driver.finish();
    assert_eq!(record.repetitions.len(), 4);
    assert_eq!(record.repetitions[1].mark, Some(MarkReason::Spasm));
    assert!((counted(&record) - 30.0).abs() < 0.02);
}

#[test]
fn marking_everything_does_not_go_on_for_ever_and_unmark_takes_one_back() {
    let mut driver = Driver::begun(REST);
    let mut seconds = 0;
    while driver.phase() == Phase::Doing {
        driver.command(Command::Mark(MarkReason::Talking));
        driver.rest(1.0);
        seconds += 1;
    }
    assert!((60..=61).contains(&seconds), "twice what was asked: {seconds}");
    let marked = driver.view().marked;
    driver.command(Command::Unmark);
    assert_eq!(driver.view().marked, marked - 1);
    // And more than that can still be asked for.
    driver.command(Command::More);
    driver.rest(31.0);
    assert_eq!(driver.phase(), Phase::Done);
    assert!((counted(&driver.finish()) - 40.0).abs() < 0.05);
}

#[test]
fn a_pause_keeps_what_there_is_and_begins_a_new_stretch() {
    for cause in [PauseCause::Asked, PauseCause::DeviceGone, PauseCause::PageHidden] {
        let mut driver = Driver::begun(REST);
        driver.rest(7.0);
        driver.command(Command::Pause(cause));
        assert_eq!(driver.view().paused, Some(cause));
        driver.stay(40.0, Position::new(0.4, 0.0));
        driver.rest(1.0);
        assert!((driver.view().progress - 0.2).abs() < 0.01, "nothing passes in a pause");
        driver.command(Command::GoOn);
        assert_eq!(driver.view().paused, None);
        driver.rest(24.2);
        assert_eq!(driver.phase(), Phase::Done);
        let record = driver.finish();
        assert_eq!(record.pauses.len(), 1);
        assert!((record.pauses[0].seconds() - 41.0).abs() < 0.01);
        let first = &record.repetitions[0];
        assert!(first.counts() && (first.span.seconds() - 6.0).abs() < 0.01, "{first:?}");
        assert!((counted(&record) - 30.0).abs() < 0.05);
        // What moved in the pause is nowhere in the record.
        assert!(record.recording.samples.iter().all(|sample| sample.axes[0] == 0.0));
        assert!((record.recording.watched_seconds() - 31.0).abs() < 0.1);
    }
}

#[test]
fn stopping_early_leaves_what_was_there() {
    let mut driver = Driver::begun(REST);
    driver.rest(14.0);
    driver.command(Command::Stop);
    assert!(driver.run.is_over());
    let record = driver.finish();
    assert!((counted(&record) - 13.0).abs() < 0.02, "{:?}", record.repetitions);

    let mut driver = Driver::begun(REST);
    driver.rest(1.5);
    let record = driver.finish();
    assert_eq!(record.repetitions[0].outcome, Outcome::CutShort);
}

#[test]
fn next_skip_and_again() {
    let mut driver = Driver::begun(REST);
    driver.rest(14.0);
    driver.command(Command::Again);
    driver.rest(4.0);
    driver.command(Command::Next);
    assert_eq!(driver.phase(), Phase::Done);
    let outcomes: Vec<Outcome> =
        driver.finish().repetitions.iter().map(|one| one.outcome).collect();
    assert_eq!(outcomes, [Outcome::Done, Outcome::AskedAgain, Outcome::Done]);

    let mut driver = Driver::begun(REST);
    driver.rest(4.0);
    driver.command(Command::Skip);
    assert_eq!(driver.phase(), Phase::Done);
    assert_eq!(driver.finish().repetitions[0].outcome, Outcome::Skipped);

    let mut driver = Driver::ready(REST);
    driver.command(Command::Skip);
    assert!(driver.run.is_over());
}

#[test]
fn unseen_time_does_not_count_and_a_busy_machine_keeps_nobody_for_ever() {
    let mut driver = Driver::begun(TaskAsk::HandsOff { seconds: 5.0 });
    driver.rest(2.0);
    driver.now += 3.0;
    driver.rest(2.5);
    assert_eq!(driver.phase(), Phase::Doing);
    driver.rest(0.6);
    assert_eq!(driver.phase(), Phase::Done);
    let record = driver.finish();
    assert_eq!(record.recording.gaps().len(), 1);

    let mut driver = Driver::begun(TaskAsk::HandsOff { seconds: 5.0 });
    let mut seconds = 0.0;
    while driver.phase() == Phase::Doing {
        driver.now += 0.1;
        driver.poll(Position::ORIGIN);
        seconds += 0.104;
    }
    assert!((14.9..15.2).contains(&seconds), "{seconds}");
}

#[test]
fn a_clock_set_back_and_nonsense_from_outside_do_no_harm() {
    let mut driver = Driver::begun(REST);
    driver.rest(12.0);
    driver.now -= 50.0;
    driver.rest(9.0);
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        driver.run.poll(bad, None);
        let mut wild = sample(bad, Position::new(bad, bad));
        wild.axes.extend(vec![bad; 100]);
        driver.run.poll(driver.now, Some(&wild));
        driver.run.command(bad, Command::Unmark);
        driver::check_view(&driver.view());
    }
    driver.rest(9.2);
    assert_eq!(driver.phase(), Phase::Done);
    let record = driver.finish();
    assert!((record.recording.watched_seconds() - 30.0).abs() < 0.1);
    assert!(record.recording.samples.iter().all(|sample| sample.axes.len() <= 32));
}
