//! The root of the page: the frame, and the screen the address stands for.

use crate::parts::frame::{Foot, RestWindow, Top, TroubleWindow, escape_rests, focus_main};
use crate::route::Screen;
use crate::screens::{HandOver, Kept, Measure, Ready, SettingsScreen, Shared, Stick, TryIt};
use crate::state::App;
use crate::words::frame as words;
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
        Screen::Measure => view! { <Measure/> }.into_any(),
        Screen::Settings => view! { <SettingsScreen/> }.into_any(),
        Screen::Try => view! { <TryIt/> }.into_any(),
        Screen::HandOver => view! { <HandOver/> }.into_any(),
        Screen::Kept => view! { <Kept/> }.into_any(),
        Screen::Shared(fragment) => view! { <Shared fragment/> }.into_any(),
    };
    view! {
        <Top/>
        <main id="main" tabindex="-1">{screen}</main>
        <Foot/>
        <RestWindow/>
        <TroubleWindow/>
    }
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
