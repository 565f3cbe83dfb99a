//! Several devices on a sheet.

use crate::state::App;
use crate::words::{set_up, settings, through, together as words};
use device::through::{Asked, together, verdict};
use fitting::Estimate;
use fitting::estimate::NotEnough;
use fitting::visit::Visit;
use leptos::prelude::*;
use std::rc::Rc;

/// The devices on a sheet, with what is suggested for each; nothing of one alone.
pub fn on_sheet(app: App) -> AnyView {
    untrack(|| {
        let used = app.visit.with(|visit| visit.devices.used.clone());
        if used.is_empty() {
            return ().into_any();
        }
        let host = app.host();
        let rows = (0_u32..).zip(&used).map(|(place, one)| {
            let facts = app.facts_of(place).unwrap_or_default();
            let verdict_word = host.as_ref().map(|(_, host)| {
                let port = one.port as usize;
                through::word(verdict(&facts, &Asked { host, port, settings: None }).word)
            });
            let [dead_zone, full_throw] = suggested(app, place);
            let there_for = match one.who.as_str() {
                "" => words::role(one.role).to_owned(),
                who => format!("{} ({who})", words::role(one.role)),
            };
            view! {
                <tr>
                    <th scope="row" dir="auto">{words::name(place as usize, &one.device.name)}</th>
                    <td dir="auto">{there_for}</td>
                    <td>{verdict_word.unwrap_or(words::NO_HOST_YET)}</td>
                    <td>{dead_zone}</td>
                    <td>{full_throw}</td>
                </tr>
            }
        });
        let rows = rows.collect_view();
        let head = words::COLUMNS
            .into_iter()
            .map(|name| view! { <th scope="col">{name}</th> })
            .collect_view();
        let held = host.map(|(_, host)| {
            let lines = together(&host, &used).into_iter();
            view! { <ul class="small">{lines.map(|one| view! { <li>{words::together(one)}</li> }).collect_view()}</ul> }
        });
        view! {
            <section class="card" aria-labelledby="sheet-devices">
                <h3 id="sheet-devices">{words::SHEET}</h3>
                <div class="wide" tabindex="0" role="region" aria-label=words::SHEET>
                    <table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>
                </div>
                {held}
            </section>
        }
        .into_any()
    })
}

/// What its last series suggests: dead zone and full throw.
fn suggested(app: App, place: u32) -> [String; 2] {
    let of_series = || app.series_of(place).and_then(|series| app.analysis_of(series));
    let here = app.visit.with(Visit::device_in_use) == place;
    let analysis = if here { app.analysis.get() } else { of_series().map(Rc::new) };
    let Some(analysis) = analysis else {
        return [words::NOTHING_RECORDED.to_owned(), words::NOTHING_RECORDED.to_owned()];
    };
    let suggested = &analysis.suggestions;
    let said = |found: Result<Estimate, &NotEnough>| match found {
        Ok(radius) => set_up::share(radius.value, radius.low, radius.high),
        Err(why) => settings::not_enough(*why),
    };
    [
        said(suggested.dead_zone.as_ref().map(|advice| advice.radius)),
        said(suggested.full_throw.as_ref().map(|advice| advice.radius)),
    ]
}
