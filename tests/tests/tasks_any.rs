//! Whatever is pressed and however the stick moves: no task panics, and what it shows and leaves
//! behind keeps to its rules.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "tests")]

mod driver;

use driver::{check, check_view, pressing, sample};
use fitting::task::{
    Asking, Command, CueKind, Known, KnownReach, MarkReason, Meanwhile, PauseCause, Prompt,
    TaskAsk, TaskRun, Way,
};
use fitting::{Direction, Position, Sample, StickAxes};
use proptest::prelude::*;

#[derive(Clone, Debug)]
enum Event {
    /// Polls for some milliseconds with the stick at a place and some buttons down.
    Stay(u32, f64, f64, [bool; 4]),
    /// Polls for some milliseconds with the stick in the ring, if there is one.
    InRing(u32),
    /// Presses the asked button, if there is one, for some milliseconds.
    AskedButton(u32),
    /// Nobody polls for some milliseconds.
    Gap(u32),
    /// The clock is set back by some milliseconds.
    Back(u32),
    Press(Command),
    /// Goes on in another way.
    Turn(Way),
}

fn way() -> impl Strategy<Value = Way> {
    (0..Asking::ALL.len(), 0..CueKind::ALL.len())
        .prop_map(|(asking, cue)| Way { asking: Asking::ALL[asking], cue: CueKind::ALL[cue] })
}

fn command() -> impl Strategy<Value = Command> {
    prop_oneof![
        4 => Just(Command::Begin),
        2 => prop_oneof![
            Just(PauseCause::Asked),
            Just(PauseCause::DeviceGone),
            Just(PauseCause::PageHidden)
        ].prop_map(Command::Pause),
        4 => Just(Command::GoOn),
        3 => Just(Command::Next),
        3 => Just(Command::Again),
        3 => Just(Command::Skip),
        3 => (0..MarkReason::ALL.len()).prop_map(|index| Command::Mark(MarkReason::ALL[index])),
        2 => Just(Command::Unmark),
        2 => Just(Command::KeepQueried),
        1 => Just(Command::More),
        3 => any::<u8>().prop_map(Command::Effort),
        1 => Just(Command::Stop),
    ]
}

fn event() -> impl Strategy<Value = Event> {
    let place = || prop_oneof![4 => -1.2..1.2_f64, 4 => Just(0.0), 1 => any::<f64>()];
    prop_oneof![
        12 => (1..1500_u32, place(), place(), any::<[bool; 4]>())
            .prop_map(|(ms, x, y, down)| Event::Stay(ms, x, y, down)),
        6 => (1..4000_u32).prop_map(Event::InRing),
        3 => (1..1500_u32).prop_map(Event::AskedButton),
        6 => (1..2500_u32).prop_map(|ms| Event::Stay(ms, 0.0, 0.0, [false; 4])),
        1 => (1..30_000_u32).prop_map(Event::Gap),
        1 => (1..30_000_u32).prop_map(Event::Back),
        6 => command().prop_map(Event::Press),
        1 => way().prop_map(Event::Turn),
    ]
}

fn ask() -> impl Strategy<Value = TaskAsk> {
    let seconds = || prop_oneof![3 => 0.0..12.0_f64, 1 => any::<f64>()];
    let directions = || proptest::sample::subsequence(Direction::EIGHT.to_vec(), 0..=8);
    let level = || prop_oneof![4 => 0.05..1.0_f64, 1 => any::<f64>()];
    let levels = proptest::collection::vec(level(), 0..4);
    prop_oneof![
        seconds().prop_map(|seconds| TaskAsk::HandsOff { seconds }),
        seconds().prop_map(|seconds| TaskAsk::QuietRest { seconds }),
        (directions(), 0..3_usize)
            .prop_map(|(directions, rounds)| TaskAsk::Reach { directions, rounds }),
        (directions(), levels, 0..3_usize, seconds()).prop_map(
            |(directions, levels, rounds, seconds)| TaskAsk::Hold {
                directions,
                levels,
                rounds,
                seconds
            }
        ),
        (seconds(), 0..3_usize).prop_map(|(seconds, index)| TaskAsk::BusyRest {
            seconds,
            meanwhile: [Meanwhile::Talking, Meanwhile::Watching, Meanwhile::Pressing][index],
        }),
        seconds().prop_map(|seconds| TaskAsk::FreeMovement { seconds }),
        (directions(), level(), seconds()).prop_map(|(directions, level, seconds)| {
            TaskAsk::Sustained { directions, level, seconds }
        }),
        (directions(), level(), 0..3_usize)
            .prop_map(|(directions, level, rounds)| TaskAsk::Return { directions, level, rounds }),
        (
            proptest::collection::vec(prop_oneof![4 => 0..4_usize, 1 => any::<usize>()], 0..4),
            0..3_usize
        )
            .prop_map(|(buttons, rounds)| TaskAsk::Presses { buttons, rounds }),
    ]
}

fn known() -> impl Strategy<Value = Known> {
    let number = || prop_oneof![5 => -1.0..1.0_f64, 1 => any::<f64>()];
    (number(), number(), number(), number(), number()).prop_map(|(x, y, quiet_radius, a, b)| {
        Known {
            centre: Position::new(x, y),
            quiet_radius,
            reach: vec![KnownReach { asked: Direction::Right, end: Position::new(a, b) }],
            ..Known::default()
        }
    })
}

/// Polls for some milliseconds with one state.
fn stay(run: &mut TaskRun, since: f64, ms: u32, poll: f64, state: Sample) -> f64 {
    let mut now = since;
    let until = now + f64::from(ms) / 1000.0;
    let mut change = Some(state);
    while now < until {
        now += poll;
        run.poll(now, change.take().as_ref());
    }
    now
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, ..ProptestConfig::default() })]

    #[test]
    fn any_presses_and_movements(
        ask in ask(),
        known in known(),
        way in way(),
        poll in prop_oneof![Just(0.001), Just(0.004), Just(0.016)],
        events in proptest::collection::vec(event(), 0..60),
    ) {
        let mut now = 3.0;
        let mut run = TaskRun::start(
            ask, StickAxes::default(), known, now, &sample(now, Position::ORIGIN)).in_way(way);
        run.command(now, Command::Begin);
        for event in events {
            match event {
                Event::Stay(ms, x, y, down) => {
                    now = stay(&mut run, now, ms, poll, pressing(now, Position::new(x, y), down));
                }
                Event::InRing(ms) => {
                    let at = run.view().target.map_or(Position::ORIGIN, |target| target.at);
                    now = stay(&mut run, now, ms, poll, sample(now, at));
                }
                Event::AskedButton(ms) => {
                    let mut down = [false; 4];
                    if let Prompt::Press { button, .. } = run.view().prompt
                        && let Some(down) = down.get_mut(button)
                    {
                        *down = true;
                    }
                    now = stay(&mut run, now, ms, poll, pressing(now, Position::ORIGIN, down));
                }
                Event::Gap(ms) => now += f64::from(ms) / 1000.0,
                Event::Back(ms) => now -= f64::from(ms) / 1000.0,
                Event::Turn(way) => {
                    let (record, next) = run.turned(way);
                    check(&record);
                    prop_assert_eq!(next.view().way, way.suited(record.ask.kind()));
                    prop_assert!(next.clone().finish().repetitions.is_empty());
                    run = next;
                    run.command(now, Command::Begin);
                }
                Event::Press(command) => {
                    run.command(now, command);
                    let view = run.view();
                    run.command(now, Command::Begin);
                    prop_assert!(run.view().phase == view.phase || view.paused.is_none());
                }
            }
            check_view(&run.view());
            // Stopping here would leave a sound record too.
            check(&run.clone().finish());
        }
        let over = run.is_over();
        run.command(now, Command::Stop);
        prop_assert!(run.is_over());
        let before = run.clone().finish();
        run.poll(now + 1.0, Some(&sample(now + 1.0, Position::new(1.0, 0.0))));
        run.command(now + 2.0, Command::GoOn);
        let after = run.finish();
        prop_assert_eq!(&before, &after, "a task that is over stays as it is");
        prop_assert!(over || !after.recording.polled.is_empty() || after.repetitions.is_empty());
    }
}
