//! One paper: its fields, and beside them the paper as it will be printed.

use super::hand_over::{nothing, print};
use crate::parts::live::{effect, text};
use crate::parts::paper::{Making, PaperView, runs_over};
use crate::parts::paper_fields::PaperFields;
use crate::route::Screen;
use crate::state::App;
use crate::words::papers as words;
use fitting::visit::Paper;
use leptos::html;
use leptos::prelude::*;
use std::sync::Arc;

/// The screen of one paper.
#[component]
pub fn PaperScreen(
    /// Which.
    paper: Paper,
) -> impl IntoView {
    let app = App::of_context();
    view! {
        <h1 tabindex="-1" class="no-print">{words::title(paper)}</h1>
        {match Making::of(app, paper) {
            None => nothing(),
            Some(making) => with(app, making),
        }}
    }
}

fn with(app: App, making: Arc<Making>) -> AnyView {
    let paper = making.paper;
    let node = NodeRef::<html::Article>::new();
    let over = RwSignal::new(false);
    effect(move || {
        app.visit.track();
        // Once what was typed is drawn.
        request_animation_frame(move || {
            if let Some(Some(node)) = node.try_get_untracked() {
                let _ = over.try_set(runs_over(&node));
            }
        });
    });
    let gaps = {
        let making = Arc::clone(&making);
        move || paper.parts().any(|part| words::has_gap(&making.text(app, part)))
    };
    view! {
        <p class="soft no-print">{words::purpose(paper)}</p>
        <div class="controls">
            <button type="button" class="main" on:click=move |_| print(app)>{words::print(paper)}</button>
            <a class="button" href=Screen::HandOver.hash()>{words::BACK}</a>
        </div>
        <p class="no-print" role="status">
            {text(move || if over.get() { words::OVER } else { words::FITS }.to_owned())}
            " "
            {text(move || if gaps() { words::GAPS } else { "" }.to_owned())}
        </p>
        <div class="two paper-screen">
            <PaperFields making=Arc::clone(&making)/>
            <div class="stays"><PaperView making node/></div>
        </div>
    }
    .into_any()
}
