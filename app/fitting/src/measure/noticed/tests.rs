use super::*;
use crate::invented::{Invented, Model, Stick, play};
use crate::task::TaskAsk;

/// What is noticed of an invented person on this stick, who plays as if it were a usual one.
fn noticed(stick: Stick, asks: &[TaskAsk], seed: u64) -> Vec<Noticed> {
    let model = Model { stick, ..Invented::SteadyHand.model() };
    notice(&play(model, seed, asks, 0.004), StickKind::default())
}

fn free(seconds: f64) -> TaskAsk {
    TaskAsk::FreeMovement { seconds }
}

fn rest() -> TaskAsk {
    TaskAsk::QuietRest { seconds: 10.0 }
}

fn reach(directions: &[Direction]) -> TaskAsk {
    TaskAsk::Reach { directions: directions.to_vec(), rounds: 2 }
}

fn usual() -> Stick {
    Invented::SteadyHand.model().stick
}

#[test]
fn one_axis_is_noticed_when_the_other_was_asked_for() {
    let stick = Stick { moves: Moves::OneAxis, noise: 0.0, ..usual() };
    for (seed, asks) in [
        (1, vec![rest(), free(30.0)]),
        (2, vec![rest(), reach(&Direction::FOUR)]),
        (3, vec![reach(&Direction::EIGHT), free(45.0)]),
    ] {
        let found = noticed(stick.clone(), &asks, seed);
        assert_eq!(found.len(), 1, "{found:?}");
        assert_eq!(found[0].what, StickTrait::OneAxis);
        assert_eq!(found[0].sureness, Sureness::Firm, "{found:?}");
        assert_eq!(found[0].taken_into(StickKind::default()).moves, Moves::OneAxis);
        let Evidence::Covered { moved, other } = found[0].evidence else { panic!("{found:?}") };
        assert!(moved > 0.5 && other <= NEVER, "{found:?}");
    }
    // With noise of its own on the other axis it may as well be the person.
    let noisy = Stick { noise: 0.003, ..stick.clone() };
    let found = noticed(noisy, &[rest(), free(30.0)], 4);
    assert_eq!((found[0].what, found[0].sureness), (StickTrait::OneAxis, Sureness::Rough));
    // Only its own directions were asked, or only for a moment: nothing is known of the other.
    assert!(
        noticed(stick.clone(), &[rest(), reach(&[Direction::Up, Direction::Down])], 5).is_empty()
    );
    assert!(noticed(stick, &[rest(), free(8.0)], 6).is_empty());
}

#[test]
fn one_way_is_noticed_when_both_were_asked_for() {
    let stick = Stick { moves: Moves::OneWay, noise: 0.0, ..usual() };
    let found = noticed(stick.clone(), &[rest(), reach(&Direction::FOUR), free(30.0)], 1);
    assert_eq!(found.len(), 1, "{found:?}");
    // It rests in the middle of its axis: the person may not be able to go the other way.
    assert_eq!((found[0].what, found[0].sureness), (StickTrait::OneWay, Sureness::Rough));
    let Evidence::WentOneWay { there, back } = found[0].evidence else { panic!("{found:?}") };
    assert!(there > 0.4 && back < 0.05, "{found:?}");
    assert_eq!(found[0].taken_into(StickKind::default()).moves, Moves::OneWay);
}

#[test]
fn a_stick_that_stays_is_noticed_from_the_ways_back() {
    let stays = Stick { centres_itself: false, ..usual() };
    let ways =
        |rounds| TaskAsk::Return { directions: Direction::FOUR.to_vec(), level: 0.5, rounds };
    // Four ways back that never end are all that a helper waits for in one task.
    let found = noticed(stays, &[rest(), ways(1), ways(1)], 1);
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!((found[0].what, found[0].sureness), (StickTrait::NotSelfCentring, Sureness::Firm));
    let Evidence::StayedOut { times, of } = found[0].evidence else { panic!("{found:?}") };
    assert!(times >= 6 && of <= 8 && times <= of, "{found:?}");
    assert!(noticed(usual(), &[rest(), ways(2)], 2).is_empty());
}

#[test]
fn directions_that_are_on_or_off_are_noticed() {
    let ask = [rest(), reach(&Direction::FOUR), free(30.0)];
    let mut records = play(Invented::SteadyHand.model(), 1, &ask, 0.004);
    assert!(notice(&records, StickKind::default()).is_empty());
    // What the same movement is on a stick of four switches.
    for sample in records.iter_mut().flat_map(|record| &mut record.recording.samples) {
        for value in &mut sample.axes {
            *value = if value.abs() < 0.4 { 0.0 } else { value.signum() };
        }
    }
    let found = notice(&records, StickKind::default());
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!((found[0].what, found[0].sureness), (StickTrait::Switches, Sureness::Firm));
    let already = StickKind { switches: true, ..StickKind::default() };
    assert!(notice(&records, already).is_empty());
}

#[test]
fn usual_sticks_and_people_are_left_alone() {
    for (seed, person) in Invented::ALL.into_iter().enumerate() {
        let model = person.model();
        if model.kind() != StickKind::default() {
            continue;
        }
        let plan = [rest(), free(30.0), reach(&Direction::FOUR)];
        let found = notice(&play(model, seed as u64, &plan, 0.004), StickKind::default());
        assert!(found.is_empty(), "{person:?}: {found:?}");
    }
    assert!(notice(&[], StickKind::default()).is_empty());
}
