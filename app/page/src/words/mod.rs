//! Every word a person reads, in one catalogue, by screen.
//!
//! Screens and parts hold no text of their own: they ask here, with the core's enums and
//! numbers. A second language is a second set of these modules with the same names.

pub mod answer;
pub mod asking;
pub mod buttons;
pub mod choosing;
pub mod dead_zone;
pub mod descriptor;
pub mod details;
pub mod device;
pub mod effect;
pub mod forget;
pub mod found;
pub mod frame;
pub mod hand_over;
pub mod host;
pub mod hosts;
pub mod kind;
pub mod layers;
pub mod layout;
pub mod measure;
pub mod method;
pub mod more_settings;
pub mod number;
pub mod own_game;
pub mod papers;
pub mod people;
pub mod place;
pub mod plan;
pub mod pushes;
pub mod raw;
pub mod ready;
pub mod set_up;
pub mod settings;
pub mod share;
pub mod sites;
pub mod speaks;
pub mod stick;
pub mod storage;
pub mod through;
pub mod today;
pub mod together;
pub mod trouble;
pub mod unfinished;
pub mod version;
pub mod windows;
