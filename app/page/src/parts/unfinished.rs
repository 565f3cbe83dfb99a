//! What a crash left, and whether it is to be kept.

use super::frame::mend_focus;
use super::live::{effect, part};
use crate::state::App;
use crate::store::Unfinished;
use crate::words::unfinished as words;
use leptos::prelude::*;

/// The tasks that were under way when a page went; nothing where there is none.
#[component]
pub fn UnfinishedTasks() -> impl IntoView {
    let app = App::of_context();
    let left = RwSignal::new_local(Vec::<Unfinished>::new());
    let look = move || {
        leptos::task::spawn_local(async move {
            let found = app.unfinished().await;
            // The screen may be gone by now.
            let _ = left.try_set(found);
        });
    };
    effect(move || {
        if app.store.with(Option::is_some) {
            look();
        }
    });
    part(move || {
        let rows = left.get();
        if rows.is_empty() {
            return ().into_any();
        }
        view! {
            <section class="card" aria-labelledby="unfinished">
                <h2 id="unfinished">{words::TITLE}</h2>
                <p>{words::WHAT}</p>
                {rows.into_iter().map(|one| row(app, one, look)).collect_view()}
            </section>
        }
        .into_any()
    })
}

fn row(app: App, one: Unfinished, look: impl Fn() + Copy + 'static) -> AnyView {
    let line = words::line(&one.task.body, &one.label);
    let keep = format!("{}: {line}", words::KEEP);
    let throw = format!("{}: {line}", words::DROP);
    let task = StoredValue::new_local(one.task);
    view! {
        <p dir="auto"><strong>{line}</strong></p>
        <div class="controls">
            <button type="button" class="main" aria-label=keep on:click=move |_| {
                let task = task.get_value();
                leptos::task::spawn_local(async move { app.keep_unfinished(&task).await });
            }>{words::KEEP}</button>
            <button type="button" aria-label=throw on:click=move |_| {
                let task = task.get_value();
                leptos::task::spawn_local(async move {
                    app.drop_unfinished(&task).await;
                    look();
                    mend_focus();
                });
            }>{words::DROP}</button>
        </div>
    }
    .into_any()
}
