//! Invented people in every task, against what is true of them.

use super::{
    Breathing, Invented, Model, Pressing, Reporting, Resting, Roaming, Spring, Stick, play,
};
use crate::measure::{Measures, measure};
use crate::stick_kind::Moves;
use crate::task::{Meanwhile, Outcome, PressAsk, Target, TaskAsk, TaskRecord};
use crate::{Direction, Position, Trace};

fn steady() -> Model {
    let mut model = Invented::SteadyHand.model();
    model.body.fatigue_per_minute = 0.0;
    model
}

/// Played after a reach task, so that the rings lie where the person's reach is.
fn after_reach(model: &Model, ask: TaskAsk) -> Vec<TaskRecord> {
    let reach = TaskAsk::Reach { directions: Direction::FOUR.to_vec(), rounds: 2 };
    let hands_off = TaskAsk::HandsOff { seconds: 5.0 };
    let rest = TaskAsk::QuietRest { seconds: 20.0 };
    play(model.clone(), 11, &[hands_off, rest, reach, ask], 0.004)
}

#[test]
fn free_movement_goes_where_the_person_likes_and_no_other_way() {
    let mut likelihood = [0.0; 8];
    likelihood[0] = 3.0;
    likelihood[2] = 1.0;
    let mut model = steady();
    model.body.roaming = Roaming { pause_seconds: 0.8, likelihood };
    let records = after_reach(&model, TaskAsk::FreeMovement { seconds: 400.0 });
    let free = measure(&records).free.expect("it moved");
    assert!(free.moving_share > 0.3, "{free:?}");
    let right = free.directions[0].seconds;
    let up = free.directions[2].seconds;
    // Three quarters of some 150 pushes: four standard errors of the share are 14 %.
    assert!((right / (right + up) - 0.75).abs() < 0.15, "{right} {up}");
    // What lies between the two is crossed when one push leads on to the other.
    let others = [3, 4, 5, 6].map(|index| free.directions[index].seconds);
    assert!(others.iter().all(|seconds| *seconds < 0.02 * right), "{free:?}");
    assert!(free.directions[0].farthest > 0.6 * model.true_reach(Direction::Right));
}

#[test]
fn a_long_hold_sags_as_the_person_tires_and_is_called_hard() {
    let directions = vec![Direction::Up];
    let ask = TaskAsk::Sustained { directions, level: 0.5, seconds: 15.0 };
    let mut model = steady();
    let effort = |model: &Model| {
        let records = after_reach(model, ask.clone());
        let last = records.last().expect("it was played").repetitions.clone();
        let done = last.iter().find(|one| one.outcome == Outcome::Done).expect("held");
        (done.effort.expect("answered"), measure(&records).sustained)
    };
    let (easy, held) = effort(&model);
    // Half the reach for 15 s and the time to settle, out of 30 s × 2^1.61.
    let said = model.body.effort(0.5, 16.0);
    assert!((f64::from(easy) - said).abs() <= 1.0, "{easy} against {said}");
    assert!((held[0].seconds - 15.0).abs() < 0.5, "{held:?}");
    // Who tires within the time is out of the ring before it is over.
    model.body.endurance.seconds = 3.0;
    let records = after_reach(&model, ask.clone());
    let longest = records.last().expect("played").repetitions[0].span.seconds();
    assert!(longest < 12.0, "{longest}");
    model.body.endurance = super::Endurance { seconds: 8.0, sag: 0.3 };
    let (hard, _) = effort(&model);
    assert!(hard > easy, "{hard} {easy}");
}

#[test]
fn letting_go_comes_back_as_the_spring_does() {
    for (hertz, damping) in [(4.0, 0.25), (6.0, 0.5), (3.0, 0.9)] {
        let mut model = steady();
        model.stick = Stick { spring: Spring { hertz, damping }, ..model.stick };
        let directions = vec![Direction::Right, Direction::Left];
        let records = after_reach(&model, TaskAsk::Return { directions, level: 0.75, rounds: 6 });
        let found = measure(&records).returns;
        assert_eq!(found.len(), 2);
        for one in &found {
            let truth = model.true_return(one.asked, 0.75, 0.05, 0.0).expect("it comes back");
            let overshoot = one.overshoot.expect("six returns").value;
            assert!((overshoot - truth.overshoot).abs() < 0.03, "{overshoot} {truth:?}");
            let moving = one.moving_seconds.expect("six returns").value;
            // Where the way settles between two swings it is one or the other.
            let swing = 0.5 / hertz + 0.01;
            assert!((moving - truth.moving_seconds).abs() < swing, "{moving} {truth:?}");
            let seconds = one.seconds.expect("six returns").value;
            assert!((seconds - truth.seconds).abs() < swing + 0.12, "{seconds} {truth:?}");
        }
    }
}

#[test]
fn who_cannot_let_go_brings_it_back_by_hand() {
    let model = Model { body: super::Body { lets_go: false, ..steady().body }, ..steady() };
    let directions = vec![Direction::Right, Direction::Left];
    let records = after_reach(&model, TaskAsk::Return { directions, level: 0.75, rounds: 6 });
    for one in measure(&records).returns {
        let truth = model.true_return(one.asked, 0.75, 0.05, 0.0).expect("it comes back");
        assert_eq!(truth.overshoot, 0.0);
        let moving = one.moving_seconds.expect("six returns").value;
        assert!((moving - truth.moving_seconds).abs() < 0.12, "{moving} {truth:?}");
    }
    let mut stays = steady();
    stays.stick.centres_itself = false;
    assert_eq!(stays.true_return(Direction::Up, 0.5, 0.05, 0.0), None);
}

/// When button `index` was down within `record`.
fn downs(record: &TaskRecord, index: usize) -> Vec<(f64, f64)> {
    let mut found: Vec<(f64, f64)> = Vec::new();
    let mut since = None;
    for sample in &record.recording.samples {
        let down = sample.buttons.get(index).is_some_and(|value| *value > 0.5);
        match (since, down) {
            (None, true) => since = Some(sample.arrival_seconds),
            (Some(from), false) => {
                found.push((from, sample.arrival_seconds));
                since = None;
            }
            _ => {}
        }
    }
    found
}

#[test]
fn presses_on_cue_have_their_reaction_and_length() {
    let mut model = steady();
    let habit = Pressing { unwanted_per_minute: 0.0, ..model.body.presses[0] };
    model.body.presses = vec![habit, Pressing { length_seconds: 0.3, ..habit }];
    let records =
        play(model.clone(), 5, &[TaskAsk::Presses { buttons: vec![0, 1], rounds: 25 }], 0.004);
    let record = &records[0];
    for button in [0, 1] {
        let truth = model.true_press(button).expect("it has two");
        let downs = downs(record, button);
        let (mut reactions, mut lengths) = (Vec::new(), Vec::new());
        for one in record.repetitions.iter().filter(|one| {
            one.button == Some(button) && one.press == Some(PressAsk::Once) && one.counts()
        }) {
            let down = downs.iter().find(|down| one.span.holds(down.0)).expect("pressed");
            reactions.push(down.0 - one.span.from_seconds);
            lengths.push(down.1 - down.0);
        }
        assert!(reactions.len() >= 20, "{}", reactions.len());
        let median = |mut values: Vec<f64>| {
            values.sort_by(f64::total_cmp);
            values[values.len() / 2]
        };
        // Four standard errors of the median of 25 at a spread of 0.2 are 20 %.
        let reaction = median(reactions) / truth.reaction_seconds;
        let length = median(lengths) / truth.length_seconds;
        assert!((reaction - 1.0).abs() < 0.2 && (length - 1.0).abs() < 0.2, "{reaction} {length}");
    }
    assert_eq!(model.true_press(2), None);
}

fn spread(records: &[TaskRecord]) -> f64 {
    let record = records.last().expect("one");
    let trace = Trace::of(&record.recording, record.axes);
    let centre = trace.median().expect("watched");
    let (mut squares, mut seconds) = (0.0, 0.0);
    for piece in &trace.pieces {
        let off = (piece.at - centre).radius();
        squares += off * off * piece.span.seconds();
        seconds += piece.span.seconds();
    }
    libm::sqrt(squares / seconds / 2.0)
}

#[test]
fn busy_people_move_more() {
    let mut model = steady().without_jerks();
    model.body.busy.factor = 2.0;
    model.stick.bits = 16;
    let quiet = play(model.clone(), 5, &[TaskAsk::QuietRest { seconds: 120.0 }], 0.004);
    let ask = TaskAsk::BusyRest { seconds: 120.0, meanwhile: Meanwhile::Talking };
    let busy = play(model, 5, &[ask], 0.004);
    let share = spread(&busy) / spread(&quiet);
    // The same wander, doubled, beside the stick's own noise.
    assert!((share - 2.0).abs() < 0.1, "{share}");
}

#[test]
fn a_chin_moves_with_each_breath() {
    let mut model = Invented::Chin.model();
    model.body.wander = 0.0;
    let breath = model.body.breathing.expect("it breathes");
    assert_eq!(breath, Breathing { hertz: 0.25, amplitude: 0.02, along_degrees: 90.0 });
    let middle = model.true_centre().up;
    let (mut crossings, mut above) = (0, false);
    for (_, place) in model.rest_path(Resting::Quiet, 240.0, 4) {
        // Beyond half the breath to each side, so that noise is no crossing.
        if place.up - middle > 0.01 && !above {
            crossings += 1;
            above = true;
        } else if place.up - middle < -0.01 {
            above = false;
        }
    }
    assert!((59..=61).contains(&crossings), "{crossings} breaths in four minutes");
}

#[test]
fn holding_spreads_no_more_than_it_would_uncorrected() {
    let model = steady();
    for level in [0.25, 0.75] {
        let at = model.true_centre() + model.true_end(Direction::Up) * level;
        let target = Target { at, radius: 0.3 * level };
        let spread = model.held_spread(target, 5);
        let said = model.body.deviation_at(level * model.body.reach_towards(Direction::Up));
        assert!((0.8..1.15).contains(&(spread / said)), "{spread} against {said}");
    }
}

#[test]
fn a_rest_path_is_the_same_rest_with_and_without_jerks() {
    let model = Invented::SuddenJerks.model();
    let jerky: Vec<(f64, Position)> = model.rest_path(Resting::Quiet, 600.0, 9).collect();
    let calm: Vec<(f64, Position)> =
        model.clone().without_jerks().rest_path(Resting::Quiet, 600.0, 9).collect();
    assert_eq!(jerky[..200], calm[..200]);
    let farthest = |path: &[(f64, Position)]| {
        path.iter().map(|one| (one.1 - model.true_centre()).radius()).fold(0.0, f64::max)
    };
    assert!(farthest(&jerky) > 0.2 && farthest(&calm) < 0.1);
    assert!(jerky.windows(2).all(|pair| pair[0].0 < pair[1].0 && pair[0].1 != pair[1].1));
    assert_eq!(jerky[0].0, 0.0);
}

/// A plan with every kind of task, not long.
fn everything() -> Vec<TaskAsk> {
    let directions = vec![Direction::Up, Direction::Left];
    vec![
        TaskAsk::HandsOff { seconds: 5.0 },
        TaskAsk::QuietRest { seconds: 15.0 },
        TaskAsk::BusyRest { seconds: 10.0, meanwhile: Meanwhile::Pressing },
        TaskAsk::FreeMovement { seconds: 20.0 },
        TaskAsk::Reach { directions: Direction::FOUR.to_vec(), rounds: 1 },
        TaskAsk::Hold {
            directions: directions.clone(),
            levels: vec![0.5],
            rounds: 1,
            seconds: 3.0,
        },
        TaskAsk::Sustained { directions: directions.clone(), level: 0.4, seconds: 8.0 },
        TaskAsk::Return { directions, level: 0.6, rounds: 1 },
        TaskAsk::Presses { buttons: vec![0, 1], rounds: 1 },
    ]
}

#[test]
fn everybody_plays_every_task_to_its_end() {
    let people = Invented::ALL.into_iter().map(Invented::model).chain((0..12).map(Model::random));
    for (index, model) in people.enumerate() {
        let records = play(model.clone(), index as u64, &everything(), 0.004);
        assert_eq!(records.len(), 9);
        for record in &records {
            let done = record.repetitions.iter().filter(|one| one.outcome == Outcome::Done).count();
            assert!(done > 0, "{index} {:?}", record.ask);
            for sample in &record.recording.samples {
                let stick = &sample.axes[..2];
                assert!(stick.iter().all(|axis| (-1.0..=1.0).contains(axis)), "{sample:?}");
            }
        }
        let _: Measures = measure(&records);
    }
}

#[test]
fn other_kinds_of_stick_are_played_too() {
    let slow = Reporting { seconds: 1.0 / 60.0, ..Reporting::default() };
    for (moves, centres_itself) in
        [(Moves::OneAxis, true), (Moves::OneWay, true), (Moves::TwoAxes, false)]
    {
        let mut model = steady();
        model.stick = Stick { moves, centres_itself, reporting: slow, ..model.stick };
        let directions = model.directions();
        let plan = [TaskAsk::Reach { directions: directions.clone(), rounds: 2 }];
        let records = play(model.clone(), 2, &plan, 0.004);
        assert_eq!(records[0].known.kind, model.kind());
        let measures = measure(&records);
        assert_eq!(measures.reach.len(), directions.len(), "{moves:?} {centres_itself}");
        for one in &measures.reach {
            let end = one.end.expect("pushed").radius();
            assert!((end - model.true_reach(one.asked)).abs() < 0.08, "{moves:?}: {end}");
        }
    }
}
