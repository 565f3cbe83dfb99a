//! False movements a minute by dead zone, with its band, the target and the choice.

use super::live::{attribute, part};
use crate::words::{effect as words, number};
use fitting::measure::RatePoint;
use fitting::plot::LogScale;
use leptos::prelude::*;
use std::fmt::Write;

const WIDTH: f64 = 600.0;
const HEIGHT: f64 = 250.0;
const LEFT: f64 = 64.0;
const TOP: f64 = 12.0;
const BOTTOM: f64 = 40.0;
/// Room for half of the last name of the scale.
const RIGHT: f64 = 24.0;

/// Where a point of the plot lies.
#[derive(Clone, Copy)]
struct Place {
    largest: f64,
    scale: LogScale,
}

impl Place {
    /// A place for the whole curve, and for the dead zone as it is when the plot is made.
    fn of(curve: &[RatePoint], dead_zone: Option<f64>) -> Self {
        let largest = curve.last().map_or(0.3, |point| point.radius).max(0.05);
        let largest = largest.max(dead_zone.unwrap_or(0.0));
        let highest = curve.iter().map(|point| point.per_minute).fold(10.0, f64::max);
        Self { largest, scale: LogScale::covering(0.01, highest.min(1000.0)) }
    }

    fn x(self, radius: f64) -> f64 {
        LEFT + (radius / self.largest).clamp(0.0, 1.0) * (WIDTH - LEFT - RIGHT)
    }

    fn y(self, rate: f64) -> f64 {
        TOP + (1.0 - self.scale.place(rate)) * (HEIGHT - TOP - BOTTOM)
    }
}

/// The plot and, on request, its table.
#[component]
#[expect(clippy::needless_pass_by_value, reason = "a component owns what it is given")]
pub fn RatePlot(
    /// The curve, from the smallest radius up.
    curve: Vec<RatePoint>,
    /// The dead zone now, share of travel, where it has a number.
    #[prop(into)]
    dead_zone: Signal<Option<f64>>,
    /// The target, false movements a minute.
    wish_per_minute: f64,
    /// The rate at the dead zone now, a minute.
    #[prop(into)]
    rate_now: Signal<Option<f64>>,
) -> impl IntoView {
    if curve.is_empty() {
        return ().into_any();
    }
    let place = Place::of(&curve, dead_zone.get_untracked());
    // Left of the summit the stick is hardly ever still, and its movements run into one another:
    // there are fewer of them because none ends.
    let merged = summit(&curve);
    let description = move || words::rate_description(dead_zone.get(), rate_now.get());
    // A dead zone moved beyond the plot has no mark: at its edge it would stand for another.
    let inside = move || dead_zone.get().filter(|radius| *radius <= place.largest);
    let wish = place.y(wish_per_minute);
    let (bottom, right) = (HEIGHT - BOTTOM, WIDTH - RIGHT);
    view! {
        <figure class="rate">
            <svg
                class="plot"
                viewBox=format!("0 0 {WIDTH} {HEIGHT}")
                role="img"
                aria-label=attribute(description)
            >
                {axes(place)}
                <path class="curve-band" d=band_path(&curve, place)></path>
                <path class="curve-line merged" d=line_path(&curve[..=merged], place)></path>
                <path class="curve-line" d=line_path(&curve[merged..], place)></path>
                {(merged > 0).then(|| view! {
                    <text class="quiet" x=LEFT + 6.0 y=TOP + 14.0 font-size="14">{words::NEVER_STILL}</text>
                })}
                <line class="wish-line" x1=LEFT x2=right y1=wish y2=wish></line>
                // At the end of its line that is away from the mark.
                {part(move || {
                    let mark = inside().map_or(LEFT, |radius| place.x(radius));
                    let (x, anchor) =
                        if mark > (LEFT + right) / 2.0 { (LEFT + 6.0, "start") } else { (right, "end") };
                    view! {
                        <text x=x y=wish - 7.0 text-anchor=anchor font-size="15" class="halo">
                            {words::wish_label(wish_per_minute)}
                        </text>
                    }.into_any()
                })}
                {part(move || inside().map(|radius| {
                    let x = place.x(radius);
                    let dot = rate_now.get().map(|rate| view! {
                        <circle class="mark-dot" r="8" cx=x cy=place.y(rate)></circle>
                    });
                    view! { <line class="mark-line" x1=x x2=x y1=TOP y2=bottom></line> {dot} }
                }).into_any())}
            </svg>
            <details class="no-print">
                <summary>{words::AS_TABLE}</summary>
                {table(&curve)}
            </details>
        </figure>
    }
    .into_any()
}

/// Where the rate is highest; 0 for an empty curve.
fn summit(curve: &[RatePoint]) -> usize {
    let rates = curve.iter().map(|point| point.per_minute).enumerate();
    rates.max_by(|a, b| a.1.total_cmp(&b.1)).map_or(0, |(index, _)| index)
}

fn axes(place: Place) -> impl IntoView {
    let bottom = HEIGHT - BOTTOM;
    let rows = place.scale.decades().into_iter().map(|rate| {
        let y = place.y(rate);
        let text = if rate < 0.99 { trimmed(rate) } else { format!("{rate:.0}") };
        view! {
            <line class="g5" x1=LEFT x2=WIDTH - RIGHT y1=y y2=y></line>
            <text class="quiet" x=LEFT - 8.0 y=y + 5.0 text-anchor="end" font-size="15">{text}</text>
        }
    });
    let step = if place.largest > 0.4 { 0.1 } else { 0.05 };
    let count = (place.largest / step + 1e-9).floor() as usize;
    let columns = (0..=count).map(|k| {
        let radius = k as f64 * step;
        let x = place.x(radius);
        view! {
            <line class="g" x1=x x2=x y1=TOP y2=bottom></line>
            <text class="quiet" x=x y=bottom + 22.0 text-anchor="middle" font-size="15">
                {number::percent(radius)}
            </text>
        }
    });
    (rows.collect_view(), columns.collect_view())
}

/// A power of ten below 1 without a tail of zeros.
fn trimmed(rate: f64) -> String {
    let text = format!("{rate:.4}");
    text.trim_end_matches('0').to_owned()
}

fn line_path(curve: &[RatePoint], place: Place) -> String {
    let mut path = String::new();
    for (index, point) in curve.iter().enumerate() {
        let letter = if index == 0 { 'M' } else { 'L' };
        let _ =
            write!(path, "{letter}{:.1} {:.1}", place.x(point.radius), place.y(point.per_minute));
    }
    path
}

fn band_path(curve: &[RatePoint], place: Place) -> String {
    let mut path = String::new();
    let upper = curve.iter().map(|point| (point.radius, point.high));
    let lower = curve.iter().rev().map(|point| (point.radius, point.low));
    for (index, (radius, rate)) in upper.chain(lower).enumerate() {
        let letter = if index == 0 { 'M' } else { 'L' };
        let _ = write!(path, "{letter}{:.1} {:.1}", place.x(radius), place.y(rate));
    }
    if !path.is_empty() {
        path.push('Z');
    }
    path
}

/// The curve as a table: at most sixteen rows.
fn table(curve: &[RatePoint]) -> impl IntoView + use<> {
    let stride = curve.len().div_ceil(16).max(1);
    let rows = curve
        .iter()
        .step_by(stride)
        .map(|point| {
            let from = if point.from_model { words::FROM_MODEL } else { words::FROM_COUNT };
            view! {
                <tr>
                    <th scope="row">{number::fine_percent(point.radius)}</th>
                    <td>{number::rate_figure(point.per_minute)}</td>
                    <td>{words::band(point.low, point.high)}</td>
                    <td>{from}</td>
                </tr>
            }
        })
        .collect_view();
    view! {
        <div class="wide" tabindex="0" role="region" aria-label=words::RATE_TITLE>
            <table>
                <thead>
                    <tr>
                        <th scope="col">{words::TABLE_RADIUS}</th>
                        <th scope="col">{words::TABLE_RATE}</th>
                        <th scope="col">{words::TABLE_BAND}</th>
                        <th scope="col">{words::TABLE_FROM}</th>
                    </tr>
                </thead>
                <tbody>{rows}</tbody>
            </table>
        </div>
    }
}
