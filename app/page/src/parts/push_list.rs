//! The pushes one by one, with a question about each that stands out.

use super::frame::mend_focus;
use super::live::{part, text};
use crate::state::App;
use crate::words::pushes as words;
use fitting::measure::{ListedPush, list_pushes};
use leptos::prelude::*;

/// The pushes of this fitting; nothing before there are any.
#[component]
pub fn PushList() -> impl IntoView {
    let app = App::of_context();
    let said = RwSignal::new("");
    let all = Memo::new(move |_| app.records.with(|records| list_pushes(records)));
    let questions = move |counts: bool| {
        all.with(|all| {
            let asked = all.iter().filter(|push| push.counts == counts);
            asked.filter_map(|push| question(app, *push, said)).collect_view()
        })
        .into_any()
    };
    view! {
        <div>{part(move || questions(false))}</div>
        <p role="status">{text(move || said.get().to_owned())}</p>
        {part(move || all.with(|all| {
            if all.is_empty() {
                return ().into_any();
            }
            view! {
                <details>
                    <summary>{words::TITLE}</summary>
                    {push_lines(all)}
                    // What was said to be meant is not asked again, and can be taken back here.
                    {questions(true)}
                </details>
            }
            .into_any()
        }))}
    }
}

/// A line for each direction.
pub fn push_lines(all: &[ListedPush]) -> AnyView {
    let rows = all
        .chunk_by(|one, next| one.asked == next.asked)
        .filter_map(words::one_way)
        .map(|(name, pushes)| view! { <tr><th scope="row">{name}</th><td>{pushes}</td></tr> })
        .collect_view();
    view! {
        <p class="soft">{words::TEXT}</p>
        <table class="sheet-numbers"><tbody>{rows}</tbody></table>
    }
    .into_any()
}

/// The question about a push that stands out; one that was marked needs none.
fn question(app: App, push: ListedPush, said: RwSignal<&'static str>) -> Option<AnyView> {
    let odd = push.odd.filter(|_| push.mark.is_none())?;
    let answer = move |_| {
        app.say_meant(&push, !push.counts);
        said.set(if push.counts { words::LEFT_OUT } else { words::COUNTS });
        // The question is drawn anew, elsewhere or not at all.
        mend_focus();
    };
    let question = view! {
        <div class="notice">
            <p>{words::question(&push, odd)}</p>
            <button type="button" aria-label=words::answer_aloud(&push) on:click=answer>
                {words::answer(&push)}
            </button>
        </div>
    };
    Some(question.into_any())
}
