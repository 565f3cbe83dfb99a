//! A link or a short text, pasted: shown, and kept nowhere.

use super::live::part;
use super::sheet::date;
use crate::route::{Screen, go};
use crate::screens::advice;
use crate::state::Decided;
use crate::words::{
    effect as effect_words, host as host_words, number, settings as setting_words, share as words,
};
use fitting::suggest::HostForm;
use fitting::summary::short::{Estimated, ShortError, ShortSummary};
use fitting::summary::{Grid, link};
use leptos::prelude::*;

/// The most characters that are taken: a link, with room for an address before it.
const MOST_CHARACTERS: usize = 4_000;

/// The box and what was read from it.
#[component]
pub fn Pasted() -> impl IntoView {
    let text = RwSignal::new(String::new());
    let read = RwSignal::new(None::<Result<ShortSummary, ShortError>>);
    let show = move |_| {
        let text =
            text.with_untracked(|text| text.chars().take(MOST_CHARACTERS).collect::<String>());
        // Of an address only what stands behind its hash is looked at: it is opened here, never there.
        let fragment = text.rsplit_once('#').map_or(text.as_str(), |(_, behind)| behind).trim();
        if link::is_link(fragment) {
            go(&Screen::Shared(fragment.to_owned()));
        } else {
            read.set(Some(ShortSummary::from_text(&text)));
        }
    };
    view! {
        <section class="card no-print" aria-labelledby="paste-title">
            <h2 id="paste-title">{words::PASTE}</h2>
            <label for="paste">{words::PASTE_HELP}</label>
            <textarea
                id="paste"
                class="link-box"
                spellcheck="false"
                autocomplete="off"
                on:input=move |event| text.set(event_target_value(&event))
            ></textarea>
            <div class="controls">
                <button type="button" on:click=show>{words::SHOW}</button>
            </div>
            <div role="status">{part(move || read.get().map(|read| match read {
                Ok(short) => sheet(&short),
                Err(error) => view! { <p class="caution">{why(&error)}</p> }.into_any(),
            }).into_any())}</div>
        </section>
    }
}

const fn why(error: &ShortError) -> &'static str {
    match error {
        ShortError::NotOurs => words::NOT_OURS,
        ShortError::Newer { .. } => words::NEWER,
        ShortError::TooLong { .. } | ShortError::Damaged => words::DAMAGED,
    }
}

fn sheet(short: &ShortSummary) -> AnyView {
    let settings = short.chosen.settings();
    let decided = Decided::of_short(short);
    let day = date(u64::from(short.made_day) * 86_400_000);
    let (axes, buttons) = short.controls;
    let mut rows: Vec<(String, String)> = short
        .reach
        .iter()
        .map(|(asked, reach)| {
            let name = format!("{} {}", words::READ_REACH, number::towards(*asked));
            (name, estimated(reach, number::percent))
        })
        .collect();
    if let Some(wander) = &short.wander {
        let name = words::READ_WANDER.to_owned();
        rows.push((name, estimated(wander, number::percent)));
    }
    for (name, rate) in
        [words::READ_BEFORE, words::READ_AFTER].into_iter().zip(&short.false_per_minute)
    {
        if let Some(rate) = rate {
            rows.push((name.to_owned(), estimated(rate, number::rate_figure)));
        }
    }
    let rows = rows
        .into_iter()
        .map(|(name, text)| view! { <tr><th scope="row">{name}</th><td>{text}</td></tr> })
        .collect_view();
    let practised =
        short.practised.then(|| view! { <p class="notice">{words::READ_PRACTISED}</p> });
    view! {
        <h3>{words::READ}</h3>
        <p>{words::read_text(&day, axes, buttons)}</p>
        {practised}
        <div class="two">
            <div>
                <table>
                    <tbody>
                        <tr>
                            <th scope="row">{setting_words::DEAD_ZONE}</th>
                            <td>{setting_words::or_why(decided.dead_zone, || number::percent(settings.dead_zone))}</td>
                        </tr>
                        <tr>
                            <th scope="row">{setting_words::FULL_THROW}</th>
                            <td>{setting_words::or_why(decided.full_throw, || number::percent(settings.full_throw))}</td>
                        </tr>
                    </tbody>
                </table>
                {advice::host_table(&HostForm::of(&settings), &decided, false, None, None)}
                <p class="soft small">{host_words::HOST_TEXT}</p>
            </div>
            <div>
                <table aria-label=effect_words::REACH><tbody>{rows}</tbody></table>
            </div>
        </div>
    }
    .into_any()
}

/// The value with the ends of its range.
fn estimated<G: Grid>(estimate: &Estimated<G>, shown: fn(f64) -> String) -> String {
    let [value, low, high] =
        [estimate.value, estimate.low, estimate.high].map(|one| shown(one.get()));
    format!("{value} ({low} to {high})")
}
