//! Which two axes of a device are the stick, found while somebody moves it in a circle.
//!
//! Two axes that a circle drives are a quarter turn apart: together they sweep an area. Axes
//! that move alone, or in step with each other, sweep none. The area does not depend on how
//! fast the circle was drawn, how often it was reported, or where its middle lies.

mod axis;
mod circle;

pub use axis::AxisKind;

use axis::AxisSeen;
use circle::Circle;
use fitting::sample::MOST_CONTROLS;
use fitting::statistics::order::sort_few;
use fitting::{AxisPick, Sample, StickAxes, Sureness};

/// Movements smaller than this share of travel are not kept for the finding.
const LEAST_MOVE: f64 = 0.01;

/// An axis takes part once its values cover this much of its scale of length 2.
const LEAST_RANGE: f64 = 0.1;

/// States kept at most; then every second one is dropped.
const MOST_KEPT: usize = 2048;

/// Pairs of axes that are offered at most.
const MOST_CANDIDATES: usize = 8;

/// Sectors a circle is divided into for its progress.
pub const SECTORS: u32 = 8;

/// Two axes that may be the stick.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Candidate {
    /// The axes, horizontal first. Which is which, and the signs, are assumed as in the W3C
    /// standard layout: the lower number is horizontal and grows to the right, the higher is
    /// vertical and grows towards the person.
    pub axes: StickAxes,
    /// How well the two fit a stick moved in a circle, 0..=1: the smaller range of the two
    /// times the share of a full turn's area that they swept; a quarter of it for an axis that
    /// reads as a hat switch or a trigger.
    pub score: f64,
    /// The eighths of the circle that were seen.
    pub sectors: u32,
}

/// What moved while the stick was moved in a circle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Found {
    /// No axis moved enough.
    Nothing,
    /// One axis moved: a stick that moves one way only, or not yet a circle.
    OneAxis,
    /// Two axes moved together.
    TwoAxes,
}

/// What the finder knows so far.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// What moved.
    pub found: Found,
    /// The axes to use: the best candidate, or the one axis that moved as horizontal with
    /// [`AxisPick::NONE`] beside it. `None` when nothing moved.
    pub axes: Option<StickAxes>,
    /// How sure that is: firm when seven eighths of a circle were seen and no other pair comes
    /// near, rough when half a circle was seen.
    pub sureness: Sureness,
    /// Share of the circle seen, 0..=1, in eighths, about the middle of the best pair's own
    /// movement. As that middle is found only on the way, it may fall back by an eighth or two.
    pub progress: f64,
    /// The pairs that may be the stick, best first, for the person to choose from.
    pub candidates: Vec<Candidate>,
    /// What each axis of the device looks like so far.
    pub kinds: Vec<AxisKind>,
}

/// Fed with samples while the stick is moved in a circle.
#[derive(Clone, Debug, Default)]
pub struct CircleFinder {
    seen: Vec<AxisSeen>,
    kept: Vec<Vec<f64>>,
    /// Every how many-th state is kept.
    stride: usize,
    since_kept: usize,
}

impl CircleFinder {
    /// A finder that has seen nothing.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Takes in one state of the device.
    pub fn take_in(&mut self, sample: &Sample) {
        let state: Vec<f64> = sample
            .axes
            .iter()
            .take(MOST_CONTROLS)
            .map(|value| if value.is_finite() { *value } else { 0.0 })
            .collect();
        for (index, value) in state.iter().enumerate() {
            match self.seen.get_mut(index) {
                Some(seen) => seen.take_in(*value),
                None => self.seen.push(AxisSeen::new(*value)),
            }
        }
        self.keep(state);
    }

    fn keep(&mut self, state: Vec<f64>) {
        let moved = self.kept.last().is_none_or(|last| {
            last.len() != state.len()
                || last.iter().zip(&state).any(|(a, b)| (a - b).abs() >= LEAST_MOVE)
        });
        self.since_kept += 1;
        if !moved || self.since_kept < self.stride {
            return;
        }
        self.since_kept = 0;
        self.kept.push(state);
        if self.kept.len() == MOST_KEPT {
            let mut odd = false;
            self.kept.retain(|_| {
                odd = !odd;
                odd
            });
            self.stride = self.stride.max(1) * 2;
        }
    }

    /// What is known so far.
    #[must_use]
    pub fn finding(&self) -> Finding {
        let kinds: Vec<AxisKind> = self.seen.iter().map(AxisSeen::kind).collect();
        let moving: Vec<usize> = (0..self.seen.len())
            .filter(|index| {
                self.seen[*index].range() >= LEAST_RANGE && kinds[*index] != AxisKind::HatOnOneAxis
            })
            .collect();
        let mut candidates = Vec::new();
        for (place, &first) in moving.iter().enumerate() {
            for &second in &moving[place + 1..] {
                candidates.extend(self.candidate(first, second, &kinds));
            }
        }
        sort_few(&mut candidates, |one, other| one.score.total_cmp(&other.score).is_gt());
        candidates.truncate(MOST_CANDIDATES);
        let best = candidates.first();
        let one = moving
            .iter()
            .copied()
            .max_by(|a, b| self.rank(*a, kinds[*a]).total_cmp(&self.rank(*b, kinds[*b])));
        let (found, axes) = match (best, one) {
            (Some(best), _) => (Found::TwoAxes, Some(best.axes)),
            (None, Some(index)) => (Found::OneAxis, Some(only(index))),
            (None, None) => (Found::Nothing, None),
        };
        Finding {
            found,
            axes,
            sureness: sureness(&candidates),
            progress: best.map_or(0.0, |best| f64::from(best.sectors) / f64::from(SECTORS)),
            candidates,
            kinds,
        }
    }

    fn candidate(&self, first: usize, second: usize, kinds: &[AxisKind]) -> Option<Candidate> {
        let path: Vec<(f64, f64)> = self
            .kept
            .iter()
            .filter_map(|state| Some((*state.get(first)?, *state.get(second)?)))
            .collect();
        let circle = Circle::of(&path);
        let range = self.seen[first].range().min(self.seen[second].range()).min(2.0);
        let unlikely = [kinds[first], kinds[second]]
            .iter()
            .any(|kind| matches!(kind, AxisKind::Stepped | AxisKind::Trigger));
        let score = range / 2.0 * circle.turned_share * if unlikely { 0.25 } else { 1.0 };
        let axes = StickAxes {
            horizontal: AxisPick { index: first, inverted: false },
            vertical: AxisPick { index: second, inverted: false },
        };
        (score > 0.0).then_some(Candidate { axes, score, sectors: circle.sectors })
    }

    /// How likely a lone moving axis is the stick: its range, less for hat-like and trigger-like.
    fn rank(&self, index: usize, kind: AxisKind) -> f64 {
        let range = self.seen[index].range();
        if matches!(kind, AxisKind::Stepped | AxisKind::Trigger) { range * 0.25 } else { range }
    }
}

fn only(index: usize) -> StickAxes {
    StickAxes { horizontal: AxisPick { index, inverted: false }, vertical: AxisPick::NONE }
}

fn sureness(candidates: &[Candidate]) -> Sureness {
    let Some(best) = candidates.first() else { return Sureness::NotEnough };
    let rival = candidates.get(1).map_or(0.0, |second| second.score / best.score);
    match best.sectors {
        7.. if rival < 0.6 => Sureness::Firm,
        4.. => Sureness::Rough,
        _ => Sureness::NotEnough,
    }
}

#[cfg(test)]
mod tests;
