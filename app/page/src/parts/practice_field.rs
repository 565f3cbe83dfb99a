//! The field in its frame; with the practice stick it can be dragged and driven by keys.

use super::field::{Field, Live, described};
use super::layers::Layers;
use super::live::part;
use crate::input::Source;
use crate::state::App;
use crate::words::stick as words;
use fitting::{Direction, Position};
use leptos::html;
use leptos::prelude::*;
use web_sys::{KeyboardEvent, PointerEvent};

/// Half the width and height of the field's drawing in shares of travel: its `viewBox`.
const HALF_WIDTH: f64 = 1.36;
/// See [`HALF_WIDTH`].
const HALF_HEIGHT: f64 = 1.26;

/// The live field. While the practice stick is chosen, dragging in it or holding arrow keys
/// moves that stick.
#[component]
pub fn PracticeField(
    /// What is drawn in it.
    #[prop(into)]
    layers: Signal<Layers, LocalStorage>,
    /// What moves in it.
    #[prop(default = Live::Stick)]
    live: Live,
) -> impl IntoView {
    let app = App::of_context();
    let status = app.input.status();
    let practice =
        Memo::new(move |_| status.with(|status| status.chosen) == Some(Source::Practice));
    let description = Memo::new(move |_| layers.with(described));
    part(move || {
        if practice.get() && matches!(live, Live::Stick) {
            view! { <Driven layers description/> }.into_any()
        } else {
            view! {
                <div class="field">
                    <Field layers live description/>
                </div>
            }
            .into_any()
        }
    })
}

/// The field that drives the practice stick.
#[component]
fn Driven(layers: Signal<Layers, LocalStorage>, description: Memo<String>) -> impl IntoView {
    let app = App::of_context();
    let practice = app.input.practice();
    let frame = NodeRef::<html::Div>::new();
    let dragging = StoredValue::new(false);

    let drag = move |event: &PointerEvent| {
        if let Some(at) = frame.get_untracked().and_then(|frame| place(&frame, event)) {
            practice.push(at);
        }
    };
    let down = move |event: PointerEvent| {
        dragging.set_value(true);
        if let Some(frame) = frame.get_untracked() {
            // Without capture the stick only lets go earlier.
            let _ = frame.set_pointer_capture(event.pointer_id());
        }
        drag(&event);
    };
    let moved = move |event: PointerEvent| {
        if dragging.get_value() {
            drag(&event);
        }
    };
    let up = move |_: PointerEvent| {
        dragging.set_value(false);
        practice.release();
    };
    let key = move |event: &KeyboardEvent, down: bool| {
        if let Some(direction) = arrow(&event.key()) {
            event.prevent_default();
            practice.key(direction, down);
        }
    };
    view! {
        <div
            class="field stick"
            node_ref=frame
            tabindex="0"
            role="application"
            aria-label=format!("{}: {}", words::PRACTICE, words::PRACTICE_HELP)
            on:pointerdown=down
            on:pointermove=moved
            on:pointerup=up
            on:pointercancel=up
            on:keydown=move |event| key(&event, true)
            on:keyup=move |event| key(&event, false)
            on:blur=move |_| practice.release()
        >
            <Field layers live=Live::Stick description/>
        </div>
        <p class="small soft">{format!("{}: {}.", words::PRACTICE, words::PRACTICE_HELP)}</p>
    }
}

fn arrow(key: &str) -> Option<Direction> {
    match key {
        "ArrowLeft" => Some(Direction::Left),
        "ArrowRight" => Some(Direction::Right),
        "ArrowUp" => Some(Direction::Up),
        "ArrowDown" => Some(Direction::Down),
        _ => None,
    }
}

/// Where in the field the pointer is; nothing while the field has no size.
fn place(frame: &web_sys::HtmlDivElement, event: &PointerEvent) -> Option<Position> {
    let drawing = frame.query_selector("svg").ok().flatten()?;
    let rect = drawing.get_bounding_client_rect();
    if rect.width() <= 0.0 || rect.height() <= 0.0 {
        return None;
    }
    // The drawing keeps its proportions inside the box and lies in its middle.
    let scale = (2.0 * HALF_WIDTH / rect.width()).max(2.0 * HALF_HEIGHT / rect.height());
    let from_middle_x = f64::from(event.client_x()) - rect.left() - rect.width() / 2.0;
    let from_middle_y = f64::from(event.client_y()) - rect.top() - rect.height() / 2.0;
    Some(Position::new(from_middle_x * scale, -from_middle_y * scale))
}
