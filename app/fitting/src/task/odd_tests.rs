//! Pushes that stand out: queried, and in no figure until somebody says that they were meant.

use super::{Command, Known, Phase, Prompt, Query, TaskAsk, TaskRecord, TaskRun};
use crate::measure::measure;
use crate::{Direction, Sample, StickAxes};

/// How one push goes: seconds since the cue to share of travel, upwards.
type Way = Box<dyn Fn(f64) -> f64>;

/// Out in 0.4 s, there until 1.2 s, back by 1.6 s.
fn to(reach: f64) -> Way {
    Box::new(move |at| reach * (at / 0.4).min((1.6 - at) / 0.4).clamp(0.0, 1.0))
}

/// A flick of so many seconds that is no push, nothing after it, and, where that was no push for the
/// task either, one like the others.
fn flick(reach: f64, seconds: f64) -> Way {
    let push = to(0.7);
    Box::new(move |at| match at {
        _ if (0.5..0.5 + seconds).contains(&at) => reach,
        _ if at >= 5.0 => push(at - 5.0),
        _ => 0.0009,
    })
}

/// Plays these pushes upwards, one after another; what is asked once more goes as the last one.
/// `answer` says what to do while a question is open.
fn play(ways: &[Way], mut answer: impl FnMut(Query) -> Option<Command>) -> TaskRecord {
    let sample = |arrival_seconds: f64, up: f64| Sample {
        arrival_seconds,
        axes: vec![0.0, -up],
        buttons: Vec::new(),
    };
    let ask = TaskAsk::Reach { directions: vec![Direction::Up], rounds: ways.len() };
    let first = sample(0.0, 0.0);
    let mut run = TaskRun::start(ask, StickAxes::default(), Known::default(), 0.0, &first);
    run.command(0.0, Command::Begin);
    let (mut now, mut cue, mut push, mut was_between) = (0.0, 0.0, 0, true);
    while run.view().phase != Phase::Done {
        assert!(now < 600.0, "it never ends");
        let between = run.view().phase == Phase::Between;
        if was_between && !between {
            (cue, push) = (now, push + 1);
            assert!(matches!(run.view().prompt, Prompt::Push(_)));
        }
        was_between = between;
        let way = &ways[(push - 1_usize).min(ways.len() - 1)];
        run.poll(now, Some(&sample(now, if between { 0.0 } else { way(now - cue) })));
        if let Some(command) = run.view().query.and_then(&mut answer) {
            run.command(now, command);
        }
        now += 0.004;
    }
    // Whoever leaves it there has until now to answer.
    while let Some(command) = run.view().query.and_then(&mut answer) {
        run.command(now, command);
    }
    run.finish()
}

/// How far those went that wait for an answer, percent.
fn queried(record: &TaskRecord) -> Vec<f64> {
    let short = record.repetitions.iter().filter_map(|one| one.queried_short);
    short.map(|short| (100.0 * short.reach).round()).collect()
}

fn reach(record: TaskRecord) -> f64 {
    measure(&[record]).reach[0].reach.unwrap().value
}

/// 25 and 38 % beside 65 to 75 %, in any order.
#[test]
fn two_of_five_that_fall_short_are_both_queried() {
    let lengths = [0.25, 0.38, 0.65, 0.7, 0.75];
    for shift in 0..5 {
        let ways: Vec<Way> = (0..5).map(|at| to(lengths[(at * 3 + shift) % 5])).collect();
        let ways: Vec<Way> = ways.into_iter().chain([to(0.7)]).collect();
        let record = play(&ways, |_| None);
        let mut short = queried(&record);
        short.sort_by(f64::total_cmp);
        assert_eq!(short, [25.0, 38.0], "from {shift}");
        assert!((reach(record) - 0.7).abs() < 0.02);
    }
}

/// Each is asked about by itself, and answered by itself.
#[test]
fn pushes_that_stand_out_are_asked_about_one_by_one() {
    let ways = [0.25, 0.38, 0.7, 0.72].map(to);
    let mut asked = Vec::new();
    let record = play(&ways, |query| {
        let Query::Short(short) = query else { return None };
        asked.push((100.0 * short.reach).round());
        (asked.len() < 10).then_some(Command::KeepQueried)
    });
    assert_eq!(asked, [25.0, 38.0], "and none of them twice");
    assert!(record.repetitions.iter().all(|one| one.counts()));
}

/// A flick, after which the stick lay at 0.09 % of travel, beside pushes of 68 and 72 %: what is
/// told of it and asked about is what the figures would take it for.
#[test]
fn a_push_of_next_to_nothing_does_not_count_until_it_is_said_to_be_meant() {
    for seconds in [0.15, 0.25, 0.35] {
        let ways = || vec![to(0.68), to(0.72), flick(0.3, seconds), to(0.7)];
        let record = play(&ways(), |_| None);
        let found = reach(record.clone());
        assert!((found - 0.7).abs() < 0.02, "{seconds} s: {found} {:?}", queried(&record));
    }
}

/// The first push went twice as far as the person does: those after it are what is usual.
#[test]
fn one_that_went_far_makes_no_others_stand_out() {
    let ways = [0.58, 0.3, 0.31, 0.29].map(to);
    let record = play(&ways, |_| None);
    assert_eq!(queried(&record), [0.0; 0]);
    assert_eq!(record.repetitions.len(), 4, "none of them is asked once more");
    assert!(record.repetitions.iter().all(|one| one.counts()));
}
