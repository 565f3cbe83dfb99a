//! The one piece of code that applies settings to a position.
//!
//! In this order: centre, direction, smoothing, dead zone with full throw, curve, switches.
//!
//! - [`Pipeline`]: what does not depend on what came before; [`Pipeline::apply`].
//! - [`PipelineRun`]: all of it, over time: live, or over a recording.
//! - [`one_euro`]: the smoothing filter by itself.
//! - [`direction`]: how a push is swapped, turned round, turned and stretched.
//! - [`switches`]: thresholds with hysteresis.
//! - [`buttons`]: the timing of buttons, which go their own way.

pub mod buttons;
pub(crate) mod curve;
pub mod direction;
pub mod one_euro;
mod run;
pub mod switches;

#[cfg(test)]
mod tests;

pub use curve::curve_at;
pub use run::{FRAME_SECONDS, PipelineRun};

use crate::Position;
use crate::settings::{Curve, DirectionMap, Settings, Shape, Smoothing, SwitchThresholds};
use crate::trace::FARTHEST;
use std::borrow::Cow;

/// Settings made ready to apply: the same code in the live view, the practice scenes and the
/// before-and-after figures.
///
/// The output is 0..=1 in radius for the radial shape, and 0..=1 on each axis for the other.
/// Where directions are used as switches it is −1, 0 or 1 on each axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Pipeline {
    centre: Position,
    matrix: direction::Matrix,
    direction: DirectionMap,
    smoothing: Smoothing,
    dead_zone: f64,
    full_throw: f64,
    shape: Shape,
    curve: Curve,
    switches: Option<SwitchThresholds>,
}

impl Pipeline {
    /// Makes settings ready. Settings out of range are brought into it: the direction map as
    /// [`direction::in_range`] says, the cutoff into 0.1..=60 Hz and its coefficient into
    /// 0..=1000, `dead_zone` into 0..=0.9, `full_throw` to at least 0.01 above it and at most
    /// 1.5, the exponent into 0.2..=5, thresholds as [`switches::in_range`] says; what is not
    /// finite becomes the default. Points of a curve that are not finite, do not rise, or are
    /// too many are left out.
    #[must_use]
    pub fn new(settings: &Settings) -> Self {
        let finite = |value: f64, otherwise: f64| if value.is_finite() { value } else { otherwise };
        let dead_zone = finite(settings.dead_zone, 0.0).clamp(0.0, 0.9);
        let full_throw = finite(settings.full_throw, 1.0).clamp(dead_zone + 0.01, 1.5);
        let smoothing = match settings.smoothing {
            Smoothing::OneEuro { cutoff_hertz, speed_coefficient } if cutoff_hertz.is_finite() => {
                Smoothing::OneEuro {
                    cutoff_hertz: cutoff_hertz.clamp(0.1, 60.0),
                    speed_coefficient: finite(speed_coefficient, 0.0).clamp(0.0, 1000.0),
                }
            }
            _ => Smoothing::Off,
        };
        Self {
            centre: Position::new(
                finite(settings.centre.right, 0.0).clamp(-FARTHEST, FARTHEST),
                finite(settings.centre.up, 0.0).clamp(-FARTHEST, FARTHEST),
            ),
            matrix: direction::Matrix::of(&settings.direction),
            direction: direction::in_range(&settings.direction),
            smoothing,
            dead_zone,
            full_throw,
            shape: settings.shape,
            curve: curve::in_range(&settings.curve),
            switches: settings.switches.map(switches::in_range),
        }
    }

    /// The dead zone as it is applied, 0..=0.9.
    #[must_use]
    pub fn dead_zone(&self) -> f64 {
        self.dead_zone
    }

    /// The full throw as it is applied, above the dead zone, at most 1.5.
    #[must_use]
    pub fn full_throw(&self) -> f64 {
        self.full_throw
    }

    /// The centre as it is applied.
    #[must_use]
    pub fn centre(&self) -> Position {
        self.centre
    }

    /// The direction map as it is applied.
    #[must_use]
    pub fn direction(&self) -> &DirectionMap {
        &self.direction
    }

    /// The smoothing as it is applied.
    #[must_use]
    pub fn smoothing(&self) -> Smoothing {
        self.smoothing
    }

    /// The thresholds as they are applied, where directions are used as switches. A push that
    /// does not pass the dead zone is never on: the threshold is not below it.
    #[must_use]
    pub fn switches(&self) -> Option<SwitchThresholds> {
        self.switches
    }

    /// The curve as it is applied.
    #[must_use]
    pub fn curve(&self) -> &Curve {
        &self.curve
    }

    /// What the settings make of a position of the stick by itself: everything but smoothing,
    /// and without the memory of switches (on from the `on` threshold, at once). For a stick at
    /// rest or moving slowly it is what [`PipelineRun`] gives. A position that is not finite
    /// counts as the centre.
    #[must_use]
    pub fn apply(&self, position: Position) -> Position {
        self.answer_to(self.push(position))
    }

    /// The first two stages: the centre taken off, and the direction map. Shares of travel, each
    /// of the two at most [`FARTHEST`] before the map; nothing for a position that is not
    /// finite.
    #[must_use]
    pub fn push(&self, position: Position) -> Position {
        let push = position - self.centre;
        if !(push.right.is_finite() && push.up.is_finite()) {
            return Position::ORIGIN;
        }
        self.matrix.apply(Position::new(
            push.right.clamp(-FARTHEST, FARTHEST),
            push.up.clamp(-FARTHEST, FARTHEST),
        ))
    }

    /// The last stages, for a push as it comes from smoothing: dead zone with full throw, curve,
    /// and switches without memory.
    #[must_use]
    pub fn answer_to(&self, push: Position) -> Position {
        if let Some(thresholds) = self.switches {
            let on = thresholds.on.max(self.dead_zone);
            let side = |value: f64| if value.abs() >= on { 1.0_f64.copysign(value) } else { 0.0 };
            return Position::new(side(push.right), side(push.up));
        }
        match self.shape {
            Shape::Radial => {
                let radius = push.radius();
                if radius <= self.dead_zone {
                    return Position::ORIGIN;
                }
                push * (self.answer(radius) / radius)
            }
            Shape::PerAxis => Position {
                right: self.answer(push.right.abs()).copysign(push.right),
                up: self.answer(push.up.abs()).copysign(push.up),
            },
        }
    }

    /// The output for a push of this share of travel, 0..=1: not falling, 0 up to the dead
    /// zone, 1 from full throw on.
    #[must_use]
    pub fn answer(&self, push: f64) -> f64 {
        let share = ((push - self.dead_zone) / (self.full_throw - self.dead_zone)).clamp(0.0, 1.0);
        curve_at(&self.curve, share)
    }

    /// These settings over time, from the first position on.
    #[must_use]
    pub fn run(&self) -> PipelineRun<'_> {
        PipelineRun::new(Cow::Borrowed(self))
    }

    /// The same as [`Pipeline::run`], for a view that goes on as long as it is looked at.
    #[must_use]
    pub fn into_run(self) -> PipelineRun<'static> {
        PipelineRun::new(Cow::Owned(self))
    }

    /// What a run of its own makes of a whole path. See [`PipelineRun::over`].
    #[must_use]
    pub fn over(&self, path: &crate::Trace) -> crate::Trace {
        self.run().over(path)
    }

    /// What the dead zone sees of a whole path: every push after centre, direction and smoothing,
    /// from the first position on.
    #[must_use]
    pub fn pushes_over(&self, path: &crate::Trace) -> crate::Trace {
        self.run().pushes_over(path)
    }

    /// Whether the output depends on what came before.
    #[must_use]
    pub fn remembers(&self) -> bool {
        self.smoothing != Smoothing::Off || self.switches.is_some()
    }
}
