//! The suggested dead zone against an hour of the same person.

use fitting::estimate::Sureness;
use fitting::invented::{Model, Resting};
use fitting::measure::windows::settled_path;
use fitting::measure::{Measures, known, measure};
use fitting::statistics::weighted;
use fitting::suggest::{Suggestions, Wish, suggest};
use fitting::task::{TaskAsk, TaskKind, TaskRecord};
use fitting::{Pipeline, Position, Settings};

use super::figure::{Case, Figure};
use super::long_run::record_of;
use super::rest_truth::Hour;
use super::twin::MeanEnd;

/// More rest is asked for at most so many times, ...
const MOST_ASKS: usize = 6;
/// ... and at most up to this in all, the plan's own rest included, seconds.
pub const MOST_REST_SECONDS: f64 = 600.0;

/// One person's dead zone.
#[derive(Clone, Debug)]
pub struct DeadZoneCase {
    /// The person's target, false movements a minute.
    pub target: f64,
    /// Whether there are sudden movements as well.
    pub jerky: bool,
    /// The radius suggested after the rest asked for, with the rest of the settings before it; `None`
    /// when nothing was suggested.
    pub radius: Option<f64>,
    /// The radius suggested after the plan's own rest.
    pub first_radius: Option<f64>,
    /// Whether it was told firm in the end.
    pub firm: bool,
    /// Rest that was asked for in all, the plan's own included, seconds.
    pub asked_seconds: f64,
    /// The smallest radius that keeps the target over the hour, continual movement only.
    pub needed: f64,
    /// False movements a minute over the hour at the suggested radius, continual movement only.
    pub realised: f64,
    /// The distance inside which the recorded rest stays for 99 % of the time.
    pub rest_quantile: f64,
    /// Whether an observer's radius keeps the target; only where the posture drifts. The observer is
    /// told the place of rest and the smallest radius for the hour exactly, if only the posture stayed.
    pub observer_keeps: Option<bool>,
    /// True comfortable reach of each direction asked, as the dead zone sees it.
    pub reach: Vec<f64>,
}

impl DeadZoneCase {
    /// Whether `radius` keeps the person's target.
    #[must_use]
    pub fn keeps(&self, radius: f64) -> bool {
        radius >= self.needed
    }

    /// The mean share of reach that `radius` leaves, 0..=1.
    #[must_use]
    pub fn reach_kept(&self, radius: f64) -> f64 {
        let kept = self.reach.iter().map(|reach| (1.0 - radius / reach.max(1e-6)).max(0.0));
        kept.sum::<f64>() / self.reach.len().max(1) as f64
    }
}

/// A visit with all the rest that was asked for.
pub struct Rested {
    /// The records, the rests asked for last.
    pub records: Vec<TaskRecord>,
    /// What they measure.
    pub measures: Measures,
    /// What that suggests.
    pub suggestions: Suggestions,
    /// The radius after the plan's own rest.
    pub first_radius: Option<f64>,
    /// Rest that was asked for in all, seconds.
    pub asked_seconds: f64,
}

/// Lets the person rest more as long as the suggestion asks for it.
#[must_use]
pub fn rest_as_asked(model: &Model, seed: u64, mut records: Vec<TaskRecord>, wish: Wish) -> Rested {
    let mut measures = measure(&records);
    let mut suggestions = suggest(&records, &measures, wish);
    let radius = |suggestions: &Suggestions| {
        suggestions.dead_zone_with_all.as_ref().ok().map(|advice| advice.radius.value)
    };
    let first_radius = radius(&suggestions);
    let mut asked_seconds: f64 = records
        .iter()
        .map(|record| match &record.ask {
            TaskAsk::QuietRest { seconds } => *seconds,
            _ => 0.0,
        })
        .sum();
    for ask in 0..MOST_ASKS {
        let more =
            suggestions.dead_zone_with_all.as_ref().ok().and_then(|advice| advice.more_seconds);
        let Some(seconds) = more.map(|more| more.min(MOST_REST_SECONDS - asked_seconds)) else {
            break;
        };
        if seconds < 1.0 {
            break;
        }
        asked_seconds += seconds;
        let rest = TaskAsk::QuietRest { seconds };
        records.push(record_of(model, seed.wrapping_add(ask as u64), rest, known(&records)));
        measures = measure(&records);
        suggestions = suggest(&records, &measures, wish);
    }
    Rested { records, measures, suggestions, first_radius, asked_seconds }
}

/// The suggestion against the hour; cases of what was told on the way are added to `cases`.
#[must_use]
pub fn dead_zone_case(
    model: &Model,
    seed: u64,
    rested: &Rested,
    ends: &[MeanEnd],
    wish: Wish,
    continual: &Hour,
    cases: &mut Vec<Case>,
) -> DeadZoneCase {
    let Rested { records, measures, suggestions, .. } = rested;
    let target = wish.false_per_minute;
    // Whatever else is suggested comes before the dead zone, for the oracle and the conventions
    // as well: only the choice of the radius is judged.
    let pipeline = Pipeline::new(&suggestions.settings);
    let levels = continual.through(&pipeline);
    let needed = levels.smallest_radius(target);
    let advice = suggestions.dead_zone_with_all.as_ref().ok();
    let radius = advice.map(|advice| advice.radius.value);
    let realised = radius.map_or(0.0, |radius| levels.per_minute(radius));
    let told =
        suggestions.dead_zone_with_all.as_ref().map(|advice| advice.radius).map_err(|why| *why);
    cases.push(Case::one(Figure::DeadZoneNeeded, needed, told));
    let jerky = model.body.jerks.is_some();
    if let (true, Some(radius), Ok(rest)) = (jerky, radius, &measures.rest) {
        let both = Hour::played(model, seed, Resting::Quiet).through(&pipeline);
        let left = (both.per_minute(radius) - realised).max(0.0);
        cases.push(Case::one(Figure::LeftRate, left, rest.sudden.per_minute));
    }
    DeadZoneCase {
        target,
        jerky,
        radius,
        first_radius: rested.first_radius,
        firm: advice.is_some_and(|advice| advice.sureness == Sureness::Firm),
        asked_seconds: rested.asked_seconds,
        needed,
        realised,
        rest_quantile: recorded_quantile(records, &pipeline),
        observer_keeps: observer_keeps(model, seed, &suggestions.settings, target, continual),
        reach: ends.iter().map(|end| pipeline.push(model.true_rest() + end.end).radius()).collect(),
    }
}

fn observer_keeps(
    model: &Model,
    seed: u64,
    settings: &Settings,
    target: f64,
    continual: &Hour,
) -> Option<bool> {
    model.body.posture?;
    let mut stays = model.clone().without_jerks();
    stays.body.posture = None;
    let pipeline = Pipeline::new(&Settings { centre: model.true_rest(), ..settings.clone() });
    let needed = |hour: &Hour| hour.through(&pipeline).smallest_radius(target);
    Some(needed(&Hour::played(&stays, seed, Resting::Quiet)) >= needed(continual))
}

fn recorded_quantile(records: &[TaskRecord], pipeline: &Pipeline) -> f64 {
    let rest = pipeline.pushes_over(&settled_path(records, TaskKind::QuietRest));
    weighted::quantile(&rest.distances(Position::ORIGIN), 0.99).unwrap_or(0.0)
}
