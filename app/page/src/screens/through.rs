//! What gets through: a device held against a host.

use super::hand_over::print;
use crate::parts::descriptor::Descriptor;
use crate::parts::live::{part, text, when, yes};
use crate::parts::raw;
use crate::parts::tick::choice;
use crate::parts::verdict;
use crate::route::Screen;
use crate::state::{App, Judged};
use crate::words::{buttons, descriptor, hosts, raw as raw_words, speaks, stick, through as words};
use device::through::Verdict;
use fitting::visit::{Host, HostChosen, ShippedHost, Visit};
use leptos::prelude::*;

/// The screen.
#[component]
pub fn Through() -> impl IntoView {
    let app = App::of_context();
    let host = Memo::new(move |_| app.host());
    let found = Memo::new(move |_| {
        host.with(|host| host.as_ref().map(|(_, host)| app.verdict_with(app.judged_now(), host)))
    });
    view! {
        <div class="two">
            <div class="no-print">
                <h1 tabindex="-1">{words::TITLE}</h1>
                <p>{words::WHAT}</p>
                {the_device(app)}
                {the_host(app)}
                {raw::section(app)}
            </div>
            <div>
                {part(move || host.with(|host| match (host, found.get()) {
                    (Some((chosen, host)), Some(found)) => judged(app, *chosen, host, &found),
                    _ => view! { <p class="notice">{words::NO_HOST}</p> }.into_any(),
                }))}
            </div>
        </div>
    }
}

/// Of which device it is asked.
fn the_device(app: App) -> AnyView {
    let is = move |judged: Judged| move || app.judged_now() == judged;
    let option = move |judged: Judged, name: &'static str, line: AnyView| {
        let label = view! { <strong>{name}</strong> ": " {line} }.into_any();
        choice("judged", label, is(judged), move || app.judged.set(Some(judged)))
    };
    let chosen = text(move || {
        app.device_seen().map_or_else(
            || words::NONE_CHOSEN.to_owned(),
            |seen| {
                let name = if seen.name.is_empty() { stick::UNNAMED } else { &seen.name };
                let (axes, buttons) = (seen.axes as usize, seen.buttons as usize);
                format!("{name}, {}", stick::controls(axes, buttons, seen.standard))
            },
        )
    });
    let heard = text(move || app.visit.with(|visit| speaks::line(visit.devices.heard.as_ref())));
    let raw = move || app.raw_device();
    let read = move || {
        let line = text(move || descriptor::line(raw().as_ref()));
        option(Judged::Raw, raw_words::TITLE, line)
    };
    let pasted = text(move || descriptor::line(app.pasted_device().as_ref()));
    view! {
        <section aria-labelledby="the-device">
            <h2 id="the-device">{words::DEVICE}</h2>
            {option(Judged::Chosen, words::CONNECTED, chosen)}
            {option(Judged::Heard, words::HEARD, heard)}
            {option(Judged::Pasted, descriptor::PASTED, pasted)}
            {when(move || raw().is_some(), read)}
            <Descriptor/>
        </section>
    }
    .into_any()
}

/// Which host, and which of its ports.
fn the_host(app: App) -> AnyView {
    let is = move |one: HostChosen| move || app.visit.with(|visit| visit.devices.host == Some(one));
    let set = move |one: HostChosen| {
        app.change_visit(|visit| {
            visit.devices.host = Some(one);
            visit.devices.port = 0;
        });
    };
    let shipped = ShippedHost::ALL
        .into_iter()
        .map(|one| {
            let label = view! {
                <strong>{hosts::shipped(one)}</strong> ": " {hosts::shipped_help(one)}
            };
            let chosen = HostChosen::Shipped(one);
            choice("host", label.into_any(), is(chosen), move || set(chosen))
        })
        .collect_view();
    let count = Memo::new(move |_| app.visit.with(|visit| visit.devices.own_hosts.len()));
    let own = move || {
        (0..count.get())
            .map(|place| {
                let chosen = HostChosen::Own(u32::try_from(place).unwrap_or(u32::MAX));
                let name = text(move || {
                    app.visit.with(|visit| hosts::name(chosen, visit.devices.own_hosts.get(place)))
                });
                let label = view! { <strong dir="auto">{name}</strong> };
                choice("host", label.into_any(), is(chosen), move || set(chosen))
            })
            .collect_view()
            .into_any()
    };
    let several = Memo::new(move |_| app.host().is_some_and(|(_, host)| host.ports.len() > 1));
    view! {
        <section aria-labelledby="the-host">
            <h2 id="the-host">{words::HOST}</h2>
            {shipped}
            {part(own)}
            {when(move || several.get(), move || ports(app))}
            <p><a href=Screen::Host.hash()>{words::OWN_HOST}</a></p>
        </section>
    }
    .into_any()
}

fn ports(app: App) -> AnyView {
    let Some((_, host)) = untrack(|| app.host()) else { return ().into_any() };
    let options = host
        .ports
        .iter()
        .enumerate()
        .map(|(place, port)| {
            let number = u32::try_from(place).unwrap_or(u32::MAX);
            let chosen = yes(move || app.port() == number);
            let name = format!("{}: {}", hosts::port(place, port), hosts::port_line(port));
            view! { <option value=number.to_string() selected=chosen>{name}</option> }
        })
        .collect_view();
    view! {
        <div class="answer">
            <label for="port">{words::PORT}</label>
            <select id="port" on:change=move |event| {
                if let Ok(port) = event_target_value(&event).parse() {
                    app.set_port(app.visit.with_untracked(Visit::device_in_use), port);
                }
            }>{options}</select>
        </div>
    }
    .into_any()
}

/// The verdict with what belongs to it.
fn judged(app: App, chosen: HostChosen, host: &Host, found: &Verdict) -> AnyView {
    let name = hosts::name(chosen, Some(host));
    let through = found.passes.buttons;
    view! {
        <section class="card" aria-labelledby="verdict" aria-live="polite">
            <p class="soft" dir="auto">{name}</p>
            <h2 id="verdict" class="verdict">{words::VERDICT} " " <strong>{words::word(found.word)}</strong></h2>
            {verdict::verdict(found)}
            <p class="soft small">{words::CAVEAT}</p>
        </section>
        {pressing(app, through)}
        <div class="controls no-print">
            <button type="button" on:click=move |_| print(app)>{words::PRINT}</button>
            <a class="button" href=Screen::Buttons.hash()>{buttons::TITLE}</a>
        </div>
    }
    .into_any()
}

/// Which button is which: each one that was pressed, in order, and whether it gets through.
fn pressing(app: App, through: u32) -> AnyView {
    let shown = RwSignal::new(Vec::<usize>::new());
    app.input.each_frame(move |frame| {
        let Some(sample) = frame.sample else { return };
        let down = sample.buttons.iter().position(|value| *value >= 0.5);
        let news = down.filter(|button| {
            shown.try_with_untracked(|shown| shown.last() != Some(button)).unwrap_or(false)
        });
        if let Some(button) = news {
            shown.update(|shown| {
                shown.retain(|one| *one != button);
                shown.push(button);
            });
        }
    });
    let chosen = move || app.input.status().with(|status| status.chosen.is_some());
    view! {
        <section class="card no-print" aria-labelledby="pressing">
            <h3 id="pressing">{words::PRESS}</h3>
            <p>{words::PRESS_HELP}</p>
            <p role="status">{text(move || match shown.with(|shown| shown.last().copied()) {
                Some(button) => words::pressed(button, Some(button < through as usize)),
                None if chosen() => words::PRESS_NOTHING.to_owned(),
                None => words::PRESS_NO_STICK.to_owned(),
            })}</p>
            <ul class="button-lights">
                {part(move || shown.get().into_iter().map(|button| {
                    let gets_through = button < through as usize;
                    let said = words::pressed(button, Some(gets_through));
                    view! { <li class:pressed=gets_through>{said}</li> }
                }).collect_view().into_any())}
            </ul>
        </section>
    }
    .into_any()
}
