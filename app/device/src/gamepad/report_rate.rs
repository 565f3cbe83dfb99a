//! How many reports a device sends a second, from when they arrive.
//!
//! A busy page is handed several reports at once: from the time between two of them, 2500, 435 and
//! 200 a second were read off a stick that sends 125 (observed, Chromium 156 on Linux). So reports
//! are counted over a span of time, from the last of one burst to the last of another: by then all
//! that waited has arrived.

use std::collections::VecDeque;

/// The least time over which reports are counted, seconds.
const LEAST_SECONDS: f64 = 1.0;

/// A time without a report that is longer than this is a pause: most sticks send nothing while
/// they are still. Seconds.
const PAUSE_SECONDS: f64 = 0.25;

/// The rate is told where it is known to this share of itself to each side.
const WIDEST_SHARE: f64 = 0.1;

/// Reports remembered: some four seconds at 1000 a second.
const REMEMBERED: usize = 4096;

/// When the latest reports of one device arrived.
#[derive(Clone, Debug, Default)]
pub struct ReportRate {
    arrivals: VecDeque<f64>,
}

/// How many reports a device sends a second while it sends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReportsPerSecond {
    /// Reports counted, over the time in which they came.
    pub value: f64,
    /// The least it can be, were the first of them as early and the last as late as any on the way.
    pub low: f64,
    /// The most.
    pub high: f64,
    /// Over how long they were counted, seconds.
    pub seconds: f64,
}

/// Reports that were counted over some time.
#[derive(Clone, Copy, Debug)]
struct Counted {
    reports: f64,
    seconds: f64,
    /// By how much the ends of bursts lie off an even beat, from the earliest to the latest, seconds.
    uneven_seconds: f64,
}

impl ReportRate {
    /// Notes that a report arrived. One that seems to come before the last is passed over.
    pub fn note(&mut self, arrival_seconds: f64) {
        let late = self.arrivals.back().is_some_and(|last| arrival_seconds < *last);
        if !arrival_seconds.is_finite() || late {
            return;
        }
        if self.arrivals.len() == REMEMBERED {
            self.arrivals.pop_front();
        }
        self.arrivals.push_back(arrival_seconds);
    }

    /// The rate; nothing where no second of unbroken reports was seen, or they came too unevenly.
    ///
    /// Of several stretches the fastest counts, and those like it: where reports come only when a
    /// value changes, a slow movement sends fewer.
    #[must_use]
    pub fn per_second(&self) -> Option<ReportsPerSecond> {
        let arrivals: Vec<f64> = self.arrivals.iter().copied().collect();
        let counted: Vec<Counted> = arrivals
            .chunk_by(|before, after| after - before <= PAUSE_SECONDS)
            .flat_map(stretches)
            .filter(|one| one.uneven_seconds <= WIDEST_SHARE * one.seconds)
            .collect();
        let fastest = counted.iter().copied().max_by(|a, b| a.rate().total_cmp(&b.rate()))?;
        let alike = counted.into_iter().filter(|one| one.highest() >= fastest.lowest());
        let all = alike.reduce(|all, one| Counted {
            reports: all.reports + one.reports,
            seconds: all.seconds + one.seconds,
            uneven_seconds: all.uneven_seconds + one.uneven_seconds,
        })?;
        Some(ReportsPerSecond {
            value: all.rate(),
            low: all.lowest(),
            high: all.highest(),
            seconds: all.seconds,
        })
    }
}

impl Counted {
    fn rate(&self) -> f64 {
        self.reports / self.seconds
    }

    fn lowest(&self) -> f64 {
        self.reports / (self.seconds + self.uneven_seconds)
    }

    fn highest(&self) -> f64 {
        self.reports / (self.seconds - self.uneven_seconds)
    }
}

/// An unbroken run of reports in stretches of at least a second, one after the other.
fn stretches(run: &[f64]) -> Vec<Counted> {
    let (Some(first), Some(last)) = (run.first(), run.last()) else { return Vec::new() };
    // Within a burst, reports come far closer than they do on the whole.
    let apart = 0.5 * (last - first) / run.len() as f64;
    let ends: Vec<(f64, f64)> = (0..run.len().saturating_sub(1))
        .filter(|&place| run[place + 1] - run[place] >= apart)
        .map(|place| (place as f64, run[place]))
        .collect();
    let mut found = Vec::new();
    let mut from = 0;
    for to in 0..ends.len() {
        if ends[to].1 - ends[from].1 >= LEAST_SECONDS {
            found.push(counted(&ends[from..=to]));
            from = to;
        }
    }
    found
}

/// Between the first and the last of these ends of bursts: which report it was, and when.
fn counted(ends: &[(f64, f64)]) -> Counted {
    let (first, last) = (ends[0], ends[ends.len() - 1]);
    let (reports, seconds) = (last.0 - first.0, last.1 - first.1);
    let off = |end: &(f64, f64)| end.1 - first.1 - (end.0 - first.0) * seconds / reports;
    let (early, late) = ends
        .iter()
        .map(off)
        .fold((0.0_f64, 0.0_f64), |(early, late), off| (early.min(off), late.max(off)));
    Counted { reports, seconds, uneven_seconds: late - early }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Evenly spread numbers from a seed (`SplitMix64`; Steele, Lea and Flood 2014, from memory).
    struct Chance(u64);

    impl Chance {
        fn between(&mut self, low: f64, high: f64) -> f64 {
            self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
            let mut mixed = self.0;
            mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
            mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
            low + (high - low) * ((mixed ^ (mixed >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
        }
    }

    fn rate_of(arrivals: impl IntoIterator<Item = f64>) -> Option<ReportsPerSecond> {
        let mut rate = ReportRate::default();
        arrivals.into_iter().for_each(|at| rate.note(at));
        rate.per_second()
    }

    /// When reports sent so often a second arrive at a page that is free only now and then.
    fn in_bursts(per_second: f64, seconds: f64, seed: u64) -> Vec<f64> {
        let mut chance = Chance(seed);
        let mut free = 0.0;
        let mut handed = 0.0_f64;
        let mut arrivals = Vec::new();
        for report in 0..(per_second * seconds) as u32 {
            let sent = f64::from(report) / per_second;
            while free < sent {
                free += chance.between(0.02, 0.06);
            }
            // One after the other, a part of a millisecond apart.
            handed = free.max(handed + chance.between(0.0001, 0.0004));
            arrivals.push(handed);
        }
        arrivals
    }

    fn assert_holds(told: Option<ReportsPerSecond>, truth: f64) {
        let told = told.unwrap_or_else(|| panic!("{truth} a second is not told"));
        assert!(told.low <= truth && truth <= told.high, "{truth}: {told:?}");
        assert!((told.value / truth - 1.0).abs() < 0.02, "{truth}: {told:?}");
    }

    #[test]
    fn bursts_of_a_125_hz_stick_are_told_as_125() {
        // Observed, Chromium 156 on Linux: told as 2500, 435 and 200 a second.
        for seed in 0..200 {
            assert_holds(rate_of(in_bursts(125.0, 4.0, seed)), 125.0);
        }
    }

    #[test]
    fn even_arrivals_are_told_at_every_usual_rate() {
        for per_second in [10.0, 60.0, 100.0, 125.0, 250.0, 500.0, 1000.0] {
            let mut chance = Chance(per_second as u64);
            let even = (0..(3.0 * per_second) as u32).map(|report| f64::from(report) / per_second);
            assert_holds(rate_of(even.clone()), per_second);
            // Up to 0.3 to 2.6 ms late (observed, Chromium 156 on Linux), in order all the same.
            let mut before = 0.0_f64;
            let late = even.map(|sent| {
                before = before.max(sent + chance.between(0.0003, 0.0026));
                before
            });
            assert_holds(rate_of(late.collect::<Vec<_>>()), per_second);
        }
    }

    #[test]
    fn pauses_and_slow_movements_do_not_lower_it() {
        let mut arrivals = Vec::new();
        for part in 0..3_u32 {
            let begins = 3.0 * f64::from(part);
            arrivals.extend(in_bursts(125.0, 1.6, part.into()).iter().map(|at| begins + at));
            // A slow movement: every eighth report.
            arrivals.extend((0..15).map(|report| begins + 1.7 + 0.064 * f64::from(report)));
        }
        assert_holds(rate_of(arrivals), 125.0);
    }

    #[test]
    fn too_little_and_too_uneven_is_not_told() {
        assert_eq!(rate_of([]), None);
        assert_eq!(rate_of([1.0]), None);
        assert_eq!(rate_of((0..120).map(|report| f64::from(report) / 125.0)), None, "not a second");
        let mut chance = Chance(5);
        // Now and then, at no rate at all.
        let mut at = 0.0;
        let chaos = std::iter::repeat_with(|| {
            at += -0.04 * libm::log(chance.between(1e-6, 1.0));
            at
        });
        let told = rate_of(chaos.take(150));
        assert_eq!(told, None, "{told:?}");
    }

    proptest! {
        #[test]
        fn whatever_arrives_the_rate_lies_in_its_interval(
            between in prop::collection::vec(-0.01_f64..0.3, 0..600)
        ) {
            let mut at = 0.0;
            let arrivals = between.into_iter().map(|between| { at += between; at });
            if let Some(told) = rate_of(arrivals) {
                prop_assert!(told.low.is_finite() && told.high.is_finite());
                prop_assert!(0.0 < told.low && told.low <= told.value && told.value <= told.high);
                prop_assert!(told.seconds >= LEAST_SECONDS);
            }
        }
    }
}
