//! One setting: name, big number, a word, one sentence, a slider, and details on request.

use super::live::{attribute, part, text, when, yes};
use super::word::Word;
use crate::words::settings as words;
use fitting::Sureness;
use leptos::html;
use leptos::prelude::*;

/// What a setting says of itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Said {
    /// How sure the suggestion is.
    pub sureness: Sureness,
    /// What it rests on, in a few words.
    pub basis: String,
    /// The plain sentence, with what it costs.
    pub sentence: String,
    /// Further lines, each a paragraph.
    pub notes: Vec<String>,
    /// Details: term and text.
    pub details: Vec<(&'static str, String)>,
}

/// The range of a setting's slider.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// Smallest.
    pub low: f64,
    /// Largest.
    pub high: f64,
    /// One step.
    pub step: f64,
}

/// A setting with its slider.
#[component]
pub fn Setting(
    /// Its name.
    name: &'static str,
    /// The number as text and its unit.
    #[prop(into)]
    figure: Signal<(String, &'static str)>,
    /// What it says of itself.
    #[prop(into)]
    said: Signal<Said, LocalStorage>,
    /// Its value, in the slider's units.
    #[prop(into)]
    value: Signal<f64>,
    /// The slider's range.
    range: Range,
    /// Whether the value was changed by hand.
    #[prop(into)]
    by_hand: Signal<bool>,
    /// Called with a new value, or with nothing to go back to the suggestion.
    #[prop(into)]
    change: Callback<Option<f64>>,
) -> impl IntoView {
    let to = move |value: f64| change.run(Some(value.clamp(range.low, range.high)));
    let typed = move |event| {
        if let Ok(value) = event_target_value(&event).parse::<f64>()
            && value.is_finite()
        {
            to(value);
        }
    };
    let slider = NodeRef::<html::Input>::new();
    let as_suggested = move |_| {
        // The button goes away by its own press: the focus must not go with it.
        if let Some(slider) = slider.get_untracked() {
            let _ = slider.focus();
        }
        change.run(None);
    };
    let aloud = move || {
        let (number, unit) = figure.get();
        format!("{number} {unit}")
    };
    let slider = view! {
        <div class="slider no-print">
            <button type="button" aria-label=words::less(name) on:click=move |_| to(value.get_untracked() - range.step)>
                "−"
            </button>
            <input
                node_ref=slider
                type="range" aria-label=name
                min=range.low max=range.high step=range.step
                prop:value=attribute(move || value.get().to_string())
                aria-valuetext=attribute(aloud)
                on:input=typed
            />
            <button type="button" aria-label=words::more(name) on:click=move |_| to(value.get_untracked() + range.step)>
                "+"
            </button>
        </div>
        {when(move || by_hand.get(), move || view! {
            <div class="controls">
                <button
                    type="button"
                    aria-label=format!("{}: {name}", words::AS_SUGGESTED)
                    on:click=as_suggested
                >
                    {words::AS_SUGGESTED}
                </button>
            </div>
        }.into_any())}
    };
    framed(name, figure, said, slider.into_any())
}

/// A setting's frame: name, big figure, a word, sentence, notes, then its controls, then details
/// on request.
pub fn framed(
    name: &'static str,
    figure: Signal<(String, &'static str)>,
    said: Signal<Said, LocalStorage>,
    controls: AnyView,
) -> AnyView {
    view! {
        <section class="setting">
            <div class="setting-head">
                <h3>{name}</h3>
                <span class="big" class:long=yes(move || figure.with(|figure| figure.0.len() > 9))>
                    {text(move || figure.get().0)} " " <small>{text(move || figure.get().1.to_owned())}</small>
                </span>
                <span class="basis soft">
                    {part(move || said.with(|said| view! { <Word sureness=said.sureness/> }.into_any()))}
                    {text(move || said.with(|said| said.basis.clone()))}
                </span>
            </div>
            <p>{text(move || said.with(|said| said.sentence.clone()))}</p>
            {part(move || said.with(|said| {
                said.notes.iter().map(|note| view! { <p class="caution">{note.clone()}</p> }).collect_view().into_any()
            }))}
            {controls}
            {part(move || said.with(|said| {
                (!said.details.is_empty()).then(|| details(name, &said.details)).into_any()
            }))}
        </section>
    }
    .into_any()
}

fn details(name: &'static str, details: &[(&'static str, String)]) -> impl IntoView + use<> {
    let rows = details
        .iter()
        .map(|(term, text)| view! { <tr><th scope="row">{*term}</th><td>{text.clone()}</td></tr> })
        .collect_view();
    view! {
        <details class="no-print">
            <summary>{words::DETAILS}<span class="unseen">{format!(": {name}")}</span></summary>
            <table><tbody>{rows}</tbody></table>
        </details>
    }
}
