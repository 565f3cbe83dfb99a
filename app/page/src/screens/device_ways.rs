//! The ways from the screen of sticks to what is asked of a device.

use crate::parts::answer::leads_to;
use crate::route::Screen;
use crate::state::App;
use crate::words::{choosing, hosts, speaks, through};
use leptos::prelude::*;

/// What to look for, who speaks, and what gets through.
#[component]
pub fn DeviceWays() -> impl IntoView {
    let app = App::of_context();
    let wanted = move || app.visit.with(|visit| choosing::line(&visit.wanted));
    let heard = move || app.visit.with(|visit| speaks::line(visit.devices.heard.as_ref()));
    let verdict = move || {
        let Some((chosen, host)) = app.host() else { return through::line(None, None) };
        let found = app.verdict_with(app.judged_now(), &host);
        through::line(Some(&hosts::name(chosen, Some(&host))), Some(found.word))
    };
    view! {
        {crate::parts::raw::as_source(app)}
        <nav class="answers-links" aria-label=through::WAYS>
            {leads_to(&Screen::Choosing, wanted)}
            {leads_to(&Screen::Speaks, heard)}
            {leads_to(&Screen::Through, verdict)}
        </nav>
    }
}
