//! Direction, smoothing, button timing and directions as switches: each suggested with its reason,
//! each may be left out.

use super::advice;
use crate::parts::live::{attribute, part, text, yes};
use crate::parts::setting::{Said, framed};
use crate::state::{Analysis, App};
use crate::words::{effect as effect_words, more_settings as words, settings as setting_words};
use fitting::Settings;
use fitting::settings::DirectionMap;
use fitting::suggest::{SmoothingPoint, Suggestions};
use leptos::prelude::*;

/// All four, each only where there is something to say.
#[component]
pub fn MoreSettings() -> impl IntoView {
    let app = App::of_context();
    let has = move |is: fn(&Analysis) -> bool| {
        app.analysis.with(|analysis| analysis.as_ref().is_some_and(|analysis| is(analysis)))
    };
    view! {
        <Direction/>
        <SmoothingChoice/>
        {part(move || {
            has(|analysis| !analysis.suggestions.timing.is_empty())
                .then(|| view! { <Buttons/> })
                .into_any()
        })}
        {part(move || {
            has(|analysis| analysis.suggestions.switches.is_ok())
                .then(|| view! { <Switches/> })
                .into_any()
        })}
    }
}

fn said(app: App, of: fn(&Analysis) -> Said) -> Signal<Said, LocalStorage> {
    Signal::derive_local(move || {
        app.analysis.with(|analysis| match analysis {
            Some(analysis) => of(analysis),
            None => advice::nothing(),
        })
    })
}

/// The figure of a setting; a dash where nothing is suggested, for then nothing can be chosen.
fn figure(
    app: App,
    is_suggested: fn(&Suggestions) -> bool,
    of: fn(&Settings) -> String,
) -> Signal<(String, &'static str)> {
    Signal::derive(move || {
        let suggested = app.analysis.with(|analysis| {
            analysis.as_ref().is_some_and(|analysis| is_suggested(&analysis.suggestions))
        });
        let figure =
            if suggested { of(&app.settings()) } else { setting_words::NO_NUMBER.to_owned() };
        (figure, "")
    })
}

/// A tick whether a suggestion is used.
fn used(
    label: &'static str,
    name: &'static str,
    is_used: impl Fn() -> bool + Send + Sync + Copy + 'static,
    use_it: impl Fn(bool) + Send + Sync + Copy + 'static,
) -> AnyView {
    view! {
        <label class="tick no-print">
            <input
                type="checkbox"
                prop:checked=yes(is_used)
                on:change=move |event| use_it(event_target_checked(&event))
            />
            <span>{label}<span class="unseen">{format!(": {name}")}</span></span>
        </label>
    }
    .into_any()
}

/// The same where something is suggested. Where nothing is there is nothing to tick.
fn used_if(
    name: &'static str,
    is_suggested: impl Fn() -> bool + Send + 'static,
    is_used: impl Fn() -> bool + Send + Sync + Copy + 'static,
    use_it: impl Fn(bool) + Send + Sync + Copy + 'static,
) -> AnyView {
    part(
        move || {
            if is_suggested() { used(words::USE_IT, name, is_used, use_it) } else { ().into_any() }
        },
    )
}

/// What is suggested, for a tick.
fn suggested<T>(app: App, of: fn(&Settings) -> T) -> Option<T> {
    app.analysis.with(|analysis| Some(of(&analysis.as_ref()?.suggestions.settings)))
}

#[component]
fn Direction() -> impl IntoView {
    let app = App::of_context();
    let plain = DirectionMap::default();
    // What would put directions right, and whether a turn is part of it.
    let offered = move || {
        app.analysis.with(|analysis| {
            let advice = analysis.as_ref()?.suggestions.direction.as_ref().ok()?;
            (advice.map != plain).then_some((advice.map, advice.turns))
        })
    };
    let controls = part(move || {
        let Some((map, turns)) = offered() else { return ().into_any() };
        used(
            if turns { words::TURN_IN_SOFTWARE } else { words::USE_IT },
            words::DIRECTION,
            move || app.settings().direction == map,
            move |is_used| {
                let wanted = if is_used { map } else { plain };
                let as_suggested = suggested(app, |settings| settings.direction);
                app.change(|by_hand| {
                    by_hand.direction = (Some(wanted) != as_suggested).then_some(wanted);
                });
            },
        )
    });
    framed(
        words::DIRECTION,
        figure(
            app,
            |one| one.direction.is_ok(),
            |settings| words::direction_figure(&settings.direction),
        ),
        direction_said(app),
        controls,
    )
}

/// What is said of directions: with a turn in software that the mount must not be turned, too.
fn direction_said(app: App) -> Signal<Said, LocalStorage> {
    let suggestion = said(app, advice::direction);
    Signal::derive_local(move || {
        let mut said = suggestion.get();
        if app.settings().direction.turn_degrees != 0.0 {
            said.notes.push(words::TURNED_IN_SOFTWARE.to_owned());
        }
        said
    })
}

#[component]
fn SmoothingChoice() -> impl IntoView {
    let app = App::of_context();
    // Every candidate of the curve can be chosen: less jitter for more lag.
    let points = move || {
        app.analysis.with(|analysis| {
            let advice = analysis.as_ref()?.suggestions.smoothing.as_ref().ok()?;
            Some(advice.curve.clone())
        })
    };
    let choose = move |event| {
        let index = event_target_value(&event).parse::<usize>().ok();
        let point = index.and_then(|index| points().and_then(|points| points.get(index).copied()));
        if let Some(point) = point {
            let as_suggested = suggested(app, |settings| settings.smoothing);
            app.change(|by_hand| {
                by_hand.smoothing =
                    (Some(point.smoothing) != as_suggested).then_some(point.smoothing);
            });
        }
    };
    let option = move |(index, point): (usize, SmoothingPoint)| {
        let is = yes(move || app.settings().smoothing == point.smoothing);
        view! { <option value=index selected=is>{words::smoothing_point(&point)}</option> }
    };
    let controls = part(move || {
        let Some(points) = points().filter(|points| points.len() > 1) else {
            return ().into_any();
        };
        let options = points.into_iter().enumerate().map(option).collect_view();
        view! {
            <p class="no-print">
                <label>{words::SMOOTHING_CHOICE} " " <select on:change=choose>{options}</select></label>
            </p>
        }
        .into_any()
    });
    framed(
        words::SMOOTHING,
        figure(
            app,
            |one| one.smoothing.is_ok(),
            |settings| words::smoothing_figure(settings.smoothing),
        ),
        smoothing_said(app),
        controls,
    )
}

/// What is said of the smoothing that is set: of another than the suggested one that it was chosen.
fn smoothing_said(app: App) -> Signal<Said, LocalStorage> {
    let suggestion = said(app, advice::smoothing);
    Signal::derive_local(move || {
        let mut said = suggestion.get();
        let chosen = app.by_hand.get().smoothing;
        let point = app.analysis.with(|analysis| {
            let advice = analysis.as_ref()?.suggestions.smoothing.as_ref().ok()?;
            advice.curve.iter().find(|point| Some(point.smoothing) == chosen).copied()
        });
        if let (Some(point), Some(suggested)) = (point, suggested(app, |one| one.smoothing)) {
            said.basis = setting_words::suggested(&words::smoothing_figure(suggested));
            said.sentence = words::smoothing_by_hand(&point);
            said.notes.clear();
        }
        said
    })
}

#[component]
fn Buttons() -> impl IntoView {
    let app = App::of_context();
    let plain = fitting::settings::ButtonTiming::default();
    let controls = used_if(
        words::BUTTONS,
        move || suggested(app, |settings| settings.buttons).is_some_and(|timing| timing != plain),
        move || app.settings().buttons != plain,
        move |is_used| app.change(|by_hand| by_hand.buttons = (!is_used).then_some(plain)),
    );
    framed(
        words::BUTTONS,
        figure(
            app,
            |one| !one.timing.is_empty(),
            |settings| words::timing_figure(&settings.buttons),
        ),
        said(app, advice::buttons),
        controls,
    )
}

#[component]
fn Switches() -> impl IntoView {
    let app = App::of_context();
    let controls = used_if(
        words::SWITCHES,
        move || suggested(app, |settings| settings.switches).is_some_and(|one| one.is_some()),
        move || app.settings().switches.is_some(),
        move |is_used| app.change(|by_hand| by_hand.switches = (!is_used).then_some(None)),
    );
    framed(
        words::SWITCHES,
        figure(
            app,
            |one| one.switches.is_ok(),
            |settings| words::switches_figure(settings.switches),
        ),
        said(app, advice::switches),
        controls,
    )
}

/// Jitter against lag of every candidate, the chosen one marked: as a table and as bars of words,
/// so that no colour is needed.
#[component]
pub fn SmoothingTable() -> impl IntoView {
    let app = App::of_context();
    let rows = move || {
        app.analysis.with(|analysis| {
            let advice = analysis.as_ref()?.suggestions.smoothing.as_ref().ok()?;
            let rows = advice
                .curve
                .iter()
                .map(|point| {
                    let smoothing = point.smoothing;
                    let mark = attribute(move || {
                        let chosen = app.settings().smoothing == smoothing;
                        if chosen { "true" } else { "false" }.to_owned()
                    });
                    let note = text(move || {
                        let chosen = app.settings().smoothing == smoothing;
                        if chosen { words::CHOSEN } else { "" }.to_owned()
                    });
                    view! {
                        <tr aria-current=mark>
                            <th scope="row">{words::smoothing_figure(point.smoothing)}</th>
                            <td class="number">{crate::words::number::milliseconds(point.lag_seconds)}</td>
                            <td class="number">{crate::words::number::fine_percent(point.jitter)}</td>
                            <td>{note}</td>
                        </tr>
                    }
                })
                .collect_view();
            Some(rows)
        })
    };
    part(move || {
        rows()
            .map(|rows| {
                view! {
                    <details class="no-print">
                        <summary>{words::SMOOTHING_TABLE}</summary>
                        <div class="wide" tabindex="0" role="region" aria-label=words::SMOOTHING_TABLE>
                        <table>
                            <thead><tr>
                                <th scope="col">{words::SMOOTHING}</th>
                                <th scope="col" class="number">{words::LAG}</th>
                                <th scope="col" class="number">{effect_words::JITTER}</th>
                                <th scope="col">{words::MARK}</th>
                            </tr></thead>
                            <tbody>{rows}</tbody>
                        </table>
                        </div>
                    </details>
                }
            })
            .into_any()
    })
}
