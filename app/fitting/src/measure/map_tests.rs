use super::*;
use crate::Span;
use crate::estimate::StickTrait;
use crate::measure::test_records::{Chance, pushes, record, recording, repetition};
use crate::measure::{DirectionReach, measure};
use crate::task::{Repetition, TaskAsk};
use proptest::prelude::{prop_assert, proptest};

/// The map without a step of the stick.
fn map(records: &[TaskRecord], reach: &[DirectionReach]) -> Result<PerformedMap, NotEnough> {
    super::map(records, reach, 0.0, false)
}

fn reach_of(groups: &[(Direction, Vec<Position>)]) -> Vec<DirectionReach> {
    groups
        .iter()
        .map(|(asked, ends)| DirectionReach {
            free: false,
            asked: *asked,
            reach: Err(NotEnough::NothingRecorded),
            end: Some(mean_place(ends)),
            degrees_off: Err(NotEnough::NothingRecorded),
            ends: ends.clone(),
        })
        .collect()
}

/// A person: how far and where each direction goes, and how the pushes scatter.
struct Person {
    directions: Vec<Direction>,
    means: Vec<Position>,
    degrees: f64,
    share: f64,
}

impl Person {
    fn any(random: &mut Chance, directions: &[Direction]) -> Self {
        let turn = random.between(-40.0, 40.0);
        let means = directions
            .iter()
            .map(|one| {
                let off = turn + random.between(-12.0, 12.0);
                Position::polar(random.between(0.3, 0.9), one.degrees() + off)
            })
            .collect();
        let (degrees, share) = (random.between(1.0, 7.0), random.between(0.01, 0.1));
        Self { directions: directions.to_vec(), means, degrees, share }
    }

    fn pushes(&self, random: &mut Chance, rounds: usize) -> Vec<(Direction, Vec<Position>)> {
        let scatter = |mean: &Position, random: &mut Chance| {
            let (along, across) = (random.normal(), random.normal());
            (*mean * (1.0 + self.share * along)).turned(self.degrees * across)
        };
        self.directions
            .iter()
            .zip(&self.means)
            .map(|(one, mean)| (*one, (0..rounds).map(|_| scatter(mean, random)).collect()))
            .collect()
    }

    fn truth(&self) -> Option<Polar> {
        let ends: Vec<(Direction, Position)> =
            self.directions.iter().copied().zip(self.means.iter().copied()).collect();
        polar_of_ends(&ends).map(|found| found.1)
    }
}

/// Over people whose truth is known: how often the intervals of turn, stretch and cross-talk
/// hold it, and the median error of the turn, degrees.
fn over_people(directions: &[Direction], rounds: usize, seed: u64) -> ([f64; 3], f64) {
    let mut random = Chance(seed);
    let (mut held, mut people) = ([0.0; 3], 0.0);
    let mut errors = Vec::new();
    for _ in 0..2000 {
        let person = Person::any(&mut random, directions);
        // Near half a quarter turn swap and turn change places: another question.
        let Some(truth) = person.truth().filter(|truth| truth.degrees.abs() < 40.0) else {
            continue;
        };
        let Ok(map) = map(&[], &reach_of(&person.pushes(&mut random, rounds))) else { continue };
        let (f, g) = truth.uneven();
        let uneven = libm::hypot(f, g);
        let truths = [truth.degrees, (1.0 - uneven) / (1.0 + uneven), truth.cross_talk()];
        let told = [map.turn, map.stretch, map.cross_talk].map(Result::unwrap);
        people += 1.0;
        for ((held, truth), told) in held.iter_mut().zip(truths).zip(told) {
            *held += f64::from(u8::from(told.low <= truth && truth <= told.high));
        }
        errors.push((told[0].value - truths[0]).abs());
    }
    assert!(people > 1800.0, "{people} of 2000");
    let median = crate::statistics::plain::median(&errors).unwrap();
    (held.map(|held| held / people), median)
}

/// 95 % of 2000 scatters by half a percent: the bar of 92 to 98 % is missed by no chance.
#[test]
fn intervals_hold_the_truth_as_often_as_they_say() {
    for (directions, rounds, seed) in [
        (&Direction::EIGHT[..], 3, 5),
        (&Direction::FOUR[..], 3, 6),
        (&Direction::FOUR[..], 2, 7),
        (&Direction::EIGHT[..], 12, 8),
        (&[Direction::Right, Direction::Left, Direction::Up][..], 4, 9),
    ] {
        let (held, median) = over_people(directions, rounds, seed);
        println!("{} directions, {rounds} rounds: {held:?}, {median} degrees", directions.len());
        for held in held {
            assert!((0.92..=0.98).contains(&held), "{held}");
        }
        if directions.len() * rounds >= 24 {
            assert!(median <= 1.0, "{median} degrees");
        }
    }
}

/// A person whose reach is the same all round: the interval of the stretch must hold 1, which it
/// can only reach from below.
#[test]
fn an_even_reach_is_not_called_uneven() {
    let mut random = Chance(3);
    let means = Direction::EIGHT.map(|one| Position::polar(0.7, one.degrees())).to_vec();
    let person = Person { directions: Direction::EIGHT.to_vec(), means, degrees: 5.0, share: 0.05 };
    let held = (0..1000)
        .filter(|_| {
            let map = map(&[], &reach_of(&person.pushes(&mut random, 3))).unwrap();
            map.stretch.unwrap().high >= 1.0
        })
        .count();
    assert!((930..=970).contains(&held), "{held} of 1000");
}

/// The repeat agrees in 95 % of people who do the same in both halves, and does not when the
/// mount slipped by 15 degrees in between.
#[test]
fn a_repeat_agrees_unless_something_changed() {
    let mut random = Chance(4);
    let (mut same, mut slipped) = (0, 0);
    for _ in 0..500 {
        let person = Person::any(&mut random, &Direction::EIGHT);
        let mut groups = person.pushes(&mut random, 4);
        same += usize::from(map(&[], &reach_of(&groups)).is_ok_and(|map| map.repeat_agrees));
        for (_, ends) in &mut groups {
            for end in &mut ends[2..] {
                *end = end.turned(15.0);
            }
        }
        slipped += usize::from(map(&[], &reach_of(&groups)).is_ok_and(|map| map.repeat_agrees));
    }
    assert!((460..=492).contains(&same), "{same} of 500");
    assert!(slipped < 10, "{slipped} of 500");
}

#[test]
fn one_skewed_side_is_no_turned_mount() {
    let ends = |degrees: f64| {
        [0.0, -1.0, 1.0].map(|off| Position::polar(0.6 + 0.01 * off, degrees + off)).to_vec()
    };
    let askew = [
        (Direction::Right, ends(40.0)),
        (Direction::Up, ends(90.0)),
        (Direction::Left, ends(180.0)),
        (Direction::Down, ends(-90.0)),
    ];
    let skewed = map(&[], &reach_of(&askew)).unwrap();
    assert!(skewed.turn.unwrap().value > 5.0);
    assert!(skewed.turn_without_one.unwrap().abs() < 0.1, "{skewed:?}");
    let turned = Direction::FOUR.map(|one| (one, ends(one.degrees() + 25.0)));
    let turned = map(&[], &reach_of(&turned)).unwrap();
    assert!((turned.turn.unwrap().value - 25.0).abs() < 0.1);
    assert!((turned.turn_without_one.unwrap() - 25.0).abs() < 0.1);
    assert!(turned.repeat_agrees && !turned.swapped);
}

#[test]
fn a_swapped_and_an_inverted_axis_are_found() {
    let twice = |place: Position| vec![place, place * 1.02];
    let reach = |of: fn(Position) -> Position| {
        Direction::FOUR.map(|one| (one, twice(of(Position::polar(0.6, one.degrees())))))
    };
    let swapped = map(&[], &reach_of(&reach(|at| Position::new(at.up, at.right)))).unwrap();
    assert_eq!(
        (swapped.swapped, swapped.right_inverted, swapped.up_inverted),
        (true, false, false)
    );
    let inverted = map(&[], &reach_of(&reach(|at| Position::new(at.right, -at.up)))).unwrap();
    assert_eq!(
        (inverted.swapped, inverted.right_inverted, inverted.up_inverted),
        (false, false, true)
    );
    assert!(inverted.turn.unwrap().value.abs() < 1e-9);
}

#[test]
fn what_does_not_span_both_axes_is_not_enough() {
    let twice = |one: Direction| {
        let end = Position::polar(0.6, one.degrees() + 20.0);
        (one, vec![end, end * 1.05])
    };
    let few = |list: &[Direction]| {
        map(&[], &reach_of(&list.iter().map(|one| twice(*one)).collect::<Vec<_>>())).unwrap_err()
    };
    let need = |have| NotEnough::Repetitions { have, need: 3 };
    assert_eq!(few(&[Direction::Right, Direction::Left]), need(2));
    assert_eq!(few(&[Direction::Right, Direction::Up]), need(2));
    assert_eq!(map(&[], &[]), Err(NotEnough::NothingRecorded));
    // Each direction once: nothing says how the pushes scatter.
    let once: Vec<_> = Direction::FOUR
        .iter()
        .map(|one| (*one, vec![Position::polar(0.6, one.degrees())]))
        .collect();
    assert_eq!(map(&[], &reach_of(&once)), Err(NotEnough::Repetitions { have: 4, need: 5 }));
    let mut lever = pushes(
        0.0,
        &[(Direction::Up, Position::new(0.0, 0.6)), (Direction::Up, Position::new(0.0, 0.7))],
        100.0,
        false,
        |_| Position::ORIGIN,
    );
    lever.known.kind.moves = crate::stick_kind::Moves::OneWay;
    assert_eq!(measure(&[lever]).map, Err(NotEnough::NotFor(StickTrait::OneWay)));
}

proptest! {
    /// Longer pushes change nothing but their length; pushes that are all turned turn the map.
    #[test]
    fn the_map_follows_scale_and_turn(size in 0.1..1.0_f64, turn in -20.0..20.0_f64, seed: u64) {
        let mut random = Chance(seed);
        let mut person = Person::any(&mut random, &Direction::EIGHT);
        let straighten = -person.truth().unwrap().degrees;
        for mean in &mut person.means {
            *mean = mean.turned(straighten);
        }
        let groups = person.pushes(&mut random, 3);
        let moved: Vec<_> = groups
            .iter()
            .map(|(one, ends)| (*one, ends.iter().map(|end| end.turned(turn) * size).collect()))
            .collect();
        let (plain, moved) = (map(&[], &reach_of(&groups)), map(&[], &reach_of(&moved)));
        let (Ok(plain), Ok(moved)) = (plain, moved) else { return Ok(()) };
        if plain.turn.unwrap().value.abs() > 20.0 { return Ok(()) }
        let (one, other) = (plain.turn.unwrap(), moved.turn.unwrap());
        prop_assert!((other.value - one.value - turn).abs() < 1e-6);
        prop_assert!((other.width() - one.width()).abs() < 1e-5);
        let (one, other) = (plain.stretch.unwrap(), moved.stretch.unwrap());
        prop_assert!((other.value - one.value).abs() < 1e-9);
        prop_assert!((other.low - one.low).abs() < 1e-6 && (other.high - one.high).abs() < 1e-6);
    }
}

/// A mount turned 15 degrees behind a system that cuts an eighth out of the middle and an eighth before
/// each end of each axis (as observed, Chromium 156 on Linux), reach 60/50/60/35 %: −3 degrees (−4 to −2)
/// was read, firm.
#[test]
fn a_turn_behind_a_hidden_middle_lies_in_its_interval() {
    let shown = |push: f64| ((push.abs() - 0.125) / 0.75).clamp(0.0, 1.0).copysign(push);
    let reaches = [0.6, 0.5, 0.6, 0.35];
    for mount in [-25.0, -15.0, -6.0, 0.0, 4.0, 15.0, 30.0] {
        let pushed: Vec<(Direction, Vec<Position>)> = Direction::FOUR
            .into_iter()
            .zip(reaches)
            .map(|(one, reach)| {
                let end = |off: f64| {
                    let end = Position::polar(reach + 0.01 * off, one.degrees() + mount + off);
                    Position::new(shown(end.right), shown(end.up))
                };
                (one, [0.0, -1.0, 1.0].map(end).to_vec())
            })
            .collect();
        let turn = super::map(&[], &reach_of(&pushed), 0.0, true).unwrap().turn.unwrap();
        assert!(turn.low <= mount && mount <= turn.high, "{mount}: {turn:?}");
        assert!((turn.value - mount).abs() < 12.0, "{mount}: {turn:?}");
    }
}

/// A direction that was asked for in vain: how large the axes are against each other is not known from
/// the other ones, how far the stick is turned is.
#[test]
fn where_a_direction_never_came_out_the_axes_are_not_compared() {
    let mut random = Chance(11);
    let person = Person::any(&mut random, &Direction::EIGHT);
    let mut pushes = person.pushes(&mut random, 4);
    pushes.retain(|one| one.0 != Direction::Up);
    let span = Span { from_seconds: 1.0, to_seconds: 61.0 };
    let tried = |direction: Direction, outcome: Outcome| {
        let ask = TaskAsk::Reach { directions: Direction::EIGHT.to_vec(), rounds: 1 };
        let still = recording(0.0, 62.0, 60.0, false, |_| Position::ORIGIN);
        let repetition = Repetition { outcome, ..repetition(span, Some(direction), None) };
        [record(ask, still, vec![repetition])]
    };
    let not_done = Err(NotEnough::NotDone);
    for hidden in [false, true] {
        let map =
            |records: &[TaskRecord]| super::map(records, &reach_of(&pushes), 0.0, hidden).unwrap();
        let in_vain = map(&tried(Direction::Up, Outcome::Skipped));
        assert!(in_vain.turn.is_ok());
        assert_eq!((in_vain.stretch, in_vain.cross_talk), (not_done, not_done));
        // One that came out at other times is known, and one that was cut short was not tried.
        let known = tried(Direction::Left, Outcome::Skipped);
        let cut_short = tried(Direction::Up, Outcome::CutShort);
        assert!(map(&known).stretch.is_ok() && map(&cut_short).stretch.is_ok());
    }
}
