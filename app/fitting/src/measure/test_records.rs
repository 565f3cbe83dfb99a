//! Records built by hand, for tests: a path over time read off at a rate, with its task.

use crate::task::{Repetition, TaskAsk, TaskRecord};
use crate::{Direction, Position, Recording, Sample, Span};

/// A recording of `path` (seconds to position) from `from_seconds` on, read `hertz` times a
/// second; with `on_change`, only where the position changed.
pub(crate) fn recording(
    from_seconds: f64,
    seconds: f64,
    hertz: f64,
    on_change: bool,
    path: impl Fn(f64) -> Position,
) -> Recording {
    let reads = (seconds * hertz).round() as usize;
    let mut samples: Vec<Sample> = Vec::with_capacity(reads);
    for i in 0..reads {
        let since = i as f64 / hertz;
        let at = path(since);
        let axes = vec![at.right, -at.up];
        if on_change && samples.last().is_some_and(|last| last.axes == axes) {
            continue;
        }
        samples.push(Sample { arrival_seconds: from_seconds + since, axes, buttons: Vec::new() });
    }
    let polled = vec![Span { from_seconds, to_seconds: from_seconds + seconds }];
    Recording { samples, polled }
}

pub(crate) fn repetition(
    span: Span,
    direction: Option<Direction>,
    level: Option<f64>,
) -> Repetition {
    Repetition { direction, level, ..Repetition::done(span) }
}

pub(crate) fn record(
    ask: TaskAsk,
    recording: Recording,
    repetitions: Vec<Repetition>,
) -> TaskRecord {
    TaskRecord::new(ask, recording, repetitions)
}

/// Stretches of up to ten seconds over the whole recording.
pub(crate) fn stretches(recording: &Recording) -> Vec<Repetition> {
    let Some(all) = recording.polled.first() else { return Vec::new() };
    let mut found = Vec::new();
    let mut from_seconds = all.from_seconds;
    while from_seconds < all.to_seconds {
        let to_seconds = (from_seconds + 10.0).min(all.to_seconds);
        found.push(repetition(Span { from_seconds, to_seconds }, None, None));
        from_seconds = to_seconds;
    }
    found
}

/// A quiet rest.
pub(crate) fn quiet_rest(recording: Recording) -> TaskRecord {
    let seconds = recording.watched_seconds();
    let repetitions = stretches(&recording);
    record(TaskAsk::QuietRest { seconds }, recording, repetitions)
}

/// Hands off.
pub(crate) fn hands_off(recording: Recording) -> TaskRecord {
    let seconds = recording.watched_seconds();
    let repetitions = stretches(&recording);
    record(TaskAsk::HandsOff { seconds }, recording, repetitions)
}

/// Pushes of 2 s each: out in 0.4 s, 1 s at the end, back in 0.4 s, 0.2 s of rest. Each is the
/// direction asked and the end, from the middle.
pub(crate) fn pushes(
    from_seconds: f64,
    ends: &[(Direction, Position)],
    hertz: f64,
    on_change: bool,
    shake: impl Fn(f64) -> Position,
) -> TaskRecord {
    let seconds = 2.0 * ends.len() as f64;
    let path = |since: f64| {
        let index = ((since / 2.0) as usize).min(ends.len() - 1);
        let t = since - 2.0 * index as f64;
        let share = (t / 0.4).min((1.7 - t) / 0.4).clamp(0.0, 1.0);
        ends[index].1 * share + shake(since)
    };
    let repetitions = ends
        .iter()
        .enumerate()
        .map(|(index, (direction, _))| {
            let start = from_seconds + 2.0 * index as f64;
            let span = Span { from_seconds: start, to_seconds: start + 2.0 };
            repetition(span, Some(*direction), None)
        })
        .collect();
    let mut directions: Vec<Direction> = ends.iter().map(|end| end.0).collect();
    directions.dedup();
    record(
        TaskAsk::Reach { directions, rounds: 1 },
        recording(from_seconds, seconds, hertz, on_change, path),
        repetitions,
    )
}

/// One hold at `place`, shaken.
pub(crate) fn hold(
    from_seconds: f64,
    seconds: f64,
    level: f64,
    hertz: f64,
    path: impl Fn(f64) -> Position,
) -> TaskRecord {
    let span = Span { from_seconds, to_seconds: from_seconds + seconds };
    record(
        TaskAsk::Hold { directions: vec![Direction::Up], levels: vec![level], rounds: 1, seconds },
        recording(from_seconds, seconds, hertz, false, path),
        vec![repetition(span, Some(Direction::Up), Some(level))],
    )
}

/// Chance that tests can repeat (splitmix64: Steele, Lea and Flood, OOPSLA 2014, from memory).
pub(crate) struct Chance(pub(crate) u64);

impl Chance {
    /// Even between the two.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^= mixed >> 31;
        low + (high - low) * ((mixed >> 11) as f64 + 0.5) / 9_007_199_254_740_992.0
    }

    /// Standard normal (Box and Muller).
    pub(crate) fn normal(&mut self) -> f64 {
        let size = libm::sqrt(-2.0 * libm::log(self.between(0.0, 1.0)));
        size * libm::cos(self.between(0.0, std::f64::consts::TAU))
    }
}
