//! One port of a host of one's own.

use super::answer::{Row, line, number, one_of, yes_or_no};
use super::frame::mend_focus;
use super::live::{part, when, yes};
use crate::screens::HostAt;
use crate::words::{hosts as words, layout};
use fitting::sample::MOST_CONTROLS;
use fitting::visit::{AxesTaken, Hat, Job, Port};
use leptos::prelude::*;

const AXES: [AxesTaken; 2] = [AxesTaken::FirstInOrder, AxesTaken::XAndYFirst];
const HATS: [Hat; 4] = [Hat::Through, Hat::AsAxes, Hat::Dropped, Hat::Unknown];

/// What of a stick gets through it.
pub fn port(host: HostAt, place: usize) -> AnyView {
    let most = u32::try_from(MOST_CONTROLS).unwrap_or(u32::MAX);
    let name = text_row(host, place, |port| port.name.clone(), |port, name| port.name = name);
    let axes = row(
        host,
        place,
        |port| Some(port.axes),
        |port, axes| {
            port.axes = axes.unwrap_or(0);
        },
    );
    let buttons = row(
        host,
        place,
        |port| Some(port.buttons),
        |port, buttons| {
            port.buttons = buttons.unwrap_or(0);
        },
    );
    let taken = choice_row(
        host,
        place,
        &AXES,
        |port| port.axes_taken,
        |port, taken| {
            port.axes_taken = taken;
        },
    );
    let hat = choice_row(host, place, &HATS, |port| port.hat, |port, hat| port.hat = hat);
    let reassigned = row(
        host,
        place,
        |port| port.can_be_reassigned,
        |port, can| {
            port.can_be_reassigned = can;
        },
    );
    let several = move || host.get(|host| host.ports.len()) > 1;
    let remove = move |_| {
        host.set(|host| {
            if place < host.ports.len() {
                host.ports.remove(place);
            }
        });
        mend_focus();
    };
    let group = |of: &str| format!("{of}-{place}");
    view! {
        <fieldset>
            <legend>{words::port_title(place)}</legend>
            {line(group("port-name"), words::PORT_NAME, None, name)}
            {number(group("port-axes"), words::PORT_AXES, (0, most), axes)}
            {one_of(&group("port-taken"), words::AXES_TAKEN, AXES.map(words::axes_taken).to_vec(), taken)}
            {number(group("port-buttons"), words::PORT_BUTTONS, (0, most), buttons)}
            {one_of(&group("port-hat"), words::HAT, HATS.map(words::hat).to_vec(), hat)}
            {yes_or_no(&group("port-reassign"), words::REASSIGN, &reassigned)}
            {jobs(host, place)}
            {when(several, move || view! {
                <div class="controls">
                    <button type="button" on:click=remove>{words::REMOVE_PORT}</button>
                </div>
            }.into_any())}
        </fieldset>
    }
    .into_any()
}

fn get<T: Default>(host: HostAt, place: usize, read: impl FnOnce(&Port) -> T) -> T {
    host.get(|host| host.ports.get(place).map(read)).unwrap_or_default()
}

fn set(host: HostAt, place: usize, change: impl FnOnce(&mut Port)) {
    host.set(|host| {
        if let Some(port) = host.ports.get_mut(place) {
            change(port);
        }
    });
}

fn row<T: Default + 'static>(
    host: HostAt,
    place: usize,
    read: fn(&Port) -> Option<T>,
    write: fn(&mut Port, Option<T>),
) -> Row<Option<T>> {
    Row::new(
        move || get(host, place, read),
        move |value| set(host, place, |port| write(port, value)),
    )
}

fn text_row(
    host: HostAt,
    place: usize,
    read: fn(&Port) -> String,
    write: fn(&mut Port, String),
) -> Row<String> {
    Row::new(
        move || get(host, place, read),
        move |value| set(host, place, |port| write(port, value)),
    )
}

fn choice_row<T: PartialEq + Copy + Default + Send + Sync + 'static>(
    host: HostAt,
    place: usize,
    all: &'static [T],
    read: fn(&Port) -> T,
    write: fn(&mut Port, T),
) -> Row<usize> {
    Row::new(
        move || {
            let now = get(host, place, read);
            all.iter().position(|one| *one == now).unwrap_or(0)
        },
        move |index: usize| {
            if let Some(value) = all.get(index) {
                set(host, place, |port| write(port, *value));
            }
        },
    )
}

/// The job of each button that gets through, folded away.
fn jobs(host: HostAt, place: usize) -> AnyView {
    let count = Memo::new(move |_| get(host, place, |port| port.buttons as usize));
    let rows =
        move || (0..count.get()).map(|button| job(host, place, button)).collect_view().into_any();
    view! {
        <details>
            <summary>{words::JOBS}<span class="unseen">{format!(": {}", words::port_title(place))}</span></summary>
            {part(rows)}
        </details>
    }
    .into_any()
}

fn job(host: HostAt, place: usize, button: usize) -> AnyView {
    let now = move || get(host, place, |port| port.jobs.get(button).cloned());
    let options = (0..=16_u8)
        .map(|position| {
            let chosen = yes(move || now() == Some(Job::Position(position)));
            view! {
                <option value=position.to_string() selected=chosen>{layout::button(position)}</option>
            }
        })
        .collect_view();
    let none = yes(move || !matches!(now(), Some(Job::Position(_))));
    let take = move |event| {
        let job = event_target_value(&event).parse().map_or(Job::Own(String::new()), Job::Position);
        set(host, place, |port| {
            // What lies before it and was never said stays unknown.
            while port.jobs.len() <= button {
                port.jobs.push(Job::Own(String::new()));
            }
            port.jobs[button] = job;
        });
    };
    let id = format!("job-{place}-{button}");
    view! {
        <div class="answer">
            <label for=id.clone()>{words::job_of(button)}</label>
            <select id=id on:change=take>
                <option value="" selected=none>{words::JOB_UNKNOWN}</option>
                {options}
            </select>
        </div>
    }
    .into_any()
}
