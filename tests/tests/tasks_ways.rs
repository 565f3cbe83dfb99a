//! Every task in every way of asking: by hand, and by invented people whose truth is known.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "tests")]

mod driver;

use driver::{Driver, check, check_view};
use fitting::invented::{Invented, Model, play_in};
use fitting::measure::{FEWEST_FREE_PUSHES, Measures, known, measure};
use fitting::suggest::{Wish, suggest};
use fitting::task::{
    Asking, Command, CueKind, MarkReason, Outcome, Phase, PressAsk, Prompt, TaskAsk, TaskKind,
    TaskRecord, Way,
};
use fitting::{Direction, Position};

const fn way(asking: Asking) -> Way {
    Way { asking, cue: CueKind::AtPlace }
}

fn begun(ask: TaskAsk, way: Way) -> Driver {
    let mut driver = Driver::ready(ask);
    driver.run = driver.run.in_way(way);
    driver.command(Command::Begin);
    driver
}

fn sides(rounds: usize) -> TaskAsk {
    TaskAsk::Reach { directions: vec![Direction::Left, Direction::Right], rounds }
}

#[test]
fn free_pushes_are_sorted_by_where_they_went_and_never_queried() {
    let mut driver = begun(sides(3), way(Asking::FreeMovement));
    assert_eq!(driver.view().prompt, Prompt::PushAnywhere);
    for degrees in [10.0, 90.0, 170.0, -30.0, -170.0, 0.0] {
        driver.rest_between();
        driver.push(0.6, degrees, 1.0);
        check_view(&driver.view());
        assert_eq!(driver.view().query, None, "nothing was asked that it could be off from");
        assert_eq!(driver.view().push.expect("a push").degrees_off, None);
    }
    assert_eq!(driver.phase(), Phase::Done);
    let record = driver.finish();
    let went: Vec<Option<Direction>> = record.repetitions.iter().map(|one| one.direction).collect();
    let (left, right) = (Some(Direction::Left), Some(Direction::Right));
    assert_eq!(went, [right, None, left, right, left, right]);
    let measures = measure(std::slice::from_ref(&record));
    // Right came back three times, left twice: once more would make it reach.
    let told: Vec<(Direction, bool)> =
        measures.reach.iter().map(|one| (one.asked, one.free)).collect();
    assert_eq!((told, FEWEST_FREE_PUSHES), (vec![(Direction::Right, true)], 3));
    assert!(measures.reach[0].degrees_off.is_err());
    assert!(measures.map.is_err());
    // The range seen has all of them.
    let free = measures.free.expect("enough of it");
    let up = free.directions.iter().find(|one| one.about == Direction::Up).unwrap();
    assert!((up.farthest - 0.6).abs() < 0.01 && up.visits == 1, "{up:?}");
}

#[test]
fn asked_pushes_outweigh_free_ones_and_are_never_pooled_with_them() {
    let pushes = |way: Way, radius: f64, count: usize| {
        let mut driver =
            begun(TaskAsk::Reach { directions: vec![Direction::Left], rounds: count }, way);
        for _ in 0..count {
            driver.rest_between();
            driver.push(radius, 180.0, 0.4);
        }
        driver.finish()
    };
    let free = pushes(way(Asking::FreeMovement), 0.4, 5);
    let told = pushes(way(Asking::Told), 0.7, 3);
    let shown = pushes(way(Asking::Shown), 0.7, 2);
    let reach = |records: &[TaskRecord]| {
        let measures = measure(records);
        assert_eq!(measures.reach.len(), 1);
        let reach = measures.reach[0].clone();
        (reach.free, reach.ends.len(), reach.reach.unwrap().value)
    };
    let (is_free, count, value) = reach(std::slice::from_ref(&free));
    assert!(is_free && count == 5 && (value - 0.4).abs() < 0.01);
    let (is_free, count, value) = reach(&[free.clone(), told, shown]);
    assert!(!is_free && count == 5 && (value - 0.7).abs() < 0.01, "{count} {value}");
    assert_eq!(known(&[free]).reach.len(), 1, "a ring can be put where it goes");
}

#[test]
fn cued_and_uncued_are_told_apart() {
    let pushes = |cue: CueKind, radius: f64| {
        let mut driver = begun(sides(2), Way { asking: Asking::Shown, cue });
        assert_eq!(driver.view().way.cue, cue);
        for _ in 0..4 {
            driver.rest_between();
            let direction = driver.asked().expect("a side is asked");
            driver.push(radius, direction.degrees(), 0.4);
        }
        driver.finish()
    };
    let records = [
        pushes(CueKind::AtPlace, 0.4),
        pushes(CueKind::Central, 0.6),
        pushes(CueKind::Spoken, 0.7),
    ];
    let measures = measure(&records);
    let values = |reach: &[fitting::measure::DirectionReach]| {
        reach.iter().map(|one| one.reach.unwrap().value).collect::<Vec<_>>()
    };
    let near = |values: Vec<f64>, wanted: f64| {
        assert!(values.len() == 2 && values.iter().all(|one| (one - wanted).abs() < 0.01));
    };
    near(values(&measures.reach), 0.4);
    assert_eq!(
        measures.cued.iter().map(|one| one.cue).collect::<Vec<_>>(),
        [CueKind::Central, CueKind::Spoken]
    );
    near(values(&measures.cued[0].reach), 0.6);
    near(values(&measures.cued[1].reach), 0.7);
    assert_eq!(known(&records), known(&records[..1]));
    // With cues alone there is no reach to make settings from.
    let cued = measure(&records[1..]);
    assert!(cued.reach.is_empty() && cued.map.is_err());
    assert!(suggest(&records[1..], &cued, Wish::default()).full_throw.is_err());
}

/// What is asked of a direction is queried in each way and with each cue; a mark leaves it out.
#[test]
fn marks_and_the_query_work_in_every_way() {
    for asking in Asking::ALL {
        for cue in CueKind::ALL {
            let given = Way { asking, cue };
            let mut driver = begun(sides(1), given);
            driver.rest_between();
            driver.push(0.6, 90.0, 0.4);
            let is_free = asking == Asking::FreeMovement;
            assert_eq!(driver.view().query.is_some(), !is_free, "{given:?}");
            driver.command(Command::Mark(MarkReason::Distracted));
            assert_eq!(
                (driver.view().mark, driver.view().marked),
                (Some(MarkReason::Distracted), 1)
            );
            driver.command(Command::Unmark);
            assert_eq!(driver.view().mark, None);
            driver.command(Command::KeepQueried);
            assert_eq!(driver.view().query, None);
            driver.rest_between();
            driver.command(Command::Mark(MarkReason::Spasm));
            let degrees = driver.asked().map_or(0.0, Direction::degrees);
            driver.push(0.6, degrees, 0.4);
            // The marked one is asked once more.
            driver.rest_between();
            assert_eq!(driver.phase(), Phase::Doing, "{given:?}");
            driver.push(0.6, degrees, 0.4);
            assert_eq!(driver.phase(), Phase::Done, "{given:?}");
            let record = driver.finish();
            assert_eq!(record.way(), given.suited(TaskKind::Reach));
            let counts: Vec<bool> = record.repetitions.iter().map(|one| one.counts()).collect();
            assert_eq!(counts, [true, false, true], "{given:?}");
            let left_out = measure(&[record]).left_out;
            assert_eq!(left_out, usize::from(asking != Asking::MovedByHelper), "{given:?}");
        }
    }
}

/// Marks in each cued task of each way, by the one key.
#[test]
fn a_mark_leaves_one_out_of_every_task() {
    for kind in TaskKind::ALL {
        for asking in Asking::ALL.into_iter().filter(|asking| asking.lacks(kind).is_none()) {
            let mut driver = begun(TaskAsk::usual(kind, &[0, 1]), way(asking));
            driver.rest_between();
            driver.rest(0.5);
            driver.command(Command::Mark(MarkReason::Talking));
            assert_eq!(driver.view().mark, Some(MarkReason::Talking), "{kind:?} {asking:?}");
            driver.command(Command::Stop);
            let record = driver.finish();
            assert_eq!(record.way(), way(asking).suited(kind));
            assert!(record.repetitions.iter().any(|one| one.mark.is_some()), "{kind:?} {asking:?}");
            assert_eq!(record.counting().count(), 0);
        }
    }
}

#[test]
fn a_free_hold_is_where_the_person_holds_and_a_free_return_comes_from_there() {
    let ask = TaskAsk::Hold {
        directions: vec![Direction::Right, Direction::Left],
        levels: vec![0.5],
        rounds: 1,
        seconds: 2.0,
    };
    let mut driver = begun(ask, way(Asking::FreeMovement));
    for degrees in [175.0, 20.0] {
        driver.rest_between();
        assert_eq!(driver.view().prompt, Prompt::HoldAnywhere);
        driver.rest(0.3);
        let held = Position::polar(0.5, degrees);
        driver.stay(1.0, held);
        let ring = driver.view().target.expect("a ring about it");
        assert!((ring.at - held).radius() < 0.05);
        assert!(matches!(driver.view().prompt, Prompt::StayInRing(_)));
        check_view(&driver.view());
        driver.stay(2.5, held);
        driver.rest(0.2);
    }
    assert_eq!(driver.phase(), Phase::Done);
    let record = driver.finish();
    let went: Vec<_> = record.repetitions.iter().map(|one| (one.direction, one.level)).collect();
    // Without a known reach there is no level.
    assert_eq!(went, [(Some(Direction::Left), None), (Some(Direction::Right), None)]);

    let ask = TaskAsk::Return { directions: Direction::FOUR.to_vec(), level: 0.5, rounds: 1 };
    let mut driver = begun(ask, way(Asking::FreeMovement));
    driver.rest(0.3);
    let held = Position::polar(0.5, 95.0);
    for _ in 0..1000 {
        if matches!(driver.view().prompt, Prompt::LetGo(_)) {
            break;
        }
        driver.poll(held);
    }
    assert_eq!(driver.view().prompt, Prompt::LetGo(Direction::Up));
    driver.stay(0.3, held);
    driver.rest(1.5);
    driver.command(Command::Stop);
    let record = driver.finish();
    assert_eq!(record.repetitions[0].direction, Some(Direction::Up));
    assert_eq!(record.repetitions[0].outcome, Outcome::Done);
    let returns = measure(&[record]).returns;
    assert_eq!(returns.len(), 1);
    assert_eq!(returns[0].asked, Direction::Up);
}

#[test]
fn any_button_is_the_asked_one_when_none_is_asked() {
    let ask = TaskAsk::Presses { buttons: vec![0, 2], rounds: 2 };
    let mut driver = begun(ask, way(Asking::FreeMovement));
    // A button that is not among them, then 2, 2, 0, 2.
    for button in [1, 2, 2, 0, 2] {
        driver.rest_between();
        if driver.phase() == Phase::Doing {
            assert_eq!(driver.view().prompt, Prompt::PressAny);
        }
        driver.rest(0.2);
        driver.press(button, 0.25);
        driver.rest(0.8);
    }
    assert_eq!(driver.phase(), Phase::Done);
    let record = driver.finish();
    let pressed: Vec<_> = record.repetitions.iter().map(|one| (one.button, one.press)).collect();
    let once = Some(PressAsk::Once);
    assert_eq!(pressed, [(Some(2), once), (Some(2), once), (Some(0), once), (Some(2), once)]);
    let presses = measure(&[record]).presses;
    let two = presses.iter().find(|one| one.button == 2).expect("button 2");
    assert!((two.length_seconds.unwrap().value - 0.25).abs() < 0.01);
    assert!(two.reaction_seconds.is_err(), "there was no cue to react to");
    assert_eq!((two.made, two.missed), (3, 0));
    assert!(presses.iter().all(|one| one.unwanted.is_empty()), "none is unwanted");
}

#[test]
fn another_way_goes_on_with_what_is_left_in_a_record_of_its_own() {
    let mut driver = begun(sides(3), way(Asking::Told));
    for _ in 0..2 {
        driver.rest_between();
        driver.push_as_asked();
    }
    driver.rest_between();
    driver.rest(0.5);
    driver.command(Command::Pause(fitting::task::PauseCause::Asked));
    let (told, next) = driver.run.clone().turned(way(Asking::MovedByHelper));
    check(&told);
    assert_eq!(told.counting().count(), 2);
    driver.run = next;
    assert_eq!(driver.phase(), Phase::Ready);
    assert_eq!((driver.view().paused, driver.view().way), (None, way(Asking::MovedByHelper)));
    driver.command(Command::Begin);
    for _ in 0..4 {
        driver.rest_between();
        driver.push_as_asked();
    }
    assert_eq!(driver.phase(), Phase::Done, "four of six were left");
    let helped = driver.finish();
    assert_eq!((helped.moved_by_helper(), helped.counting().count()), (4, 0));
    assert_eq!(helped.muscle_seconds, 0.0);
    // One that ran when the way was changed is asked afresh, not lost.
    let mut driver = begun(sides(1), way(Asking::Told));
    driver.rest_between();
    driver.rest(0.4);
    let (_, next) = driver.run.clone().turned(way(Asking::Shown));
    assert_eq!(next.view().of, 2);
    // What is left of a rest.
    let mut driver = begun(TaskAsk::QuietRest { seconds: 20.0 }, way(Asking::Told));
    driver.rest(12.0);
    let (told, next) = driver.run.clone().turned(way(Asking::MovedByHelper));
    assert_eq!(next.view().way, Way::default(), "a helper moves nothing in a rest");
    assert!(told.repetitions.iter().map(|one| one.span.seconds()).sum::<f64>() > 10.9);
    assert!((7.0..9.1).contains(&next.view().left_seconds), "{}", next.view().left_seconds);
}

/// A short task of each kind.
fn short(kind: TaskKind) -> TaskAsk {
    match TaskAsk::usual(kind, &[0, 1]) {
        TaskAsk::HandsOff { .. } => TaskAsk::HandsOff { seconds: 5.0 },
        TaskAsk::QuietRest { .. } => TaskAsk::QuietRest { seconds: 12.0 },
        TaskAsk::BusyRest { meanwhile, .. } => TaskAsk::BusyRest { seconds: 5.0, meanwhile },
        TaskAsk::FreeMovement { .. } => TaskAsk::FreeMovement { seconds: 15.0 },
        TaskAsk::Reach { .. } => TaskAsk::Reach { directions: Direction::FOUR.to_vec(), rounds: 3 },
        TaskAsk::Hold { directions, .. } => {
            TaskAsk::Hold { directions, levels: vec![0.5], rounds: 1, seconds: 2.0 }
        }
        TaskAsk::Sustained { directions, level, .. } => {
            TaskAsk::Sustained { directions, level, seconds: 4.0 }
        }
        TaskAsk::Return { directions, level, .. } => {
            TaskAsk::Return { directions, level, rounds: 1 }
        }
        TaskAsk::Presses { buttons, .. } => TaskAsk::Presses { buttons, rounds: 2 },
    }
}

fn all_tasks() -> Vec<TaskAsk> {
    TaskKind::ALL.into_iter().map(short).collect()
}

#[test]
fn invented_people_play_every_task_in_every_way() {
    for person in Invented::ALL {
        for asking in Asking::ALL {
            let given = Way { asking, cue: CueKind::Central };
            let records = play_in(person.model(), 7, &all_tasks(), given, 0.004);
            assert_eq!(records.len(), TaskKind::ALL.len());
            for record in &records {
                check(record);
                let kind = record.ask.kind();
                assert_eq!(record.way(), given.suited(kind), "{person:?} {kind:?}");
                let done = record.repetitions.iter().filter(|one| one.outcome == Outcome::Done);
                assert!(done.count() > 0, "{person:?} {kind:?} {asking:?}");
            }
        }
    }
}

/// What an invented person can do does not become more when a helper moves the stick: every figure
/// of the person is as it was without, and the helper's repetitions are counted.
#[test]
fn what_a_helper_moves_is_in_none_of_the_persons_figures() {
    for person in [Invented::ShortToOneSide, Invented::Chin] {
        let own = play_in(person.model(), 11, &all_tasks(), Way::default(), 0.004);
        let moves = [TaskKind::Reach, TaskKind::Hold, TaskKind::Return, TaskKind::Presses];
        let helped: Vec<TaskAsk> = moves.into_iter().map(short).collect();
        let helped = play_in(person.model(), 12, &helped, way(Asking::MovedByHelper), 0.004);
        let both: Vec<TaskRecord> = own.iter().chain(&helped).cloned().collect();
        let (before, after) = (measure(&own), measure(&both));
        assert_eq!(before.moved_by_helper, 0);
        // Twelve pushes, two holds, four ways back, twelve presses: what came of each of them.
        let done = |one: &&fitting::task::Repetition| one.outcome == Outcome::Done;
        let made: usize =
            helped.iter().map(|record| record.repetitions.iter().filter(done).count()).sum();
        assert!(after.moved_by_helper == made && made > 12, "{made}");
        // The stick's own figures may become finer; the person's stay as they are.
        let persons = |measures: Measures| Measures {
            device: before.device.clone(),
            moved_by_helper: 0,
            ..measures
        };
        // A finer step would be a better one, and widen the intervals by less.
        assert_eq!(after.device.step, before.device.step);
        assert_eq!(persons(after.clone()), persons(before.clone()), "{person:?}");
        assert_eq!(known(&both).reach, known(&own).reach);
        assert_eq!(after.device.sag, before.device.sag);
        // The helper's own reach is another: pooled it would show.
        let told: Vec<TaskRecord> = helped
            .iter()
            .map(|record| TaskRecord { asking: Asking::Told, ..record.clone() })
            .collect();
        let told = measure(&told);
        let farther =
            told.reach.iter().filter(|one| one.reach.is_ok_and(|reach| reach.value > 0.85));
        assert_eq!(farther.count(), 4, "the helper goes all the way");
    }
}

/// The reach of free movement is never more than the truth of the person, nor is the range seen.
#[test]
fn free_movement_shows_no_more_than_the_person_can() {
    let model: Model = Invented::SteadyHand.model();
    let asks = [
        TaskAsk::QuietRest { seconds: 12.0 },
        TaskAsk::Reach { directions: Direction::FOUR.to_vec(), rounds: 12 },
    ];
    let records = play_in(model.clone(), 5, &asks, way(Asking::FreeMovement), 0.004);
    let measures = measure(&records);
    assert!(measures.reach.len() >= 3, "{:?}", measures.reach.len());
    for reach in &measures.reach {
        assert!(reach.free && reach.ends.len() >= FEWEST_FREE_PUSHES);
        // A sector of 90 degrees holds the two diagonals as well.
        let truths = Direction::EIGHT.map(|direction| model.true_reach(direction));
        let most = truths.into_iter().fold(0.0, f64::max);
        assert!(reach.reach.unwrap().value < most, "{reach:?}");
    }
}
