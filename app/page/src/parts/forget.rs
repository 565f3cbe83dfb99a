//! What was deleted and can be put back; the recordings of a fitting, one by one; counter fittings.

use super::answer::card;
use super::dialog::Dialog;
use super::frame::mend_focus;
use super::live::{effect, part, when};
use super::sheet::{date, time};
use super::tick::tick;
use crate::route::{Screen, go};
use crate::state::App;
use crate::store::{FittingRow, Taken};
use crate::words::{forget as words, hand_over};
use fitting::summary::{Envelope, TaskBody};
use leptos::prelude::*;
use std::rc::Rc;

/// What was deleted last.
#[derive(Clone)]
pub struct Deleted {
    what: String,
    /// The fitting, where it was one task of it.
    of: Option<String>,
    taken: Rc<Taken>,
}

/// The place for what was deleted last.
pub type LastDeleted = RwSignal<Option<Deleted>, LocalStorage>;

impl Deleted {
    /// A fitting or a task of it.
    pub fn new(what: String, of: Option<String>, taken: Taken) -> Self {
        Self { what, of, taken: Rc::new(taken) }
    }
}

/// What was deleted last, with the way back. `changed` is run when it is there again.
#[component]
pub fn WayBack(
    /// What was deleted last.
    deleted: LastDeleted,
    /// Run when it is there again.
    changed: Callback<()>,
) -> impl IntoView {
    let app = App::of_context();
    let said = RwSignal::new(String::new());
    let undo = move |_| {
        let Some(one) = deleted.get_untracked() else { return };
        leptos::task::spawn_local(async move {
            if app.put_back(&one.taken, one.of.as_deref()).await {
                deleted.set(None);
                said.set(words::BACK.to_owned());
                changed.run(());
                mend_focus();
            }
        });
    };
    view! {
        <div role="status">
            {part(move || match deleted.get() {
                None => view! { <p>{said.get()}</p> }.into_any(),
                Some(one) => view! {
                    <div class="notice">
                        <p><strong><bdi>{words::deleted(&one.what)}</bdi></strong>" "{words::UNTIL}</p>
                        <div class="controls">
                            <button type="button" class="main" on:click=undo>{words::UNDO}</button>
                            <button type="button" on:click=move |_| {
                                said.set(String::new());
                                deleted.set(None);
                                mend_focus();
                            }>{words::FORGET_NOW}</button>
                        </div>
                    </div>
                }.into_any(),
            })}
        </div>
    }
}

/// The recordings of a kept fitting, read when they are asked for.
#[component]
pub fn Recordings(
    /// The fitting.
    fitting: String,
    /// What it is called.
    label: String,
    /// Where what was deleted goes.
    deleted: LastDeleted,
    /// Run when one was deleted.
    changed: Callback<()>,
) -> impl IntoView {
    let app = App::of_context();
    let found = RwSignal::new_local(None::<Vec<Envelope<TaskBody>>>);
    let id = StoredValue::new(fitting);
    let look = move |_| {
        leptos::task::spawn_local(async move {
            let tasks = app.tasks_of(&id.get_value()).await;
            // The list may be gone by now.
            let _ = found.try_set(Some(tasks));
        });
    };
    let delete = move |task: String, what: String| {
        leptos::task::spawn_local(async move {
            let of = id.get_value();
            if let Some(taken) = app.take_out_task(&of, &task).await {
                deleted.set(Some(Deleted::new(what, Some(of), taken)));
                changed.run(());
                mend_focus();
            }
        });
    };
    let name = format!("{}: {label}", words::RECORDINGS);
    let label = StoredValue::new(label);
    view! {
        <details class="recordings" on:toggle=look>
            <summary aria-label=name>{words::RECORDINGS}</summary>
            {part(move || found.with(|found| match found {
                None => ().into_any(),
                Some(tasks) if tasks.is_empty() => view! { <p>{words::NO_RECORDINGS}</p> }.into_any(),
                Some(tasks) => {
                    let rows = tasks.iter().map(|task| {
                        let what = words::recording(&task.body);
                        let name = format!("{}: {what}, {}", hand_over::DELETE, label.get_value());
                        let (task, deleted) = (task.id.clone(), what.clone());
                        view! {
                            <li>
                                <span>{what}</span>
                                <button
                                    type="button"
                                    aria-label=name
                                    on:click=move |_| delete(task.clone(), deleted.clone())
                                >{hand_over::DELETE}</button>
                            </li>
                        }
                    }).collect_view();
                    view! { <ul>{rows}</ul> }.into_any()
                }
            }))}
        </details>
    }
}

/// The choice for a counter, on the first screen, with what was left at one.
#[component]
pub fn Counter() -> impl IntoView {
    let app = App::of_context();
    let (at_counter, ticked) = (app.at_counter(), app.at_counter());
    let content = view! {
        <p>{words::COUNTER_HELP}</p>
        {tick(words::AT_COUNTER, move || ticked.get(), move |is| app.set_at_counter(is))}
    };
    let line = move || words::counter_line(at_counter.get()).to_owned();
    view! {
        <LeftAtCounter/>
        {card(words::COUNTER, line, content.into_any())}
    }
}

#[component]
fn LeftAtCounter() -> impl IntoView {
    let app = App::of_context();
    let found = RwSignal::new_local((Vec::<FittingRow>::new(), Vec::<FittingRow>::new()));
    let look = move || {
        leptos::task::spawn_local(async move {
            let (left, erased) = app.left_at_counter().await;
            // The screen may be gone by now.
            let _ = found.try_update(|found| {
                found.0 = left;
                found.1.extend(erased);
            });
        });
    };
    effect(move || {
        if app.store.with(Option::is_some) {
            look();
        }
    });
    part(move || {
        let (left, erased) = found.get();
        let erased = erased
            .into_iter()
            .map(|row| view! { <p class="notice">{words::erased(&when_made(&row))}</p> })
            .collect_view();
        let left = left.into_iter().map(|row| left_row(app, &row, look)).collect_view();
        view! { <div role="status">{erased}</div> {left} }.into_any()
    })
}

fn left_row(app: App, row: &FittingRow, look: impl Fn() + Copy + 'static) -> AnyView {
    let line = words::left(&when_made(row), row.tasks);
    let id = StoredValue::new(row.id.clone());
    let go_on = move |_| {
        leptos::task::spawn_local(async move { app.open(&id.get_value()).await });
    };
    let erase = move |_| {
        leptos::task::spawn_local(async move {
            app.erase_left(&id.get_value()).await;
            look();
            mend_focus();
        });
    };
    view! {
        <section class="card">
            <h2>{words::LEFT_TITLE}</h2>
            <p>{line}</p>
            <div class="controls">
                <button type="button" class="main" on:click=go_on>{words::GO_ON}</button>
                <button type="button" on:click=erase>{words::ERASE}</button>
            </div>
        </section>
    }
    .into_any()
}

/// Day and time, as the person's own language writes them.
fn when_made(row: &FittingRow) -> String {
    format!("{}, {}", date(row.made_epoch_ms), time(row.made_epoch_ms))
}

/// Above every screen while a counter fitting is open.
#[component]
pub fn CounterNotice() -> impl IntoView {
    let app = App::of_context();
    app.watch_counter();
    let asks = RwSignal::new(false);
    let erase = move |_| {
        asks.set(false);
        leptos::task::spawn_local(async move {
            app.erase_open().await;
            go(&Screen::Ready);
        });
    };
    let keep = move |_| {
        asks.set(false);
        leptos::task::spawn_local(async move { app.keep_for_good().await });
    };
    let hand_over_first = move |_| {
        asks.set(false);
        go(&Screen::HandOver);
    };
    view! {
        {when(move || app.erases_itself(), move || view! {
            <div class="version no-print">
                <section class="notice" aria-label=words::COUNTER>
                    <p>{words::ERASES}</p>
                    <div class="controls">
                        <button type="button" on:click=move |_| asks.set(true)>{words::LEAVES}</button>
                    </div>
                </section>
            </div>
        }.into_any())}
        <Dialog open=asks title=words::ERASE_TITLE>
            {part(move || {
                let count = app.records.with(|records| records.len())
                    + app.aside.with(|aside| aside.len());
                view! { <p>{words::erase_text(count)}</p> }.into_any()
            })}
            <div class="controls">
                <button type="button" class="main" on:click=hand_over_first>{words::HAND_OVER_FIRST}</button>
                <button type="button" on:click=move |_| asks.set(false)>{words::GO_ON}</button>
                <button type="button" on:click=keep>{words::KEEP_FOR_GOOD}</button>
                <button type="button" class="rest" on:click=erase>{words::ERASE}</button>
            </div>
        </Dialog>
    }
}
