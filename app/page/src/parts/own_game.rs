//! Five minutes in the person's own game: how it went, and what to change first.

use super::answer::typed_lines;
use super::live::{attribute, part, text, yes};
use super::tick::tick;
use crate::route::Screen;
use crate::state::App;
use crate::words::own_game as words;
use fitting::suggest::own_game::after_play;
use fitting::visit::{Felt, OwnGame};
use leptos::prelude::*;
use std::time::Duration;

/// How often the clock is drawn.
const CLOCK: Duration = Duration::from_secs(1);

/// The section on the screen of trying.
#[component]
pub fn OwnGameSection() -> impl IntoView {
    let steps = words::STEPS.map(|text| view! { <li>{text}</li> }).collect_view();
    let app = App::of_context();
    let felt = Felt::ALL
        .map(|felt| {
            let is = move || played(app, |own| own.felt.contains(&felt)).unwrap_or(false);
            tick(words::felt(felt), is, move |is| {
                change(app, |own| {
                    if is {
                        own.felt.insert(felt);
                    } else {
                        own.felt.remove(&felt);
                    }
                });
            })
        })
        .collect_view();
    view! {
        <section class="card" aria-labelledby="own-game">
            <h2 id="own-game">{words::TITLE}</h2>
            <div class="two">
                <div>
                    <ol>{steps}</ol>
                    <Clock/>
                    <p>
                        <label>
                            {words::MINUTES} " "
                            <input
                                type="number" min="0" max="600" step="1" inputmode="numeric"
                                prop:value=attribute(move || {
                                    let minutes = played(app, |own| own.minutes).flatten();
                                    minutes.map_or_else(String::new, |minutes| minutes.to_string())
                                })
                                on:change=move |event| {
                                    let minutes = event_target_value(&event).parse::<u32>().ok();
                                    change(app, |own| own.minutes = minutes.map(|some| some.min(600)));
                                }
                            />
                        </label>
                    </p>
                    {scale(app, words::EFFORT, words::EFFORT_HELP, |own| own.effort, |own, of_ten| own.effort = of_ten)}
                    {scale(app, words::COMFORT, words::COMFORT_HELP, |own| own.comfort, |own, of_ten| own.comfort = of_ten)}
                </div>
                <div>
                    <fieldset><legend>{words::FELT}</legend>{felt}</fieldset>
                    <p>
                        <label for="changed-back">{words::CHANGED_BACK}</label>
                        <textarea
                            id="changed-back" rows="2" maxlength="400"
                            prop:value=attribute(move || played(app, |own| own.changed_back.clone()).unwrap_or_default())
                            on:change=move |event| {
                                let text = typed_lines(&event);
                                change(app, |own| own.changed_back = text);
                            }
                        ></textarea>
                    </p>
                </div>
            </div>
            <div role="status">{part(move || first(app))}</div>
        </section>
    }
}

/// What was said of the play, once anything was.
fn played<T>(app: App, read: impl FnOnce(&OwnGame) -> T) -> Option<T> {
    app.visit.with(|visit| visit.own_game.as_ref().map(read))
}

fn change(app: App, change: impl FnOnce(&mut OwnGame)) {
    app.change_visit(|visit| {
        let own = visit.own_game.get_or_insert_default();
        change(own);
        if *own == OwnGame::default() {
            visit.own_game = None;
        }
    });
}

/// A number of a scale from 0 to 10, or not said.
fn scale(
    app: App,
    name: &'static str,
    help: &'static str,
    get: fn(&OwnGame) -> Option<u8>,
    set: fn(&mut OwnGame, Option<u8>),
) -> AnyView {
    let now = move || played(app, get).flatten();
    let options = (0..=10_u8)
        .map(|of_ten| {
            view! {
                <option value=of_ten.to_string() selected=yes(move || now() == Some(of_ten))>
                    {of_ten.to_string()}
                </option>
            }
        })
        .collect_view();
    view! {
        <p>
            <label>
                {name} " "
                <select on:change=move |event| {
                    let of_ten = event_target_value(&event).parse::<u8>().ok();
                    change(app, |own| set(own, of_ten));
                }>
                    <option value="" selected=yes(move || now().is_none())>{words::NOT_SAID}</option>
                    {options}
                </select>
            </label>
            " " <span class="soft small">{help}</span>
        </p>
    }
    .into_any()
}

/// A clock that ends nothing.
#[component]
fn Clock() -> impl IntoView {
    let app = App::of_context();
    let since = RwSignal::new(None::<f64>);
    let now = RwSignal::new(0.0_f64);
    let ticking = StoredValue::new(None::<IntervalHandle>);
    let still = move || {
        if let Some(handle) = ticking.try_update_value(Option::take).flatten() {
            handle.clear();
        }
    };
    on_cleanup(still);
    let press = move |_| match since.get_untracked() {
        None => {
            let begun = app.input.now_seconds();
            since.set(Some(begun));
            now.set(begun);
            let tick = move || now.set(app.input.now_seconds());
            // Without a timer the clock stands still and hurts nobody.
            ticking.set_value(set_interval_with_handle(tick, CLOCK).ok());
        }
        Some(begun) => {
            still();
            since.set(None);
            let minutes = ((app.input.now_seconds() - begun) / 60.0).round();
            // At most ten hours, and never below nothing.
            change(app, |own| own.minutes = Some(minutes.clamp(0.0, 600.0) as u32));
        }
    };
    let runs = move || since.get().is_some();
    view! {
        <div class="controls">
            <button type="button" on:click=press>
                {text(move || if runs() { words::CLOCK_STOP } else { words::CLOCK_START }.to_owned())}
            </button>
            <span role="timer">{text(move || match since.get() {
                Some(since) => words::clock(now.get() - since),
                None => String::new(),
            })}</span>
        </div>
        <p class="soft small">{words::CLOCK_HELP}</p>
    }
}

/// What to change first.
fn first(app: App) -> AnyView {
    let Some(own) = app.visit.with(|visit| visit.own_game.clone()) else {
        return ().into_any();
    };
    let settings = app.settings();
    let step = app
        .visit
        .with(|visit| visit.path.in_hand().and_then(|place| visit.path.layers.get(place)?.step));
    let advice = app.analysis.with(|analysis| {
        after_play(&own, &settings, analysis.as_ref().map(|one| &one.measures), step)
    });
    if advice.is_empty() {
        return view! { <p>{words::FINE}</p> }.into_any();
    }
    let decided = app.decided();
    let lines = advice
        .iter()
        .map(|one| {
            let why = one.felt.map(|felt| format!("{}: ", words::felt(felt))).unwrap_or_default();
            view! { <li><strong>{why}</strong>{words::change(one, &decided)}</li> }
        })
        .collect_view();
    view! {
        <h3>{words::FIRST}</h3>
        <ol>{lines}</ol>
        <p class="soft small">{words::ONE}</p>
        <p><a href=Screen::Settings.hash()>{words::TO_NUMBERS}</a></p>
    }
    .into_any()
}
