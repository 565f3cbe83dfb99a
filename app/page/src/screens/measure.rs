//! How many minutes, and which of choice, plan and running task is shown.

use super::plan::{PlanView, Usable, ended_row};
use super::task::Task;
use crate::parts::between_tasks::BetweenTasks;
use crate::parts::frame::mend_focus;
use crate::parts::kind::{DoesNotApply, KindChoice};
use crate::parts::live::{part, text, when};
use crate::parts::tick::choice;
use crate::route::{Screen, go};
use crate::state::App;
use crate::words::{measure as words, plan as plan_words};
use fitting::measure::Ended;
use fitting::stick_kind::Mover;
use fitting::task::{Asking, Past, Plan, Planned, TaskAsk, TaskKind, Wanted, Working};
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
            view! { <WithoutStick/> }.into_any()
        } else if running.get() {
            view! { <Task/> }.into_any()
        } else if planned.get() {
            view! { <BetweenTasks/> <PlanView/> }.into_any()
        } else {
            view! { <BetweenTasks/> <Choose/> }.into_any()
        }
    })
}

/// With no stick at hand: what was recorded before, and the way to the stick.
#[component]
fn WithoutStick() -> impl IntoView {
    let app = App::of_context();
    let recorded = move || app.records.with(|records| !records.is_empty());
    // A fitting goes on with its own stick, so that no two are mixed.
    let title = move || {
        app.kept.with(|kept| match kept {
            Some(kept) if recorded() => {
                words::goes_on_with(&kept.body.device.name, kept.body.practised.is_some())
            }
            _ => words::NO_STICK.to_owned(),
        })
    };
    let rows = move || {
        let records = app.records.get();
        records.iter().map(|record| ended_row(&record.ask, Ended::of(record))).collect_view()
    };
    view! {
        <h1 tabindex="-1">{text(title)}</h1>
        {when(recorded, || view! { <p>{words::GOES_ON_TEXT}</p> }.into_any())}
        <div class="controls">
            <button type="button" class="main" on:click=move |_| go(&Screen::Stick)>
                {words::TO_STICK}
            </button>
            {when(recorded, || view! {
                <a class="button" href=Screen::Settings.hash()>{words::TO_SETTINGS}</a>
            }.into_any())}
        </div>
        {when(recorded, move || view! {
            <h2>{words::SO_FAR}</h2>
            <ol class="plan">{part(move || rows().into_any())}</ol>
            <Usable/>
        }.into_any())}
    }
}

/// How many minutes today, how this person works best, and how much muscle work is all right.
#[component]
fn Choose() -> impl IntoView {
    let app = App::of_context();
    let way = RwSignal::new(Working::default());
    let muscle = RwSignal::new(Muscle::Usual);
    let sudden = RwSignal::new(Sudden::NotSaid);
    mend_focus();
    let buttons = buttons(app);
    let choices = move || {
        let records = app.records.get();
        let past = Past::of(&records);
        let buttons = buttons.get();
        let of_minutes = |minutes| {
            let way = way.get();
            let usual = way.muscle_seconds(minutes);
            let wanted = Wanted {
                muscle_seconds: match muscle.get() {
                    Muscle::Less => 0.5 * usual,
                    Muscle::Usual => usual,
                    Muscle::More => (1.5 * usual).min(way.most_muscle_seconds(minutes)),
                },
                kind: app.kind.get(),
                axes: app.axes.get(),
                // Presses take the time of a longer plan.
                buttons: if minutes >= 10 { buttons.clone() } else { Vec::new() },
                ..Wanted::of(way, minutes)
            };
            let wanted = match sudden.get() {
                Sudden::Yes => wanted.with_sudden_movements(),
                Sudden::NotSaid | Sudden::No => wanted,
            };
            let plan = Plan::new(wanted, &past);
            let cost = if plan.tasks.is_empty() {
                plan_words::NOTHING_FITS.to_owned()
            } else {
                plan_words::cost(plan.said, plan.pauses())
            };
            view! {
                <button type="button" on:click=move |_| {
                    if way == Working::Shown {
                        app.change_visit(|visit| visit.asked.way.asking = Asking::Shown);
                    }
                    app.plan.set(Some(plan.clone()));
                }>
                    <strong>{words::minutes(minutes)}</strong>
                    <span>{cost}</span>
                </button>
            }
        };
        MINUTES.into_iter().map(of_minutes).collect_view().into_any()
    };
    let goes_on = move || app.records.with(|records| !records.is_empty());
    view! {
        <h1 tabindex="-1">{words::TITLE}</h1>
        <p>{words::CHOOSE}</p>
        {when(goes_on, || view! { <p>{plan_words::GOES_ON}</p> }.into_any())}
        {one_of(plan_words::WAY, "way", Working::ALL, way, plan_words::way)}
        {one_of(plan_words::MUSCLE, "muscle", Muscle::ALL, muscle, Muscle::word)}
        {one_of(plan_words::SUDDEN, "sudden", Sudden::ALL, sudden, Sudden::word)}
        <p class="soft" role="status">
            {text(move || plan_words::tested(way.get().minutes()))}
        </p>
        <div class="choices">{part(choices)}</div>
        <KindChoice/>
    }
}

/// How much muscle work is all right, against what is usual.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Muscle {
    Less,
    Usual,
    More,
}

impl Muscle {
    const ALL: [Self; 3] = [Self::Less, Self::Usual, Self::More];

    const fn word(self) -> &'static str {
        match self {
            Self::Less => plan_words::MUSCLE_LESS,
            Self::Usual => plan_words::MUSCLE_USUAL,
            Self::More => plan_words::MUSCLE_MORE,
        }
    }
}

/// Whether sudden movements come by themselves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Sudden {
    Yes,
    No,
    NotSaid,
}

impl Sudden {
    const ALL: [Self; 3] = [Self::Yes, Self::No, Self::NotSaid];

    const fn word(self) -> &'static str {
        match self {
            Self::Yes => plan_words::SUDDEN_YES,
            Self::No => plan_words::SUDDEN_NO,
            Self::NotSaid => plan_words::SUDDEN_NOT_SAID,
        }
    }
}

/// One of some, as radio buttons.
fn one_of<T: Copy + PartialEq + Send + Sync + 'static>(
    question: &'static str,
    name: &'static str,
    all: [T; 3],
    chosen: RwSignal<T>,
    word: fn(T) -> &'static str,
) -> AnyView {
    let options = all
        .map(|one| choice(name, word(one), move || chosen.get() == one, move || chosen.set(one)))
        .collect_view();
    view! {
        <fieldset>
            <legend>{question}</legend>
            {options}
        </fieldset>
    }
    .into_any()
}

/// The buttons of the stick at hand, by number.
fn buttons(app: App) -> Memo<Vec<usize>> {
    let count = move || app.device_seen().map_or(0, |seen| seen.buttons as usize);
    Memo::new(move |_| (0..count()).collect())
}

/// Every kind of task that suits the stick and is not still to come in the plan, each to be started by itself.
#[component]
pub fn MoreTasks() -> impl IntoView {
    let app = App::of_context();
    let buttons = buttons(app);
    let rows = move || {
        let planned: Vec<TaskKind> = app.plan.with(|plan| {
            let tasks = plan.as_ref().map(|plan| plan.tasks.as_slice()).unwrap_or_default();
            tasks.iter().map(|task| task.ask.kind()).collect()
        });
        let buttons = buttons.get();
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

/// The task that comes next by the plan.
pub fn next_task(app: App) -> Option<Planned> {
    app.plan.with_untracked(|plan| plan.as_ref().and_then(|plan| plan.tasks.first().cloned()))
}

/// The task that comes after the running one, as the plan will be once that is kept.
pub fn following(app: App) -> Option<Planned> {
    let plan = app.plan.get_untracked()?;
    let Some(record) = app.session.record_so_far() else { return plan.tasks.first().cloned() };
    let mut records = app.records.with_untracked(|records| records.as_ref().clone());
    records.push(record);
    let last = records.last()?;
    plan.after(last, &Past::of(&records)).tasks.first().cloned()
}

/// How many repetitions of this kind count so far.
fn counted(app: App, kind: TaskKind) -> usize {
    app.records.with(|records| {
        records
            .iter()
            .filter(|record| record.ask.kind() == kind)
            .flat_map(|record| record.counting())
            .count()
    })
}
