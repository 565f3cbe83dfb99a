//! The word for how sure a figure is.

use crate::words::settings as words;
use fitting::Sureness;
use leptos::prelude::*;

/// Firm, rough or not enough yet, in a frame of its own colour and line.
#[component]
pub fn Word(
    /// How sure.
    sureness: Sureness,
) -> impl IntoView {
    let class = match sureness {
        Sureness::Firm => "word firm",
        Sureness::Rough => "word rough",
        Sureness::NotEnough => "word not-enough",
    };
    view! { <span class=class>{words::sureness(sureness)}</span> }
}
