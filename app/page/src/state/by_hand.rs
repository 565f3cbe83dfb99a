//! What a person changed by hand, laid over the suggestions.

use fitting::Settings;
use fitting::settings::{ButtonTiming, Curve, DirectionMap, Shape, Smoothing, SwitchThresholds};
use fitting::suggest::Suggestions;

/// What was changed; what is `None` follows the suggestion.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ByHand {
    /// Dead zone, share of travel.
    pub dead_zone: Option<f64>,
    /// Full throw, share of travel.
    pub full_throw: Option<f64>,
    /// Sensitivity as one number.
    pub exponent: Option<f64>,
    /// How the host lays the dead zone.
    pub shape: Option<Shape>,
    /// How pushes are turned and stretched.
    pub direction: Option<DirectionMap>,
    /// The smoothing.
    pub smoothing: Option<Smoothing>,
    /// Timing of the buttons.
    pub buttons: Option<ButtonTiming>,
    /// Directions as switches, or that they are none.
    pub switches: Option<Option<SwitchThresholds>>,
}

impl ByHand {
    /// The suggested settings with the changes laid over them.
    pub fn over(&self, suggestions: &Suggestions) -> Settings {
        let smoothing = self.smoothing.unwrap_or(suggestions.settings.smoothing);
        let mut settings = suggestions.with_smoothing(smoothing);
        if let Some(dead_zone) = self.dead_zone {
            settings.dead_zone = dead_zone;
        }
        if let Some(full_throw) = self.full_throw {
            settings.full_throw = full_throw;
        }
        if let Some(exponent) = self.exponent {
            settings.curve = Curve::Exponent(exponent);
        }
        if let Some(shape) = self.shape {
            settings.shape = shape;
        }
        if let Some(direction) = self.direction {
            settings.direction = direction;
        }
        if let Some(buttons) = self.buttons {
            settings.buttons = buttons;
        }
        if let Some(switches) = self.switches {
            settings.switches = switches;
        }
        settings
    }

    /// What was changed by hand to get from the suggested settings to the chosen ones.
    pub fn between(suggestions: &Suggestions, chosen: &Settings) -> Self {
        let suggested = &suggestions.with_smoothing(chosen.smoothing);
        let differs = |suggested: f64, chosen: f64| (suggested != chosen).then_some(chosen);
        Self {
            dead_zone: differs(suggested.dead_zone, chosen.dead_zone),
            full_throw: differs(suggested.full_throw, chosen.full_throw),
            exponent: match chosen.curve {
                Curve::Exponent(exponent) if chosen.curve != suggested.curve => Some(exponent),
                _ => None,
            },
            shape: (suggested.shape != chosen.shape).then_some(chosen.shape),
            direction: (suggested.direction != chosen.direction).then_some(chosen.direction),
            smoothing: (suggestions.settings.smoothing != chosen.smoothing)
                .then_some(chosen.smoothing),
            buttons: (suggested.buttons != chosen.buttons).then_some(chosen.buttons),
            switches: (suggested.switches != chosen.switches).then_some(chosen.switches),
        }
    }

    /// Whether nothing was changed.
    pub fn is_nothing(&self) -> bool {
        *self == Self::default()
    }
}
