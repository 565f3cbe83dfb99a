//! A modal window on the browser's own `<dialog>`: it keeps the focus and gives it back.

use super::live::effect;
use leptos::html;
use leptos::prelude::*;

/// A window that is shown while `open` is true. Escape closes it.
#[component]
pub fn Dialog(
    /// Whether it is shown; set to false when it is closed.
    open: RwSignal<bool>,
    /// Its title.
    #[prop(into)]
    title: Signal<String>,
    /// Run when it is closed, however that came about.
    #[prop(optional, into)]
    on_close: Option<Callback<()>>,
    /// What is in it.
    children: Children,
) -> impl IntoView {
    let node = NodeRef::<html::Dialog>::new();
    effect(move || {
        let Some(dialog) = node.get() else { return };
        if open.get() && !dialog.open() {
            // Refused only when it is already shown or not in the page: nothing to do then.
            let _ = dialog.show_modal();
        } else if !open.get() && dialog.open() {
            dialog.close();
        }
    });
    let closed = move |_| {
        open.set(false);
        if let Some(on_close) = on_close {
            on_close.run(());
        }
    };
    view! {
        <dialog node_ref=node on:close=closed aria-label=title>
            <h2>{title}</h2>
            {children()}
        </dialog>
    }
}
