//! What is kept in this browser: open, save, delete; files in and out.

use crate::errors::Trouble;
use crate::parts::forget::{Deleted, LastDeleted, Recordings, WayBack};
use crate::parts::frame::mend_focus;
use crate::parts::live::{effect, part, when};
use crate::parts::pasted::Pasted;
use crate::parts::storage::StorageState;
use crate::parts::unfinished::UnfinishedTasks;
use crate::parts::{dialog::Dialog, sheet::Sheet};
use crate::state::App;
use crate::store::{FittingRow, Listing, MOST_FILE_BYTES, is_counter};
use crate::words::{forget, hand_over as words, ready, stick, storage, windows};
use fitting::summary::Summary;
use leptos::prelude::*;
use wasm_bindgen::JsCast;

/// What is known of the list.
#[derive(Clone)]
enum List {
    /// It is being read.
    Loading,
    /// It could not be read; why is told in a window.
    Failed,
    /// It was read.
    There(Listing),
}

impl List {
    fn fittings(&self) -> usize {
        match self {
            Self::There(listing) => listing.fittings.len(),
            Self::Loading | Self::Failed => 0,
        }
    }

    /// What stands in its place.
    fn instead(&self) -> Option<&'static str> {
        match self {
            Self::Loading => Some(words::KEPT_LOADING),
            Self::Failed => Some(words::KEPT_FAILED),
            Self::There(listing) => {
                let none = listing.fittings.is_empty() && listing.newer.is_empty();
                none.then_some(words::KEPT_NONE)
            }
        }
    }
}

type Rows = RwSignal<List, LocalStorage>;

/// The list of kept fittings.
#[component]
pub fn Kept() -> impl IntoView {
    let app = App::of_context();
    let rows: Rows = RwSignal::new_local(List::Loading);
    let opened = RwSignal::new_local(None::<Summary>);
    let said = RwSignal::new(String::new());
    let deleted: LastDeleted = RwSignal::new_local(None);
    let asks_all = RwSignal::new(false);
    // Lists when the store has opened, and again after each change.
    effect(move || {
        if app.store.with(Option::is_some) {
            refresh(app, rows);
        }
    });
    let lasting =
        move || app.store.with(|store| store.as_ref().is_none_or(|store| store.is_lasting()));
    let changed = Callback::new(move |()| refresh(app, rows));
    let delete_all = move |_| {
        asks_all.set(false);
        deleted.set(None);
        leptos::task::spawn_local(async move {
            app.delete_everything().await;
            refresh(app, rows);
        });
    };
    let list = move || {
        let List::There(listing) = rows.get() else { return ().into_any() };
        let newer =
            listing.newer.into_iter().map(|(id, label)| newer_row(app, id, &label)).collect_view();
        let known = listing
            .fittings
            .into_iter()
            .map(|row| kept_row(app, row, rows, deleted, said))
            .collect_view();
        view! { {known} {newer} }.into_any()
    };
    view! {
        <h1 tabindex="-1">{words::KEPT_TITLE}</h1>
        <p>{words::KEPT_TEXT}</p>
        <UnfinishedTasks/>
        <WayBack deleted changed/>
        {when(move || !lasting(), || view! { <p class="caution">{words::NOT_LASTING}</p> }.into_any())}
        {part(move || rows.with(List::instead).map(|instead| view! {
            <p class="notice" role="status">{instead}</p>
        }).into_any())}
        <StorageState fittings=Signal::derive_local(move || rows.with(List::fittings))/>
        <div>{part(list)}</div>
        <div class="controls">
            <button type="button" on:click=move |_| app.export_all()>{words::EXPORT_ALL}</button>
            <button type="button" class="rest" on:click=move |_| asks_all.set(true)>{words::DELETE_ALL}</button>
        </div>
        <section class="card" aria-labelledby="open-file">
            <h2 id="open-file">{words::IMPORT}</h2>
            <label for="file" class="unseen">{words::IMPORT}</label>
            <input id="file" type="file" accept=".json,application/json" on:change=move |event| {
                take_file(app, &event, rows, opened, said);
            }/>
            <p role="status">{said}</p>
        </section>
        <Pasted/>
        {part(move || opened.get().map(|summary| view! {
            <p class="soft no-print">{words::SHARED_TEXT}</p>
            <Sheet summary/>
        }).into_any())}
        <Dialog open=asks_all title=words::DELETE_ALL_TITLE>
            <p>{words::DELETE_TEXT}" "{forget::NOT_REACHED}</p>
            <div class="controls">
                <button type="button" class="main" on:click=move |_| asks_all.set(false)>{words::KEEP}</button>
                <button type="button" class="rest" on:click=delete_all>{words::DELETE_ALL}</button>
            </div>
        </Dialog>
    }
}

/// A fitting of a newer version: named, left alone, to be saved as it stands.
fn newer_row(app: App, id: String, label: &str) -> impl IntoView + use<> {
    let label = if label.is_empty() { ready::UNNAMED } else { label };
    let name = format!("{}: {label}", storage::SAVE_NEWER);
    view! {
        <div class="kept-row">
            <div>
                <strong><bdi>{storage::newer(label)}</bdi></strong>
                <br/>
                <span class="soft">{storage::NEWER_TEXT}</span>
            </div>
            <button type="button" aria-label=name on:click=move |_| app.export_newer(id.clone())>
                {storage::SAVE_NEWER}
            </button>
        </div>
    }
}

fn refresh(app: App, rows: Rows) {
    leptos::task::spawn_local(list(app, rows));
}

/// Lists anew; a list that was there stays where it cannot be read again.
async fn list(app: App, rows: Rows) {
    let listed = app.list().await;
    // The screen may be gone by now.
    let _ = rows.try_update(|rows| match listed {
        Some(listing) => *rows = List::There(listing),
        None if matches!(rows, List::Loading) => *rows = List::Failed,
        None => {}
    });
}

fn kept_row(
    app: App,
    row: FittingRow,
    rows: Rows,
    deleted: LastDeleted,
    said: RwSignal<String>,
) -> impl IntoView {
    let label = if row.label.is_empty() { ready::UNNAMED.to_owned() } else { row.label };
    let device =
        if row.device.name.is_empty() { stick::UNNAMED.to_owned() } else { row.device.name };
    let text = words::kept_row(row.tasks as usize, &device);
    let made = crate::parts::sheet::date(row.made_epoch_ms);
    let (open_name, delete_name) =
        (format!("{}: {label}", words::OPEN), format!("{}: {label}", words::DELETE));
    let next_name = format!("{}: {label}", words::NEXT_VISIT);
    let next_id = row.id.clone();
    let next = move |_| {
        let id = next_id.clone();
        leptos::task::spawn_local(async move { app.begin_next(&id).await });
    };
    let open_id = row.id.clone();
    let open = move |_| {
        let id = open_id.clone();
        leptos::task::spawn_local(async move { app.open(&id).await });
    };
    let shown = label.clone();
    let mark = is_counter(&row.id).then(|| view! { <br/><span class="soft">{forget::MARK}</span> });
    let (fitting, of) = (row.id.clone(), label.clone());
    let changed = Callback::new(move |()| refresh(app, rows));
    let delete = move |_| {
        let (id, label) = (row.id.clone(), label.clone());
        leptos::task::spawn_local(async move {
            if app.is_open_elsewhere(&id).await {
                said.set(windows::CLOSE_FIRST.to_owned());
            } else if let Some(taken) = app.take_out(&id).await {
                deleted.set(Some(Deleted::new(label, None, taken)));
                list(app, rows).await;
                mend_focus();
            }
        });
    };
    view! {
        <div class="kept-row">
            <div>
                <strong dir="auto">{shown}</strong>
                <br/>
                <span class="soft">{made} ", " {text}</span>
                {mark}
            </div>
            <button type="button" aria-label=open_name on:click=open>{words::OPEN}</button>
            <button type="button" aria-label=next_name on:click=next>{words::NEXT_VISIT}</button>
            <button type="button" aria-label=delete_name on:click=delete>{words::DELETE}</button>
            <Recordings fitting label=of deleted changed/>
        </div>
    }
}

/// Reads the chosen file: a summary is shown, anything else is added to what is kept.
fn take_file(
    app: App,
    event: &web_sys::Event,
    rows: Rows,
    opened: RwSignal<Option<Summary>, LocalStorage>,
    said: RwSignal<String>,
) {
    let Some(input) = event.target().map(JsCast::unchecked_into::<web_sys::HtmlInputElement>)
    else {
        return;
    };
    let Some(chosen) = input.files().and_then(|files| files.get(0)) else { return };
    said.set(String::new());
    opened.set(None);
    if chosen.size() > MOST_FILE_BYTES as f64 {
        app.trouble.set(Some(Trouble::FileTooLarge));
        return;
    }
    leptos::task::spawn_local(async move {
        let text = wasm_bindgen_futures::JsFuture::from(chosen.text()).await;
        let Some(text) = text.ok().and_then(|text| text.as_string()) else {
            app.tell(Trouble::FileDamaged, "file could not be read as text");
            return;
        };
        // The same file may be chosen again.
        input.set_value("");
        if let Ok(summary) = Summary::from_json(&text) {
            opened.set(Some(summary));
            return;
        }
        if let Some(imported) = app.import(&text).await {
            said.set(words::imported(&imported));
            refresh(app, rows);
        }
    });
}
