//! The notice that a new version of the page waits, or that this one is new, with what changed.
//!
//! How it stands is told by `public/offline.js` in events on the window; taking up a version is that
//! script's and the worker's. Here is decided when it may be: never while a task runs.

use super::frame::mend_focus;
use super::live::{part, text, when, yes};
use crate::state::{App, Saved};
use crate::words::version as words;
use gloo_events::EventListener;
use leptos::prelude::*;
use serde::Deserialize;
use wasm_bindgen::JsValue;

/// From the script: how it stands, as JSON text.
const STANDS: &str = "fitting-room:version";
/// To the script: say it again.
const ASKED: &str = "fitting-room:version-asked";
/// To the script: take it up.
const TAKE_UP: &str = "fitting-room:take-up";
/// To the script: what changed was read.
const READ: &str = "fitting-room:changes-read";

/// Most sentences shown, and the longest of them, in characters.
const MOST: usize = 12;
const LONGEST: usize = 300;

/// How it stands with versions.
#[derive(Clone, Copy, Debug, Default, Deserialize, PartialEq, Eq)]
#[serde(rename_all = "lowercase")]
enum State {
    /// Nothing to say.
    #[default]
    Nothing,
    /// A new version waits.
    Waiting,
    /// It cannot be taken up: the page is open elsewhere, too.
    Others,
    /// This version has news.
    Changed,
}

/// How it stands, and what changed, in sentences.
#[derive(Clone, Debug, Default, Deserialize, PartialEq, Eq)]
struct Standing {
    state: State,
    changes: Vec<String>,
}

impl Standing {
    /// Read from the script's event; what cannot be read is nothing to say.
    fn of_event(event: &web_sys::Event) -> Self {
        let detail = js_sys::Reflect::get(event, &JsValue::from_str("detail"));
        let text = detail.ok().and_then(|detail| detail.as_string()).unwrap_or_default();
        let mut standing: Self = serde_json::from_str(&text).unwrap_or_default();
        standing.changes.truncate(MOST);
        for change in &mut standing.changes {
            *change = change.chars().take(LONGEST).collect();
        }
        standing
    }

    /// Whether there is something to show.
    fn says_something(&self) -> bool {
        self.state != State::Nothing
    }
}

/// The notice, above the screen.
///
/// It comes at once while nobody has touched the page yet, or while a task runs (the styles put it
/// below the task then, and it is not read out); else with the next change of screen, so that no
/// control slips away from under a hand that was about to press it.
#[component]
pub fn VersionNotice() -> impl IntoView {
    let app = App::of_context();
    let standing = RwSignal::new(Standing::default());
    let shown = RwSignal::new(false);
    let touched = StoredValue::new(false);
    for press in ["pointerdown", "keydown"] {
        listen(press, move |_| touched.set_value(true));
    }
    listen(STANDS, move |event| {
        let new = Standing::of_event(event);
        let may_come = !touched.get_value() || app.session.runs() || shown.get_untracked();
        shown.set(new.says_something() && may_come);
        standing.set(new);
    });
    Effect::new(move |before: Option<()>| {
        app.screen.track();
        if before.is_some() {
            shown.set(standing.with_untracked(Standing::says_something));
        }
    });
    dispatch(ASKED);
    let live = move || if app.session.view.with(Option::is_some) { "off" } else { "polite" };
    view! {
        <div role="status" aria-live=live class="version no-print">
            {when(move || shown.get(), move || notice(app, standing))}
        </div>
    }
}

fn notice(app: App, standing: RwSignal<Standing>) -> AnyView {
    let waits = move || standing.with(|standing| standing.state != State::Changed);
    let title = move || (if waits() { words::WAITING } else { words::CHANGED }).to_owned();
    let has_changes = move || standing.with(|standing| !standing.changes.is_empty());
    let changes = move || {
        standing
            .with(|standing| standing.changes.clone())
            .into_iter()
            .map(|change| view! { <li>{change}</li> })
            .collect_view()
            .into_any()
    };
    view! {
        <section class="notice" aria-labelledby="version-title">
            <p id="version-title"><strong>{text(title)}</strong></p>
            {when(waits, || view! { <p>{words::WHEN}</p> }.into_any())}
            {when(has_changes, move || view! {
                {when(waits, || view! { <p>{words::WHAT_CHANGED}</p> }.into_any())}
                <ul>{part(changes)}</ul>
            }.into_any())}
            {when(waits, move || take_up(app, standing))}
            {when(move || !waits(), || view! {
                <div class="controls">
                    <button type="button" on:click=|_| { dispatch(READ); mend_focus(); }>{words::READ}</button>
                </div>
            }.into_any())}
        </section>
    }
    .into_any()
}

/// The button, with the reason where it cannot be pressed.
fn take_up(app: App, standing: RwSignal<Standing>) -> AnyView {
    let runs = move || app.session.view.with(Option::is_some);
    let others = move || standing.with(|standing| standing.state == State::Others) && !runs();
    let not_kept = move || {
        let only_here = |saved: &Saved| !matches!(saved, Saved::Nothing | Saved::At(_));
        app.saved.with(only_here) && !runs()
    };
    let press = move |_| {
        if !app.session.runs() {
            dispatch(TAKE_UP);
        }
    };
    view! {
        {when(runs, || view! { <p>{words::TASK_RUNS}</p> }.into_any())}
        {when(others, || view! { <p>{words::OTHERS}</p> }.into_any())}
        {when(not_kept, || view! { <p class="caution">{words::NOT_KEPT}</p> }.into_any())}
        <div class="controls">
            <button type="button" disabled=yes(runs) on:click=press>{words::TAKE_UP}</button>
        </div>
    }
    .into_any()
}

/// Follows an event of the window as long as the part that calls it is there.
fn listen(name: &'static str, told: impl FnMut(&web_sys::Event) + 'static) {
    let listener = StoredValue::new_local(Some(EventListener::new(&window(), name, told)));
    on_cleanup(move || {
        let _ = listener.try_update_value(Option::take);
    });
}

/// Sends an event to the script; where it is not there, nothing happens.
fn dispatch(name: &str) {
    let init = web_sys::CustomEventInit::new();
    if let Ok(event) = web_sys::CustomEvent::new_with_event_init_dict(name, &init) {
        let _ = window().dispatch_event(&event);
    }
}
