//! What the first two screens do not need: measuring, settings, try, hand over, the kept fittings,
//! the analysis, and reading and writing what is kept.
//!
//! In the built program this is a file of its own, fetched as soon as the first screen is drawn,
//! so that a first visit shows something soon. The split follows the calls: whatever only
//! [`load`] reaches is in the later file. So the first screens call these things through the
//! pointers of [`Later`], never by name.

// The split's own macro declares the load as a foreign function; this module is the one place
// in the page where that is allowed.
#![allow(unsafe_code, reason = "the macro that splits the program declares foreign functions")]

use crate::input::Source;
use crate::parts::forget::CounterNotice;
use crate::parts::kind::KindChoice;
use crate::parts::other_window::OtherWindow;
use crate::parts::storage::StorageNotice;
use crate::parts::trouble::TroubleWindow;
use crate::parts::version::VersionNotice;
use crate::route::Screen;
use crate::screens::{
    ButtonsScreen, ChoosingScreen, Details, DeviceWays, HandOver, Kept, Measure, OwnHost,
    PaperScreen, QuestionsScreen, ReadyCards, SetUpScreen, SettingsScreen, Shared, SitesScreen,
    Speaks, SummarySheet, Through, TodayScreen, TogetherScreen, TryIt, Ways,
};
use crate::state::App;
use leptos::prelude::*;

/// Why the later part could not be had.
#[cfg(split_program)]
pub use wasm_split_helpers::SplitLoaderError as LoadError;

/// Why the later part could not be had: in a program of one piece, never.
#[cfg(not(split_program))]
pub type LoadError = std::convert::Infallible;

/// The later part of the program.
#[derive(Clone, Copy, Debug)]
pub struct Later {
    /// Opens the store.
    pub open_store: fn(App),
    /// Computes anew what the records say.
    pub analyse: fn(App),
    /// Plans the rest anew after the last record.
    pub plan_anew: fn(App),
    /// Keeps the fitting and those of its records that are not kept yet.
    pub keep: fn(App),
    /// Drops what was kept of a task while it ran.
    pub drop_under_way: fn(App),
    /// Takes up a source that is one of several devices of the fitting; whether it is.
    pub take_up: fn(App, Source) -> bool,
    /// What stands above every screen: the window of troubles, the notices.
    pub version: fn() -> AnyView,
    /// The cards of the first screen.
    pub ready: fn() -> AnyView,
    /// The ways to the day, the set-up and the body parts, on the screen of sticks.
    pub ways: fn() -> AnyView,
    /// What kind of stick it is, on the screen of sticks.
    pub kind: fn() -> AnyView,
    /// The screen, of all but the first two.
    pub screen: fn(Screen) -> AnyView,
}

static LATER: Later = Later {
    open_store: App::open_store_now,
    analyse: App::analyse_now,
    plan_anew: App::plan_anew_now,
    keep: App::keep_now,
    drop_under_way: App::drop_under_way_now,
    take_up: App::take_up_now,
    version: || {
        view! { <TroubleWindow/><VersionNotice/><StorageNotice/><OtherWindow/><CounterNotice/> }
            .into_any()
    },
    ready: || view! { <ReadyCards/> }.into_any(),
    ways: || view! { <DeviceWays/><Ways/> }.into_any(),
    kind: || view! { <KindChoice/> }.into_any(),
    screen,
};

fn screen(screen: Screen) -> AnyView {
    match screen {
        // Drawn by the first part.
        Screen::Ready | Screen::Stick => ().into_any(),
        Screen::Today => view! { <TodayScreen/> }.into_any(),
        Screen::SetUp => view! { <SetUpScreen/> }.into_any(),
        Screen::Sites => view! { <SitesScreen/> }.into_any(),
        Screen::Speaks => view! { <Speaks/> }.into_any(),
        Screen::Through => view! { <Through/> }.into_any(),
        Screen::Together => view! { <TogetherScreen/> }.into_any(),
        Screen::Buttons => view! { <ButtonsScreen/> }.into_any(),
        Screen::Host => view! { <OwnHost/> }.into_any(),
        Screen::Choosing => view! { <ChoosingScreen/> }.into_any(),
        Screen::Questions => view! { <QuestionsScreen/> }.into_any(),
        Screen::Measure => view! { <Measure/> }.into_any(),
        Screen::Settings => view! { <SettingsScreen/> }.into_any(),
        Screen::Details => view! { <Details/> }.into_any(),
        Screen::Try => view! { <TryIt/> }.into_any(),
        Screen::HandOver => view! { <HandOver/> }.into_any(),
        Screen::Summary => view! { <SummarySheet/> }.into_any(),
        Screen::Paper(paper) => view! { <PaperScreen paper/> }.into_any(),
        Screen::Kept => view! { <Kept/> }.into_any(),
        Screen::Shared(fragment) => view! { <Shared fragment/> }.into_any(),
    }
}

/// Fetches the later part, once; after a failure, anew.
///
/// # Errors
/// [`LoadError`] where it could not be fetched.
#[cfg(split_program)]
#[wasm_split_helpers::wasm_split(later, fallible)]
pub fn load() -> Result<&'static Later, LoadError> {
    Ok(&LATER)
}

/// The later part; in a program of one piece it is there already.
///
/// # Errors
/// None.
#[cfg(not(split_program))]
pub async fn load() -> Result<&'static Later, LoadError> {
    Ok(&LATER)
}
