//! What is kept, shared and printed.
//!
//! - [`Envelope`]: everything kept lies in one: kind, schema, core version, id, time, body.
//! - [`FittingBody`], [`TaskBody`]: a fitting and the tasks recorded for it, kept in full.
//! - [`Summary`]: what a fitting came to, every number on a fixed grid, so that a summary is
//!   the same in the page, in a file and in a link; [`link`] is its form as a link.
//!
//! What is read here comes from outside: sizes are capped before reading, every field is
//! checked, and whatever is wrong is told as an [`Unreadable`] or a [`link::LinkError`].
//!
//! Released schemas are read forever; a golden file of each is kept with the tests.

mod answer;
mod body;
mod check;
mod checksum;
mod compute;
mod envelope;
mod fitting;
mod grid;
pub mod link;
mod settings;
mod task;
mod text;
mod unreadable;

pub use answer::{Answer, Figure, Interval, Lacking};
pub use body::{
    ChosenCurve, ChosenSettings, CurveFigures, DeadZoneFigures, EffectFigures, FullThrowFigures,
    JitterLevel, Place, RateStep, ReachFigures, ReachLeft, RestFigures, Steadiness, StickFigures,
    Summary, SummaryBody, WeakestLeft,
};
pub use compute::Findings;
pub use envelope::{Body, Envelope, Head, Kind, MOST_ID_CHARACTERS, is_id, peek, read};
pub use fitting::{DeviceSeen, FittingBody, MOST_LABEL_CHARACTERS, MOST_NOTE_CHARACTERS};
pub use grid::{Degrees, Exponent, Grid, PerMinute, Seconds, Share, Spread};
pub use task::{MOST_TASK_SAMPLES, TaskBody};
pub use text::{at_most_bytes, plain_lines, plain_text};
pub use unreadable::Unreadable;
