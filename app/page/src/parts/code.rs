//! A code that a camera reads, drawn dark on light whatever the colours of the page.

use crate::words::share as words;
use fitting::exchange::code::Code;
use leptos::prelude::*;

/// The code of a text; nothing where it has none.
pub fn code(text: &str) -> Option<AnyView> {
    let code = Code::of(text)?;
    let side = code.side();
    Some(
        view! {
            <svg class="plot code" viewBox=format!("0 0 {side} {side}") role="img" aria-label=words::CODE>
                <rect class="code-light" width=side height=side></rect>
                <path class="code-dark" d=code.svg_path()></path>
            </svg>
        }
        .into_any(),
    )
}
