//! Boxes to tick and choices of one among some. Boxed, so that all share one copy of the drawing
//! code.

use leptos::prelude::*;

type Reads = Box<dyn Fn() -> bool + Send + Sync>;
type Takes = Box<dyn Fn(bool)>;

/// A box to tick.
pub fn tick(
    text: &'static str,
    is: impl Fn() -> bool + Send + Sync + 'static,
    set: impl Fn(bool) + 'static,
) -> AnyView {
    draw("tick", None, None, text.into_any(), Box::new(is), Box::new(set))
}

/// A box to tick whose text says too little by itself for a screen reader.
pub fn tick_named(
    text: &'static str,
    name: String,
    is: impl Fn() -> bool + Send + Sync + 'static,
    set: impl Fn(bool) + 'static,
) -> AnyView {
    draw("tick", None, Some(name), text.into_any(), Box::new(is), Box::new(set))
}

/// One of the choices of `group`.
pub fn choice(
    group: &'static str,
    text: impl IntoAny,
    is: impl Fn() -> bool + Send + Sync + 'static,
    choose: impl Fn() + 'static,
) -> AnyView {
    draw(
        "tick",
        Some(group.to_owned()),
        None,
        text.into_any(),
        Box::new(is),
        Box::new(move |_| choose()),
    )
}

/// One of the choices of `group`, beside the others on one line.
pub fn choice_in_row(
    group: &str,
    text: &'static str,
    is: impl Fn() -> bool + Send + Sync + 'static,
    choose: impl Fn() + 'static,
) -> AnyView {
    let group = Some(group.to_owned());
    draw("pick", group, None, text.into_any(), Box::new(is), Box::new(move |_| choose()))
}

/// The same as [`choice`] where the text says too little by itself.
pub fn choice_named(
    group: &'static str,
    text: &'static str,
    name: String,
    is: impl Fn() -> bool + Send + Sync + 'static,
    choose: impl Fn() + 'static,
) -> AnyView {
    draw(
        "tick",
        Some(group.to_owned()),
        Some(name),
        text.into_any(),
        Box::new(is),
        Box::new(move |_| choose()),
    )
}

fn draw(
    class: &'static str,
    group: Option<String>,
    name: Option<String>,
    text: AnyView,
    is: Reads,
    set: Takes,
) -> AnyView {
    let kind = if group.is_some() { "radio" } else { "checkbox" };
    view! {
        <label class=class>
            <input
                type=kind
                name=group
                aria-label=name
                prop:checked=Signal::derive(is)
                on:change=move |event| set(event_target_checked(&event))
            />
            <span>{text}</span>
        </label>
    }
    .into_any()
}
