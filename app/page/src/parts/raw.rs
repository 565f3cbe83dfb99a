//! The raw reports of a device: asking for them, what it says of itself, raw beside shown.

use super::descriptor::told;
use super::live::{attribute, effect, part, text, when, yes};
use super::raw_plot::raw_plot;
use crate::hid::{self, Figures, Opened, Standing};
use crate::input::Source;
use crate::state::App;
use crate::words::{raw as words, stick};
use device::hid::Usage;
use device::hid::usage::{X, Y};
use leptos::prelude::*;
use wasm_bindgen::JsCast;

/// How often figures are drawn, seconds.
const FIGURES_SECONDS: f64 = 0.3;

/// The section on the screen of what gets through.
pub fn section(app: App) -> AnyView {
    hid::look();
    on_cleanup(move || hid::close_unless_wanted(app));
    let standing = Memo::new(move |_| hid::standing());
    // Drawn anew only when it opens or closes: a press of the same button may follow.
    let shown = Memo::new(move |_| match standing.get() {
        standing @ (Standing::Missing | Standing::Open) => standing,
        _ => Standing::Closed,
    });
    let before = StoredValue::new(shown.get_untracked());
    effect(move || {
        let now = shown.get();
        // Not as the screen comes up: then the focus is at its beginning.
        if before.try_update_value(|before| std::mem::replace(before, now)) != Some(now) {
            keep_focus();
        }
    });
    view! {
        <section aria-labelledby="raw">
            <h2 id="raw" tabindex="-1">{words::TITLE}</h2>
            <p>{words::WHAT}</p>
            <p role="status" dir="auto">{text(move || match standing.get() {
                Standing::Open => hid::opened().map(|one| words::reads(&one.name)).unwrap_or_default(),
                standing => words::standing(standing).to_owned(),
            })}</p>
            {part(move || match shown.get() {
                Standing::Missing => ().into_any(),
                Standing::Open => match hid::opened() {
                    Some(opened) => open(app, &opened),
                    None => ().into_any(),
                },
                _ => asking(app),
            })}
        </section>
    }
    .into_any()
}

/// The focus of a control that is gone goes to the beginning of the section.
fn keep_focus() {
    request_animation_frame(|| {
        let document = gloo_utils::document();
        let lost = document.active_element().is_none_or(|active| active.tag_name() == "BODY");
        if let Some(title) = document.get_element_by_id("raw").filter(|_| lost) {
            // Ours, and an HTML element.
            let _ = title.unchecked_into::<web_sys::HtmlElement>().focus();
        }
    });
}

/// The buttons that ask.
fn asking(app: App) -> AnyView {
    let allowed = move || {
        let names = hid::allowed().into_iter().enumerate();
        names
            .map(|(place, name)| view! {
                <button type="button" dir="auto" on:click=move |_| hid::open_allowed(app, place)>
                    {words::open_allowed(&name)}
                </button>
            })
            .collect_view()
            .into_any()
    };
    view! {
        <div class="controls">
            {part(allowed)}
            <button type="button" on:click=move |_| hid::ask(app, false)>{words::ASK}</button>
            <button type="button" on:click=move |_| hid::ask(app, true)>{words::ASK_ANY}</button>
        </div>
    }
    .into_any()
}

/// What there is while reports are read.
fn open(app: App, opened: &Opened) -> AnyView {
    // What is shown is looked at as closely as a measurement does.
    app.input.measuring(true);
    on_cleanup(move || app.input.measuring(false));
    let axis = RwSignal::new(0_usize);
    let figures = RwSignal::new(None::<Figures>);
    let drawn = StoredValue::new(0.0);
    app.input.each_frame(move |frame| {
        hid::look_at_shown(app);
        if frame.now_seconds - drawn.get_value() < FIGURES_SECONDS {
            return;
        }
        drawn.set_value(frame.now_seconds);
        let now = hid::figures(axis.get_untracked());
        if figures.with_untracked(|before| *before != now) {
            figures.set(now);
        }
    });
    view! {
        {told(&opened.device)}
        <h3>{words::RATE}</h3>
        <p>{text(move || figures.with(|now| {
            words::rate(now.as_ref().and_then(|now| now.rate.as_ref()))
        }))}</p>
        <p class="soft">{text(move || shown_rate(app, figures))}</p>
        {beside(app, opened, axis, figures)}
        {measure(app)}
        <div class="controls">
            <button type="button" on:click=move |_| {
                if app.input.chosen() == Some(Source::Fed) {
                    app.leave_task();
                    app.input.choose_none();
                }
                hid::close(app);
            }>{words::CLOSE}</button>
        </div>
    }
    .into_any()
}

/// How fast what is shown changes, where it is the chosen stick: only then it is looked at closely.
fn shown_rate(app: App, figures: RwSignal<Option<Figures>>) -> String {
    figures.track();
    let is_pad = matches!(app.input.chosen(), Some(Source::Pad(_)));
    let fastest = app.input.statistics().fastest_seconds.filter(|_| is_pad);
    fastest.map(words::shown_rate).unwrap_or_default()
}

/// Raw beside shown, of one axis at a time; all are collected.
fn beside(
    app: App,
    opened: &Opened,
    axis: RwSignal<usize>,
    figures: RwSignal<Option<Figures>>,
) -> AnyView {
    if opened.axes.is_empty() {
        return view! { <p>{words::NO_AXES}</p> }.into_any();
    }
    let axes = opened.axes.clone();
    let options = axes
        .iter()
        .enumerate()
        .map(|(place, one)| {
            let chosen = yes(move || axis.get() == place);
            view! { <option value=place selected=chosen>{words::axis_name(place, one)}</option> }
        })
        .collect_view();
    let course = Memo::new(move |_| {
        figures.with(|now| now.as_ref().map(|now| now.course.clone()).unwrap_or_default())
    });
    let now = Memo::new(move |_| figures.with(|now| now.as_ref().map(|now| now.raw)));
    let lines = Memo::new(move |_| {
        let usage = axes.get(axis.get()).map(|axis| axis.usage).unwrap_or_default();
        figures.with(|now| {
            now.as_ref().map(|now| words::findings(usage, &now.findings)).unwrap_or_default()
        })
    });
    let late = Memo::new(move |_| {
        figures.with(|now| now.as_ref().and_then(|now| now.late)).map(words::late)
    });
    let shown = Memo::new(move |_| {
        app.input.status().track();
        hid::shown_device(app).map(|seen| (seen.name, seen.axes))
    });
    let choose_axis = move |event| {
        if let Ok(place) = event_target_value(&event).parse() {
            axis.set(place);
            figures.set(hid::figures(place));
        }
    };
    view! {
        <h3>{words::BESIDE}</h3>
        <p>{words::BESIDE_HELP}</p>
        {when(move || shown.with(Option::is_none), || view! {
            <p class="notice">{words::NOT_SHOWN}</p>
        }.into_any())}
        {part(move || late.get().map(|text| view! { <p class="notice">{text}</p> }).into_any())}
        <div class="answer">
            <label for="raw-axis">{words::AXIS}</label>
            <select id="raw-axis" on:change=choose_axis>{options}</select>
        </div>
        {part(move || shown.get().map(|(name, count)| shown_as(&name, count, axis, figures)).into_any())}
        <div class="curve-plot">{raw_plot(course, now)}</div>
        <section aria-labelledby="raw-found">
            <h4 id="raw-found">{words::FOUND}</h4>
            <ul>{part(move || lines.get().into_iter().map(|line| view! { <li>{line}</li> })
                .collect_view().into_any())}</ul>
        </section>
    }
    .into_any()
}

/// As which axis of the shown device it is shown.
fn shown_as(
    name: &str,
    count: usize,
    axis: RwSignal<usize>,
    figures: RwSignal<Option<Figures>>,
) -> AnyView {
    let pair = Memo::new(move |_| figures.with(|now| now.as_ref().map(|now| now.pair)));
    let options = (0..count)
        .map(|place| {
            let chosen = yes(move || pair.get().is_some_and(|(shown, _)| shown == place));
            view! { <option value=place selected=chosen>{stick::axis(place)}</option> }
        })
        .collect_view();
    let choose = move |event| {
        if let Ok(place) = event_target_value(&event).parse() {
            hid::pair_by_hand(axis.get_untracked(), place);
        }
    };
    let name = if name.is_empty() { stick::UNNAMED } else { name }.to_owned();
    view! {
        <div class="answer">
            <label for="raw-shown">{words::SHOWN_AS}</label>
            <select id="raw-shown" on:change=choose>{options}</select>
            <p class="soft small" dir="auto">{name}</p>
            <p class="soft small">{text(move || {
                pair.get().map(|(_, by)| words::paired(by).to_owned()).unwrap_or_default()
            })}</p>
        </div>
    }
    .into_any()
}

/// Choosing it as the stick to measure with.
fn measure(app: App) -> AnyView {
    view! {
        <div class="controls">{choose(app, words::MEASURE.to_owned())}</div>
        <p class="soft small">{words::MEASURE_HELP}</p>
    }
    .into_any()
}

/// Takes it up as the stick. A report may hold its axes in any order, and names them: where nothing
/// is recorded with it yet, X is across and Y along.
fn take(app: App) {
    if app.input.chosen() == Some(Source::Fed) {
        return;
    }
    app.choose(Source::Fed);
    hid::feed_again(app);
    if app.input.chosen() != Some(Source::Fed) || !app.records.with_untracked(|all| all.is_empty())
    {
        return;
    }
    let place = |usage: Usage| {
        let opened = hid::opened()?;
        opened.axes.iter().position(|axis| axis.usage == usage)
    };
    if let Some((across, along)) = untrack(|| place(X).zip(place(Y))) {
        app.axes.update(|axes| {
            axes.horizontal.index = across;
            axes.vertical.index = along;
        });
    }
}

fn choose(app: App, name: String) -> AnyView {
    let chosen = move || app.input.status().with(|status| status.chosen == Some(Source::Fed));
    view! {
        <button
            type="button" dir="auto"
            aria-pressed=attribute(move || chosen().to_string())
            on:click=move |_| {
                take(app);
            }
        >
            {name}
        </button>
    }
    .into_any()
}

/// On the screen of sticks: the open device as one more of them.
pub fn as_source(app: App) -> AnyView {
    on_cleanup(move || hid::close_unless_wanted(app));
    let opened = Memo::new(move |_| hid::opened().filter(|_| hid::standing() == Standing::Open));
    part(move || {
        let Some(opened) = opened.get() else { return ().into_any() };
        view! {
            <section aria-labelledby="raw">
                <h2 id="raw">{words::TITLE}</h2>
                <div class="choices">{choose(app, words::source_name(&opened.name))}</div>
                <p class="soft small">{words::MEASURE_HELP}</p>
            </section>
        }
        .into_any()
    })
}
