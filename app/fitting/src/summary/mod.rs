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

mod advised;
mod answer;
mod body;
mod check;
pub(crate) mod checksum;
mod chosen;
mod compute;
mod envelope;
mod figures;
mod first;
mod fitting;
mod found;
mod grid;
pub mod kept_file;
pub mod link;
mod settings;
pub mod share;
pub mod short;
mod task;
mod text;
mod thin;
pub mod under_way;
mod unreadable;

pub use advised::{DirectionFigures, SmoothingFigures, SwitchFigures, ThrowBy};
pub use answer::{Answer, Figure, Interval, Lacking};
pub use body::{
    CurveFigures, DeadZoneFigures, EffectFigures, FullThrowFigures, JitterLevel, Place, RateStep,
    ReachFigures, ReachLeft, RestFigures, Steadiness, StickFigures, Summary, SummaryBody,
    WeakestLeft,
};
pub use chosen::{
    ChosenCurve, ChosenDirection, ChosenSettings, ChosenSmoothing, ChosenSwitches, ChosenTiming,
};
pub use compute::Findings;
pub use envelope::{Body, Envelope, Head, Kind, MOST_ID_CHARACTERS, is_id, peek, read};
pub(crate) use fitting::is_code;
pub use fitting::{
    ChosenFor, DeviceSeen, FittingBody, MOST_FALSE_PER_MINUTE, MOST_LABEL_CHARACTERS,
    MOST_NOTE_CHARACTERS,
};
pub use found::{
    BusyFigures, BusyRestFigures, ButtonFigures, GateFigures, MapFigures, OddAxisSeen, RateBand,
    ReturnFigures, RhythmFigures, SustainedFigures,
};
pub use grid::{
    Coefficient, Degrees, Exponent, Gain, Grid, Hertz, Moment, PerMinute, Seconds, Share, Spread,
};
pub use task::{MOST_TASK_SAMPLES, TaskBody};
pub use text::{at_most_bytes, plain_lines, plain_text};
pub use thin::MOST_THINNED;
pub use unreadable::Unreadable;
