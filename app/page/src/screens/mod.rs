//! One file a screen.

pub mod advice;
pub mod details;
pub mod found;
pub mod hand_over;
pub mod kept;
pub mod measure;
pub mod more_settings;
pub mod papers;
pub mod plan;
pub mod ready;
pub mod ready_cards;
pub mod set_up;
pub mod settings;
pub mod shared;
pub mod sites;
pub mod stick;
pub mod task;
pub mod today;
pub mod try_it;

pub use details::Details;
pub use hand_over::{HandOver, SummarySheet};
pub use kept::Kept;
pub use measure::Measure;
pub use papers::PaperScreen;
pub use ready::Ready;
pub use ready_cards::{ReadyCards, Ways};
pub use set_up::SetUpScreen;
pub use settings::SettingsScreen;
pub use shared::Shared;
pub use sites::SitesScreen;
pub use stick::Stick;
pub use today::TodayScreen;
pub use try_it::TryIt;
