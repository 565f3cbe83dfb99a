//! Which button does which job: what is needed, what is there, and the plan.

use super::hand_over::print;
use crate::parts::buttons_known::{Buttons, Switches};
use crate::parts::buttons_plan::planned;
use crate::parts::frame::mend_focus;
use crate::parts::live::{part, text};
use crate::route::Screen;
use crate::state::App;
use crate::words::{buttons as words, hosts, layout, through};
use fitting::visit::{Job, MOST_JOBS};
use leptos::html;
use leptos::prelude::*;
use wasm_bindgen::JsCast;

/// The places of the open standard's layout.
const PLACES: std::ops::Range<u8> = 0..17;

/// The screen.
#[component]
pub fn ButtonsScreen() -> impl IntoView {
    let app = App::of_context();
    view! {
        <div class="two">
            <div class="no-print">
                <h1 tabindex="-1">{words::TITLE}</h1>
                <p>{words::WHAT}</p>
                {jobs(app)}
                <Buttons/>
                <Switches/>
                {host(app)}
            </div>
            <div>
                <section class="card" aria-labelledby="button-plan">
                    <h2 id="button-plan">{words::PLAN}</h2>
                    {part(move || match app.button_plan() {
                        Some((sources, plan)) => planned(&sources, &plan),
                        None => view! { <p>{words::NO_JOBS}</p> }.into_any(),
                    })}
                </section>
                <p class="caution">{words::CAUTION}</p>
                <div class="controls no-print">
                    <button type="button" on:click=move |_| print(app)>{through::PRINT}</button>
                    <a class="button" href=Screen::Through.hash()>{words::HOST}</a>
                </div>
            </div>
        </div>
    }
}

fn host(app: App) -> AnyView {
    let name = move || {
        app.host().map_or_else(
            || through::line(None, None),
            |(chosen, host)| {
                let port = app.port() as usize;
                let name = hosts::name(chosen, Some(&host));
                match host.ports.get(port) {
                    Some(one) if host.ports.len() > 1 => {
                        format!("{name}: {}", hosts::port(port, one))
                    }
                    _ => name,
                }
            },
        )
    };
    view! {
        <section aria-labelledby="plan-host">
            <h2 id="plan-host">{words::HOST}</h2>
            <p dir="auto">{text(name)} ". " <a href=Screen::Through.hash()>{through::TITLE}</a></p>
        </section>
    }
    .into_any()
}

/// The jobs in order of need.
fn jobs(app: App) -> AnyView {
    let list = Memo::new(move |_| app.visit.with(|visit| visit.devices.jobs.clone()));
    let rows = move || {
        let list = list.get();
        let last = list.len().saturating_sub(1);
        list.into_iter()
            .enumerate()
            .map(|(place, job)| row(app, place, last, &job))
            .collect_view()
            .into_any()
    };
    view! {
        <section aria-labelledby="needed">
            <h2 id="needed">{words::JOBS}</h2>
            {add(app)}
            <ol class="ranked">{part(rows)}</ol>
        </section>
    }
    .into_any()
}

fn row(app: App, place: usize, last: usize, job: &Job) -> AnyView {
    let control = move |what: &'static str, to: Option<usize>, off: bool| {
        let name = words::of_job(what, job);
        view! {
            <button type="button" id=id(what, place) aria-label=name aria-disabled=off.to_string() on:click=move |_| {
                if off {
                    return;
                }
                app.change_visit(|visit| match to {
                    Some(to) => visit.devices.jobs.swap(place, to),
                    None => drop(visit.devices.jobs.remove(place)),
                });
                focus_again(what, to);
            }>{what}</button>
        }
    };
    view! {
        <li>
            <span dir="auto">{words::job(job)}</span>
            <div class="controls">
                {control(words::UP, Some(place.saturating_sub(1)), place == 0)}
                {control(words::DOWN, Some((place + 1).min(last)), place == last)}
                {control(words::REMOVE, None, false)}
            </div>
        </li>
    }
    .into_any()
}

fn id(what: &str, place: usize) -> String {
    format!("job-{what}-{place}")
}

/// The list was drawn anew: the same control of the moved job has the focus again.
fn focus_again(what: &'static str, place: Option<usize>) {
    request_animation_frame(move || {
        let again =
            place.and_then(|place| gloo_utils::document().get_element_by_id(&id(what, place)));
        match again.and_then(|element| element.dyn_into::<web_sys::HtmlElement>().ok()) {
            // An element that is there can take it.
            Some(element) => drop(element.focus()),
            None => mend_focus(),
        }
    });
}

/// Another job, in own words or by its place.
fn add(app: App) -> AnyView {
    let field = NodeRef::<html::Input>::new();
    let place = NodeRef::<html::Select>::new();
    let take = move |job: Job| {
        app.change_visit(|visit| {
            if visit.devices.jobs.len() < MOST_JOBS {
                visit.devices.jobs.push(job);
            }
            *visit = visit.tidied();
        });
    };
    let own = move || {
        let Some(input) = field.get_untracked() else { return };
        take(Job::Own(input.value()));
        input.set_value("");
        // An element that is there can take it.
        let _ = input.focus();
    };
    let options = PLACES
        .map(|place| view! { <option value=place.to_string()>{layout::button(place)}</option> })
        .collect_view();
    view! {
        <form class="answer" on:submit=move |event| {
            event.prevent_default();
            own();
        }>
            <label for="own-job">{words::OWN}</label>
            <div class="controls">
                <input id="own-job" type="text" maxlength="80" autocomplete="off" node_ref=field aria-describedby="own-job-help"/>
                <button type="submit">{words::ADD}</button>
            </div>
            <span id="own-job-help" class="soft small">{words::OWN_HELP}</span>
        </form>
        <div class="answer">
            <label for="place-job">{words::PLACE}</label>
            <div class="controls">
                <select id="place-job" node_ref=place>{options}</select>
                <button type="button" on:click=move |_| {
                    let chosen = place.get_untracked().and_then(|select| select.value().parse().ok());
                    if let Some(place) = chosen {
                        take(Job::Position(place));
                    }
                }>{words::ADD}</button>
            </div>
        </div>
    }
    .into_any()
}
