//! What lies between the stick and the game, and the numbers for one layer of it.

use super::answer::typed_line;
use super::frame::mend_focus;
use super::live::{attribute, part, text, when, yes};
use super::tick::{choice_named, tick_named};
use crate::screens::advice;
use crate::state::{App, Decided};
use crate::words::{host as host_words, layers as words, number, settings as setting_words};
use fitting::Settings;
use fitting::settings::Shape;
use fitting::suggest::layers::{LayerAdvice, LayerNote, for_path, found_by_moving};
use fitting::visit::{Layer, LayerKind, MOST_LAYERS, Path};
use leptos::prelude::*;

/// The section on the screen of settings.
#[component]
pub fn PathSection() -> impl IntoView {
    let app = App::of_context();
    let count = Memo::new(move |_| app.visit.with(|visit| visit.path.layers.len()));
    let add = words::KINDS
        .map(|kind| {
            let full = yes(move || count.get() >= MOST_LAYERS);
            view! {
                <button type="button" disabled=full on:click=move |_| add_layer(app, kind)>
                    {words::kind(kind)}
                </button>
            }
        })
        .collect_view();
    view! {
        <section class="card" aria-labelledby="path">
            <h2 id="path">{words::TITLE}</h2>
            <p>{words::TEXT} " " <span class="soft">{words::MEASURED_THROUGH}</span></p>
            {when(move || count.get() == 0, || view! { <p>{words::DIRECT}</p> }.into_any())}
            {part(move || (0..count.get()).map(|place| layer(app, place)).collect_view().into_any())}
            <p id="path-add">{words::ADD}</p>
            <div class="controls" role="group" aria-labelledby="path-add">{add}</div>
            {part(move || app.visit.with(|visit| {
                (!visit.path.layers.is_empty())
                    .then(|| numbers(&app.settings(), &app.decided(), &visit.path))
                    .into_any()
            }))}
        </section>
    }
}

/// A new layer goes where its kind lies: behind the last that is no later.
fn add_layer(app: App, kind: LayerKind) {
    app.change_visit(|visit| {
        let place = visit.path.layers.iter().take_while(|layer| layer.kind <= kind).count();
        let layer = Layer {
            kind,
            dead_zone: None,
            can_be_set: kind != LayerKind::Hub,
            shape: app.settings_untracked().shape,
            ..Layer::default()
        };
        let can_be_set = layer.can_be_set;
        visit.path.layers.insert(place, layer);
        // The first that can be set is the one the numbers are for, until somebody says otherwise.
        visit.path.named = match visit.path.named {
            Some(named) if named >= place => Some(named + 1),
            None if can_be_set => Some(place),
            other => other,
        };
    });
}

fn remove(app: App, place: usize) {
    app.change_visit(|visit| {
        if place < visit.path.layers.len() {
            visit.path.layers.remove(place);
        }
        visit.path.named = match visit.path.named {
            Some(named) if named == place => None,
            Some(named) if named > place => Some(named - 1),
            other => other,
        };
    });
    mend_focus();
}

/// One layer with what it already does.
fn layer(app: App, place: usize) -> AnyView {
    let get = move |read: fn(&Layer) -> String| {
        app.visit.with(|visit| visit.path.layers.get(place).map(read).unwrap_or_default())
    };
    let is = move |read: fn(&Layer) -> bool| {
        app.visit.with(|visit| visit.path.layers.get(place).is_some_and(read))
    };
    let change = move |change: &dyn Fn(&mut Layer)| {
        app.change_visit(|visit| {
            if let Some(layer) = visit.path.layers.get_mut(place) {
                change(layer);
            }
            // What is typed is brought into range at once.
            *visit = visit.tidied();
        });
    };
    let share = |event| {
        let typed = event_target_value(&event).parse::<f64>().ok();
        typed.filter(|percent| percent.is_finite()).map(|percent| percent / 100.0)
    };
    let unknown = move || is(|layer| layer.dead_zone.is_none());
    let dead_zone = move || {
        view! {
        <p>
            <label>
                {words::DEAD_ZONE} " "
                <input
                    type="number" min="0" max="90" step="1" inputmode="decimal"
                    aria-label=words::of(words::DEAD_ZONE, place)
                    prop:value=attribute(move || get(|layer| layer.dead_zone.map_or_else(String::new, number::field_percent)))
                    on:change=move |event| {
                        let share = share(event);
                        change(&|layer| layer.dead_zone = share);
                    }
                />
            </label>
            " " <span class="soft small">{words::DEAD_ZONE_HELP}</span>
        </p>
        {tick_named(words::UNKNOWN, words::of(words::UNKNOWN, place), unknown, move |is| {
            change(&|layer| layer.dead_zone = (!is).then_some(0.0));
        })}
        }
        .into_any()
    };
    let named = move || app.visit.with(|visit| visit.path.in_hand() == Some(place));
    let is_replaced = Memo::new(move |_| named() && is(|layer| layer.can_be_set));
    view! {
        <fieldset>
            <legend>{text(move || app.visit.with(|visit| {
                visit.path.layers.get(place).map(|one| words::layer(place, one)).unwrap_or_default()
            }))}</legend>
            <p>
                <label>
                    {words::NAME} " "
                    <input
                        type="text" maxlength="80" autocomplete="off"
                        aria-label=words::of(words::NAME, place)
                        prop:value=attribute(move || get(|layer| layer.name.clone()))
                        on:change=move |event| {
                            let name = typed_line(&event);
                            change(&|layer| layer.name.clone_from(&name));
                        }
                    />
                </label>
            </p>
            {part(move || if is_replaced.get() {
                view! { <p class="soft small">{words::REPLACED}</p> }.into_any()
            } else {
                dead_zone()
            })}
            {when(move || unknown() && !is_replaced.get(), move || finding_out(app, place))}
            {choice_named("path-named", words::NAMED, words::of(words::NAMED, place), named, move || {
                app.change_visit(|visit| visit.path.named = Some(place));
            })}
            {more(place, is, get, change)}
            <div class="controls">
                <button type="button" aria-label=words::of(words::REMOVE, place) on:click=move |_| remove(app, place)>
                    {words::REMOVE}
                </button>
            </div>
        </fieldset>
    }
    .into_any()
}

/// What is seldom needed, folded away.
fn more(
    place: usize,
    is: impl Fn(fn(&Layer) -> bool) -> bool + Copy + Send + Sync + 'static,
    get: impl Fn(fn(&Layer) -> String) -> String + Copy + Send + Sync + 'static,
    change: impl Fn(&dyn Fn(&mut Layer)) + Copy + Send + Sync + 'static,
) -> AnyView {
    let number =
        move |name: &'static str, read: fn(&Layer) -> String, set: fn(&mut Layer, Option<f64>)| {
            view! {
                <p>
                    <label>
                        {name} " "
                        <input
                            type="number" step="any" min="0" inputmode="decimal"
                            aria-label=words::of(name, place)
                            prop:value=attribute(move || get(read))
                            on:change=move |event| {
                                let typed = event_target_value(&event).parse::<f64>().ok();
                                change(&|layer| set(layer, typed));
                            }
                        />
                    </label>
                </p>
            }
        };
    let tick = move |name: &'static str, read: fn(&Layer) -> bool, set: fn(&mut Layer, bool)| {
        tick_named(
            name,
            words::of(name, place),
            move || is(read),
            move |ticked| {
                change(&|layer| set(layer, ticked));
            },
        )
    };
    let by_axis = move || is(|layer| layer.shape == Shape::PerAxis);
    let shape = move |event| {
        let per_axis = event_target_value(&event) == "per_axis";
        let shape = if per_axis { Shape::PerAxis } else { Shape::Radial };
        change(&|layer| layer.shape = shape);
    };
    view! {
        <details>
            <summary>{words::MORE}<span class="unseen">{words::of("", place)}</span></summary>
            {tick(words::STARTS, |layer| layer.starts_at_zero, |layer, is| layer.starts_at_zero = is)}
            <p>
                <label>
                    {words::SHAPE} " "
                    <select aria-label=words::of(words::SHAPE, place) on:change=shape>
                        <option value="radial" selected=yes(move || !by_axis())>{host_words::SHAPE_RADIAL}</option>
                        <option value="per_axis" selected=yes(by_axis)>{host_words::SHAPE_PER_AXIS}</option>
                    </select>
                </label>
            </p>
            {number(words::FULL, |layer| number::field_percent(layer.full_throw), |layer, typed| {
                layer.full_throw = typed.map_or(1.0, |percent| percent / 100.0);
            })}
            {number(words::EXPONENT, |layer| layer.exponent.to_string(), |layer, typed| {
                layer.exponent = typed.unwrap_or(1.0);
            })}
            {number(words::STEP, |layer| layer.step.map_or_else(String::new, number::field_percent), |layer, typed| {
                layer.step = typed.filter(|percent| *percent > 0.0).map(|percent| percent / 100.0);
            })}
            {tick(words::CAN_BE_SET, |layer| layer.can_be_set, |layer, is| layer.can_be_set = is)}
        </details>
    }
    .into_any()
}

/// How to find out what a layer ignores.
fn finding_out(app: App, place: usize) -> AnyView {
    let said = RwSignal::new(String::new());
    let take = move |_| {
        let Some(sample) = app.input.latest() else {
            said.set(words::FIND_NO_STICK.to_owned());
            return;
        };
        let at = app.axes.get_untracked().position(&sample) - app.settings_untracked().centre;
        let push = at.radius();
        let found = app.visit.with_untracked(|visit| found_by_moving(&visit.path, place, push));
        if let Some(found) = found {
            said.set(words::found(push, found));
            app.change_visit(|visit| {
                if let Some(layer) = visit.path.layers.get_mut(place) {
                    layer.dead_zone = Some(found);
                }
            });
            mend_focus();
        }
    };
    view! {
        <p class="soft small">{words::FIND_OUT}</p>
        <div class="controls">
            <button type="button" aria-label=words::of(words::FIND_NOW, place) on:click=take>
                {words::FIND_NOW}
            </button>
        </div>
        <p role="status">{text(move || said.get())}</p>
    }
    .into_any()
}

/// The numbers to type into the layer in hand, what the whole way does then, and why.
fn numbers(settings: &Settings, decided: &Decided, path: &Path) -> AnyView {
    let mut advice = for_path(settings, path);
    keep_said(&mut advice.notes, decided);
    let reached = has_both(decided)
        .then(|| words::reached(&advice.reached, settings.dead_zone, settings.full_throw));
    view! {
        {table(path, &advice, decided)}
        {reached.map(|reached| view! { <p>{reached}</p> })}
        {notes(path, &advice)}
    }
    .into_any()
}

/// What the whole way does can only be said of a dead zone and a full throw together.
const fn has_both(decided: &Decided) -> bool {
    decided.dead_zone.is_ok() && decided.full_throw.is_ok()
}

/// Keeps of the notes what is true without a dead zone or a full throw, where one is missing.
pub fn keep_said(notes: &mut Vec<LayerNote>, decided: &Decided) {
    let of_itself =
        |note: &LayerNote| matches!(note, LayerNote::NothingCanBeSet | LayerNote::CannotBeSet(_));
    notes.retain(|note| has_both(decided) || of_itself(note));
}

fn notes(path: &Path, advice: &LayerAdvice) -> impl IntoView + use<> {
    let notes = advice.notes.iter().map(|note| words::note(*note, &path.layers));
    let notes = notes.map(|note| view! { <li>{note}</li> }).collect_view();
    view! { <ul class="small">{notes}</ul> }
}

/// The numbers alone.
fn table(path: &Path, advice: &LayerAdvice, decided: &Decided) -> Option<impl IntoView + use<>> {
    let layer = path.layers.get(advice.layer?)?;
    let round = layer.shape == Shape::Radial;
    let rows = vec![
        (
            if round { words::ROUND } else { words::BY_AXIS }.to_owned(),
            setting_words::or_why(decided.dead_zone, || {
                words::dead_zone(advice.dead_zone, advice.dead_zone_range)
            }),
        ),
        (
            words::FULL_THROW.to_owned(),
            setting_words::or_why(decided.full_throw, || number::percent(advice.full_throw)),
        ),
        (
            words::ONE_NUMBER.to_owned(),
            setting_words::or_why(decided.curve, || number::exponent(advice.exponent)),
        ),
    ];
    Some(view! {
        <h3>{words::numbers(&words::name(layer))}</h3>
        {advice::two_columns(rows)}
    })
}

/// The way and the numbers for its layer, on a sheet; nothing where it is direct.
pub fn on_sheet(app: App) -> AnyView {
    app.visit.with_untracked(|visit| {
        let path = &visit.path;
        if path.layers.is_empty() {
            return ().into_any();
        }
        let mut advice = for_path(&app.settings_untracked(), path);
        let decided = untrack(|| app.decided());
        keep_said(&mut advice.notes, &decided);
        view! {
            <section class="card" aria-labelledby="sheet-path">
                <h3 id="sheet-path">{words::TITLE}</h3>
                <p dir="auto">{words::way(&path.layers)}</p>
                {table(path, &advice, &decided)}
                {notes(path, &advice)}
            </section>
        }
        .into_any()
    })
}
