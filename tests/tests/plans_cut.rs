//! Each shipped plan, cut after every task and in the midst of every repetition: what there is
//! gives a labelled result, and no error.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "tests")]

use fitting::invented::{Invented, Model, Player, Reporting, Stick};
use fitting::measure::{Ended, known, measure};
use fitting::suggest::{Prepared, Suggestions, Wish, suggest};
use fitting::summary::{Envelope, Findings, FittingBody, Summary, SummaryBody, read};
use fitting::task::{
    Command, Known, Past, Phase, Plan, TaskAsk, TaskKind, TaskRecord, TaskRun, Working,
};
use fitting::{NotEnough, Sample, Settings, StickAxes, Sureness};

/// A stick that reports as seldom as some do: there are hundreds of cuts to be measured.
const REPORT_SECONDS: f64 = 1.0 / 30.0;
const POLL_SECONDS: f64 = 0.01;
/// In the midst of a push, a hold or a press, and of a stretch of rest: after so many seconds.
const MIDST_SECONDS: f64 = 0.8;
const MIDST_OF_REST_SECONDS: f64 = 5.0;

/// What a setting is called: firm, rough, or not enough with its reason.
fn label(advice: Result<Sureness, NotEnough>) -> String {
    match advice {
        Ok(sureness) => format!("{sureness:?}"),
        Err(reason) => format!("not enough: {reason:?}"),
    }
}

fn labels(suggestions: &Suggestions) -> [String; 5] {
    [
        label(suggestions.dead_zone.as_ref().map(|one| one.sureness).map_err(|why| *why)),
        label(suggestions.full_throw.as_ref().map(|one| one.sureness).map_err(|why| *why)),
        label(suggestions.curve.as_ref().map(|one| one.sureness).map_err(|why| *why)),
        label(suggestions.direction.as_ref().map(|one| one.sureness).map_err(|why| *why)),
        label(suggestions.smoothing.as_ref().map(|one| one.sureness).map_err(|why| *why)),
    ]
}

/// Everything that is made of records, as the page does: it is written, without a number that is
/// none, and read again; each setting has its label.
fn check(records: &[TaskRecord], minutes: u32) -> [String; 5] {
    let measures = measure(records);
    let suggestions = suggest(records, &measures, Wish::default());
    let prepared = Prepared::new(records, &measures);
    let settings = &suggestions.settings;
    for number in
        [settings.dead_zone, settings.full_throw, settings.centre.right, settings.centre.up]
    {
        assert!(number.is_finite());
    }
    let findings = Findings {
        measures: &measures,
        suggestions: &suggestions,
        chosen: settings,
        before: &prepared.effect(&Settings::default()),
        after: &prepared.effect(settings),
    };
    let body = FittingBody { minutes, ..FittingBody::default() };
    let fitting = Envelope::new("a-fitting", 1_770_000_000_000, body);
    let summary = Summary::of(&fitting, &findings, "a-summary", 1_770_000_100_000);
    let json = summary.to_json().expect("a summary is written");
    assert_eq!(read::<SummaryBody>(&json).expect("and read"), summary);
    assert!(Past::of(records).unknown(&fitting::Direction::FOUR, Default::default()).is_finite());
    labels(&suggestions)
}

/// Plays the plan and checks every cut; how many there were, and the labels at the end.
fn cut_everywhere(model: Model, way: Working) -> (usize, [String; 5]) {
    let minutes = way.minutes();
    let mut plan = Plan::first(way, minutes);
    let mut player = Player::new(model, 5);
    player.advance(0.0, None);
    let (mut records, mut now, mut cuts) = (Vec::new(), 0.0, 1);
    check(&records, minutes);
    while let Some(next) = plan.tasks.first() {
        let known = Known { kind: player.model().kind(), ..known(&records) };
        let first = Sample { arrival_seconds: now, ..player.latest().clone() };
        let mut run = TaskRun::start(next.ask.clone(), player.axes(), known, now, &first);
        run.command(now, Command::Begin);
        let (mut step, mut is_cut) = ((0, now), false);
        while run.view().phase != Phase::Done {
            now += POLL_SECONDS;
            let view = run.view();
            let change = player.advance(now, Some(&view));
            run.poll(now, change.as_ref());
            if let Some(effort) = player.effort(&view) {
                run.command(now, Command::Effort(effort));
            }
            if view.step != step.0 {
                (step, is_cut) = ((view.step, now), false);
            }
            let is_rest = matches!(
                next.ask.kind(),
                TaskKind::HandsOff
                    | TaskKind::QuietRest
                    | TaskKind::BusyRest
                    | TaskKind::FreeMovement
            );
            let midst = if is_rest { MIDST_OF_REST_SECONDS } else { MIDST_SECONDS };
            if !is_cut && view.phase == Phase::Doing && now - step.1 >= midst {
                is_cut = true;
                cuts += 1;
                let mut with_it = records.clone();
                with_it.push(run.clone().finish());
                check(&with_it, minutes);
                // And the plan goes on from there.
                let past = Past::of(&with_it);
                let after = plan.clone().after(&with_it[with_it.len() - 1], &past);
                let left = after.said.seconds - after.used.seconds;
                assert!(after.left().seconds <= left.max(0.0) + 1e-6);
            }
            if now - step.1 > 60.0 {
                run.command(now, Command::Next);
                step.1 = now;
            }
        }
        records.push(run.finish());
        cuts += 1;
        check(&records, minutes);
        let last = records[records.len() - 1].clone();
        plan = plan.after(&last, &Past::of(&records));
    }
    let labels = check(&records, minutes);
    (cuts, labels)
}

/// This person on a stick that reports seldom.
fn seldom(invented: Invented) -> Model {
    let model = invented.model();
    let reporting = Reporting { seconds: REPORT_SECONDS, ..model.stick.reporting };
    Model { stick: Stick { reporting, ..model.stick.clone() }, ..model }
}

fn cut(invented: Invented, way: Working) {
    let (cuts, labels) = cut_everywhere(seldom(invented), way);
    println!("{invented:?} {way:?}: {cuts} cuts, in the end {labels:?}");
    assert!(cuts > 25, "{cuts}");
    assert!(!labels[0].starts_with("not enough"), "a whole plan gives a dead zone: {labels:?}");
}

#[test]
fn the_plan_for_an_adult_can_end_anywhere() {
    cut(Invented::ShortToOneSide, Working::Usual);
}

#[test]
fn the_plan_for_somebody_who_does_not_read_can_end_anywhere() {
    cut(Invented::RhythmicMovement, Working::Shown);
}

#[test]
fn the_plan_for_somebody_who_tires_can_end_anywhere() {
    cut(Invented::SteadyHand, Working::Tires);
    cut(Invented::Chin, Working::Tires);
}

/// Whatever the task: stopped before anything of it counts it is not done, and what it asked is still to be
/// asked.
#[test]
fn a_task_stopped_before_it_had_a_result_is_not_done() {
    let state = |at: f64| Sample {
        arrival_seconds: at,
        axes: vec![0.01 * (at % 3.0), 0.0],
        buttons: vec![0.0, 0.0],
    };
    for kind in TaskKind::ALL {
        let ask = TaskAsk::usual(kind, &[0, 1]);
        let axes = StickAxes::default();
        let mut run = TaskRun::start(ask.clone(), axes, Known::default(), 1.0, &state(1.0));
        run.command(1.0, Command::Begin);
        for poll in 1..=100 {
            let now = 1.0 + 0.004 * f64::from(poll);
            run.poll(now, Some(&state(now)));
        }
        run.command(1.4, Command::Stop);
        let records = [run.finish()];
        assert!(records[0].recording.samples.len() > 50, "{kind:?}: it was recorded");
        assert!(!records[0].has_result(), "{kind:?}");
        let before = Plan::first(Working::default(), 15);
        let rounds = before.rounds(kind);
        let plan = before.after(&records[0], &Past::of(&records));
        assert_eq!(plan.over, [(ask, Ended::Stopped)], "{kind:?} is not done");
        assert!(plan.used.seconds > 0.0, "its time is used");
        if matches!(kind, TaskKind::HandsOff | TaskKind::QuietRest | TaskKind::Reach) {
            assert!(rounds > 0 && plan.rounds(kind) > 0, "{kind:?} is still in the plan");
        }
    }
}
