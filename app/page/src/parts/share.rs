//! Sharing: what goes in, with a preview, then a file, a link, or a short text with its code.

use super::code::code;
use super::file;
use super::live::{part, text as live_text};
use super::sheet::{date, device};
use super::tick::tick;
use crate::errors::Trouble;
use crate::state::App;
use crate::words::{hand_over as hand_words, share as words};
use fitting::summary::share::Included;
use fitting::summary::short::{MOST_CHARACTERS, ShortError, ShortSummary};
use fitting::summary::{Summary, link};
use leptos::prelude::*;

/// What was made last.
#[derive(Clone)]
enum Made {
    Link(Result<String, ()>),
    Short(Result<String, ShortError>),
}

/// The section of sharing.
#[component]
pub fn Share(
    /// What is shared.
    summary: Summary,
) -> impl IntoView {
    let app = App::of_context();
    let included = RwSignal::new(Included::default());
    let made = RwSignal::new(None::<Made>);
    let copied = RwSignal::new(false);
    let label = summary.body.label.clone();
    let about = words::always(&device(&summary.body), &date(summary.made_epoch_ms));
    let summary = StoredValue::new_local(summary);
    let link_now = move || {
        let with_label = included.get_untracked().label;
        let text = summary.with_value(|summary| link::encode(summary, with_label));
        Made::Link(text.map(|fragment| address(&fragment)).map_err(|error| {
            crate::errors::note(Trouble::Unexpected, &format!("link: {error:?}"));
        }))
    };
    let change = move |change: fn(&mut Included, bool), is: bool| {
        included.update(|included| change(included, is));
        copied.set(false);
        // A link on the screen never shows another choice than the one above it.
        if made.with_untracked(|made| matches!(made, Some(Made::Link(_)))) {
            made.set(Some(link_now()));
        }
    };
    let make_link = move |_| {
        copied.set(false);
        made.set(Some(link_now()));
    };
    let make_short = move |_| {
        copied.set(false);
        let text = summary.with_value(|summary| ShortSummary::of(summary).to_text());
        made.set(Some(Made::Short(text)));
    };
    let save_summary = move |_| save_summary(app, summary, included.get_untracked().label);
    let has_label = label.is_some();
    view! {
        <section class="card no-print" aria-labelledby="share">
            <h2 id="share">{words::TITLE}</h2>
            <p>{words::CAUTION}</p>
            <fieldset>
                <legend>{words::INCLUDED}</legend>
                {label.map(|label| label_tick(&label, included, move |is| change(|all, is| all.label = is, is)))}
                {tick(words::NOTES, move || included.get().notes, move |is| change(|all, is| all.notes = is, is))}
                {tick(
                    words::RECORDINGS,
                    move || included.get().recordings,
                    move |is| change(|all, is| all.recordings = is, is),
                )}
            </fieldset>
            <div class="notice" role="status">
                <strong>{words::PREVIEW}</strong>
                {part(move || preview(app, &about, included.get(), has_label))}
            </div>
            <div class="controls">
                {part(move || {
                    let all = included.get();
                    if all.notes || all.recordings {
                        let save = move |_| app.export_copy(all);
                        view! { <button type="button" on:click=save>{words::SAVE_COPY}</button> }.into_any()
                    } else {
                        view! { <button type="button" on:click=save_summary>{hand_words::SAVE_SUMMARY}</button> }
                            .into_any()
                    }
                })}
                <button type="button" on:click=make_link>{hand_words::MAKE_LINK}</button>
                <button type="button" on:click=make_short>{words::MAKE_SHORT}</button>
            </div>
            {part(move || made.get().map(|made| shown(app, made, copied)).into_any())}
            <p role="status">{live_text(move || {
                if copied.get() { hand_words::COPIED.to_owned() } else { String::new() }
            })}</p>
        </section>
    }
}

/// The tick of the label names it, in an isolate of its own: it may be of any script.
fn label_tick(label: &str, included: RwSignal<Included>, set: impl Fn(bool) + 'static) -> AnyView {
    view! {
        <label class="tick">
            <input
                type="checkbox"
                prop:checked=move || included.get().label
                on:change=move |event| set(event_target_checked(&event))
            />
            <span><bdi>{words::label(label)}</bdi></span>
        </label>
    }
    .into_any()
}

fn preview(app: App, about: &str, included: Included, has_label: bool) -> AnyView {
    let mut there = about.to_owned();
    let mut left = Vec::new();
    if has_label && included.label {
        there.push_str(words::WITH_LABEL);
    } else if has_label {
        left.push(words::NO_LABEL);
    }
    if included.notes {
        there.push_str(words::WITH_NOTES);
    } else {
        left.push(words::NO_NOTES);
    }
    if included.recordings {
        there.push_str(&words::with_recordings(app.recordings_for_others(included)));
    } else {
        left.push(words::NO_RECORDINGS);
    }
    let left = (!left.is_empty()).then(|| view! { <p>{words::not_in_it(&left)}</p> });
    view! { <p>{there}"."</p> {left} }.into_any()
}

fn shown(app: App, made: Made, copied: RwSignal<bool>) -> AnyView {
    let copy = move |text: String| {
        leptos::task::spawn_local(async move {
            match file::copy(&text).await {
                Ok(()) => copied.set(true),
                Err(trouble) => app.tell(trouble, "copy"),
            }
        });
    };
    match made {
        Made::Link(Ok(text)) => {
            let shown = text.clone();
            view! {
                <label for="link">{hand_words::LINK}</label>
                <textarea id="link" class="link-box" readonly prop:value=shown></textarea>
                <div class="controls">
                    <button type="button" on:click=move |_| copy(text.clone())>{hand_words::COPY}</button>
                </div>
            }
            .into_any()
        }
        Made::Link(Err(())) => {
            view! { <p class="caution">{hand_words::LINK_TOO_LONG}</p> }.into_any()
        }
        Made::Short(Ok(text)) => {
            let shown = text.clone();
            let length = words::short_length(text.len(), MOST_CHARACTERS);
            view! {
                <p>{words::SHORT_HELP}</p>
                <div class="two">
                    <div>
                        <label for="short">{words::SHORT}</label>
                        <textarea id="short" class="link-box" readonly prop:value=shown></textarea>
                        <p class="soft">{length}</p>
                        <div class="controls">
                            <button type="button" on:click={
                                let text = text.clone();
                                move |_| copy(text.clone())
                            }>{words::COPY_SHORT}</button>
                        </div>
                    </div>
                    <div>{code(&text)}</div>
                </div>
            }
            .into_any()
        }
        Made::Short(Err(error)) => {
            let characters = match error {
                ShortError::TooLong { characters } => characters,
                _ => 0,
            };
            let text = words::short_too_long(characters, MOST_CHARACTERS);
            view! { <p class="caution">{text}</p> }.into_any()
        }
    }
}

/// Saves the summary as a file, with its label or without.
fn save_summary(app: App, summary: StoredValue<Summary, LocalStorage>, with_label: bool) {
    let mut summary = summary.get_value();
    if !with_label {
        summary.body.label = None;
    }
    match summary.to_json() {
        Ok(text) => {
            if let Err(trouble) = file::offer(hand_words::FILE_SUMMARY, &text) {
                app.tell(trouble, "summary");
            }
        }
        Err(error) => app.tell(Trouble::Unexpected, &format!("{error:?}")),
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
