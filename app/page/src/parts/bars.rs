//! Two bars: as it is, and with these settings.

use super::live::part;
use crate::words::effect as words;
use leptos::prelude::*;

/// One bar with its name before it and its figure after it.
#[derive(Clone, Debug, PartialEq)]
pub struct Bar {
    /// Its name.
    pub name: String,
    /// CSS class of its colour: `bar-before`, `bar-after`, `bar-worse`.
    pub class: &'static str,
    /// Its length, 0..=1.
    pub share: f64,
    /// Its figure with unit.
    pub figure: String,
}

/// A few bars under one another. The figures are text, so the bars themselves say nothing to a
/// screen reader.
#[component]
pub fn Bars(
    /// The bars, from the top down.
    #[prop(into)]
    bars: Signal<Vec<Bar>>,
) -> impl IntoView {
    view! {
        <div class="bars">
            {part(move || bars.get().into_iter().map(|bar| view! {
                <div class="bar">
                <span>{bar.name}</span>
                <svg viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
                    <rect class="bar-track" width="100" height="10"></rect>
                    <rect class=bar.class width=format!("{:.1}", bar.share * 100.0) height="10"></rect>
                </svg>
                <b>{bar.figure}</b>
                </div>
            }).collect_view().into_any())}
        </div>
    }
}

/// As it is and with these settings, on one scale; nothing where one of the two is not known.
pub fn before_after(before: Option<f64>, after: Option<f64>, words: fn(f64) -> String) -> Vec<Bar> {
    let (Some(before), Some(after)) = (before, after) else { return Vec::new() };
    let longest = before.max(after).max(1e-9) * 1.25;
    let (before_words, after_words) = (words(before), words(after));
    let is_more = after > before && after_words != before_words;
    both(before / longest, before_words, after / longest, after_words, is_more)
}

/// How much of the rest the stick moves by itself, and how often: as it is and with these
/// settings. Each is the share of time, and false movements a minute.
pub fn moving_by_itself(
    before: (Option<f64>, Option<f64>),
    after: (Option<f64>, Option<f64>),
) -> Vec<Bar> {
    let (Some(before_share), Some(after_share)) = (before.0, after.0) else { return Vec::new() };
    let before_words = words::moving(before_share, before.1);
    let after_words = words::moving(after_share, after.1);
    let is_more = after_share > before_share && after_words != before_words;
    both(before_share, before_words, after_share, after_words, is_more)
}

/// The two bars. Where there is more of it with the settings, words and colour say so.
fn both(
    before: f64,
    before_figure: String,
    after: f64,
    after_figure: String,
    is_more: bool,
) -> Vec<Bar> {
    let (class, figure) = if is_more {
        ("bar-worse", words::more(&after_figure))
    } else {
        ("bar-after", after_figure)
    };
    vec![
        Bar {
            name: words::AS_IS.to_owned(),
            class: "bar-before",
            share: before,
            figure: before_figure,
        },
        Bar { name: words::WITH_THESE.to_owned(), class, share: after, figure },
    ]
}
