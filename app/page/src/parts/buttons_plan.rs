//! The plan of the buttons, on its screen and on a sheet.

use crate::state::App;
use crate::words::buttons as words;
use device::buttons::{Plan, Pressed, Source};
use leptos::prelude::*;

/// Each job with what does it and why, what is not used, what does the same twice, and what else
/// could be done.
pub fn planned(sources: &[Source], plan: &Plan) -> AnyView {
    let unused = [&plan.spare, &plan.out_of_reach, &plan.lost];
    let unused = words::UNUSED.into_iter().zip(unused).filter(|(_, of)| !of.is_empty());
    let unused: Vec<String> = unused.map(|(what, of)| words::list(what, of)).collect();
    let overlaps: Vec<String> = plan.overlaps.iter().map(words::overlap).collect();
    let suggestions: Vec<String> = plan.suggestions.iter().map(words::suggestion).collect();
    view! {
        {table(sources, plan)}
        {list(words::LEFT, unused)}
        {list(words::OVERLAPS, overlaps)}
        {list(words::SUGGESTIONS, suggestions)}
    }
    .into_any()
}

fn table(sources: &[Source], plan: &Plan) -> AnyView {
    let rows = plan.jobs.iter().map(|planned| {
        let (pressed, why) = match &planned.by {
            Ok(by) => match sources.get(by.source) {
                Some(source) => (named(source), words::why(source, by.setting)),
                None => (words::pressed(by.what, ""), String::new()),
            },
            Err(why) => (words::NOTHING.to_owned(), words::why_not(*why).to_owned()),
        };
        view! {
            <tr>
                <th scope="row" dir="auto">{words::job(&planned.job)}</th>
                <td dir="auto"><strong>{pressed}</strong></td>
                <td>{why}</td>
            </tr>
        }
    });
    let rows = rows.collect_view();
    let head =
        words::COLUMNS.into_iter().map(|name| view! { <th scope="col">{name}</th> }).collect_view();
    view! {
        <div class="wide" tabindex="0" role="region" aria-label=words::TABLE>
            <table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>
        </div>
    }
    .into_any()
}

fn named(source: &Source) -> String {
    match (source.what, source.name.as_str()) {
        (Pressed::Switch(_), name) if !name.is_empty() => name.to_owned(),
        (what, name) => words::pressed(what, name),
    }
}

fn list(title: &'static str, lines: Vec<String>) -> AnyView {
    if lines.is_empty() {
        return ().into_any();
    }
    let lines = lines.into_iter().map(|line| view! { <li dir="auto">{line}</li> }).collect_view();
    view! { <h3>{title}</h3> <ul>{lines}</ul> }.into_any()
}

/// The plan on a sheet; nothing where no job is named.
pub fn on_sheet(app: App) -> AnyView {
    untrack(|| {
        let Some((sources, plan)) = app.button_plan() else { return ().into_any() };
        view! {
            <section class="card" aria-labelledby="sheet-buttons">
                <h3 id="sheet-buttons">{words::TITLE}</h3>
                {table(&sources, &plan)}
            </section>
        }
        .into_any()
    })
}
