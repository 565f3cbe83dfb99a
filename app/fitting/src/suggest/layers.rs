//! Layers add up: stick, hub, host and game may each have a dead zone, a full throw and a curve of
//! their own.
//!
//! - [`LayeredPath`]: what several layers do one after the other, as one function.
//! - [`for_path`]: what is to be typed into one of them so that the whole path does what was
//!   suggested at the stick.
//!
//! Every layer is applied by [`Pipeline`]; a dead zone behind which the output jumps is the same
//! dead zone used as a gate.

mod advice;
mod solve;

#[cfg(test)]
mod tests;

pub use advice::{LayerAdvice, LayerNote, Reached};
pub use solve::{USUAL_DEAD_ZONE, for_path, found_by_moving};

use crate::settings::{Curve, Shape};
use crate::visit::Layer;
use crate::{Pipeline, Position, Settings};

/// A push is looked for up to here, share of travel: a corner of a square gate and more.
pub(super) const FARTHEST_PUSH: f64 = 1.5;
/// Halvings of that: to 1e-12 of travel.
const HALVINGS: u32 = 42;
/// From this output on a push counts as all the way.
const ALL_THE_WAY: f64 = 1.0 - 1e-9;

/// What several layers do one after the other, from the stick on, as one function of a position.
#[derive(Clone, Debug)]
pub struct LayeredPath {
    steps: Vec<Step>,
}

/// One layer made ready to apply.
#[derive(Clone, Debug)]
struct Step {
    /// A dead zone behind which the output jumps: what does not come through it is nothing.
    gate: Option<Pipeline>,
    does: Pipeline,
    shape: Shape,
}

impl Step {
    /// A layer with its dead zone, or with `unknown` (share of travel as it comes in) where nobody
    /// knows it; nothing where the layer does nothing.
    fn of(layer: &Layer, unknown: f64) -> Option<Self> {
        let dead_zone = layer.dead_zone.unwrap_or(unknown);
        let does_nothing = dead_zone <= 0.0 && layer.full_throw == 1.0 && layer.exponent == 1.0;
        if does_nothing {
            return None;
        }
        let settings = Settings {
            dead_zone,
            full_throw: layer.full_throw,
            shape: layer.shape,
            curve: Curve::Exponent(layer.exponent),
            ..Settings::default()
        };
        let (gate, dead_zone) = if layer.starts_at_zero {
            (None, dead_zone)
        } else {
            let gate = Settings { curve: Curve::Linear, full_throw: 1.0, ..settings.clone() };
            (Some(Pipeline::new(&gate)), 0.0)
        };
        let does = Pipeline::new(&Settings { dead_zone, ..settings });
        Some(Self { gate, does, shape: layer.shape })
    }

    fn apply(&self, at: Position) -> Position {
        let out = self.does.apply(at);
        let Some(gate) = &self.gate else { return out };
        let through = gate.apply(at);
        let kept = |through: f64, out: f64| if through == 0.0 { 0.0 } else { out };
        match self.shape {
            Shape::Radial if through == Position::ORIGIN => Position::ORIGIN,
            Shape::Radial => out,
            Shape::PerAxis => {
                Position::new(kept(through.right, out.right), kept(through.up, out.up))
            }
        }
    }
}

impl LayeredPath {
    /// These layers one after the other. A layer whose dead zone nobody knows is taken to have
    /// `unknown`, share of travel as it comes in.
    #[must_use]
    pub fn new(layers: &[Layer], unknown: f64) -> Self {
        Self { steps: layers.iter().filter_map(|layer| Step::of(layer, unknown)).collect() }
    }

    /// What comes out for a position of the stick, told from its centre: the position itself where
    /// no layer does anything.
    #[must_use]
    pub fn apply(&self, at: Position) -> Position {
        self.steps.iter().fold(at, |at, step| step.apply(at))
    }

    /// What comes out for a push along one axis, 0..: not falling with the push, whatever the
    /// shapes of the layers.
    #[must_use]
    pub fn answer(&self, push: f64) -> f64 {
        self.apply(Position::new(push, 0.0)).right
    }

    /// The push along one axis up to which nothing comes out, share of travel.
    #[must_use]
    pub fn dead_zone(&self) -> f64 {
        if self.steps.is_empty() { 0.0 } else { self.first(|answer| answer > 0.0).unwrap_or(1.0) }
    }

    /// The push along one axis from which it is all the way, share of travel; nothing where no
    /// push gets there.
    #[must_use]
    pub fn full_throw(&self) -> Option<f64> {
        self.first(|answer| answer >= ALL_THE_WAY)
    }

    /// The smallest push whose answer is as wanted; what is wanted must hold from some answer on.
    fn first(&self, is_wanted: impl Fn(f64) -> bool) -> Option<f64> {
        let (mut low, mut high) = (0.0, FARTHEST_PUSH);
        if !is_wanted(self.answer(high)) {
            return None;
        }
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            if is_wanted(self.answer(middle)) {
                high = middle;
            } else {
                low = middle;
            }
        }
        Some(high)
    }

    /// The smallest push from which the output is at least `output`; the farthest where none is.
    fn push_for(&self, output: f64) -> f64 {
        if self.steps.is_empty() {
            return output;
        }
        self.first(|answer| answer >= output).unwrap_or(FARTHEST_PUSH)
    }
}
