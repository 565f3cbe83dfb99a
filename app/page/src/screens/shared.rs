//! A summary from a link: read-only, with nothing else.

use super::hand_over::save_summary;
use crate::errors::Trouble;
use crate::parts::sheet::Sheet;
use crate::route::Screen;
use crate::state::App;
use crate::words::{frame, hand_over as words, trouble as trouble_words};
use fitting::summary::link::{self, LinkError};
use leptos::prelude::*;

/// The screen of a shared summary.
#[component]
#[expect(clippy::needless_pass_by_value, reason = "a component owns what it is given")]
pub fn Shared(
    /// The link's fragment: untrusted.
    fragment: String,
) -> impl IntoView {
    let app = App::of_context();
    let read = link::decode(&fragment);
    view! {
        <h1 tabindex="-1" class="no-print">{frame::screen(&Screen::Shared(String::new()))}</h1>
        {match read {
            Ok(summary) => view! {
                <p class="soft no-print">{words::SHARED_TEXT}</p>
                <div class="controls">
                    <button type="button" class="main" on:click=|_| {
                        // Refused only where printing is: then there is nothing to do.
                        let _ = gloo_utils::window().print();
                    }>{words::PRINT}</button>
                    {save_summary(app, &summary)}
                    <a class="button" href=Screen::Ready.hash()>{words::TO_START}</a>
                </div>
                <Sheet summary/>
            }.into_any(),
            Err(error) => {
                let message = trouble_words::message(trouble(&error));
                view! {
                    <p role="alert">{message.happened}</p>
                    <p><strong>{trouble_words::SAFE}</strong> " " {message.safe}</p>
                    <p><strong>{trouble_words::TO_DO}</strong> " " {message.to_do}</p>
                    <div class="controls">
                        <a class="button main" href=Screen::Ready.hash()>{words::TO_START}</a>
                    </div>
                }.into_any()
            }
        }}
    }
}

/// The trouble a person is told for a link that cannot be read.
const fn trouble(error: &LinkError) -> Trouble {
    match error {
        LinkError::NotOurs | LinkError::TooLong { .. } => Trouble::LinkForeign,
        LinkError::Newer { .. } => Trouble::LinkNewer,
        LinkError::Damaged | LinkError::OutOfRange { .. } => Trouble::LinkDamaged,
    }
}
