//! The geometry of our pictures: outlines, thinned traces, scales. No drawing: the page turns
//! what is here into SVG.

mod ink;
mod outline;
mod place;
mod scale;

pub use ink::{push_traces, svg_path, thinned};
pub use outline::{farthest, outline};
pub use place::{At, PlaceDrawing, PlaceView};
pub use scale::LogScale;
