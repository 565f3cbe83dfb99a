//! Several devices side by side, each with its role, its state and its own series.

use crate::input::Source;
use crate::parts::answer::{Row, line};
use crate::parts::frame::mend_focus;
use crate::parts::live::{part, text, when, yes};
use crate::route::{Screen, go};
use crate::state::App;
use crate::words::{hosts, stick as stick_words, through, together as words};
use device::through::{Asked, together, verdict};
use fitting::Position;
use fitting::visit::{DeviceRole, DeviceUsed, MOST_DEVICES, Visit};
use leptos::prelude::*;

/// How often positions are written, seconds: numbers that change faster cannot be read.
const FIGURES_SECONDS: f64 = 0.15;

/// The screen.
#[component]
pub fn TogetherScreen() -> impl IntoView {
    let app = App::of_context();
    let count = Memo::new(move |_| app.visit.with(|visit| visit.devices.used.len()));
    let in_use = Memo::new(move |_| app.visit.with(Visit::device_in_use));
    let cards = move || {
        let in_use = in_use.get();
        (0..count.get()).map(|place| card(app, place, in_use)).collect_view().into_any()
    };
    view! {
        <h1 tabindex="-1">{words::TITLE}</h1>
        <p>{words::WHAT}</p>
        {when(move || count.get() == 0, move || alone(app))}
        <div class="side-by-side">{part(cards)}</div>
        {when(move || count.get() > 1, move || on_host(app))}
        <Add/>
        <p class="caution">{words::CAUTION}</p>
    }
}

/// What is there before a second one is added.
fn alone(app: App) -> AnyView {
    let name = Memo::new(move |_| app.device_seen().map(|seen| seen.name));
    view! {
        <p role="status">{text(move || match name.get() {
            Some(name) => format!("{} {}", words::ALONE, words::name(0, &name)),
            None => words::NONE.to_owned(),
        })}</p>
        {when(move || name.with(Option::is_none), || view! {
            <p><a href=Screen::Stick.hash()>{words::FIRST}</a></p>
        }.into_any())}
    }
    .into_any()
}

/// The connected devices that can be added.
#[component]
fn Add() -> impl IntoView {
    let app = App::of_context();
    let there = Memo::new(move |_| {
        let named = |source: Source| (source, app.name_of(source));
        app.sources_to_add().into_iter().map(named).collect::<Vec<_>>()
    });
    let room = move || app.visit.with(|visit| visit.devices.used.len() < MOST_DEVICES);
    let possible = move || room() && app.device_seen().is_some();
    let buttons = move || {
        let button = |(source, name): (Source, String)| {
            let name = if name.is_empty() { stick_words::UNNAMED.to_owned() } else { name };
            view! {
                <button type="button" dir="auto" on:click=move |_| {
                    app.add_device(source);
                    mend_focus();
                }>{format!("{}: {name}", words::ADD)}</button>
            }
        };
        there.get().into_iter().map(button).collect_view().into_any()
    };
    view! {
        <section class="card" aria-labelledby="add-device">
            <h2 id="add-device">{words::ADD}</h2>
            <p class="soft">{words::ADD_HELP}</p>
            {when(move || !room(), || view! { <p>{words::FULL}</p> }.into_any())}
            {when(move || possible() && there.with(Vec::is_empty), || view! { <p>{words::ADD_NONE}</p> }.into_any())}
            {when(possible, move || view! { <div class="controls">{part(buttons)}</div> }.into_any())}
        </section>
    }
}

/// One device.
fn card(app: App, place: usize, in_use: u32) -> AnyView {
    let number = u32::try_from(place).unwrap_or(u32::MAX);
    let Some(used) = app.visit.with_untracked(|visit| visit.devices.used.get(place).cloned())
    else {
        return ().into_any();
    };
    let title = words::name(place, &used.device.name);
    let heading = format!("device-{place}");
    let labelled = heading.clone();
    let controls = stick_words::controls(
        used.device.axes as usize,
        used.device.buttons as usize,
        used.device.standard,
    );
    let is_in_use = number == in_use;
    let use_it = format!("{}: {title}", words::USE);
    let take_out = format!("{}: {title}", words::TAKE_OUT);
    let tasks = app.heads(|heads| {
        let series = |head: u32| {
            app.visit.with_untracked(|visit| {
                visit.set_ups.get(head as usize).map_or(0, |set_up| set_up.device)
            })
        };
        heads.filter(|head| series(head.series) == number).count()
    });
    let facts = untrack(|| app.facts_of(number)).unwrap_or_default();
    let judged = text(move || {
        let Some((chosen, host)) = app.host() else { return through::line(None, None) };
        let port = of(app, place, |used| used.port) as usize;
        let found = verdict(&facts, &Asked { host: &host, port, settings: None });
        through::line(Some(&hosts::name(chosen, Some(&host))), Some(found.word))
    });
    view! {
        <section class="card" class:in-use=is_in_use aria-labelledby=labelled>
            <h2 id=heading dir="auto">{title}
                {is_in_use.then(|| view! { " " <span class="soft small">{words::IN_USE}</span> })}
            </h2>
            <p class="soft small">{controls}</p>
            {live(app, number, is_in_use, &used)}
            {role(app, place)}
            {line(
                format!("who-{place}"),
                words::WHO,
                None,
                Row::new(
                    move || of(app, place, |used| used.who.clone()),
                    move |who| change(app, place, |used| used.who = who),
                ),
            )}
            {port(app, place)}
            <p dir="auto">{judged}</p>
            <p>{words::recorded(tasks)}</p>
            <div class="controls">
                {(!is_in_use).then(|| view! {
                    <button type="button" class="main" aria-label=use_it on:click=move |_| {
                        app.use_device(number);
                        mend_focus();
                    }>{words::USE}</button>
                })}
                {is_in_use.then(|| view! {
                    <button type="button" class="main" on:click=move |_| go(&Screen::Measure)>
                        {stick_words::NEXT}
                    </button>
                    <a class="button" href=Screen::SetUp.hash()>{words::TO_SET_UP}</a>
                })}
                {when(move || app.can_remove_device(number), move || {
                    let take_out = take_out.clone();
                    view! {
                        <button type="button" aria-label=take_out on:click=move |_| {
                            app.remove_device(number);
                            mend_focus();
                        }>{words::TAKE_OUT}</button>
                    }.into_any()
                })}
            </div>
        </section>
    }
    .into_any()
}

/// What is told of one device; the default where it is gone.
fn of<T>(app: App, place: usize, read: impl FnOnce(&DeviceUsed) -> T) -> T {
    app.visit.with(|visit| match visit.devices.used.get(place) {
        Some(used) => read(used),
        None => read(&DeviceUsed::default()),
    })
}

fn change(app: App, place: usize, change: impl FnOnce(&mut DeviceUsed)) {
    app.change_visit(|visit| {
        if let Some(used) = visit.devices.used.get_mut(place) {
            change(used);
        }
        *visit = visit.tidied();
    });
}

/// Where its stick is and what is pressed, a few times a second, whether it is measured or not.
fn live(app: App, number: u32, is_in_use: bool, used: &DeviceUsed) -> AnyView {
    if used.practised.is_some() && !is_in_use {
        return view! { <p class="soft">{words::ONLY_CHOSEN}</p> }.into_any();
    }
    let source = Memo::new(move |_| app.source_of(number));
    let now = RwSignal::new(None::<(Position, Vec<usize>)>);
    let drawn = StoredValue::new(f64::NEG_INFINITY);
    app.input.each_frame(move |frame| {
        if frame.now_seconds - drawn.get_value() < FIGURES_SECONDS {
            return;
        }
        drawn.set_value(frame.now_seconds);
        let sample = match source.get_untracked() {
            Some(Source::Pad(key)) => app.input.latest_of(key),
            Some(_) if is_in_use => frame.sample.cloned(),
            _ => None,
        };
        let axes = if is_in_use {
            app.axes.get_untracked()
        } else {
            untrack(|| of(app, number as usize, |used| used.axes))
        };
        let state = sample.map(|sample| {
            let down = sample.buttons.iter().enumerate().filter(|(_, value)| **value >= 0.5);
            (axes.position(&sample), down.map(|(index, _)| index).collect())
        });
        if now.with_untracked(|now| *now != state) {
            now.set(state);
        }
    });
    let at = move |vertical: bool| {
        Signal::derive(move || {
            now.with(|now| {
                let Some((at, _)) = now else { return 0.0 };
                if vertical { -at.up.clamp(-1.0, 1.0) } else { at.right.clamp(-1.0, 1.0) }
            })
        })
    };
    let position = text(move || {
        now.with(|now| {
            now.as_ref().map_or_else(
                || words::NOT_HERE.to_owned(),
                |(at, _)| stick_words::position(at.right, at.up),
            )
        })
    });
    let pressed = text(move || {
        now.with(|now| now.as_ref().map_or_else(String::new, |(_, down)| words::pressed(down)))
    });
    view! {
        <div class="device-live">
            <svg viewBox="-1.2 -1.2 2.4 2.4" aria-hidden="true">
                <circle r="1"/>
                <path d="M-1 0H1M0 -1V1"/>
                <circle r="0.12" cx=at(false) cy=at(true)/>
            </svg>
            <dl class="figures">
                <div><dt>{words::POSITION}</dt><dd>{position}</dd></div>
                <div><dt>{words::PRESSED}</dt><dd>{pressed}</dd></div>
            </dl>
        </div>
    }
    .into_any()
}

fn role(app: App, place: usize) -> AnyView {
    let options = DeviceRole::ALL.into_iter().enumerate().map(|(index, one)| {
        let chosen = yes(move || of(app, place, |used| used.role) == one);
        view! { <option value=index.to_string() selected=chosen>{words::role(one)}</option> }
    });
    select(format!("role-{place}"), words::ROLE, options.collect_view().into_any(), move |index| {
        if let Some(role) = DeviceRole::ALL.get(index as usize) {
            change(app, place, |used| used.role = *role);
        }
    })
}

/// The port, where the host has several.
fn port(app: App, place: usize) -> AnyView {
    let ports = Memo::new(move |_| app.host().map(|(_, host)| host.ports));
    part(move || {
        let Some(ports) = ports.get().filter(|ports| ports.len() > 1) else {
            return ().into_any();
        };
        let options = (0_u32..).zip(&ports).map(|(number, one)| {
            let chosen = yes(move || of(app, place, |used| used.port) == number);
            let name = hosts::port(number as usize, one);
            view! { <option value=number.to_string() selected=chosen>{name}</option> }
        });
        let options = options.collect_view().into_any();
        select(format!("port-{place}"), words::PORT, options, move |port| {
            change(app, place, |used| used.port = port);
        })
    })
    .into_any()
}

fn select(
    id: String,
    name: &'static str,
    options: AnyView,
    set: impl Fn(u32) + 'static,
) -> AnyView {
    let of_field = id.clone();
    view! {
        <div class="answer">
            <label for=of_field>{name}</label>
            <select id=id on:change=move |event| {
                if let Ok(number) = event_target_value(&event).parse() {
                    set(number);
                }
            }>{options}</select>
        </div>
    }
    .into_any()
}

/// What holds of all of them on the host.
fn on_host(app: App) -> AnyView {
    let found = move || {
        let Some((_, host)) = app.host() else {
            return view! { <p class="soft">{words::NO_HOST}</p> }.into_any();
        };
        let found = app.visit.with(|visit| together(&host, &visit.devices.used));
        let lines = found.into_iter().map(|one| view! { <li>{words::together(one)}</li> });
        view! { <ul>{lines.collect_view()}</ul> }.into_any()
    };
    view! {
        <section class="card" aria-labelledby="together-on-host">
            <h2 id="together-on-host">{words::ON_HOST}</h2>
            <div role="status">{part(found)}</div>
            <p><a href=Screen::Through.hash()>{words::TO_HOST}</a></p>
        </section>
    }
    .into_any()
}
