//! Every axis of a device beside what the Gamepad interface shows of it, and which is which.
//!
//! The interface numbers axes and names none. A first guess goes by the order of usages (observed,
//! Chromium 156 on Linux: X, Y, Z and so on, whatever their order in the report). Then what moves
//! together belongs together: by the product-moment correlation of raw and shown positions. A
//! person may say it, too, and has the last word.

use super::{Hidden, LateReports, RawAndShown, RawShownFindings};
use crate::hid::Axis;

/// The most axes compared; those beyond are left out.
pub const MOST_COMPARED: usize = 16;

/// Looks before movement tells anything: two seconds at 60 frames a second. Ours.
const LEAST_LOOKS: f64 = 120.0;
/// The raw position must have spread so far, standard deviation as share of travel. Ours.
const LEAST_SPREAD: f64 = 0.1;
/// Correlation from which two move together: a hidden middle and ends of an eighth each leave 0.99
/// of an even sweep, of a fast one less. Ours.
const TOGETHER: f64 = 0.9;
/// By so much the second best must be worse. Ours.
const CLEARLY: f64 = 0.1;

/// Why an axis is held to be another one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PairedBy {
    /// By the order of usages: a guess.
    Order,
    /// They moved together.
    Movement,
    /// A person said so.
    Hand,
}

/// Raw and shown positions of a whole device.
#[derive(Clone, Debug, Default)]
pub struct Comparison {
    axes: Vec<Compared>,
    raw_now: Vec<f64>,
}

#[derive(Clone, Debug)]
struct Compared {
    shown: usize,
    by: PairedBy,
    pairs: RawAndShown,
    /// With each shown axis, in order.
    together: Vec<Together>,
}

impl Comparison {
    /// Of a pad with these axes ([`crate::hid::pad::RawPad::axes`]).
    #[must_use]
    pub fn new(axes: &[Axis]) -> Self {
        let axes = axes.get(..axes.len().min(MOST_COMPARED)).unwrap_or_default();
        let rank = |place: usize, axis: &Axis| {
            let before = |(other, one): &(usize, &Axis)| (one.usage, *other) < (axis.usage, place);
            axes.iter().enumerate().filter(before).count()
        };
        let compared = axes.iter().enumerate().map(|(place, axis)| Compared {
            shown: rank(place, axis),
            by: PairedBy::Order,
            pairs: RawAndShown::default(),
            together: Vec::new(),
        });
        Self { axes: compared.collect(), raw_now: Vec::new() }
    }

    /// The raw state of all axes and when it arrived, milliseconds on the page's clock.
    pub fn raw(&mut self, arrival_ms: f64, axes: &[f64]) {
        for (one, share) in self.axes.iter_mut().zip(axes) {
            one.pairs.raw(arrival_ms, *share);
        }
        self.raw_now.clear();
        self.raw_now.extend(axes.iter().take(MOST_COMPARED));
    }

    /// The shown state of all axes and since when it holds, on the same clock. Once a look, also
    /// where nothing changed.
    pub fn shown(&mut self, arrival_ms: f64, axes: &[f64]) {
        let axes = axes.get(..axes.len().min(MOST_COMPARED)).unwrap_or_default();
        for (one, raw) in self.axes.iter_mut().zip(&self.raw_now) {
            one.together.resize(axes.len(), Together::default());
            for (together, shown) in one.together.iter_mut().zip(axes) {
                together.note(*raw, *shown);
            }
            if one.by != PairedBy::Hand
                && let Some(place) = best(&one.together)
            {
                one.pair(place, PairedBy::Movement);
            }
            if let Some(shown) = axes.get(one.shown) {
                one.pairs.shown(arrival_ms, *shown);
            }
        }
        self.heed_late();
    }

    /// One queue holds the reports of all axes: what one of them finds of it is so for each. Where a pair
    /// is only guessed, two axes that go round in a circle would seem to come late.
    fn heed_late(&mut self) {
        for finder in 0..self.axes.len() {
            let finds = self.axes.get_mut(finder).filter(|one| one.is_sure());
            let Some(late_ms) = finds.and_then(|one| one.pairs.found_late_ms()) else { continue };
            let others = self.axes.iter_mut().enumerate().filter(|(place, _)| *place != finder);
            others.for_each(|(_, one)| one.pairs.heed_late(late_ms));
        }
    }

    /// Nobody looks from now on.
    pub fn pause(&mut self, at_ms: f64) {
        for one in &mut self.axes {
            one.pairs.pause(at_ms);
        }
    }

    /// A person says which shown axis a raw one is. What is not there changes nothing.
    pub fn pair_by_hand(&mut self, raw: usize, shown: usize) {
        if let Some(one) = self.axes.get_mut(raw).filter(|_| shown < MOST_COMPARED) {
            one.pair(shown, PairedBy::Hand);
        }
    }

    /// Which shown axis a raw one is held to be, and why.
    #[must_use]
    pub fn pair_of(&self, raw: usize) -> Option<(usize, PairedBy)> {
        self.axes.get(raw).map(|one| (one.shown, one.by))
    }

    /// What can be said of a raw axis so far.
    #[must_use]
    pub fn findings(&self, raw: usize) -> Option<RawShownFindings> {
        self.axes.get(raw).map(|one| one.pairs.findings())
    }

    /// Whether the reports of a raw axis came later than what was shown: see [`RawAndShown::late`].
    #[must_use]
    pub fn late(&self, raw: usize) -> Option<LateReports> {
        self.axes.get(raw).and_then(|one| one.pairs.late())
    }

    /// What was shown along a raw axis: see [`RawAndShown::course`].
    #[must_use]
    pub fn course(&self, raw: usize) -> Vec<(f64, f64)> {
        self.axes.get(raw).map(|one| one.pairs.course()).unwrap_or_default()
    }

    /// The widest hidden middle found on any side of any axis that moved together with its shown
    /// one or was paired by hand, share of travel. `None` where none was found, or nothing is known.
    #[must_use]
    pub fn hidden_middle(&self) -> Option<f64> {
        let sure = self.axes.iter().filter(|one| one.by != PairedBy::Order);
        let found = sure.flat_map(|one| {
            let RawShownFindings { negative, positive } = one.pairs.findings();
            [negative.middle, positive.middle]
        });
        found
            .filter_map(|found| match found {
                Ok(Hidden::Band { share, .. }) => Some(share),
                Ok(Hidden::None { .. }) | Err(_) => None,
            })
            .reduce(f64::max)
    }
}

impl Compared {
    /// A person said so, or all of the movement until now says so.
    fn is_sure(&self) -> bool {
        let together = self.together.get(self.shown).and_then(Together::correlation);
        self.by == PairedBy::Hand || together.is_some_and(|strength| strength.abs() >= TOGETHER)
    }

    /// Another pair begins anew: what was collected belongs to no pair any more.
    fn pair(&mut self, shown: usize, by: PairedBy) {
        if self.shown != shown {
            self.shown = shown;
            self.pairs = RawAndShown::default();
        }
        self.by = by;
    }
}

/// The shown axis that moves together with the raw one, clearly more than any other.
fn best(together: &[Together]) -> Option<usize> {
    let strengths = together.iter().map(|one| one.correlation().map_or(0.0, f64::abs));
    let (mut first, mut second) = ((0, 0.0), 0.0);
    for (place, strength) in strengths.enumerate() {
        if strength > first.1 {
            (second, first) = (first.1, (place, strength));
        } else if strength > second {
            second = strength;
        }
    }
    (first.1 >= TOGETHER && first.1 - second >= CLEARLY).then_some(first.0)
}

/// Running sums of two numbers.
#[derive(Clone, Copy, Debug, Default)]
struct Together {
    count: f64,
    raw: f64,
    shown: f64,
    raw_raw: f64,
    shown_shown: f64,
    raw_shown: f64,
}

impl Together {
    fn note(&mut self, raw: f64, shown: f64) {
        if !(raw.is_finite() && shown.is_finite()) {
            return;
        }
        // A hat's null state lies outside; so nothing outweighs the rest.
        let (raw, shown) = (raw.clamp(-1.0, 1.0), shown.clamp(-1.0, 1.0));
        self.count += 1.0;
        self.raw += raw;
        self.shown += shown;
        self.raw_raw += raw * raw;
        self.shown_shown += shown * shown;
        self.raw_shown += raw * shown;
    }

    /// The product-moment correlation (Pearson); `None` where too little moved.
    fn correlation(&self) -> Option<f64> {
        if self.count < LEAST_LOOKS {
            return None;
        }
        let mean = |sum: f64| sum / self.count;
        let raw = mean(self.raw_raw) - mean(self.raw) * mean(self.raw);
        let shown = mean(self.shown_shown) - mean(self.shown) * mean(self.shown);
        let both = mean(self.raw_shown) - mean(self.raw) * mean(self.shown);
        if raw < LEAST_SPREAD * LEAST_SPREAD || shown <= 0.0 {
            return None;
        }
        Some(both / (raw.sqrt() * shown.sqrt()))
    }
}

#[cfg(test)]
#[path = "comparison_tests.rs"]
mod tests;
