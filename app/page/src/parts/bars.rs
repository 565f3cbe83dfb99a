//! Two bars: as it is, and with these settings.

use super::live::part;
use leptos::prelude::*;

/// One bar with its name before it and its figure after it.
#[derive(Clone, Debug, PartialEq)]
pub struct Bar {
    /// Its name.
    pub name: String,
    /// CSS class of its colour: `bar-before`, `bar-after`, `bar-now`.
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
