//! The field of movement: the one picture that is ours, drawn the same everywhere.
//!
//! Graph paper in shares of the stick's travel, reach as an outline with its uncertainty as a
//! soft band, the dead zone as a dashed disc, real traces in ink, now as one dot.

use super::layers::Layers;
use super::live::{attribute, part};
use super::sign::Sign;
use crate::input::Frame;
use crate::state::App;
use crate::words::{number, stick as words};
use fitting::plot::svg_path;
use fitting::{Direction, Position};
use leptos::prelude::*;
use std::collections::VecDeque;
use web_sys::Element;

/// SVG units to one full travel.
pub const SCALE: f64 = 100.0;

/// How many drawn frames the trail keeps: about two seconds.
const TRAIL_FRAMES: usize = 120;

/// What moves in the field.
#[derive(Clone, Copy, Debug)]
pub enum Live {
    /// Nothing: a picture of what was recorded.
    Nothing,
    /// One dot: the stick as it is.
    Stick,
    /// One dot: what the settings make of the stick, written here at every frame.
    Output(StoredValue<Position>),
}

/// The field of movement.
#[component]
pub fn Field(
    /// What is drawn in it.
    #[prop(into)]
    layers: Signal<Layers, LocalStorage>,
    /// What moves in it.
    live: Live,
    /// What it shows, for those who cannot see it.
    #[prop(into)]
    description: Signal<String>,
) -> impl IntoView {
    // By itself, so that a dot that goes ahead begins anew only where something else is shown.
    let sign = Memo::new(move |_| layers.with(|layers| layers.sign));
    let outline = attribute(move || layers.with(|layers| layers.outline.clone()));
    let dot = NodeRef::<leptos::html::Span>::new();
    let trail = NodeRef::<leptos::svg::Path>::new();
    let moves = !matches!(live, Live::Nothing);
    if moves {
        follow(live, dot, trail);
    }
    let dot_class = if matches!(live, Live::Output(_)) { "dot after" } else { "dot" };
    view! {
        <div class="field-frame">
        <svg class="plot" viewBox="-136 -126 272 252" role="img" aria-label=description>
            <title>{words::FIELD}</title>
            <Paper/>
            <path class="reach-inside" d=outline></path>
            <path class="reach-band" d=attribute(move || layers.with(|layers| layers.band.clone()))></path>
            <path class="ink" d=attribute(move || layers.with(|layers| layers.traces.clone()))></path>
            <path class="reach-line" d=outline></path>
            {part(move || layers.with(over))}
            {part(move || sign.get().map(Sign::drawn).into_any())}
        </svg>
        {part(move || sign.get().and_then(Sign::ghost).into_any())}
        {moves.then(|| view! {
            <svg class="plot over" viewBox="-136 -126 272 252" aria-hidden="true">
                <path class="trail" node_ref=trail d=""></path>
            </svg>
            <span class="dot-way" node_ref=dot><span class=dot_class></span></span>
        })}
        </div>
    }
}

/// The graph paper: a tenth of the travel a square, every fifth line darker.
#[component]
fn Paper() -> impl IntoView {
    let lines = |fifth: bool| {
        (-10..=10)
            .filter(|k| (k % 5 == 0) == fifth)
            .map(|k| {
                let at = k * 10;
                format!("M{at} -100V100M-100 {at}H100")
            })
            .collect::<String>()
    };
    view! {
        <path class="g" d=lines(false)></path>
        <path class="g5" d=lines(true)></path>
        <circle class="travel" r="100"></circle>
    }
}

/// What lies over the outline: full throw, dead zone, ring, names of directions.
fn over(layers: &Layers) -> AnyView {
    (
        circle("full-throw", layers.centre, layers.full_throw),
        circle("dead-zone", layers.centre, layers.dead_zone),
        ring(layers),
        labels(&layers.labels),
    )
        .into_any()
}

/// A circle about the centre, or nothing.
fn circle(class: &'static str, centre: Position, radius: Option<f64>) -> Option<impl IntoView> {
    radius.filter(|radius| *radius > 0.0).map(|radius| {
        view! {
            <circle class=class cx=unit(centre.right) cy=unit(-centre.up) r=unit(radius)></circle>
        }
    })
}

/// The ring of a hold with the share of the hold that is done.
fn ring(layers: &Layers) -> Option<impl IntoView + use<>> {
    layers.ring.map(|ring| {
        let (x, y, r) = (unit(ring.at.right), unit(-ring.at.up), unit(ring.radius));
        // The path length is declared as 100, so that a share is a dash of as many units.
        let done = format!("{:.1} 100", ring.share * 100.0);
        view! {
            <circle class="ring" cx=x.clone() cy=y.clone() r=r.clone()></circle>
            <circle class="ring-share" cx=x cy=y r=r pathLength="100" stroke-dasharray=done></circle>
        }
    })
}

/// Directions named in words with their share.
fn labels(labels: &[(Direction, String)]) -> impl IntoView + use<> {
    labels
        .iter()
        .map(|(direction, text)| {
            let (x, y, anchor, turn) = match direction {
                Direction::Right => (116, 0, "middle", -90),
                Direction::UpRight => (104, -106, "start", 0),
                Direction::Up => (0, -108, "middle", 0),
                Direction::UpLeft => (-104, -106, "end", 0),
                Direction::Left => (-110, 0, "middle", -90),
                Direction::DownLeft => (-104, 114, "end", 0),
                Direction::Down => (0, 116, "middle", 0),
                Direction::DownRight => (104, 114, "start", 0),
            };
            let turned = (turn != 0).then(|| format!("rotate({turn} {x} {y})"));
            view! {
                <text x=x y=y text-anchor=anchor transform=turned font-size="9">{text.clone()}</text>
            }
        })
        .collect_view()
}

/// Moves dot and trail with the stick, once a frame, past the reactive graph.
///
/// While a task measures there is no trail, and the dot moves every other frame: it lies on a
/// layer of its own, so that nothing is laid out or painted for it and no poll comes late.
fn follow(live: Live, dot: NodeRef<leptos::html::Span>, trail: NodeRef<leptos::svg::Path>) {
    let app = App::of_context();
    let mut seen: VecDeque<Position> = VecDeque::with_capacity(TRAIL_FRAMES + 1);
    let mut odd = false;
    let mut has_trail = false;
    let on_frame = move |frame: &Frame<'_>| {
        let Some(sample) = frame.sample else { return };
        let measuring = app.session.runs();
        odd = !odd;
        if measuring && odd {
            return;
        }
        let at = match live {
            Live::Output(output) => output.get_value(),
            Live::Stick | Live::Nothing => app.axes.get_untracked().position(sample),
        };
        let at = at.within_field();
        if let Some(dot) = dot.get_untracked() {
            // A browser that refused it would leave the dot where it is.
            let _ = web_sys::HtmlElement::style(&dot).set_property("transform", &shift(at));
        }
        let Some(trail) = trail.get_untracked() else { return };
        if measuring {
            if has_trail {
                has_trail = false;
                seen.clear();
                set(&trail, "d", "");
            }
            return;
        }
        has_trail = true;
        seen.push_back(at);
        if seen.len() > TRAIL_FRAMES {
            seen.pop_front();
        }
        let points: Vec<Position> = seen.iter().copied().collect();
        set(&trail, "d", &svg_path(&points, SCALE, false));
    };
    app.input.each_frame(on_frame);
}

/// The dot's way from the middle of the field. The element that is moved is as large as the
/// drawing (272 by 252 units), so that hundredths of its size need no layout.
fn shift(at: Position) -> String {
    let hundredths = |share: f64, units: f64| share * SCALE * 100.0 / units;
    format!("translate({:.3}%, {:.3}%)", hundredths(at.right, 272.0), hundredths(-at.up, 252.0))
}

/// Sets an attribute; an element that refuses one is left as it is.
fn set(element: &Element, name: &str, value: &str) {
    let _ = element.set_attribute(name, value);
}

/// A share of travel in SVG units.
fn unit(share: f64) -> String {
    format!("{:.2}", share * SCALE)
}

/// The field in words: what each direction's reach is.
pub fn described(layers: &Layers) -> String {
    let mut parts: Vec<String> = layers.labels.iter().map(|(_, text)| text.clone()).collect();
    if let Some(radius) = layers.dead_zone {
        parts.push(format!(
            "{} {}",
            crate::words::settings::DEAD_ZONE.to_ascii_lowercase(),
            number::percent(radius)
        ));
    }
    format!("{}: {}", words::FIELD, parts.join(", "))
}
