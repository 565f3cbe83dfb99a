//! Before anything moves: what this is, three checks, the cautions that go with an answer.

use crate::parts::frame::mend_focus;
use crate::parts::live::{text, when, yes};
use crate::route::{Screen, go};
use crate::state::App;
use crate::words::ready as words;
use leptos::prelude::*;

/// The first screen.
#[component]
pub fn Ready() -> impl IntoView {
    let app = App::of_context();
    let named = move || {
        let label = app.label.get();
        if label.trim().is_empty() { words::UNNAMED.to_owned() } else { label }
    };
    let open = move || app.records.with(|records| !records.is_empty());
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
                <Conditions/>
                <p class="caution">{words::MOUNT}</p>
            </div>
        </div>
    }
}

/// The three checks.
#[component]
fn Checks() -> impl IntoView {
    let app = App::of_context();
    let checks = [words::CHECK_DRIVE, words::CHECK_CLEAR, words::CHECK_STOP]
        .into_iter()
        .enumerate()
        .map(|(index, text)| {
            view! {
                <label class="tick">
                    <input
                        type="checkbox"
                        prop:checked=yes(move || app.checks.get()[index])
                        on:change=move |event| {
                            app.checks.update(|checks| checks[index] = event_target_checked(&event));
                        }
                    />
                    <span>{text}</span>
                </label>
            }
        })
        .collect_view();
    view! {
        <fieldset>
            <legend>{words::CHECKS}</legend>
            {checks}
        </fieldset>
    }
}

/// Conditions that need care, each with the caution that goes with it.
#[component]
fn Conditions() -> impl IntoView {
    let rows = words::CONDITIONS
        .into_iter()
        .map(|(condition, caution)| {
            let holds = RwSignal::new(false);
            view! {
                <label class="tick">
                    <input
                        type="checkbox"
                        prop:checked=holds
                        on:change=move |event| holds.set(event_target_checked(&event))
                    />
                    <span>{condition}</span>
                </label>
                <div role="status">
                    {when(move || holds.get(), move || view! { <p class="caution">{caution}</p> }.into_any())}
                </div>
            }
        })
        .collect_view();
    view! {
        <section class="card" role="group" aria-labelledby="conditions">
            <h2 id="conditions">{words::ASK}</h2>
            <p class="soft">{words::ASK_HELP}</p>
            {rows}
        </section>
    }
}
