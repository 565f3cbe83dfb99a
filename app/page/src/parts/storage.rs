//! How safe what is kept is: a notice above every screen while something is not kept, and how it stands
//! on the screen of what is kept.

use super::live::{effect, part};
use crate::state::{App, Saved};
use crate::store::Lasting;
use crate::words::{hand_over, storage as words};
use leptos::prelude::*;

/// After so many days without a file, a reminder.
const REMIND_AFTER_DAYS: u64 = 30;

/// With so many fittings and no file at all, a reminder.
const REMIND_FROM_FITTINGS: usize = 3;

/// What is in the page's memory only, with a way to save it. It stays until it is kept.
#[component]
pub fn StorageNotice() -> impl IntoView {
    let app = App::of_context();
    let state = Memo::new(move |_| match app.saved.get() {
        Saved::Failed => Some(words::FAILED),
        Saved::InMemory => Some(words::IN_MEMORY),
        Saved::Nothing | Saved::NotWanted | Saved::Saving | Saved::At(_) => None,
    });
    part(move || match state.get() {
        None => ().into_any(),
        Some(text) => {
            let again = (text == words::FAILED).then(|| {
                view! { <button type="button" on:click=move |_| app.keep_again()>{words::AGAIN}</button> }
            });
            view! {
                <div class="version no-print">
                    <div class="caution" role="status">
                        <p>{text}</p>
                        <div class="controls">
                            <button type="button" on:click=move |_| app.export_fitting()>
                                {hand_over::SAVE_FITTING}
                            </button>
                            {again}
                        </div>
                    </div>
                </div>
            }
            .into_any()
        }
    })
}

/// How it stands with the browser's storage, and a reminder to save a file.
#[component]
pub fn StorageState(
    /// How many fittings are kept; it is looked at anew whenever this changes.
    fittings: Signal<usize, LocalStorage>,
) -> impl IntoView {
    let app = App::of_context();
    let lasting = RwSignal::new(None::<Lasting>);
    effect(move || {
        let _ = (fittings.get(), app.saved.get(), app.saved_as_file().get());
        let Some(store) = app.store.get() else { return };
        leptos::task::spawn_local(async move {
            let found = store.lasting().await;
            // The screen may be gone by now.
            let _ = lasting.try_set(Some(found));
        });
    });
    part(move || {
        let Some(lasting) = lasting.get() else { return ().into_any() };
        if app.store.with(|store| store.as_ref().is_none_or(|store| !store.is_lasting())) {
            return ().into_any();
        }
        let count = fittings.get();
        let reminder = match lasting.saved_days_ago {
            _ if count == 0 => None,
            None if count >= REMIND_FROM_FITTINGS => Some(words::NEVER_SAVED.to_owned()),
            Some(days) if days >= REMIND_AFTER_DAYS => Some(words::saved_days_ago(days)),
            _ => None,
        };
        let reminder = reminder.map(|text| view! { <p class="notice">{text}</p> });
        let room = lasting.used_bytes.zip(lasting.free_bytes);
        let room = room.map(|(used, free)| format!(" {}", words::room(used, free)));
        view! {
            <p class="soft">{words::promised(lasting.promised)}{room}</p>
            {reminder}
        }
        .into_any()
    })
}
