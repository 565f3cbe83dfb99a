//! A host of one's own: what it accepts, what it lets through, what it lets a person set.

use crate::errors::Trouble;
use crate::parts::answer::{Row, line, one_of};
use crate::parts::file;
use crate::parts::frame::mend_focus;
use crate::parts::host_port::port;
use crate::parts::live::{attribute, part, text, when, yes};
use crate::parts::tick::tick;
use crate::route::{Screen, go};
use crate::state::App;
use crate::store::{new_id, now_epoch_ms};
use crate::words::{host as host_words, hosts as words};
use fitting::settings::Shape;
use fitting::summary::{Envelope, read};
use fitting::visit::{
    CurveSet, Host, HostChosen, HostSets, MOST_OWN_HOSTS, MOST_PORTS, Port, ShippedHost, Slider,
    SliderRange,
};
use leptos::prelude::*;
use wasm_bindgen::JsCast;

/// The most bytes of a host's file that are looked at.
const MOST_FILE_BYTES: f64 = 65_536.0;

/// The screen.
#[component]
pub fn OwnHost() -> impl IntoView {
    let app = App::of_context();
    let said = RwSignal::new(String::new());
    let place = Memo::new(move |_| in_hand(app));
    view! {
        <h1 tabindex="-1">{words::TITLE}</h1>
        <p>{words::WHAT}</p>
        {beginnings(app)}
        <p>
            <label>
                {words::TAKE_IN} " "
                <input type="file" accept=".json,application/json" on:change=move |event| take_in(app, &event, said)/>
            </label>
        </p>
        <p role="status" dir="auto">{text(move || said.get())}</p>
        {part(move || match place.get() {
            Some(place) => form(app, place),
            None => view! { <p class="notice">{words::NONE}</p> }.into_any(),
        })}
    }
}

/// The place of the own host that is shown: the chosen one.
fn in_hand(app: App) -> Option<usize> {
    app.visit.with(|visit| match visit.devices.host {
        Some(HostChosen::Own(place)) => {
            visit.devices.own_hosts.get(place as usize).map(|_| place as usize)
        }
        _ => None,
    })
}

/// Begin from a host that comes with the program; go to one that is there.
fn beginnings(app: App) -> AnyView {
    let count = Memo::new(move |_| app.visit.with(|visit| visit.devices.own_hosts.len()));
    let full = move || count.get() >= MOST_OWN_HOSTS;
    let begin = ShippedHost::ALL
        .into_iter()
        .map(|one| {
            view! {
                <button type="button" disabled=yes(full) on:click=move |_| {
                    let host = Host { name: words::shipped(one).to_owned(), ..one.host() };
                    add(app, &host);
                }>{words::shipped(one)}</button>
            }
        })
        .collect_view();
    let there =
        move || {
            (0..count.get())
            .map(|place| {
                let is = yes(move || in_hand(app) == Some(place));
                let pressed = attribute(move || if is.get() { "true" } else { "false" }.to_owned());
                let name = text(move || app.visit.with(|visit| {
                    let chosen = HostChosen::Own(0);
                    words::name(chosen, visit.devices.own_hosts.get(place))
                }));
                view! {
                    <button type="button" aria-pressed=pressed on:click=move |_| choose(app, place)>
                        {name}
                    </button>
                }
            })
            .collect_view()
            .into_any()
        };
    view! {
        {when(move || count.get() > 0, move || view! {
            <p id="own-hosts">{words::WHICH}</p>
            <div class="controls" role="group" aria-labelledby="own-hosts">{part(there)}</div>
        }.into_any())}
        <p id="own-begin">{words::BEGIN}</p>
        <div class="controls" role="group" aria-labelledby="own-begin">{begin}</div>
        {when(full, || view! { <p class="caution">{words::FULL}</p> }.into_any())}
    }
    .into_any()
}

fn choose(app: App, place: usize) {
    app.change_visit(|visit| {
        visit.devices.host = u32::try_from(place).ok().map(HostChosen::Own);
        visit.devices.port = 0;
    });
}

fn add(app: App, host: &Host) {
    let place = app.visit.with_untracked(|visit| visit.devices.own_hosts.len());
    if place >= MOST_OWN_HOSTS {
        return;
    }
    app.change_visit(|visit| visit.devices.own_hosts.push(host.tidied()));
    choose(app, place);
    mend_focus();
}

/// What reads and writes the host at a place.
#[derive(Clone, Copy)]
pub struct HostAt {
    app: App,
    place: usize,
}

impl HostAt {
    /// Something of it, tracked.
    pub fn get<T: Default>(self, read: impl FnOnce(&Host) -> T) -> T {
        self.app
            .visit
            .with(|visit| visit.devices.own_hosts.get(self.place).map(read))
            .unwrap_or_default()
    }

    /// Changes it, brings it into range, and keeps it.
    pub fn set(self, change: impl FnOnce(&mut Host)) {
        self.app.change_visit(|visit| {
            if let Some(host) = visit.devices.own_hosts.get_mut(self.place) {
                change(host);
                *host = host.tidied();
            }
        });
    }

    fn tick(self, name: &'static str, get: fn(&Host) -> bool, set: fn(&mut Host, bool)) -> AnyView {
        tick(name, move || self.get(get), move |is| self.set(|host| set(host, is)))
    }
}

fn form(app: App, place: usize) -> AnyView {
    let host = HostAt { app, place };
    let name = Row::new(
        move || host.get(|host| host.name.clone()),
        move |name: String| host.set(|host| host.name = name),
    );
    let ports = Memo::new(move |_| host.get(|host| host.ports.len()));
    let more_ports = move || ports.get() < MOST_PORTS;
    view! {
        <section class="card" aria-label=words::TITLE>
            {line("host-name", words::NAME, Some(words::NAME_HELP), name)}
            <fieldset>
                <legend>{words::ACCEPTS}</legend>
                {host.tick(words::JOYSTICK, |host| host.accepts.joystick, |host, is| host.accepts.joystick = is)}
                {host.tick(words::GAME_PAD, |host| host.accepts.game_pad, |host, is| host.accepts.game_pad = is)}
                {host.tick(words::MULTI_AXIS, |host| host.accepts.multi_axis, |host, is| host.accepts.multi_axis = is)}
                {host.tick(words::MOUSE, |host| host.accepts.mouse, |host, is| host.accepts.mouse = is)}
                {host.tick(words::KEYBOARD, |host| host.accepts.keyboard, |host, is| host.accepts.keyboard = is)}
            </fieldset>
            {host.tick(words::LAYOUT, |host| host.wants_standard_layout, |host, is| host.wants_standard_layout = is)}
            {host.tick(words::JOINS, |host| host.joins_two, |host, is| host.joins_two = is)}
            {part(move || (0..ports.get()).map(|place| port(host, place)).collect_view().into_any())}
            {when(more_ports, move || view! {
                <div class="controls">
                    <button type="button" on:click=move |_| {
                        host.set(|host| host.ports.push(Port::default()));
                        mend_focus();
                    }>{words::ADD_PORT}</button>
                </div>
            }.into_any())}
            {sets(host)}
            <div class="controls">
                <button type="button" class="main" on:click=move |_| go(&Screen::Through)>{words::BACK}</button>
                <button type="button" on:click=move |_| save(app, place)>{words::SAVE}</button>
                <button type="button" on:click=move |_| delete(app, place)>{words::DELETE}</button>
            </div>
        </section>
    }
    .into_any()
}

/// What it lets a person set.
fn sets(host: HostAt) -> AnyView {
    let dead_zone = move || host.get(|host| host.sets.dead_zone.is_some());
    let full = move || host.get(|host| host.sets.full_throw.is_some());
    let shape = Row::new(
        move || {
            usize::from(host.get(|host| {
                host.sets.dead_zone.is_some_and(|slider| slider.shape == Shape::PerAxis)
            }))
        },
        move |index| {
            host.set(|host| {
                if let Some(slider) = &mut host.sets.dead_zone {
                    slider.shape = if index == 1 { Shape::PerAxis } else { Shape::Radial };
                }
            });
        },
    );
    let curves = [CurveSet::None, CurveSet::OneNumber, CurveSet::Points];
    let curve = Row::new(
        move || {
            let curve = host.get(|host| host.sets.curve);
            curves.iter().position(|one| *one == curve).unwrap_or(0)
        },
        move |index: usize| {
            host.set(|host| {
                host.sets.curve = curves.get(index).copied().unwrap_or_default();
            });
        },
    );
    let zone: Range = (
        |sets| sets.dead_zone.map(|slider| slider.range),
        |sets, range| {
            if let Some(slider) = &mut sets.dead_zone {
                slider.range = range;
            }
        },
    );
    let throw: Range = (|sets| sets.full_throw, |sets, range| sets.full_throw = Some(range));
    view! {
        <fieldset>
            <legend>{words::SETS}</legend>
            {host.tick(words::SETS_DEAD_ZONE, |host| host.sets.dead_zone.is_some(), |host, is| {
                host.sets.dead_zone =
                    is.then_some(Slider { shape: Shape::Radial, range: SliderRange::WHOLE });
            })}
            {when(dead_zone, move || view! {
                {one_of("host-shape", host_words::SHAPE, vec![host_words::SHAPE_RADIAL, host_words::SHAPE_PER_AXIS], shape.clone())}
                {range(host, words::SETS_DEAD_ZONE, zone)}
            }.into_any())}
            {host.tick(words::SETS_FULL, |host| host.sets.full_throw.is_some(), |host, is| {
                host.sets.full_throw = is.then_some(SliderRange::WHOLE);
            })}
            {when(full, move || range(host, words::SETS_FULL, throw))}
            {one_of("host-curve", words::SETS_CURVE, curves.map(words::curve).to_vec(), curve)}
            {host.tick(words::SETS_INVERT, |host| host.sets.inverts, |host, is| host.sets.inverts = is)}
            {host.tick(words::SETS_SWAP, |host| host.sets.swaps, |host, is| host.sets.swaps = is)}
            {host.tick(words::SETS_TURN, |host| host.sets.turns, |host, is| host.sets.turns = is)}
            {host.tick(words::SETS_SMOOTH, |host| host.sets.smooths, |host, is| host.sets.smooths = is)}
            {host.tick(words::SETS_TIME, |host| host.sets.times_buttons, |host, is| host.sets.times_buttons = is)}
        </fieldset>
    }
    .into_any()
}

/// What reads and writes the range of a setting.
type Range = (fn(&HostSets) -> Option<SliderRange>, fn(&mut HostSets, SliderRange));

/// From where to where, and in which steps, in percent.
fn range(host: HostAt, setting: &'static str, (get, set): Range) -> AnyView {
    let field =
        move |name: &'static str, read: fn(SliderRange) -> f64, put: fn(&mut SliderRange, f64)| {
            let shown = move || {
                let share = host.get(|host| get(&host.sets).map(read)).unwrap_or_default();
                crate::words::number::field_percent(share)
            };
            view! {
                <label>
                    {name} " "
                    <input
                        class="short" type="number" min="0" max="100" step="any" inputmode="decimal"
                        aria-label=words::of(name, setting) prop:value=attribute(shown)
                        on:change=move |event| {
                            let typed = event_target_value(&event).parse::<f64>().ok();
                            if let Some(percent) = typed.filter(|percent| percent.is_finite()) {
                                host.set(|host| {
                                    if let Some(mut range) = get(&host.sets) {
                                        put(&mut range, percent / 100.0);
                                        set(&mut host.sets, range);
                                    }
                                });
                            }
                        }
                    />
                </label>
            }
            .into_any()
        };
    view! {
        <p class="fields">
            {field(words::LOW, |range| range.low, |range, share| range.low = share)} " "
            {field(words::HIGH, |range| range.high, |range, share| range.high = share)} " "
            {field(words::STEP, |range| range.step, |range, share| range.step = share)}
        </p>
    }
    .into_any()
}

/// Offers a host as a file.
fn save(app: App, place: usize) {
    let host = app.visit.with_untracked(|visit| visit.devices.own_hosts.get(place).cloned());
    let Some(host) = host else { return };
    match Envelope::new(new_id(), now_epoch_ms(), host).to_json() {
        Ok(text) => {
            if let Err(trouble) = file::offer(words::FILE, &text) {
                app.tell(trouble, words::FILE);
            }
        }
        Err(error) => app.tell(Trouble::Unexpected, &format!("{error:?}")),
    }
}

/// Takes in a host from a file.
fn take_in(app: App, event: &web_sys::Event, said: RwSignal<String>) {
    let Some(input) = event.target().map(JsCast::unchecked_into::<web_sys::HtmlInputElement>)
    else {
        return;
    };
    let Some(chosen) = input.files().and_then(|files| files.get(0)) else { return };
    if chosen.size() > MOST_FILE_BYTES {
        said.set(words::NO_HOST.to_owned());
        return;
    }
    leptos::task::spawn_local(async move {
        let text = wasm_bindgen_futures::JsFuture::from(chosen.text()).await;
        let text = text.ok().and_then(|text| text.as_string()).unwrap_or_default();
        // The same file may be chosen again.
        input.set_value("");
        let full =
            app.visit.with_untracked(|visit| visit.devices.own_hosts.len() >= MOST_OWN_HOSTS);
        said.set(match read::<Host>(&text) {
            Ok(_) if full => words::FULL.to_owned(),
            Ok(host) => {
                let name = host.body.name.clone();
                add(app, &host.body);
                words::taken_in(&name)
            }
            Err(_) => words::NO_HOST.to_owned(),
        });
    });
}

fn delete(app: App, place: usize) {
    app.change_visit(|visit| {
        if place < visit.devices.own_hosts.len() {
            visit.devices.own_hosts.remove(place);
        }
        let left = u32::try_from(visit.devices.own_hosts.len()).unwrap_or(0);
        visit.devices.host = left.checked_sub(1).map(HostChosen::Own);
        visit.devices.port = 0;
    });
    mend_focus();
}
