//! The cards of the first screen: the stop signal, conditions with their cautions, help, consent, and
//! the ways to the day, the set-up and the body parts.

use crate::parts::answer::{Row, card, leads_to, line, lines, one_of, yes_or_no};
use crate::parts::forget::Counter;
use crate::parts::frame::mend_focus;
use crate::parts::live::{part, text, when};
use crate::parts::unfinished::UnfinishedTasks;
use crate::route::Screen;
use crate::state::App;
use crate::store::now_epoch_ms;
use crate::words::{ready as words, set_up, sites, today};
use fitting::visit::{Condition, Consent, ConsentTo, Helping, Visit};
use leptos::prelude::*;

/// All cards.
#[component]
pub fn ReadyCards() -> impl IntoView {
    let app = App::of_context();
    let said = move |line: fn(&Visit) -> String| move || app.visit.with(line);
    view! {
        <UnfinishedTasks/>
        <section aria-label=words::CARDS class="cards">
            {card(words::STOP, said(|visit| words::stop_line(&visit.safety)), stop_signal(app))}
            {card(words::ASK, said(|visit| words::conditions_line(&visit.safety)), conditions(app))}
            {card(words::HELP, said(|visit| words::help_line(&visit.support)), help(app))}
            {card(words::CONSENT, said(|visit| words::consent_line(&visit.consent)), consent(app))}
            <Ways/>
            <Counter/>
        </section>
    }
}

/// The ways to the screens that belong to this one.
#[component]
pub fn Ways() -> impl IntoView {
    let app = App::of_context();
    let said = move |line: fn(&Visit) -> String| move || app.visit.with(line);
    view! {
        <nav class="answers-links" aria-label=words::CARDS>
            {leads_to(&Screen::Today, said(|visit| today::line(&visit.today)))}
            {leads_to(&Screen::SetUp, said(|visit| set_up::line(visit.set_up())))}
            {leads_to(&Screen::Sites, said(|visit| sites::line(&visit.sites)))}
        </nav>
    }
}

fn stop_signal(app: App) -> AnyView {
    let how = Row::new(
        move || app.visit.with(|visit| visit.safety.stop.how.clone()),
        move |how: String| {
            app.change_visit(|visit| {
                // Another signal was not tried yet.
                visit.safety.stop.tried &= visit.safety.stop.how == how;
                visit.safety.stop.how = how;
            });
        },
    );
    let suggestions = words::STOP_SUGGESTIONS
        .map(|suggestion| {
            view! {
                <button type="button" on:click=move |_| app.change_visit(|visit| {
                    visit.safety.stop.tried &= visit.safety.stop.how == suggestion;
                    visit.safety.stop.how = suggestion.to_owned();
                })>{suggestion}</button>
            }
        })
        .collect_view();
    view! {
        {line("stop-how", words::STOP_HOW, Some(words::STOP_HOW_HELP), how)}
        <div class="controls">{suggestions}</div>
    }
    .into_any()
}

fn conditions(app: App) -> AnyView {
    let rows = Condition::ALL
        .into_iter()
        .map(|condition| {
            let row = Row::new(
                move || app.visit.with(|visit| visit.safety.answer(condition)),
                move |answer| {
                    app.change_visit(|visit| visit.safety.set_answer(condition, answer));
                },
            );
            let caution = Memo::new(move |_| {
                app.visit.with(|visit| words::caution_of(condition, visit.safety.answer(condition)))
            });
            view! {
                {yes_or_no(&format!("condition-{condition:?}"), words::condition(condition), &row)}
                <div role="status">
                    {part(move || caution.get().map(|caution| view! {
                        <p class="caution">{caution}</p>
                    }).into_any())}
                </div>
            }
        })
        .collect_view();
    let none_left = move || app.visit.with(|visit| visit.safety.skipped().is_empty());
    let none_of_the_rest = move |_| {
        app.change_visit(|visit| {
            for condition in visit.safety.skipped() {
                visit.safety.set_answer(condition, Some(false));
            }
        });
        mend_focus();
    };
    let all = Condition::ALL
        .map(|condition| {
            view! {
                <dt>{words::condition(condition)}</dt>
                <dd>{words::caution(condition)}</dd>
            }
        })
        .collect_view();
    view! {
        <p class="soft">{words::ASK_HELP}</p>
        {rows}
        <div class="controls">
            {when(move || !none_left(), move || view! {
                <button type="button" on:click=none_of_the_rest>{words::NONE_OF_THE_REST}</button>
            }.into_any())}
        </div>
        <details>
            <summary>{words::ALL_CAUTIONS}</summary>
            <dl class="cautions">{all}</dl>
        </details>
    }
    .into_any()
}

fn help(app: App) -> AnyView {
    let from = [Helping::Alone, Helping::Beside, Helping::FarAway];
    let place = Row::new(
        move || {
            let helping = app.visit.with(|visit| visit.support.helping);
            from.iter().position(|one| Some(*one) == helping).unwrap_or(from.len())
        },
        move |index: usize| {
            app.change_visit(|visit| visit.support.helping = from.get(index).copied());
        },
    );
    let who = Row::new(
        move || app.visit.with(|visit| visit.support.who.clone()),
        move |who| app.change_visit(|visit| visit.support.who = who),
    );
    let how = Row::new(
        move || app.visit.with(|visit| visit.support.how.clone()),
        move |how| app.change_visit(|visit| visit.support.how = how),
    );
    let caution = Memo::new(move |_| match app.visit.with(|visit| visit.support.helping) {
        Some(Helping::Alone) => Some(words::HELP_ALONE),
        Some(Helping::FarAway) => Some(words::HELP_FAR),
        _ => None,
    });
    view! {
        {one_of("helping", words::HELP_WHERE, words::HELP_FROM.to_vec(), place)}
        <div role="status">
            {part(move || caution.get().map(|caution| view! {
                <p class="caution">{caution}</p>
            }).into_any())}
        </div>
        {line("help-who", words::HELP_WHO, Some(words::HELP_WHO_HELP), who)}
        {lines("help-how", words::HELP_HOW, Some(words::HELP_HOW_HELP), how)}
    }
    .into_any()
}

/// Changes consent, and notes when that was.
fn change_consent(app: App, change: impl FnOnce(&mut Consent)) {
    app.change_visit(|visit| {
        change(&mut visit.consent);
        visit.consent.given_epoch_ms = Some(now_epoch_ms());
    });
}

fn consent(app: App) -> AnyView {
    let read = move |read: fn(&Consent) -> String| app.visit.with(|visit| read(&visit.consent));
    let who = Row::new(
        move || read(|consent| consent.who.clone()),
        move |who| change_consent(app, |consent| consent.who = who),
    );
    let own_words = Row::new(
        move || read(|consent| consent.own_words.clone()),
        move |own| change_consent(app, |consent| consent.own_words = own),
    );
    let own_yes = Row::new(
        move || app.visit.with(|visit| visit.consent.own_yes),
        move |yes| change_consent(app, |consent| consent.own_yes = yes),
    );
    let own_no = move || app.visit.with(|visit| visit.consent.own_yes == Some(false));
    let rows = ConsentTo::ALL
        .map(|to| {
            let row = Row::new(
                move || app.visit.with(|visit| visit.consent.answer(to)),
                move |answer| change_consent(app, |consent| consent.set_answer(to, answer)),
            );
            let no = move || app.visit.with(|visit| visit.consent.answer(to) == Some(false));
            view! {
                {yes_or_no(&format!("consent-{to:?}"), words::consent_to(to), &row)}
                <div role="status">
                    {when(no, move || view! { <p class="caution">{words::no_means(to)}</p> }.into_any())}
                </div>
            }
        })
        .collect_view();
    let changed = move || {
        let at = app.visit.with(|visit| visit.consent.given_epoch_ms);
        at.map(|at| words::consent_when(&crate::parts::sheet::date(at))).unwrap_or_default()
    };
    view! {
        {line("consent-who", words::CONSENT_WHO, Some(words::CONSENT_WHO_HELP), who)}
        {rows}
        {yes_or_no("own-yes", words::OWN_YES, &own_yes)}
        <div role="status">
            {when(own_no, || view! { <p class="caution">{words::OWN_NO_MEANS}</p> }.into_any())}
        </div>
        {line("own-words", words::OWN_WORDS, None, own_words)}
        <StillKept/>
        <p class="soft small">{text(changed)}</p>
    }
    .into_any()
}

/// After a no to keeping: what was kept before is deleted when somebody says so, not by itself.
#[component]
fn StillKept() -> impl IntoView {
    let app = App::of_context();
    let forgotten = RwSignal::new(false);
    let refuses = move || app.visit.with(|visit| visit.consent.refuses(ConsentTo::Keeping));
    let forget = move |_| {
        leptos::task::spawn_local(async move {
            app.forget().await;
            forgotten.set(!app.row_kept.get_untracked());
            mend_focus();
        });
    };
    view! {
        <div role="status">
            {when(move || refuses() && app.row_kept.get(), move || view! {
                <div class="notice">
                    <p>{words::STILL_KEPT}</p>
                    <div class="controls">
                        <button type="button" class="rest" on:click=forget>{words::FORGET}</button>
                    </div>
                </div>
            }.into_any())}
            {when(move || refuses() && forgotten.get() && !app.row_kept.get(), || view! {
                <p class="notice">{words::FORGOTTEN}</p>
            }.into_any())}
        </div>
    }
}
