//! What lies between the stick and the game.

use super::short;
use serde::{Deserialize, Serialize};

/// The most layers of a path.
const MOST_LAYERS: usize = 6;

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

/// One layer, with what it already does.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Layer {
    /// What it is.
    pub kind: LayerKind,
    /// Its name, in the person's words.
    pub name: String,
    /// Its own dead zone, share of travel as it comes in; nothing where nobody knows.
    pub dead_zone: Option<f64>,
    /// Whether what is left outside the dead zone starts again at nothing.
    pub starts_at_zero: bool,
    /// Whether its settings can be changed.
    pub can_be_set: bool,
}

/// What lies between the stick and the game, from the stick on.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Path {
    /// The layers.
    pub layers: Vec<Layer>,
    /// The one for which settings are suggested, by its place.
    pub named: Option<usize>,
}

impl Path {
    pub(super) fn tidied(&self) -> Self {
        let layers: Vec<Layer> = self
            .layers
            .iter()
            .take(MOST_LAYERS)
            .map(|layer| Layer {
                name: short(&layer.name),
                dead_zone: layer
                    .dead_zone
                    .filter(|share| share.is_finite())
                    .map(|share| share.clamp(0.0, 0.95)),
                ..layer.clone()
            })
            .collect();
        let named = self.named.filter(|named| *named < layers.len());
        Self { layers, named }
    }
}
