//! Body parts beside one another, every warning in sight, and the choice left to people.

use super::frame::mend_focus;
use super::live::part;
use crate::state::App;
use crate::words::{set_up, sites as words};
use fitting::NotEnough;
use fitting::measure::site::SiteMovement;
use fitting::visit::{SetUpChange, SiteQuestion, SiteSeen, SiteTrial, compare_sites};
use leptos::prelude::*;

/// The comparison; nothing before anything is known of one.
#[component]
pub fn SitesBeside(
    /// What each body part's recordings say, in their order.
    moved: Memo<Vec<Result<SiteMovement, NotEnough>>>,
) -> impl IntoView {
    let app = App::of_context();
    let said = RwSignal::new(String::new());
    let beside = move || {
        let trials = app.visit.with(|visit| visit.sites.clone());
        let looked: Vec<_> = trials.iter().cloned().zip(moved.get()).collect();
        let compared = compare_sites(&looked);
        if compared.sites.is_empty() {
            return ().into_any();
        }
        let in_use = app
            .visit
            .with(|visit| visit.set_up().map(|one| one.body_part.clone()).unwrap_or_default());
        let name = |site: usize| match trials.get(site) {
            Some(trial) => words::name(trial, site),
            None => words::title(site),
        };
        let heads = compared
            .sites
            .iter()
            .map(|seen| view! { <th scope="col" dir="auto">{name(seen.site)}</th> })
            .collect_view();
        let rows = SiteQuestion::ALL
            .into_iter()
            .enumerate()
            .map(|(index, question)| {
                let cells = compared
                    .sites
                    .iter()
                    .map(|seen| view! { <td>{words::speaks(seen.speaks[index])}</td> })
                    .collect_view();
                view! { <tr><th scope="row">{words::heading(question)}</th>{cells}</tr> }
            })
            .collect_view();
        let choices = compared
            .sites
            .iter()
            .map(|seen| choice(app, seen, trials.get(seen.site), &in_use, said))
            .collect_view();
        view! {
            <section class="card" aria-labelledby="beside">
                <h2 id="beside">{words::COMPARED}</h2>
                <p class="soft">{words::COMPARED_TEXT}</p>
                <div class="wide" tabindex="0" role="group" aria-label=words::COMPARED>
                    <table>
                        <thead><tr><td></td>{heads}</tr></thead>
                        <tbody>{rows}</tbody>
                    </table>
                </div>
                <p><strong>{words::ahead(compared.ahead, name)}</strong></p>
                {choices}
            </section>
        }
        .into_any()
    };
    view! {
        {part(beside)}
        <p role="status">{said}</p>
    }
}

/// One of them with its warnings and the control that takes it.
fn choice(
    app: App,
    seen: &SiteSeen,
    trial: Option<&SiteTrial>,
    in_use: &str,
    said: RwSignal<String>,
) -> AnyView {
    let Some(trial) = trial else { return ().into_any() };
    let name = words::name(trial, seen.site);
    let warnings = seen
        .warnings
        .iter()
        .map(|warning| view! { <li>{words::warning(*warning)}</li> })
        .collect_view();
    let warnings =
        (!seen.warnings.is_empty()).then(|| view! { <ul class="caution">{warnings}</ul> });
    let part = name.clone();
    let take = move |_| {
        let body_part = part.clone();
        let came_to = app.change_set_up(|set_up| set_up.body_part = body_part);
        said.set(match came_to {
            SetUpChange::NewSeries(before) => {
                format!("{} {}", words::took(&part), set_up::new_series(before))
            }
            SetUpChange::Full => set_up::full(),
            _ => words::took(&part),
        });
        mend_focus();
    };
    let chosen = !in_use.is_empty() && in_use == name;
    view! {
        <div class="site-choice">
            <h3 dir="auto">
                {name.clone()}
                {chosen.then(|| view! { " " <span class="word">{words::CHOSEN}</span> })}
            </h3>
            {warnings}
            <div class="controls">
                <button type="button" aria-pressed=if chosen { "true" } else { "false" } on:click=take>
                    {words::choose(&name)}
                </button>
            </div>
        </div>
    }
    .into_any()
}
