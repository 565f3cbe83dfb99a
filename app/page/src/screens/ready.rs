//! Before anything moves: what this is, three checks, and cards with what helps to know.

use crate::parts::frame::mend_focus;
use crate::parts::live::{part, text, when};
use crate::parts::tick::tick;
use crate::route::{Screen, go};
use crate::state::App;
use crate::words::{frame as frame_words, ready as words};
use fitting::summary::{MOST_LABEL_CHARACTERS, plain_text};
use fitting::visit::Safety;
use leptos::prelude::*;

/// The first screen.
#[component]
pub fn Ready() -> impl IntoView {
    let app = App::of_context();
    let named = move || {
        // Typed just now: made plain only when it is kept.
        let label = plain_text(&app.label.get(), MOST_LABEL_CHARACTERS);
        if label.trim().is_empty() { words::UNNAMED.to_owned() } else { label }
    };
    let open = move || app.kept.with(Option::is_some);
    // In the later part of the program: the first screen does not wait for it.
    let cards = move || match app.later.get() {
        Some(later) => (later.ready)(),
        None => view! { <p role="status">{frame_words::LOADING}</p> }.into_any(),
    };
    view! {
        <div class="two">
            <div>
                <h1 tabindex="-1">{words::TITLE}</h1>
                <p>{words::WELCOME}</p>
                <p class="soft">{words::ORDER}</p>
                <Checks/>
                <p class="soft">{words::STOP_HELP}</p>
                <p>
                    <label for="label">{words::LABEL}</label>
                    <input
                        id="label" type="text" maxlength="80" autocomplete="off"
                        aria-describedby="label-help"
                        prop:value=app.label
                        on:input=move |event| app.label.set(event_target_value(&event))
                        on:change=move |_| app.keep_fitting()
                    />
                    <span id="label-help" class="soft small">{words::LABEL_HELP}</span>
                </p>
                <div class="controls">
                    <button type="button" class="main" on:click=move |_| go(&Screen::Stick)>
                        {words::NEXT}
                    </button>
                    <a class="button" href=Screen::Kept.hash()>{words::KEPT}</a>
                    {when(open, move || view! {
                        <button type="button" on:click=move |_| {
                            app.begin_anew();
                            mend_focus();
                        }>{words::FRESH}</button>
                    }.into_any())}
                </div>
                {when(open, move || view! {
                    <p class="notice">{text(move || words::open_now(&named()))}</p>
                }.into_any())}
            </div>
            <div>
                {part(cards)}
                <ul class="caution">
                    {words::ALWAYS.map(|text| view! { <li>{text}</li> }).collect_view()}
                    <li>{words::MOUNT}</li>
                </ul>
            </div>
        </div>
    }
}

/// The three checks.
#[component]
fn Checks() -> impl IntoView {
    type Check = (&'static str, fn(&mut Safety) -> &mut bool);
    let app = App::of_context();
    let checks: [Check; 3] = [
        (words::CHECK_DRIVE, |safety| &mut safety.drive_off),
        (words::CHECK_CLEAR, |safety| &mut safety.lines_clear),
        (words::CHECK_STOP, |safety| &mut safety.stop.tried),
    ];
    let checks = checks
        .into_iter()
        .map(|(text, of)| {
            let is = move || app.visit.with(|visit| *of(&mut visit.safety.clone()));
            tick(text, is, move |is| app.change_visit(|visit| *of(&mut visit.safety) = is))
        })
        .collect_view();
    view! {
        <fieldset>
            <legend>{words::CHECKS}</legend>
            {checks}
        </fieldset>
    }
}
