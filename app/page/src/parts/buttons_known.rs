//! What can be pressed: each button of the stick and each switch, where it is and how easily.

use crate::parts::answer::{Row, line, one_of};
use crate::parts::frame::mend_focus;
use crate::parts::live::{part, text, when};
use crate::state::App;
use crate::words::buttons as words;
use device::buttons::{Pressed, Reliability};
use fitting::visit::{AddedSwitch, Ease, MOST_SWITCHES};
use leptos::prelude::*;

/// The buttons of the stick, each alight while it is pressed.
#[component]
pub fn Buttons() -> impl IntoView {
    let app = App::of_context();
    let count = Memo::new(move |_| app.button_count());
    let down = RwSignal::new(Vec::<u32>::new());
    app.input.each_frame(move |frame| {
        let Some(sample) = frame.sample else { return };
        let pressed = (0_u32..).zip(&sample.buttons).filter(|(_, value)| **value >= 0.5);
        let now: Vec<u32> = pressed.map(|(number, _)| number).collect();
        if down.try_with_untracked(|down| *down != now).unwrap_or(false) {
            down.set(now);
        }
    });
    let rows =
        move || (0..count.get()).map(|number| button(app, number, down)).collect_view().into_any();
    view! {
        <section aria-labelledby="stick-buttons">
            <h2 id="stick-buttons">{words::BUTTONS}</h2>
            {part(move || {
                let said = if count.get() == 0 { words::NO_BUTTONS } else { words::BUTTONS_HELP };
                view! { <p class="soft">{said}</p> }.into_any()
            })}
            {part(rows)}
        </section>
    }
}

fn button(app: App, number: u32, down: RwSignal<Vec<u32>>) -> AnyView {
    let name = Row::new(
        move || app.button_note(number).name,
        move |name| app.note_button(number, |note| note.name = name),
    );
    let ease = Row::new(
        move || place_of(app.button_note(number).ease),
        move |place: usize| {
            if let Some(ease) = words::EASES.get(place) {
                app.note_button(number, |note| note.ease = *ease);
            }
        },
    );
    let said = move || {
        let note = app.button_note(number);
        match (note.name.as_str(), words::ease(note.ease)) {
            ("", ease) => ease.to_owned(),
            (name, ease) => format!("{name}; {ease}"),
        }
    };
    let recorded = move || {
        let recorded = app.analysis.with(|analysis| {
            let presses = &analysis.as_ref()?.measures.presses;
            presses.iter().find(|one| one.button == number as usize).map(Reliability::of)
        });
        words::reliability(&recorded.unwrap_or(Reliability::NotRecorded))
    };
    let title = words::heading(Pressed::Button(number));
    view! {
        <details class="answers" class:pressed=move || down.with(|down| down.contains(&number))>
            <summary>
                <span class="answers-head">
                    <strong>{title}</strong>
                    <span class="soft small" dir="auto">{text(said)}</span>
                </span>
            </summary>
            <div class="answers-content">
                {line(format!("button-name-{number}"), words::WHERE, None, name)}
                {one_of(&format!("button-ease-{number}"), words::EASE, eases(), ease)}
                <p class="soft small">{text(recorded)}</p>
            </div>
        </details>
    }
    .into_any()
}

fn eases() -> Vec<&'static str> {
    words::EASES.into_iter().map(words::ease).collect()
}

fn place_of(ease: Ease) -> usize {
    words::EASES.iter().position(|one| *one == ease).unwrap_or(0)
}

/// Switches beside the stick.
#[component]
pub fn Switches() -> impl IntoView {
    let app = App::of_context();
    let count = Memo::new(move |_| app.visit.with(|visit| visit.devices.switches.len()));
    let rows = move || (0..count.get()).map(|place| switch(app, place)).collect_view().into_any();
    view! {
        <section aria-labelledby="added-switches">
            <h2 id="added-switches">{words::SWITCHES}</h2>
            <p class="soft">{words::SWITCHES_HELP}</p>
            {part(rows)}
            {when(move || count.get() < MOST_SWITCHES, move || view! {
                <div class="controls">
                    <button type="button" on:click=move |_| {
                        app.change_visit(|visit| visit.devices.switches.push(AddedSwitch::default()));
                        mend_focus();
                    }>{words::ADD_SWITCH}</button>
                </div>
            }.into_any())}
        </section>
    }
}

fn switch(app: App, place: usize) -> AnyView {
    let get = move || {
        app.visit.with(|visit| visit.devices.switches.get(place).cloned()).unwrap_or_default()
    };
    let set = move |change: &dyn Fn(&mut AddedSwitch)| {
        app.change_visit(|visit| {
            if let Some(switch) = visit.devices.switches.get_mut(place) {
                change(switch);
            }
            *visit = visit.tidied();
        });
    };
    let name = Row::new(
        move || get().name,
        move |name: String| set(&|switch| switch.name.clone_from(&name)),
    );
    let ease = Row::new(
        move || place_of(get().ease),
        move |place: usize| {
            if let Some(ease) = words::EASES.get(place) {
                set(&|switch| switch.ease = *ease);
            }
        },
    );
    let title = words::heading(Pressed::Switch(place));
    let remove = format!("{}: {title}", words::REMOVE);
    view! {
        <fieldset class="card">
            <legend>{title}</legend>
            {line(format!("switch-name-{place}"), words::WHERE, None, name)}
            {one_of(&format!("switch-ease-{place}"), words::EASE, eases(), ease)}
            <div class="controls">
                <button type="button" aria-label=remove on:click=move |_| {
                    app.change_visit(|visit| drop(visit.devices.switches.remove(place)));
                    mend_focus();
                }>{words::REMOVE}</button>
            </div>
        </fieldset>
    }
    .into_any()
}
