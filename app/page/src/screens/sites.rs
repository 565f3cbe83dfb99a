//! Looking for the body part that moves the stick: up to three, each with a short free movement and
//! five questions, then beside one another.

use super::task::Task;
use crate::parts::answer::{Row, line, yes_or_no};
use crate::parts::between_tasks::BetweenTasks;
use crate::parts::frame::mend_focus;
use crate::parts::live::{effect, part, text, when};
use crate::parts::sites_compared::SitesBeside;
use crate::route::{Screen, go};
use crate::state::App;
use crate::words::{sites as words, today};
use fitting::NotEnough;
use fitting::measure::site::{SiteMovement, site_movement};
use fitting::task::TaskAsk;
use fitting::visit::{MOST_SITES, SiteQuestion, SiteTrial};
use leptos::prelude::*;

/// How long a body part is moved freely, seconds.
const SECONDS: f64 = 25.0;

/// What each body part's recordings say, in the order of the body parts.
pub type Moved = Memo<Vec<Result<SiteMovement, NotEnough>>>;

/// The screen.
#[component]
pub fn SitesScreen() -> impl IntoView {
    let app = App::of_context();
    let running = Memo::new(move |_| app.session.view.with(Option::is_some));
    effect(move || {
        if !running.get() {
            app.looking_at.set_value(None);
        }
    });
    // Leaving the screen ends the movement and keeps what there is.
    on_cleanup(move || {
        app.leave_task();
        app.looking_at.set_value(None);
    });
    part(
        move || {
            if running.get() { view! { <Task/> }.into_any() } else { view! { <Look/> }.into_any() }
        },
    )
}

/// The body parts, and how they compare.
#[component]
fn Look() -> impl IntoView {
    let app = App::of_context();
    mend_focus();
    let moved: Moved = Memo::new(move |_| {
        let count = app.visit.with(|visit| visit.sites.len());
        app.aside.with(|aside| {
            let of = |site: usize| {
                let records = aside
                    .iter()
                    .filter(|(_, head)| head.site.is_some_and(|one| usize::from(one) == site));
                site_movement(records.map(|(record, _)| record))
            };
            (0..count).map(of).collect()
        })
    });
    let count = Memo::new(move |_| app.visit.with(|visit| visit.sites.len()));
    let sites = move || {
        // One is always there to begin with.
        let shown = count.get().max(1);
        (0..shown).map(|site| one_site(app, site, moved)).collect_view().into_any()
    };
    let status = app.input.status();
    let no_stick = move || status.with(|status| status.chosen.is_none());
    let can_add = move || (1..MOST_SITES).contains(&count.get());
    view! {
        <h1 tabindex="-1">{words::TITLE}</h1>
        <p>{words::TEXT}</p>
        <BetweenTasks/>
        {when(no_stick, || view! {
            <p class="notice">
                {words::NO_STICK} " " <a href=Screen::Stick.hash()>{words::TO_STICK}</a>
            </p>
        }.into_any())}
        <div class="sites">{part(sites)}</div>
        <div class="controls">
            {when(can_add, move || view! {
                <button type="button" on:click=move |_| {
                    app.change_visit(|visit| visit.sites.push(SiteTrial::default()));
                    mend_focus();
                }>{words::ADD}</button>
            }.into_any())}
        </div>
        <SitesBeside moved/>
        <div class="controls">
            <button type="button" class="main" on:click=move |_| go(&Screen::SetUp)>{words::NEXT}</button>
            <a class="button" href=Screen::Ready.hash()>{today::BACK}</a>
        </div>
    }
}

/// Changes what is told of one body part.
fn change(app: App, site: usize, change: impl FnOnce(&mut SiteTrial)) {
    app.change_visit(|visit| {
        while visit.sites.len() <= site && visit.sites.len() < MOST_SITES {
            visit.sites.push(SiteTrial::default());
        }
        if let Some(trial) = visit.sites.get_mut(site) {
            change(trial);
        }
    });
}

/// One body part: its name, the movement, what it showed, the questions.
fn one_site(app: App, site: usize, moved: Moved) -> AnyView {
    let read = move |read: fn(&SiteTrial) -> String| {
        app.visit.with(|visit| visit.sites.get(site).map(read)).unwrap_or_default()
    };
    let name = Row::new(
        move || read(|trial| trial.body_part.clone()),
        move |part| change(app, site, |trial| trial.body_part = part),
    );
    let questions = SiteQuestion::ALL
        .map(|question| {
            let row = Row::new(
                move || {
                    app.visit
                        .with(|visit| visit.sites.get(site).and_then(|one| one.answer(question)))
                },
                move |answer| change(app, site, |trial| trial.set_answer(question, answer)),
            );
            yes_or_no(&format!("site-{site}-{question:?}"), words::question(question), &row)
        })
        .collect_view();
    let found = Memo::new(move |_| moved.with(|moved| moved.get(site).cloned()));
    let recorded = move || {
        found
            .with(|found| matches!(found, Some(found) if *found != Err(NotEnough::NothingRecorded)))
    };
    let status = app.input.status();
    let has_stick = move || status.with(|status| status.chosen.is_some());
    let start = move |_| {
        change(app, site, |_| {});
        // Few: three at the most.
        app.looking_at.set_value(u8::try_from(site).ok());
        app.start_task(TaskAsk::FreeMovement { seconds: SECONDS });
    };
    // Only the last, and only without a recording: the others keep their places.
    let can_remove = move || {
        let last = app.visit.with(|visit| visit.sites.len()) == site + 1;
        last && site > 0 && !recorded()
    };
    let title = words::title(site);
    let remove = format!("{}: {title}", words::REMOVE);
    // Fixed names for the browser: there are three at the most.
    let id = ["site-part-1", "site-part-2", "site-part-3"].get(site).copied().unwrap_or_default();
    view! {
        <section class="card" role="group" aria-label=title.clone()>
            <h2>{title.clone()}</h2>
            {line(id, words::PART, Some(words::PART_HELP), name)}
            <p class="soft small">{words::MOVE_HELP}</p>
            <div class="controls">
                {when(has_stick, move || view! {
                    <button type="button" on:click=start>
                        {text(move || words::start(SECONDS, recorded()))}
                    </button>
                }.into_any())}
                {when(can_remove, move || {
                    let remove = remove.clone();
                    view! {
                        <button type="button" aria-label=remove on:click=move |_| {
                            app.change_visit(|visit| {
                                visit.sites.pop();
                            });
                            mend_focus();
                        }>{words::REMOVE}</button>
                    }.into_any()
                })}
            </div>
            {part(move || found.with(|found| found.as_ref().map(showed)).into_any())}
            {questions}
        </section>
    }
    .into_any()
}

/// What the movement showed.
fn showed(moved: &Result<SiteMovement, NotEnough>) -> AnyView {
    let moved = match moved {
        Ok(moved) => moved,
        Err(NotEnough::NothingRecorded) => return ().into_any(),
        Err(why) => return view! { <p class="soft">{words::not_enough(*why)}</p> }.into_any(),
    };
    let range = moved
        .directions
        .iter()
        .map(|direction| view! { <li>{words::range(direction)}</li> })
        .collect_view();
    view! {
        <dl class="told">
            <dt>{words::MOVEMENTS}</dt><dd>{words::movements(moved)}</dd>
            <dt>{words::REPEATS}</dt><dd>{words::repeats(moved)}</dd>
            <dt>{words::RANGE}</dt><dd><ul>{range}</ul></dd>
        </dl>
    }
    .into_any()
}
