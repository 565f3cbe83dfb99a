//! How the person is today: half a minute, everything optional.

use crate::parts::answer::{Row, line, number, of_ten, one_of};
use crate::parts::live::{attribute, when};
use crate::route::{Screen, go};
use crate::state::App;
use crate::words::today as words;
use fitting::visit::{Compared, Today};
use leptos::prelude::*;

/// What compared answers are offered, in order.
const COMPARED: [Compared; 3] = [Compared::Less, Compared::Usual, Compared::More];

/// The screen.
#[component]
pub fn TodayScreen() -> impl IntoView {
    let app = App::of_context();
    let of = move |get: fn(&Today) -> Option<u8>, set: fn(&mut Today, Option<u8>)| {
        Row::new(
            move || app.visit.with(|visit| get(&visit.today)),
            move |value| change(app, |today| set(today, value)),
        )
    };
    let since = move |get: fn(&Today) -> Option<u32>, set: fn(&mut Today, Option<u32>)| {
        Row::new(
            move || app.visit.with(|visit| get(&visit.today)),
            move |value| change(app, |today| set(today, value)),
        )
    };
    let against = move |get: fn(&Today) -> Option<Compared>,
                        set: fn(&mut Today, Option<Compared>)| {
        Row::new(
            move || app.visit.with(|visit| get(&visit.today)).map_or(COMPARED.len(), words::place),
            move |index: usize| change(app, |today| set(today, COMPARED.get(index).copied())),
        )
    };
    let else_today = Row::new(
        move || app.visit.with(|visit| visit.today.else_today.clone()),
        move |said| change(app, |today| today.else_today = said),
    );
    let more_spasm = move || app.visit.with(|visit| visit.today.spasm == Some(Compared::More));
    view! {
        <div class="two">
            <div>
                <h1 tabindex="-1">{words::TITLE}</h1>
                <p>{words::TEXT}</p>
                <div class="beside">
                    {of_ten("fatigue", words::FATIGUE, words::SCALE, of(|today| today.fatigue, |today, value| today.fatigue = value))}
                    {of_ten("pain", words::PAIN, words::SCALE, of(|today| today.pain, |today, value| today.pain = value))}
                </div>
                {one_of(
                    "spasm", words::SPASM, words::SPASM_IS.to_vec(),
                    against(|today| today.spasm, |today, value| today.spasm = value),
                )}
                <div role="status">
                    {when(more_spasm, || view! { <p class="caution">{words::SPASM_MORE}</p> }.into_any())}
                </div>
                {one_of(
                    "sleep", words::SLEEP, words::SLEEP_IS.to_vec(),
                    against(|today| today.sleep, |today, value| today.sleep = value),
                )}
            </div>
            <div>
                <div class="answer">
                    <label for="time">{words::TIME}</label>
                    <input
                        id="time" class="short" type="time"
                        prop:value=attribute(move || app.visit.with(|visit| visit.today.time.clone()))
                        on:change=move |event| {
                            let time = event_target_value(&event);
                            app.change_visit(|visit| visit.today.time = time);
                        }
                    />
                </div>
                {number(
                    "medication", words::MEDICATION, (0, 100_000),
                    since(|today| today.minutes_since_medication, |today, value| today.minutes_since_medication = value),
                )}
                {number(
                    "injection", words::INJECTION, (0, 100_000),
                    since(|today| today.days_since_injection, |today, value| today.days_since_injection = value),
                )}
                {line("else-today", words::ELSE, Some(words::ELSE_HELP), else_today)}
                <p class="caution">{words::CAUTION}</p>
                <div class="controls">
                    <button type="button" class="main" on:click=move |_| go(&Screen::SetUp)>{words::NEXT}</button>
                    <a class="button" href=Screen::Ready.hash()>{words::BACK}</a>
                </div>
            </div>
        </div>
    }
}

/// Changes what is told of the day; with the first answer, the time is noted.
fn change(app: App, change: impl FnOnce(&mut Today)) {
    app.change_visit(|visit| {
        change(&mut visit.today);
        if visit.today.time.is_empty() {
            visit.today.time = time_now();
        }
    });
}

/// The time of day in hours and minutes, as a field of time has it.
fn time_now() -> String {
    let now = js_sys::Date::new_0();
    format!("{:02}:{:02}", now.get_hours(), now.get_minutes())
}
