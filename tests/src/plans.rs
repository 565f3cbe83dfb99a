//! Plans by time, played by invented people: whether the minutes and the muscle work that a plan
//! said hold, and whether it leaves less unknown than a fixed order of the same tasks.
//!
//! The figure of merit is [`fitting::task::unknown`]: the mean relative width of the 95 %
//! intervals of reach in the needed directions, of movement at rest and of steadiness while
//! holding, from 0 to 2, where 2 stands for "not enough recorded". It was fixed before the planner
//! was judged by it.

use fitting::invented::{Model, Played, fixed_order, play, play_plan};
use fitting::task::{Past, Plan, TaskRecord, Wanted, Working};
use fitting::{Direction, Span};
use std::sync::atomic::{AtomicU64, Ordering};

/// Polls of the page while a task runs.
pub const POLL_SECONDS: f64 = 0.004;
/// Reading what a task asks, before each, seconds.
const READY_SECONDS: f64 = 5.0;

/// One person's plan of a way of working, played to its end with nothing recorded before.
#[must_use]
pub fn played(model: Model, seed: u64, way: Working, minutes: u32) -> Played {
    let wanted = Wanted { kind: model.kind(), ..Wanted::of(way, minutes) };
    play_plan(model, seed, Plan::new(wanted, &Past::nothing()), Vec::new(), POLL_SECONDS)
}

/// What was used as a share of what was said: seconds, and muscle seconds.
#[must_use]
pub fn shares(played: &Played) -> (f64, f64) {
    let (said, used) = (played.plan.said, played.plan.used);
    (used.seconds / said.seconds, used.muscle_seconds / said.muscle_seconds)
}

/// What `of` says of the people of these seeds, by as many threads as there are cores, in the
/// order of the seeds.
#[must_use]
pub fn of_people<T: Send>(seeds: std::ops::Range<u64>, of: impl Fn(u64) -> T + Sync) -> Vec<T> {
    let next = AtomicU64::new(seeds.start);
    let (next, of, end) = (&next, &of, seeds.end);
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let mut all: Vec<(u64, T)> = std::thread::scope(|scope| {
        let work = move || {
            let mut done = Vec::new();
            loop {
                let seed = next.fetch_add(1, Ordering::Relaxed);
                if seed >= end {
                    return done;
                }
                done.push((seed, of(seed)));
            }
        };
        let threads: Vec<_> = (0..cores).map(|_| scope.spawn(work)).collect();
        threads.into_iter().flat_map(|thread| thread.join().expect("no panic")).collect()
    });
    all.sort_by_key(|(seed, _)| *seed);
    all.into_iter().map(|(_, one)| one).collect()
}

/// The value below which this share of the values lies.
#[must_use]
pub fn quantile(values: &[f64], share: f64) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let last = sorted.len().saturating_sub(1) as f64;
    sorted.get((last * share).round() as usize).copied().unwrap_or(f64::NAN)
}

/// What there is of these records after so many seconds, the reading before each task included: a
/// repetition that is not over by then does not count.
fn cut(records: &[TaskRecord], seconds: f64) -> Vec<TaskRecord> {
    let mut kept = Vec::new();
    let mut before = 0.0;
    for record in records {
        let polled = &record.recording.polled;
        let (Some(first), Some(last)) = (polled.first(), polled.last()) else { continue };
        let left = seconds - before - READY_SECONDS;
        before += READY_SECONDS + last.to_seconds - first.from_seconds;
        if left <= 0.0 {
            break;
        }
        let until = first.from_seconds + left;
        let mut record = record.clone();
        record.repetitions.retain(|one| one.span.to_seconds <= until);
        record.recording.samples.retain(|one| one.arrival_seconds <= until);
        record.recording.polled.retain(|one| one.from_seconds < until);
        for one in &mut record.recording.polled {
            *one = Span { to_seconds: one.to_seconds.min(until), ..*one };
        }
        kept.push(record);
    }
    kept
}

/// What is left unknown of one person after a plan, and after a fixed order that is cut at the
/// same second.
#[derive(Clone, Copy, Debug)]
pub struct Pair {
    /// After the plan.
    pub plan: f64,
    /// After the fixed order for these minutes.
    pub fixed: f64,
}

/// Compares both for the person of this seed, of whom `needed` directions are needed.
#[must_use]
pub fn compare(seed: u64, minutes: u32, needed: &[Direction]) -> Pair {
    let model = Model::random(seed);
    let wanted = Wanted {
        needed: needed.to_vec(),
        kind: model.kind(),
        ..Wanted::of(Working::Usual, minutes)
    };
    let plan = Plan::new(wanted, &Past::nothing());
    let played = play_plan(model.clone(), seed, plan, Vec::new(), POLL_SECONDS);
    let tasks = fixed_order(minutes);
    let fixed = play(model.clone(), seed, &tasks, POLL_SECONDS);
    let fixed = cut(&fixed, played.plan.used.seconds);
    let unknown = |records: &[TaskRecord]| Past::of(records).unknown(needed, model.kind());
    Pair { plan: unknown(&played.records), fixed: unknown(&fixed) }
}

/// The means of such pairs, and the share of people of whom the plan leaves less unknown.
#[must_use]
pub fn means(pairs: &[Pair]) -> (Pair, f64) {
    let count = pairs.len() as f64;
    let mean = |of: fn(&Pair) -> f64| pairs.iter().map(of).sum::<f64>() / count;
    let better = pairs.iter().filter(|pair| pair.plan < pair.fixed).count() as f64 / count;
    (Pair { plan: mean(|pair| pair.plan), fixed: mean(|pair| pair.fixed) }, better)
}
