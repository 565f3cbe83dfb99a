//! Views that change, all of one type.
//!
//! Every closure in a view makes its own copy of the framework's drawing code: some kilobytes
//! each in the compiled program. Boxed here, they share one copy.

use leptos::prelude::*;

/// A text that changes.
pub fn text(f: impl Fn() -> String + Send + 'static) -> AnyView {
    boxed_text(Box::new(f))
}

fn boxed_text(f: Box<dyn Fn() -> String + Send>) -> AnyView {
    (move || f()).into_any()
}

/// A part of the screen that changes.
pub fn part(f: impl Fn() -> AnyView + Send + 'static) -> AnyView {
    boxed_part(Box::new(f))
}

fn boxed_part(f: Box<dyn Fn() -> AnyView + Send>) -> AnyView {
    (move || f()).into_any()
}

/// A part of the screen that is there only while `shown`.
pub fn when(
    shown: impl Fn() -> bool + Send + Sync + 'static,
    view: impl Fn() -> AnyView + Send + 'static,
) -> AnyView {
    boxed_when(Box::new(shown), Box::new(view))
}

fn boxed_when(
    shown: Box<dyn Fn() -> bool + Send + Sync>,
    view: Box<dyn Fn() -> AnyView + Send>,
) -> AnyView {
    // A memo, so that the part is drawn anew only when it comes or goes.
    let shown = Memo::new(move |_| shown());
    part(move || if shown.get() { view() } else { ().into_any() })
}

/// An effect, run now and whenever what it reads changes.
pub fn effect(f: impl FnMut() + 'static) {
    boxed_effect(Box::new(f));
}

fn boxed_effect(f: Box<dyn FnMut()>) {
    Effect::new(f);
}

/// A yes or no that changes, for an attribute.
pub fn yes(f: impl Fn() -> bool + Send + Sync + 'static) -> Signal<bool> {
    Signal::derive(f)
}

/// A text that changes, for an attribute.
pub fn attribute(f: impl Fn() -> String + Send + Sync + 'static) -> Signal<String> {
    Signal::derive(f)
}
