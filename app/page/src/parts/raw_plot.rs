//! What is shown along a raw axis: shown over raw, with the line on which both are the same.

use super::live::{attribute, part};
use crate::words::{number, raw as words};
use leptos::prelude::*;
use std::fmt::Write;

const SIZE: f64 = 220.0;
const LEFT: f64 = 56.0;
const TOP: f64 = 12.0;
const BOTTOM: f64 = 46.0;

fn x(share: f64) -> f64 {
    LEFT + (share.clamp(-1.0, 1.0) + 1.0) / 2.0 * SIZE
}

fn y(share: f64) -> f64 {
    TOP + (1.0 - share.clamp(-1.0, 1.0)) / 2.0 * SIZE
}

/// The plot of this course, from the least raw share up, with where the axis is now.
pub fn raw_plot(course: Memo<Vec<(f64, f64)>>, now: Memo<Option<f64>>) -> AnyView {
    let width = LEFT + SIZE + 20.0;
    let height = TOP + SIZE + BOTTOM;
    view! {
        <svg class="plot" viewBox=format!("0 0 {width} {height}") role="img" aria-label=words::PLOT>
            {grid()}
            <path class="wish-line" d=format!("M{} {}L{} {}", x(-1.0), y(-1.0), x(1.0), y(1.0))></path>
            <path class="curve-line" stroke-linecap="round" d=attribute(move || course.with(|course| dots(course)))></path>
            {part(move || now.get().map(|raw| view! {
                <line class="mark-line" x1=x(raw) x2=x(raw) y1=TOP y2=TOP + SIZE></line>
            }).into_any())}
            <text class="quiet" x=LEFT + SIZE / 2.0 y=height - 6.0 text-anchor="middle" font-size="13">
                {words::PLOT_RAW}
            </text>
            <text
                class="quiet" x="12" y=TOP + SIZE / 2.0 text-anchor="middle" font-size="13"
                transform=format!("rotate(-90 12 {})", TOP + SIZE / 2.0)
            >
                {words::PLOT_SHOWN}
            </text>
        </svg>
    }
    .into_any()
}

fn grid() -> impl IntoView {
    [-1.0, -0.5, 0.0, 0.5, 1.0]
        .into_iter()
        .map(|share| {
            let (across, along) = (x(share), y(share));
            view! {
                <line class="g5" x1=across x2=across y1=TOP y2=TOP + SIZE></line>
                <line class="g5" x1=LEFT x2=LEFT + SIZE y1=along y2=along></line>
                <text class="quiet" x=across y=TOP + SIZE + 18.0 text-anchor="middle" font-size="12">
                    {number::percent(share)}
                </text>
                <text class="quiet" x=LEFT - 6.0 y=along + 4.0 text-anchor="end" font-size="12">
                    {number::percent(share)}
                </text>
            }
        })
        .collect_view()
}

/// One dot a place: a stroke of no length with round ends.
fn dots(course: &[(f64, f64)]) -> String {
    let mut path = String::new();
    for (raw, shown) in course {
        let _ = write!(path, "M{:.1} {:.1}h0", x(*raw), y(*shown));
    }
    path
}
