//! What was shown at each place of one side of the travel, and the edges found in it.

use super::{Hidden, LEAST_HIDDEN, Lack, NEAREST_SHARE, SEEN_BEYOND};

/// Places to each side.
const PLACES: usize = 256;
/// A place counts from this time on, milliseconds: one reading of the browser (observed, Chromium
/// 156 on Linux).
const LEAST_MS: f64 = 4.0;
/// A place is of one mind when the same was shown for this share of its time: a system may hold
/// back small changes, so that the edge lies elsewhere on the way out than on the way in.
const SURE: f64 = 0.9;
/// Values nearer than this are one value: the rounding of arithmetic.
pub(super) const SAME: f64 = 1e-7;

/// The places of one side, from the middle outward.
#[derive(Clone, Debug)]
pub(super) struct Side {
    places: Vec<Place>,
}

/// What was shown at one place, milliseconds.
#[derive(Clone, Copy, Debug)]
struct Place {
    all_ms: f64,
    zero_ms: f64,
    full_ms: f64,
    /// What was shown, times how long.
    shown_ms: f64,
    /// The least and greatest share seen.
    least: f64,
    most: f64,
    /// Half of the widest steady moment.
    half: f64,
}

impl Default for Side {
    fn default() -> Self {
        let place = Place {
            all_ms: 0.0,
            zero_ms: 0.0,
            full_ms: 0.0,
            shown_ms: 0.0,
            least: f64::INFINITY,
            most: 0.0,
            half: 0.0,
        };
        Self { places: vec![place; PLACES] }
    }
}

/// Where places change, shares of travel.
#[derive(Clone, Copy)]
struct Edge {
    /// The last place that is inner; 0 where none is.
    inner: f64,
    /// The first that is outer, if any is.
    outer: Option<f64>,
    /// The edge lies between these: all places that are of two minds, with the steady moments there.
    least: f64,
    most: f64,
    /// The outermost place seen.
    swept: f64,
}

impl Side {
    pub(super) fn note(&mut self, share: f64, half: f64, shown: f64, long_ms: f64) {
        let place = ((share * PLACES as f64) as usize).min(PLACES - 1);
        let Some(place) = self.places.get_mut(place) else { return };
        place.all_ms += long_ms;
        place.shown_ms += shown * long_ms;
        if shown == 0.0 {
            place.zero_ms += long_ms;
        }
        if shown.abs() > 1.0 - SAME {
            place.full_ms += long_ms;
        }
        place.least = place.least.min(share);
        place.most = place.most.max(share);
        place.half = place.half.max(half);
    }

    /// Where the places change from mostly inner to mostly outer, by the fewest that disagree;
    /// `None` where nothing was seen.
    fn edge(&self, inner_share: impl Fn(&Place) -> f64) -> Option<Edge> {
        let seen: Vec<&Place> = self.places.iter().filter(|p| p.all_ms >= LEAST_MS).collect();
        let swept = seen.last()?.most;
        // All outer; then one place after the other becomes inner.
        let mut wrong: f64 = seen.iter().map(|place| inner_share(place)).sum();
        let (mut best, mut fewest) = (0_usize, wrong);
        for (count, place) in (1..).zip(&seen) {
            wrong += 1.0 - 2.0 * inner_share(place);
            if wrong < fewest - 1e-9 {
                (best, fewest) = (count, wrong);
            }
        }
        let (inside, outside) = seen.split_at_checked(best)?;
        let sure_inside = |place: &&&Place| inner_share(place) >= SURE;
        let sure_outside = |place: &&&Place| inner_share(place) <= 1.0 - SURE;
        let least = inside.iter().rev().find(sure_inside);
        let most = outside.iter().find(sure_outside).or(outside.last());
        Some(Edge {
            inner: inside.last().map_or(0.0, |place| place.most),
            outer: outside.first().map(|place| place.least),
            least: least.map_or(0.0, |place| (place.least - place.half).max(0.0)),
            most: most.map_or(swept, |place| place.most + place.half),
            swept,
        })
    }

    /// The middle of each place that was seen, from 0 up, and the mean of what was shown there.
    pub(super) fn course(&self) -> impl DoubleEndedIterator<Item = (f64, f64)> {
        let seen = self.places.iter().filter(|place| place.all_ms >= LEAST_MS);
        seen.map(|place| ((place.least + place.most) / 2.0, place.shown_ms / place.all_ms))
    }

    pub(super) fn middle(&self) -> Result<Hidden, Lack> {
        let edge = self.edge(|place| place.zero_ms / place.all_ms).ok_or(Lack::NothingSteady)?;
        let swept = edge.swept;
        let Some(outer) = edge.outer else {
            return Err(Lack::NotFarEnough { swept, needed: (swept + SEEN_BEYOND).min(1.0) });
        };
        let share = edge.near(outer)?;
        let needed = (outer + SEEN_BEYOND).min(1.0 - LEAST_HIDDEN);
        if swept < needed {
            return Err(Lack::NotFarEnough { swept, needed });
        }
        Ok(hidden(share, edge.least, edge.most))
    }

    pub(super) fn end(&self) -> Result<Hidden, Lack> {
        let edge = self.edge(|place| 1.0 - place.full_ms / place.all_ms);
        let edge = edge.ok_or(Lack::NothingSteady)?;
        let from_end = |share: f64| (1.0 - share).max(0.0);
        let Some(outer) = edge.outer else {
            let (swept, needed) = (edge.swept, 1.0 - LEAST_HIDDEN);
            return if swept >= needed {
                Ok(Hidden::None { most: from_end(swept) })
            } else {
                Err(Lack::NotFarEnough { swept, needed })
            };
        };
        let share = edge.near(outer)?;
        Ok(hidden(from_end(share), from_end(edge.most), from_end(edge.least)))
    }
}

impl Edge {
    /// Half-way between the places on both sides, where they are near enough.
    fn near(self, outer: f64) -> Result<f64, Lack> {
        if outer - self.inner > NEAREST_SHARE {
            return Err(Lack::PassedTooFast { from: self.inner, to: outer });
        }
        Ok((self.inner + outer) / 2.0)
    }
}

fn hidden(share: f64, least: f64, most: f64) -> Hidden {
    if share <= LEAST_HIDDEN { Hidden::None { most } } else { Hidden::Band { share, least, most } }
}
