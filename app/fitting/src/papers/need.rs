//! What limits the person, and what a stick therefore has to be able to do. Nothing stands here
//! that was not measured.

use super::{FIRM_WIDTH, sureness_of};
use crate::Direction;
use crate::estimate::{Estimate, Sureness};
use crate::suggest::FullThrowSource;
use crate::suggest::direction::is_one_way;
use crate::summary::{
    Answer, Figure, Grid, ReachFigures, RestFigures, SummaryBody, SustainedFigures,
};
use crate::task::Meanwhile;

/// From this reach on nothing about a throw has to be asked for, share of travel.
pub const AMPLE_REACH: f64 = 0.9;

/// What limits the person, as it was measured.
#[derive(Clone, Debug, PartialEq)]
pub enum Limit {
    /// How far pushes go in comfort, by direction: the shortest and the farthest, shares of travel.
    Reach {
        /// The shortest.
        shortest: (Direction, Estimate),
        /// The farthest, where it is another direction.
        farthest: Option<(Direction, Estimate)>,
        /// How much weight the shortest can bear.
        sureness: Sureness,
    },
    /// How far the stick wanders at rest: inside this 95 % of the time, share of travel.
    Wander {
        /// The distance.
        inside: Estimate,
        /// How much weight it can bear.
        sureness: Sureness,
    },
    /// Sudden movements while resting.
    Sudden {
        /// How many were seen.
        count: u32,
        /// Their rate a minute.
        per_minute: Estimate,
    },
    /// Movement while the person does something beside resting: inside this 95 % of the time, share
    /// of travel.
    Busy {
        /// What the person did.
        meanwhile: Meanwhile,
        /// The distance.
        inside: Estimate,
    },
    /// A rhythm while holding, hertz.
    Rhythm {
        /// Its frequency.
        hertz: Estimate,
    },
    /// What was kept up, share of travel, where it was more than an easy effort or shorter than
    /// asked to say so.
    KeptUp {
        /// Which direction.
        asked: Direction,
        /// The distance that was kept.
        kept: Estimate,
        /// For how long, seconds.
        seconds: f64,
        /// How hard it was, 0 to 10.
        effort: u8,
        /// How much weight it can bear.
        sureness: Sureness,
    },
    /// The length of a press, seconds, of the button with the longest.
    Press {
        /// Which button.
        button: u32,
        /// The length.
        length: Estimate,
    },
}

/// What a stick has to be able to do, and how sure that is.
#[derive(Clone, Debug, PartialEq)]
pub struct Need {
    /// What.
    pub feature: Feature,
    /// How much weight it can bear.
    pub sureness: Sureness,
}

/// What a stick, its mount or its software has to be able to do, with the finding behind it.
#[derive(Clone, Debug, PartialEq)]
pub enum Feature {
    /// All the way at a short push.
    FullThrow {
        /// The push that counts as all the way, share of travel.
        at: Estimate,
        /// The direction that decided, with its comfortable reach, share of travel, where that is
        /// known.
        because: (Direction, Option<Estimate>),
    },
    /// A dead zone of at least this size.
    DeadZone {
        /// The radius, share of travel.
        radius: Estimate,
        /// At most so many false movements a minute were wished for.
        per_minute: f64,
    },
    /// A sensitivity that can be set.
    Sensitivity {
        /// As one number.
        exponent: f64,
        /// How unsteadiness grows with the push, share of travel per travel.
        growth: Estimate,
    },
    /// A mount, or software, that can be turned.
    Turn {
        /// By so many degrees pushes come out turned, from right towards up.
        degrees: Estimate,
    },
    /// Axes that can be swapped or turned round.
    Axes {
        /// They come out swapped.
        swapped: bool,
        /// Right comes out as left.
        right_inverted: bool,
        /// Up comes out as down.
        up_inverted: bool,
    },
    /// Smoothing that can be set.
    Smoothing {
        /// What it leaves of the unsteadiness, share.
        left: Estimate,
        /// The lag it adds, seconds.
        lag_seconds: f64,
    },
    /// A shortest press that can be set, seconds.
    ShortestPress {
        /// Which button.
        button: u32,
        /// The shortest press that counts.
        shortest: Estimate,
    },
    /// Directions that can be used as switches.
    Switches {
        /// On beyond this share of travel.
        on: f64,
        /// Off again below this.
        off: f64,
        /// The weakest direction and its smallest push, share of travel.
        weakest: (Direction, f64),
    },
}

/// What nothing can be claimed about, for it was not measured or not enough.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Unmeasured {
    /// Movement at rest.
    Rest,
    /// How far pushes go.
    Reach,
    /// How steady holds are.
    Hold,
    /// What can be kept up.
    LongerHold,
    /// Presses.
    Presses,
}

impl Unmeasured {
    /// All of them.
    pub const ALL: [Self; 5] =
        [Self::Rest, Self::Reach, Self::Hold, Self::LongerHold, Self::Presses];
}

fn known<T>(answer: &Answer<T>) -> Option<&T> {
    answer.result().ok()
}

fn estimate<G: Grid>(figure: &Figure<G>) -> Option<Estimate> {
    figure.measured().ok()
}

fn rest(summary: &SummaryBody) -> Option<&RestFigures> {
    known(&summary.rest)
}

/// Comfortable reach where it is known, from the shortest up.
fn reached(summary: &SummaryBody) -> Vec<(Direction, Estimate)> {
    let of = |reach: &ReachFigures| Some((reach.asked, estimate(&reach.reach)?));
    let mut reached: Vec<(Direction, Estimate)> = summary.reach.iter().filter_map(of).collect();
    crate::statistics::order::sort_few(&mut reached, |one, other| one.1.value < other.1.value);
    reached
}

/// What limits the person, as far as it was measured.
#[must_use]
pub fn limits(summary: &SummaryBody) -> Vec<Limit> {
    let mut limits = Vec::new();
    let reached = reached(summary);
    if let [shortest, others @ ..] = reached.as_slice() {
        let sureness = sureness_of(&shortest.1);
        let farthest = others.last().copied();
        limits.push(Limit::Reach { shortest: *shortest, farthest, sureness });
    }
    if let Some(rest) = rest(summary) {
        if let Some(inside) = estimate(&rest.wander) {
            limits.push(Limit::Wander { inside, sureness: rest_sureness(summary, &inside) });
        }
        if let Some(per_minute) = estimate(&rest.sudden_per_minute).filter(|_| rest.sudden > 0) {
            limits.push(Limit::Sudden { count: rest.sudden, per_minute });
        }
    }
    // The busiest of the busy rests.
    let busy = summary
        .busy_rest
        .iter()
        .filter_map(|busy| Some((busy.meanwhile, estimate(&known(&busy.rest)?.wander)?)));
    if let Some((meanwhile, inside)) =
        busy.max_by(|one, other| one.1.value.total_cmp(&other.1.value))
    {
        limits.push(Limit::Busy { meanwhile, inside });
    }
    let rhythm = known(&summary.rhythm).filter(|rhythm| rhythm.found);
    if let Some(hertz) = rhythm.and_then(|rhythm| estimate(&rhythm.frequency)) {
        limits.push(Limit::Rhythm { hertz });
    }
    let shortest_kept = summary.sustained.iter().filter_map(|hold| kept_up(summary, hold));
    limits.extend(shortest_kept.min_by(|one, other| one.0.total_cmp(&other.0)).map(|one| one.1));
    let longest =
        summary.buttons.iter().filter_map(|one| Some((one.button, estimate(&one.length)?)));
    if let Some((button, length)) =
        longest.max_by(|one, other| one.1.value.total_cmp(&other.1.value))
    {
        limits.push(Limit::Press { button, length });
    }
    limits
}

/// What was kept up in one direction, with the distance by which the directions are compared.
fn kept_up(summary: &SummaryBody, hold: &SustainedFigures) -> Option<(f64, Limit)> {
    let kept = estimate(&hold.kept)?;
    let effort = hold.effort?;
    // As sure as the full throw that comes of it: what was possible once may not be again. The hold of
    // which none comes bears no weight by itself.
    let of_it = known(&summary.full_throw).filter(|advice| {
        advice.source == FullThrowSource::Sustained && advice.decided_by == hold.asked
    });
    let sureness = of_it.map_or(Sureness::Rough, |advice| {
        kept.sureness(advice.sureness == Sureness::Firm && kept.width() <= FIRM_WIDTH)
    });
    let seconds = hold.seconds.get();
    Some((kept.value, Limit::KeptUp { asked: hold.asked, kept, seconds, effort, sureness }))
}

/// How much weight what the rest says can bear: that of the dead zone that comes of it.
fn rest_sureness(summary: &SummaryBody, inside: &Estimate) -> Sureness {
    let advice = known(&summary.dead_zone);
    inside.sureness(advice.is_some_and(|advice| advice.sureness == Sureness::Firm))
}

/// What a stick has to be able to do, matched to what was found.
#[must_use]
pub fn needs(summary: &SummaryBody) -> Vec<Need> {
    let mut needs = Vec::new();
    let mut need = |feature: Feature, sureness: Sureness| needs.push(Need { feature, sureness });
    if let Some(advice) = known(&summary.full_throw) {
        let reached = reached(summary);
        let because = reached.iter().find(|one| one.0 == advice.decided_by).map(|one| one.1);
        let at = advice.radius.estimate();
        if because.map_or(at.value, |reach| reach.value) < AMPLE_REACH {
            let because = (advice.decided_by, because);
            need(Feature::FullThrow { at, because }, advice.sureness);
        }
    }
    if let Some(advice) = known(&summary.dead_zone) {
        let radius = advice.radius.estimate();
        if radius.value > 0.0 {
            let per_minute = summary.wish_false_per_minute.get();
            need(Feature::DeadZone { radius, per_minute }, advice.sureness);
        }
    }
    if let Some(advice) = known(&summary.curve)
        && let Some(growth) = estimate(&advice.growth)
        && !advice.straight
    {
        let exponent = advice.exponent.get();
        need(Feature::Sensitivity { exponent, growth }, advice.sureness);
    }
    if let (Some(advice), Some(map)) = (known(&summary.direction), known(&summary.map)) {
        if let Some(degrees) = estimate(&map.turn).filter(|_| advice.turns) {
            need(Feature::Turn { degrees }, advice.sureness);
        }
        // Halfway to a quarter turn nothing tells swapped axes from a turn.
        let are_told = estimate(&map.turn).is_some_and(|turn| is_one_way(&turn, map.repeat_agrees));
        if are_told && (map.swapped || map.right_inverted || map.up_inverted) {
            let axes = Feature::Axes {
                swapped: map.swapped,
                right_inverted: map.right_inverted,
                up_inverted: map.up_inverted,
            };
            need(axes, advice.sureness);
        }
    }
    if let Some(advice) = known(&summary.smoothing)
        && let Some(left) = estimate(&advice.jitter_left)
        && advice.chosen != crate::summary::ChosenSmoothing::Off
    {
        let lag_seconds = advice.lag.get();
        need(Feature::Smoothing { left, lag_seconds }, advice.sureness);
    }
    // One number for all buttons: the longest that is needed.
    let shortest = summary.buttons.iter().filter_map(|button| {
        let shortest = estimate(&button.shortest_press).filter(|time| time.value > 0.0)?;
        Some((button, shortest))
    });
    if let Some((button, shortest)) =
        shortest.max_by(|one, other| one.1.value.total_cmp(&other.1.value))
    {
        need(Feature::ShortestPress { button: button.button, shortest }, button.sureness);
    }
    if let Some(advice) = known(&summary.switches) {
        let weakest = (advice.weakest, advice.weakest_reach.get());
        let (on, off) = (advice.on.get(), advice.off.get());
        need(Feature::Switches { on, off, weakest }, advice.sureness);
    }
    needs
}

/// What nothing can be claimed about.
#[must_use]
pub fn unmeasured(summary: &SummaryBody) -> Vec<Unmeasured> {
    let is_known = |what: Unmeasured| match what {
        Unmeasured::Rest => rest(summary).is_some_and(|rest| estimate(&rest.wander).is_some()),
        Unmeasured::Reach => !reached(summary).is_empty(),
        Unmeasured::Hold => summary.hold.iter().any(|hold| estimate(&hold.deviation).is_some()),
        Unmeasured::LongerHold => {
            summary.sustained.iter().any(|hold| estimate(&hold.kept).is_some())
        }
        Unmeasured::Presses => summary.buttons.iter().any(|one| estimate(&one.length).is_some()),
    };
    Unmeasured::ALL.into_iter().filter(|what| !is_known(*what)).collect()
}
