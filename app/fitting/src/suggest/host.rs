//! Settings the way hosts take them.

use super::curve::nearest_exponent;
use crate::Pipeline;
use crate::pipeline::curve_at;
use crate::settings::{Curve, Settings, Shape, Smoothing};

/// Settings as a host, hub or game asks for them, in percent. Which of these a host knows
/// differs; a person types those that it does.
#[derive(Clone, Debug, PartialEq)]
pub struct HostForm {
    /// For hosts with one dead zone around the centre: percent of travel.
    pub dead_zone_radial_percent: f64,
    /// For hosts with a dead zone on each axis: percent of travel. See [`HostForm::of`].
    pub dead_zone_per_axis_percent: f64,
    /// The push that counts as all the way: percent of travel.
    pub full_throw_percent: f64,
    /// For hosts with one sensitivity number: output = input ^ exponent.
    pub sensitivity_exponent: f64,
    /// The largest distance of that curve from the set one, percent of full output.
    pub exponent_error_percent: f64,
    /// For hosts with a table: input and output in percent, from (0, 0) to (100, 100), counted
    /// from the dead zone to full throw.
    pub points: Vec<(f64, f64)>,
    /// Whether the two axes change places: before the signs are turned round.
    pub swapped: bool,
    /// Whether right and left change places.
    pub right_inverted: bool,
    /// Whether up and down change places.
    pub up_inverted: bool,
    /// Turned by this many degrees from right towards up; for hosts that cannot, the mount is
    /// turned by as much.
    pub turn_degrees: f64,
    /// What right and left are multiplied with, percent.
    pub right_gain_percent: f64,
    /// What up and down are multiplied with, percent.
    pub up_gain_percent: f64,
    /// Smoothing: cutoff at standstill in hertz, and by how many hertz it rises for each full
    /// travel a second; `None` for none.
    pub smoothing_hertz: Option<(f64, f64)>,
    /// Directions used as switches: on, off (percent of travel), shortest time (milliseconds).
    pub switches: Option<(f64, f64, f64)>,
    /// A press shorter than this does not count, milliseconds; 0 where every press does.
    pub shortest_press_milliseconds: f64,
    /// After a button was let go it is deaf for this long, milliseconds.
    pub bounce_milliseconds: f64,
    /// A press held for this long begins to repeat, milliseconds; `None` leaves the host's.
    pub repeat_delay_milliseconds: Option<f64>,
}

impl HostForm {
    /// The settings in a host's numbers.
    ///
    /// A dead zone of one shape stands in for the other so that nothing more gets through:
    /// a square of half-width d holds the whole disc of radius d, so the per-axis number of a
    /// radial dead zone is the same d (diagonal pushes lose up to 41 % of d more); a disc holds
    /// a square of half-width d only from radius d √2 on.
    #[must_use]
    pub fn of(settings: &Settings) -> Self {
        // In the numbers that the pipeline would apply, so that senseless ones never get out.
        let applied = Pipeline::new(settings);
        let percent = |share: f64| 100.0 * share;
        let direction = applied.direction();
        let buttons = crate::pipeline::buttons::in_range(settings.buttons);
        let dead_zone = percent(applied.dead_zone());
        let (exponent, error) = nearest_exponent(applied.curve());
        let (radial, per_axis) = match settings.shape {
            Shape::Radial => (dead_zone, dead_zone),
            Shape::PerAxis => (dead_zone * std::f64::consts::SQRT_2, dead_zone),
        };
        Self {
            dead_zone_radial_percent: radial.min(100.0),
            dead_zone_per_axis_percent: per_axis,
            full_throw_percent: percent(applied.full_throw()),
            sensitivity_exponent: exponent,
            exponent_error_percent: percent(error),
            points: points(applied.curve()),
            swapped: direction.swapped,
            right_inverted: direction.right_inverted,
            up_inverted: direction.up_inverted,
            turn_degrees: direction.turn_degrees,
            right_gain_percent: percent(direction.right_gain),
            up_gain_percent: percent(direction.up_gain),
            smoothing_hertz: match applied.smoothing() {
                Smoothing::OneEuro { cutoff_hertz, speed_coefficient } => {
                    Some((cutoff_hertz, speed_coefficient))
                }
                Smoothing::Off => None,
            },
            switches: applied.switches().map(|switches| {
                let on = switches.on.max(applied.dead_zone());
                (percent(on), percent(switches.off), 1000.0 * switches.shortest_seconds)
            }),
            shortest_press_milliseconds: 1000.0 * buttons.shortest_press_seconds,
            bounce_milliseconds: 1000.0 * buttons.bounce_seconds,
            repeat_delay_milliseconds: buttons.repeat_delay_seconds.map(|delay| 1000.0 * delay),
        }
    }

    /// The same for a host whose sliders move in steps of `step_percent`: the dead zone goes up
    /// to the next step and full throw down, so that neither false movements nor effort grow.
    #[must_use]
    pub fn stepped(&self, step_percent: f64) -> Self {
        if !(step_percent.is_finite() && step_percent > 0.0) {
            return self.clone();
        }
        // A value that lies on a step but for rounding stays there.
        let up = |value: f64| libm::ceil(value / step_percent - 1e-9) * step_percent;
        let down = |value: f64| libm::floor(value / step_percent + 1e-9) * step_percent;
        Self {
            dead_zone_radial_percent: up(self.dead_zone_radial_percent),
            dead_zone_per_axis_percent: up(self.dead_zone_per_axis_percent),
            full_throw_percent: down(self.full_throw_percent).max(step_percent),
            ..self.clone()
        }
    }
}

/// A curve's own points, or every tenth of the input, in percent.
fn points(curve: &Curve) -> Vec<(f64, f64)> {
    let inputs: Vec<f64> = match curve {
        Curve::Linear => vec![0.0, 1.0],
        Curve::Exponent(_) => (0..=10).map(|i| f64::from(i) / 10.0).collect(),
        Curve::Points(points) => {
            let inner = points.iter().map(|point| point.0).filter(|x| *x > 0.0 && *x < 1.0);
            std::iter::once(0.0).chain(inner).chain(std::iter::once(1.0)).collect()
        }
    };
    inputs.into_iter().map(|input| (100.0 * input, 100.0 * curve_at(curve, input))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shapes_stand_in_for_each_other_on_the_safe_side() {
        let settings = Settings { dead_zone: 0.1, full_throw: 0.75, ..Settings::default() };
        let form = HostForm::of(&settings);
        assert_eq!((form.dead_zone_radial_percent, form.dead_zone_per_axis_percent), (10.0, 10.0));
        let square = HostForm::of(&Settings { shape: Shape::PerAxis, ..settings });
        assert!((square.dead_zone_radial_percent - 14.142_135_623_730_951).abs() < 1e-12);
        assert_eq!(square.dead_zone_per_axis_percent, 10.0);
        assert_eq!(form.points, [(0.0, 0.0), (100.0, 100.0)]);
    }

    #[test]
    fn steps_go_to_the_safe_side() {
        let settings = Settings { dead_zone: 0.101, full_throw: 0.749, ..Settings::default() };
        let form = HostForm::of(&settings).stepped(5.0);
        assert_eq!((form.dead_zone_radial_percent, form.full_throw_percent), (15.0, 70.0));
        let exact = HostForm::of(&Settings { dead_zone: 0.15, ..settings }).stepped(5.0);
        assert!((exact.dead_zone_radial_percent - 15.0).abs() < 1e-9);
    }
}
