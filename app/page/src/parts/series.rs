//! The other series of a fitting: what was set up, what came of it, and the way back to it.

use super::frame::mend_focus;
use super::live::{part, when};
use super::place_drawing::PlaceDrawing;
use super::word::Word;
use crate::state::App;
use crate::words::{set_up as words, settings as setting_words};
use fitting::estimate::{NotEnough, Sureness};
use fitting::visit::SetUp;
use leptos::prelude::*;

/// All series but the one in use; nothing where there is one alone.
#[component]
pub fn OtherSeries() -> impl IntoView {
    let app = App::of_context();
    let others = Memo::new(move |_| {
        app.visit.with(|visit| {
            let in_use = visit.series();
            let numbered = (0_u32..).zip(visit.set_ups.iter().cloned());
            numbered.filter(|(series, _)| *series != in_use).collect::<Vec<_>>()
        })
    });
    let cards = move || {
        let series = others.get().into_iter();
        series.map(|(series, set_up)| one(app, series, set_up)).collect_view().into_any()
    };
    when(
        move || others.with(|others| !others.is_empty()),
        move || {
            view! {
                <section aria-labelledby="other-series">
                    <h2 id="other-series">{words::SERIES}</h2>
                    <p class="soft">{words::SERIES_TEXT}</p>
                    {part(cards)}
                </section>
            }
            .into_any()
        },
    )
}

fn one(app: App, series: u32, set_up: SetUp) -> AnyView {
    let device = app.visit.with_untracked(|visit| {
        visit.devices.used.get(set_up.device as usize).map(|used| used.device.name.clone())
    });
    let name = words::series_with(series, device.as_deref());
    let count = app.aside.with(|aside| {
        let of_it = |head: &crate::state::TaskHead| head.series == series && head.site.is_none();
        aside.iter().filter(|(_, head)| of_it(head)).count()
    });
    let rows = words::rows(&set_up)
        .into_iter()
        .map(|(name, said)| {
            view! { <tr><th scope="row">{name}</th><td dir="auto">{said}</td></tr> }
        })
        .collect_view();
    let line = format!("{}; {}", words::tasks(count), words::line(Some(&set_up)));
    let go_back = format!("{}: {name}", words::GO_BACK);
    let shown = RwSignal::new(false);
    let show = format!("{}: {name}", words::SHOW_FIGURES);
    view! {
        <details class="answers">
            <summary>
                <span class="answers-head">
                    <strong dir="auto">{name}</strong>
                    <span class="soft small" dir="auto">{line}</span>
                </span>
            </summary>
            <div class="answers-content">
                <table><tbody>{rows}</tbody></table>
                <PlaceDrawing set_up/>
                <div role="status">{when(move || shown.get(), move || figures(app, series))}</div>
                <p class="soft small">{words::GO_BACK_HELP}</p>
                <div class="controls">
                    <button type="button" aria-label=go_back on:click=move |_| {
                        app.go_back_to(series);
                        mend_focus();
                    }>{words::GO_BACK}</button>
                    {when(move || !shown.get(), move || {
                        let show = show.clone();
                        view! {
                            <button type="button" aria-label=show on:click=move |_| {
                                shown.set(true);
                                mend_focus();
                            }>{words::SHOW_FIGURES}</button>
                        }.into_any()
                    })}
                </div>
            </div>
        </details>
    }
    .into_any()
}

/// What its records say: computed when somebody asks.
fn figures(app: App, series: u32) -> AnyView {
    let Some(analysis) = app.analysis_of(series) else {
        return view! { <p>{words::NO_FIGURES}</p> }.into_any();
    };
    let suggested = &analysis.suggestions;
    let dead_zone = suggested.dead_zone.as_ref().map(|advice| (advice.radius, advice.sureness));
    let full_throw = suggested.full_throw.as_ref().map(|advice| (advice.radius, advice.sureness));
    view! {
        <table><tbody>
            {row(setting_words::DEAD_ZONE, dead_zone)}
            {row(setting_words::FULL_THROW, full_throw)}
        </tbody></table>
    }
    .into_any()
}

fn row(
    name: &'static str,
    found: Result<(fitting::Estimate, Sureness), &NotEnough>,
) -> impl IntoView + use<> {
    let (said, sureness) = match found {
        Ok((radius, sureness)) => (words::share(radius.value, radius.low, radius.high), sureness),
        Err(why) => (setting_words::not_enough(*why), Sureness::NotEnough),
    };
    view! { <tr><th scope="row">{name}</th><td>{said}</td><td><Word sureness/></td></tr> }
}
