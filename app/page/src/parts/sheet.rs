//! The summary as one sheet: on the hand-over screen, from a link, and on paper.

use super::bars::{Bar, Bars, before_after, moving_by_itself};
use super::field::{Field, Live, described};
use super::layers::{Layers, Spoke};
use super::rate_plot::RatePlot;
use crate::screens::advice;
use crate::state::Decided;
use crate::words::{
    device as device_words, effect as effect_words, hand_over as words, host as host_words, number,
    ready, settings as setting_words, stick,
};
use fitting::Position;
use fitting::measure::RatePoint;
use fitting::suggest::HostForm;
use fitting::summary::{Answer, Figure, Grid, Share, Summary, SummaryBody};
use leptos::prelude::*;

/// The sheet of one summary.
#[component]
#[expect(clippy::needless_pass_by_value, reason = "a component owns what it is given")]
pub fn Sheet(
    /// What is on it.
    summary: Summary,
) -> impl IntoView {
    let body = summary.body.clone();
    let settings = body.chosen.settings();
    let decided = Decided::of_summary(&body);
    let layers = layers(&body).with_settings(&settings, &decided);
    let description = described(&layers);
    let first = words::SHEET_FIRST_LIST
        .into_iter()
        .filter(|(number, _)| decided.has(*number))
        .map(|(_, text)| view! { <li>{text}</li> })
        .collect_view();
    let label = body.label.clone().unwrap_or_else(|| ready::UNNAMED.to_owned());
    let invented = (body.practised.as_deref().is_some_and(|code| code != "practice"))
        .then(|| view! { <p class="notice">{words::INVENTED}</p> });
    view! {
        <article class="sheet">
            <h2 dir="auto">{label}</h2>
            <p class="soft">{words::made(&date(summary.made_epoch_ms), &device(&body))}</p>
            {invented}
            <div class="two wide-right">
                <figure class="field">
                    <Field
                        layers=Signal::derive_local(move || layers.clone())
                        live=Live::Nothing
                        description=Signal::stored(description)
                    />
                </figure>
                <div>
                    <section aria-labelledby="sheet-numbers">
                        <h3 id="sheet-numbers">{words::SHEET_NUMBERS}</h3>
                        {super::sheet_numbers::headline(&body)}
                        {advice::host_table(&HostForm::of(&settings), &decided, false, None, None)}
                        <p class="soft small">{host_words::HOST_TEXT}</p>
                    </section>
                </div>
            </div>
            <div class="two">
                <section aria-labelledby="sheet-measured">
                    <h3 id="sheet-measured">{words::SHEET_MEASURED}</h3>
                    {measured(&body)}
                </section>
                <section aria-labelledby="sheet-effect">
                    <h3 id="sheet-effect">{words::SHEET_EFFECT}</h3>
                    {effect(&body)}
                </section>
            </div>
            {rate_plot(&body, &decided)}
            <div class="two">
                {(!decided.is_nothing()).then(|| view! {
                    <section aria-labelledby="sheet-first">
                        <h3 id="sheet-first">{words::SHEET_FIRST}</h3>
                        <ul>{first}</ul>
                    </section>
                })}
                <section aria-labelledby="sheet-watch">
                    <h3 id="sheet-watch">{words::SHEET_WATCH}</h3>
                    <ul>{words::SHEET_WATCH_LIST.map(|text| view! { <li>{text}</li> }).collect_view()}</ul>
                </section>
            </div>
            <p class="only-print small">{crate::words::frame::FOOT}</p>
        </article>
    }
}

/// The day, as the person's own language writes it.
pub fn date(epoch_ms: u64) -> String {
    written(epoch_ms, "dateStyle", "long")
}

/// Hour and minute, as the person's own language writes them.
pub fn time(epoch_ms: u64) -> String {
    written(epoch_ms, "timeStyle", "short")
}

/// The same to the second: for the researcher's page.
pub fn exact_time(epoch_ms: u64) -> String {
    written(epoch_ms, "timeStyle", "medium")
}

fn written(epoch_ms: u64, part: &str, style: &str) -> String {
    // Exact: milliseconds since 1970 stay far below 2^53.
    let date = js_sys::Date::new(&wasm_bindgen::JsValue::from_f64(epoch_ms as f64));
    let options = js_sys::Object::new();
    // Refused for a sealed object only, which a fresh one is not.
    let _ = js_sys::Reflect::set(&options, &part.into(), &style.into());
    String::from(date.to_locale_string("default", &options))
}

/// The name of the stick, or what stands for it.
pub fn device(body: &SummaryBody) -> String {
    if body.practised.as_deref() == Some("practice") {
        words::WITH_PRACTICE.to_owned()
    } else if body.device.name.is_empty() {
        stick::UNNAMED.to_owned()
    } else {
        body.device.name.clone()
    }
}

fn layers(body: &SummaryBody) -> Layers {
    let centre = match &body.rest {
        Answer::Known(rest) => rest.centre.position(),
        Answer::NotEnough(_) => Position::ORIGIN,
    };
    let spokes: Vec<Spoke> = body
        .reach
        .iter()
        .filter_map(|reach| {
            let end = reach.end?.position();
            let (value, low, high) = match &reach.reach {
                Answer::Known(interval) => {
                    (interval.value.get(), interval.low.get(), interval.high.get())
                }
                Answer::NotEnough(_) => (end.radius(), end.radius(), end.radius()),
            };
            Some(Spoke { asked: reach.asked, degrees: end.degrees(), reach: value, low, high })
        })
        .collect();
    Layers::of_spokes(centre, &spokes)
}

pub(super) fn known<T>(answer: &Answer<T>) -> Option<&T> {
    match answer {
        Answer::Known(known) => Some(known),
        Answer::NotEnough(_) => None,
    }
}

fn share_or_why(figure: &Figure<Share>) -> String {
    match figure {
        Answer::Known(interval) => words::reach_with_interval(
            interval.value.get(),
            interval.low.get(),
            interval.high.get(),
        ),
        Answer::NotEnough(why) => setting_words::not_enough(why.reason()),
    }
}

/// Reach by direction with intervals, rest, what was left out.
fn measured(body: &SummaryBody) -> impl IntoView + use<> {
    let mut rows: Vec<(String, String)> = body
        .reach
        .iter()
        .map(|reach| {
            let name = format!("{} {}", effect_words::REACH, number::towards(reach.asked));
            (name, share_or_why(&reach.reach))
        })
        .collect();
    if let Answer::Known(rest) = &body.rest {
        rows.push((device_words::WANDER.to_owned(), share_or_why(&rest.wander)));
        rows.push((setting_words::BASIS.to_owned(), number::duration(rest.seconds.get())));
    }
    rows.extend(super::sheet_found::found(body));
    let left_out = (body.left_out > 0)
        .then(|| view! { <p class="soft">{setting_words::left_out(body.left_out as usize)}</p> });
    let hidden = match body.stick.hidden_middle {
        Some(hidden) => Some(setting_words::hidden(hidden.get())),
        None => body.stick.still_middle.then(|| setting_words::HIDDEN_UNKNOWN.to_owned()),
    };
    let hidden = hidden.map(|text| view! { <p class="caution">{text}</p> });
    let rows = rows
        .into_iter()
        .map(|(name, text)| view! { <tr><th scope="row">{name}</th><td>{text}</td></tr> })
        .collect_view();
    view! { <table><tbody>{rows}</tbody></table> {left_out} {hidden} }
}

/// As it is and with these settings.
fn effect(body: &SummaryBody) -> impl IntoView + use<> {
    let rate = |effect: &fitting::summary::EffectFigures| {
        effect.expected.map(Grid::get).or_else(|| match &effect.false_per_minute {
            Answer::Known(interval) => Some(interval.value.get()),
            Answer::NotEnough(_) => None,
        })
    };
    let of = |effect: &fitting::summary::EffectFigures| {
        (effect.moving_share.map(Grid::get), rate(effect))
    };
    let bars = |title: &'static str, bars: Vec<Bar>| {
        (!bars.is_empty()).then(|| view! { <h4>{title}</h4> <Bars bars=Signal::stored(bars)/> })
    };
    let false_movements =
        bars(effect_words::FALSE_MOVEMENTS, moving_by_itself(of(&body.before), of(&body.after)));
    let jitter = bars(
        effect_words::JITTER,
        before_after(
            body.before.jitter_pooled.map(Grid::get),
            body.after.jitter_pooled.map(Grid::get),
            number::fine_percent,
        ),
    );
    let kept = body
        .after
        .reach
        .iter()
        .map(|left| {
            view! {
                <tr>
                    <th scope="row">{number::direction(left.asked)}</th>
                    <td class="number">{number::percent(left.kept.get())}</td>
                    <td class="number">{number::percent(left.output.get())}</td>
                </tr>
            }
        })
        .collect_view();
    let table = (!body.after.reach.is_empty()).then(|| {
        view! {
            <table>
                <thead>
                    <tr>
                        <th scope="col">{effect_words::DIRECTION}</th>
                        <th scope="col" class="number">{effect_words::KEPT}</th>
                        <th scope="col" class="number">{effect_words::OUTPUT}</th>
                    </tr>
                </thead>
                <tbody>{kept}</tbody>
            </table>
        }
    });
    view! { {false_movements} {jitter} {table} }
}

fn rate_plot(body: &SummaryBody, decided: &Decided) -> Option<impl IntoView + use<>> {
    let rest = known(&body.rest)?;
    let curve: Vec<RatePoint> = rest
        .curve
        .iter()
        .map(|step| RatePoint {
            radius: step.radius.get(),
            counted_per_minute: step.counted.get(),
            per_minute: step.per_minute.get(),
            low: step.low.get(),
            high: step.high.get(),
            from_model: step.from_model,
            outside_share: 0.0,
        })
        .collect();
    if curve.len() < 2 {
        return None;
    }
    let dead_zone = decided.dead_zone.is_ok().then(|| body.chosen.dead_zone.get());
    let wish = body.wish_false_per_minute.get();
    let rate = body.after.expected.map(Grid::get);
    Some(view! {
        <section class="card" aria-labelledby="sheet-rate">
            <h3 id="sheet-rate">{effect_words::RATE_TITLE}</h3>
            <RatePlot
                curve
                dead_zone=Signal::stored(dead_zone)
                wish_per_minute=wish
                rate_now=Signal::stored(rate)
            />
        </section>
    })
}
