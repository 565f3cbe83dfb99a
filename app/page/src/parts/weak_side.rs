//! A side that looks weak: it is asked again with another cue before it is called reach.

use super::live::part;
use super::speech;
use crate::state::App;
use crate::words::asking as words;
use fitting::measure::{SideVerdict, WeakSide, weak_side};
use fitting::task::{Asking, CueKind, Way};
use leptos::prelude::*;

/// What is said of a weak side, with the repeat; nothing where no side looks weak.
#[component]
pub fn WeakSideNote() -> impl IntoView {
    let app = App::of_context();
    let weak = Memo::new(move |_| {
        app.analysis
            .with(|analysis| analysis.as_ref().and_then(|analysis| weak_side(&analysis.measures)))
    });
    let note = move || weak.get().map(|weak| note(app, weak)).into_any();
    view! { <div role="status">{part(note)}</div> }
}

fn note(app: App, weak: WeakSide) -> AnyView {
    let repeat = move |cue: CueKind| {
        // Told or shown, as the person is asked otherwise; this once, whatever is remembered.
        let asking = match app.visit.with_untracked(|visit| visit.asked.way.asking) {
            Asking::Told => Asking::Told,
            Asking::Shown | Asking::FreeMovement | Asking::MovedByHelper => Asking::Shown,
        };
        app.start_task_in(weak.repeat(), Way { asking, cue });
    };
    let asks = matches!(weak.verdict, SideVerdict::AskAgain | SideVerdict::CannotTell);
    let has_voice = speech::voice_name().is_some();
    view! {
        <div class="notice">
            <p><strong>{words::weak_side(&weak)}</strong></p>
            <p>{words::verdict(weak.verdict)}</p>
            {asks.then(|| view! {
                <div class="controls">
                    <button type="button" on:click=move |_| repeat(CueKind::Central)>
                        {words::REPEAT_CENTRAL}
                    </button>
                    {has_voice.then(|| view! {
                        <button type="button" on:click=move |_| repeat(CueKind::Spoken)>
                            {words::REPEAT_SPOKEN}
                        </button>
                    })}
                </div>
            })}
        </div>
    }
    .into_any()
}
