use super::*;
use crate::Position;
use crate::estimate::Sureness;
use crate::measure::LevelSteadiness;
use crate::measure::test_records::pushes;
use crate::measure::{SustainedHold, measure};

fn pushed(lengths: &[f64]) -> TaskRecord {
    let ends: Vec<(Direction, Position)> = lengths
        .iter()
        .flat_map(|length| {
            [Direction::Right, Direction::Left]
                .map(|asked| (asked, Position::polar(*length, asked.degrees())))
        })
        .collect();
    pushes(0.0, &ends, 100.0, false, |_| Position::ORIGIN)
}

fn held(asked: Direction, kept: f64, effort: Option<u8>, seconds: f64) -> SustainedHold {
    let basis = Basis { seconds, repetitions: 1 };
    SustainedHold {
        asked,
        hard_at_level: None,
        level: 0.5,
        seconds,
        times: 2,
        effort,
        kept: Ok(Estimate::new(kept, kept - 0.01, kept + 0.01, basis).unwrap()),
        drift_per_minute: Err(NotEnough::NothingRecorded),
    }
}

fn advised(lengths: &[f64], sustained: Vec<SustainedHold>) -> FullThrowAdvice {
    let records = [pushed(lengths)];
    let measures = Measures { sustained, ..measure(&records) };
    full_throw(&own_throws(&records, &measures, &|_| 1.0), &measures, 0.1, LEAST_STEERING_SPAN)
        .unwrap()
}

#[test]
fn what_was_kept_up_easily_is_full_throw() {
    let lengths = [0.8, 0.79, 0.81, 0.8, 0.79, 0.81];
    let both = [Direction::Right, Direction::Left];
    let easy = advised(&lengths, both.map(|asked| held(asked, 0.6, Some(2), 15.0)).into());
    assert_eq!((easy.source, easy.sureness), (FullThrowSource::Sustained, Sureness::Firm));
    assert!((easy.radius.value - 0.6).abs() < 1e-9);
    let once = both.map(|asked| SustainedHold { times: 1, ..held(asked, 0.6, Some(2), 15.0) });
    let once = advised(&lengths, once.into());
    assert_eq!((once.radius.value, once.sureness), (easy.radius.value, Sureness::Rough));
    // One side is left without a long hold: it has 80 % of its reach, the other decides.
    let one = advised(&lengths, vec![held(Direction::Left, 0.6, Some(3), 15.0)]);
    assert_eq!((one.decided_by, one.source), (Direction::Left, FullThrowSource::Sustained));
    assert_eq!(one.right_axis.map(|axis| axis.0), Some(one.radius.value));
    assert_eq!(one.up_axis, None);
}

#[test]
fn an_easy_hold_at_half_reach_says_only_that_more_can_be_kept_up() {
    let lengths = [0.8, 0.79, 0.81, 0.8, 0.79, 0.81];
    let both = [Direction::Right, Direction::Left];
    let advice = advised(&lengths, both.map(|asked| held(asked, 0.4, Some(1), 15.0)).into());
    assert_eq!(advice.source, FullThrowSource::ShareOfReach);
    assert!((advice.radius.value - 0.64).abs() < 0.01, "{advice:?}");
    // Tried farther out and found hard: between the two.
    let tried = both.map(|asked| SustainedHold {
        hard_at_level: Some(0.75),
        ..held(asked, 0.4, Some(2), 15.0)
    });
    let tried = advised(&lengths, tried.into());
    assert_eq!(tried.source, FullThrowSource::ShareOfReach);
    assert!((tried.radius.value - 0.5).abs() < 0.01, "{tried:?}");
    // Farther out it is a measure, and a hard hold at half reach stays a limit.
    let far = advised(&lengths, both.map(|asked| held(asked, 0.6, Some(3), 15.0)).into());
    assert_eq!(far.source, FullThrowSource::Sustained);
    let hard = advised(&lengths, both.map(|asked| held(asked, 0.4, Some(5), 15.0)).into());
    assert!((hard.radius.value - 0.4).abs() < 1e-9, "{hard:?}");
}

#[test]
fn what_was_hard_or_short_is_a_limit_and_no_measure() {
    let lengths = [0.8, 0.79, 0.81, 0.8, 0.79, 0.81];
    for hold in
        [held(Direction::Left, 0.4, Some(6), 15.0), held(Direction::Left, 0.4, Some(2), 7.0)]
    {
        let advice = advised(&lengths, vec![hold]);
        assert_eq!(advice.source, FullThrowSource::ShareOfReach);
        assert_eq!(advice.sureness, Sureness::Rough);
        assert!((advice.radius.value - 0.4).abs() < 1e-9, "{advice:?}");
    }
    // Nobody said how hard it was: it tells nothing.
    let advice = advised(&lengths, vec![held(Direction::Left, 0.4, None, 15.0)]);
    assert!((advice.radius.value - 0.64).abs() < 0.01, "{advice:?}");
}

#[test]
fn where_too_little_is_left_to_steer_with_no_number_is_suggested() {
    // A dead zone of 0.1, and 80 % of the reach is 0.2 or 0.28.
    for (reach, is_safe) in [(0.25, false), (0.35, true)] {
        let records = [pushed(&[reach; 6])];
        let measures = measure(&records);
        let own = own_throws(&records, &measures, &|_| 1.0);
        let advice = full_throw(&own, &measures, 0.1, LEAST_STEERING_SPAN);
        assert_eq!(advice.is_ok(), is_safe, "{advice:?}");
        assert!(is_safe || advice == Err(NotEnough::NoSteeringSpan));
        assert!(
            own.iter().all(|one| one.beside(0.1, LEAST_STEERING_SPAN).throw.is_some() == is_safe)
        );
    }
}

#[test]
fn the_unsteadier_a_held_push_the_more_is_left_to_steer_with() {
    let basis = Basis { seconds: 12.0, repetitions: 4 };
    let of = |deviation: f64| LevelSteadiness {
        level: 0.5,
        radius: 0.4,
        deviation: Ok(Estimate::new(deviation, deviation, deviation, basis).unwrap()),
        degrees_of_freedom: 10.0,
        wander: Err(NotEnough::NothingRecorded),
        rhythmic: Err(NotEnough::NothingRecorded),
        at_gate: false,
    };
    let least =
        |hold: Vec<LevelSteadiness>, gain| least_span(&Measures { hold, ..measure(&[]) }, gain);
    assert_eq!(least(vec![], 1.0), LEAST_STEERING_SPAN);
    assert_eq!(least(vec![of(0.01)], 1.0), LEAST_STEERING_SPAN);
    assert_eq!(least(vec![of(0.06), of(0.02)], 1.0), 5.0 * 0.06);
    assert_eq!(least(vec![of(0.06)], 2.0), 10.0 * 0.06);
    // What is pinned to the end of travel tells nothing of steadiness.
    let pinned = LevelSteadiness { at_gate: true, ..of(0.06) };
    assert_eq!(least(vec![pinned], 1.0), LEAST_STEERING_SPAN);
}

/// A longer hold at 0.4 was hard, and 0.8 is comfortable: the throw goes out as far as room to steer
/// in is wanted, and no farther.
#[test]
fn a_hard_hold_gives_way_to_room_to_steer_in() {
    let measures = Measures {
        sustained: vec![
            held(Direction::Right, 0.4, Some(6), 15.0),
            held(Direction::Left, 0.4, Some(6), 15.0),
        ],
        ..measure(&[pushed(&[0.8; 6])])
    };
    let own = own_throws(&[pushed(&[0.8; 6])], &measures, &|_| 1.0);
    let of = |dead_zone: f64| full_throw(&own, &measures, dead_zone, LEAST_STEERING_SPAN);
    let throw = |dead_zone: f64| of(dead_zone).map(|advice| (advice.radius.value, advice.limit));
    assert_eq!(throw(0.05), Ok((0.4, ThrowLimit::HardHold)));
    let Ok((wider, ThrowLimit::RoomToSteer)) = throw(0.2) else { panic!("{:?}", of(0.2)) };
    assert!((wider - 0.5).abs() < 1e-9, "{wider}");
    let Ok((most, ThrowLimit::RoomToSteer)) = throw(0.45) else { panic!("{:?}", of(0.45)) };
    assert!((0.7..=0.8).contains(&most), "{most}");
    assert_eq!(throw(0.7), Err(NotEnough::NoSteeringSpan));
}

#[test]
fn late_pushes_bound_it() {
    // Tires from 0.8 to 0.6: an early hold at 0.75 is not for the last minutes.
    let lengths = [0.8, 0.78, 0.75, 0.7, 0.65, 0.6];
    let both = [Direction::Right, Direction::Left];
    let advice = advised(&lengths, both.map(|asked| held(asked, 0.75, Some(1), 15.0)).into());
    assert!(advice.radius.value < 0.625, "{advice:?}");
    assert!(advice.radius.value >= 0.6 * 0.71, "{advice:?}");
}
