//! That a fitting is open in another window, and what can be done about it; above every screen.

use super::dialog::Dialog;
use super::live::{effect, part};
use crate::route::{Screen, go};
use crate::state::{App, Elsewhere};
use crate::words::{hand_over, windows as words};
use leptos::prelude::*;

/// The notice and the question.
#[component]
pub fn OtherWindow() -> impl IntoView {
    let app = App::of_context();
    app.watch_windows();
    let wanted = app.wanted_elsewhere();
    let asks = RwSignal::new(false);
    let id = StoredValue::new(None::<String>);
    effect(move || {
        if let Some(one) = wanted.get() {
            id.set_value(Some(one));
            asks.set(true);
        } else {
            asks.set(false);
        }
    });
    let wanted = app.wanted_elsewhere();
    let use_here = move |_| {
        asks.set(false);
        if let Some(id) = id.get_value() {
            leptos::task::spawn_local(async move { app.take_over(&id).await });
        }
    };
    view! {
        {part(move || app.went_where().map(|how| notice(app, how)).into_any())}
        <Dialog open=asks title=words::TITLE on_close=move |()| wanted.set(None)>
            <p>{words::TEXT}</p>
            <div class="controls">
                <button type="button" class="main" on:click=use_here>{words::USE_HERE}</button>
                <button type="button" on:click=move |_| asks.set(false)>{words::LEAVE}</button>
            </div>
        </Dialog>
    }
}

fn notice(app: App, how: Elsewhere) -> AnyView {
    let back = (how == Elsewhere::TakenOver).then(|| {
        let back = move |_| {
            let Some(id) =
                app.kept.with_untracked(|kept| kept.as_ref().map(|kept| kept.id.clone()))
            else {
                return;
            };
            leptos::task::spawn_local(async move { app.take_over(&id).await });
        };
        view! { <button type="button" class="main" on:click=back>{words::TAKE_BACK}</button> }
    });
    let close = move |_| {
        app.begin_anew();
        go(&Screen::Ready);
    };
    view! {
        <div class="version no-print">
            <div class="caution" role="alert">
                <p>{words::what(how)}</p>
                <div class="controls">
                    {back}
                    <button type="button" on:click=move |_| app.export_fitting()>
                        {hand_over::SAVE_FITTING}
                    </button>
                    <button type="button" on:click=close>{words::CLOSE}</button>
                </div>
            </div>
        </div>
    }
    .into_any()
}
