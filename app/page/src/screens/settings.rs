//! The settings with their reasons, judged on the person's own recordings.

use crate::parts::bars::{Bar, Bars, before_after, moving_by_itself};
use crate::parts::curve_plot::CurvePlot;
use crate::parts::frame::mend_focus;
use crate::parts::layers::Layers;
use crate::parts::live::{effect, part, when, yes};
use crate::parts::path::PathSection;
use crate::parts::pictures::Pictures;
use crate::parts::practice_field::PracticeField;
use crate::parts::rate_plot::RatePlot;
use crate::parts::setting::{Range, Said, Setting};
use crate::route::{Screen, go};
use crate::screens::advice;
use crate::screens::found::Found;
use crate::screens::more_settings::{MoreSettings, SmoothingTable};
use crate::state::{Analysis, App, Decided};
use crate::words::{
    details as detail_words, effect as effect_words, host as host_words, layers as layer_words,
    number, settings as words,
};
use fitting::Sureness;
use fitting::settings::Shape;
use fitting::suggest::layers::for_path;
use fitting::suggest::{Effect as Outcome, HostForm, ReachKept, Wish};
use leptos::prelude::*;
use std::rc::Rc;

/// The fourth screen.
#[component]
pub fn SettingsScreen() -> impl IntoView {
    let app = App::of_context();
    let there = Memo::new(move |_| app.analysis.with(Option::is_some));
    part(move || {
        if there.get() {
            view! { <Settings/> }.into_any()
        } else {
            view! {
                <h1 tabindex="-1">{words::TITLE}</h1>
                <p>{words::NOTHING}</p>
                <div class="controls">
                    <button type="button" class="main" on:click=move |_| go(&Screen::Measure)>
                        {words::TO_MEASURE}
                    </button>
                </div>
            }
            .into_any()
        }
    })
}

/// What the settings now do to the recordings: computed once for each change of a slider.
fn outcome(app: App) -> RwSignal<Option<Rc<Outcome>>, LocalStorage> {
    let outcome = RwSignal::new_local(None);
    effect(move || {
        let settings = app.settings();
        outcome.set(app.analysis.with(|analysis| {
            analysis.as_ref().map(|analysis| Rc::new(analysis.effect(&settings)))
        }));
    });
    outcome
}

#[component]
fn Settings() -> impl IntoView {
    let app = App::of_context();
    let outcome = outcome(app);
    let background = Layers::of_app(app);
    let layers = Signal::derive_local(move || {
        background.get().with_settings(&app.settings(), &app.decided())
    });
    let live = move || app.input.status().with(|status| status.chosen.is_some());
    view! {
        <div class="two wide-right">
            <div class="stays">
                <h1 tabindex="-1">{words::FIELD_TITLE}</h1>
                <p class="soft small">{words::FIELD_TEXT}</p>
                {move || {
                    let live = if live() { crate::parts::field::Live::Stick } else { crate::parts::field::Live::Nothing };
                    view! { <PracticeField layers live/> }
                }}
                {part(move || app.analysis.with(|analysis| {
                    analysis.as_ref().map(|analysis| advice::remarks(&analysis.measures)).into_any()
                }))}
                <Found/>
            </div>
            <div>
                <h2>{words::TITLE}</h2>
                <WishChoice/>
                <div class="card">
                    <DeadZone outcome/>
                    <FullThrow/>
                    <Sensitivity/>
                    <MoreSettings/>
                    {when(move || !app.by_hand.get().is_nothing(), move || view! {
                        <div class="controls">
                            <button type="button" on:click=move |_| {
                                app.change(|by_hand| *by_hand = Default::default());
                                mend_focus();
                            }>
                                {words::ALL_AS_SUGGESTED}
                            </button>
                        </div>
                    }.into_any())}
                </div>
                <Judged outcome/>
                <Host/>
                <PathSection/>
                <div class="controls">
                    <a class="button" href=Screen::Details.hash()>{detail_words::LINK}</a>
                </div>
                <Pictures/>
            </div>
        </div>
    }
}

/// How often may it move by itself?
#[component]
fn WishChoice() -> impl IntoView {
    let app = App::of_context();
    let change = move |event| {
        if let Some((false_per_minute, _)) = event_target_value(&event)
            .parse::<usize>()
            .ok()
            .and_then(|index| words::WISHES.get(index))
        {
            app.wish.set(Wish { false_per_minute: *false_per_minute, ..Wish::default() });
            app.analyse();
            app.keep_fitting();
        }
    };
    let options = words::WISHES
        .iter()
        .enumerate()
        .map(|(index, (rate, text))| {
            let chosen = yes(move || app.wish.get().false_per_minute == *rate);
            view! { <option value=index selected=chosen>{*text}</option> }
        })
        .collect_view();
    view! {
        <p>
            <label>{words::WISH} " " <select on:change=change>{options}</select></label>
        </p>
    }
}

type Judgement = RwSignal<Option<Rc<Outcome>>, LocalStorage>;

/// The direction that keeps the least, of what the settings leave.
fn weakest(outcome: &Outcome) -> Option<&ReachKept> {
    outcome.reach.iter().min_by(|a, b| a.kept.total_cmp(&b.kept))
}

/// The number of a setting; a dash where it is neither suggested nor chosen by hand.
fn figure(
    app: App,
    number: fn(&fitting::Settings) -> String,
    unit: &'static str,
    has_number: fn(&Decided) -> bool,
) -> Signal<(String, &'static str)> {
    Signal::derive(move || {
        if has_number(&app.decided()) {
            (number(&app.settings()), unit)
        } else {
            (words::NO_NUMBER.to_owned(), "")
        }
    })
}

#[component]
fn DeadZone(outcome: Judgement) -> impl IntoView {
    let app = App::of_context();
    let value = Signal::derive(move || app.settings().dead_zone * 100.0);
    let by_hand = Signal::derive(move || app.by_hand.get().dead_zone.is_some());
    let said = Signal::derive_local(move || {
        let mut said = with_analysis(app, |analysis| {
            advice::dead_zone(analysis, app.wish.get().false_per_minute, &app.settings())
        });
        if by_hand.get() {
            let dead_zone = app.settings().dead_zone;
            beside_by_hand(app, &mut said, |settings| number::percent(settings.dead_zone));
            said.sentence = outcome.with(|outcome| {
                words::dead_zone_by_hand(dead_zone, outcome.as_deref().and_then(weakest))
            });
        }
        said
    });
    let change = Callback::new(move |value: Option<f64>| {
        app.change(|by_hand| by_hand.dead_zone = value.map(|percent| percent / 100.0));
    });
    view! {
        <Setting
            name=words::DEAD_ZONE
            figure=figure(app, |settings| number::bare_percent(settings.dead_zone), "%", |one| one.dead_zone.is_ok())
            said value by_hand change
            range=Range { low: 0.0, high: 60.0, step: 1.0 }
        />
    }
}

#[component]
fn FullThrow() -> impl IntoView {
    let app = App::of_context();
    let value = Signal::derive(move || app.settings().full_throw * 100.0);
    let by_hand = Signal::derive(move || app.by_hand.get().full_throw.is_some());
    let said = Signal::derive_local(move || {
        let mut said = with_analysis(app, advice::full_throw);
        if by_hand.get() {
            beside_by_hand(app, &mut said, |settings| number::percent(settings.full_throw));
            said.sentence = words::full_throw_by_hand(app.settings().full_throw);
        }
        said
    });
    let change = Callback::new(move |value: Option<f64>| {
        app.change(|by_hand| by_hand.full_throw = value.map(|percent| percent / 100.0));
    });
    view! {
        <Setting
            name=words::FULL_THROW
            figure=figure(app, |settings| number::bare_percent(settings.full_throw), "%", |one| one.full_throw.is_ok())
            said value by_hand change
            range=Range { low: 5.0, high: 100.0, step: 1.0 }
        />
    }
}

#[component]
fn Sensitivity() -> impl IntoView {
    let app = App::of_context();
    let exponent = Memo::new(move |_| HostForm::of(&app.settings()).sensitivity_exponent);
    let by_hand = Signal::derive(move || app.by_hand.get().exponent.is_some());
    let said = Signal::derive_local(move || {
        let mut said = with_analysis(app, advice::curve);
        if by_hand.get() {
            beside_by_hand(app, &mut said, |settings| {
                number::exponent(HostForm::of(settings).sensitivity_exponent)
            });
            said.sentence = words::curve_by_hand(exponent.get());
        }
        said
    });
    let change =
        Callback::new(move |value: Option<f64>| app.change(|by_hand| by_hand.exponent = value));
    view! {
        <Setting
            name=words::SENSITIVITY
            figure=figure(app, |settings| number::exponent(HostForm::of(settings).sensitivity_exponent), "", |one| one.curve.is_ok())
            said value=exponent by_hand change
            range=Range { low: 0.3, high: 3.0, step: 0.1 }
        />
        // Of a stick left as it is there is nothing to draw.
        {when(move || !app.decided().is_nothing(), move || view! {
            <div class="curve-plot"><CurvePlot settings=Signal::derive_local(move || app.settings())/></div>
        }.into_any())}
    }
}

/// Beside a number chosen by hand the word for how sure stands for the suggestion: says so.
fn beside_by_hand(app: App, said: &mut Said, number: fn(&fitting::Settings) -> String) {
    if said.sureness != Sureness::NotEnough {
        said.basis = app.analysis.with(|analysis| {
            analysis.as_ref().map_or_else(String::new, |analysis| {
                words::suggested(&number(&analysis.suggestions.settings))
            })
        });
    }
}

/// Runs on the analysis; the screen that asks is shown only while there is one.
fn with_analysis(app: App, f: impl FnOnce(&Analysis) -> Said) -> Said {
    app.analysis.with(|analysis| match analysis {
        Some(analysis) => f(analysis),
        None => advice::nothing(),
    })
}

/// The rate plot, and what the settings do to the recordings: as it is, with these.
#[component]
fn Judged(outcome: Judgement) -> impl IntoView {
    let app = App::of_context();
    let rate_now =
        Signal::derive(move || outcome.with(|outcome| outcome.as_deref().and_then(advice::rate)));
    let plot = move || {
        app.analysis.with(|analysis| {
            let analysis = analysis.as_ref()?;
            let curve = analysis.measures.rest.as_ref().ok()?.curve.clone();
            let wish_per_minute = app.wish.get().false_per_minute;
            let dead_zone = Signal::derive(move || {
                app.decided().dead_zone.is_ok().then(|| app.settings().dead_zone)
            });
            Some(view! {
                <h3>{effect_words::RATE_TITLE}</h3>
                <RatePlot curve dead_zone wish_per_minute rate_now/>
            })
        })
    };
    let both = move |bars: fn(&Outcome, &Outcome) -> Vec<Bar>| {
        Signal::derive(move || {
            app.analysis.with(|analysis| {
                outcome.with(|outcome| match (analysis, outcome) {
                    (Some(analysis), Some(outcome)) => bars(&analysis.before, outcome),
                    _ => Vec::new(),
                })
            })
        })
    };
    let moving = both(|before, after| {
        let of = |effect: &Outcome| (effect.moving_share, advice::rate(effect));
        moving_by_itself(of(before), of(after))
    });
    let jitter = both(|before, after| {
        let (before, after) = before.jitter_beside(after).unzip();
        before_after(before, after, number::fine_percent)
    });
    view! {
        <section class="card" aria-labelledby="judged">
            <h2 id="judged">{effect_words::EFFECT_TITLE}</h2>
            {part(move || plot().into_any())}
            <h3>{effect_words::FALSE_MOVEMENTS}</h3>
            {part(move || either(moving, effect_words::NO_REST))}
            <h3>{effect_words::JITTER}</h3>
            {part(move || either(jitter, effect_words::NO_HOLDS))}
            <SmoothingTable/>
            {part(move || outcome.with(|outcome| {
                outcome.as_ref().filter(|outcome| !outcome.reach.is_empty()).map(|outcome| reach_table(&outcome.reach)).into_any()
            }))}
        </section>
    }
}

/// The bars, or why there are none.
fn either(bars: Signal<Vec<Bar>>, otherwise: &'static str) -> AnyView {
    if bars.with(Vec::is_empty) {
        view! { <p class="soft">{otherwise}</p> }.into_any()
    } else {
        view! { <Bars bars/> }.into_any()
    }
}

/// What is left of each direction's reach.
pub fn reach_table(reach: &[ReachKept]) -> impl IntoView + use<> {
    let rows = reach
        .iter()
        .map(|kept| {
            view! {
                <tr>
                    <th scope="row">{number::direction(kept.asked)}</th>
                    <td class="number">{number::percent(kept.reach)}</td>
                    <td class="number">{number::percent(kept.kept)}</td>
                    <td class="number">{number::percent(kept.output)}</td>
                </tr>
            }
        })
        .collect_view();
    view! {
        <div class="wide" tabindex="0" role="region" aria-label=effect_words::REACH_KEPT>
            <table>
                <caption>{effect_words::REACH_KEPT}</caption>
                <thead>
                    <tr>
                        <th scope="col">{effect_words::DIRECTION}</th>
                        <th scope="col" class="number">{effect_words::REACH}</th>
                        <th scope="col" class="number">{effect_words::KEPT}</th>
                        <th scope="col" class="number">{effect_words::OUTPUT}</th>
                    </tr>
                </thead>
                <tbody>{rows}</tbody>
            </table>
        </div>
    }
}

/// The settings the way hosts take them.
#[component]
fn Host() -> impl IntoView {
    let app = App::of_context();
    let choose = move |event| {
        let shape = match event_target_value(&event).as_str() {
            "per_axis" => Some(Shape::PerAxis),
            _ => None,
        };
        app.change(|by_hand| by_hand.shape = shape);
    };
    let per_axis = move || app.settings().shape == Shape::PerAxis;
    view! {
        <section class="card" aria-labelledby="host">
            <h2 id="host">{host_words::HOST_TITLE}</h2>
            <p>{host_words::HOST_TEXT}</p>
            <p>
                <label>
                    {host_words::SHAPE} " "
                    <select on:change=choose>
                        <option value="radial" selected=yes(move || !per_axis())>{host_words::SHAPE_RADIAL}</option>
                        <option value="per_axis" selected=yes(per_axis)>{host_words::SHAPE_PER_AXIS}</option>
                    </select>
                </label>
            </p>
            {part(move || {
                let host = app.host().map(|(_, host)| host.sets);
                let counts_on = app.analysis.with(|analysis| {
                    analysis.as_ref().and_then(|one| one.suggestions.dead_zone_alone)
                });
                let is_suggested = app.by_hand.with(|by_hand| by_hand.dead_zone.is_none());
                let counts_on = counts_on.filter(|_| is_suggested).map(|_| app.settings().centre);
                let only = host.as_ref().map(|sets| host_words::taken(advice::takes_numbers(sets)));
                app.visit.with(|visit| {
                    let path = &visit.path;
                    let for_layer = for_path(&app.settings(), path);
                    let layer = for_layer.layer.and_then(|place| path.layers.get(place));
                    let table = advice::host_table(&for_layer.form, &app.decided(), true, host.as_ref(), counts_on);
                    (
                        layer.map(|layer| view! { <h3>{layer_words::numbers(&layer_words::name(layer))}</h3> }),
                        only.map(|text| view! { <p class="soft">{text}</p> }),
                        table,
                    )
                        .into_any()
                })
            })}
        </section>
    }
}
