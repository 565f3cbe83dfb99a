//! How much wider than their formulas say the intervals have to be.
//!
//! A formula knows what varies from one repetition to the next. It does not know of a posture that
//! moves on after the rest, of a person who tires, of an overshoot that passes for the end of a
//! push. So each kind of interval was laid over the truth of the simulated people of the tuning
//! set, and each of its sides is as many times longer here as leaves about 2.5 % of the truths
//! beyond it (split conformal prediction: Vovk, Gammerman and Shafer, *Algorithmic Learning in a
//! Random World* (2005), from memory). Whether that holds is measured on the reporting set, which
//! had no part in it: `cargo xtask accuracy`. Kinds that need nothing are not listed.

use super::{DirectionReach, Measures};
use crate::estimate::{Estimate, Measured};

/// How many times longer each side of an interval is.
#[derive(Clone, Copy)]
struct Widening {
    low: f64,
    high: f64,
    /// What the figure cannot fall below.
    least: f64,
}

impl Widening {
    /// Of a figure that cannot be negative.
    const fn size(low: f64, high: f64) -> Self {
        Self { low, high, least: 0.0 }
    }

    /// Of a figure that has a sign.
    const fn signed(low: f64, high: f64) -> Self {
        Self { low, high, least: f64::MIN }
    }

    fn widen(self, measured: &mut Measured) {
        if let Ok(one) = measured {
            let low = one.value - self.low * (one.value - one.low);
            let high = one.value + self.high * (one.high - one.value);
            // A value below the least cannot be: it is that of the figure.
            let low = low.max(self.least.min(one.low));
            if let Some(wider) = Estimate::new(one.value, low, high, one.basis) {
                *one = wider;
            }
        }
    }
}

const REACH: Widening = Widening::size(1.3, 1.0);
const TURN: Widening = Widening::signed(1.15, 1.15);
const STRETCH: Widening = Widening::size(2.5, 1.15);
const CROSS_TALK: Widening = Widening::signed(1.45, 1.65);
const HOLD_DEVIATION: Widening = Widening::size(1.0, 1.4);
const RETURN_SECONDS: Widening = Widening::size(1.4, 1.6);
const RETURN_MOVING: Widening = Widening::size(1.8, 1.0);
const RETURN_SHORT: Widening = Widening::signed(2.0, 2.4);
const OFFSET: Widening = Widening::size(1.15, 1.65);
const WANDER: Widening = Widening::size(1.35, 1.8);
const RHYTHM_HERTZ: Widening = Widening::size(1.25, 1.2);
const RHYTHM_AMPLITUDE: Widening = Widening::size(1.4, 2.0);
const SUSTAINED_DRIFT: Widening = Widening::signed(1.3, 1.35);
const PRESS_GAP: Widening = Widening::size(1.35, 1.1);

/// Widens every interval that needs it. What was worked out with the formulas' own intervals stays
/// as it is.
pub(super) fn calibrate(measures: &mut Measures) {
    let widen_reach = |reach: &mut [DirectionReach]| {
        reach.iter_mut().for_each(|one| REACH.widen(&mut one.reach));
    };
    widen_reach(&mut measures.reach);
    for cued in &mut measures.cued {
        widen_reach(&mut cued.reach);
    }
    if let Ok(map) = &mut measures.map {
        TURN.widen(&mut map.turn);
        STRETCH.widen(&mut map.stretch);
        CROSS_TALK.widen(&mut map.cross_talk);
    }
    for level in &mut measures.hold {
        HOLD_DEVIATION.widen(&mut level.deviation);
    }
    for one in &mut measures.returns {
        RETURN_SECONDS.widen(&mut one.seconds);
        RETURN_MOVING.widen(&mut one.moving_seconds);
        RETURN_SHORT.widen(&mut one.rests_short);
    }
    let busy = measures.busy_rest.iter_mut().filter_map(|busy| busy.rest.as_mut().ok());
    for rest in measures.rest.iter_mut().chain(busy) {
        OFFSET.widen(&mut rest.offset);
        WANDER.widen(&mut rest.wander);
    }
    if let Ok(rhythm) = &mut measures.rhythm {
        RHYTHM_HERTZ.widen(&mut rhythm.hertz);
        RHYTHM_AMPLITUDE.widen(&mut rhythm.amplitude);
    }
    for one in &mut measures.sustained {
        SUSTAINED_DRIFT.widen(&mut one.drift_per_minute);
    }
    for one in &mut measures.presses {
        PRESS_GAP.widen(&mut one.gap_seconds);
    }
}
