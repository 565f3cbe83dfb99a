//! One file a screen.

pub mod advice;
pub mod details;
pub mod found;
pub mod hand_over;
pub mod kept;
pub mod measure;
pub mod more_settings;
pub mod papers;
pub mod ready;
pub mod settings;
pub mod shared;
pub mod stick;
pub mod task;
pub mod try_it;

pub use details::Details;
pub use hand_over::{HandOver, SummarySheet};
pub use kept::Kept;
pub use measure::Measure;
pub use papers::PaperScreen;
pub use ready::Ready;
pub use settings::SettingsScreen;
pub use shared::Shared;
pub use stick::Stick;
pub use try_it::TryIt;
