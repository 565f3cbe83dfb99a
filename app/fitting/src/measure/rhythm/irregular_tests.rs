//! Irregular movement is no rhythm, however much of it there is.

use super::tests::holds;
use super::*;
use crate::measure::test_records::{Chance, recording};
use crate::{StickAxes, Trace};
use std::f64::consts::PI;

const SEEDS: u64 = 40;

/// The course of one pull from 0 on, 1 at its greatest, and how long it lasts, seconds.
#[derive(Clone, Copy, Debug)]
enum Pull {
    /// Up and down again, as long as it happens to be.
    Bump,
    /// Up at once, and slowly back.
    Tug,
    /// Up, kept, and let go.
    Step,
}

impl Pull {
    fn at(self, since: f64, seconds: f64) -> f64 {
        let inside = (0.0..seconds).contains(&since);
        match self {
            Self::Bump if inside => {
                let sin = libm::sin(PI * since / seconds);
                sin * sin
            }
            Self::Tug if since >= 0.0 => {
                (since / 0.06).min(1.0) * libm::exp(-(since - 0.06).max(0.0) / (0.5 * seconds))
            }
            Self::Step if inside => (since / 0.06).min((seconds - since) / 0.06).min(1.0),
            _ => 0.0,
        }
    }
}

/// Twelve holds of 4 s with pulls to one side at moments of chance: each so many seconds after the
/// one before on average, of many sizes and lengths, over a little wander.
fn pulled(seed: u64, pull: Pull, every: f64, even: bool) -> Vec<OneHold> {
    let mut chance = Chance(seed);
    let along = chance.between(0.0, 360.0);
    let usual = chance.between(0.25, 0.6);
    (0..12)
        .map(|index| {
            let mut pulls: Vec<(f64, f64, f64)> = Vec::new();
            let mut at = -2.0;
            while at < 4.0 {
                // At any moment, or as a person does who never pulls twice at once.
                at += if even {
                    every * chance.between(0.3, 1.7)
                } else {
                    -every * libm::log(chance.between(0.0, 1.0))
                };
                let size = 0.04 * libm::exp(0.5 * chance.normal());
                pulls.push((at, size, usual * libm::exp(0.2 * chance.normal())));
            }
            let mut wander = Position::ORIGIN;
            let places: Vec<Position> = (0..480)
                .map(|i| {
                    let now = f64::from(i) / 120.0;
                    let fresh = Position::new(chance.normal(), chance.normal());
                    wander = wander * 0.98 + fresh * 0.0006;
                    let size: f64 =
                        pulls.iter().map(|(at, size, long)| size * pull.at(now - at, *long)).sum();
                    Position::new(0.0, 0.4) + wander + Position::polar(size, along)
                })
                .collect();
            let seen = recording(10.0 * f64::from(index), 4.0, 120.0, false, |since| {
                places[((since * 120.0).round() as usize).min(479)]
            });
            OneHold { direction: None, level: 0.5, path: Trace::of(&seen, StickAxes::default()) }
        })
        .collect()
}

#[test]
fn pulls_to_one_side_at_any_moment_are_no_rhythm() {
    let mut all = 0;
    for pull in [Pull::Bump, Pull::Tug, Pull::Step] {
        for (every, even) in [(0.5, false), (1.0, false), (2.0, false), (0.7, true), (1.2, true)] {
            let found = (0..SEEDS)
                .filter(|seed| {
                    let holds = pulled(700 + seed, pull, every, even);
                    rhythm(&holds).unwrap().movement.found
                })
                .count();
            all += found;
            // One in twenty of 40 is 2; two standard errors more are 5.
            assert!(found <= 5, "{pull:?} every {every} s: {found} of {SEEDS}");
        }
    }
    assert!(all as u64 * 20 <= 15 * SEEDS, "{all} of {}", 15 * SEEDS);
}

/// Rhythms a little smaller than the wander that they lie on are found as often as they ever were.
#[test]
fn true_rhythms_are_still_found() {
    for (amplitude, least) in [(0.010, 39), (0.03, 40)] {
        for hertz in [2.3, 4.0, 6.0, 9.0, 12.0] {
            let found = (0..SEEDS)
                .filter(|seed| {
                    let holds = holds(3000 + seed, 12, 120.0, 0.0, Some((hertz, amplitude)));
                    rhythm(&holds).unwrap().movement.found
                })
                .count();
            assert!(found >= least, "{amplitude} at {hertz} Hz: {found} of {SEEDS}");
        }
    }
}
