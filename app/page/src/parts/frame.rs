//! The frame around every screen: the way along the top, Rest, the windows, the foot.

use super::dialog::Dialog;
use super::live::when;
use crate::route::Screen;
use crate::state::App;
use crate::words::frame as words;
use fitting::task::Command;
use leptos::prelude::*;
use web_sys::KeyboardEvent;

/// The screens of the way, in order.
const WAY: [Screen; 6] = [
    Screen::Ready,
    Screen::Stick,
    Screen::Measure,
    Screen::Settings,
    Screen::Try,
    Screen::HandOver,
];

/// The way along the top, with what is done ticked, and Rest at its end.
#[component]
pub fn Top() -> impl IntoView {
    let app = App::of_context();
    let links = WAY
        .into_iter()
        .map(|screen| {
            let href = screen.hash();
            let name = words::screen(&screen);
            let here = {
                let screen = screen.clone();
                move || {
                    app.screen.with(|now| {
                        let within = || now.belongs_to().as_ref() == Some(&screen);
                        if *now == screen { Some("page") } else { within().then_some("true") }
                    })
                }
            };
            let done = Signal::derive(move || is_done(app, &screen));
            view! {
                <li>
                    <a href=href class:done=done aria-current=here>
                        {name}
                        {when(move || done.get(), || view! {
                            <span class="unseen">{format!(" ({})", words::DONE)}</span>
                        }.into_any())}
                    </a>
                </li>
            }
        })
        .collect_view();
    view! {
        <a class="button skip" href="#main" on:click=move |event| skip(&event)>{words::SKIP}</a>
        <header class="top">
            <a class="brand" href=Screen::Ready.hash()>{words::NAME}</a>
            <nav aria-label=words::WAY>
                <ul class="way">{links}</ul>
            </nav>
            <button type="button" class="rest" on:click=move |_| app.rest()>{words::REST}</button>
        </header>
    }
}

/// The skip link moves the focus itself: the address belongs to the way.
fn skip(event: &web_sys::MouseEvent) {
    event.prevent_default();
    focus_main();
}

/// Puts the focus at the beginning of the screen.
pub fn focus_main() {
    if let Some(main) = gloo_utils::document().get_element_by_id("main") {
        use wasm_bindgen::JsCast;
        // Every element with this id is ours and an HTML element.
        let _ = main.unchecked_into::<web_sys::HtmlElement>().focus();
    }
}

fn is_done(app: App, screen: &Screen) -> bool {
    match screen {
        Screen::Ready => app.visit.with(|visit| visit.safety.is_ready()),
        // A fitting that was opened again has its stick, whether it is plugged in now or not.
        Screen::Stick => {
            app.input.status().with(|status| status.chosen.is_some())
                || app.kept.with(|kept| kept.as_ref().is_some_and(|kept| kept.body.device.axes > 0))
        }
        Screen::Measure | Screen::Settings => app.analysis.with(|analysis| {
            analysis.as_ref().is_some_and(|analysis| {
                analysis.suggestions.dead_zone.is_ok()
                    && (*screen == Screen::Settings || analysis.suggestions.full_throw.is_ok())
            })
        }),
        _ => false,
    }
}

/// Puts a focus that was lost, because the control that had it is gone, on the main control of
/// the screen, or at its beginning: whoever works by keyboard or one switch goes on from there.
pub fn mend_focus() {
    request_animation_frame(|| {
        let document = gloo_utils::document();
        let lost = document.active_element().is_none_or(|active| active.tag_name() == "BODY");
        if !lost || a_window_is_open() {
            return;
        }
        // The main control of a closed window cannot take it.
        let main = "main .controls button.main:not(dialog *)";
        match document.query_selector(main).ok().flatten() {
            Some(main) => {
                use wasm_bindgen::JsCast;
                // The selector asks for a button.
                let _ = main.unchecked_into::<web_sys::HtmlElement>().focus();
            }
            None => focus_main(),
        }
    });
}

/// Escape rests, wherever the focus is, unless a window is open: that one it closes.
pub fn escape_rests(app: App) {
    let listener = window_event_listener(leptos::ev::keydown, move |event: KeyboardEvent| {
        if event.key() == "Escape" && !app.resting.get_untracked() && !a_window_is_open() {
            // Else the browser closes by the same press the window that it opens.
            event.prevent_default();
            app.rest();
        }
    });
    on_cleanup(move || listener.remove());
}

/// Whether a modal window is shown.
pub fn a_window_is_open() -> bool {
    gloo_utils::document().query_selector("dialog[open]").is_ok_and(|open| open.is_some())
}

/// The rest window.
#[component]
pub fn RestWindow() -> impl IntoView {
    let app = App::of_context();
    // Only the button goes on: whoever closes the window by Escape, perhaps pressing it again and
    // again, must not start a movement by it.
    let go_on = move |_| {
        if app.session.runs() && !app.input.status_now().device_gone {
            app.command(Command::GoOn);
        }
        app.resting.set(false);
    };
    let running = move || app.session.view.with(Option::is_some);
    view! {
        <Dialog open=app.resting title=words::REST_TITLE>
            <p>{words::REST_TEXT}</p>
            <p class="caution">{words::REST_SIGNS}</p>
            <div class="controls">
                <button type="button" class="main" on:click=go_on>
                    {words::GO_ON}
                </button>
                {when(running, move || view! {
                    <button type="button" on:click=move |_| {
                        app.command(Command::Stop);
                        app.resting.set(false);
                    }>
                        {words::END_TASK}
                    </button>
                    // The pause stays, and in it the choices beside the task.
                    <button type="button" on:click=move |_| app.resting.set(false)>
                        {words::ASK_OTHERWISE}
                    </button>
                }.into_any())}
            </div>
        </Dialog>
    }
}

/// The foot: what this is not, and light or dark.
#[component]
pub fn Foot() -> impl IntoView {
    let choose = move |event| light(&event_target_value(&event));
    view! {
        <footer>
            <p>{words::FOOT}</p>
            <label>
                {words::LIGHT} " "
                <select on:change=choose>
                    <option value="system">{words::LIGHT_SYSTEM}</option>
                    <option value="day">{words::LIGHT_DAY}</option>
                    <option value="night">{words::LIGHT_NIGHT}</option>
                </select>
            </label>
        </footer>
    }
}

/// Sets light or dark on the root; anything else leaves it to the system.
fn light(choice: &str) {
    let Some(root) = gloo_utils::document().document_element() else { return };
    let _ = match choice {
        "day" | "night" => root.set_attribute("data-light", choice),
        _ => root.remove_attribute("data-light"),
    };
}
