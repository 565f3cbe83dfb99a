//! Hand over: the papers to choose from, files, a link; and the summary as a sheet.

use crate::errors::Trouble;
use crate::parts::buttons_plan;
use crate::parts::devices_sheet;
use crate::parts::file;
use crate::parts::live::text as live_text;
use crate::parts::path;
use crate::parts::pictures::Pictures;
use crate::parts::share::Share;
use crate::parts::sheet::{Sheet, date, device, exact_time, time};
use crate::parts::verdict;
use crate::route::{Screen, go};
use crate::state::{App, Saved};
use crate::words::{hand_over as words, papers as paper_words, ready, settings as setting_words};
use fitting::summary::Summary;
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
                            <button type="button" on:click=move |_| app.export_fitting()>{words::SAVE_FITTING}</button>
                        </div>
                    </section>
                    {if refused {
                        view! { <p class="caution">{words::NO_SHARING}</p> }.into_any()
                    } else {
                        view! { <Share summary=summary.clone()/> }.into_any()
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
                <Pictures/>
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
pub fn SavedLine(
    /// Whether the time is told to the second.
    #[prop(optional)]
    exact: bool,
) -> impl IntoView {
    let app = App::of_context();
    let text = move || match app.saved.get() {
        Saved::Nothing | Saved::Failed => words::NOT_SAVED.to_owned(),
        Saved::NotWanted => words::NOT_WANTED.to_owned(),
        Saved::InMemory => words::NOT_LASTING.to_owned(),
        Saved::Saving => words::SAVING.to_owned(),
        Saved::At(at) => words::saved_at(&if exact { exact_time(at) } else { time(at) }),
    };
    view! { <span role="status">{live_text(text)}</span> }
}
