//! What lies between the stick and the game.

use super::short;
use crate::settings::Shape;
use serde::{Deserialize, Serialize};

/// The most layers of a path.
pub const MOST_LAYERS: usize = 6;

/// The largest dead zone a layer is told to have, share of what comes in.
const MOST_DEAD_ZONE: f64 = 0.9;

/// What a layer is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LayerKind {
    /// The stick itself, where it has settings.
    Stick,
    /// A hub or an adapter.
    Hub,
    /// The host: computer, console, tablet.
    Host,
    /// The game.
    Game,
}

/// One layer, with what it already does. Shares are of the travel as it comes into the layer, so
/// behind another layer 0.1 is a tenth of what that one lets through.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Layer {
    /// What it is.
    pub kind: LayerKind,
    /// Its name, in the person's words.
    pub name: String,
    /// Its own dead zone, share of travel as it comes in; nothing where nobody knows.
    pub dead_zone: Option<f64>,
    /// Whether what is left outside the dead zone starts again at nothing; it jumps where not.
    pub starts_at_zero: bool,
    /// How its dead zone is laid over the axes.
    pub shape: Shape,
    /// The share that it passes on as all the way, above its dead zone, at most 1.
    pub full_throw: f64,
    /// Its own sensitivity as one number: output = input ^ exponent, 0.2..=5.
    pub exponent: f64,
    /// The step of its slider, share; nothing where nobody knows.
    pub step: Option<f64>,
    /// Whether its settings can be changed.
    pub can_be_set: bool,
}

impl Default for Layer {
    /// A host that does nothing by itself and can be set.
    fn default() -> Self {
        Self {
            kind: LayerKind::Host,
            name: String::new(),
            dead_zone: Some(0.0),
            starts_at_zero: true,
            shape: Shape::Radial,
            full_throw: 1.0,
            exponent: 1.0,
            step: None,
            can_be_set: true,
        }
    }
}

impl Layer {
    fn tidied(&self) -> Self {
        let in_range = |value: Option<f64>, low: f64, high: f64| {
            value.filter(|share| share.is_finite()).map(|share| share.clamp(low, high))
        };
        let dead_zone = in_range(self.dead_zone, 0.0, MOST_DEAD_ZONE);
        let least_throw = dead_zone.unwrap_or(0.0) + 0.01;
        Self {
            name: short(&self.name),
            dead_zone,
            full_throw: in_range(Some(self.full_throw), least_throw, 1.0).unwrap_or(1.0),
            exponent: in_range(Some(self.exponent), 0.2, 5.0).unwrap_or(1.0),
            step: in_range(self.step, 0.001, 0.5),
            ..self.clone()
        }
    }
}

/// What lies between the stick and the game, from the stick on. Without layers it is direct: what
/// is suggested goes into whatever the stick is plugged into.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Path {
    /// The layers.
    pub layers: Vec<Layer>,
    /// The one for which settings are suggested, by its place.
    pub named: Option<usize>,
}

impl Path {
    /// The layer for which settings are suggested: the named one, or, where none is named, the
    /// last that can be set. By its place.
    #[must_use]
    pub fn in_hand(&self) -> Option<usize> {
        let named = self.named.filter(|named| *named < self.layers.len());
        named.or_else(|| self.layers.iter().rposition(|layer| layer.can_be_set))
    }

    pub(super) fn tidied(&self) -> Self {
        let layers: Vec<Layer> = self.layers.iter().take(MOST_LAYERS).map(Layer::tidied).collect();
        let named = self.named.filter(|named| *named < layers.len());
        Self { layers, named }
    }
}
