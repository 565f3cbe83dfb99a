//! Choosing a stick: what is asked at the left, what to look for at the right.

use crate::parts::answer::{Row, card, line, one_of, yes_or_no};
use crate::parts::live::{part, text, when};
use crate::parts::tick::tick;
use crate::route::{Screen, go};
use crate::state::App;
use crate::words::choosing::{self as words, advice as advice_words, caution, reason, source};
use crate::words::papers::need;
use crate::words::ready;
use device::choosing::{Advice, Found, Group, Person, Reason, advise, cautions};
use fitting::papers::Facts;
use fitting::visit::{
    Actions, BodyPart, Condition, Endurance, Grasp, MountPlace, PadReach, Posture, Pressing,
    Strength, Travel, Unwanted, Wanted,
};
use leptos::prelude::*;

/// The person of this visit, with what was measured.
pub fn person(app: App) -> Memo<Person> {
    let found = Memo::new(move |_| {
        app.analysis.track();
        let summary = app.summary();
        let mover = app.kind.get_untracked().mover;
        let facts =
            summary.map(|one| app.visit.with_untracked(|visit| Facts::of(visit, &one.body, mover)));
        let analysis = app.analysis.get_untracked();
        match (facts, analysis) {
            (Some(facts), Some(analysis)) => Found::of(&facts, &analysis.suggestions),
            _ => Found::default(),
        }
    });
    Memo::new(move |_| {
        let mover = app.kind.get().mover;
        app.visit.with(|visit| Person::of(visit, mover, found.get()))
    })
}

/// The screen.
#[component]
pub fn ChoosingScreen() -> impl IntoView {
    let app = App::of_context();
    let person = person(app);
    let said =
        move |line: fn(&Wanted) -> String| move || app.visit.with(|visit| line(&visit.wanted));
    let advice = Memo::new(move |_| person.with(advise));
    let counted =
        move || words::count(advice.with(Vec::len), person.with(|person| cautions(person).len()));
    let is_beginning = move || {
        advice.with(|advice| {
            advice.iter().all(|one| one.reasons.iter().all(|why| *why == Reason::Always))
        })
    };
    view! {
        <div class="two">
            <div>
                <h1 tabindex="-1">{words::TITLE}</h1>
                <p>{words::TEXT}</p>
                <div class="cards">
                    {card(words::MOVES, said(words::moves_line), moves(app))}
                    {card(words::HOLDS, said(words::holds_line), holds(app))}
                    {card(words::PLACE, said(words::place_line), place(app))}
                    {card(words::CONTROLS, said(words::controls_line), controls(app))}
                    {card(words::CARE, said(words::care_line), care(app))}
                </div>
                <div class="controls">
                    <button type="button" class="main" on:click=move |_| go(&Screen::Questions)>
                        {words::TO_QUESTIONS}
                    </button>
                    <a class="button" href=Screen::Stick.hash()>{words::BACK}</a>
                </div>
            </div>
            <section aria-labelledby="advice">
                <h2 id="advice">{words::ADVICE}</h2>
                <p role="status">{text(counted)}</p>
                {when(is_beginning, || view! { <p class="notice">{words::NOTHING_YET}</p> }.into_any())}
                <p class="soft">{words::ADVICE_TEXT}</p>
                {part(move || told(&advice.get(), &person.get()))}
            </section>
        </div>
    }
}

/// The advice by heading, and what to watch.
fn told(advice: &[Advice], person: &Person) -> AnyView {
    let subject = reason::subject(&person.wanted);
    let groups = Group::ALL
        .into_iter()
        .filter_map(|group| {
            let items: Vec<AnyView> = advice
                .iter()
                .filter(|one| one.feature.group() == group)
                .map(|one| item(one, &subject))
                .collect();
            (!items.is_empty()).then(|| {
                view! {
                    <h3>{advice_words::group(group)}</h3>
                    <ul class="advice">{items}</ul>
                }
            })
        })
        .collect_view();
    let watch = cautions(person)
        .into_iter()
        .map(|one| {
            let because = one.because.map(|why| {
                caution::because(&reason::because(&[Reason::Answer(why)], &subject, true))
            });
            view! {
                <li>
                    {caution::caution(one.caution)}
                    {because.map(|because| view! { " " <span class="soft">{because}</span> })}
                </li>
            }
        })
        .collect_view();
    view! {
        {groups}
        <h3>{caution::TITLE}</h3>
        <ul class="caution">{watch}</ul>
    }
    .into_any()
}

fn item(advice: &Advice, subject: &str) -> AnyView {
    let needs: Vec<AnyView> = advice
        .reasons
        .iter()
        .filter_map(|why| match why {
            Reason::Need(one) => Some(view! { <li>{need(one)}</li> }.into_any()),
            _ => None,
        })
        .collect();
    let needs = (!needs.is_empty()).then(|| view! { <ul>{needs}</ul> });
    let figures = source::figures(advice);
    let figures = figures.map(|figures| view! { <p class="soft small">{figures}</p> });
    view! {
        <li>
            <p dir="auto">
                <strong>{advice_words::lead(advice)}</strong>
                {advice_words::rest(advice, subject)}
            </p>
            {needs}
            {figures}
            <p class="soft small">{source::line(advice)}</p>
        </li>
    }
    .into_any()
}

/// One of a few answers, or none.
fn one<T: Copy + PartialEq + Send + Sync + 'static>(
    app: App,
    name: &'static str,
    question: &'static str,
    (all, word): (&'static [T], fn(T) -> &'static str),
    of: fn(&mut Wanted) -> &mut Option<T>,
) -> AnyView {
    let row = Row::new(
        move || {
            let told = app.visit.with(|visit| *of(&mut visit.wanted.clone()));
            let at = told.and_then(|told| all.iter().position(|one| *one == told));
            at.unwrap_or(all.len())
        },
        move |index: usize| {
            app.change_visit(|visit| *of(&mut visit.wanted) = all.get(index).copied());
        },
    );
    one_of(name, question, words::offered(all, word), row)
}

/// Yes, no, or not asked.
fn yes(
    app: App,
    name: &'static str,
    question: &'static str,
    of: fn(&mut Wanted) -> &mut Option<bool>,
) -> AnyView {
    let row = Row::new(
        move || app.visit.with(|visit| *of(&mut visit.wanted.clone())),
        move |answer| app.change_visit(|visit| *of(&mut visit.wanted) = answer),
    );
    yes_or_no(name, question, &row)
}

/// What the safety check asks as well.
fn condition(app: App, condition: Condition) -> AnyView {
    let row = Row::new(
        move || app.visit.with(|visit| visit.safety.answer(condition)),
        move |answer| app.change_visit(|visit| visit.safety.set_answer(condition, answer)),
    );
    yes_or_no(&format!("choosing-{condition:?}"), ready::condition(condition), &row)
}

fn moves(app: App) -> AnyView {
    let body_words = Row::new(
        move || app.visit.with(|visit| visit.wanted.body_words.clone()),
        move |said| app.change_visit(|visit| visit.wanted.body_words = said),
    );
    view! {
        {one(app, "wanted-body", words::BODY, (&BodyPart::ALL, words::body), |one| &mut one.body)}
        {line("wanted-body-words", words::BODY_WORDS, Some(words::BODY_WORDS_HELP), body_words)}
        {one(app, "wanted-travel", words::TRAVEL, (&Travel::ALL, words::travel), |one| &mut one.travel)}
        {one(app, "wanted-strength", words::STRENGTH, (&Strength::ALL, words::strength), |one| &mut one.strength)}
        {one(app, "wanted-unwanted", words::UNWANTED, (&Unwanted::ALL, words::unwanted), |one| &mut one.unwanted)}
    }
    .into_any()
}

fn holds(app: App) -> AnyView {
    view! {
        {one(app, "wanted-grasp", words::GRASP, (&Grasp::ALL, words::grasp), |one| &mut one.grasp)}
        {one(app, "wanted-endurance", words::ENDURANCE, (&Endurance::ALL, words::endurance), |one| &mut one.endurance)}
        {yes(app, "wanted-weak", words::WEAK, |one| &mut one.weak)}
        {yes(app, "wanted-hurts", words::HURTS, |one| &mut one.hurts)}
        {condition(app, Condition::LooseJoints)}
        <p class="soft small">{words::SAME_ANSWERS}</p>
    }
    .into_any()
}

fn place(app: App) -> AnyView {
    let places = MountPlace::ALL
        .map(|place| {
            tick(
                words::place(place),
                move || app.visit.with(|visit| visit.wanted.places.contains(&place)),
                move |is| {
                    app.change_visit(|visit| {
                        if is {
                            visit.wanted.places.insert(place);
                        } else {
                            visit.wanted.places.remove(&place);
                        }
                    });
                },
            )
        })
        .collect_view();
    view! {
        {one(app, "wanted-posture", words::POSTURE, (&Posture::ALL, words::posture), |one| &mut one.posture)}
        <fieldset class="picks">
            <legend>{words::PLACES}</legend>
            <div class="beside">{places}</div>
        </fieldset>
        {one(app, "wanted-pad", words::PAD_REACH, (&PadReach::ALL, words::pad_reach), |one| &mut one.pad_reach)}
    }
    .into_any()
}

fn controls(app: App) -> AnyView {
    view! {
        {one(app, "wanted-pressing", words::PRESSING, (&Pressing::ALL, words::pressing), |one| &mut one.pressing)}
        {one(app, "wanted-actions", words::ACTIONS, (&Actions::ALL, words::actions), |one| &mut one.actions)}
        {yes(app, "wanted-breath", words::BREATH, |one| &mut one.breath)}
        {condition(app, Condition::BreathingSupport)}
        <p class="soft small">{words::SAME_ANSWERS}</p>
    }
    .into_any()
}

fn care(app: App) -> AnyView {
    view! {
        {yes(app, "wanted-skin", words::SORE_SKIN, |one| &mut one.sore_skin)}
        {yes(app, "wanted-wet", words::WET, |one| &mut one.wet)}
        {yes(app, "wanted-shared", words::SHARED, |one| &mut one.shared)}
        {condition(app, Condition::PoorSensation)}
        {condition(app, Condition::BiteReflex)}
        <p class="soft small">{words::SAME_ANSWERS}</p>
    }
    .into_any()
}
