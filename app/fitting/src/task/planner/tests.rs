//! What holds of every plan.

use super::*;
use crate::invented::{Invented, fixed_order, play};
use crate::stick_kind::{Mover, Moves};
use crate::task::Asking;
use crate::{AxisPick, StickAxes, StickKind};
use proptest::prelude::*;
use proptest::sample::select;
use std::sync::LazyLock;

/// Records of some people, to be cut anywhere.
static RECORDS: LazyLock<Vec<Vec<TaskRecord>>> = LazyLock::new(|| {
    [Invented::SteadyHand, Invented::Foot]
        .map(|invented| play(invented.model(), 2, &fixed_order(10), 0.01))
        .to_vec()
});

fn axes() -> impl Strategy<Value = StickAxes> {
    let usual = StickAxes::default();
    select(vec![
        usual,
        StickAxes { vertical: AxisPick::NONE, ..usual },
        StickAxes { horizontal: AxisPick::NONE, ..usual },
    ])
}

fn kind() -> impl Strategy<Value = StickKind> {
    let moves = select(vec![Moves::TwoAxes, Moves::OneAxis, Moves::OneWay]);
    (moves, any::<[bool; 3]>(), select(Mover::ALL.to_vec())).prop_map(
        |(moves, [centres_itself, force, switches], mover)| StickKind {
            moves,
            centres_itself,
            force,
            switches,
            mover,
        },
    )
}

fn number() -> impl Strategy<Value = f64> {
    prop_oneof![8 => 0.0..900.0_f64, 1 => Just(f64::NAN), 1 => Just(-1.0), 1 => Just(f64::INFINITY)]
}

prop_compose! {
    fn wanted()(
        (way, minutes, muscle, burst, burst_muscle) in
            (select(Working::ALL.to_vec()), 0..25_u32, number(), number(), number()),
        own_burst in any::<bool>(),
        (kind, axes) in (kind(), axes()),
        buttons in prop::collection::vec(0..100_usize, 0..4),
        needed in prop::collection::vec(select(Direction::EIGHT.to_vec()), 0..8),
        left_out in prop::collection::vec(select(TaskKind::ALL.to_vec()), 0..3),
        bounds in prop::collection::vec(
            (select(TaskKind::ALL.to_vec()), 0..9_usize, 0..9_usize)
                .prop_map(|(kind, least, most)| Bound { kind, least, most }),
            0..3,
        ),
    ) -> Wanted {
        let usual = Wanted::of(way, minutes);
        let (burst_seconds, burst_muscle_seconds) = if own_burst {
            (burst, burst_muscle)
        } else {
            (usual.burst_seconds, usual.burst_muscle_seconds)
        };
        Wanted {
            muscle_seconds: muscle,
            burst_seconds,
            burst_muscle_seconds,
            kind, axes, buttons, needed, left_out, bounds,
            ..usual
        }
    }
}

/// What holds of a plan, whatever it was made for.
fn holds(plan: &Plan) {
    let wanted = &plan.wanted;
    let left = plan.left();
    let whole = plan.used.seconds + left.seconds;
    assert!(left.seconds.is_finite() && left.muscle_seconds.is_finite());
    if !plan.tasks.is_empty() {
        assert!(whole <= 60.0 * f64::from(wanted.minutes) + 1e-6, "{whole} s {plan:?}");
    }
    let work = plan.used.muscle_seconds + left.muscle_seconds;
    assert!(left.muscle_seconds == 0.0 || work <= wanted.muscle_seconds + 1e-6, "{work} {plan:?}");
    let (mut burst, mut unrested) = (plan.burst.seconds, plan.burst.muscle_seconds);
    for task in &plan.tasks {
        let kind = task.ask.kind();
        assert!(!wanted.left_out.contains(&kind) && wanted.kind.lacks(kind).is_none());
        assert_eq!(task.ask.clone().sound(), task.ask);
        assert_eq!(task.ask.clone().for_stick(wanted.kind, wanted.axes).as_ref(), Some(&task.ask));
        assert!(plan.rounds(kind) <= wanted.bound(kind).1.max(plan.over.len() * 100), "{plan:?}");
        if task.after_pause {
            (burst, unrested) = (0.0, 0.0);
        }
        let after = piece::burst_after(
            Amount { seconds: burst, muscle_seconds: unrested },
            kind,
            task.amount,
        );
        (burst, unrested) = (after.seconds, after.muscle_seconds);
        assert!(burst <= wanted.burst_seconds + 1e-6, "a burst of {burst} s {plan:?}");
        assert!(
            unrested <= wanted.burst_muscle_seconds + 1e-6 || task.amount.muscle_seconds == 0.0
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, ..ProptestConfig::default() })]

    #[test]
    fn a_plan_never_exceeds_what_there_is(
        wanted in wanted(),
        person in 0..2_usize,
        count in 0..6_usize,
        times in 1..4_usize,
    ) {
        let records = &RECORDS[person];
        let records = &records[..count.min(records.len())];
        let past = Past::of(records);
        let mut plan = Plan::new(wanted.clone(), &past);
        holds(&plan);
        prop_assert_eq!(&plan, &Plan::new(wanted, &past), "the same every time");
        // What was promised is kept to when things turn out otherwise.
        for record in RECORDS[person].iter().take(times) {
            plan = plan.after(record, &past);
            let left = plan.left();
            prop_assert!(left.seconds <= (plan.said.seconds - plan.used.seconds).max(0.0) + 1e-6);
            let work = plan.said.muscle_seconds - plan.used.muscle_seconds;
            prop_assert!(left.muscle_seconds <= work.max(0.0) + 1e-6);
        }
        let kind = plan.tasks.first().map(|task| task.ask.kind());
        if let Some(kind) = kind {
            let without = plan.without(kind, &past);
            prop_assert!(without.tasks.iter().all(|task| task.ask.kind() != kind));
        }
    }
}

fn kinds(plan: &Plan) -> Vec<TaskKind> {
    plan.tasks.iter().map(|task| task.ask.kind()).collect()
}

#[test]
fn a_first_plan_begins_with_what_the_rest_is_told_from() {
    use TaskKind::{HandsOff, Hold, QuietRest, Reach};
    for way in Working::ALL {
        for minutes in [3, 6, 10, 15] {
            let plan = Plan::first(way, minutes);
            holds(&plan);
            assert_eq!(kinds(&plan)[..2], [HandsOff, QuietRest], "{way:?} {minutes}");
            assert_eq!(plan.tasks[0].reason, Reason::StickAlone);
            assert_eq!(plan.tasks[1].reason, Reason::NothingYet(QuietRest));
            let at = |kind: TaskKind| kinds(&plan).iter().position(|one| *one == kind).unwrap();
            assert!(at(Reach) < at(Hold), "holds are asked at shares of own reach");
            // Both promises are used: the minutes, and what is allowed of muscle work.
            assert!(plan.said.seconds > 0.8 * 60.0 * f64::from(minutes), "{way:?} {minutes}");
            let muscle = plan.said.muscle_seconds / plan.wanted.muscle_seconds;
            assert!(muscle > 0.7, "{way:?} {minutes}: {muscle}");
        }
    }
    assert!(Plan::first(Working::Tires, 15).said.muscle_seconds <= 120.0);
    let shown = Plan::first(Working::Shown, 10);
    assert_eq!(shown.wanted.asking, Asking::Shown);
    assert!(kinds(&shown).contains(&TaskKind::FreeMovement), "a beginning without words");
    assert!(Plan::first(Working::Usual, 0).tasks.is_empty());
}

#[test]
fn a_direction_that_is_missing_is_asked_for_and_named() {
    let mut records = play(Invented::SteadyHand.model(), 2, &fixed_order(6), 0.01);
    for record in &mut records {
        record.repetitions.retain(|one| one.direction != Some(Direction::Left));
    }
    let plan = Plan::new(Wanted::of(Working::Usual, 3), &Past::of(&records));
    let missing = Reason::Missing(Direction::Left);
    let first = plan.tasks.iter().find(|task| task.ask.kind() == TaskKind::Reach).unwrap();
    assert_eq!(first.reason, missing, "{plan:?}");
    match &first.ask {
        TaskAsk::Reach { directions, .. } => assert!(directions.contains(&Direction::Left)),
        other => panic!("{other:?}"),
    }
}

#[test]
fn more_and_less_are_done_as_far_as_they_fit() {
    let past = Past::nothing();
    let plan = Plan::first(Working::Usual, 10);
    let reach = plan.rounds(TaskKind::Reach);
    let with = |least: usize, most: usize| {
        let mut changed = plan.clone();
        changed.wanted.set_bound(Bound { kind: TaskKind::Reach, least, most });
        let changed = changed.changed(&past);
        holds(&changed);
        changed.rounds(TaskKind::Reach)
    };
    assert!(with(reach + 2, usize::MAX) >= reach + 2);
    assert!(with(0, reach - 1) < reach);
    assert!(with(1000, usize::MAX) < 200, "what does not fit is not added");
    let two = Wanted { needed: vec![Direction::Up], ..Wanted::of(Working::Usual, 6) };
    for task in Plan::new(two, &past).tasks {
        if let TaskAsk::Hold { directions, .. } | TaskAsk::Sustained { directions, .. } = task.ask {
            assert_eq!(directions, [Direction::Up]);
        }
    }
}

#[test]
fn a_task_that_ended_a_moment_early_is_as_asked() {
    let plan = Plan::first(Working::Usual, 3);
    let mut records = RECORDS[0][..2].to_vec();
    assert_eq!(records[0].ask.kind(), TaskKind::HandsOff);
    assert_eq!(records[1].ask.kind(), TaskKind::QuietRest);
    // As long as the plan asked, but for that moment.
    for (record, seconds) in records.iter_mut().zip([4.9999, 19.9999]) {
        let mut left = seconds;
        for one in &mut record.repetitions {
            one.span.to_seconds = one.span.from_seconds + one.span.seconds().min(left);
            left -= one.span.seconds();
        }
        record.repetitions.retain(|one| one.span.seconds() > 0.0);
    }
    let after =
        |plan: Plan, count: usize| plan.after(&records[count - 1], &Past::of(&records[..count]));
    let plan = after(plan, 1);
    assert!(!kinds(&plan).contains(&TaskKind::HandsOff), "{:?}", kinds(&plan));
    let plan = after(plan, 2);
    assert_eq!(kinds(&plan).first(), Some(&TaskKind::Reach), "{:?}", kinds(&plan));
}

#[test]
fn a_first_rest_that_was_left_early_is_asked_for_again() {
    let plan = Plan::first(Working::Usual, 10);
    let mut records = RECORDS[0][..2].to_vec();
    records[1].repetitions.truncate(1);
    let plan = plan.after(&records[0], &Past::of(&records[..1]));
    let plan = plan.after(&records[1], &Past::of(&records));
    assert_eq!(kinds(&plan)[..2], [TaskKind::QuietRest, TaskKind::Reach]);
}

#[test]
fn where_sudden_movements_come_a_quarter_of_the_time_is_rest() {
    for (way, minutes) in [(Working::Usual, 6), (Working::Usual, 15), (Working::Tires, 6)] {
        let usual = Plan::first(way, minutes).rounds(TaskKind::QuietRest);
        let wanted = Wanted::of(way, minutes).with_sudden_movements();
        let plan = Plan::new(wanted, &Past::nothing());
        let rest = plan.rounds(TaskKind::QuietRest);
        assert!(4 * rest as u32 >= 6 * minutes, "{minutes} minutes: {rest} tens of seconds");
        assert!(rest > usual && plan.rounds(TaskKind::Reach) > 0, "{rest}, {usual}: {plan:?}");
    }
}
