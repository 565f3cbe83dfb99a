//! The window that tells of a trouble. It comes with the later part, as its words are many; a trouble
//! before that waits for it, and that the later part is missing is told by the first.

use super::dialog::Dialog;
use super::live::{effect, text};
use crate::errors::Trouble;
use crate::state::App;
use crate::words::{frame as words, trouble as trouble_words};
use leptos::prelude::*;

/// The window that tells of a trouble.
#[component]
pub fn TroubleWindow() -> impl IntoView {
    let app = App::of_context();
    let open = RwSignal::new(false);
    effect(move || {
        if app.trouble.get().is_some() {
            open.set(true);
        }
    });
    let shown = move || app.trouble.get().unwrap_or(Trouble::Unexpected);
    let message = move || trouble_words::message(shown());
    view! {
        <Dialog
            open
            title=trouble_words::TITLE
            on_close=Callback::new(move |()| app.trouble.set(None))
        >
            <p role="alert">{text(move || message().happened.to_owned())}</p>
            <p><strong>{trouble_words::SAFE}</strong> " " {text(move || message().safe.to_owned())}</p>
            <p><strong>{trouble_words::TO_DO}</strong> " " {text(move || message().to_do.to_owned())}</p>
            <div class="controls">
                <button type="button" class="main" on:click=move |_| open.set(false)>
                    {words::CLOSE}
                </button>
            </div>
        </Dialog>
    }
}
