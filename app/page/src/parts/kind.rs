//! What kind of stick it is and what moves it: chosen by hand, or noticed and proposed.

use super::frame::mend_focus;
use super::live::{part, yes};
use super::word::Word;
use crate::state::App;
use crate::words::{kind as words, measure as measure_words, settings as setting_words};
use fitting::measure::{Noticed, notice};
use fitting::stick_kind::{Mover, Moves};
use fitting::task::TaskKind;
use fitting::{NotEnough, StickKind};
use leptos::prelude::*;

/// The chooser, with the cautions of what was chosen and what is proposed.
#[component]
pub fn KindChoice() -> impl IntoView {
    let app = App::of_context();
    let change = move |change: &dyn Fn(&mut StickKind)| {
        app.kind.update(|kind| change(kind));
        app.keep_fitting();
    };
    let moves = move |event| {
        let moves = match event_target_value(&event).as_str() {
            "one_axis" => Moves::OneAxis,
            "one_way" => Moves::OneWay,
            _ => Moves::TwoAxes,
        };
        change(&|kind| kind.moves = moves);
    };
    let options = [
        ("two_axes", Moves::TwoAxes, measure_words::KIND_TWO),
        ("one_axis", Moves::OneAxis, measure_words::KIND_ONE_AXIS),
        ("one_way", Moves::OneWay, measure_words::KIND_ONE_WAY),
    ]
    .map(|(value, moves, text)| {
        let chosen = yes(move || app.kind.get().moves == moves);
        view! { <option value=value selected=chosen>{text}</option> }
    })
    .collect_view();
    let mover = move |event| {
        let code = event_target_value(&event);
        let mover = Mover::ALL.into_iter().find(|mover| words::mover_code(*mover) == code);
        change(&|kind| kind.mover = mover.unwrap_or_default());
    };
    let movers = Mover::ALL
        .map(|mover| {
            let chosen = yes(move || app.kind.get().mover == mover);
            view! {
                <option value=words::mover_code(mover) selected=chosen>{words::mover(mover)}</option>
            }
        })
        .collect_view();
    let tick =
        move |text: &'static str, is: fn(&StickKind) -> bool, set: fn(&mut StickKind, bool)| {
            super::tick::tick(
                text,
                move || is(&app.kind.get()),
                move |is| {
                    change(&|kind| set(kind, is));
                },
            )
        };
    let cautions = Memo::new(move |_| app.kind.get().mover);
    view! {
        <Proposals/>
        <details>
            <summary>{measure_words::KIND}</summary>
            <p class="soft">{measure_words::KIND_TEXT}</p>
            <p>
                <label>
                    {measure_words::KIND_MOVES} " " <select on:change=moves>{options}</select>
                </label>
            </p>
            <p><label>{words::MOVER} " " <select on:change=mover>{movers}</select></label></p>
            {tick(measure_words::KIND_STAYS, |kind| !kind.centres_itself, |kind, is| kind.centres_itself = !is)}
            {tick(measure_words::KIND_FORCE, |kind| kind.force, |kind, is| kind.force = is)}
            {tick(measure_words::KIND_SWITCHES, |kind| kind.switches, |kind, is| kind.switches = is)}
            {part(move || {
                words::changes(app.kind.get())
                    .into_iter()
                    .map(|text| view! { <p class="small">{text}</p> })
                    .collect_view()
                    .into_any()
            })}
            <p class="soft small">{words::NOT_TOLD}</p>
        </details>
        <div role="status">
            {part(move || cautions_of(cautions.get()))}
        </div>
    }
}

/// What goes with what moves the stick.
fn cautions_of(mover: Mover) -> AnyView {
    let cautions = words::cautions(mover);
    if cautions.is_empty() {
        return ().into_any();
    }
    let lines = cautions.iter().map(|text| view! { <li>{*text}</li> }).collect_view();
    view! {
        <div class="caution">
            <p><strong>{words::CAUTIONS} ": " {words::mover(mover)}</strong></p>
            <ul>{lines}</ul>
        </div>
    }
    .into_any()
}

/// The tasks that have no meaning with this kind of stick, each with the reason.
#[component]
pub fn DoesNotApply() -> impl IntoView {
    let app = App::of_context();
    let lines = move || {
        let kind = app.kind.get();
        TaskKind::ALL
            .into_iter()
            .filter_map(|task| Some((task, kind.lacks(task)?)))
            .map(|(task, why)| {
                let why = setting_words::not_enough(NotEnough::NotFor(why));
                view! { <p class="soft">{measure_words::task(task)} ": " {why}</p> }
            })
            .collect_view()
            .into_any()
    };
    part(lines)
}

/// What the recordings say of the kind of stick, to be taken or left; nothing where they say
/// nothing new.
#[component]
pub fn Proposals() -> impl IntoView {
    let app = App::of_context();
    let proposals = Memo::new(move |_| {
        let noticed = app.records.with(|records| notice(records, app.kind.get()));
        let declined = app.declined.get();
        noticed.into_iter().filter(|one| !declined.contains(&one.what)).collect::<Vec<_>>()
    });
    let shown = move || {
        proposals.with(|proposals| {
            proposals.iter().map(|noticed| proposal(app, *noticed)).collect_view().into_any()
        })
    };
    view! { <div role="status">{part(shown)}</div> }
}

fn proposal(app: App, noticed: Noticed) -> AnyView {
    let take = move |_| {
        app.kind.update(|kind| *kind = noticed.taken_into(*kind));
        app.keep_fitting();
        mend_focus();
    };
    let leave = move |_| {
        app.declined.update(|declined| declined.push(noticed.what));
        mend_focus();
    };
    view! {
        <div class="notice">
            <p>
                <strong>{words::NOTICED} ": " {words::proposed(noticed.what)}</strong> " "
                <Word sureness=noticed.sureness/>
            </p>
            <p>{words::evidence(&noticed)}</p>
            <p class="soft small">{words::FROM_NOW}</p>
            <div class="controls">
                <button type="button" on:click=take>{words::YES}</button>
                <button type="button" on:click=leave>{words::NO}</button>
            </div>
        </div>
    }
    .into_any()
}
