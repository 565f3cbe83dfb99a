//! Tasks with a breath device: five actions, then a rest that one key ends.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "tests")]

mod driver;

use driver::{Driver, check_view};
use fitting::stick_kind::{Mover, Moves};
use fitting::task::{Command, Known, Outcome, PauseCause, Phase, PressAsk, Prompt, TaskAsk};
use fitting::{Direction, Position, StickKind};

fn with(mover: Mover, ask: TaskAsk) -> Driver {
    let kind = StickKind { moves: Moves::OneWay, mover, ..StickKind::default() };
    let mut driver = Driver::knowing(ask, Known { kind, ..Known::default() });
    driver.command(Command::Begin);
    driver
}

fn puffs(rounds: usize) -> TaskAsk {
    TaskAsk::Reach { directions: vec![Direction::Right], rounds }
}

/// One push to the right, and the moment of rest until the next cue, a pause or the end.
fn puff(driver: &mut Driver) {
    driver.rest_between();
    driver.push(0.6, 0.0, 0.3);
    driver.rest(0.6);
    for _ in 0..2000 {
        let view = driver.view();
        check_view(&view);
        if view.phase != Phase::Between || view.paused.is_some() {
            break;
        }
        driver.rest(0.05);
    }
}

#[test]
fn after_five_breaths_it_rests_until_somebody_goes_on() {
    let mut driver = with(Mover::Breath, puffs(12));
    for round in 0..12 {
        assert_eq!(driver.view().paused, None, "breath {round}");
        puff(&mut driver);
        if matches!(round, 4 | 9) {
            assert_eq!(driver.view().paused, Some(PauseCause::Breaths), "breath {round}");
            // It is a rest, and no time-out: it waits as long as it takes, and breathing in it
            // is no breath action.
            driver.stay(30.0, Position::new(0.4, 0.0));
            driver.rest(1.0);
            assert_eq!(driver.view().paused, Some(PauseCause::Breaths));
            driver.command(Command::GoOn);
        }
    }
    assert_eq!(driver.phase(), Phase::Done);
    let record = driver.run.finish();
    assert_eq!(record.pauses.len(), 2);
    assert!(record.pauses.iter().all(|pause| pause.seconds() > 30.0));
    assert!(record.repetitions.iter().all(|one| one.outcome == Outcome::Done));
    assert_eq!(record.repetitions.len(), 12);
}

#[test]
fn the_last_breaths_of_a_task_need_no_pause_after_them() {
    let mut driver = with(Mover::Breath, puffs(5));
    for _ in 0..5 {
        puff(&mut driver);
    }
    assert_eq!((driver.phase(), driver.view().paused), (Phase::Done, None));
}

#[test]
fn nobody_else_is_made_to_rest() {
    for mover in [Mover::Limb, Mover::Chin, Mover::Lip] {
        let mut driver = with(mover, puffs(12));
        for _ in 0..12 {
            puff(&mut driver);
            assert_eq!(driver.view().paused, None);
        }
        assert_eq!(driver.phase(), Phase::Done);
    }
}

#[test]
fn free_movement_rests_too() {
    let mut driver = with(Mover::Breath, TaskAsk::FreeMovement { seconds: 60.0 });
    let mut made = 0;
    while driver.view().paused.is_none() && made < 9 {
        driver.stay(0.5, Position::new(0.5, 0.0));
        driver.rest(0.5);
        made += 1;
    }
    assert_eq!((made, driver.view().paused), (5, Some(PauseCause::Breaths)));
    driver.command(Command::GoOn);
    assert_eq!((driver.phase(), driver.view().paused), (Phase::Doing, None));
    // An asked pause is a rest as well.
    for _ in 0..4 {
        driver.stay(0.5, Position::new(0.5, 0.0));
        driver.rest(0.5);
    }
    driver.command(Command::Pause(PauseCause::Asked));
    driver.command(Command::GoOn);
    for _ in 0..4 {
        driver.stay(0.5, Position::new(0.5, 0.0));
        driver.rest(0.5);
    }
    assert_eq!(driver.view().paused, None);
}

#[test]
fn breath_switches_are_never_asked_for_a_long_press_and_rest_as_well() {
    let mut driver = with(Mover::Breath, TaskAsk::Presses { buttons: vec![0, 1], rounds: 3 });
    assert_eq!(driver.view().of, 12, "two ways, two buttons, three rounds");
    let mut pauses = 0;
    for _ in 0..12 {
        for _ in 0..2000 {
            if driver.phase() == Phase::Doing || driver.view().paused.is_some() {
                break;
            }
            driver.rest(0.02);
        }
        if driver.view().paused == Some(PauseCause::Breaths) {
            pauses += 1;
            driver.command(Command::GoOn);
            driver.rest_between();
        }
        let Prompt::Press { button, press } = driver.view().prompt else {
            panic!("no press is asked but {:?}", driver.view());
        };
        driver.rest(0.3);
        driver.press(button, 0.12);
        match press {
            PressAsk::Once => {}
            PressAsk::Twice => {
                driver.rest(0.2);
                driver.press(button, 0.12);
            }
            PressAsk::Long => panic!("no breath is kept up"),
        }
        driver.rest(0.61);
    }
    assert_eq!((driver.phase(), pauses), (Phase::Done, 2));
}
