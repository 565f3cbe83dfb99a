//! By how much raw values come later than shown ones, found from how both move.
//!
//! Whatever a system makes of a position, it makes the same of it on the way out as on the way back. Where
//! the raw values come late the two ways disagree, and by shifting the one against the other until they
//! disagree least the lateness is found.

use std::collections::VecDeque;

/// Both are looked at this often, milliseconds.
const STEP_MS: f64 = 20.0;
/// So many looks are compared, the last ones: twelve seconds.
const MOST_LOOKS: usize = 600;
/// And at least so many: four seconds.
const LEAST_LOOKS: usize = 200;
/// Compared anew after so many looks: every three seconds.
const EVERY: usize = 150;
/// The latest that is looked for: two seconds.
const MOST_STEPS: usize = 100;
/// First looked for this coarsely, then finely about the best.
const COARSE: usize = 5;
/// Less is no more than how often both are looked at.
const LEAST_STEPS: usize = 2;
/// Raw positions as near as this are one place.
const PLACES: f64 = 64.0;
/// A look is on the way up or down by what lies so many looks before and after it.
const AROUND: usize = 4;
/// What moves faster than this between them passes each place between two looks, share of travel.
const FASTEST: f64 = 0.3;
/// So many looks each way must have been at the same places: half a second.
const LEAST_SHARED: f64 = 25.0;
/// Not shifted, the ways must disagree this many times as much, and by this much (mean of squares, in
/// squared shares of travel): less is how finely places are told apart.
const CLEARLY: f64 = 4.0;
const LEAST_DISAGREEMENT: f64 = 1e-4;

/// Raw and shown positions over the last seconds.
#[derive(Clone, Debug, Default)]
pub(super) struct Lateness {
    looks: VecDeque<(f64, f64)>,
    next_ms: Option<f64>,
    since: usize,
}

impl Lateness {
    /// Nobody looks for a while.
    pub(super) fn pause(&mut self) {
        self.looks.clear();
        self.next_ms = None;
        self.since = 0;
    }

    /// Between these two moments a raw and a shown value held. Milliseconds by which the raw ones come
    /// later, where that was compared just now: 0 for no more than a look or two, nothing where it
    /// cannot be said. Where they came later by `before_ms`, that they no longer do must show: who moves
    /// in small steps and keeps still between sees nothing of it.
    pub(super) fn hold(
        &mut self,
        from_ms: f64,
        to_ms: f64,
        (raw, shown): (f64, f64),
        before_ms: f64,
    ) -> Option<f64> {
        let mut next = self.next_ms.unwrap_or(from_ms);
        if to_ms - next > STEP_MS * MOST_LOOKS as f64 {
            self.pause();
            next = to_ms;
        }
        // Counted, as beyond some time two of these moments are the same number.
        let due = ((to_ms - next) / STEP_MS).floor() + 1.0;
        for _ in 0..due.max(0.0) as usize {
            self.looks.push_back((raw, shown));
            if self.looks.len() > MOST_LOOKS {
                self.looks.pop_front();
            }
            self.since += 1;
            next += STEP_MS;
        }
        self.next_ms = Some(next);
        if self.since < EVERY || self.looks.len() < LEAST_LOOKS {
            return None;
        }
        self.since = 0;
        self.latest(before_ms)
    }

    /// The shift at which the ways up and down disagree least.
    fn latest(&self, before_ms: f64) -> Option<f64> {
        let raw = |at: usize| self.looks.get(at).map_or(0.0, |(raw, _)| raw.clamp(-1.0, 1.0));
        let looks: Vec<Look> = (0..self.looks.len())
            .map(|at| Look {
                place: ((raw(at) + 1.0) * PLACES) as usize,
                change: raw((at + AROUND).min(self.looks.len() - 1))
                    - raw(at.saturating_sub(AROUND)),
                shown: self.looks.get(at).map_or(0.0, |(_, shown)| shown.clamp(-1.0, 1.0)),
            })
            .collect();
        let most = MOST_STEPS.min(looks.len() / 2);
        let best = |steps: &mut dyn Iterator<Item = usize>| {
            steps
                .filter_map(|step| Some((step, disagreement(&looks, step)?)))
                .min_by(|one, other| one.1.total_cmp(&other.1).then(one.0.cmp(&other.0)))
        };
        let (near, _) = best(&mut (0..=most).step_by(COARSE))?;
        let (step, least) = best(&mut (near.saturating_sub(COARSE)..=(near + COARSE).min(most)))?;
        let unshifted = disagreement(&looks, 0)?;
        let clearly = |more: f64, less: f64| more > LEAST_DISAGREEMENT.max(CLEARLY * less);
        if step >= LEAST_STEPS && clearly(unshifted, least) {
            return Some(step as f64 * STEP_MS);
        }
        let before = (before_ms / STEP_MS).round() as usize;
        let shows = before < LEAST_STEPS || clearly(disagreement(&looks, before)?, unshifted);
        (step < LEAST_STEPS && shows).then_some(0.0)
    }
}

/// One look.
struct Look {
    /// The raw place, from the least up.
    place: usize,
    /// How much the raw position rises about it.
    change: f64,
    shown: f64,
}

/// By how much what was shown so many looks before differs between the way up and the way down through
/// the same raw places: the mean of squares. `None` where hardly any place was passed both ways.
fn disagreement(looks: &[Look], step: usize) -> Option<f64> {
    // Of the way down and of the way up: how many looks, and the sum of what was shown.
    let mut places = vec![[(0.0, 0.0); 2]; 2 * PLACES as usize + 1];
    for (raw, shown) in looks.iter().skip(step).zip(looks) {
        if raw.change != 0.0
            && raw.change.abs() <= FASTEST
            && let Some(place) = places.get_mut(raw.place)
        {
            let (count, sum) = &mut place[usize::from(raw.change > 0.0)];
            *count += 1.0;
            *sum += shown.shown;
        }
    }
    let (mut all, mut squares) = (0.0, 0.0);
    for [(down, down_sum), (up, up_sum)] in places {
        let shared = f64::min(down, up);
        if shared > 0.0 {
            let apart = down_sum / down - up_sum / up;
            all += shared;
            squares += shared * apart * apart;
        }
    }
    (all >= LEAST_SHARED).then(|| squares / all)
}
