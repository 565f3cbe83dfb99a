//! What a system takes away between a stick and a page: raw and shown positions of one axis,
//! collected side by side.
//!
//! The raw position is what the device reports (`hid::pad`), the shown one what the Gamepad
//! interface gives, both as shares from −1 to 1. Three things are looked for on each side of the
//! middle: how far the stick moves while exactly 0 is shown, how far before its end full scale is
//! shown, and the steps in which each of the two moves. Systems differ; this tells what is so here.
//!
//! Pairs are made by arrival. What is shown lags behind by up to some 20 ms (observed, Chromium 156
//! on Linux: 5 to 19 ms from report to frame), so only moments count in which the raw position kept
//! within [`STEADY_SHARE`] for [`STEADY_MS`]: then whatever the lag, the shown value belongs there.
//! On a slow machine the raw reports may queue up and come much later than what is shown (observed:
//! 0.2 to 1.4 s); that is measured by how the two move, and then they must keep still for longer.
//! Each place of the travel then has its own say, by the share of time in which 0 or full scale was
//! shown; the edge is where the fewest places disagree. A late value here and there, or a long
//! rest, moves it nowhere.

use std::collections::VecDeque;

mod comparison;
mod lateness;
mod side;
mod values;

pub use comparison::{Comparison, MOST_COMPARED, PairedBy};
use lateness::Lateness;
use side::Side;
use values::Values;

/// A moment counts when the raw position kept within this, share of travel to one side.
pub const STEADY_SHARE: f64 = 0.02;
/// For so long, milliseconds: twice the lag.
pub const STEADY_MS: f64 = 40.0;
/// Neighbouring places of which one shows 0 (or full scale) and the other does not must lie as near
/// as this, share of travel: what is told is then told to a fiftieth.
pub const NEAREST_SHARE: f64 = 0.02;
/// Less than this hidden cannot be told from lag, and counts as nothing; share of travel.
pub const LEAST_HIDDEN: f64 = 0.02;
/// The stick must have been seen so far beyond the edge of a hidden middle, share of travel, so
/// that it is no single odd value.
pub const SEEN_BEYOND: f64 = 0.1;
/// Different values that must be seen on a side before a step is told: among so many, two that are
/// neighbours are to be expected on a stick of 8 bits.
pub const LEAST_VALUES: usize = 32;

/// A stretch without change weighs no more than this, milliseconds.
const LONGEST_STRETCH_MS: f64 = 100.0;
/// Values come in by two ways and may overtake each other by so much, milliseconds.
const OVERTAKEN_MS: f64 = 60.0;
/// Once the raw values were seen to come late, they are allowed this many times as much: a queue
/// grows and shrinks.
const LATE_MARGIN: f64 = 1.5;
/// For so long after it was last seen, milliseconds: within it a queue comes back.
const LATE_FOR_MS: f64 = 60_000.0;
/// Beyond the time in which the stick has to keep still before it counts, it should stay so long,
/// milliseconds: what was shown there is then seen some thirty times.
const STAY_COUNTED_MS: f64 = 500.0;
/// Values waiting for that, and raw ones remembered, at most.
const MOST_WAITING: usize = 2048;
/// Different values remembered on each side, at most.
const MOST_VALUES: usize = 2048;
/// Shares are kept up to this size: a hat at rest lies outside −1..=1.
const LARGEST: f64 = 8.0;

/// What is not enough yet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lack {
    /// No steady moment on this side: the stick must be moved slowly, at most half of the travel to
    /// one side in a second, or held.
    NothingSteady,
    /// It must go farther out.
    NotFarEnough {
        /// So far it went slowly, share of travel.
        swept: f64,
        /// So far it must, share of travel.
        needed: f64,
    },
    /// It must pass more slowly between two places, one on each side of the edge.
    PassedTooFast {
        /// The nearer place, share of travel.
        from: f64,
        /// The farther place, share of travel; they must be [`NEAREST_SHARE`] apart or less.
        to: f64,
    },
    /// Too few different values.
    TooFewValues {
        /// So many were seen; [`LEAST_VALUES`] are needed.
        seen: usize,
    },
}

/// How much is hidden at one edge, share of travel to this side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Hidden {
    /// None that could be told; if any, less than this.
    None {
        /// The most that can be hidden.
        most: f64,
    },
    /// So much.
    Band {
        /// Best estimate.
        share: f64,
        /// It is no less than this.
        least: f64,
        /// It is no more than this.
        most: f64,
    },
}

/// What was found on one side of the middle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SideFindings {
    /// How far the stick moves from the middle while exactly 0 is shown.
    pub middle: Result<Hidden, Lack>,
    /// How far before the end full scale is shown.
    pub end: Result<Hidden, Lack>,
    /// The least difference between two raw values seen.
    pub raw_step: Result<f64, Lack>,
    /// The least difference between two shown values seen, 0 and full scale left out.
    pub shown_step: Result<f64, Lack>,
}

/// What was found on both sides.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RawShownFindings {
    /// Where the raw share is below 0.
    pub negative: SideFindings,
    /// Where it is above 0.
    pub positive: SideFindings,
}

/// Raw reports that come later than what is shown.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LateReports {
    /// They may come this much later, seconds.
    pub late_seconds: f64,
    /// So long the stick has to be held still in each place, whole seconds.
    pub stay_seconds: f64,
}

/// Collects raw and shown values of one axis.
#[derive(Clone, Debug, Default)]
pub struct RawAndShown {
    /// Values that may yet be overtaken, in order of time.
    waiting: VecDeque<(f64, Value)>,
    pairs: Pairs,
    raw_values: [Values; 2],
    shown_values: [Values; 2],
}

#[derive(Clone, Copy, Debug)]
enum Value {
    Raw(f64),
    Shown(f64),
    Pause,
}

impl RawAndShown {
    /// A raw value and when it arrived, milliseconds on the page's clock. What is no number is
    /// passed over.
    pub fn raw(&mut self, arrival_ms: f64, share: f64) {
        if arrival_ms.is_finite() && share.is_finite() {
            let share = share.clamp(-LARGEST, LARGEST);
            self.raw_values[side(share)].note(share);
            self.put(arrival_ms, Value::Raw(share));
        }
    }

    /// A shown value and when it arrived, on the same clock: whenever it changed, at least.
    pub fn shown(&mut self, arrival_ms: f64, share: f64) {
        if arrival_ms.is_finite() && share.is_finite() {
            let share = share.clamp(-LARGEST, LARGEST);
            if share.abs() < 1.0 {
                self.shown_values[side(share)].note(share);
            }
            self.put(arrival_ms, Value::Shown(share));
        }
    }

    /// Nobody looks from now on: what was last seen holds no longer.
    pub fn pause(&mut self, at_ms: f64) {
        if at_ms.is_finite() {
            self.put(at_ms, Value::Pause);
        }
    }

    /// What can be said so far.
    #[must_use]
    pub fn findings(&self) -> RawShownFindings {
        let mut pairs = self.pairs.clone();
        self.waiting.iter().for_each(|(at, value)| pairs.take(*at, *value));
        let [negative, positive] = [0, 1].map(|side| SideFindings {
            middle: pairs.sides[side].middle(),
            end: pairs.sides[side].end(),
            raw_step: self.raw_values[side].step(),
            shown_step: self.shown_values[side].step(),
        });
        RawShownFindings { negative, positive }
    }

    /// Whether the raw values came later than the shown ones by more than a look or two. Then the stick
    /// has to be moved in small steps and held still after each.
    #[must_use]
    pub fn late(&self) -> Option<LateReports> {
        let late_ms = self.pairs.late_ms;
        (late_ms > 0.0).then(|| LateReports {
            late_seconds: late_ms / 1000.0,
            stay_seconds: ((steady_ms(late_ms) + STAY_COUNTED_MS) / 1000.0).ceil(),
        })
    }

    /// What was found since this was last asked of how late the raw values come, milliseconds.
    fn found_late_ms(&mut self) -> Option<f64> {
        self.pairs.found_late_ms.take()
    }

    /// How late the raw values of another axis of the same device were found to come, milliseconds.
    fn heed_late(&mut self, late_ms: f64) {
        self.pairs.heed_late(late_ms);
    }

    /// What was shown at each place of the travel in steady moments, from the least raw share up:
    /// raw share and mean of what was shown there. At most 512 points, for drawing.
    #[must_use]
    pub fn course(&self) -> Vec<(f64, f64)> {
        let [negative, positive] = &self.pairs.sides;
        let outer = negative.course().rev().map(|(share, shown)| (-share, shown));
        outer.chain(positive.course()).collect()
    }

    fn put(&mut self, at_ms: f64, value: Value) {
        let place = self.waiting.partition_point(|(at, _)| *at <= at_ms);
        self.waiting.insert(place, (at_ms, value));
        let newest = self.waiting.back().map_or(at_ms, |(at, _)| *at);
        while self.waiting.len() > MOST_WAITING
            || self.waiting.front().is_some_and(|(at, _)| *at < newest - OVERTAKEN_MS)
        {
            let Some((at, value)) = self.waiting.pop_front() else { break };
            self.pairs.take(at, value);
        }
    }
}

fn side(share: f64) -> usize {
    usize::from(share >= 0.0)
}

/// So long the raw position must have kept still before a moment counts, milliseconds, where raw values
/// come this much later: since before it was shown, until now.
fn steady_ms(late_ms: f64) -> f64 {
    STEADY_MS + 2.0 * late_ms
}

/// Raw and shown values as they hold over time.
#[derive(Clone, Debug, Default)]
struct Pairs {
    /// The raw values of the last [`STEADY_MS`], or longer where they come late, and the one that held
    /// before.
    raw: VecDeque<(f64, f64)>,
    /// The shown values since as long ago as the raw ones come late, and the one that held before.
    shown: VecDeque<(f64, f64)>,
    last_ms: f64,
    lateness: Lateness,
    /// When the raw values were found to come later, and by how much, milliseconds: of the last
    /// [`LATE_FOR_MS`].
    late: VecDeque<(f64, f64)>,
    /// The last of what this axis found by itself, until the other axes heeded it.
    found_late_ms: Option<f64>,
    /// By so much the raw values may come later than the shown ones, milliseconds.
    late_ms: f64,
    sides: [Side; 2],
}

impl Pairs {
    fn take(&mut self, at_ms: f64, value: Value) {
        // Later than allowed for: it counts from now.
        let at_ms = if self.raw.is_empty() { at_ms } else { at_ms.max(self.last_ms) };
        self.hold(at_ms);
        self.last_ms = at_ms;
        match value {
            Value::Raw(share) => {
                self.raw.push_back((at_ms, share));
                if self.raw.len() > MOST_WAITING {
                    self.raw.pop_front();
                }
            }
            Value::Shown(share) => {
                self.shown.push_back((at_ms, share));
                if self.shown.len() > MOST_WAITING {
                    self.shown.pop_front();
                }
            }
            Value::Pause => {
                self.raw.clear();
                self.shown.clear();
                self.lateness.pause();
            }
        }
    }

    /// Raw values were found to come this much later, milliseconds.
    fn heed_late(&mut self, late_ms: f64) {
        self.late.push_back((self.last_ms, late_ms));
        while self.late.front().is_some_and(|(at, _)| *at < self.last_ms - LATE_FOR_MS) {
            self.late.pop_front();
        }
        if late_ms > self.late_ms {
            // Whatever was paired so far did not belong together.
            self.sides = Default::default();
        }
        let latest = self.late.iter().map(|(_, late_ms)| *late_ms).fold(0.0, f64::max);
        self.late_ms = LATE_MARGIN * latest;
    }

    /// Counts the stretch up to now, in which both values held.
    fn hold(&mut self, to_ms: f64) {
        let newest = |values: &VecDeque<(f64, f64)>| values.back().map(|(_, share)| *share);
        let (Some(now), Some(latest)) = (newest(&self.raw), newest(&self.shown)) else { return };
        let before_ms = self.late_ms / LATE_MARGIN;
        let pair = (now, latest);
        if let Some(late_ms) = self.lateness.hold(self.last_ms, to_ms, pair, before_ms) {
            self.found_late_ms = Some(late_ms);
            self.heed_late(late_ms);
        }
        // What was shown when the stick was where the raw values are now: they have to keep still from
        // before that until now.
        let steady_ms = steady_ms(self.late_ms);
        let then = to_ms - self.late_ms;
        while self.shown.get(1).is_some_and(|(at, _)| *at <= then) {
            self.shown.pop_front();
        }
        let Some(shown) = self.shown.front().map(|(_, share)| *share) else { return };
        let mut long = to_ms - self.last_ms;
        let steady_from = self.last_ms - steady_ms;
        while self.raw.get(1).is_some_and(|(at, _)| *at <= steady_from) {
            self.raw.pop_front();
        }
        let known = self.raw.front().is_some_and(|(at, _)| *at <= steady_from);
        let ends = self.raw.iter().map(|(_, share)| *share);
        let (low, high) =
            ends.fold((now, now), |(low, high), share| (low.min(share), high.max(share)));
        let mut half = (high - low) / 2.0;
        let mut share = low + half;
        if !known || high - low > STEADY_SHARE {
            // A stretch long enough is steady by itself from then on.
            long -= steady_ms;
            (half, share) = (0.0, now);
        }
        if long > 0.0 {
            let long = long.min(LONGEST_STRETCH_MS);
            self.sides[side(share)].note(share.abs(), half, shown, long);
        }
    }
}

#[cfg(test)]
#[path = "raw_and_shown_tests.rs"]
mod tests;
