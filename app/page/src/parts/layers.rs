//! What is drawn in a field of movement, made ready once, not at every frame.

use super::field::SCALE;
use super::sign::Sign;
use crate::state::Decided;
use crate::words::number;
use fitting::measure::{DirectionReach, Measures};
use fitting::plot::{farthest, outline, push_traces, svg_path};
use fitting::task::{Target, TaskRecord};
use fitting::{Direction, Position, Settings};
use leptos::prelude::*;

/// The ring of a hold, and how much of the hold is done.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ring {
    /// Middle.
    pub at: Position,
    /// Radius, share of travel.
    pub radius: f64,
    /// Share of the hold that is done, 0..=1.
    pub share: f64,
}

/// Everything in the field but what moves.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Layers {
    /// SVG path of the outline of reach.
    pub outline: String,
    /// SVG path of its uncertainty: outer and inner edge.
    pub band: String,
    /// SVG path of the real traces.
    pub traces: String,
    /// The visit's centre.
    pub centre: Position,
    /// Radius of the dead zone, share of travel.
    pub dead_zone: Option<f64>,
    /// Full throw, share of travel.
    pub full_throw: Option<f64>,
    /// Words beside the directions.
    pub labels: Vec<(Direction, String)>,
    /// The ring of a hold.
    pub ring: Option<Ring>,
    /// What shows which way to go.
    pub sign: Option<Sign>,
}

/// One direction's reach as the field draws it: from where the person's pushes ended.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spoke {
    /// What was asked.
    pub asked: Direction,
    /// The angle performed, degrees from right towards up.
    pub degrees: f64,
    /// Reach with its interval, share of travel.
    pub reach: f64,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

impl Spoke {
    /// The spoke of a measured direction; one without an interval has none drawn.
    pub fn of(reach: &DirectionReach) -> Option<Self> {
        let end = reach.end?;
        let (value, low, high) = reach.reach.as_ref().map_or_else(
            |_| (end.radius(), end.radius(), end.radius()),
            |estimate| (estimate.value, estimate.low, estimate.high),
        );
        Some(Self { asked: reach.asked, degrees: end.degrees(), reach: value, low, high })
    }
}

impl Layers {
    /// An empty field with the four directions named.
    pub fn empty() -> Self {
        let labels = Direction::FOUR
            .into_iter()
            .map(|direction| (direction, number::direction(direction).to_owned()))
            .collect();
        Self { labels, ..Self::default() }
    }

    /// The field of these measures.
    pub fn of(measures: &Measures, records: &[TaskRecord]) -> Self {
        let centre = measures.rest.as_ref().map_or(Position::ORIGIN, |rest| rest.centre);
        let spokes: Vec<Spoke> = measures.reach.iter().filter_map(Spoke::of).collect();
        let mut layers = Self::of_spokes(centre, &spokes);
        let joined: Vec<String> = push_traces(records)
            .iter()
            .map(|trace| svg_path(&shifted(trace, centre), SCALE, false))
            .collect();
        layers.traces = joined.concat();
        layers
    }

    /// The field of these spokes about `centre`.
    pub fn of_spokes(centre: Position, spokes: &[Spoke]) -> Self {
        let mut layers = Self { centre, ..Self::empty() };
        let points = |pick: fn(&Spoke) -> f64| -> Vec<(f64, f64)> {
            spokes.iter().map(|spoke| (spoke.degrees, pick(spoke))).collect()
        };
        let farthest = farthest(centre, &points(|spoke| spoke.reach));
        let through = |pick: fn(&Spoke) -> f64| {
            let drawn = outline(centre, farthest, &points(pick));
            drawn.map(|drawn| svg_path(&drawn, SCALE, true))
        };
        if let Some(path) = through(|spoke| spoke.reach) {
            layers.outline = path;
        }
        if let (Some(outer), Some(inner)) =
            (through(|spoke| spoke.high), through(|spoke| spoke.low))
        {
            layers.band = outer + &inner;
        }
        for spoke in spokes {
            let diagonal = !Direction::FOUR.contains(&spoke.asked);
            let text = if diagonal {
                number::percent(spoke.reach)
            } else {
                format!("{} {}", number::direction(spoke.asked), number::percent(spoke.reach))
            };
            layers.labels.retain(|(direction, _)| *direction != spoke.asked);
            layers.labels.push((spoke.asked, text));
        }
        layers
    }

    /// The same with dead zone and full throw of these settings, where they have a number.
    pub fn with_settings(self, settings: &Settings, decided: &Decided) -> Self {
        Self {
            centre: settings.centre,
            dead_zone: decided.dead_zone.is_ok().then_some(settings.dead_zone),
            full_throw: decided.full_throw.is_ok().then_some(settings.full_throw),
            ..self
        }
    }

    /// The same with the sign of a running task.
    pub fn with_sign(self, sign: Option<Sign>) -> Self {
        Self { sign, ..self }
    }

    /// The same with the ring of a hold.
    pub fn with_ring(mut self, target: Option<Target>, share: f64) -> Self {
        self.ring = target.map(|target| Ring { at: target.at, radius: target.radius, share });
        self
    }
}

fn shifted(points: &[Position], by: Position) -> Vec<Position> {
    points.iter().map(|&point| point + by).collect()
}

impl Layers {
    /// The field of the page's fitting without live settings. Made anew only when the analysis
    /// is: drawing an outline at every frame of a task would be wasted work.
    pub fn of_app(app: crate::state::App) -> RwSignal<Self, LocalStorage> {
        let layers = RwSignal::new_local(Self::empty());
        crate::parts::live::effect(move || {
            layers.set(app.analysis.with(|analysis| match analysis {
                Some(analysis) => Self::of(&analysis.measures, &analysis.records),
                None => Self::empty(),
            }));
        });
        layers
    }
}
