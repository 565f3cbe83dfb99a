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

use crate::parts::kind::KindChoice;
use crate::screens::{
    Details, HandOver, Kept, Measure, PaperScreen, SettingsScreen, Shared, SummarySheet, TryIt,
};
use crate::state::App;
use fitting::visit::Paper;
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
    /// Keeps the fitting and those of its records that are not kept yet.
    pub keep: fn(App),
    /// What kind of stick it is, on the screen of sticks.
    pub kind: fn() -> AnyView,
    /// Screen.
    pub measure: fn() -> AnyView,
    /// Screen.
    pub settings: fn() -> AnyView,
    /// Screen.
    pub details: fn() -> AnyView,
    /// Screen.
    pub try_it: fn() -> AnyView,
    /// Screen.
    pub hand_over: fn() -> AnyView,
    /// Screen.
    pub summary: fn() -> AnyView,
    /// Screen, of one paper.
    pub paper: fn(Paper) -> AnyView,
    /// Screen.
    pub kept: fn() -> AnyView,
    /// Screen, with the link's fragment.
    pub shared: fn(String) -> AnyView,
}

static LATER: Later = Later {
    open_store: App::open_store_now,
    analyse: App::analyse_now,
    keep: App::keep_now,
    kind: || view! { <KindChoice/> }.into_any(),
    measure: || view! { <Measure/> }.into_any(),
    settings: || view! { <SettingsScreen/> }.into_any(),
    details: || view! { <Details/> }.into_any(),
    try_it: || view! { <TryIt/> }.into_any(),
    hand_over: || view! { <HandOver/> }.into_any(),
    summary: || view! { <SummarySheet/> }.into_any(),
    paper: |paper| view! { <PaperScreen paper/> }.into_any(),
    kept: || view! { <Kept/> }.into_any(),
    shared: |fragment| view! { <Shared fragment/> }.into_any(),
};

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
