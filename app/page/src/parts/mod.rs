//! The pieces screens are made of.

pub mod bars;
pub mod curve_plot;
pub mod dialog;
pub mod field;
pub mod file;
pub mod frame;
pub mod kind;
pub mod layers;
pub mod live;
pub mod own_game;
pub mod paper;
pub mod paper_fields;
pub mod path;
pub mod place_drawing;
pub mod practice_field;
pub mod rate_plot;
pub mod setting;
pub mod sheet;
pub mod sheet_found;
pub mod sheet_numbers;
pub mod word;
