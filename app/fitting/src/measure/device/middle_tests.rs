//! Hands on sticks with a middle that is hidden and with one that is not.

use super::tests::reads;
use crate::measure::measure;
use crate::measure::test_records::{Chance, hands_off, pushes, quiet_rest, recording};
use crate::position::Direction;
use crate::task::TaskRecord;
use crate::{Position, Recording};

const SEEDS: u64 = 36;

/// A hand: deviation of its slow wander at rest, and size of its tremor, shares of travel.
#[derive(Clone, Copy, Debug)]
struct Hand {
    wander: f64,
    tremor: f64,
    /// How far off the asked way it pushes, degrees (standard deviation).
    askew: f64,
}

const STILL: Hand = Hand { wander: 0.0005, tremor: 0.0, askew: 4.0 };
const STRAIGHT: Hand = Hand { askew: 1.0, ..STILL };
const TREMBLES: Hand = Hand { wander: 0.002, tremor: 0.02, askew: 4.0 };
const MOVES: Hand = Hand { wander: 0.02, tremor: 0.004, askew: 6.0 };

impl Hand {
    /// Where it is at each hundredth of a second.
    fn path(self, seconds: f64, chance: &mut Chance) -> impl Fn(f64) -> Position + use<> {
        let keep = libm::exp(-0.01 / 0.5);
        let (hertz, along) = (chance.between(3.0, 8.0), chance.between(0.0, 180.0));
        let (mut rough, mut smooth) = (Position::ORIGIN, Position::ORIGIN);
        let places: Vec<Position> = (0..(seconds * 100.0) as usize + 200)
            .map(|i| {
                let fresh = Position::new(chance.normal(), chance.normal());
                rough = rough * keep + fresh * libm::sqrt(1.0 - keep * keep);
                smooth = smooth * keep + rough * (1.0 - keep);
                let wave = libm::sin(std::f64::consts::TAU * hertz * i as f64 / 100.0);
                let wander = smooth * (self.wander * std::f64::consts::SQRT_2);
                wander + Position::polar(self.tremor * wave, along)
            })
            .skip(200)
            .collect();
        move |since: f64| places[((since * 100.0).round() as usize).min(places.len() - 1)]
    }
}

fn through(read: &dyn Fn(Position) -> Position, mut recording: Recording) -> Recording {
    for sample in &mut recording.samples {
        let at = read(Position::new(sample.axes[0], -sample.axes[1]));
        sample.axes = vec![at.right, -at.up];
    }
    recording
}

/// Hands off, a quiet rest, and pushes some degrees off the asked directions.
fn visit(
    hand: Hand,
    read: &dyn Fn(Position) -> Position,
    directions: &[Direction],
    seed: u64,
) -> Vec<TaskRecord> {
    let mut chance = Chance(seed);
    let reach = chance.between(0.35, 0.8);
    let ends: Vec<(Direction, Position)> = (0..16)
        .map(|i| {
            let asked = directions[i % directions.len()];
            (asked, Position::polar(reach, asked.degrees() + hand.askew * chance.normal()))
        })
        .collect();
    let rest = hand.path(20.0, &mut chance);
    // Nobody pushes as steadily as a hand that lies still.
    let on_the_way = Hand { wander: hand.wander.max(0.006), ..hand }.path(32.0, &mut chance);
    let mut pushed = pushes(100.0, &ends, 100.0, false, on_the_way);
    pushed.recording = through(read, pushed.recording);
    vec![
        hands_off(through(read, recording(0.0, 5.0, 100.0, false, |_| Position::ORIGIN))),
        quiet_rest(through(read, recording(10.0, 20.0, 100.0, false, rest))),
        pushed,
    ]
}

fn is_hidden(records: &[TaskRecord]) -> bool {
    let device = measure(records).device;
    device.still_middle || device.hidden_middle.is_some()
}

/// An axis of 8 bits whose middle code reads exactly 0.
fn with_zero_code(at: Position) -> Position {
    let axis = |value: f64| (value * 127.0).round().clamp(-127.0, 127.0) / 127.0;
    Position::new(axis(at.right), axis(at.up))
}

#[test]
fn a_hand_that_is_still_on_a_coarse_stick_hides_nothing() {
    let plain: [(&str, &dyn Fn(Position) -> Position); 4] = [
        ("8 bits with a code for 0", &with_zero_code),
        ("8 bits", &|at| reads(8, false, at)),
        ("10 bits", &|at| reads(10, false, at)),
        ("16 bits", &|at| reads(16, false, at)),
    ];
    for (name, read) in plain {
        for hand in [STILL, STRAIGHT, TREMBLES, MOVES] {
            for directions in [&Direction::EIGHT[..], &Direction::FOUR[..]] {
                let accused = (0..SEEDS)
                    .filter(|seed| is_hidden(&visit(hand, read, directions, 100 + seed)))
                    .count();
                assert_eq!(accused, 0, "of {SEEDS}: {name}, {hand:?}, {} ways", directions.len());
            }
        }
    }
}

#[test]
fn a_hidden_middle_is_found_by_what_crosses_it() {
    for bits in [8, 10, 16] {
        for hand in [STILL, TREMBLES, MOVES] {
            let read = |at| reads(bits, true, at);
            let found = (0..SEEDS)
                .filter(|seed| is_hidden(&visit(hand, &read, &Direction::EIGHT, 500 + seed)))
                .count() as u64;
            assert!(found * 20 >= SEEDS * 19, "{found} of {SEEDS}: {bits} bits, {hand:?}");
        }
    }
}

/// Before anything was moved nobody knows whether more than one code reads 0.
#[test]
fn a_still_rest_alone_hides_nothing() {
    let mut records = visit(STILL, &with_zero_code, &Direction::EIGHT, 1);
    records.truncate(2);
    assert!(!is_hidden(&records));
}
