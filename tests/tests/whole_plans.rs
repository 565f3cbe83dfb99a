//! Invented people play the fixed order of tasks: what they leave, and that they are told apart
//! from nothing but their seed.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "tests")]

mod driver;

use fitting::invented::{Invented, Player, fixed_order, play};
use fitting::task::{TaskAsk, TaskKind, TaskRecord};
use fitting::{Direction, Position, Trace};

#[test]
fn the_longest_plan_leaves_what_its_tasks_are_for() {
    let mut plan = fixed_order(15);
    plan.push(TaskAsk::usual(TaskKind::Presses, &[0, 1]));
    for invented in Invented::ALL {
        let records = play(invented.model(), 4, &plan, 0.004);
        let of = |kind: TaskKind| {
            let record = records.iter().find(|one| one.ask.kind() == kind).unwrap();
            record.repetitions.iter().filter(|one| one.counts()).collect::<Vec<_>>()
        };
        for kept in of(TaskKind::Sustained) {
            assert!(kept.effort.is_some(), "{invented:?} says how hard it was");
            assert!(kept.span.seconds() > 5.0, "{invented:?} {kept:?}");
        }
        let busy: f64 = of(TaskKind::BusyRest).iter().map(|one| one.span.seconds()).sum();
        assert!((busy - 60.0).abs() < 0.1, "{invented:?} {busy}");
        for back in of(TaskKind::Return) {
            // A second of rest is in it, and nobody waits for more than a few.
            assert!((1.0..6.0).contains(&back.span.seconds()), "{invented:?} {back:?}");
        }
        let presses = of(TaskKind::Presses);
        assert_eq!(presses.len(), 2 * 3 * 3, "{invented:?}");
        for press in presses {
            assert!(press.span.seconds() < 6.0, "{invented:?} {press:?}");
        }
    }
}

#[test]
fn it_plays_on_sticks_with_a_hidden_middle_and_at_any_pace_of_polling() {
    let plan = fixed_order(6);
    for invented in Invented::ALL {
        for bits in [8, 16] {
            let records = play(invented.model().behind_hidden_middle(bits), 2, &plan, 0.004);
            for record in &records {
                driver::check(record);
                let count = record.repetitions.iter().filter(|one| one.counts()).count();
                assert!(count * 10 >= record.repetitions.len() * 8, "{invented:?} {bits}");
            }
        }
        // At 16 ms from look to look nothing counts as watched, and no push as done.
        for (poll, is_watched) in [(0.001, true), (0.011, true), (0.016, false)] {
            let records = play(invented.model(), 2, &plan, poll);
            let reach = records.iter().find(|one| one.ask.kind() == TaskKind::Reach).unwrap();
            let count = reach.repetitions.iter().filter(|one| one.counts()).count();
            let expected = if is_watched { count >= 15 } else { count == 0 };
            assert!(expected, "{invented:?} at {poll}: {count}");
            let little = fitting::measure::little_watched(&records);
            assert_eq!(little.is_empty(), is_watched, "{invented:?} at {poll}: {little:?}");
        }
    }
}

/// The plateau of one push as a plain reader of the record sees it: the mean of what lies beyond
/// 80 % of its peak.
fn plateau(
    record: &TaskRecord,
    repetition: &fitting::task::Repetition,
    centre: Position,
) -> Position {
    let trace = Trace::of(&record.recording, record.axes).within(repetition.span).about(centre);
    let peak = trace.pieces.iter().map(|piece| piece.at.radius()).fold(0.0, f64::max);
    let (mut sum, mut seconds) = (Position::ORIGIN, 0.0);
    for piece in trace.pieces.iter().filter(|piece| piece.at.radius() >= 0.8 * peak) {
        sum = sum + piece.at * piece.span.seconds();
        seconds += piece.span.seconds();
    }
    sum * (1.0 / seconds)
}

#[test]
fn pushes_end_where_the_truth_says() {
    let plan = fixed_order(15);
    for invented in Invented::ALL {
        let model = invented.model();
        let records = play(model.clone(), 3, &plan, 0.004);
        let reach = records.iter().find(|one| one.ask.kind() == TaskKind::Reach).unwrap();
        for direction in Direction::EIGHT {
            let ends: Vec<Position> = reach
                .repetitions
                .iter()
                .filter(|one| one.direction == Some(direction) && one.counts())
                .map(|one| plateau(reach, one, model.true_centre()))
                .collect();
            assert!(ends.len() >= 3, "{invented:?} {direction:?}");
            let mean = ends.iter().fold(Position::ORIGIN, |sum, end| sum + *end)
                * (1.0 / ends.len() as f64);
            let off = (mean - model.true_end(direction)).radius();
            // A plateau still contains the end of the way out and the start of the way back, up to
            // 20 % of the peak below it.
            assert!(off < 0.09, "{invented:?} {direction:?}: {off}");
        }
    }
}

#[test]
fn a_player_is_the_same_however_often_it_is_asked() {
    let states = |poll: f64| {
        let mut player = Player::new(Invented::RhythmicMovement.model(), 7);
        let mut states = Vec::new();
        let polls = (20.0 / poll) as usize;
        for index in 0..=polls {
            states.extend(player.advance(index as f64 * poll, None));
        }
        states
    };
    let (often, seldom) = (states(0.001), states(0.016));
    assert!(often.len() > 2 * seldom.len());
    // Everything seen at a slow pace was also seen at a fast one; a state is new only when it
    // differs from the one before.
    for state in &seldom[1..] {
        let same = often.iter().any(|one| {
            one.axes == state.axes && (one.arrival_seconds - state.arrival_seconds).abs() < 1e-9
        });
        assert!(same, "{state:?}");
    }
    assert!(often.windows(2).all(|pair| pair[0].axes != pair[1].axes));
    assert!(often.windows(2).all(|pair| pair[0].arrival_seconds < pair[1].arrival_seconds));
}

#[test]
fn a_player_takes_any_time_it_is_given() {
    let mut player = Player::new(Invented::SteadyHand.model(), 7);
    assert!(player.advance(f64::NAN, None).is_none());
    assert!(player.advance(5.0, None).is_some(), "the first state");
    for time in [f64::INFINITY, 4.0, f64::NEG_INFINITY] {
        assert!(player.advance(time, None).is_none());
    }
    // Many years later it still plays on from there.
    player.advance(1e9, None);
    let after = player.advance(1e9 + 1.0, None).expect("a second is enough to move");
    assert!(after.arrival_seconds <= 1e9 + 1.0 && after.arrival_seconds > 1e9 - 1.0);
}

#[test]
fn seeds_make_different_days_of_one_person() {
    let plan = fixed_order(3);
    let model = || Invented::SteadyHand.model();
    assert_eq!(play(model(), 5, &plan, 0.004), play(model(), 5, &plan, 0.004));
    assert_ne!(play(model(), 5, &plan, 0.004), play(model(), 6, &plan, 0.004));
}
