//! The root of the page: the frame, and the screen the address stands for.

use crate::parts::frame::{Foot, RestWindow, Top, escape_rests, focus_main};
use crate::parts::live::part;
use crate::route::Screen;
use crate::screens::{Ready, Stick};
use crate::state::App;
use crate::words::{frame as words, trouble as trouble_words};
use leptos::prelude::*;

/// The whole page.
#[component]
pub fn Page() -> impl IntoView {
    let app = App::start();
    provide_context(app);
    escape_rests(app);
    title_and_focus(app);
    let screen = move || match app.screen.get() {
        Screen::Ready => view! { <Ready/> }.into_any(),
        Screen::Stick => view! { <Stick/> }.into_any(),
        screen => later(app, screen),
    };
    view! {
        <Top/>
        {part(move || app.later.get().map(|later| (later.version)()).into_any())}
        <main id="main" tabindex="-1">{part(screen)}</main>
        <Foot/>
        <RestWindow/>
    }
}

/// A screen of the later part, or what is said until it is there.
fn later(app: App, screen: Screen) -> AnyView {
    part(move || match app.later.get() {
        Some(later) => (later.screen)(screen.clone()),
        None if app.later_missing.get() => {
            let message = trouble_words::LATER_MISSING;
            view! {
                <h1 tabindex="-1">{trouble_words::TITLE}</h1>
                <p role="alert">{message.happened}</p>
                <p><strong>{trouble_words::SAFE}</strong> " " {message.safe}</p>
                <p><strong>{trouble_words::TO_DO}</strong> " " {message.to_do}</p>
                <div class="controls">
                    <button type="button" class="main" on:click=move |_| app.load_later()>
                        {words::AGAIN}
                    </button>
                </div>
            }
            .into_any()
        }
        None => view! { <p role="status">{words::LOADING}</p> }.into_any(),
    })
}

/// A change of screen changes the title and puts the focus at its beginning, as a change of page
/// would; the first screen leaves the focus where the browser puts it.
fn title_and_focus(app: App) {
    Effect::new(move |before: Option<Screen>| {
        let screen = app.screen.get();
        gloo_utils::document().set_title(&format!("{} · {}", words::screen(&screen), words::NAME));
        if before.is_some_and(|before| before != screen) {
            gloo_utils::window().scroll_to_with_x_and_y(0.0, 0.0);
            focus_main();
        }
        screen
    });
}
