//! How many minutes, the plan, and the running task.

use super::task::Task;
use crate::parts::frame::mend_focus;
use crate::parts::kind::{DoesNotApply, KindChoice, Proposals};
use crate::parts::layers::Layers;
use crate::parts::live::{part, text, when};
use crate::parts::practice_field::PracticeField;
use crate::route::{Screen, go};
use crate::state::App;
use crate::words::measure as words;
use fitting::stick_kind::Mover;
use fitting::task::{Plan, TaskAsk, TaskKind};
use leptos::prelude::*;

/// The minutes that are offered.
pub const MINUTES: [u32; 4] = [3, 6, 10, 15];

/// The third screen.
#[component]
pub fn Measure() -> impl IntoView {
    let app = App::of_context();
    let status = app.input.status();
    let has_stick = Memo::new(move |_| status.with(|status| status.chosen.is_some()));
    let running = Memo::new(move |_| app.session.view.with(Option::is_some));
    let planned = Memo::new(move |_| app.plan.with(Option::is_some));
    // Leaving the screen ends the task and keeps what there is: nothing is lost by looking
    // elsewhere, and it can be measured again.
    on_cleanup(move || app.leave_task());
    part(move || {
        if !has_stick.get() {
            view! {
                <h1 tabindex="-1">{words::NO_STICK}</h1>
                <div class="controls">
                    <button type="button" class="main" on:click=move |_| go(&Screen::Stick)>
                        {words::TO_STICK}
                    </button>
                </div>
            }
            .into_any()
        } else if running.get() {
            view! { <Task/> }.into_any()
        } else if planned.get() {
            view! { <PlanView/> }.into_any()
        } else {
            view! { <Choose/> }.into_any()
        }
    })
}

/// How many minutes today?
#[component]
fn Choose() -> impl IntoView {
    let app = App::of_context();
    mend_focus();
    let choices = move || {
        let kind = app.kind.get();
        let axes = app.axes.get();
        let of_minutes = move |minutes| {
            let plan = Plan::for_stick(minutes, kind, axes).with_presses(&buttons(app));
            let cost = words::plan_cost(plan.expected_seconds, plan.muscle_seconds);
            view! {
                <button type="button" on:click=move |_| app.plan.set(Some(plan.clone()))>
                    <strong>{words::minutes(minutes)}</strong>
                    <span>{cost}</span>
                </button>
            }
        };
        MINUTES.into_iter().map(of_minutes).collect_view().into_any()
    };
    view! {
        <h1 tabindex="-1">{words::TITLE}</h1>
        <p>{words::CHOOSE}</p>
        <div class="choices">{part(choices)}</div>
        <KindChoice/>
    }
}

/// The buttons of the stick at hand, by number.
fn buttons(app: App) -> Vec<usize> {
    let count = app.input.latest().map_or(0, |sample| sample.buttons.len());
    (0..count).collect()
}

/// Every kind of task that suits the stick and is not in the plan, each to be started by itself.
#[component]
fn MoreTasks() -> impl IntoView {
    let app = App::of_context();
    let rows = move || {
        let planned: Vec<TaskKind> = app.plan.with(|plan| {
            let tasks = plan.as_ref().map(|plan| plan.tasks.as_slice()).unwrap_or_default();
            tasks.iter().map(TaskAsk::kind).collect()
        });
        let buttons = buttons(app);
        // The first three: as many as the longest plan asks for.
        let asked: Vec<usize> = buttons.iter().copied().take(3).collect();
        TaskKind::ALL
            .into_iter()
            .filter(|kind| !planned.contains(kind))
            .filter(|kind| *kind != TaskKind::Presses || !asked.is_empty())
            .flat_map(|kind| usual(app, kind, &asked))
            .map(|ask| extra_row(app, ask))
            .collect_view()
            .into_any()
    };
    view! {
        <details>
            <summary>{words::MORE_TASKS}</summary>
            <p class="soft">{words::MORE_TASKS_TEXT}</p>
            <ul class="plan">{part(rows)}</ul>
            <DoesNotApply/>
        </details>
    }
}

/// The usual task of a kind as it suits the stick; of busy rest, where chin, lip or breath moves it,
/// one for each thing that comes along in play.
fn usual(app: App, kind: TaskKind, buttons: &[usize]) -> Vec<TaskAsk> {
    let ask = TaskAsk::usual(kind, buttons);
    let asks = match ask {
        TaskAsk::BusyRest { seconds, .. } if app.kind.get().mover != Mover::Limb => {
            let meanwhile = app.kind.get().mover.meanwhile();
            meanwhile.map(|meanwhile| TaskAsk::BusyRest { seconds, meanwhile }).to_vec()
        }
        other => vec![other],
    };
    asks.into_iter().filter_map(|ask| ask.for_stick(app.kind.get(), app.axes.get())).collect()
}

fn extra_row(app: App, ask: TaskAsk) -> impl IntoView + use<> {
    let kind = ask.kind();
    let count = counted(app, kind);
    let verb = if count > 0 { words::START_AGAIN } else { words::START_TASK };
    let name = match &ask {
        TaskAsk::BusyRest { meanwhile, .. } if app.kind.get_untracked().mover != Mover::Limb => {
            words::start_busy(verb, *meanwhile)
        }
        _ => format!("{verb}: {}", words::task(kind)),
    };
    let line =
        format!("{}; {}, {}", words::shows(kind), words::task_line(&ask), words::task_done(count));
    view! {
        <li class:done={count > 0}>
            <span>
                <strong>{words::task(kind)}</strong> " "
                <span class="soft">{line}</span>
            </span>
            <button type="button" aria-label=name on:click=move |_| app.start_task(ask.clone())>
                {verb}
            </button>
        </li>
    }
}

/// The plan: what is done, what comes next.
#[component]
fn PlanView() -> impl IntoView {
    let app = App::of_context();
    let tasks = move || {
        app.plan.with(|plan| plan.as_ref().map(|plan| plan.tasks.clone()).unwrap_or_default())
    };
    mend_focus();
    let next = move || next_task(app, None);
    let all_done = move || next().is_none();
    let rows = move || {
        let next_kind = next().map(|ask| ask.kind());
        tasks().into_iter().map(|ask| row(app, &ask, next_kind)).collect_view().into_any()
    };
    view! {
        <div class="two">
        <div>
        <h1 tabindex="-1">{text(move || if all_done() { words::ALL_DONE } else { words::PLAN }.to_owned())}</h1>
        {when(all_done, || view! { <p>{words::ALL_DONE_TEXT}</p> }.into_any())}
        <Proposals/>
        <ul class="plan">{part(rows)}</ul>
        <div class="controls">
            {part(move || match next() {
                Some(ask) => {
                    let name = format!("{}: {}", words::START_TASK, words::task(ask.kind()));
                    view! {
                        <button type="button" class="main" on:click=move |_| app.start_task(ask.clone())>
                            {name}
                        </button>
                    }.into_any()
                }
                None => view! {
                    <button type="button" class="main" on:click=move |_| go(&Screen::Settings)>
                        {words::TO_SETTINGS}
                    </button>
                }.into_any(),
            })}
            <button type="button" on:click=move |_| app.plan.set(None)>{words::OTHER_PLAN}</button>
            {when(
                move || !all_done() && app.records.with(|records| !records.is_empty()),
                || view! { <a class="button" href=Screen::Settings.hash()>{words::TO_SETTINGS}</a> }.into_any(),
            )}
        </div>
        <MoreTasks/>
        </div>
        <div><PracticeField layers=Layers::of_app(app)/></div>
        </div>
    }
}

/// The first task of the plan that has nothing yet, and is not of the kind that runs now.
pub fn next_task(app: App, running: Option<TaskKind>) -> Option<TaskAsk> {
    let tasks = app.plan.with(|plan| plan.as_ref().map(|plan| plan.tasks.clone()));
    tasks
        .unwrap_or_default()
        .into_iter()
        .find(|ask| running != Some(ask.kind()) && counted(app, ask.kind()) == 0)
}

/// How many repetitions of this kind count so far.
fn counted(app: App, kind: TaskKind) -> usize {
    app.records.with(|records| {
        records
            .iter()
            .filter(|record| record.ask.kind() == kind)
            .flat_map(|record| &record.repetitions)
            .filter(|repetition| repetition.counts())
            .count()
    })
}

fn row(app: App, ask: &TaskAsk, next: Option<TaskKind>) -> impl IntoView + use<> {
    let kind = ask.kind();
    let count = counted(app, kind);
    let start = (next != Some(kind)).then(|| {
        let verb = if count > 0 { words::START_AGAIN } else { words::START_TASK };
        let name = format!("{verb}: {}", words::task(kind));
        let ask = ask.clone();
        view! {
            <button type="button" aria-label=name on:click=move |_| app.start_task(ask.clone())>
                {verb}
            </button>
        }
    });
    view! {
        <li class:done={count > 0}>
            <span>
                <strong>{words::task(kind)}</strong> " "
                <span class="soft">{words::task_line(ask)} ", " {words::task_done(count)}</span>
            </span>
            {start}
        </li>
    }
}
