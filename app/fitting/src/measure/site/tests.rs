use super::*;
use crate::invented::{Invented, play};
use crate::measure::test_records::{Chance, record, recording, stretches};
use crate::task::TaskAsk;
use proptest::prelude::*;

const SECONDS: f64 = 25.0;

fn moved(path: impl Fn(f64) -> Position) -> TaskRecord {
    let path = recording(3.0, SECONDS, 100.0, true, path);
    let repetitions = stretches(&path);
    record(TaskAsk::FreeMovement { seconds: SECONDS }, path, repetitions)
}

/// Every 2 s out for 1 s, with a straight way out and back of 0.3 s each, to where `end` says.
fn trips(end: impl Fn(usize) -> Position) -> TaskRecord {
    moved(move |since| {
        let trip = (since / 2.0) as usize;
        let within = since - 2.0 * trip as f64;
        let share = (within / 0.3).min((1.3 - within) / 0.3).clamp(0.0, 1.0);
        end(trip) * share
    })
}

#[test]
fn trips_are_counted_and_their_size_is_told_by_direction() {
    // Right (0.6, 0.7, 0.5) and up (0.4), in turn.
    let sizes = [0.6, 0.7, 0.5];
    let end = |trip: usize| match trip % 2 {
        0 => Position::polar(sizes[trip / 2 % 3], 5.0),
        _ => Position::polar(0.4, 95.0),
    };
    let found = site_movement([&trips(end)]).unwrap();
    assert!((found.seconds - SECONDS).abs() < 0.011);
    // The thirteenth had not come back at 25 s: it began at 24 s and lasts 1.3 s.
    assert_eq!(found.movements, 12);
    assert_eq!(found.directions.len(), 2);
    let (right, up) = (&found.directions[0], &found.directions[1]);
    assert_eq!((right.about, right.movements), (Direction::Right, 6));
    let size = right.size.unwrap();
    assert!((size.value - 0.6).abs() < 1e-9, "{size:?}");
    // t(0.975, 5) = 2.5706; deviation of two each of 0.5, 0.6, 0.7 is 0.0894.
    assert!((size.high - 0.6 - 2.5706 * 0.089_442_7 / 6.0_f64.sqrt()).abs() < 1e-4, "{size:?}");
    assert_eq!((up.about, up.movements), (Direction::Up, 6));
    let rate = found.per_minute.unwrap();
    assert!((rate.value - 12.0 * 60.0 / 25.0).abs() < 0.02 && rate.low < 20.0 && rate.high > 40.0);
}

#[test]
fn the_same_way_again_and_again_repeats() {
    let mut chance = Chance(7);
    let ends: Vec<Position> = (0..14)
        .map(|_| Position::polar(0.5 + 0.04 * chance.normal(), 180.0 + 6.0 * chance.normal()))
        .collect();
    let found = site_movement([&trips(|trip| ends[trip])]).unwrap();
    let usual = found.usual.as_ref().unwrap();
    assert_eq!((usual.about, usual.movements), (Direction::Left, 12));
    // 0.04 of 0.5 along, 6 degrees across: sqrt(0.08² + 0.105²) = 0.13.
    let spread = usual.spread.unwrap();
    assert!(spread.low < 0.13 && 0.13 < spread.high, "{spread:?}");
    assert_eq!(found.repeats(), Some(true));
}

#[test]
fn movement_to_all_sides_alike_does_not() {
    let mut chance = Chance(21);
    let (mut said_yes, mut said_no) = (0, 0);
    for _ in 0..200 {
        let ends: Vec<Position> = (0..14)
            .map(|_| Position::polar(chance.between(0.2, 0.9), chance.between(-180.0, 180.0)))
            .collect();
        let found = site_movement([&trips(|trip| ends[trip])]).unwrap();
        match found.repeats() {
            Some(true) => said_yes += 1,
            Some(false) => said_no += 1,
            None => {}
        }
    }
    assert!(said_yes <= 6, "{said_yes} of 200 called repeatable");
    assert!(said_no > 0, "and some are called what they are");
}

#[test]
fn the_interval_of_the_spread_holds_the_truth_as_often_as_it_says() {
    let mut chance = Chance(3);
    let (mut held, trials) = (0, 400);
    for _ in 0..trials {
        // The same deviation along and across, 0.06 of 0.5 each: 0.17 in the plane.
        let ends: Vec<Position> = (0..14)
            .map(|_| {
                Position::new(0.5, 0.0) + Position::new(chance.normal(), chance.normal()) * 0.06
            })
            .collect();
        let found = site_movement([&trips(|trip| ends[trip])]).unwrap();
        let spread = found.usual.unwrap().spread.unwrap();
        let truth = 0.06 * 2.0_f64.sqrt() / 0.5;
        held += usize::from(spread.low <= truth && truth <= spread.high);
    }
    let share = f64::from(u32::try_from(held).unwrap()) / f64::from(trials);
    assert!((0.92..=0.985).contains(&share), "held the truth in {share}");
}

#[test]
fn too_little_says_so() {
    assert_eq!(site_movement([]).unwrap_err(), NotEnough::NothingRecorded);
    let path = recording(0.0, 6.0, 100.0, true, |_| Position::ORIGIN);
    let repetitions = stretches(&path);
    let short = record(TaskAsk::FreeMovement { seconds: 6.0 }, path, repetitions);
    assert!(matches!(site_movement([&short]).unwrap_err(), NotEnough::Seconds { .. }));
    let still = site_movement([&moved(|_| Position::new(0.02, 0.01))]).unwrap();
    assert_eq!((still.movements, still.directions.len(), still.repeats()), (0, 0, None));
    assert_eq!(still.per_minute.unwrap().low, 0.0);
    // Two movements: told, and no spread.
    let two = site_movement([&trips(|trip| {
        if trip < 2 { Position::polar(0.5, 90.0) } else { Position::ORIGIN }
    })])
    .unwrap();
    assert_eq!(two.movements, 2);
    let few = NotEnough::Repetitions { have: 2, need: 3 };
    assert_eq!(two.usual.unwrap().spread, Err(few));
    assert_eq!(two.directions[0].size, Err(few));
}

#[test]
fn marked_stretches_are_left_out() {
    let mut task = trips(|_| Position::polar(0.6, 0.0));
    let all = site_movement([&task]).unwrap().movements;
    task.repetitions[0].mark = Some(crate::task::MarkReason::Helped);
    let left = site_movement([&task]).unwrap();
    assert_eq!((all, left.movements), (12, 7));
}

#[test]
fn invented_people_move_and_come_back() {
    for person in Invented::ALL {
        let asks = vec![TaskAsk::FreeMovement { seconds: SECONDS }];
        let records = play(person.model(), 11, &asks, 0.004);
        let found = site_movement(&records);
        let found = found.unwrap_or_else(|why| panic!("{person:?}: {why:?}"));
        assert!(found.movements >= 3, "{person:?}: {found:?}");
        let counted: usize = found.directions.iter().map(|one| one.movements).sum();
        assert_eq!(counted, found.movements, "{person:?}");
        let usual = found.usual.unwrap();
        assert!(usual.movements <= found.movements);
    }
}

proptest! {
    /// A turned stick sees the same movements, turned.
    #[test]
    fn turning_the_stick_changes_no_number_but_the_way(
        seed in 0..200_u64,
        eighths in 0..8_u8,
    ) {
        let mut chance = Chance(seed);
        let ends: Vec<Position> = (0..14)
            .map(|_| Position::polar(chance.between(0.3, 0.8), chance.between(-180.0, 180.0)))
            .collect();
        let straight = site_movement([&trips(|trip| ends[trip])]).unwrap();
        let by = 45.0 * f64::from(eighths);
        let turned = site_movement([&trips(|trip| ends[trip].turned(by))]).unwrap();
        prop_assert_eq!(straight.movements, turned.movements);
        let (one, other) = (straight.usual.unwrap(), turned.usual.unwrap());
        prop_assert_eq!(one.movements, other.movements);
        prop_assert_eq!(straight.directions.len(), turned.directions.len());
    }
}
