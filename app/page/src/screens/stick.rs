//! Which stick, live, and which of its axes it is.

use crate::input::{DeviceSeen, Interface, Source};
use crate::parts::bars::{Bar, Bars};
use crate::parts::frame::mend_focus;
use crate::parts::layers::Layers;
use crate::parts::live::{attribute, effect, part, text, when, yes};
use crate::parts::practice_field::PracticeField;
use crate::parts::tick::tick;
use crate::route::{Screen, go};
use crate::state::App;
use crate::words::{kind as kind_words, number, people, stick as words};
use device::stick_finder::{CircleFinder, Finding, Found};
use fitting::invented::Invented;
use fitting::stick_kind::Moves;
use fitting::{AxisPick, Sample};
use leptos::prelude::*;

/// How often the live figures are drawn, seconds: numbers that change faster cannot be read.
const FIGURES_SECONDS: f64 = 0.15;

/// The second screen.
#[component]
pub fn Stick() -> impl IntoView {
    let app = App::of_context();
    view! {
        <div class="two">
            <div>
                <h1 tabindex="-1">{words::TITLE}</h1>
                <Sources/>
                {part(move || app.later.get().map(|later| (later.ways)()).into_any())}
            </div>
            <div>
                <LiveView/>
            </div>
        </div>
    }
}

/// Connected sticks, the practice stick, the invented people.
#[component]
fn Sources() -> impl IntoView {
    let app = App::of_context();
    let status = app.input.status();
    let devices = Memo::new(move |_| status.with(|status| status.devices.clone()));
    let state = move || {
        let text = status.with(|status| match status.interface {
            Interface::Missing(_) => Some(words::MISSING),
            Interface::Refused => Some(words::REFUSED),
            Interface::Waiting => Some(words::WAITING),
            Interface::Showing => None,
        });
        text.map(|text| view! { <p class="notice">{text}</p> }).into_any()
    };
    let gone = move || {
        status
            .with(|status| status.device_gone)
            .then(|| view! { <p class="caution">{words::GONE}</p> })
            .into_any()
    };
    let taken = take_lone_stick(app);
    let in_use = move || {
        let name = status.with(|status| {
            let name = || status.chosen_name.clone().filter(|name| !name.is_empty());
            let is_taken =
                taken.get().is_some() && status.chosen == taken.get() && !status.device_gone;
            is_taken.then(|| name().unwrap_or_else(|| words::UNNAMED.to_owned()))
        });
        name.map(|name| view! { <p>{words::taken(&name)}</p> }).into_any()
    };
    let invented = Invented::ALL
        .into_iter()
        .map(|person| {
            let (name, text) = people::person(person);
            choice(app, Source::Invented(person), name.to_owned(), text.to_owned())
        })
        .collect_view();
    view! {
        <section aria-labelledby="real">
            <h2 id="real">{words::REAL}</h2>
            <div role="status">{part(state)}{part(in_use)}{part(gone)}</div>
            <div class="choices">
                {part(move || devices.get().into_iter().map(|seen| device(app, seen)).collect_view().into_any())}
            </div>
            <p class="soft small">{words::HUB} " " {words::OTHER_KIND}</p>
        </section>
        <section aria-labelledby="practice">
            <h2 id="practice">{words::PRACTICE_TITLE}</h2>
            <div class="choices">
                {choice(app, Source::Practice, words::PRACTICE.to_owned(), words::PRACTICE_HELP.to_owned())}
                {invented}
            </div>
            <p class="soft small">{people::WHAT}</p>
        </section>
    }
}

/// Takes a stick that shows itself and is the only one, where none is in use; of several, a person
/// chooses. Gives the one that was taken.
fn take_lone_stick(app: App) -> RwSignal<Option<Source>> {
    let taken = RwSignal::new(None);
    let lone = Memo::new(move |_| {
        app.input.status().with(|status| match status.devices.as_slice() {
            [one] if status.chosen.is_none() => Some(Source::Pad(one.key)),
            _ => None,
        })
    });
    effect(move || {
        if let Some(source) = lone.get().filter(|source| app.may_take(*source)) {
            app.choose(source);
            taken.set(Some(source));
        }
    });
    taken
}

fn device(app: App, seen: DeviceSeen) -> impl IntoView + use<> {
    let name = if seen.name.is_empty() { words::UNNAMED.to_owned() } else { seen.name };
    let text = words::controls(seen.axes, seen.buttons, seen.standard);
    choice(app, Source::Pad(seen.key), name, text)
}

fn choice(app: App, source: Source, name: String, text: String) -> impl IntoView + use<> {
    let status = app.input.status();
    let chosen = move || {
        let chosen = status.with(|status| status.chosen == Some(source));
        if chosen { "true" } else { "false" }.to_owned()
    };
    view! {
        <button type="button" aria-pressed=attribute(chosen) on:click=move |_| app.choose(source)>
            <strong>{name}</strong>
            <span>{text}</span>
        </button>
    }
}

/// The live field, every axis and button as a number, and which axes are the stick.
#[component]
fn LiveView() -> impl IntoView {
    let app = App::of_context();
    let status = app.input.status();
    let chosen = Memo::new(move |_| status.with(|status| status.chosen.is_some()));
    let name = move || status.with(|status| status.chosen_name.clone()).unwrap_or_default();
    part(move || {
        if !chosen.get() {
            return view! {
                <h2>{words::LIVE}</h2>
                <PracticeField layers=Signal::derive_local(Layers::empty)/>
                <p class="soft">{words::NONE_CHOSEN}</p>
            }
            .into_any();
        }
        view! {
            <h2>{words::LIVE} <span class="soft small">" " {text(name)}</span></h2>
            <PracticeField layers=Signal::derive_local(Layers::empty)/>
            <div class="controls">
                <button type="button" class="main" on:click=move |_| go(&Screen::Measure)>
                    {words::NEXT}
                </button>
            </div>
            {part(move || app.later.get().map(|later| (later.kind)()).into_any())}
            <Figures/>
            <Finder/>
        }
        .into_any()
    })
}

/// What the numbers say now, a few times a second.
#[component]
fn Figures() -> impl IntoView {
    let app = App::of_context();
    let now = RwSignal::new_local(app.input.latest());
    let drawn = StoredValue::new(0.0);
    app.input.each_frame(move |frame| {
        if frame.now_seconds - drawn.get_value() < FIGURES_SECONDS {
            return;
        }
        drawn.set_value(frame.now_seconds);
        now.set(frame.sample.cloned());
    });
    let figures = Memo::new(move |_| {
        now.track();
        let figures = app.input.statistics();
        // Raw reports come to a busy page in bursts: how close they lie says nothing of the stick.
        let fastest = figures.fastest_seconds.filter(|_| app.input.chosen() != Some(Source::Fed));
        let fastest = fastest.map_or_else(|| words::NOT_YET.to_owned(), number::milliseconds);
        (fastest, format!("{:.0}", figures.polls_per_second))
    });
    let position = move || {
        now.with(|now| {
            now.as_ref().map_or_else(
                || words::STILL.to_owned(),
                |sample| {
                    let at = app.axes.get().position(sample);
                    words::position(at.right, at.up)
                },
            )
        })
    };
    view! {
        <dl class="figures">
            <div><dt>{words::POSITION}</dt><dd>{text(position)}</dd></div>
            <div><dt>{words::FASTEST}</dt><dd>{text(move || figures.get().0)}</dd></div>
            <div><dt>{words::POLLS}</dt><dd>{text(move || figures.get().1)}</dd></div>
        </dl>
        <section aria-labelledby="axes">
            <h3 id="axes">{words::AXES}</h3>
            <Axes now/>
        </section>
        <section aria-labelledby="buttons">
            <h3 id="buttons">{words::BUTTONS}</h3>
            <Buttons now/>
        </section>
    }
}

/// Every axis as a bar from its lowest to its highest value, and as a number.
#[component]
fn Axes(now: RwSignal<Option<Sample>, LocalStorage>) -> impl IntoView {
    let app = App::of_context();
    let bars = move || {
        now.with(|now| {
            let axes = now.as_ref().map(|sample| sample.axes.as_slice()).unwrap_or_default();
            let bar = |(index, value): (usize, &f64)| Bar {
                name: words::axis(index),
                class: "bar-before",
                share: ((value + 1.0) / 2.0).clamp(0.0, 1.0),
                figure: number::axis(*value),
            };
            axes.iter().enumerate().map(bar).collect::<Vec<_>>()
        })
    };
    let none = move || app.device_seen().is_some_and(|seen| seen.axes == 0);
    view! {
        <Bars bars=Signal::derive(bars)/>
        {when(none, || view! { <p>{words::NO_AXES}</p> }.into_any())}
    }
}

/// Every button with its analogue value; a pressed one is framed and bold.
#[component]
fn Buttons(now: RwSignal<Option<Sample>, LocalStorage>) -> impl IntoView {
    let app = App::of_context();
    let lights = move || {
        now.with(|now| {
            let buttons = now.as_ref().map(|sample| sample.buttons.as_slice()).unwrap_or_default();
            buttons
                .iter()
                .enumerate()
                .map(|(index, value)| {
                    let text = format!("{}: {value:.2}", words::button(index));
                    let pressed = *value >= 0.5;
                    view! { <li class:pressed=pressed>{text}</li> }
                })
                .collect_view()
                .into_any()
        })
    };
    let none = move || app.device_seen().is_some_and(|seen| seen.buttons == 0);
    view! {
        <ul class="button-lights">{part(lights)}</ul>
        {when(none, || view! { <p class="soft">{words::NO_BUTTONS}</p> }.into_any())}
    }
}

/// Which two axes are the stick: by moving in a circle, or by hand.
#[component]
fn Finder() -> impl IntoView {
    let app = App::of_context();
    let finder = StoredValue::new_local(None::<CircleFinder>);
    let finding = RwSignal::new_local(None::<Finding>);
    let looks = RwSignal::new(false);
    app.input.each_frame(move |frame| {
        let Some(sample) = frame.sample else { return };
        let found = finder.try_update_value(|finder| {
            finder.as_mut().map(|finder| {
                finder.take_in(sample);
                finder.finding()
            })
        });
        let Some(Some(found)) = found else { return };
        if found.found == Found::TwoAxes && found.sureness == fitting::Sureness::Firm {
            if let Some(axes) = found.axes {
                app.axes.set(axes);
            }
            finder.set_value(None);
            looks.set(false);
        }
        finding.set(Some(found));
    });
    let start = move |_| {
        finder.set_value(Some(CircleFinder::new()));
        finding.set(None);
        looks.set(true);
    };
    let stop = move |_| {
        if let Some(axes) = finding.with(|finding| finding.as_ref().and_then(|found| found.axes)) {
            app.axes.set(axes);
        }
        finder.set_value(None);
        looks.set(false);
    };
    effect(move || {
        looks.track();
        mend_focus();
    });
    let one_axis = move || {
        !looks.get()
            && app.kind.get().moves == Moves::TwoAxes
            && finding
                .with(|finding| finding.as_ref().is_some_and(|one| one.found == Found::OneAxis))
    };
    let said = move || {
        finding.with(|finding| {
            finding.as_ref().map(|finding| match (looks.get(), finding.found) {
                (true, _) => words::finding(finding.progress),
                (false, Found::OneAxis) => words::ONE_AXIS.to_owned(),
                (false, Found::TwoAxes) => {
                    let axes = app.axes.get();
                    words::found(axes.horizontal.index, axes.vertical.index)
                }
                (false, Found::Nothing) => words::STILL.to_owned(),
            })
        })
    };
    view! {
        <section class="card" aria-labelledby="finder">
            <h3 id="finder">{words::FIND}</h3>
            <p>{words::FIND_HELP}</p>
            <p role="status">{text(move || said().unwrap_or_default())}</p>
            <div class="controls">
                {when(one_axis, move || view! {
                    <button type="button" on:click=move |_| {
                        app.kind.update(|kind| kind.moves = Moves::OneAxis);
                        mend_focus();
                    }>{kind_words::ONE_AXIS_TAKE}</button>
                }.into_any())}
                {part(move || if looks.get() {
                    view! { <button type="button" on:click=stop>{words::FIND_STOP}</button> }.into_any()
                } else {
                    view! { <button type="button" on:click=start>{words::FIND_START}</button> }.into_any()
                })}
            </div>
            <ByHand/>
        </section>
    }
}

/// Choosing, swapping and turning round the axes by hand.
#[component]
fn ByHand() -> impl IntoView {
    let app = App::of_context();
    let count = untrack(|| app.device_seen()).map_or(2, |seen| seen.axes as usize).max(2);
    let select = move |name: &'static str, vertical: bool| {
        let picked = move || {
            let axes = app.axes.get();
            if vertical { axes.vertical } else { axes.horizontal }
        };
        let change = move |pick: AxisPick| {
            app.axes.update(|axes| {
                if vertical {
                    axes.vertical = pick;
                } else {
                    axes.horizontal = pick;
                }
            });
        };
        let invert = if vertical { words::INVERT_VERTICAL } else { words::INVERT_HORIZONTAL };
        let options = (0..count)
            .map(|index| {
                view! {
                    <option value=index selected=yes(move || picked().index == index)>
                        {words::axis(index)}
                    </option>
                }
            })
            .collect_view();
        view! {
            <label>
                {name} " "
                <select on:change=move |event| {
                    if let Ok(index) = event_target_value(&event).parse::<usize>() {
                        change(AxisPick { index, ..picked() });
                    }
                }>{options}</select>
            </label>
            {tick(invert, move || picked().inverted, move |inverted| {
                change(AxisPick { inverted, ..picked() });
            })}
        }
    };
    let swap = move |_| {
        app.axes.update(|axes| std::mem::swap(&mut axes.horizontal, &mut axes.vertical));
    };
    view! {
        {select(words::HORIZONTAL, false)}
        {select(words::VERTICAL, true)}
        <div class="controls">
            <button type="button" on:click=swap>{words::SWAP}</button>
        </div>
    }
}
