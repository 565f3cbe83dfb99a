//! Plans by time: what they said holds when they are played, and they beat a fixed order.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "tests")]

mod driver;

use checks::plans::{compare, means, of_people, played, quantile, shares};
use fitting::Direction;
use fitting::invented::{Invented, Model, play_plan};
use fitting::task::{Outcome, Past, Plan, Wanted, Working};

#[test]
fn the_six_keep_the_minutes_and_the_muscle_work_that_each_shipped_plan_said() {
    for way in Working::ALL {
        for played in of_people(0..6, |index| {
            let invented = Invented::ALL[index as usize];
            played(invented.model(), 1, way, way.minutes())
        }) {
            let (seconds, muscle) = shares(&played);
            println!("{way:?}: {seconds:.3} {muscle:.3} {:.0}", played.longest_burst_seconds);
            assert!((0.9..=1.1).contains(&seconds), "{way:?} took {seconds} of what was said");
            assert!((0.9..=1.1).contains(&muscle), "{way:?} worked {muscle} of what was said");
            assert!(played.plan.used.muscle_seconds <= played.plan.wanted.muscle_seconds);
            assert!(played.plan.used.seconds <= 60.0 * f64::from(way.minutes()));
            if way == Working::Shown {
                assert!(played.longest_burst_seconds <= 120.0, "bursts of at most two minutes");
            }
            if way == Working::Tires {
                assert!(played.plan.used.muscle_seconds <= 120.0, "two minutes of muscle work");
            }
            assert!(played.plan.tasks.is_empty(), "it is played to its end");
            for record in &played.records {
                driver::check(record);
                let skipped =
                    record.repetitions.iter().filter(|one| one.outcome == Outcome::Skipped);
                assert!(skipped.count() * 10 <= record.repetitions.len());
            }
        }
    }
}

/// The fewest people of the everyday run; the whole run is the program `plans` of the checks.
const PEOPLE: u64 = 24;

#[test]
fn people_of_all_kinds_keep_what_the_short_plan_said() {
    let all = of_people(0..PEOPLE, |seed| {
        let played = played(Model::random(seed), seed, Working::Tires, Working::Tires.minutes());
        assert!(played.plan.used.muscle_seconds <= 120.0, "{seed}: two minutes of muscle work");
        assert!(played.plan.used.seconds <= 360.0, "{seed}: six minutes");
        shares(&played)
    });
    let seconds: Vec<f64> = all.iter().map(|one| one.0).collect();
    let off: Vec<f64> = seconds.iter().map(|share| (share - 1.0).abs()).collect();
    let muscle: Vec<f64> = all.iter().map(|one| one.1).collect();
    println!("time {:.3} {:.3}", quantile(&seconds, 0.5), quantile(&off, 0.9));
    println!("muscle {:.3} {:.3}", quantile(&muscle, 0.5), quantile(&muscle, 0.9));
    assert!((quantile(&seconds, 0.5) - 1.0).abs() < 0.05);
    assert!(quantile(&off, 0.9) < 0.1);
    assert!((quantile(&muscle, 0.5) - 1.0).abs() < 0.1);
    assert!(quantile(&muscle, 0.9) < 1.1, "more is not asked than was said");
}

#[test]
fn three_minutes_leave_less_unknown_than_a_fixed_order() {
    let pairs = of_people(0..100, |seed| compare(seed, 3, &Direction::FOUR));
    let (mean, better) = means(&pairs);
    println!("{mean:.3?}, better {better:.2}");
    assert!(mean.plan < 0.8 * mean.fixed, "{mean:?}");
    assert!(better > 0.8, "{better}");
}

/// Another day: what is kept counts, and the plan goes on where the first one ended.
#[test]
fn another_day_goes_on_with_what_is_unknown() {
    let model = Invented::ShortToOneSide.model();
    let first = played(model.clone(), 3, Working::Usual, 3);
    let before = Past::of(&first.records).unknown(&Direction::FOUR, model.kind());
    let second = Plan::new(Wanted::of(Working::Usual, 6), &Past::of(&first.records));
    let hands_off =
        |plan: &Plan| plan.asks().iter().any(|ask| ask.kind() == fitting::task::TaskKind::HandsOff);
    assert!(!hands_off(&second), "the stick alone is known");
    assert!(hands_off(&Plan::first(Working::Usual, 6)));
    let played = play_plan(model.clone(), 4, second, first.records.clone(), 0.004);
    assert!(played.records.len() > first.records.len());
    let after = Past::of(&played.records).unknown(&Direction::FOUR, model.kind());
    assert!(after < 0.8 * before, "{before} {after}");
}
