//! The ways from the screen of sticks to what is asked of a device.

use crate::parts::answer::leads_to;
use crate::parts::raw;
use crate::route::Screen;
use crate::state::App;
use crate::words::{buttons, choosing, hosts, speaks, through, together};
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
    let buttons = move || {
        app.button_plan().map_or_else(
            || buttons::line(0, 0),
            |(_, plan)| {
                let served = plan.jobs.iter().filter(|planned| planned.by.is_ok()).count();
                buttons::line(plan.jobs.len(), served)
            },
        )
    };
    let together = move || {
        app.visit.with(|visit| {
            let now = visit.used_now().map(|used| used.device.name.as_str());
            together::line(visit.devices.used.len(), now)
        })
    };
    view! {
        {raw::as_source(app)}
        <nav class="answers-links" aria-label=through::WAYS>
            {leads_to(&Screen::Choosing, wanted)}
            {leads_to(&Screen::Speaks, heard)}
            {leads_to(&Screen::Through, verdict)}
            {leads_to(&Screen::Buttons, buttons)}
            {leads_to(&Screen::Together, together)}
        </nav>
    }
}
