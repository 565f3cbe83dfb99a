//! The researcher's page: everything that was measured and suggested, in tables.

use super::hand_over::{SavedLine, print};
use crate::errors::Trouble;
use crate::input::INVENTED_SEED;
use crate::parts::file;
use crate::parts::live::text as live_text;
use crate::parts::push_list::PushList;
use crate::parts::sheet::{date, device};
use crate::route::{Screen, go};
use crate::state::{Analysis, App};
use crate::words::{details as words, hand_over as sheet_words, settings as setting_words};
use fitting::CORE_VERSION;
use fitting::exchange::csv;
use fitting::exchange::figures::{Line, aligned, asked, effect, measured, more, suggested};
use leptos::prelude::*;
use std::rc::Rc;

/// From this many rows on a table has a frame of its own to scroll in.
const MANY_ROWS: usize = 24;

/// The screen of all figures.
#[component]
pub fn Details() -> impl IntoView {
    let app = App::of_context();
    view! {
        <h1 tabindex="-1">{words::TITLE}</h1>
        {match app.analysis.get_untracked() {
            Some(analysis) => all(app, &analysis),
            None => view! {
                <p>{setting_words::NOTHING}</p>
                <div class="controls">
                    <button type="button" class="main" on:click=move |_| go(&Screen::Measure)>
                        {setting_words::TO_MEASURE}
                    </button>
                </div>
            }
            .into_any(),
        }}
    }
}

fn all(app: App, analysis: &Rc<Analysis>) -> AnyView {
    let parts = tables(app, analysis);
    let about = app
        .summary()
        .map(|summary| sheet_words::made(&date(summary.made_epoch_ms), &device(&summary.body)));
    let practised =
        app.kept.with_untracked(|kept| kept.as_ref().and_then(|kept| kept.body.practised.clone()));
    let invented = practised.as_deref().filter(|code| *code != "practice");
    let made = words::made_with(CORE_VERSION, invented.map(|code| (code, INVENTED_SEED)));
    let as_text = StoredValue::new(as_text(&made, about.as_deref(), &parts));
    let copied = RwSignal::new(false);
    let copy = move |_| {
        leptos::task::spawn_local(async move {
            match file::copy(&as_text.get_value()).await {
                Ok(()) => copied.set(true),
                Err(trouble) => app.tell(trouble, "copy"),
            }
        });
    };
    let save = move |_| offer(app, words::FILE, &as_text.get_value(), file::TEXT);
    let sections = parts.into_iter().map(section);
    view! {
        <p>{words::TEXT}</p>
        <p class="soft" dir="auto">{about} " · " {made} " · " <SavedLine exact=true/></p>
        <div class="controls">
            <button type="button" class="main" on:click=copy>{words::COPY}</button>
            <button type="button" on:click=save>{words::SAVE}</button>
            <button type="button" on:click=move |_| print(app)>{words::PRINT}</button>
            <a class="button" href=Screen::Settings.hash()>{words::BACK}</a>
        </div>
        <p role="status" class="no-print">
            {live_text(move || if copied.get() { words::COPIED } else { "" }.to_owned())}
        </p>
        {recordings(app, analysis)}
        <PushList/>
        {sections.collect_view()}
    }
    .into_any()
}

fn offer(app: App, name: &str, text: &str, kind: &str) {
    if let Err(trouble) = file::offer_as(name, text, kind) {
        app.tell(trouble, name);
    }
}

/// One table: what it is about and its rows.
struct Table {
    about: words::About,
    rows: Vec<[String; 6]>,
}

/// Every line, under the table it belongs to; tables without any are left out.
fn tables(app: App, analysis: &Analysis) -> Vec<Table> {
    let chosen = analysis.effect(&app.settings_untracked());
    let lines: Vec<Line> = measured(&analysis.measures)
        .into_iter()
        .chain(suggested(&analysis.measures, &analysis.suggestions))
        .chain(more(&analysis.measures, &analysis.suggestions))
        .chain(effect("raw", &analysis.before, &chosen))
        .chain(effect("chosen", &chosen, &analysis.before))
        .collect();
    let is_known = |line: &Line| words::TABLES.iter().any(|about| about.key == line.about());
    words::TABLES
        .into_iter()
        .map(|about| {
            // The last takes what belongs to no other.
            let is_of = |line: &&Line| {
                if about.key.is_empty() { !is_known(line) } else { line.about() == about.key }
            };
            Table { about, rows: lines.iter().filter(is_of).map(words::row).collect() }
        })
        .filter(|table| !table.rows.is_empty())
        .collect()
}

fn as_text(made: &str, about: Option<&str>, tables: &[Table]) -> String {
    let head = words::HEAD.map(str::to_owned);
    let parts: Vec<(String, Vec<[String; 6]>)> = tables
        .iter()
        .map(|table| {
            let about = table.about;
            let title = format!("{} ({})\n{}", about.title, about.docs, about.method);
            (title, table.rows.clone())
        })
        .collect();
    format!("{}\n{}\n\n{}", about.unwrap_or_default(), made, aligned(&head, &parts))
}

fn section(table: Table) -> AnyView {
    let Table { about, rows } = table;
    let class = if rows.len() >= MANY_ROWS { "wide long" } else { "wide" };
    let head = words::HEAD.map(|head| view! { <th scope="col">{head}</th> }).collect_view();
    let rows = rows
        .into_iter()
        .map(|[name, of, value, interval, unit, rests_on]| {
            view! {
                <tr>
                    <th scope="row">{name}</th>
                    <td>{of}</td>
                    <td class="number">{value}</td>
                    <td>{interval}</td>
                    <td>{unit}</td>
                    <td>{rests_on}</td>
                </tr>
            }
        })
        .collect_view();
    view! {
        <section class="figures-table">
            <h2>{about.title}</h2>
            <p class="soft small"><code>{about.docs}</code>" · "{about.method}</p>
            <div class=class tabindex="0" role="region" aria-label=about.title>
                <table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>
            </div>
        </section>
    }
    .into_any()
}

/// What was asked in each task and what was left out, with each recording as a file.
fn recordings(app: App, analysis: &Rc<Analysis>) -> AnyView {
    let records = StoredValue::new_local(Rc::clone(&analysis.records));
    let rows = asked(&analysis.records)
        .into_iter()
        .map(|one| {
            let cells = words::recording_row(&one);
            let cells = cells.map(|cell| view! { <td>{cell}</td> }).collect_view();
            let (file, name) = (words::csv_file(&one), words::recording(&one));
            let label = format!("{}: {name}", words::CSV);
            let save = move |_| {
                // Written when it is asked for: a recording may hold hundreds of thousands of lines.
                let text = records.with_value(|records| records.get(one.place).map(csv::write));
                match text {
                    Some(text) => offer(app, &file, &text, file::CSV),
                    None => app.tell(Trouble::Unexpected, "csv"),
                }
            };
            view! {
                <tr>
                    <th scope="row">{name}</th>
                    {cells}
                    <td class="no-print">
                        <button type="button" aria-label=label on:click=save>{words::CSV}</button>
                    </td>
                </tr>
            }
        })
        .collect_view();
    let head =
        words::RECORDINGS_HEAD.map(|head| view! { <th scope="col">{head}</th> }).collect_view();
    view! {
        <section class="figures-table">
            <h2>{words::RECORDINGS}</h2>
            <p class="soft small">{words::RECORDINGS_METHOD}</p>
            <div class="wide" tabindex="0" role="region" aria-label=words::RECORDINGS>
                <table>
                    <thead>
                        <tr>{head}<th scope="col" class="no-print">{words::FILES}</th></tr>
                    </thead>
                    <tbody>{rows}</tbody>
                </table>
            </div>
        </section>
    }
    .into_any()
}
