//! Where the person and the stick are: the card of the series in use, and the series before it.

use crate::parts::answer::{Row, card, line, lines, one_of, sided, yes_or_no};
use crate::parts::frame::mend_focus;
use crate::parts::live::{part, text, when};
use crate::parts::place_drawing::PlaceDrawing;
use crate::parts::series::OtherSeries;
use crate::route::{Screen, go};
use crate::state::App;
use crate::words::{place as place_words, set_up as words};
use fitting::visit::{Connection, FARTHEST_MM, SetUp, SetUpChange};
use leptos::prelude::*;

/// What the last change of the card came to.
type Said = RwSignal<SetUpChange>;

/// The screen.
#[component]
pub fn SetUpScreen() -> impl IntoView {
    let app = App::of_context();
    let said: Said = RwSignal::new(SetUpChange::Same);
    let in_use = move || {
        let tasks = app.records.with(|records| records.len());
        app.visit.with(|visit| words::in_use(visit.series(), visit.set_ups.len(), tasks))
    };
    let drawing = Memo::new(move |_| told(app, Clone::clone));
    view! {
        <div class="two">
            <div>
                <h1 tabindex="-1">{words::TITLE}</h1>
                <p>{words::TEXT}</p>
                <p class="soft">{text(in_use)}</p>
                <CameTo said/>
                <div class="cards">
                    {card(words::PERSON, move || told(app, words::person_line), person(app, said))}
                    {card(words::STICK, move || told(app, words::stick_line), stick(app, said))}
                    {card(words::CONNECTED, move || told(app, words::connection_line), connected(app, said))}
                    {card(words::MORE, move || told(app, words::else_line), more(app, said))}
                </div>
                <div class="controls">
                    <button type="button" class="main" on:click=move |_| go(&Screen::Stick)>{words::NEXT}</button>
                    <a class="button" href=Screen::Sites.hash()>{words::TO_SITES}</a>
                    <a class="button" href=Screen::Ready.hash()>{crate::words::today::BACK}</a>
                </div>
            </div>
            <div>
                <section aria-labelledby="place">
                    <h2 id="place">{place_words::TITLE}</h2>
                    {part(move || view! { <PlaceDrawing set_up=drawing.get()/> }.into_any())}
                </section>
                <p class="caution">{words::CAUTION}</p>
                <OtherSeries/>
            </div>
        </div>
    }
}

/// What the last change came to, where it is more than a word on the card.
#[component]
fn CameTo(said: Said) -> impl IntoView {
    let app = App::of_context();
    let can_correct = move || {
        let in_use = app.visit.with(|visit| visit.series());
        app.records.with(|records| records.is_empty()) && in_use > 0
    };
    view! {
        <div role="status">
            {part(move || match said.get() {
                SetUpChange::NewSeries(before) => view! {
                    <div class="notice">
                        <p>{words::new_series(before)}</p>
                        {when(can_correct, move || view! {
                            <div class="controls">
                                <button type="button" on:click=move |_| {
                                    app.correct_set_up(before);
                                    said.set(SetUpChange::Same);
                                    mend_focus();
                                }>{words::correct(before)}</button>
                            </div>
                        }.into_any())}
                    </div>
                }.into_any(),
                SetUpChange::Back => view! { <p class="notice">{words::BACK}</p> }.into_any(),
                SetUpChange::Full => view! { <p class="caution">{words::full()}</p> }.into_any(),
                SetUpChange::Same | SetUpChange::Told => ().into_any(),
            })}
        </div>
    }
}

/// What was told of the set-up in use.
fn told<T>(app: App, read: impl FnOnce(&SetUp) -> T) -> T {
    app.visit.with(|visit| match visit.set_up() {
        Some(set_up) => read(set_up),
        None => read(&SetUp::default()),
    })
}

fn change(app: App, said: Said, change: impl FnOnce(&mut SetUp)) {
    match app.change_set_up(change) {
        // What is told after a new series began belongs to it, and the offer to correct stays.
        SetUpChange::Told if matches!(said.get_untracked(), SetUpChange::NewSeries(_)) => {}
        SetUpChange::Same => {}
        came_to => said.set(came_to),
    }
}

fn words_row(app: App, said: Said, of: fn(&mut SetUp) -> &mut String) -> Row<String> {
    Row::new(
        move || told(app, |set_up| of(&mut set_up.clone()).clone()),
        move |text| change(app, said, |set_up| *of(set_up) = text),
    )
}

fn number_row(app: App, said: Said, of: fn(&mut SetUp) -> &mut Option<i32>) -> Row<Option<i32>> {
    Row::new(
        move || told(app, |set_up| *of(&mut set_up.clone())),
        move |number| change(app, said, |set_up| *of(set_up) = number),
    )
}

fn person(app: App, said: Said) -> AnyView {
    let row = move |of| words_row(app, said, of);
    let glasses = Row::new(
        move || told(app, |set_up| set_up.glasses),
        move |answer| change(app, said, |set_up| set_up.glasses = answer),
    );
    view! {
        {line("body-part", words::BODY_PART, Some(words::BODY_PART_HELP), row(|one| &mut one.body_part))}
        {line("seat", words::SEAT, None, row(|one| &mut one.seat))}
        {line("trunk", words::TRUNK, None, row(|one| &mut one.trunk))}
        {line("head", words::HEAD, None, row(|one| &mut one.head))}
        {line("arm", words::ARM, None, row(|one| &mut one.arm))}
        {line("splint", words::SPLINT, None, row(|one| &mut one.splint))}
        {yes_or_no("glasses", words::GLASSES, &glasses)}
    }
    .into_any()
}

fn stick(app: App, said: Said) -> AnyView {
    let row = move |of| words_row(app, said, of);
    let number = move |of| number_row(app, said, of);
    let farthest = FARTHEST_MM.unsigned_abs();
    view! {
        {line("reference", words::REFERENCE, Some(words::REFERENCE_HELP), row(|one| &mut one.reference))}
        <p class="soft small">{place_words::FOOT}</p>
        {sided("forward", words::FORWARD, farthest, words::FORWARD_SIDES, &number(|one| &mut one.forward_mm))}
        {sided("right", words::RIGHT, farthest, words::RIGHT_SIDES, &number(|one| &mut one.right_mm))}
        {sided("up", words::UP, farthest, words::UP_SIDES, &number(|one| &mut one.up_mm))}
        {sided("tilt", words::TILT, 180, words::TILT_SIDES, &number(|one| &mut one.tilt_degrees))}
        {sided("turn", words::TURN, 180, words::TURN_SIDES, &number(|one| &mut one.turn_degrees))}
        {line("clamp", words::CLAMP, None, row(|one| &mut one.clamp_mark))}
        {line("topper", words::TOPPER, None, row(|one| &mut one.topper))}
    }
    .into_any()
}

fn connected(app: App, said: Said) -> AnyView {
    let row = Row::new(
        move || {
            told(app, |set_up| match set_up.connection {
                Connection::Direct => 0,
                Connection::Through(_) => 1,
                Connection::Unknown => 2,
            })
        },
        move |index: usize| {
            change(app, said, |set_up| {
                set_up.connection = match index {
                    0 => Connection::Direct,
                    1 => Connection::Through(String::new()),
                    _ => Connection::Unknown,
                };
            });
        },
    );
    let is_through = move || told(app, |one| matches!(one.connection, Connection::Through(_)));
    let through = move || {
        Row::new(
            move || {
                told(app, |set_up| match &set_up.connection {
                    Connection::Through(what) => what.clone(),
                    _ => String::new(),
                })
            },
            move |what| change(app, said, |set_up| set_up.connection = Connection::Through(what)),
        )
    };
    view! {
        {one_of("connection", words::CONNECTION, words::CONNECTION_IS.to_vec(), row)}
        {when(is_through, move || line("through", words::THROUGH, None, through()))}
    }
    .into_any()
}

fn more(app: App, said: Said) -> AnyView {
    let row = words_row(app, said, |one| &mut one.else_set_up);
    lines("else-set-up", words::ELSE, Some(words::ELSE_HELP), row)
}
