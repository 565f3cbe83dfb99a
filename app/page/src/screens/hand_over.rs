//! Hand over: the papers to choose from, files, a link; and the summary as a sheet.

use crate::errors::Trouble;
use crate::parts::buttons_plan;
use crate::parts::devices_sheet;
use crate::parts::file;
use crate::parts::live::{part, text as live_text};
use crate::parts::path;
use crate::parts::sheet::{Sheet, date, device};
use crate::parts::tick::tick;
use crate::parts::verdict;
use crate::route::{Screen, go};
use crate::state::{App, Saved};
use crate::words::{hand_over as words, papers as paper_words, ready, settings as setting_words};
use fitting::summary::{Summary, link};
use fitting::visit::{ConsentTo, Paper};
use leptos::prelude::*;

/// The last screen: which paper, and the summary as a file or a link.
#[component]
pub fn HandOver() -> impl IntoView {
    let app = App::of_context();
    let summary = app.summary();
    let refused = app.visit.with_untracked(|visit| visit.consent.refuses(ConsentTo::Sharing));
    view! {
        <h1 tabindex="-1">{words::TITLE}</h1>
        {match summary {
            None => nothing(),
            Some(summary) => {
                let body = &summary.body;
                let label = body.label.clone().unwrap_or_else(|| ready::UNNAMED.to_owned());
                let made = words::made(&date(summary.made_epoch_ms), &device(body));
                view! {
                    <h2 dir="auto">{label}</h2>
                    <p class="soft">{made}" "<SavedLine/></p>
                    <section aria-labelledby="papers">
                        <h2 id="papers">{paper_words::CHOOSE}</h2>
                        <p>{paper_words::CHOOSE_TEXT}</p>
                        <ul class="choices papers">{choices()}</ul>
                    </section>
                    <section class="card" aria-labelledby="files">
                        <h2 id="files">{words::FILES}</h2>
                        <div class="controls">
                            {(!refused).then(|| save_summary(app, &summary))}
                            <button type="button" on:click=move |_| app.export_fitting()>{words::SAVE_FITTING}</button>
                        </div>
                    </section>
                    {if refused {
                        view! { <p class="caution">{words::NO_SHARING}</p> }.into_any()
                    } else {
                        view! { <Link summary=summary.clone()/> }.into_any()
                    }}
                }.into_any()
            }
        }}
    }
}

/// Each paper as a link to its own screen.
fn choices() -> impl IntoView {
    let papers = [Paper::Handover, Paper::Letter, Paper::Loan].map(|paper| {
        (Screen::Paper(paper), paper_words::title(paper), paper_words::purpose(paper))
    });
    let summary = (Screen::Summary, paper_words::SUMMARY, paper_words::SUMMARY_FOR);
    papers
        .into_iter()
        .chain([summary])
        .map(|(screen, name, purpose)| {
            view! {
                <li>
                    <a class="button" href=screen.hash()>
                        <strong>{name}</strong>
                        <span>{purpose}</span>
                    </a>
                </li>
            }
        })
        .collect_view()
}

/// There is nothing to hand over yet.
pub fn nothing() -> AnyView {
    view! {
        <p>{words::NOTHING}</p>
        <div class="controls">
            <button type="button" class="main" on:click=move |_| go(&Screen::Measure)>
                {setting_words::TO_MEASURE}
            </button>
        </div>
    }
    .into_any()
}

/// The summary as a sheet.
#[component]
pub fn SummarySheet() -> impl IntoView {
    let app = App::of_context();
    view! {
        <h1 tabindex="-1" class="no-print">{paper_words::SUMMARY}</h1>
        {match app.summary() {
            None => nothing(),
            Some(summary) => view! {
                <p class="soft no-print">{paper_words::SUMMARY_FOR}</p>
                <div class="controls">
                    <button type="button" class="main" on:click=move |_| print(app)>{words::PRINT}</button>
                    <a class="button" href=Screen::HandOver.hash()>{paper_words::BACK}</a>
                </div>
                <Sheet summary/>
                {path::on_sheet(app)}
                {verdict::on_sheet(app)}
                {devices_sheet::on_sheet(app)}
                {buttons_plan::on_sheet(app)}
            }.into_any(),
        }}
    }
}

/// Prints what is on the screen but its controls.
pub fn print(app: App) {
    if gloo_utils::window().print().is_err() {
        app.tell(Trouble::Unexpected, "print");
    }
}

/// The button that saves a summary as a file.
pub fn save_summary(app: App, summary: &Summary) -> impl IntoView + use<> {
    let text = summary.to_json();
    let save = move |_| match &text {
        Ok(text) => {
            if let Err(trouble) = file::offer(words::FILE_SUMMARY, text) {
                app.tell(trouble, "summary");
            }
        }
        Err(error) => app.tell(Trouble::Unexpected, &format!("{error:?}")),
    };
    view! { <button type="button" on:click=save>{words::SAVE_SUMMARY}</button> }
}

/// Whether the newest state is kept.
#[component]
pub fn SavedLine() -> impl IntoView {
    let app = App::of_context();
    let text = move || match app.saved.get() {
        Saved::Nothing | Saved::Failed => words::NOT_SAVED.to_owned(),
        Saved::NotWanted => words::NOT_WANTED.to_owned(),
        Saved::InMemory => words::NOT_LASTING.to_owned(),
        Saved::Saving => words::SAVING.to_owned(),
        Saved::At(time) => words::saved_at(&time),
    };
    view! { <span role="status">{live_text(text)}</span> }
}

/// A link that carries the summary.
#[component]
fn Link(summary: Summary) -> impl IntoView {
    let app = App::of_context();
    let with_label = RwSignal::new(false);
    let made = RwSignal::new(None::<Result<String, ()>>);
    let copied = RwSignal::new(false);
    let has_label = summary.body.label.is_some();
    let make = move || {
        copied.set(false);
        let text = link::encode(&summary, with_label.get_untracked());
        made.set(Some(text.map(|fragment| address(&fragment)).map_err(|error| {
            crate::errors::note(Trouble::Unexpected, &format!("link: {error:?}"));
        })));
    };
    let make = StoredValue::new_local(make);
    let change = move |is| {
        with_label.set(is);
        if made.with_untracked(Option::is_some) {
            make.with_value(|make| make());
        }
    };
    let copy = move |_| {
        let Some(Ok(text)) = made.get_untracked() else { return };
        leptos::task::spawn_local(async move {
            match file::copy(&text).await {
                Ok(()) => copied.set(true),
                Err(trouble) => app.tell(trouble, "copy"),
            }
        });
    };
    view! {
        <section class="card no-print" aria-labelledby="share">
            <h2 id="share">{words::SHARE}</h2>
            <p>{words::LINK_HELP}</p>
            {has_label.then(|| tick(
                words::LINK_LABEL, move || with_label.get(), change
            ))}
            <div class="controls">
                <button type="button" on:click=move |_| make.with_value(|make| make())>{words::MAKE_LINK}</button>
            </div>
            {part(move || match made.get() {
                Some(Ok(text)) => view! {
                    <label for="link">{words::LINK}</label>
                    <textarea id="link" class="link-box" readonly prop:value=text></textarea>
                    <div class="controls">
                        <button type="button" on:click=copy>{words::COPY}</button>
                    </div>
                }.into_any(),
                Some(Err(())) => view! { <p class="caution">{words::LINK_TOO_LONG}</p> }.into_any(),
                None => ().into_any(),
            })}
            <p role="status">{live_text(move || if copied.get() { words::COPIED.to_owned() } else { String::new() })}</p>
        </section>
    }
}

/// The whole address of a link: this page, and the summary behind the hash, which no browser
/// sends anywhere.
fn address(fragment: &str) -> String {
    let location = gloo_utils::window().location();
    let origin = location.origin().unwrap_or_default();
    let path = location.pathname().unwrap_or_default();
    format!("{origin}{path}#{fragment}")
}
