//! The plan: what is done, what comes next and why, and what is usable so far.

use super::measure::{MoreTasks, next_task};
use crate::parts::frame::mend_focus;
use crate::parts::kind::Proposals;
use crate::parts::layers::Layers;
use crate::parts::live::{part, text, when};
use crate::parts::practice_field::PracticeField;
use crate::parts::push_list::PushList;
use crate::parts::tick::tick;
use crate::parts::weak_side::WeakSideNote;
use crate::parts::word::Word;
use crate::route::{Screen, go};
use crate::state::App;
use crate::words::{
    measure as measure_words, more_settings as more_words, plan as words, settings as setting_words,
};
use fitting::measure::Ended;
use fitting::suggest::Suggestions;
use fitting::task::{Bound, Past, Plan, Planned, TaskAsk, TaskKind};
use fitting::{Direction, Sureness};
use leptos::prelude::*;
use wasm_bindgen::JsCast;

/// The plan while no task runs.
#[component]
pub fn PlanView() -> impl IntoView {
    let app = App::of_context();
    mend_focus();
    let all_done =
        move || app.plan.with(|plan| plan.as_ref().is_none_or(|plan| plan.tasks.is_empty()));
    let title =
        move || if all_done() { measure_words::ALL_DONE } else { measure_words::PLAN }.to_owned();
    let left = move || {
        app.plan.with(|plan| {
            plan.as_ref().map(|plan| words::left(plan.left(), plan.pauses())).unwrap_or_default()
        })
    };
    let is_pause = move || {
        app.plan.with(|plan| {
            plan.as_ref().is_some_and(|plan| {
                has_begun(plan) && plan.tasks.first().is_some_and(|next| next.after_pause)
            })
        })
    };
    view! {
        <div class="two">
        <div>
        <h1 tabindex="-1">{text(title)}</h1>
        <div role="status">
            {when(is_pause, || view! { <p class="notice">{words::PAUSE_NOW}</p> }.into_any())}
        </div>
        {part(move || if all_done() {
            view! { <p>{measure_words::ALL_DONE_TEXT}</p> }.into_any()
        } else {
            view! { <p>{text(left)}</p> }.into_any()
        })}
        {part(move || controls(app))}
        <div role="status">{part(move || too_slow(app))}</div>
        <Proposals/>
        <WeakSideNote/>
        <PushList/>
        <ol class="plan">{part(move || rows(app))}</ol>
        <Usable/>
        <Change/>
        <MoreTasks/>
        </div>
        <div><PracticeField layers=Layers::of_app(app)/></div>
        </div>
    }
}

/// Which tasks were hardly watched, because the machine was too slow.
fn too_slow(app: App) -> AnyView {
    let little = app.analysis.with(|analysis| {
        analysis.as_ref().map(|one| one.measures.little_watched.clone()).unwrap_or_default()
    });
    let notes = little.into_iter().map(|task| {
        view! { <p class="caution">{measure_words::too_slow(task.kind, task.share)}</p> }
    });
    notes.collect_view().into_any()
}

/// Start what comes next, or see the settings; choose another plan.
fn controls(app: App) -> AnyView {
    let settings = || {
        view! {
            <a class="button" href=Screen::Settings.hash()>{measure_words::TO_SETTINGS}</a>
        }
    };
    let some = app.records.with(|records| !records.is_empty());
    let main = match app.plan.with(|_| next_task(app)) {
        Some(next) => {
            let name = words::of_kind(measure_words::START_TASK, next.ask.kind());
            view! {
                <button type="button" class="main" on:click=move |_| app.start_task(next.ask.clone())>
                    {name}
                </button>
                {some.then(settings)}
            }
            .into_any()
        }
        None => view! {
            <button type="button" class="main" on:click=move |_| go(&Screen::Settings)>
                {measure_words::TO_SETTINGS}
            </button>
        }
        .into_any(),
    };
    view! {
        <div class="controls">
            {main}
            <button type="button" on:click=move |_| app.plan.set(None)>
                {measure_words::OTHER_PLAN}
            </button>
        </div>
    }
    .into_any()
}

/// Whether any of its tasks has been begun.
fn has_begun(plan: &Plan) -> bool {
    !plan.over.is_empty()
}

/// A task that is over, and how it ended.
pub fn ended_row(ask: &TaskAsk, ended: Ended) -> AnyView {
    let how = measure_words::ended(ended);
    view! {
        <li class:done=ended == Ended::Done>
            <span>
                <strong>{measure_words::task(ask.kind())}</strong> " "
                <span class="soft">{measure_words::task_line(ask)}", "{how}</span>
            </span>
        </li>
    }
    .into_any()
}

/// The tasks that are over, then those to come with their pauses.
fn rows(app: App) -> AnyView {
    let Some(plan) = app.plan.get() else { return ().into_any() };
    let over = plan.over.iter().map(|(ask, ended)| ended_row(ask, *ended));
    let begun = has_begun(&plan);
    let kind_at = |at: usize| plan.tasks[at].ask.kind();
    let to_come = plan.tasks.iter().enumerate().flat_map(|(at, task)| {
        // A pause that is now is told above the list.
        let pause = (task.after_pause && (at > 0 || !begun)).then(|| {
            view! { <li class="pause"><span class="soft">{words::PAUSE}</span></li> }.into_any()
        });
        // Any kind can be started out of turn, by its first row; the next one has the main button.
        let first_of_kind = at > 0 && (0..at).all(|before| kind_at(before) != kind_at(at));
        pause.into_iter().chain(Some(row(app, task, first_of_kind)))
    });
    over.chain(to_come).collect::<Vec<_>>().into_any()
}

fn row(app: App, task: &Planned, can_start: bool) -> AnyView {
    let ask = task.ask.clone();
    let start = can_start.then(|| {
        let name = words::of_kind(measure_words::START_TASK, ask.kind());
        view! {
            <button type="button" aria-label=name on:click=move |_| app.start_task(ask.clone())>
                {measure_words::START_TASK}
            </button>
        }
    });
    view! {
        <li>
            <span>
                <strong>{measure_words::task(task.ask.kind())}</strong> " "
                {measure_words::task_line(&task.ask)}
                <br/>
                <span class="soft">
                    {words::takes(task.amount)}"; "{words::reason(task.reason)}
                </span>
            </span>
            {start}
        </li>
    }
    .into_any()
}

/// What there is of each setting if somebody stops here.
#[component]
pub fn Usable() -> impl IntoView {
    let app = App::of_context();
    let rows = move || {
        app.analysis.with(|analysis| match analysis {
            None => view! { <p class="soft">{words::USABLE_NOTHING}</p> }.into_any(),
            Some(analysis) => {
                let rows = usable(&analysis.suggestions)
                    .into_iter()
                    .map(|(name, sureness)| view! { <li><span>{name}</span> <Word sureness/></li> })
                    .collect_view();
                view! {
                    <p class="soft">{words::USABLE_TEXT}</p>
                    <ul class="plan usable">{rows}</ul>
                }
                .into_any()
            }
        })
    };
    view! {
        <h2>{words::USABLE}</h2>
        {part(rows)}
    }
}

fn usable(suggestions: &Suggestions) -> Vec<(&'static str, Sureness)> {
    let none = Sureness::NotEnough;
    vec![
        (
            setting_words::DEAD_ZONE,
            suggestions.dead_zone.as_ref().map_or(none, |advice| advice.sureness),
        ),
        (
            setting_words::FULL_THROW,
            suggestions.full_throw.as_ref().map_or(none, |advice| advice.sureness),
        ),
        (
            more_words::DIRECTION,
            suggestions.direction.as_ref().map_or(none, |advice| advice.sureness),
        ),
        (
            setting_words::SENSITIVITY,
            suggestions.curve.as_ref().map_or(none, |advice| advice.sureness),
        ),
        (
            more_words::SMOOTHING,
            suggestions.smoothing.as_ref().map_or(none, |advice| advice.sureness),
        ),
    ]
}

/// Puts a changed plan in the place of the present one.
fn change(app: App, change: impl FnOnce(Plan, &Past<'_>) -> Plan) {
    let records = app.records.get_untracked();
    app.plan.update(|plan| {
        if let Some(old) = plan.take() {
            *plan = Some(change(old, &Past::of(&records)));
        }
    });
}

/// Less or more of a kind of task, or none; the directions that are needed.
#[component]
fn Change() -> impl IntoView {
    let app = App::of_context();
    let said = RwSignal::new(String::new());
    let kinds = move || {
        let Some(plan) = app.plan.get() else { return ().into_any() };
        let there = |kind: &TaskKind| {
            plan.wanted.left_out.contains(kind)
                || plan.tasks.iter().any(|task| task.ask.kind() == *kind)
        };
        let rows =
            TaskKind::ALL.into_iter().filter(there).map(|kind| kind_row(app, &plan, kind, said));
        rows.collect_view().into_any()
    };
    let directions = Direction::EIGHT
        .into_iter()
        .map(|direction| {
            let is = move || {
                app.plan.with(|plan| {
                    plan.as_ref().is_some_and(|plan| plan.wanted.needed.contains(&direction))
                })
            };
            tick(words::needed(direction), is, move |needed| {
                need(app, direction, needed);
                tell_change(app, said);
            })
        })
        .collect_view();
    view! {
        <details>
            <summary>{words::CHANGE}</summary>
            <p class="soft">{words::CHANGE_TEXT}</p>
            <ul class="plan">{part(kinds)}</ul>
            <fieldset>
                <legend>{words::NEEDED}</legend>
                <p class="soft">{words::NEEDED_TEXT}</p>
                <div class="ticks">{directions}</div>
            </fieldset>
            <p role="status">{text(move || said.get())}</p>
        </details>
    }
}

fn tell_change(app: App, said: RwSignal<String>) {
    app.plan.with_untracked(|plan| {
        if let Some(plan) = plan {
            said.set(words::changed(plan.left()));
        }
    });
}

/// A direction is needed, or not.
fn need(app: App, direction: Direction, needed: bool) {
    change(app, |mut plan, past| {
        plan.wanted.needed.retain(|one| *one != direction);
        if needed {
            plan.wanted.needed.push(direction);
        }
        plan.changed(past)
    });
}

/// The controls of one kind of task.
#[derive(Clone, Copy, Debug)]
enum Control {
    Fewer,
    More,
    Leave,
}
use Control::{Fewer, Leave, More};

fn id(control: Control, kind: TaskKind) -> String {
    format!("plan-{control:?}-{kind:?}")
}

/// The list was drawn anew: the same control has the focus again, or the main one where it is
/// gone.
fn focus_again(control: Control, kind: TaskKind) {
    request_animation_frame(move || {
        let again = gloo_utils::document().get_element_by_id(&id(control, kind));
        match again.and_then(|element| element.dyn_into::<web_sys::HtmlElement>().ok()) {
            // An element that is there can take it.
            Some(element) => drop(element.focus()),
            None => mend_focus(),
        }
    });
}

fn kind_row(app: App, plan: &Plan, kind: TaskKind, said: RwSignal<String>) -> AnyView {
    if plan.wanted.left_out.contains(&kind) {
        return view! {
            <li>
                <span class="soft">{words::left_out(kind)}</span>
                <button type="button" id=id(Leave, kind) aria-label=words::of_kind(words::PUT_BACK, kind) on:click=move |_| {
                    change(app, |mut plan, past| {
                        plan.wanted.left_out.retain(|one| *one != kind);
                        plan.changed(past)
                    });
                    tell_change(app, said);
                    focus_again(Leave, kind);
                }>{words::PUT_BACK}</button>
            </li>
        }
        .into_any();
    }
    let rounds = plan.rounds(kind);
    let bound = move |bound: Bound, control: Control| {
        change(app, |mut plan, past| {
            plan.wanted.set_bound(bound);
            plan.changed(past)
        });
        tell_change(app, said);
        focus_again(control, kind);
    };
    let more = move |_| {
        bound(Bound { kind, least: rounds + 1, most: usize::MAX }, More);
        let now = app.plan.with_untracked(|plan| plan.as_ref().map_or(0, |plan| plan.rounds(kind)));
        if now <= rounds {
            said.set(words::no_room(kind));
        }
    };
    let fewer = move |_| bound(Bound { kind, least: 0, most: rounds.saturating_sub(1) }, Fewer);
    view! {
        <li>
            <span>{words::amount(kind, rounds)}</span>
            <span class="controls">
                <button
                    type="button" id=id(Fewer, kind)
                    aria-label=words::of_kind(words::FEWER, kind) on:click=fewer
                >
                    {words::FEWER}
                </button>
                <button
                    type="button" id=id(More, kind)
                    aria-label=words::of_kind(words::MORE, kind) on:click=more
                >
                    {words::MORE}
                </button>
                <button type="button" id=id(Leave, kind) aria-label=words::of_kind(words::LEAVE_OUT, kind) on:click=move |_| {
                    change(app, |plan, past| plan.without(kind, past));
                    tell_change(app, said);
                    focus_again(Leave, kind);
                }>{words::LEAVE_OUT}</button>
            </span>
        </li>
    }
    .into_any()
}
