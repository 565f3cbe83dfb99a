//! Whatever is recorded: no result contradicts itself, and no number is told that says nothing.
#![allow(clippy::unwrap_used, clippy::expect_used, reason = "tests")]

mod driver;

use driver::{pressing, sample};
use fitting::exchange::figures::{Line, Unit, measured, more, suggested};
use fitting::measure::measure;
use fitting::suggest::{Wish, suggest};
use fitting::task::{Command, Known, Prompt, TaskAsk, TaskKind, TaskRecord, TaskRun};
use fitting::{NotEnough, Position, Sample, StickAxes, Sureness};
use proptest::prelude::*;

/// What happens while a task runs, in turn.
#[derive(Clone, Debug)]
enum Event {
    /// The stick is moved to a share of what is asked (or of travel) in so many milliseconds, askew.
    Move(u32, f64, f64),
    /// It stays and shakes by so much.
    Shake(u32, f64),
    /// The asked button is pressed for some milliseconds.
    Press(u32),
    /// Nobody looks for some milliseconds.
    Gap(u32),
    /// An answer of 0 to 10.
    Effort(u8),
}

fn event() -> impl Strategy<Value = Event> {
    prop_oneof![
        6 => (100..3000_u32, 0.0..1.3_f64, -0.6..0.6_f64).prop_map(|(ms, share, off)| Event::Move(ms, share, off)),
        4 => (100..4000_u32, 0.0..0.2_f64).prop_map(|(ms, size)| Event::Shake(ms, size)),
        3 => (1000..8000_u32, Just(0.0)).prop_map(|(ms, size)| Event::Shake(ms, size)),
        2 => (20..900_u32).prop_map(Event::Press),
        1 => (20..3000_u32).prop_map(Event::Gap),
        1 => (0..=10_u8).prop_map(Event::Effort),
    ]
}

/// A person who does what they like, at a machine that looks every `poll` seconds.
struct Person {
    now: f64,
    poll: f64,
    at: Position,
}

impl Person {
    fn stay(&mut self, run: &mut TaskRun, ms: u32, state: impl Fn(f64) -> Sample) {
        let from = self.now;
        while self.now < from + f64::from(ms) / 1000.0 {
            self.now += self.poll;
            let state = state(self.now - from);
            run.poll(self.now, Some(&state));
        }
    }

    fn play(&mut self, ask: TaskAsk, events: &[Event]) -> TaskRecord {
        let start = sample(self.now, self.at);
        let known = Known::default();
        let mut run = TaskRun::start(ask, StickAxes::default(), known, self.now, &start);
        run.command(self.now, Command::Begin);
        for event in events {
            let (from, now) = (self.at, self.now);
            match event {
                Event::Move(ms, share, off) => {
                    let goal =
                        run.view().target.map_or(Position::new(1.0, 0.0), |target| target.at);
                    let to = (goal * *share).turned(off.to_degrees());
                    let seconds = f64::from(*ms) / 1000.0;
                    let path = |gone: f64| from + (to - from) * (gone / seconds).min(1.0);
                    self.stay(&mut run, *ms, |gone| sample(now + gone, path(gone)));
                    self.at = to;
                }
                Event::Shake(ms, size) => {
                    let at = |gone: f64| {
                        from + Position::new(0.7, 0.3) * (size * libm::sin(31.0 * gone))
                    };
                    self.stay(&mut run, *ms, |gone| sample(now + gone, at(gone)));
                }
                Event::Press(ms) => {
                    let mut down = [false; 4];
                    if let Prompt::Press { button, .. } = run.view().prompt
                        && let Some(down) = down.get_mut(button)
                    {
                        *down = true;
                    }
                    self.stay(&mut run, *ms, |gone| pressing(now + gone, from, down));
                    self.stay(&mut run, 120, |gone| pressing(now + gone, from, [false; 4]));
                }
                Event::Gap(ms) => self.now += f64::from(*ms) / 1000.0,
                Event::Effort(effort) => run.command(self.now, Command::Effort(*effort)),
            }
        }
        run.command(self.now, Command::Stop);
        self.now += 2.0;
        run.finish()
    }
}

/// What may not be told.
fn check(line: &Line) {
    match line.lacking {
        Some(NotEnough::Seconds { have, need }) => {
            assert!(have.is_finite() && have.floor() < need.ceil(), "{line:?}");
        }
        Some(NotEnough::Repetitions { have, need }) => assert!(have < need, "{line:?}"),
        _ => {}
    }
    let Some(value) = line.value else { return };
    assert!(value.is_finite(), "{line:?}");
    let (Some(low), Some(high)) = (line.low, line.high) else { return };
    assert!(low <= value && value <= high, "{line:?}");
    match line.unit {
        Unit::TravelPerMinute => assert!(high - low <= 1.0, "nobody can use this: {line:?}"),
        Unit::PerMinute | Unit::Seconds | Unit::Hertz => assert!(low >= 0.0, "{line:?}"),
        Unit::Degrees => assert!(high - low <= 360.0, "{line:?}"),
        _ => {}
    }
    if line.name == "dead_zone" {
        assert!(line.sureness != Some(Sureness::Firm) || high > 0.0, "no firm nothing: {line:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, ..ProptestConfig::default() })]

    #[test]
    fn no_result_contradicts_itself(
        tasks in proptest::collection::vec(
            (0..TaskKind::ALL.len(), proptest::collection::vec(event(), 0..25)), 1..5),
        poll in prop_oneof![3 => Just(0.004), 1 => Just(0.011), 1 => Just(0.03)],
    ) {
        let mut person = Person { now: 1.0, poll, at: Position::ORIGIN };
        let records: Vec<TaskRecord> = tasks
            .iter()
            .map(|(kind, events)| person.play(TaskAsk::usual(TaskKind::ALL[*kind], &[0, 1]), events))
            .collect();
        let measures = measure(&records);
        let suggestions = suggest(&records, &measures, Wish::default());
        let lines = [measured(&measures), more(&measures, &suggestions), suggested(&measures, &suggestions)];
        lines.iter().flatten().for_each(check);
        let settings = &suggestions.settings;
        prop_assert!(settings.full_throw > settings.dead_zone, "{settings:?}");
        if suggestions.full_throw.is_ok() && suggestions.dead_zone.is_ok() {
            prop_assert!(settings.full_throw - settings.dead_zone >= 0.15 - 1e-9, "{settings:?}");
        }
    }
}
