//! What the papers that leave the room are made from: facts of the visit and the summary, each
//! only where it was measured or said. The sentences are the page's.
//!
//! - [`first_changes`]: what to change first if it goes wrong, in the numbers that are typed in.
//! - [`Limit`]: what limits the person, as far as it was measured.
//! - [`Need`]: what a stick has to be able to do, each matched to what was found.
//! - [`Unmeasured`]: what nothing can be claimed about.

mod first;
mod need;

#[cfg(test)]
mod sureness_tests;
#[cfg(test)]
mod tests;

pub use first::{FirstChange, TypedNumber, first_changes};
pub use need::{AMPLE_REACH, Feature, Limit, Need, Unmeasured, limits, needs, unmeasured};

use crate::estimate::{Estimate, Sureness};
use crate::plot::PlaceDrawing;
use crate::stick_kind::Mover;
use crate::suggest::layers::{LayerAdvice, for_path};
use crate::summary::{Answer, DeviceSeen, EffectFigures, Grid, Place, StickFigures, SummaryBody};
use crate::visit::{Condition, OwnGame, Path, SetUp, SiteTrial, Visit};

/// An interval at most this wide is firm, share of travel, where it rests on so many repetitions: common
/// practice, no source.
const FIRM_WIDTH: f64 = 0.1;
const FIRM_REPETITIONS: usize = 3;

/// The mark of a suggested text: texts with another mark differ.
#[must_use]
pub fn mark(text: &str) -> u32 {
    crate::summary::checksum::crc32(text.as_bytes())
}

/// How much weight a measured share can bear.
#[must_use]
pub fn sureness_of(share: &Estimate) -> Sureness {
    let is_enough = share.basis.repetitions >= FIRM_REPETITIONS;
    share.sureness(is_enough && share.width() <= FIRM_WIDTH)
}

/// Everything that papers are made from.
#[derive(Clone, Debug, PartialEq)]
pub struct Facts {
    /// Where the person and the stick are, once anybody said.
    pub place: Option<SetUp>,
    /// Whether there are numbers enough to draw it.
    pub place_is_drawn: bool,
    /// How the person says stop, once agreed.
    pub stop_signal: Option<String>,
    /// What needs care: answered with yes.
    pub cares: Vec<Condition>,
    /// What was answered with no. What was skipped stands in neither.
    pub cares_not: Vec<Condition>,
    /// What moves the stick.
    pub mover: Mover,
    /// What to change first if it goes wrong.
    pub first: Vec<FirstChange>,
    /// What limits the person.
    pub limits: Vec<Limit>,
    /// What a stick has to be able to do.
    pub needs: Vec<Need>,
    /// What nothing can be claimed about.
    pub unmeasured: Vec<Unmeasured>,
    /// The body parts that were looked at, those that were named.
    pub sites: Vec<SiteTrial>,
    /// How many set-ups were tried.
    pub set_ups: usize,
    /// The toppers that were tried, each once, in the order in which they were used.
    pub toppers: Vec<String>,
    /// How settings alone changed what happens at rest, where both are known.
    pub by_settings: Option<BySettings>,
    /// How it went in the person's own game.
    pub own_game: Option<OwnGame>,
    /// The stick, as the browser shows it; its name may be empty.
    pub device: DeviceSeen,
    /// The code of the invented person who played, or `practice`; `None` for a real stick.
    pub practised: Option<String>,
    /// What lies between the stick and the game.
    pub path: Path,
    /// What is to be typed in, and what there is to say about it.
    pub typed: LayerAdvice,
    /// What was seen of the stick itself.
    pub stick: StickFigures,
    /// Where it came to rest.
    pub rests_at: Option<Place>,
}

/// What settings alone do to the movement of the output at rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BySettings {
    /// The stick as it is.
    pub before: AtRest,
    /// With the settings chosen.
    pub after: AtRest,
}

/// How the output moves at rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AtRest {
    /// Share of the rest in which the output is not still, 0..=1.
    pub moving_share: f64,
    /// False movements a minute, counted or expected, where that is known.
    pub per_minute: Option<f64>,
}

impl AtRest {
    fn of(effect: &EffectFigures) -> Option<Self> {
        let counted = effect.false_per_minute.measured().ok().map(|rate| rate.value);
        let per_minute = effect.expected.map(Grid::get).or(counted);
        Some(Self { moving_share: effect.moving_share?.get(), per_minute })
    }
}

impl Facts {
    /// What a visit and the summary of its fitting come to. `mover` is told apart: a summary
    /// leaves it out.
    #[must_use]
    pub fn of(visit: &Visit, summary: &SummaryBody, mover: Mover) -> Self {
        let visit = visit.tidied();
        let said = |text: &str| (!text.is_empty()).then(|| text.to_owned());
        let at_rest = (AtRest::of(&summary.before), AtRest::of(&summary.after));
        let mut toppers: Vec<String> = Vec::new();
        for set_up in &visit.set_ups {
            if !set_up.topper.is_empty() && !toppers.contains(&set_up.topper) {
                toppers.push(set_up.topper.clone());
            }
        }
        let place = visit.set_up().filter(|set_up| **set_up != SetUp::default()).cloned();
        // Of any size: whether it can be drawn does not depend on it.
        let is_drawn = |place: &SetUp| PlaceDrawing::of(place, 100.0, 100.0).is_some();
        Self {
            place_is_drawn: place.as_ref().is_some_and(is_drawn),
            place,
            stop_signal: said(&visit.safety.stop.how),
            cares: visit.safety.holds.iter().copied().collect(),
            cares_not: visit.safety.holds_not.iter().copied().collect(),
            mover,
            first: first_changes(
                &summary.chosen.settings(),
                summary.dead_zone_to_type_in().is_ok(),
                &visit.path,
            ),
            limits: limits(summary),
            needs: needs(summary),
            unmeasured: unmeasured(summary),
            sites: visit.sites.iter().filter(|site| !site.body_part.is_empty()).cloned().collect(),
            set_ups: visit.set_ups.len(),
            toppers,
            by_settings: match at_rest {
                (Some(before), Some(after)) => Some(BySettings { before, after }),
                _ => None,
            },
            own_game: visit.own_game.clone(),
            device: summary.device.clone(),
            practised: summary.practised.clone(),
            typed: for_path(&summary.chosen.settings(), &visit.path),
            path: visit.path.clone(),
            stick: summary.stick.clone(),
            rests_at: match &summary.rest {
                Answer::Known(rest) => Some(rest.centre),
                Answer::NotEnough(_) => None,
            },
        }
    }
}
