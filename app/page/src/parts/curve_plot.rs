//! What a push becomes: output over push, with dead zone and full throw.

use super::live::attribute;
use crate::words::{effect as words, number};
use fitting::{Pipeline, Settings};
use leptos::prelude::*;
use std::fmt::Write;

const SIZE: f64 = 220.0;
const LEFT: f64 = 56.0;
const TOP: f64 = 12.0;
const BOTTOM: f64 = 46.0;
/// Room for half of the last name of the scale.
const RIGHT: f64 = 22.0;

/// The plot of these settings.
#[component]
pub fn CurvePlot(
    /// The settings whose curve is drawn.
    #[prop(into)]
    settings: Signal<Settings, LocalStorage>,
) -> impl IntoView {
    let width = LEFT + SIZE + RIGHT;
    let height = TOP + SIZE + BOTTOM;
    let description = move || {
        settings.with(|settings| {
            let pipeline = Pipeline::new(settings);
            let said: Vec<String> = [0.25, 0.5, 0.75, 1.0]
                .into_iter()
                .map(|push| {
                    format!(
                        "{} → {}",
                        number::percent(push),
                        number::percent(pipeline.answer(push))
                    )
                })
                .collect();
            format!("{}: {}", words::CURVE_TITLE, said.join(", "))
        })
    };
    view! {
        <svg
            class="plot"
            viewBox=format!("0 0 {width} {height}")
            role="img"
            aria-label=attribute(description)
        >
            {grid()}
            <path class="wish-line" d=format!("M{} {}L{} {TOP}", LEFT, TOP + SIZE, LEFT + SIZE)></path>
            <path class="curve-line" d=attribute(move || settings.with(line))></path>
            <text class="quiet" x=LEFT + SIZE / 2.0 y=height - 6.0 text-anchor="middle" font-size="13">
                {words::CURVE_INPUT}
            </text>
            <text
                class="quiet" x="14" y=TOP + SIZE / 2.0 text-anchor="middle" font-size="13"
                transform=format!("rotate(-90 14 {})", TOP + SIZE / 2.0)
            >
                {words::CURVE_OUTPUT}
            </text>
        </svg>
    }
}

fn grid() -> impl IntoView {
    [0.0, 0.25, 0.5, 0.75, 1.0]
        .into_iter()
        .map(|share| {
            let (x, y) = (LEFT + share * SIZE, TOP + (1.0 - share) * SIZE);
            view! {
                <line class="g5" x1=x x2=x y1=TOP y2=TOP + SIZE></line>
                <line class="g5" x1=LEFT x2=LEFT + SIZE y1=y y2=y></line>
                <text class="quiet" x=x y=TOP + SIZE + 18.0 text-anchor="middle" font-size="12">
                    {number::percent(share)}
                </text>
                <text class="quiet" x=LEFT - 6.0 y=y + 4.0 text-anchor="end" font-size="12">
                    {number::percent(share)}
                </text>
            }
        })
        .collect_view()
}

fn line(settings: &Settings) -> String {
    let pipeline = Pipeline::new(settings);
    let mut path = String::new();
    for step in 0..=100_u32 {
        let push = f64::from(step) / 100.0;
        let letter = if step == 0 { 'M' } else { 'L' };
        let (x, y) = (LEFT + push * SIZE, TOP + (1.0 - pipeline.answer(push)) * SIZE);
        let _ = write!(path, "{letter}{x:.1} {y:.1}");
    }
    path
}
