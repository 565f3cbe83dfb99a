//! A verdict: the word, why, and what to do next.

use crate::state::App;
use crate::words::{hosts, through as words};
use device::through::Verdict;
use leptos::prelude::*;

/// The word, the reasons and what to do next.
pub fn verdict(verdict: &Verdict) -> AnyView {
    let reasons = verdict
        .reasons
        .iter()
        .map(|reason| {
            let weight = reason.weight();
            view! {
                <li><strong>{words::mark(weight)}</strong> " " {words::reason(reason)}</li>
            }
        })
        .collect_view();
    let next =
        verdict.next.iter().map(|step| view! { <li>{words::next(*step)}</li> }).collect_view();
    let passes = words::passes(&verdict.passes)
        .into_iter()
        .map(|line| view! { <li>{line}</li> })
        .collect_view();
    view! {
        <h3>{words::WHY}</h3>
        <ul>{reasons}</ul>
        {(!verdict.next.is_empty()).then(|| view! { <h3>{words::NEXT}</h3> })}
        <ol>{next}</ol>
        {(!verdict.passes.axes.is_empty() || verdict.passes.buttons > 0)
            .then(|| view! { <h3>{words::PASSES}</h3> })}
        <ul>{passes}</ul>
    }
    .into_any()
}

/// The verdict on a sheet; nothing where no host is chosen.
pub fn on_sheet(app: App) -> AnyView {
    untrack(|| {
        let Some((chosen, host)) = app.host() else { return ().into_any() };
        let judged = app.judged_now();
        let found = app.verdict_with(judged, &host);
        let name = hosts::name(chosen, Some(&host));
        view! {
            <section class="card" aria-labelledby="sheet-verdict">
                <h3 id="sheet-verdict" dir="auto">{words::line(Some(&name), Some(found.word))}</h3>
                <ul class="small">
                    {found.reasons.iter().map(|reason| view! {
                        <li><strong>{words::mark(reason.weight())}</strong> " " {words::reason(reason)}</li>
                    }).collect_view()}
                </ul>
            </section>
        }
        .into_any()
    })
}
