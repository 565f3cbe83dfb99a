//! Starts the page.

use leptos::prelude::*;

fn main() {
    page::errors::install_panic_hook();
    let document = gloo_utils::document();
    let Some(root) = document.get_element_by_id("app") else { return };
    use wasm_bindgen::JsCast;
    // The element is the shell's own `div`.
    mount_to(root.unchecked_into(), page::Page).forget();
    // What stood there while the program loaded is no longer needed.
    if let Some(shell) = document.get_element_by_id("shell") {
        shell.remove();
    }
}
