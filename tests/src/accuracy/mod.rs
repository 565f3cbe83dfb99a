//! How near the truth the core comes, over many invented people whose truth is known.
//!
//! Each person is a model of its own, drawn from a seed, with a stick of its own. It plays a whole
//! plan through the real state machines of the tasks; the core measures and suggests; every
//! figure is held against what the model says, or does over an hour. What was said wrongly is
//! listed person by person.
//!
//! - [`figure`]: one figure told of one person beside its truth.
//! - [`person`]: one visit, and all its figures.
//! - [`twin`], [`map_truth`], [`rest_truth`], [`hold_truth`], [`rhythm_truth`], [`others`],
//!   [`long_run`]: the truths.
//! - [`dead_zone`], [`conventions`]: what a suggested dead zone does in the hour after.
//! - [`groups`]: who is slow, who shakes, who tires.
//! - [`seeds`]: whom everything was set on, and whom the reported numbers come from.
//! - [`shares`], [`lines`], [`by_group`], [`bars`], [`waived`], [`report`]: the table.
//!
//! The result depends on the people and the core alone: not on threads, date or machine.

pub mod bars;
pub mod by_group;
pub mod conventions;
pub mod dead_zone;
pub mod figure;
pub mod groups;
pub mod hold_truth;
pub mod lines;
pub mod long_run;
pub mod map_truth;
pub mod observers;
pub mod others;
pub mod person;
pub mod report;
pub mod rest_truth;
pub mod rhythm_truth;
pub mod seeds;
pub mod shares;
pub mod twin;
pub mod waived;

use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};
use std::thread;

use person::{Person, person};

/// The stick is polled this often, in the visit and for the truth, seconds: what a page does
/// while a task runs.
pub const POLL_SECONDS: f64 = 0.004;

/// Plays the people of the seeds from `first` on, on so many threads, and gives them in order.
/// `done` is told how many are there after each.
#[must_use]
pub fn people(first: u64, count: u64, threads: usize, done: &(dyn Fn(u64) + Sync)) -> Vec<Person> {
    let next = AtomicU64::new(0);
    let found: Mutex<Vec<Person>> = Mutex::new(Vec::new());
    let work = || {
        loop {
            let index = next.fetch_add(1, Ordering::Relaxed);
            if index >= count {
                return;
            }
            let one = person(first + index);
            if let Ok(mut found) = found.lock() {
                found.push(one);
                done(found.len() as u64);
            }
        }
    };
    thread::scope(|scope| {
        for _ in 1..threads.max(1) {
            scope.spawn(work);
        }
        work();
    });
    let mut found = found.into_inner().unwrap_or_default();
    found.sort_by_key(|one| one.seed);
    found
}
