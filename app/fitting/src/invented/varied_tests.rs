//! What the varied people are like, and that the tasks wait for all of them.

use super::*;
use crate::invented::{Body, Player, System, play};
use crate::measure::{known, measure};
use crate::task::{Command, Known, Outcome, Phase, Prompt, TaskAsk, TaskRun};
use crate::{Sample, invented::deciding::Does};

#[test]
fn the_people_are_as_different_as_they_say() {
    let people: Vec<Model> = (0..2000).map(Model::varied).collect();
    let share = |is: &dyn Fn(&Body) -> bool| {
        people.iter().filter(|model| is(&model.body)).count() as f64 / 2000.0
    };
    // Four standard errors of a share of one half are 4.5 %.
    let is_near = |seen: f64, said: f64| assert!((seen - said).abs() < 0.045, "{seen} {said}");
    is_near(share(&|body| body.movement_seconds > 1.5), 0.35);
    is_near(share(&|body| body.stops.is_some()), 0.2);
    is_near(share(&|body| body.overshoot.is_some()), 0.15);
    is_near(share(&|body| body.rhythm.is_some()), 0.4);
    is_near(share(&|body| body.jerks.is_some()), 0.35);
    is_near(share(&|body| body.posture.is_some()), 0.2);
    is_near(share(&|body| body.fatigue_per_minute > 0.01), 0.2);
    is_near(share(&|body| body.lapses.is_some()), 0.15);
    is_near(share(&|body| body.breathing.is_some()), 0.3);
    is_near(share(&|body| body.rests_at != Position::ORIGIN), 0.3);
    is_near(share(&|body| body.rests_at.radius() > 0.5), 0.1);
    // The ends are reached, and no further.
    let ends = |of: &dyn Fn(&Body) -> Option<f64>| {
        let all: Vec<f64> = people.iter().filter_map(|model| of(&model.body)).collect();
        let least = all.iter().copied().fold(f64::INFINITY, f64::min);
        (least, all.iter().copied().fold(0.0, f64::max))
    };
    let spans = |(least, most): (f64, f64), low: f64, high: f64| {
        assert!(low <= least && least < 1.1 * low, "{least} from {low}");
        assert!(most <= high && most > 0.9 * high, "{most} to {high}");
    };
    spans(ends(&|body| Some(body.movement_seconds)), 0.3, 12.0);
    spans(ends(&|body| body.rhythm.map(|rhythm| rhythm.hertz)), 2.0, 12.0);
    spans(ends(&|body| body.rhythm.map(|rhythm| rhythm.amplitude)), 0.01, 0.6);
    spans(ends(&|body| body.jerks.map(|jerks| jerks.per_minute)), 1.0 / 60.0, 6.0);
    // The stick of a seed is that of the same seed in the middling population.
    for (seed, model) in (0..).zip(&people) {
        assert_eq!(model.stick, Model::random(seed).stick);
    }
    let hidden = people.iter().filter(|model| model.stick.system == System::HiddenMiddle).count();
    is_near(hidden as f64 / 2000.0, 0.15);
    assert_eq!(people[7], Model::varied(7));
}

#[test]
fn the_tiring_lose_half_of_their_reach_in_ten_minutes_of_pushing() {
    let mut model = Model::default();
    model.body.fatigue_per_minute = 0.1;
    model.body.most_fatigue = 0.6;
    let directions = Direction::EIGHT.to_vec();
    let records = play(model.clone(), 3, &[TaskAsk::Reach { directions, rounds: 20 }], 0.004);
    let polled = &records[0].recording.polled;
    let seconds = polled[polled.len() - 1].to_seconds - polled[0].from_seconds;
    let left = model.clone().after_work(records[0].muscle_seconds).body.reach[0];
    let lost_in_ten_minutes = (1.0 - left / model.body.reach[0]) * 600.0 / seconds;
    assert!((0.4..0.6).contains(&lost_in_ten_minutes), "{lost_in_ten_minutes} in {seconds} s");
}

/// Pushes of people who move and rest in every way there is, by how far along they were when they
/// were told to come back. Slow wander may look like a stop and hide a slow gain, so that out of a hundred a
/// push or two may be called back too soon.
#[test]
fn hardly_anybody_is_told_to_come_back_on_the_way_out() {
    let (mut told, mut early) = (0, Vec::new());
    for seed in 0..60 {
        let mut model = Model::varied(seed);
        // What is not meant ends a push where it likes; only what is meant is judged here.
        model.body.jerks = None;
        model.body.posture = None;
        if model.body.rhythm.is_some_and(|rhythm| rhythm.amplitude > 0.1) {
            model.body.rhythm = None;
        }
        let ask = TaskAsk::Reach { directions: Direction::FOUR.to_vec(), rounds: 1 };
        let mut player = Player::new(model.clone(), seed);
        player.advance(0.0, None);
        let rested = play(model.clone(), seed, &[TaskAsk::QuietRest { seconds: 20.0 }], 0.004);
        let known = Known { kind: model.kind(), ..known(&rested) };
        let first = Sample { arrival_seconds: 0.0, ..player.latest().clone() };
        let mut run = TaskRun::start(ask, player.axes(), known, 0.0, &first);
        let (mut was_push, mut step) = (false, (0, 0.0));
        for poll in 1..200_000_u32 {
            let now = f64::from(poll) * 0.004;
            let view = run.view();
            if view.phase == Phase::Done {
                break;
            }
            let comes_back = view.prompt == Prompt::ComeBack;
            if was_push && comes_back {
                told += 1;
                let there = player.will.goal();
                // Where it would end up, and where it is: the creep of the end is no way out.
                let is_out = matches!(player.does, Does::IsOut(_));
                let left = (there - player.will.clone().at(now)).radius() / there.radius().max(0.1);
                if is_out && left > 0.1 {
                    early.push((seed, left));
                }
            }
            was_push = matches!(view.prompt, Prompt::Push(_));
            let change = player.advance(now, Some(&view));
            run.poll(now, change.as_ref());
            if view.phase == Phase::Ready && now > 1.0 {
                run.command(now, Command::Begin);
            }
            if view.step != step.0 {
                step = (view.step, now);
            }
            if now - step.1 > 60.0 {
                run.command(now, Command::Next);
                step.1 = now;
            }
        }
    }
    assert!(told > 150, "{told}");
    assert!(early.len() * 50 <= told, "{} of {told}: {early:?}", early.len());
}

#[test]
fn the_varied_play_every_task_too() {
    for seed in 0..12 {
        let directions = vec![Direction::Up, Direction::Left];
        let plan = [
            TaskAsk::HandsOff { seconds: 5.0 },
            TaskAsk::QuietRest { seconds: 15.0 },
            TaskAsk::Reach { directions: Direction::FOUR.to_vec(), rounds: 1 },
            TaskAsk::Hold {
                directions: directions.clone(),
                levels: vec![0.5],
                rounds: 1,
                seconds: 3.0,
            },
            TaskAsk::Sustained { directions: directions.clone(), level: 0.4, seconds: 8.0 },
            TaskAsk::Return { directions, level: 0.6, rounds: 1 },
        ];
        let records = play(Model::varied(seed), seed, &plan, 0.004);
        assert_eq!(records.len(), plan.len());
        for record in &records[..2] {
            let done = |one: &crate::task::Repetition| one.outcome == Outcome::Done;
            assert!(record.repetitions.iter().any(done), "{seed} {:?}", record.ask);
        }
        let measures = measure(&records);
        assert!(measures.rest.is_ok(), "{seed}");
    }
}
