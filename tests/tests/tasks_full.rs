//! A recording ends before it is larger than may be kept, whatever the device and the machine do.
#![allow(clippy::expect_used, reason = "tests")]

mod driver;

use driver::sample;
use fitting::position::Position;
use fitting::summary::{Envelope, TaskBody};
use fitting::task::{Command, Known, PauseCause, TaskAsk, TaskRun};
use fitting::{Sample, StickAxes};

/// An hour's rest, the longest there is, begun with a device in this state.
fn begun(first: &Sample) -> TaskRun {
    let ask = TaskAsk::QuietRest { seconds: 3600.0 };
    let mut run = TaskRun::start(ask, StickAxes::default(), Known::default(), 1.0, first);
    run.command(1.0, Command::Begin);
    run
}

/// Polls with `step` between until the task is over; it has to be over before so many.
fn until_full(
    mut run: TaskRun,
    most: usize,
    step: f64,
    change: impl Fn(usize, f64) -> Option<Sample>,
) -> TaskRun {
    for place in 1..=most {
        let now = 1.0 + place as f64 * step;
        run.poll(now, change(place, now).as_ref());
        if run.is_over() {
            assert!(run.is_full());
            return run;
        }
        // A long rest is made longer, again and again.
        if run.view().phase == fitting::task::Phase::Done {
            run.command(now, Command::More);
        }
    }
    panic!("it goes on after {most} polls");
}

/// It can be kept, and is read again to the last bit.
fn is_kept(run: TaskRun) -> TaskBody {
    let record = run.finish();
    assert!(record.repetitions.iter().any(fitting::task::Repetition::counts));
    let body = TaskBody {
        fitting: "f".to_owned(),
        order: 0,
        started_epoch_ms: 1,
        series: 0,
        site: None,
        record,
    };
    let kept = Envelope::new("t", 1, body);
    let json = kept.to_json().expect("it may be kept");
    let read = Envelope::<TaskBody>::from_json(&json).expect("it is read");
    assert!(read == kept);
    kept.body
}

/// 8,000 reports a second, the fastest a USB device sends (USB 2.0, section 5.7.4: one each 125 µs).
#[test]
fn a_fast_device_ends_its_recording_at_the_most_samples() {
    let at = |place: usize| Position { right: 0.01 * (place % 5) as f64, up: 0.0 };
    let run = begun(&sample(1.0, Position::ORIGIN));
    let run = until_full(run, 400_000, 0.000_125, |place, now| Some(sample(now, at(place))));
    let samples = is_kept(run).record.recording.samples.len();
    assert!((399_900..=400_000).contains(&samples), "{samples}");
}

/// Many controls: the memory is full long before.
#[test]
fn a_device_of_many_controls_ends_it_at_the_most_memory() {
    let wide = |place: usize, now: f64| Sample {
        arrival_seconds: now,
        axes: (0..32).map(|axis| 0.01 * ((place + axis) % 9) as f64).collect(),
        buttons: vec![0.0; 32],
    };
    let run = begun(&wide(0, 1.0));
    let run = until_full(run, 120_000, 0.002, |place, now| Some(wide(place, now)));
    let samples = is_kept(run).record.recording.samples.len();
    // 60 MiB, 576 bytes each.
    assert!((109_000..=109_226).contains(&samples), "{samples}");
}

/// A machine so slow that each look is a span of its own.
#[test]
fn looks_far_apart_end_it_at_the_most_spans() {
    let run = begun(&sample(1.0, Position::ORIGIN));
    // Free of the bound of a rest, which ends after three times its length.
    let mut run = run;
    let mut now = 1.0;
    while !run.is_over() {
        now += 0.02;
        assert!(now < 3_000.0, "it goes on");
        run.poll(now, None);
        if run.view().phase == fitting::task::Phase::Done {
            run.command(now, Command::More);
        }
    }
    assert!(run.is_full());
    let spans = run.finish().recording.polled.len();
    assert!((99_900..=100_000).contains(&spans), "{spans}");
}

/// Paused and gone on with for ever, as by a switch that is stuck.
#[test]
fn pauses_without_end_end_it() {
    let mut run = begun(&sample(1.0, Position::ORIGIN));
    for place in 0..200_000 {
        let now = 1.0 + f64::from(place) * 0.1;
        run.poll(now, None);
        run.command(now, Command::Pause(PauseCause::Asked));
        run.command(now, Command::GoOn);
        if run.is_over() {
            break;
        }
    }
    assert!(run.is_full());
}

/// What goes on in another way has all the room again.
#[test]
fn a_task_that_was_turned_has_room_again() {
    let run = begun(&sample(1.0, Position::ORIGIN));
    let at = |place: usize| Position { right: 0.01 * (place % 5) as f64, up: 0.0 };
    let mut run = run;
    for place in 1..=100_000_u32 {
        let now = 1.0 + f64::from(place) * 0.001;
        run.poll(now, Some(&sample(now, at(place as usize))));
    }
    let (record, mut run) = run.turned(fitting::task::Way::default());
    assert_eq!(record.recording.samples.len(), 100_001);
    run.command(102.0, Command::Begin);
    let run =
        until_full(run, 400_001, 0.000_125, |place, now| Some(sample(now + 101.0, at(place))));
    assert!(run.finish().recording.samples.len() > 399_900);
}

/// A device that sends nothing until it is moved has no axes before: what follows is kept all the same.
#[test]
fn a_recording_that_begins_before_the_first_report_is_kept() {
    let mut run = begun(&Sample::default());
    for place in 1..=1_000_u32 {
        let now = 1.0 + f64::from(place) * 0.004;
        run.poll(now, Some(&sample(now, Position { right: 0.01 * f64::from(place % 3), up: 0.0 })));
    }
    is_kept(run);
}
