//! The settings that were chosen, on the grid of a summary.

use super::body::MOST_POINTS;
use super::grid::{Coefficient, Degrees, Exponent, Gain, Grid, Hertz, Moment, Share};
use super::settings::{is_curve, tidied_settings};
use super::unreadable::hold;
use super::{Place, Unreadable};
use crate::Settings;
use crate::pipeline::curve::keeps_ends;
use crate::settings::{ButtonTiming, Curve, DirectionMap, Shape, Smoothing, SwitchThresholds};
use serde::{Deserialize, Serialize};

/// [`Settings`] on the grid of a summary.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ChosenSettings {
    /// Where the stick comes to rest.
    pub centre: Place,
    /// How a push is turned and stretched.
    pub direction: ChosenDirection,
    /// How movement is smoothed over time.
    pub smoothing: ChosenSmoothing,
    /// Movement inside is ignored, share of travel.
    pub dead_zone: Share,
    /// Counts as all the way, share of travel.
    pub full_throw: Share,
    /// How both are laid over the axes.
    pub shape: Shape,
    /// The sensitivity curve.
    pub curve: ChosenCurve,
    /// Directions used as switches.
    pub switches: Option<ChosenSwitches>,
    /// Timing of the buttons.
    pub buttons: ChosenTiming,
}

/// [`DirectionMap`] on the grid of a summary.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ChosenDirection {
    /// Whether the two axes change places.
    pub swapped: bool,
    /// Whether right and left change places.
    pub right_inverted: bool,
    /// Whether up and down change places.
    pub up_inverted: bool,
    /// Turned by this much from right towards up.
    pub turn: Degrees,
    /// Multiplies right and left.
    pub right_gain: Gain,
    /// Multiplies up and down.
    pub up_gain: Gain,
}

/// [`Smoothing`] on the grid of a summary.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum ChosenSmoothing {
    /// Not at all.
    Off,
    /// A low-pass whose cutoff rises with speed.
    OneEuro {
        /// Cutoff at standstill.
        cutoff: Hertz,
        /// By how many hertz the cutoff rises for each share of travel a second.
        speed_coefficient: Coefficient,
    },
}

/// [`SwitchThresholds`] on the grid of a summary.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ChosenSwitches {
    /// A push beyond this share of travel is on.
    pub on: Share,
    /// It is off again below this.
    pub off: Share,
    /// A push shorter than this does not count, seconds.
    pub shortest: Moment,
}

/// [`ButtonTiming`] on the grid of a summary, seconds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ChosenTiming {
    /// A press shorter than this does not count.
    pub shortest_press: Moment,
    /// After a button was let go, it is deaf for this long.
    pub bounce: Moment,
    /// A press held for this long begins to repeat.
    pub repeat_delay: Option<Moment>,
}

/// [`Curve`] on the grid of a summary.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ChosenCurve {
    /// The output is the input.
    Linear,
    /// The output is the input raised to this exponent.
    Exponent(Exponent),
    /// Straight lines between points `(input, output)`, at most 16.
    Points(Vec<(Share, Share)>),
}

impl ChosenDirection {
    fn of(map: &DirectionMap) -> Self {
        Self {
            swapped: map.swapped,
            right_inverted: map.right_inverted,
            up_inverted: map.up_inverted,
            turn: Degrees::of(map.turn_degrees),
            right_gain: Gain::of(map.right_gain),
            up_gain: Gain::of(map.up_gain),
        }
    }
}

impl ChosenSmoothing {
    /// From smoothing, brought within its ranges by the grid.
    #[must_use]
    pub fn of(smoothing: Smoothing) -> Self {
        match smoothing {
            Smoothing::Off => Self::Off,
            Smoothing::OneEuro { cutoff_hertz, speed_coefficient } => Self::OneEuro {
                cutoff: Hertz::of(cutoff_hertz),
                speed_coefficient: Coefficient::of(speed_coefficient),
            },
        }
    }

    /// As smoothing.
    #[must_use]
    pub fn smoothing(self) -> Smoothing {
        match self {
            Self::Off => Smoothing::Off,
            Self::OneEuro { cutoff, speed_coefficient } => Smoothing::OneEuro {
                cutoff_hertz: cutoff.get(),
                speed_coefficient: speed_coefficient.get(),
            },
        }
    }

    pub(super) fn check(self, field: &'static str) -> Result<(), Unreadable> {
        match self {
            Self::Off => Ok(()),
            Self::OneEuro { cutoff, speed_coefficient } => {
                hold((0.1..=60.0).contains(&cutoff.get()) && speed_coefficient.within(), field)
            }
        }
    }
}

impl ChosenCurve {
    fn of(curve: &Curve) -> Self {
        let unit = |share: f64| Share::of(share.clamp(0.0, 1.0));
        match curve {
            Curve::Linear => Self::Linear,
            Curve::Exponent(exponent) => Self::Exponent(Exponent::of(*exponent)),
            Curve::Points(points) => {
                let points = points.iter().take(MOST_POINTS).map(|(x, y)| (unit(*x), unit(*y)));
                // On the grid a point may come to lie at an end that is not its own.
                let points: Vec<_> =
                    points.filter(|(x, y)| keeps_ends((x.get(), y.get()))).collect();
                if points.is_empty() { Self::Linear } else { Self::Points(points) }
            }
        }
    }

    fn curve(&self) -> Curve {
        match self {
            Self::Linear => Curve::Linear,
            Self::Exponent(exponent) => Curve::Exponent(exponent.get()),
            Self::Points(points) => {
                Curve::Points(points.iter().map(|(x, y)| (x.get(), y.get())).collect())
            }
        }
    }
}

impl ChosenSettings {
    /// From settings, brought within their ranges.
    #[must_use]
    pub fn of(settings: &Settings) -> Self {
        let settings = tidied_settings(settings);
        let dead_zone = Share::of(settings.dead_zone);
        Self {
            centre: Place::of(settings.centre),
            direction: ChosenDirection::of(&settings.direction),
            smoothing: ChosenSmoothing::of(settings.smoothing),
            dead_zone,
            full_throw: Share::of(settings.full_throw.clamp(dead_zone.get() + 0.01, 1.5)),
            shape: settings.shape,
            curve: ChosenCurve::of(&settings.curve),
            switches: settings.switches.map(|switches| ChosenSwitches {
                on: Share::of(switches.on),
                off: Share::of(switches.off),
                shortest: Moment::of(switches.shortest_seconds),
            }),
            buttons: ChosenTiming {
                shortest_press: Moment::of(settings.buttons.shortest_press_seconds),
                bounce: Moment::of(settings.buttons.bounce_seconds),
                repeat_delay: settings.buttons.repeat_delay_seconds.map(Moment::of),
            },
        }
    }

    /// As settings, ready for a pipeline.
    #[must_use]
    pub fn settings(&self) -> Settings {
        let direction = self.direction;
        Settings {
            centre: self.centre.position(),
            direction: DirectionMap {
                swapped: direction.swapped,
                right_inverted: direction.right_inverted,
                up_inverted: direction.up_inverted,
                turn_degrees: direction.turn.get(),
                right_gain: direction.right_gain.get(),
                up_gain: direction.up_gain.get(),
            },
            smoothing: self.smoothing.smoothing(),
            dead_zone: self.dead_zone.get(),
            full_throw: self.full_throw.get(),
            shape: self.shape,
            curve: self.curve.curve(),
            switches: self.switches.map(|switches| SwitchThresholds {
                on: switches.on.get(),
                off: switches.off.get(),
                shortest_seconds: switches.shortest.get(),
            }),
            buttons: ButtonTiming {
                shortest_press_seconds: self.buttons.shortest_press.get(),
                bounce_seconds: self.buttons.bounce.get(),
                repeat_delay_seconds: self.buttons.repeat_delay.map(Grid::get),
            },
        }
    }

    pub(super) fn check(&self) -> Result<(), Unreadable> {
        hold(self.centre.within(), "chosen.centre")?;
        let direction = self.direction;
        hold((-180.0..=180.0).contains(&direction.turn.get()), "chosen.direction.turn")?;
        let gains = direction.right_gain.within() && direction.up_gain.within();
        hold(gains, "chosen.direction.gain")?;
        self.smoothing.check("chosen.smoothing")?;
        let (dead_zone, full_throw) = (self.dead_zone.get(), self.full_throw.get());
        hold((0.0..=0.9).contains(&dead_zone), "chosen.dead_zone")?;
        hold(full_throw > dead_zone && full_throw <= 1.5, "chosen.full_throw")?;
        match &self.curve {
            ChosenCurve::Linear => {}
            ChosenCurve::Exponent(exponent) => hold(exponent.within(), "chosen.curve.exponent")?,
            ChosenCurve::Points(points) => {
                let points: Vec<_> = points.iter().map(|(x, y)| (x.get(), y.get())).collect();
                hold(is_curve(&points), "chosen.curve.points")?;
            }
        }
        if let Some(switches) = self.switches {
            let on = switches.on.get();
            let ordered = switches.off.get() >= 0.0 && switches.off <= switches.on && on <= 1.5;
            hold(ordered && switches.shortest.within(), "chosen.switches")?;
        }
        let buttons = self.buttons;
        let repeat = buttons.repeat_delay.is_none_or(Grid::within);
        let times = buttons.shortest_press.within() && buttons.bounce.within();
        hold(repeat && times, "chosen.buttons")
    }
}
